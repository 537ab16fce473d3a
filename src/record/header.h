#pragma once
/// The header of a file of measurements: which kind of file, which column is what.

#include <optional>
#include <string>
#include <vector>

#include "record/columns.h"
#include "record/csv_table.h"
#include "record/fault_list.h"
#include "record/measurement.h"

namespace weighwright::record {

struct HeaderColumn {
  Column column = Column::ignored;
  ColumnUnit unit = ColumnUnit::none;
};

struct Header {
  FileKind kind = FileKind::readings;
  ReadingUnit unit = ReadingUnit::mV;  // readings only
  std::vector<HeaderColumn> columns;   // as they stand in the file
  std::vector<std::string> names;      // as written

  [[nodiscard]] bool has(Column column) const;
  /// Of the first such column; none when there is none.
  [[nodiscard]] ColumnUnit unit_of(Column column) const;
};

/// Empty when the header has a fault; all of them are then in `faults`.
[[nodiscard]] std::optional<Header> parse_header(const Row& row, FaultList& faults);

}  // namespace weighwright::record
