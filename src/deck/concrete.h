#pragma once
/// What concrete makes of a module: the mass and the twisting stiffness of its slab, and the module
/// as it stands once the slab is in and hard.
///
/// Mass       2500 kg/m3 (EN 1991-1-1:2002, table A.1: reinforced normal weight concrete
///            25 kN/m3), believed to 15 % (hand estimate, no source).
/// Twisting   G b t^3 / 3 of a wide solid rectangle (Young & Budynas, Roark's Formulas for Stress
///            and Strain, torsion of thin rectangles; from memory, unverified), G 12.5 GPa (hand
///            estimate: E 30 GPa, Poisson 0.2).

#include "deck/deck.h"

namespace weighwright::deck {

inline constexpr double kConcreteMassSpread = 0.15;  // relative standard deviation

/// kg of the module's slab.
[[nodiscard]] double concrete_kg(const Module& module);

/// GJ of the module's slab alone, N m2.
[[nodiscard]] double slab_twisting_Nm2(const Module& module);

/// The module after its concrete was poured and is hard: the mass it had and that of the slab; the
/// twisting of the slab, and with it what the drawing gave for the frame. A module that is no
/// concrete, or poured already, stays as it is.
void pour(Module& module);

}  // namespace weighwright::deck
