#pragma once
/// Which columns each kind of file of measurements has, and how a kind is told by them.

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "record/measurement.h"

namespace weighwright::record {

enum class FileKind {
  readings,
  turns,
  heights,
  gaps,
  map,
  shift,
  loads,
  trims,
  electrics,
  forces,
  zeros,
  looks,
  weights,
  proof
};

enum class Column {
  ignored,  // time, temp, note
  stand,
  reading,
  no_load,
  gap_mm,
  excitation_V,
  resolution,
  noise,
  turns,
  shim_mm,
  until,
  height_mm,
  support,
  loaded,
  moved,
  // loads on the deck
  x,
  y,
  at,
  load,
  load_id,
  material,
  indication,
  added,
  zero_before,
  zero_after,
  footprint,
  going,
  test,
  // trims
  trim,
  ohm,
  factor,
  // one cell off the box
  input_ohm,
  output_ohm,
  e_plus_s_plus_ohm,
  e_plus_s_minus_ohm,
  e_minus_s_plus_ohm,
  e_minus_s_minus_ohm,
  insulation_Mohm,
  test_V,
  zero_mV,
  mV,
  sense_V,
  force_N,
  // an empty deck over time, and what somebody went and looked for
  zero,
  time,
  temp_degC,
  rain,
  after,
  look,
  where,
  found,
  // test weights and vehicles
  id,
  count,
  nominal,
  weight_class,
  conventional,
  uncertainty,
  coverage,
  density,
  certificate,
  traced_to,
  expires,
  length,
  width,
  axles,
  axle_load,
  handling,
  // tests by a rulebook
  check,
  weights,
  start,
  then,
  other,
  by,
  range,
  heading,
  run
};

/// In what a column's numbers are; typed: every cell says its own unit.
enum class ColumnUnit { none, g, kg, lb, m, ft, typed };

struct KnownColumn {
  std::string_view name;
  Column column;
  ColumnUnit unit = ColumnUnit::none;
};

struct UnitName {
  std::string_view name;
  ReadingUnit unit;
};

/// The units that readings of stands may have.
inline constexpr std::array kReadingUnits = {
    UnitName{"mV", ReadingUnit::mV}, UnitName{"mV_per_V", ReadingUnit::mV_per_V},
    UnitName{"counts", ReadingUnit::counts}, UnitName{"kg", ReadingUnit::kg},
    UnitName{"lb", ReadingUnit::lb}};

/// Empty: no kind of file has these columns.
[[nodiscard]] std::optional<FileKind> kind_of(const std::vector<std::string>& names);

[[nodiscard]] std::vector<KnownColumn> known_columns(FileKind kind);

/// Columns that a kind can't be without, beside those of which one must be there.
[[nodiscard]] std::vector<std::string_view> required_columns(FileKind kind);

}  // namespace weighwright::record
