#include "job/release.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "job/entry_words.h"
#include "job/practice_remark.h"
#include "record/local_time.h"
#include "record/typed_number.h"
#include "units/diagnostic.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

using record::field;
using record::Fields;

constexpr double kHour_ms = 3'600'000.0;
constexpr std::int64_t kMinute_ms = 60'000;

struct Unit {
  std::string_view name;
  double factor;
};

constexpr std::array kTimes = {Unit{"h", 1.0},         Unit{"hour", 1.0}, Unit{"hours", 1.0},
                               Unit{"d", 24.0},        Unit{"day", 24.0}, Unit{"days", 24.0},
                               Unit{"min", 1.0 / 60.0}};
// 1 psi = 6.894757 kPa: NIST SP 811 (2008), B.8.
constexpr std::array kStrengths = {Unit{"MPa", 1.0}, Unit{"N/mm2", 1.0}, Unit{"psi", 0.006894757}};

/// "35 MPa": figure and unit with one of these names.
template <std::size_t N>
std::optional<double> amount_of(std::string_view typed, const std::array<Unit, N>& units) {
  const std::size_t end = typed.find_first_not_of("0123456789.");
  if (end == 0 || end == std::string_view::npos) return {};
  const record::TypedNumber number = record::read_number(typed.substr(0, end));
  std::string_view unit = typed.substr(end);
  while (!unit.empty() && unit.front() == ' ') unit.remove_prefix(1);
  if (number.fault != record::TypedNumber::Fault::none) return {};
  for (const Unit& one : units) {
    if (one.name == unit) return number.value * one.factor;
  }
  return {};
}

/// "+01:00", "-05:30", "Z": minutes.
std::optional<int> offset_of(std::string_view text) {
  if (text == "Z") return 0;
  constexpr std::size_t kLength = 6;
  if (text.size() != kLength || text[3] != ':' || (text[0] != '+' && text[0] != '-')) return {};
  int digits[4] = {};
  for (int i = 0; const std::size_t at : {1U, 2U, 4U, 5U}) {
    if (text[at] < '0' || text[at] > '9') return {};
    digits[i++] = text[at] - '0';
  }
  const int minutes = 60 * (10 * digits[0] + digits[1]) + 10 * digits[2] + digits[3];
  return text[0] == '-' ? -minutes : minutes;
}

/// A local time, with its offset behind it or without; UTC in ms.
std::optional<std::int64_t> instant_of(std::string_view text, int offset_min) {
  const std::size_t clock = text.find_first_of("T ");
  const std::size_t zone =
      clock == std::string_view::npos ? clock : text.find_first_of("+-Z", clock);
  std::string_view local = text;
  if (zone != std::string_view::npos) {
    const auto offset = offset_of(text.substr(zone));
    if (!offset) return {};
    offset_min = *offset;
    local = text.substr(0, zone);
  }
  const auto seconds = record::read_local_time(local);
  if (!seconds) return {};
  return *seconds * 1000 - offset_min * kMinute_ms;
}

/// A release as the journal stands when it is said.
class Judge {
 public:
  Judge(const SiteState& state, const Fields& release, const record::Stamp& said)
      : state_(state), release_(release), said_(said) {
    // What was typed while the connection was gone was said then.
    now_ms_ = said.time_ms;
    if (const auto typed = instant_of(get("typed_at"), said.offset_min)) {
      now_ms_ = std::min(now_ms_, *typed);
    }
  }

  std::vector<Lack> lacks() {
    if (get("by").empty()) lack("nobody is named", "by=... who releases it");
    judge_foundation();
    find_grout();
    judge_grounds();
    return std::move(lacks_);
  }

 private:
  [[nodiscard]] std::string get(std::string_view name) const {
    return std::string(field(release_, name));
  }

  void lack(std::string what, std::string right) {
    lacks_.push_back({.what = std::move(what), .right = std::move(right)});
  }

  void judge_foundation() {
    const std::string foundation = get("foundation");
    if (foundation.empty()) {
      lack("nothing says what the deck stands on",
           "foundation=grouted, steel_pad, bolted or temporary");
      return;
    }
    const bool grouted = state_.grouted_line >= 0;
    if (foundation == "grouted" && !grouted) {
      lack("foundation is grouted, and no grout is ticked",
           "--tick grouted first; or foundation=steel_pad, bolted or temporary");
    }
    if (foundation != "grouted" && grouted) {
      lack(fmt::format("foundation is {}, and entry {} says that the plates were grouted",
                       foundation, state_.grouted_line + 1),
           "foundation=grouted");
    }
  }

  void find_grout() {
    if (const std::string at = get("grouted_at"); !at.empty()) {
      placed_ms_ = instant_of(at, said_.offset_min);
      if (!placed_ms_) {
        lack("grouted_at is " + units::quote(at), "a local time as 2026-11-25T10:30");
      } else if (*placed_ms_ > now_ms_) {
        lack("grouted_at " + at + " is still to come", "when the last grout was placed");
      }
    } else if (state_.grouted_line >= 0) {
      placed_ms_ = grout_ticked_ms(state_);
    }
  }

