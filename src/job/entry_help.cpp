#include "job/entry_help.h"

#include <fmt/format.h>

#include <set>

#include "record/entry.h"

namespace weighwright::job {

std::string entry_help() {
  // These have options of their own, or are written by the program.
  static const std::set<std::string_view> kOthers = {"deck", "measurement", "tick", "photo",
                                                     "undo"};
  std::string text;
  for (const record::KindRule& kind : record::entry_kinds()) {
    if (kOthers.contains(kind.kind) || kind.of_record) continue;
    std::string needed;
    std::string maybe;
    for (const record::FieldRule& field : kind.fields) {
      (field.required ? needed : maybe) += " " + std::string(field.name);
    }
    if (!maybe.empty()) maybe = " [" + maybe.substr(1) + "]";
    text += fmt::format("  {:<14}{}{}\n", kind.kind, needed, maybe);
  }
  return text;
}

}  // namespace weighwright::job
