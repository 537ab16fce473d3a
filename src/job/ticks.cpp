#include "job/ticks.h"

namespace weighwright::job {

const std::vector<TickRule>& ticks() {
  constexpr bool kCondition = true;
  // Common practice, no source.
  static const std::vector<TickRule> list = {
      {"locked_out", "traffic is kept off: barriers, keys, somebody told", "Keep traffic off"},
      {"received", "pieces, cells and their papers are checked", "Check pieces, cells and papers"},
      {"set_down", "modules are joined in order, bolted, and stand on their cells",
       "Set down, join and bolt the modules"},
      {"wired", "every cell is readable alone, warm for half an hour",
       "Wire up, and warm up for half an hour"},
      {"panels_on", "all that stays on the deck is on it, or noted as still to come",
       "Put on all that stays on the deck", kCondition},
      {"rods_slack", "restraints are slack", "Slacken the restraints", kCondition},
      {"nothing_touches", "the deck touches nothing but its stands",
       "See that the deck touches nothing", kCondition},
      {"nobody_on_deck", "nobody and nothing foreign was on the deck while it was read",
       "Keep the deck clear while it is read", kCondition},
      {"warm", "supply was on for half an hour", "Leave the supply on for half an hour",
       kCondition},
      {"same_meter", "meter and supply are the same as last time, steady DC",
       "Use the same meter and supply", kCondition},
      {"grouted", "the plates are grouted: screws no longer turn", "Grout the plates"},
      {"cured", "the grout has set, as somebody saw it; that opens nothing: a release does",
       "Let the grout cure"},
      {"anchors_tight", "anchors are tight, screws backed off or left as the drawing says",
       "Tighten the anchors"},
      {"stops_fitted", "stops against run-away are fitted, slack",
       "Fit the stops against run-away"},
      {"exercised", "a loaded vehicle passed both ways and braked, three to five times",
       "Exercise the deck with a loaded vehicle"},
      {"restraints_set", "restraints are set as the drawing says", "Set the restraints"},
      {"mended", "a fault was found and mended (remark: which, how)", "Mend what was found"},
      {"nothing_found", "what was suspected was looked for and not found (remark: where, by whom)",
       "Go on though a question is open"},
      {"balance_accepted", "left and right differ, and that is accepted (remark: why)",
       "Accept that left and right differ"},
      {"tested", "test loads were placed and judged by the rulebook in force",
       "Test with known loads"},
      {"handed_over", "papers handed over, authority told where the law asks it", "Hand over"},
  };
  return list;
}

const TickRule* find_tick(std::string_view name) {
  for (const TickRule& rule : ticks()) {
    if (rule.name == name) return &rule;
  }
  return nullptr;
}

}  // namespace weighwright::job
