#include "deck/concrete.h"

#include <algorithm>
#include <cmath>

namespace weighwright::deck {
namespace {

constexpr double kConcrete_kg_per_m3 = 2500.0;
constexpr double kShearModulus_Pa = 12.5e9;

}  // namespace

double concrete_kg(const Module& module) {
  return kConcrete_kg_per_m3 * module.length_m * module.width_m * module.slab_m;
}

double slab_twisting_Nm2(const Module& module) {
  return kShearModulus_Pa * module.width_m * std::pow(module.slab_m, 3) / 3.0;
}

void pour(Module& module) {
  if (module.construction != Construction::concrete || module.poured) return;
  const double slab_kg = concrete_kg(module);
  const double all_kg = module.mass_kg + slab_kg;
  // What is believed of frame and slab is believed of each by itself; an estimate of both is one.
  module.mass_spread =
      module.mass_given
          ? std::hypot(module.mass_spread * module.mass_kg, kConcreteMassSpread * slab_kg) / all_kg
          : kConcreteMassSpread;
  module.mass_kg = all_kg;
  const double frame_Nm2 = module.twisting_given ? module.twisting_Nm2 : 0.0;
  module.twisting_Nm2 = frame_Nm2 + slab_twisting_Nm2(module);
  module.twisting_spread = std::max(module.twisting_spread, Module{}.twisting_spread);
  module.poured = true;
}

}  // namespace weighwright::deck
