#include "job/site_evidence.h"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>
#include <utility>
#include <variant>

#include "job/condition_doubt.h"

namespace weighwright::job {
namespace {

using record::ElectricSet;
using record::GapSet;
using record::HeightSet;
using record::LoadSet;
using record::MapSet;
using record::Measurement;
using record::ReadingSet;
using record::ShiftSet;
using record::TrimSet;
using record::TurnSet;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

template <class... Kinds>
bool is_any(const Measurement& what) {
  return (std::holds_alternative<Kinds>(what) || ...);
}

/// Readings of cells count after this line.
int cells_from(const SiteState& state) {
  const int visit = state.service ? state.visit_line : -1;
  return std::max({state.cured_line, state.mended_line, state.cell_line, visit});
}

template <class... Kinds>
int last_of(const SiteState& state) {
  for (auto event = state.events.rbegin(); event != state.events.rend(); ++event) {
    if (is_any<Kinds...>(event->what)) return event->line;
  }
  return -1;
}

void add(Evidence& evidence, const Event& event) {
  evidence.events.push_back(event.what);
  evidence.lines.push_back(event.line);
}

/// A no-load value of a stand, in V of signal over V of supply or in the unit of its reading.
struct NoLoad {
  double value = 0.0;
  record::ReadingUnit unit = record::ReadingUnit::mV;
  double excitation_V = 0.0;
  int line = -1;
};

std::vector<NoLoad> no_loads(const SiteState& state) {
  const deck::Deck& deck = *state.deck->deck;
  std::vector<NoLoad> known(deck.stands.size());
  for (const Event& event : state.events) {
    if (const auto* set = std::get_if<ReadingSet>(&event.what)) {
      for (const record::StandReading& reading : set->stands) {
        if (!reading.no_load) continue;
        known[at(reading.stand.value)] = {
            .value = *reading.no_load,
            .unit = set->unit,
            .excitation_V = reading.excitation_V.value_or(deck.excitation_V),
            .line = event.line};
      }
    } else if (const auto* cells = std::get_if<ElectricSet>(&event.what)) {
      for (const auto& [stand, cell] : cells->stands) {
        if (!cell.zero_mV) continue;
        known[at(stand.value)] = {.value = *cell.zero_mV,
                                  .unit = record::ReadingUnit::mV,
                                  .excitation_V = cell.excitation_V.value_or(deck.excitation_V),
                                  .line = event.line};
      }
    }
  }
  return known;
}

/// No-load values that were read before this set are put into it: they hold for a cell's whole life
/// on the site.
void carry_no_loads(const SiteState& state, ReadingSet& set, int line, std::set<int>& lines) {
  const std::vector<NoLoad> known = no_loads(state);
  for (record::StandReading& reading : set.stands) {
    const NoLoad& no_load = known[at(reading.stand.value)];
    // A cell that was replaced since has another one.
    if (reading.no_load || no_load.line < state.cell_line || no_load.line < 0) continue;
    if (no_load.line == line || no_load.unit != set.unit) continue;
    double value = no_load.value;
    if (set.unit == record::ReadingUnit::mV) {
      const double excitation_V = reading.excitation_V.value_or(state.deck->deck->excitation_V);
      value *= excitation_V / no_load.excitation_V;
    }
    reading.no_load = value;
    lines.insert(no_load.line);
  }
}

/// One key for readings that say the same thing.
using PlaceKey = std::tuple<std::string, double, double, double, std::string, int, std::string>;

PlaceKey key_of(const record::LoadReading& reading) {
  return {reading.place.typed,
          reading.place.x_m,
          reading.place.y_m,
          reading.load_kg.value_or(-1.0),
          reading.load_id + "/" + reading.material,
          static_cast<int>(reading.going),
          reading.footprint};
}

/// Whether every reading of the set was taken again often enough later; counts them.
template <class Set>
bool all_repeated(const Set& set, int most, std::map<PlaceKey, int>& seen) {
  bool repeated = true;
  for (const record::LoadReading& reading : set.readings) {
    repeated &= ++seen[key_of(reading)] > most;
  }
  return repeated;
}

/// Of what was read again and again between two moves the last `most` are kept.
std::vector<const Event*> without_repeats(const std::vector<const Event*>& chosen, int most) {
  std::vector<const Event*> kept;
  std::map<PlaceKey, int> loads;
  int cells = 0;
  int zeros = 0;
  for (auto event = chosen.rbegin(); event != chosen.rend(); ++event) {
    const Measurement& what = (*event)->what;
    if (is_any<TurnSet, TrimSet>(what)) {
      cells = 0;
      loads.clear();
    }
    bool repeated = false;
    if (is_any<ReadingSet>(what)) repeated = ++cells > most;
    if (is_any<record::ZeroSet>(what)) repeated = ++zeros > kMostZeros;
    if (const auto* set = std::get_if<ShiftSet>(&what)) repeated = all_repeated(*set, most, loads);
    if (const auto* set = std::get_if<LoadSet>(&what)) repeated = all_repeated(*set, most, loads);
    if (!repeated) kept.push_back(*event);
  }
  std::reverse(kept.begin(), kept.end());
  return kept;
}

/// Trims set to a resistance or a factor stand there whatever came after.
bool is_lasting(const TrimSet& set) {
  return std::all_of(set.moves.begin(), set.moves.end(),
                     [](const record::TrimMove& move) { return !move.turns; });
}

/// What a meter read under the dead load of a deck that was moved since says nothing any more.
void drop_dead_load(Measurement& what) {
  auto* const set = std::get_if<ElectricSet>(&what);
  if (set == nullptr) return;
  for (auto& [stand, cell] : set->stands) cell.mV.reset();
  if (set->box) set->box->mV.reset();
}

/// The last line before a visit that holds one of these.
template <class... Kinds>
int last_before(const SiteState& state, int visit) {
  int line = -1;
  for (const Event& event : state.events) {
    if (event.line < visit && is_any<Kinds...>(event.what)) line = event.line;
  }
  return line;
}

}  // namespace

MapSeen map_seen(const SiteState& state) {
  MapSeen seen;
  std::map<int, int> moved_of;
  // Between visits anybody may have been at the box.
  const int from = state.service ? std::max(state.cell_line, state.visit_line) : state.cell_line;
  for (const Event& event : state.events) {
    const auto* const map = std::get_if<MapSet>(&event.what);
    if (map == nullptr || event.line < from) continue;
    seen.lines.push_back(event.line);
    for (const auto& [loaded, moved] : map->loaded_and_moved) moved_of[loaded.value] = moved.value;
  }
  for (const auto& [loaded, moved] : moved_of) {
    if (loaded != moved)
      seen.exchanged.push_back({units::StandIndex{loaded}, units::StandIndex{moved}});
  }
  seen.proven = moved_of.size() == state.deck->deck->stands.size() && seen.exchanged.empty();
  return seen;
}

Evidence share_evidence(const SiteState& state) {
  const int from = cells_from(state);
  std::vector<const Event*> chosen;
  for (const Event& event : state.events) {
    const bool map = is_any<MapSet>(event.what) && event.line > state.cell_line;
    const bool here =
        event.line > from && is_any<ReadingSet, TurnSet, HeightSet, GapSet>(event.what);
    if (map || here) chosen.push_back(&event);
  }
  Evidence evidence;
  std::set<int> lines;
  // Gaps that were felt before the cells were read in the same state go behind that reading; felt
  // in a state that nobody read they say nothing.
  std::vector<const Event*> waiting;
  int readings = 0;  // since something was moved
  const auto take = [&](const Event& event) {
    evidence.events.push_back(event.what);
    lines.insert(event.line);
  };
  for (const Event* event : without_repeats(chosen, kMostRepeats)) {
    if (is_any<GapSet>(event->what) && (!evidence.anything || evidence.moved_last)) {
      waiting.push_back(event);
      continue;
    }
    take(*event);
    if (auto* const set = std::get_if<ReadingSet>(&evidence.events.back())) {
      if (!evidence.anything) carry_no_loads(state, *set, event->line, lines);
      widen(*state.deck->deck, event->unmet, ++readings, *set);
      evidence.unmet = event->unmet;
      evidence.anything = true;
      evidence.moved_last = false;
      for (const Event* gaps : waiting) take(*gaps);
      waiting.clear();
    }
    if (is_any<TurnSet>(event->what)) {
      readings = 0;
      evidence.moved_last = true;
      waiting.clear();
    }
  }
  evidence.lines.assign(lines.begin(), lines.end());
  return evidence;
}

Evidence trim_evidence(const SiteState& state) {
  const int from = std::max(cells_from(state), last_of<TurnSet>(state));
  std::vector<const Event*> chosen;
  for (const Event& event : state.events) {
    const auto* const trims = std::get_if<TrimSet>(&event.what);
    const bool set = trims != nullptr && (event.line > from || is_lasting(*trims));
    if (set || (is_any<ShiftSet>(event.what) && event.line > from)) chosen.push_back(&event);
  }
  Evidence evidence;
  for (const Event* event : without_repeats(chosen, kMostRepeats)) {
    add(evidence, *event);
    if (is_any<TrimSet>(event->what)) {
      evidence.moved_last = evidence.anything;
    } else {
      evidence.anything = true;
      evidence.moved_last = false;
    }
  }
  return evidence;
}

Evidence span_evidence(const SiteState& state) {
  int from = std::max(cells_from(state), last_of<TurnSet, TrimSet>(state));
  for (int i = 0; i < static_cast<int>(state.history.lines.size()); ++i) {
    if (!state.history.counts(i) || state.history.words(i).kind != "setting") continue;
    const record::Fields& fields = state.history.words(i).fields;
    const bool span =
        record::field(fields, "name") == "span" && record::field(fields, "when") == "left";
    if (span) from = std::max(from, i);
  }
  std::vector<const Event*> chosen;
  for (const Event& event : state.events) {
    if (is_any<LoadSet>(event.what) && event.line > from) chosen.push_back(&event);
  }
  Evidence evidence;
  for (const Event* event : without_repeats(chosen, kMostRepeats)) add(evidence, *event);
  evidence.anything = !evidence.events.empty();
  evidence.moved_last = !evidence.anything && last_of<LoadSet>(state) >= 0;
  return evidence;
}

DiagnosisEvidence diagnosis_evidence(const SiteState& state) {
  const int visit = state.service ? state.visit_line : -1;
  const int from = std::max({visit, state.mended_line, state.cell_line});
  // Grout and turned screws move the deck: what was read before them is of another deck. How a deck
  // takes its turns is judged by share.
  const int standing = std::max({from, state.cured_line, last_of<TurnSet>(state)});
  // What was right before is how the last visit left it: after its last turn, and its last trim.
  const int cured = state.cured_line < visit ? state.cured_line : -1;
  const int stood = std::max(cured, last_before<TurnSet>(state, visit));
  const int left = std::max(stood, last_before<TrimSet>(state, visit));
  std::vector<const Event*> before;
  std::vector<const Event*> now;
  for (const Event& event : state.events) {
    if (is_any<HeightSet, record::ForceSet, TurnSet>(event.what)) continue;
    const bool of_cells = is_any<ReadingSet, GapSet>(event.what);
    const bool of_corners = is_any<ShiftSet, LoadSet, TrimSet>(event.what);
    const bool was_before = event.line < visit;
    int start = was_before ? -1 : from;
    if (of_cells) start = was_before ? stood : standing;
    if (of_corners) start = was_before ? left : standing;
    const bool lasting = is_any<MapSet>(event.what) && event.line > state.cell_line;
    if (event.line > start || lasting) (was_before ? before : now).push_back(&event);
  }
  DiagnosisEvidence evidence;
  std::set<int> lines;
  for (const Event* event : without_repeats(before, kDiagnosisRepeats)) {
    evidence.what.before.push_back(event->what);
    lines.insert(event->line);
  }
  bool first = true;
  for (const Event* event : without_repeats(now, kDiagnosisRepeats)) {
    evidence.what.now.push_back(event->what);
    if (event->line <= standing) drop_dead_load(evidence.what.now.back());
    lines.insert(event->line);
    // No-load values read earlier go with the first reading of now.
    auto* const set = std::get_if<ReadingSet>(&evidence.what.now.back());
    if (set == nullptr || !first) continue;
    first = false;
    if (!state.service) carry_no_loads(state, *set, event->line, lines);
  }
  evidence.lines.assign(lines.begin(), lines.end());
  evidence.what.context.grouted = state.grouted();
  evidence.what.context.service = state.service;
  evidence.what.context.map_proven = map_seen(state).proven;
  return evidence;
}

}  // namespace weighwright::job
