#pragma once
/// The header of a file of measurements: which kind of file, which column is what.

#include <optional>
#include <string>
#include <vector>

#include "record/csv_table.h"
#include "record/fault_list.h"
#include "record/measurement.h"

namespace weighwright::record {

enum class FileKind { readings, turns, heights, gaps, map };

enum class Column {
  stand,
  reading,
  no_load,
  gap_mm,
  excitation_V,
  resolution,
  ignored,  // ignored: time, temp
  turns,
  shim_mm,
  until,
  height_mm,
  support,
  loaded,
  moved
};

struct Header {
  FileKind kind = FileKind::readings;
  ReadingUnit unit = ReadingUnit::mV;  // readings only
  std::vector<Column> columns;         // as they stand in the file
  std::vector<std::string> names;      // as written

  [[nodiscard]] bool has(Column column) const;
};

/// Empty when the header has a fault; all of them are then in `faults`.
[[nodiscard]] std::optional<Header> parse_header(const Row& row, FaultList& faults);

}  // namespace weighwright::record
