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
  return std::max(
      {state.carries_since(), state.pour_line, state.mended_line, state.cell_line, visit});
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
    if (reading.no_load || no_load.line < 0) continue;
    if (no_load.line < state.cells[at(reading.stand.value)].cell_from) continue;
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

/// A line of a map says nothing once another cell or another lead may stand on either side of it.
void drop_old_leads(const SiteState& state, int line, Measurement& what) {
  auto* const map = std::get_if<MapSet>(&what);
  if (map == nullptr) return;
  const auto old = [&](units::StandIndex stand) {
    return line < state.cells[at(stand.value)].lead_from;
  };
  std::erase_if(map->loaded_and_moved,
                [&](const auto& pair) { return old(pair.first) || old(pair.second); });
}

/// What a meter read of a cell that was taken out since, of all of them together at the box, and
/// what nobody can say the sense of.
void drop_old_cells(const SiteState& state, int line, Measurement& what) {
  auto* const set = std::get_if<ElectricSet>(&what);
  if (set == nullptr) return;
  std::erase_if(set->stands,
                [&](const auto& one) { return line < state.cells[at(one.first.value)].cell_from; });
  if (line < state.cell_line) set->box.reset();
  for (const NotKnown& lacks : state.deck->not_known) {
    for (auto& [stand, cell] : set->stands) {
      if (stand != lacks.stand) continue;
      cell.mV.reset();
      cell.zero_mV.reset();
    }
  }
}

bool says_nothing(const Measurement& what) {
  if (const auto* const map = std::get_if<MapSet>(&what)) return map->loaded_and_moved.empty();
  if (const auto* const set = std::get_if<ElectricSet>(&what)) {
    return set->stands.empty() && !set->box;
  }
  return false;
}

/// What a cell gave in its own unit, where nobody knows how much force that is, is not judged.
bool is_of_unknown_cells(const SiteState& state, const Measurement& what) {
  const auto* const set = std::get_if<ReadingSet>(&what);
  return set != nullptr && !stands_not_known(*state.deck, set->unit).empty();
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

std::set<int> read_with_no_load(const SiteState& state, std::vector<int>* lines) {
  std::set<int> stands;
  for (const Event& event : state.events) {
    const std::size_t before = stands.size();
    const auto take = [&](units::StandIndex stand) {
      if (event.line >= state.cells[at(stand.value)].cell_from) stands.insert(stand.value);
    };
    if (const auto* set = std::get_if<ElectricSet>(&event.what)) {
      for (const auto& [stand, cell] : set->stands) {
        if (cell.zero_mV) take(stand);
      }
    }
    if (const auto* set = std::get_if<ReadingSet>(&event.what)) {
      for (const record::StandReading& reading : set->stands) {
        if (reading.no_load) take(reading.stand);
      }
    }
    if (lines != nullptr && stands.size() > before) lines->push_back(event.line);
  }
  return stands;
}

MapSeen map_seen(const SiteState& state) {
  MapSeen seen;
  std::map<int, int> moved_of;
  // Between visits anybody may have been at the box.
  const int from = state.service ? state.visit_line : -1;
  for (const Event& event : state.events) {
    if (!is_any<MapSet>(event.what) || event.line < from) continue;
    Measurement what = event.what;
    drop_old_leads(state, event.line, what);
    if (says_nothing(what)) continue;
    seen.lines.push_back(event.line);
    for (const auto& [loaded, moved] : std::get<MapSet>(what).loaded_and_moved) {
      moved_of[loaded.value] = moved.value;
    }
  }
  for (int i = 0; i < state.deck->deck->stand_count(); ++i) {
    if (!moved_of.contains(i)) seen.unproven.push_back(units::StandIndex{i});
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
    const bool map = is_any<MapSet>(event.what);
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
    Measurement what = event.what;
    drop_old_leads(state, event.line, what);
    if (says_nothing(what)) return;
    evidence.events.push_back(std::move(what));
    lines.insert(event.line);
  };
  for (const Event* event : without_repeats(chosen, kMostRepeats)) {
    if (is_any<GapSet>(event->what) && (!evidence.anything || evidence.moved_last)) {
      waiting.push_back(event);
      continue;
    }
    take(*event);
    if (is_any<ReadingSet>(event->what)) {
      auto* const set = std::get_if<ReadingSet>(&evidence.events.back());
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
  // Grout and turned screws move the deck, concrete makes another of it: what was read before them
  // is of another deck. How a deck takes its turns is judged by share.
  const int standing =
      std::max({from, state.carries_since(), state.pour_line, last_of<TurnSet>(state)});
  // What was right before is how the last visit left it: after its last turn, and its last trim.
  // Concrete that was poured since leaves nothing to compare with.
  const int carried = state.carries_since() < visit ? state.carries_since() : -1;
  const int stood =
      std::max({carried, state.pour_line, state.cell_line, last_before<TurnSet>(state, visit)});
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
    // The zero of a deck is that of its dead load.
    if (is_any<record::ZeroSet>(event.what)) start = std::max(start, state.pour_line);
    // Of a cell that stayed where it is a meter's readings hold; those of another are dropped.
    const bool metered = is_any<ElectricSet>(event.what) && !was_before &&
                         event.line > std::max(visit, state.mended_line);
    const bool lasting = is_any<MapSet>(event.what) || metered;
    if (is_of_unknown_cells(state, event.what)) continue;
    if (event.line > start || lasting) (was_before ? before : now).push_back(&event);
  }
  DiagnosisEvidence evidence;
  std::set<int> lines;
  for (const Event* event : without_repeats(before, kDiagnosisRepeats)) {
    Measurement what = event->what;
    drop_old_leads(state, event->line, what);
    drop_old_cells(state, event->line, what);
    if (says_nothing(what)) continue;
    evidence.what.before.push_back(std::move(what));
    if (event->line <= state.pour_line) drop_dead_load(evidence.what.before.back());
    lines.insert(event->line);
  }
  bool first = true;
  for (const Event* event : without_repeats(now, kDiagnosisRepeats)) {
    Measurement what = event->what;
    drop_old_leads(state, event->line, what);
    drop_old_cells(state, event->line, what);
    if (says_nothing(what)) continue;
    evidence.what.now.push_back(std::move(what));
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
