#pragma once
/// Files of measurements (CSV with a header) to values. The kind of a file is told by its header.
///
///   stand + one of mV | mV_per_V | counts | kg | lb; optional no_load, gap_mm, excitation_V,
///       resolution, time, temp                                         -> ReadingSet
///   stand,turns  or  stand,shim_mm; optional until (= touch)           -> TurnSet
///   stand,height_mm                                                    -> HeightSet
///   support,gap_mm   (support: 2L, or bearing1R for joint 1 right)     -> GapSet
///   loaded,moved     (stand that was loaded, stand whose reading moved) -> MapSet
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
