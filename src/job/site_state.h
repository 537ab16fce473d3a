#pragma once
/// What a journal says of a site: the deck as described last, what was measured and moved in order,
/// what is ticked, and which entries say so. No model is asked.
///
/// Visits     a visit entry begins one; what was measured before it is history.
/// As found   what was measured in the visit before its first adjustment (a turn, shim or trim, a
///            seal broken, a cell replaced, a setting changed, a mended fault). It is frozen then:
///            later entries add nothing to it, and a later correction is told beside it.
/// Epochs     readings hold until something changes what they speak of: grout, concrete poured, a
///            cell replaced, a fault mended; corners also until a screw or shim is moved.
/// Deck       the one described last, with what entries say of it since: concrete that was poured,
///            cells that were placed or replaced (stand_cells.h). A new cell ends readings of every
///            cell, of corners, loads and tests; no-load values and the proven map end for its own
///            stand alone, and for one whose lead was moved.
///            A deck described anew in which a module is poured that was not is a pour at that
///            entry; a correction of the deck stands in the old place, and is none.

#include <algorithm>
#include <map>
#include <optional>
#include <string>
#include <unordered_map>
#include <vector>

#include "job/history.h"
#include "job/load_deck.h"
#include "job/stand_cells.h"
#include "record/measurement.h"
#include "units/diagnostic.h"

namespace weighwright::job {

struct Event {
  int line = 0;  // in History::lines
  record::Measurement what;
};

struct Tick {
  bool on = false;
  int line = 0;
  std::string remark;
};

struct SiteState {
  History history;
  std::optional<LoadedDeck> deck;  // empty: none described yet, or the last one has faults
  int deck_line = -1;
  std::vector<int> deck_changes;  // lines since that say how it stands now
  units::Diagnostics faults;      // entries that can't be read with this deck; they stay recorded

  std::vector<Event> events;                   // that count, in order
  std::unordered_map<int, int> event_of_line;  // index in events
  std::map<std::string, Tick> ticks;           // as they stand now
  bool service = false;                        // the present visit is a service call
  int visit_line = -1;                         // where it began; -1: nobody said
  std::optional<int> first_adjustment;         // line, in the present visit
  std::vector<int> as_found;                   // lines measured before it, in the present visit
  std::vector<int> as_found_corrected;         // corrections of these, made after it was frozen
  std::vector<int> seals_broken;
  std::vector<int> seals_applied;
  std::vector<int> loads_on_ungrouted;  // loads that were put on before the grout was cured
  int grouted_line = -1;                // -1: not
  int cured_line = -1;
  int restraints_line = -1;
  int pour_line = -1;  // concrete of the deck was poured last
  int mended_line = -1;
  int cell_line = -1;             // last cell replaced
  std::vector<StandCells> cells;  // by stand
  int span_line = -1;  // span, or another setting that changes what is indicated, set last

  // What a test and its report rest on, as said last.
  int occasion_line = -1;              // in the present visit
  int rulebook_line = -1;              // a national variant
  int item_line = -1;                  // plates
  std::map<std::string, int> parties;  // role -> line
  std::vector<int> reports;            // issued, in order
  std::vector<int> weather;            // in the present visit
  std::vector<int> counters;           // in the present visit
  std::vector<int> settings;           // in the present visit

  [[nodiscard]] bool ticked(const std::string& name) const {
    const auto found = ticks.find(name);
    return found != ticks.end() && found->second.on;
  }
  /// Line of a tick by which somebody goes on though a question is open. It covers what was asked
  /// then: grout, a pour, a new cell, a mended fault, restraints and the first load on the deck end
  /// it.
  [[nodiscard]] std::optional<int> passed_over() const;

  /// Screws no longer turn: ticked, or a deck that stood there before this visit.
  [[nodiscard]] bool grouted() const { return service || grouted_line >= 0; }
  /// The last thing after which results of a test are old: a stand or trim moved, the span set,
  /// concrete poured, a cell replaced, a fault mended. -1: nothing was.
  [[nodiscard]] int last_adjustment() const;
  /// Since when it is the deck that stands there now: concrete poured, or a cell put in, last. -1:
  /// it was never another.
  [[nodiscard]] int another_deck_line() const { return std::max(pour_line, cell_line); }
  /// Loads may come onto it; not onto concrete that was poured since that was said.
  [[nodiscard]] bool may_load() const {
    return (service && pour_line < visit_line) || cured_line > pour_line;
  }
};

/// @param kept  entries in the total order
[[nodiscard]] SiteState site_state_of(std::vector<Kept> kept);

/// "entry 12 (readings.csv)": how an event is called in messages.
[[nodiscard]] std::string source_name(int number, std::string_view file);

}  // namespace weighwright::job
