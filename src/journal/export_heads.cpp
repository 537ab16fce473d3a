#include "journal/export_heads.h"

#include <utility>

#include "journal/export_reader.h"
#include "journal/new_file.h"

namespace weighwright::journal {

ExportHeads heads_of_export(const std::string& path) {
  const std::optional<std::string> text = read_bytes(path);
  if (!text) {
    return {.heads = {},
            .faults = {{.file = path,
                        .line = 0,
                        .column = 0,
                        .what = "there is no such file",
                        .expected = "an export made earlier: job export JOB FILE"}}};
  }
  ParsedExport parsed = parse_export(*text, path);
  if (!parsed.faults.empty()) return {.heads = {}, .faults = std::move(parsed.faults)};
  return {.heads = std::move(parsed.gathered.heads), .faults = {}};
}

}  // namespace weighwright::journal
