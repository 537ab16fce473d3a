#include <nlohmann/json.hpp>
#include <string>

#include "fuzz/entry.h"
#include "journal/exchange.h"
#include "record/encoding/entry_reader.h"
#include "record/encoding/entry_text.h"
#include "units/diagnostic.h"

namespace weighwright::fuzz {

namespace {

/// Both readers say the same, and what is an entry is JSON for everybody (nlohmann's library).
void read_content(std::string_view content) {
  const record::ParsedContent parsed = record::parse_content(content);
  hold(parsed.entry.has_value() == parsed.fault.empty());
  hold(units::is_utf8(parsed.fault));
  if (!parsed.entry) return;
  hold(nlohmann::json::accept(content));
  const record::ParsedContent general = record::read_general(content);
  hold(general.entry.has_value());
  hold(record::print_content(*general.entry) == record::print_content(*parsed.entry));
  const record::ParsedContent again = record::parse_content(record::print_content(*parsed.entry));
  hold(again.entry.has_value());
  hold(again.entry->what.fields == parsed.entry->what.fields);
}

}  // namespace

void read_import(std::string_view bytes) {
  const units::Diagnostics faults = journal::faults_of_export(bytes, "export.jsonl");
  hold(faults.size() <= 101);
  for (const units::Diagnostic& fault : faults) hold(units::is_utf8(units::print(fault)));
  read_content(bytes);
  constexpr std::string_view kTailBegins = R"(,"previous")";
  while (!bytes.empty()) {
    const std::string_view line = bytes.substr(0, bytes.find('\n'));
    const std::size_t tail = line.rfind(kTailBegins);
    if (tail != std::string_view::npos) read_content(std::string(line.substr(0, tail)) + "}");
    bytes.remove_prefix(std::min(bytes.size(), line.size() + 1));
  }
}

}  // namespace weighwright::fuzz

WEIGHWRIGHT_FUZZ_TARGET(weighwright::fuzz::read_import)
