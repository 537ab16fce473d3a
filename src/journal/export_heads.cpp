#include "journal/export_heads.h"

#include <utility>

#include "journal/export_reader.h"
#include "journal/new_file.h"

namespace weighwright::journal {

ExportHeads heads_of_export(const std::string& path) {
  const std::optional<std::string> text = read_bytes(path);
  if (!text) {
    return {.heads = {},
            .belonging = {},
            .chains = {},
            .faults = {{.file = path,
                        .line = 0,
                        .column = 0,
                        .what = "there is no such file",
                        .expected = "an export made earlier: job export JOB FILE"}}};
  }
  ParsedExport parsed = parse_export(*text, path);
  ExportHeads found;
  found.faults = std::move(parsed.faults);
  if (!found.faults.empty()) return found;
  found.heads = std::move(parsed.gathered.heads);
  found.belonging = std::move(parsed.belonging);
  found.chains = std::move(parsed.gathered.chains);
  return found;
}

}  // namespace weighwright::journal
