#include "journal/export_reader.h"

#include <algorithm>
#include <map>
#include <unordered_map>

#include "journal/base64.h"
#include "journal/forgery.h"
#include "journal/impossible.h"
#include "journal/line_reader.h"
#include "record/encoding/entry_text.h"

namespace weighwright::journal {
namespace {

constexpr std::size_t kMostFaults = 100;

class ExportReader {
 public:
  ExportReader(std::string_view text, const std::string& name) : text_(text), name_(name) {}

  ParsedExport run() {
    header_line();
    while (!text_.empty() && has_header_) {
      const std::string_view line = next_line();
      if (line.starts_with(R"({"attachment")")) {
        attachment_line(line);
      } else {
        entry_line(line);
      }
    }
    if (has_header_) look_for_alien();
    if (has_header_ && parsed_.faults.empty()) compare_with_header();
    if (more_ > 0) {
      parsed_.faults.push_back(
          {.file = name_, .what = "and " + std::to_string(more_) + " faults more", .expected = {}});
    }
    if (!parsed_.faults.empty()) parsed_.gathered = {};
    return std::move(parsed_);
  }

 private:
  std::string_view next_line() {
    ++line_;
    const std::size_t end = text_.find('\n');
    std::string_view line = text_.substr(0, end);
    text_.remove_prefix(end == std::string_view::npos ? text_.size() : end + 1);
    if (line.ends_with('\r')) line.remove_suffix(1);
    return line;
  }

  void fault(std::string what, std::string expected = {}) {
    if (parsed_.faults.size() >= kMostFaults) {
      ++more_;
      return;
    }
    parsed_.faults.push_back(
        {.file = name_, .line = line_, .what = std::move(what), .expected = std::move(expected)});
  }

  void header_line() {
    const std::string_view line = next_line();
    const std::optional<ExportHeader> header = parse_header(line);
    has_header_ = header.has_value();
    if (header) {
      header_ = *header;
      return;
    }
    constexpr std::string_view kOurs = R"({"weighwright_journal":)";
    const bool known = line.starts_with(R"({"weighwright_journal":1,)") ||
                       line.starts_with(R"({"weighwright_journal":2,)");
    if (line.starts_with(kOurs) && !known) {
      fault("the export has a format that this version does not know",
            "formats 1 and 2, or a newer version of the program");
    } else {
      fault("it does not begin as the export of a journal does",
            R"({"weighwright_journal":1,"heads":[...],"entries":..,"attachments":..})");
    }
  }

  void entry_line(std::string_view line) {
    std::optional<Row> row = parse_line(line);
    if (!row) {
      fault(line.empty() ? "the line is empty" : "it is no line of an export: it is cut or changed",
            R"(an entry that ends with "previous" and "hash", or an attachment)");
      return;
    }
    record::ParsedContent content = record::parse_content(row->content);
    if (!content.entry) {
      fault("the entry can not be read: " + content.fault, "the line as it was exported");
      return;
    }
    const std::string entry_name = record::print_name(content.entry->stamp);
    if (entry_hash(row->content, row->previous) != row->hash) {
      fault("entry " + entry_name + " was changed: content and hash do not fit",
            "the line as it was exported");
      return;
    }
    LoadedEntry loaded;
    loaded.entry = std::move(*content.entry);
    loaded.entry.previous = print_hex(row->previous);
    loaded.entry.hash = print_hex(row->hash);
    loaded.signature = row->signature;
    lines_.emplace(loaded.entry.hash, line_);
    entries_.push_back(std::move(loaded));
    parsed_.gathered.rows.push_back(std::move(*row));
  }

  /// Forged entries, and those that can not be: as lines, in the order of the file.
  void look_for_alien() {
    std::vector<LoadedEntry> entries = entries_;
    put_in_order(entries);
    mark_forged(entries, Signatures::every);
    const auto impossible = impossible_of(entries);
    std::map<int, std::string> told;
    for (const LoadedEntry& one : entries) {
      const auto found = impossible.find(one.entry.hash);
      if (one.intact && found == impossible.end()) continue;
      told.emplace(lines_.at(one.entry.hash),
                   "entry " + record::print_name(one.entry.stamp) +
                       " may not come in: " + (one.intact ? found->second.why : one.problem));
    }
    for (auto& [line, what] : told) {
      line_ = line;
      fault(std::move(what), "an export of a journal without it");
    }
  }

  void attachment_line(std::string_view line) {
    const std::optional<AttachmentLine> parts = parse_attachment(line);
    const std::optional<HashBytes> hash = parts ? parse_hex(parts->hash) : std::nullopt;
    std::optional<std::string> bytes = hash ? parse_base64(parts->base64) : std::nullopt;
    if (!bytes) {
      fault("the attachment can not be read", R"({"attachment":"64 hex digits","base64":"..."})");
      return;
    }
    if (attachment_hash(*bytes) != *hash) {
      fault("attachment " + parts->hash + " was changed: bytes and hash do not fit",
            "the line as it was exported");
      return;
    }
    parsed_.gathered.attachments.push_back({.hash = *hash, .bytes = std::move(*bytes)});
  }

  void compare_with_header() {
    const auto count = static_cast<std::int64_t>(entries_.size());
    const auto photos = static_cast<std::int64_t>(parsed_.gathered.attachments.size());
    parsed_.gathered.heads = heads_of(entries_);
    parsed_.belonging = belonging_of(entries_);
    parsed_.gathered.chains = summaries_of(entries_);
    line_ = 1;
    if (count != header_.entries) {
      fault("it says " + std::to_string(header_.entries) + " entries and holds " +
                std::to_string(count),
            "the whole export");
    } else if (photos != header_.attachments) {
      fault("it says " + std::to_string(header_.attachments) + " attachments and holds " +
                std::to_string(photos),
            "the whole export");
    } else if (parsed_.gathered.heads != header_.heads) {
      fault("the heads of chains that it names are not those of its entries", "the whole export");
    }
  }

  std::string_view text_;
  const std::string& name_;
  int line_ = 0;
  bool has_header_ = false;
  std::size_t more_ = 0;
  ExportHeader header_;
  std::unordered_map<std::string, int> lines_;  // by hash
  std::vector<LoadedEntry> entries_;
  ParsedExport parsed_;
};

}  // namespace

ParsedExport parse_export(std::string_view text, const std::string& name) {
  return ExportReader(text, name).run();
}

}  // namespace weighwright::journal
