#pragma once
/// What a journal says of a site: the deck as described last, what was measured and moved in order,
/// what is ticked, and which entries say so. No model is asked.
///
/// Visits     a visit entry begins one; what was measured before it is history.
/// As found   what was measured in the visit before its first adjustment (a turn, shim or trim, a
///            seal broken, a cell replaced, a setting changed, a mended fault). It is frozen then:
///            later entries add nothing to it, and a later correction is told beside it.
/// Epochs     readings hold until something changes what they speak of: grout, a cell replaced, a
///            fault mended; corners also until a screw or shim is moved.

#include <map>
#include <optional>
#include <string>
#include <unordered_map>
#include <vector>

#include "job/history.h"
#include "job/load_deck.h"
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
  units::Diagnostics faults;  // entries that can't be read with this deck; they stay recorded

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
  int mended_line = -1;
  int cell_line = -1;  // last cell replaced
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
  /// then: grout, a new cell, a mended fault, restraints and the first load on the deck end it.
  [[nodiscard]] std::optional<int> passed_over() const;

  /// Screws no longer turn: ticked, or a deck that stood there before this visit.
  [[nodiscard]] bool grouted() const { return service || grouted_line >= 0; }
  /// The last thing after which results of a test are old: a stand or trim moved, the span set, a
  /// cell replaced, a fault mended. -1: nothing was.
  [[nodiscard]] int last_adjustment() const;
  /// Loads may come onto it.
  [[nodiscard]] bool may_load() const { return service || cured_line >= 0; }
};

/// @param kept  entries in the total order
[[nodiscard]] SiteState site_state_of(std::vector<Kept> kept);

/// "entry 12 (readings.csv)": how an event is called in messages.
[[nodiscard]] std::string source_name(int number, std::string_view file);

}  // namespace weighwright::job
