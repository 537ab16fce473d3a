#include "job/record_words.h"

#include <fmt/format.h>

#include "job/entry_words.h"

namespace weighwright::job {
namespace {

std::string words_of(const record::Entry& entry) {
  const auto get = [&](const char* name) {
    return std::string(record::field(entry.what.fields, name));
  };
  constexpr std::size_t kShort = 12;
  const std::string chain = entry.stamp.device.substr(0, 8);
  if (entry.what.kind == "program") {
    return fmt::format("{}: written by weighwright {}, build {}, from here on", chain,
                       get("version"), get("build").substr(0, kShort));
  }
  if (entry.what.kind == "report_written") {
    return fmt::format("{}: {} {} written to a file of {} bytes, BLAKE2b {}...", chain,
                       get("paper") == "dcc" ? "certificate as XML" : "report", get("number"),
                       get("size"), get("blake2b").substr(0, kShort));
  }
  if (entry.what.kind == "chain_closed") {
    return fmt::format(
        "{}: goes on for {}, whose chain a second copy of this journal was written to", chain,
        get("device").substr(0, 8));
  }
  return chain + ": " + entry.what.kind;
}

}  // namespace

report::EntryView record_entry_view(const record::Entry& entry) {
  const record::Stamp& stamp = entry.stamp;
  report::EntryView view;
  view.name = record::print_name(stamp);
  view.time = print_local(stamp.time_ms, stamp.offset_min);
  view.time_utc = print_utc(stamp.time_ms);
  view.author = stamp.author;
  view.kind = entry.what.kind;
  view.says = words_of(entry);
  view.hash = entry.hash;
  view.fields = entry.what.fields;
  return view;
}

}  // namespace weighwright::job
