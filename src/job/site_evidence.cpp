#include "job/site_evidence.h"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>
#include <utility>
#include <variant>

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

/// Keeps the last kMostRepeats readings of each load at each place; `events` hold no moves between.
template <class Set>
void keep_last_repeats(std::vector<Measurement>& events, std::size_t from) {
  std::map<PlaceKey, int> seen;
  for (std::size_t i = events.size(); i-- > from;) {
    auto* const set = std::get_if<Set>(&events[i]);
    if (set == nullptr) continue;
    auto& readings = set->readings;
    std::vector<record::LoadReading> kept;
    for (auto reading = readings.rbegin(); reading != readings.rend(); ++reading) {
      if (++seen[key_of(*reading)] <= kMostRepeats) kept.push_back(*reading);
    }
    readings.assign(kept.rbegin(), kept.rend());
  }
  std::erase_if(events, [](const Measurement& event) {
    const auto* const set = std::get_if<Set>(&event);
    return set != nullptr && set->readings.empty();
  });
}

/// The last `most` of one kind of set.
template <class Set>
void keep_last_sets(std::vector<Measurement>& events, int most) {
  int seen = 0;
  for (auto event = events.rbegin(); event != events.rend(); ++event) {
    if (std::holds_alternative<Set>(*event) && ++seen > most) std::get<Set>(*event).source.clear();
  }
  std::erase_if(events, [](const Measurement& event) {
    const auto* const set = std::get_if<Set>(&event);
    return set != nullptr && set->source.empty();
  });
}

/// The last looks at zero of a long history.
void keep_last_zeros(std::vector<Measurement>& events) {
  int left = kMostZeros;
  for (auto event = events.rbegin(); event != events.rend(); ++event) {
    auto* const set = std::get_if<record::ZeroSet>(&*event);
    if (set == nullptr) continue;
    const int here = static_cast<int>(set->readings.size());
    if (here > left) set->readings.erase(set->readings.begin(), set->readings.end() - left);
    left = std::max(0, left - here);
  }
  std::erase_if(events, [](const Measurement& event) {
    const auto* const set = std::get_if<record::ZeroSet>(&event);
    return set != nullptr && set->readings.empty();
  });
}

void thin(std::vector<Measurement>& events) {
  keep_last_sets<ReadingSet>(events, kMostRepeats);
  keep_last_repeats<ShiftSet>(events, 0);
  keep_last_repeats<LoadSet>(events, 0);
  keep_last_zeros(events);
}

/// Trims set to a resistance or a factor stand there whatever came after.
bool is_lasting(const TrimSet& set) {
  return std::all_of(set.moves.begin(), set.moves.end(),
                     [](const record::TrimMove& move) { return !move.turns; });
}

}  // namespace

std::vector<int> map_lines(const SiteState& state) {
  std::set<int> stands;
  std::vector<int> lines;
  for (const Event& event : state.events) {
    const auto* const map = std::get_if<MapSet>(&event.what);
    if (map == nullptr || event.line < state.cell_line) continue;
    lines.push_back(event.line);
    for (const auto& [loaded, moved] : map->loaded_and_moved) stands.insert(loaded.value);
  }
  if (stands.size() != state.deck->deck->stands.size()) return {};
  return lines;
}

Evidence share_evidence(const SiteState& state) {
  const int from = cells_from(state);
  Evidence evidence;
  std::set<int> lines;
  for (const Event& event : state.events) {
    const bool map = is_any<MapSet>(event.what) && event.line > state.cell_line;
    const bool here =
        event.line > from && is_any<ReadingSet, TurnSet, HeightSet, GapSet>(event.what);
    if (!map && !here) continue;
    evidence.events.push_back(event.what);
    lines.insert(event.line);
    if (auto* const set = std::get_if<ReadingSet>(&evidence.events.back())) {
      if (!evidence.anything) carry_no_loads(state, *set, event.line, lines);
      evidence.anything = true;
      evidence.moved_last = false;
    }
    if (is_any<TurnSet>(event.what)) evidence.moved_last = true;
  }
  evidence.lines.assign(lines.begin(), lines.end());
  return evidence;
}

Evidence trim_evidence(const SiteState& state) {
  const int from = std::max(cells_from(state), last_of<TurnSet>(state));
  Evidence evidence;
  std::size_t last_moves = 0;
  for (const Event& event : state.events) {
    if (const auto* const trims = std::get_if<TrimSet>(&event.what)) {
      if (event.line <= from && !is_lasting(*trims)) continue;
      keep_last_repeats<ShiftSet>(evidence.events, last_moves);
      add(evidence, event);
      last_moves = evidence.events.size();
      evidence.moved_last = evidence.anything;
    } else if (is_any<ShiftSet>(event.what) && event.line > from) {
      add(evidence, event);
      evidence.anything = true;
      evidence.moved_last = false;
    }
  }
  keep_last_repeats<ShiftSet>(evidence.events, last_moves);
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
  Evidence evidence;
  for (const Event& event : state.events) {
    if (!is_any<LoadSet>(event.what) || event.line <= from) continue;
    add(evidence, event);
    evidence.anything = true;
  }
  evidence.moved_last = !evidence.anything && last_of<LoadSet>(state) >= 0;
  keep_last_repeats<LoadSet>(evidence.events, 0);
  return evidence;
}

DiagnosisEvidence diagnosis_evidence(const SiteState& state) {
  const int visit = state.service ? state.visit_line : -1;
  const int from = std::max({visit, state.mended_line, state.cell_line});
  const int turned = last_of<TurnSet>(state);
  const int trimmed = last_of<TurnSet, TrimSet>(state);
  const int cells = std::max({from, turned, state.cured_line});
  const int corners = std::max({from, trimmed, state.cured_line});
  int turned_before = -1;
  int trimmed_before = -1;
  for (const Event& event : state.events) {
    if (event.line >= visit) break;
    if (is_any<TurnSet>(event.what)) turned_before = trimmed_before = event.line;
    if (is_any<TrimSet>(event.what)) trimmed_before = event.line;
  }
  DiagnosisEvidence evidence;
  for (const Event& event : state.events) {
    if (is_any<TurnSet, TrimSet, HeightSet, record::ForceSet>(event.what)) continue;
    const bool of_cells = is_any<ReadingSet, GapSet>(event.what);
    const bool of_corners = is_any<ShiftSet, LoadSet>(event.what);
    const bool was_before = event.line < visit;
    const int start = was_before ? (of_cells     ? turned_before
                                    : of_corners ? trimmed_before
                                                 : -1)
                                 : (of_cells     ? cells
                                    : of_corners ? corners
                                                 : from);
    const bool lasting = is_any<MapSet>(event.what) && event.line > state.cell_line;
    if (event.line <= start && !lasting) continue;
    (was_before ? evidence.what.before : evidence.what.now).push_back(event.what);
    evidence.lines.push_back(event.line);
  }
  // No-load values read earlier go with the first reading of now.
  for (Measurement& event : evidence.what.now) {
    auto* const set = std::get_if<ReadingSet>(&event);
    if (set == nullptr) continue;
    std::set<int> lines(evidence.lines.begin(), evidence.lines.end());
    if (!state.service) carry_no_loads(state, *set, -1, lines);
    evidence.lines.assign(lines.begin(), lines.end());
    break;
  }
  thin(evidence.what.before);
  thin(evidence.what.now);
  evidence.what.context.grouted = state.grouted();
  evidence.what.context.service = state.service;
  evidence.what.context.map_proven = !map_lines(state).empty();
  return evidence;
}

}  // namespace weighwright::job
