#pragma once
/// An export read into rows and attachments; nothing is stored.

#include <string>
#include <string_view>
#include <vector>

#include "journal/founding.h"
#include "journal/gathering.h"
#include "units/diagnostic.h"

namespace weighwright::journal {

struct ParsedExport {
  Gathered gathered;
  Belonging belonging;
  units::Diagnostics faults;  // all of them, at most 100 and a count; then nothing is gathered
};

/// Never throws on any bytes.
[[nodiscard]] ParsedExport parse_export(std::string_view text, const std::string& name);

}  // namespace weighwright::journal
