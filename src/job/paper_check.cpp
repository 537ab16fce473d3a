#include "job/paper_check.h"

#include <fmt/format.h>

#include <algorithm>

#include "job/entry_words.h"
#include "journal/entry_hash.h"
#include "journal/signature.h"

namespace weighwright::job {
namespace {

/// The number of the report that counts in the place of another; empty: none.
std::string replaced_by(const History& history, const std::string& number) {
  for (int i = 0; i < static_cast<int>(history.lines.size()); ++i) {
    if (!history.counts(i) || history.words(i).kind != "report_issued") continue;
    const record::Fields& fields = history.words(i).fields;
    if (record::field(fields, "replaces") == number) {
      return std::string(record::field(fields, "number"));
    }
  }
  return {};
}

bool number_counts(const History& history, const std::string& number) {
  for (int i = 0; i < static_cast<int>(history.lines.size()); ++i) {
    if (!history.counts(i) || history.words(i).kind != "report_issued") continue;
    if (record::field(history.words(i).fields, "number") == number) return true;
  }
  return false;
}

std::string issued_words(const report::PaperView& paper, const History& history) {
  std::string text =
      fmt::format("{} is report {} as it was written on {} by the device {}, {}.", paper.file,
                  paper.number, paper.time_utc, paper.device.substr(0, 8),
                  paper.key.empty() ? std::string("which did not sign that")
                                    : "signed with the key " + journal::fingerprint(paper.key));
  if (!paper.replaced_by.empty()) {
    text += fmt::format(" Report {} has taken its place since.", paper.replaced_by);
  } else if (!number_counts(history, paper.number)) {
    text += " The number does not count any more: its entry was undone or corrected.";
  }
  return text;
}

}  // namespace

const record::Entry* find_written(const History& history, const std::string& blake2b) {
  const auto found = std::find_if(history.of_record.rbegin(), history.of_record.rend(),
                                  [&](const record::Entry& entry) {
                                    return entry.what.kind == "report_written" &&
                                           record::field(entry.what.fields, "blake2b") == blake2b;
                                  });
  return found == history.of_record.rend() ? nullptr : &*found;
}

report::PaperView paper_view(const History& history, const InputFile& paper) {
  report::PaperView view;
  view.file = paper.name;
  view.blake2b = journal::print_hex(journal::attachment_hash(paper.text));
  const record::Entry* const written = find_written(history, view.blake2b);
  view.issued = written != nullptr;
  if (!view.issued) {
    view.sentence = fmt::format(
        "{} is NOT a paper that this record wrote: no entry report_written has its hash (BLAKE2b "
        "{}). It was changed, made elsewhere, or written before papers were recorded.",
        paper.name, view.blake2b);
    return view;
  }
  view.number = record::field(written->what.fields, "number");
  view.device = written->stamp.device;
  view.key = written->key;
  view.time_utc = print_utc(written->stamp.time_ms);
  view.replaced_by = replaced_by(history, view.number);
  view.sentence = issued_words(view, history);
  return view;
}

}  // namespace weighwright::job
