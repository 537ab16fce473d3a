#include "journal/exchange.h"

#include <algorithm>

#include "journal/export_reader.h"
#include "journal/line_reader.h"
#include "journal/new_file.h"

namespace weighwright::journal {
namespace {

struct ReadText {
  std::optional<std::string> text;
  units::Diagnostics faults;
};

ReadText read_export(const std::string& path) {
  ReadText read{.text = read_bytes(path), .faults = {}};
  if (!read.text) {
    read.faults.push_back(
        {.file = path, .what = "there is no such file", .expected = "the name of an export"});
  }
  return read;
}

void compare(const Exported& exported, const std::string& path) {
  const ParsedExport again = parse_export(read_bytes(path).value_or(std::string()), path);
  const auto count = static_cast<std::int64_t>(again.gathered.rows.size());
  if (again.faults.empty() && count == exported.entries && again.gathered.heads == exported.heads) {
    return;
  }
  throw StorageFailure({.file = path,
                        .what = "the export was read again and is not what was written",
                        .expected = "another disk: this one does not keep what is written to it"});
}

}  // namespace

Exported export_text(Journal& journal, const std::function<void(std::string_view)>& write) {
  Gathered gathered = gather(journal);
  Exported exported;
  exported.entries = static_cast<std::int64_t>(gathered.rows.size());
  exported.attachments = static_cast<std::int64_t>(gathered.attachments.size());
  exported.heads = std::move(gathered.heads);
  exported.left_out = std::move(gathered.left_out);
  const bool is_signed =
      std::ranges::any_of(gathered.rows, [](const Row& row) { return !row.signature.empty(); });
  write(print_header({.format = is_signed ? kExportFormat : 1,
                      .heads = exported.heads,
                      .entries = exported.entries,
                      .attachments = exported.attachments}) +
        "\n");
  for (const Row& row : gathered.rows) write(print_line(row) + "\n");
  for (const Attachment& one : gathered.attachments) {
    write(print_attachment(print_hex(one.hash), one.bytes) + "\n");
  }
  return exported;
}

Exported export_file(Journal& journal, const std::string& path) {
  Exported exported;
  if (auto fault = fault_of_new(path)) {
    exported.faults.push_back(*fault);
    return exported;
  }
  NewFile file(path);
  TextFile text(file.temporary());
  exported = export_text(journal, [&](std::string_view piece) { text.write(piece); });
  text.close();
  if (auto fault = file.publish()) {
    exported.faults.push_back(*fault);
    return exported;
  }
  compare(exported, path);
  return exported;
}

Opened import_text(std::string_view text, const std::string& name, const std::string& path) {
  const ParsedExport parsed = parse_export(text, name);
  if (!parsed.faults.empty()) return {.journal = nullptr, .faults = parsed.faults};
  return StoreAccess::create_with(path, parsed.gathered.rows, parsed.gathered.attachments);
}

Opened import_file(const std::string& export_path, const std::string& path) {
  const ReadText read = read_export(export_path);
  if (!read.text) return {.journal = nullptr, .faults = read.faults};
  return import_text(*read.text, export_path, path);
}

Merged merge_text(Journal& into,
                  std::string_view text,
                  const std::string& name,
                  const Receiver& receiver) {
  const ParsedExport parsed = parse_export(text, name);
  Merged merged;
  merged.faults = parsed.faults;
  if (StoreAccess::store(into).access() == Access::read) {
    merged.faults.push_back(
        {.file = into.path(), .what = "the journal was opened for reading", .expected = {}});
  }
  return merged.faults.empty() ? bring_into(into, parsed.gathered, receiver, name) : merged;
}

Merged merge_file(Journal& into, const std::string& export_path, const Receiver& receiver) {
  const ReadText read = read_export(export_path);
  if (read.text) return merge_text(into, *read.text, export_path, receiver);
  Merged merged;
  merged.faults = read.faults;
  return merged;
}

bool is_called_export(const std::string& path) {
  return read_bytes(path).value_or(std::string()).starts_with(R"({"weighwright_journal":)");
}

units::Diagnostics faults_of_export(std::string_view text, const std::string& name) {
  return parse_export(text, name).faults;
}

}  // namespace weighwright::journal
