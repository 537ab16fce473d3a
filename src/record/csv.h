#pragma once
/// Files of measurements (CSV with a header) to values. The kind of a file is told by its header.
///
///   stand + one of mV | mV_per_V | counts | kg | lb; optional no_load, gap_mm, excitation_V,
///       resolution, time, temp                                         -> ReadingSet
///   stand,turns  or  stand,shim_mm; optional until (= touch)           -> TurnSet
///   stand,height_mm                                                    -> HeightSet
///   support,gap_mm   (support: 2L, or bearing1R for joint 1 right)     -> GapSet
///   loaded,moved     (stand that was loaded, stand whose reading moved) -> MapSet
///   place, load and indication                                         -> ShiftSet
///     place: x_m,y_m | x_ft,y_ft | x,y (unit in the fields) | at (stand 2L, section 2, span 2-3)
///     load: load_kg | load_lb | load (unit in the fields); 0 is the empty deck, which needs no
///       place; blank where load_id names a load of unknown mass
///     indication: indication_kg | indication_lb | indication (unit in the fields)
///     optional: added_kg | added_lb | added; zero_before, zero_after, resolution (unit of the
///       indication); footprint, going (up | down), test, time, temp, note
///   load and indication without a place; optional material (m1, m1+m2) and the others -> LoadSet
///   trim and one of turns | ohm | factor (trim: 2L, or section 2); optional note      -> TrimSet
///   stand (2L, or box) with any of input_ohm, output_ohm, e_plus_s_plus_ohm,
///       e_plus_s_minus_ohm, e_minus_s_plus_ohm, e_minus_s_minus_ohm, insulation_Mohm with test_V,
///       zero_mV, sense_V (box only); beside one of these also mV, excitation_V, time, temp, note;
///       OL where a meter is over its limit: infinity                   -> ElectricSet
///   stand,force_N    (every stand)                                     -> ForceSet
///   zero_kg | zero_lb | zero (unit in the fields); optional time (2026-11-25T18:30), temp_degC,
///       rain (yes | no), after (nothing | pass 1-2 | pass 2-1 | rocked | zeroed), resolution (unit
///       of the zero), note                                             -> ZeroSet
///   look,where,found (look: looks.h; found: yes | no); optional note   -> LookSet
///   id and nominal_kg | nominal_lb | nominal; optional count, class, conventional_kg (...),
///       uncertainty_g (_kg, _lb, ...) with k, density_kg_m3, certificate, traced_to, expires
///       (2027-03-31), length_m, width_m (_ft, ...), axles, axle_load_kg (...), handling (hand |
///       cart | crane | fork | vehicle), note                           -> WeightSet
///   check, load and indication (a line whose indication is blank is not done yet and left out);
///       optional place (at, or x and y), weights (W1*3+W2), material, added, zero_before,
///       zero_after, start (strain: indication before the known load), then (discrimination:
///       indication after the added load), heading (to_end_2 | to_end_1), run, time, going,
///       resolution, note                                               -> ProofSet
///
/// UTF-8, BOM and CRLF are fine, comma separated, header exact and case-sensitive, columns in any
/// order, blank lines and lines that begin with # ignored, any other column is a fault. More than
/// 1 MB is refused by size. The first 100 faults are listed, then their number.

#include <optional>
#include <string>
#include <string_view>

#include "record/measurement.h"
#include "units/diagnostic.h"

namespace weighwright::record {

inline constexpr std::size_t kLargestFile_bytes = 1'000'000;

struct ParsedMeasurement {
  std::optional<Measurement> value;  // empty when there are faults
  units::Diagnostics faults;
};

/// @param text       the whole file
/// @param file       its name, for messages
/// @param sections   number of sections of the deck: stands 1L ... are known by it
/// @param joints     number of joints of the deck
/// Never throws on any bytes.
[[nodiscard]] ParsedMeasurement parse_measurement(std::string_view text,
                                                  const std::string& file,
                                                  int sections,
                                                  int joints);

}  // namespace weighwright::record
