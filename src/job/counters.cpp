#include "job/counters.h"

#include <fmt/format.h>

#include <map>

#include "job/report_parts.h"

namespace weighwright::job {

std::vector<std::string> counter_warnings(const SiteState& state) {
  struct Seen {
    double value = 0.0;
    std::string shown;
    int line = 0;
  };
  std::map<std::string, Seen> last;
  std::vector<std::string> warnings;
  for (int i = 0; i < static_cast<int>(state.history.lines.size()); ++i) {
    if (!state.history.counts(i) || state.history.words(i).kind != "counter") continue;
    const record::Fields& said = state.history.words(i).fields;
    const std::string name(record::field(said, "name"));
    const std::string shown(record::field(said, "value"));
    const auto value = plain_figure(shown);
    if (!value) continue;
    const auto before = last.find(name);
    if (before != last.end() && *value < before->second.value) {
      warnings.push_back(fmt::format(
          "Entry {}: the {} counter shows {}, and showed {} in entry {}. Counters only go up: it "
          "wrapped after 999, or the board is another one. Ask, and note which.",
          i + 1, name, shown, before->second.shown, before->second.line + 1));
    }
    last[name] = {.value = *value, .shown = shown, .line = i};
  }
  return warnings;
}

}  // namespace weighwright::job
