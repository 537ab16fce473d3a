#include "job/action_words.h"

#include <map>
#include <utility>

#include "job/ticks.h"

namespace weighwright::job {
namespace {

// Common practice, no source, unless said.
constexpr const char* kLocal =
    "Local codes and licensed people decide how it may be done; nothing here replaces them.";

std::vector<std::string> cautions_of_tick(const std::string& tick) {
  static const std::map<std::string, std::vector<std::string>> list = {
      {"locked_out",
       {"Barriers, keys and a person told: nobody may drive on while somebody is below. A pit is a "
        "confined space: gas test, second person, water out.",
        kLocal}},
      {"set_down",
       {"Nobody under a hanging load. Modules are set down on blocks, never craned onto cells; "
        "half "
        "modules are propped until bolted. No welding with cells in place.",
        kLocal}},
      {"wired",
       {"Supply off before a core is moved. No insulation tester on a line that has an indicator "
        "on it.",
        kLocal}},
      {"grouted", {"Wet grout and its dust burn: gloves, goggles, mask.", kLocal}},
      {"cured",
       {"No load before the grout carries: a plate that breaks loose drops the deck.", kLocal}},
      {"anchors_tight",
       {"Hands and tools out from between deck, plate and wall before anything is tightened or "
        "pulled.",
        kLocal}},
      {"restraints_set",
       {"A rod under tension or a deck that shifts pinches hands between deck and wall: nobody in "
        "the gap while a restraint is tightened.",
        kLocal}},
      {"handed_over",
       {"People, jacks, blocks and tools out from under the deck before the barriers open.",
        kLocal}},
      {"exercised",
       {"A moving truck: nobody beside or below the deck, brakes tried at walking pace first.",
        kLocal}},
  };
  const auto found = list.find(tick);
  return found == list.end() ? std::vector<std::string>{} : found->second;
}

std::vector<std::string> how_of_tick(const std::string& tick) {
  static const std::map<std::string, std::vector<std::string>> list = {
      {"locked_out", {"Close the approach, keep the keys, tell who runs the site."}},
      {"set_down",
       {"Pads surveyed, plates and screws in place, halves and modules joined in order and bolted "
        "as "
        "the drawing says, then lowered onto their cells.",
        "A survey of the stand tops (stand,height_mm) is worth more than a lowering: add it."}},
      {"wired", {"Box, leads and supply; every cell readable alone; half an hour warm."}},
      {"grouted",
       {"Form, mix and pour as the bag and the drawing say. From here on screws do not turn."}},
      {"cured",
       {"Not before the bag's time at the temperature measured there, or a cube that was broken; "
        "concrete decks by the engineer. This tool does not say when."}},
      {"anchors_tight",
       {"Anchors to the drawing's torque; screws backed off or left, as the drawing says."}},
      {"exercised", {"Three to five passes of a loaded vehicle each way, with braking."}},
      {"restraints_set",
       {"Rods hand-tight, level and in line, or bumper gaps as the drawing says at the steel's "
        "temperature now. Then every cell and zero must read as before: read them again."}},
      {"tested",
       {"Ticked only where the test was made and judged by other means: this tool then says "
        "nothing "
        "of it."}},
      {"handed_over",
       {"Seals applied and written down (job add JOB --entry seal_applied number=... place=...), "
        "counters and settings as left, papers handed over, notice sent where the law asks it."}},
  };
  const auto found = list.find(tick);
  return found == list.end() ? std::vector<std::string>{} : found->second;
}

}  // namespace

std::string jacking_caution() {
  return "Jack both sides of a section together, with packing that follows and lock-nuts, jacks "
         "for one "
         "and a half times the section's load, rods slack. No hand between plate and cell; a cell "
         "that "
         "reads nothing is not proof that it is free. " +
         std::string(kLocal);
}

std::string load_caution() {
  return "Weights and vehicles are moved by people licensed for it; nobody below or beside the "
         "deck "
         "while a load moves. " +
         std::string(kLocal);
}

Action tick_action(const std::string& step, const std::string& tick) {
  Action action;
  action.step = step;
  action.code = "tick";
  action.names = {tick};
  const TickRule* const rule = find_tick(tick);
  action.headline = rule == nullptr ? tick : std::string(rule->todo);
  action.how = how_of_tick(tick);
  action.cautions = cautions_of_tick(tick);
  action.then_type = "job add JOB --tick " + tick;
  return action;
}

Action no_load_action(bool digital) {
  Action action;
  action.step = "receive";
  action.code = "no_load";
  action.headline = "Read every cell with nothing on it";
  action.how = {
      "In its mount, upright, unloaded, warm. After lowering this can only be had by lifting the "
      "deck "
      "off, and without it a hidden load or a wrong cell can not be told from a heavy module.",
      digital ? "A table stand,kg,no_load once the deck stands; or tick it: --tick received."
              : "A table stand,zero_mV (excitation_V beside it where it was measured)."};
  action.how.emplace_back(
      "Where the deck stands on its cells already it is too late for this: tick received.");
  action.cautions = {
      std::string("A cell is unloaded by lifting the section from both sides on jacks with packing "
                  "that follows; nobody under the deck. ") +
      kLocal};
  action.then_type = "job add JOB no-load.csv";
  return action;
}

Action map_action(bool may_load) {
  Action action;
  action.step = "wire";
  action.code = "map";
  action.headline = "Prove which reading belongs to which stand";
  action.how = {
      may_load ? "Load each stand in turn (an axle, a fork truck) and note which reading moves."
               : "Lift or press each stand in turn and note which reading moves (no vehicle on a "
                 "deck that is not grouted).",
      "Two cells on each other's terminals leave the total and every corner right, and send every "
      "turn to the wrong stand.",
      "A table loaded,moved with a line for every stand."};
  action.cautions = {may_load ? load_caution() : jacking_caution()};
  action.then_type = "job add JOB map.csv";
  return action;
}

Action exchanged_action(const std::string& stands) {
  Action action;
  action.step = "wire";
  action.code = "exchanged";
  action.headline = "Put the cells on their own terminals";
  action.how = {stands + ".",
                "Power off, put the leads (or addresses) right, power on; then load these stands "
                "again and note which reading moves: a table loaded,moved."};
  action.cautions = {
      "Supply off before a core is moved. A seal is broken only by whom the local law "
      "allows."};
  action.then_type = "job add JOB map.csv";
  return action;
}

Action conditions_action(const std::vector<std::string>& missing) {
  Action action;
  action.step = "dress";
  action.code = "conditions";
  action.names = missing;
  action.headline = "See to the conditions of a good reading";
  action.then_type = "job add JOB";
  for (const std::string& name : missing) {
    const TickRule* const rule = find_tick(name);
    action.how.push_back(name + ": " + (rule == nullptr ? "" : std::string(rule->says)));
    action.then_type += " --tick " + name;
  }
  action.how.emplace_back(
      "What is not ticked holds nothing back; it widens the doubt of what the cells read, and is "
      "told with the balance.");
  return action;
}

Action read_cells_action(const std::string& step, bool digital, bool again) {
  Action action;
  action.step = step;
  action.code = "read_cells";
  action.headline = again ? "Read every cell again" : "Read every cell";
  if (digital) {
    action.how = {"Cell by cell on the indicator's own page. A table stand,kg (or counts)."};
  } else {
    action.how = {
        "On a box the signal leads are joined: a meter at any pair shows the mean of all cells. "
        "Power "
        "off, take S+ and S- of one cell off the box, leave its supply on, power on, read, put "
        "back.",
        "Steady DC supply; note what it is at the cell. A table stand,mV (excitation_V beside "
        "it)."};
  }
  action.cautions = {"Supply off before a core is moved."};
  action.then_type = "job add JOB cells.csv";
  return action;
}

Action corners_action(bool again) {
  Action action;
  action.step = "trim";
  action.code = "read_corners";
  action.headline =
      again ? "Put the load over the stands again" : "Put a load over every stand in turn";
  action.how = {
      "The same load everywhere; its mass need not be known. Zero read before and after each "
      "place; tracking and filters as found, noted; nobody on the deck.",
      "A table at,load_kg,indication_kg,zero_before,zero_after; going up and down at two places "
      "(column going) and one heavy place between sections tell faults that stands hide."};
  action.cautions = {load_caution()};
  action.then_type = "job add JOB corners.csv";
  return action;
}

Action unread_action(const std::vector<std::string>& unread) {
  Action action;
  action.step = "trim";
  action.code = "more_places";
  action.headline = "Read what stands hide, before any trim is moved";
  action.how = unread;
  action.how.emplace_back("A table at,load_kg,indication_kg,going,zero_before,zero_after.");
  action.cautions = {load_caution()};
  action.then_type = "job add JOB more-places.csv";
  return action;
}

Action supply_action() {
  Action action;
  action.step = "span";
  action.code = "supply";
  action.headline = "Look at the supply before the span is moved this far";
  action.how = {
      "A bad contact in supply or sense cores lowers every reading by one part, like a span that "
      "was "
      "never set, and comes and goes with temperature.",
      "Look at both ends of the home cable (a table look,where,found with the line sense_loose,,no "
      "or "
      "yes), or measure supply and sense voltage at the box (a table "
      "stand,excitation_V,sense_V,... "
      "with the line box)."};
  action.cautions = {
      "Supply off before a core is moved. A seal is broken only by whom the local law allows."};
  action.then_type = "job add JOB supply.csv";
  return action;
}

Action loads_action(bool again) {
  Action action;
  action.step = "span";
  action.code = "loads";
  action.headline = again ? "Read the known loads again" : "Read known loads, up and down";
  action.how = {
      "Zero, then loads in steps up to the most that is at hand, and down again; stone or a "
      "vehicle may take the weights' place (column material).",
      "A table load_kg,indication_kg,going."};
  action.cautions = {load_caution()};
  action.then_type = "job add JOB loads.csv";
  return action;
}

Action as_found_action(bool digital, bool cells, bool corners) {
  Action action;
  action.step = "as_found";
  action.code = "as_found";
  action.headline = "Take it as found, before anything is touched";
  action.how = {
      "Before cleaning, jacking, loosening rods, opening the box or breaking a seal: photos, "
      "zero, seals, counters and settings as they are."};
  if (!corners) {
    action.how.emplace_back(
        "A load over every stand in turn, up and down, zero before and after: "
        "at,load_kg,indication_kg,going,zero_before,zero_after.");
  }
  if (!cells) {
    action.how.emplace_back(digital
                                ? "Every cell on the indicator's own page: stand,kg."
                                : "Then, if the box may be opened: every cell alone (stand,mV).");
  }
  action.cautions = {load_caution()};
  action.then_type = "job add JOB as-found.csv";
  return action;
}

}  // namespace weighwright::job
