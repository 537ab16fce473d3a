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
/// Release    a new deck, grout that was placed, and concrete that was poured owe a release before
///            any load comes on. A visit that calls itself service does not end an installation
///            that is not finished.
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
  /// Conditions of a good reading (ticks) that nobody vouched for: neither ticked when it was
  /// recorded, nor afterwards before something was moved.
  std::vector<std::string> unmet = {};
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
  std::vector<int> loads_on_ungrouted;  // loads that were put on before the deck was released
  std::vector<int> loads_before_stops;  // and before stops against run-away were fitted
  int install_line = 0;                 // since when it is a new deck; -1: it stood there
  bool fixed = false;                   // its installation was finished before the present visit
  int called_service_line = -1;         // the visit says service, the installation goes on
  int clearance_line = -1;              // cleared for grout, and nothing moved since
  int grouted_line = -1;                // -1: not
  int uncleared_grout_line = -1;        // grouted without having been cleared
  int cured_line = -1;                  // ticked in old journals; opens nothing
  int release_line = -1;                // the last release that fits
  int first_release_line = -1;          // the first one since the deck was set or grouted
  std::vector<int> releases_unfit;      // that came with another copy, or lost what they rest on
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
  std::vector<int> rules_confirmed;    // who compared a rulebook with print, in order
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
  /// The line since which its grout, or what else it stands on, carries as somebody said: the first
  /// word of it (a release; of old journals the tick) since grout was placed. -1: nobody said it.
  [[nodiscard]] int carries_since() const;
  /// The last thing after which results of a test are old: a stand or trim moved, the span set,
  /// concrete poured, a cell replaced, a fault mended. -1: nothing was.
  [[nodiscard]] int last_adjustment() const;
  /// Since when it is the deck that stands there now: concrete poured, or a cell put in, last. -1:
  /// it was never another.
  [[nodiscard]] int another_deck_line() const { return std::max(pour_line, cell_line); }
  /// What a release must come after: the installation begun, grout placed, concrete poured (of a
  /// deck that stood there, at this visit). -1: nothing was.
  [[nodiscard]] int owed_since() const {
    const bool fresh = pour_line >= 0 && (install_line >= 0 || pour_line > visit_line);
    return std::max({install_line, grouted_line, fresh ? pour_line : -1});
  }
  /// Loads may come onto it: it stood there, or it was released since it was set, poured, grouted.
  [[nodiscard]] bool may_load() const { return !owes_release() || is_released(); }
  [[nodiscard]] bool owes_release() const { return owed_since() >= 0; }
  [[nodiscard]] bool is_released() const { return release_line > owed_since(); }
  /// It can't run away under a vehicle: stops are fitted, or the restraints set.
  [[nodiscard]] bool has_stops() const {
    return install_line < 0 || fixed || ticked("stops_fitted") || ticked("restraints_set");
  }
  [[nodiscard]] bool vehicle_may_come() const { return may_load() && has_stops(); }
  /// Whether left and right were accepted as they are, since something moved the deck last.
  [[nodiscard]] bool balance_accepted() const;
};

/// @param kept  entries in the total order
[[nodiscard]] SiteState site_state_of(std::vector<Kept> kept);

/// "entry 12 (readings.csv)": how an event is called in messages.
[[nodiscard]] std::string source_name(int number, std::string_view file);

}  // namespace weighwright::job
