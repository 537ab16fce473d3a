#pragma once
/// One cell alone: force on it and what it reads. (The circuit of the box comes in another file.)
///
/// signal = S * U * F / F_max, F_max = capacity * 9.80665 m/s2 (a cell's rated force is always
/// that, wherever it stands). Source: OIML R 60 terms (rated output, E_max).

#include <optional>

#include "deck/deck.h"
#include "record/measurement.h"

namespace weighwright::signal {

/// V/N of a cell at a supply of `excitation_V` at the cell.
[[nodiscard]] double sensitivity_V_per_N(const deck::Cell& cell, double excitation_V);

/// V at a force, zero balance not counted.
[[nodiscard]] double signal_V(const deck::Cell& cell, double excitation_V, double force_N);

/// Newton for one unit of a reading of this cell; empty when the deck lacks what it takes
/// (counts at capacity for counts). kg and lb are read as mass at `gravity_m_per_s2`.
[[nodiscard]] std::optional<double> newtons_per_unit(const deck::Cell& cell,
                                                     record::ReadingUnit unit,
                                                     double excitation_V,
                                                     double gravity_m_per_s2);

}  // namespace weighwright::signal
