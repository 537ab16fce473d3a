#pragma once
/// The bytes of a CSV file to lines of fields, with their places. Knows no meaning.
///
/// Fields may be quoted as in RFC 4180 ("" is a quotation mark inside one); a quoted field ends on
/// its line. Spaces around a field are dropped. Lines end with LF, CRLF or CR.

#include <string>
#include <string_view>
#include <vector>

#include "record/fault_list.h"

namespace weighwright::record {

struct Field {
  std::string text;
  int line = 0;    // from 1
  int column = 0;  // from 1, in bytes
};

using Row = std::vector<Field>;

/// Blank lines and lines that begin with # are left out. Faults (too large, binary, empty, unclosed
/// quotation marks) go to `faults`; the rows are then not to be used.
[[nodiscard]] std::vector<Row> split_csv(std::string_view text, FaultList& faults);

}  // namespace weighwright::record