  void judge_grounds() {
    const std::string grounds = get("grounds");
    if (grounds.empty()) {
      lack("nothing says on what grounds", "grounds=maker_time, cube, engineer or inspection");
    }
    if (grounds == "maker_time") judge_time();
    if (grounds == "cube") judge_cube();
    const bool told = !get("remark").empty() || !get("document").empty();
    if ((grounds == "engineer" || grounds == "inspection") && !told) {
      lack("the grounds are an " + grounds + ", and nothing says what was found",
           "remark=... or document=...");
    }
  }

  void judge_time() {
    const auto hours = positive("time", hours_of(get("time")), "the maker's time",
                                "time as \"24 h\" or \"7 d\", from the bag or its sheet");
    const std::string temperature = get("temperature");
    if (temperature.empty()) {
      lack("the maker's time holds at a temperature, and none is given",
           "temperature as \"12 degC\", as it was logged");
    } else if (const units::Parsed read = units::parse(temperature, units::Kind::temperature);
               !read.ok()) {
      lack("temperature is " + units::quote(temperature), "temperature as \"12 degC\"");
    }
    if (!placed_ms_) {
      if (state_.grouted_line < 0 && get("grouted_at").empty() && get("foundation") != "grouted") {
        lack("a maker's time runs from a moment, and none is given",
             "grouted_at=... when it was placed, or other grounds");
      }
      return;
    }
    if (!hours || is_practice(state_)) return;
    const auto over_ms = *placed_ms_ + static_cast<std::int64_t>(*hours * kHour_ms);
    if (over_ms <= now_ms_) return;
    lack(fmt::format("the maker's time of {} is not over: the grout was placed at {}", get("time"),
                     local(*placed_ms_)),
         fmt::format("not before {}; or other grounds", local(over_ms)));
  }

  void judge_cube() {
    const auto strength = positive("strength", strength_MPa_of(get("strength")),
                                   "the strength that was found", "strength as \"38 MPa\"");
    const auto needed = positive("needed", strength_MPa_of(get("needed")),
                                 "the strength that is asked for", "needed as \"35 MPa\"");
    const auto age =
        positive("age", hours_of(get("age")), "the age of the cube", "age as \"7 d\" or \"36 h\"");
    if (strength && needed && *strength < *needed) {
      lack(fmt::format("the cube broke at {}, below the {} that are asked for", get("strength"),
                       get("needed")),
           "a cube that is strong enough: let it cure on");
    }
    if (!age || !placed_ms_ || is_practice(state_)) return;
    const double since_h = static_cast<double>(now_ms_ - *placed_ms_) / kHour_ms;
    if (*age <= since_h) return;
    lack(fmt::format("a cube of this grout can't be {} old: the grout was placed at {}", get("age"),
                     local(*placed_ms_)),
         "the age of a cube that was cast with it; or grouted_at=...");
  }

  std::optional<double> positive(std::string_view name,
                                 std::optional<double> value,
                                 const char* what,
                                 const char* right) {
    if (value && *value > 0.0) return value;
    const std::string typed = get(name);
    lack(typed.empty() ? std::string(what) + " is not given"
                       : std::string(name) + " is " + units::quote(typed),
         right);
    return {};
  }

  [[nodiscard]] std::string local(std::int64_t time_ms) const {
    constexpr std::size_t kToTheMinute = 16;
    return print_local(time_ms, said_.offset_min).substr(0, kToTheMinute);
  }

  const SiteState& state_;
  const Fields& release_;
  const record::Stamp& said_;
  std::int64_t now_ms_ = 0;
  std::optional<std::int64_t> placed_ms_;  // empty: nobody knows
  std::vector<Lack> lacks_;
};

}  // namespace

std::vector<Lack> release_lacks(const SiteState& state,
                                const Fields& release,
                                const record::Stamp& said) {
  return Judge(state, release, said).lacks();
}

std::int64_t grout_ticked_ms(const SiteState& state) {
  const auto line = static_cast<std::size_t>(state.grouted_line);
  const record::Stamp& stamp = state.history.lines[line].entry.stamp;
  const auto typed = instant_of(field(state.history.words(state.grouted_line).fields, "typed_at"),
                                stamp.offset_min);
  return typed ? std::min(*typed, stamp.time_ms) : stamp.time_ms;
}

std::string release_words(const Fields& release) {
  const auto get = [&](std::string_view name) { return std::string(field(release, name)); };
  const std::string grounds = get("grounds");
  std::string text = get("by") + ": ";
  if (grounds == "maker_time") {
    return text + "the maker's time, " + get("time") + " at " + get("temperature");
  }
  if (grounds == "cube") {
    return text + "a cube of " + get("strength") + " at " + get("age") + ", " + get("needed") +
           " asked for";
  }
  text += grounds == "engineer" ? "an engineer's word" : "an inspection";
  for (const char* const name : {"document", "remark"}) {
    if (!get(name).empty()) text += ", " + get(name);
  }
  return text;
}

std::optional<double> hours_of(std::string_view typed) {
  constexpr double kMost_h = 100'000.0;  // eleven years: more is a slip
  const auto hours = amount_of(typed, kTimes);
  return hours && *hours <= kMost_h ? hours : std::nullopt;
}

std::optional<double> strength_MPa_of(std::string_view typed) {
  return amount_of(typed, kStrengths);
}

}  // namespace weighwright::job
