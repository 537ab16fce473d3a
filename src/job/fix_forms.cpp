#include "job/fix_forms.h"

#include <string>
#include <utility>
#include <vector>

#include "job/entry_words.h"
#include "job/practice_remark.h"
#include "job/release.h"
#include "job/test_forms.h"
#include "record/entry.h"

namespace weighwright::job {
namespace {

using Given = std::vector<std::pair<std::string, std::string>>;

constexpr const char* kNobody = "practice";

/// As a release takes it: "2026-11-25T10:30", on the clock of who ticked it.
std::string grouted_at(const SiteState& state) {
  constexpr std::size_t kToTheMinute = 16;
  const auto line = static_cast<std::size_t>(state.grouted_line);
  const int offset_min = state.history.lines[line].entry.stamp.offset_min;
  std::string text = print_local(grout_ticked_ms(state), offset_min).substr(0, kToTheMinute);
  text[text.find(' ')] = 'T';
  return text;
}

/// The air as it was logged last since the grout was placed; empty: it was not.
std::string logged_temperature(const SiteState& state) {
  std::string text;
  for (const int line : state.weather) {
    const std::string degrees(record::field(state.history.words(line).fields, "temp_degC"));
    if (line > state.grouted_line && !degrees.empty()) text = degrees + " degC";
  }
  return text;
}

}  // namespace

report::FormView clearance_form(const SiteState& state) {
  if (!is_practice(state)) return entry_form("clearance", {});
  return entry_form("clearance", {{"by", kNobody}, {"plates_level", "yes"}});
}

report::FormView release_form(const SiteState& state) {
  Given given;
  std::string temperature = logged_temperature(state);
  if (state.grouted_line >= 0) {
    given = {{"foundation", "grouted"}, {"grouted_at", grouted_at(state)}};
  }
  if (is_practice(state)) {
    if (temperature.empty()) temperature = "15 degC";
    given.emplace_back("by", kNobody);
    given.emplace_back("grounds", "maker_time");
    given.emplace_back("time", "72 h");  // as long as the practice site lets it cure
    if (state.grouted_line < 0) given.emplace_back("foundation", "steel_pad");
  }
  given.emplace_back("temperature", temperature);
  return entry_form("release", given);
}

}  // namespace weighwright::job
