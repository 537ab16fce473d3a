#include "job/action_words.h"

#include <map>
#include <utility>

#include "job/speak.h"
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
      {"stops_fitted",
       {"No vehicle before they are in: a deck on rockers runs away under the first brakes. Hands "
        "out from between deck, stop and wall.",
        kLocal}},
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
       {"Form, mix and pour as the bag and the drawing say. From here on screws do not turn.",
        "Log the temperature at the plates from now on: the maker's time holds at it (job add JOB "
        "--entry weather temp_degC=...).",
        "Where plates stand on steel pads, are bolted, or stand for a time only, there is no "
        "grout: "
        "job add JOB --entry release by=... foundation=steel_pad (bolted, temporary) "
        "grounds=..."}},
      {"cured",
       {"What opens the deck for load is a release, with its grounds and a name: job add JOB "
        "--entry release."}},
      {"stops_fitted",
       {"Stops or bumpers in their places, slack: the deck stays free to be read, and can't run "
        "away under a vehicle. They are set after the exercise."}},
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

Action clearance_action(const std::vector<std::string>& pairs) {
  Action action;
  action.step = "clear";
  action.code = "clearance";
  action.headline = "Clear it for grout, with a name";
  action.how = pairs;
  action.how.emplace_back(
      "A level on every plate, both ways, after the last turn; every screw hand-firm, none loose.");
  action.how.emplace_back("Grout ends what screws can do: what is left then is a shim.");
  action.then_type = "job add JOB --entry clearance by=... plates_level=yes";
  return action;
}

Action release_action() {
  Action action;
  action.step = "release";
  action.code = "release";
  action.headline = "Release it for load, with grounds and a name";
  action.how = {
      "Not before the bag's time at the temperature logged there (grounds=maker_time time=\"24 h\" "
      "temperature=\"12 degC\"), or a cube that was broken (grounds=cube strength=\"38 MPa\" "
      "needed=\"35 MPa\" age=\"7 d\").",
      "Or an engineer, or an inspection, with what was found (remark=... or document=...). "
      "Concrete decks by the engineer.",
      "grouted_at=2026-11-25T10:30 where grout was placed at another time than it was ticked. This "
      "tool does not say when: a person does."};
  action.cautions = {
      "No load before it is released: a plate that breaks loose drops the deck. Nobody under it.",
      kLocal};
  action.then_type =
      "job add JOB --entry release by=... foundation=grouted grounds=maker_time time=... "
      "temperature=...";
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

Action map_action(bool vehicle_may_come) {
  Action action;
  action.step = "wire";
  action.code = "map";
  action.headline = "Prove which reading belongs to which stand";
  action.how = {
      vehicle_may_come
          ? "Load each stand in turn (an axle, a fork truck) and note which reading moves."
          : "Lift or press each stand in turn and note which reading moves (no vehicle on a "
            "deck that is not released for load, with stops fitted).",
      "Two cells on each other's terminals leave the total and every corner right, and send every "
      "turn to the wrong stand.",
      "A table loaded,moved with a line for every stand."};
  action.cautions = {vehicle_may_come ? load_caution() : jacking_caution()};
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

Action new_cell_action(Action action, const std::vector<std::string>& stands) {
  action.step = "new_cell";
  action.names = stands;
  action.headline = action.code == "map"
                        ? "Prove which reading belongs to " + all_of(stands)
                        : "Read the cell under " + all_of(stands) + " with nothing on it";
  return action;
}

Action describe_cell_action(const std::string& step, const std::vector<std::string>& stands) {
  Action action;
  action.step = step;
  action.code = "describe_cell";
  action.names = stands;
  action.headline = "Find out which cell stands under " + all_of(stands);
  action.how = {
      "Its label, its certificate, or the delivery note: capacity and output. Millivolts of a cell "
      "that nobody knows are no load.",
      "Where nothing of it can be read: a cell that is known in its place."};
  action.cautions = {jacking_caution()};
  action.then_type = "job add JOB --entry cell_placed stand=" + stands.front() +
                     " capacity=\"...\" output=\"...\"";
  return action;
}

std::string write_down_cells() {
  return "While they are at hand: write down which cell comes under which stand (weighwright job "
         "add JOB --entry cell_placed stand=1L serial=... certificate=...). Papers name them; "
         "nothing waits for it.";
}

Action pour_action(const std::vector<std::string>& marks) {
  Action action;
  action.step = "pour";
  action.code = "pour";
  action.names = marks;
  action.headline = "Pour the concrete of " + all_of(marks) + ", and say so";
  action.how = {
      "Coarsely balanced is enough: a slab makes a module several times as heavy and stiff against "
      "twisting, so every cell is read again once it is hard, and balanced then.",
      "Forms, bars, mix and propping as the drawing says; screws, cells and restraints covered, "
      "restraints slack.",
      "When it is hard, and when it may carry a load, is the engineer's word; this tool does not "
      "say.",
      "Where it stood poured already when the cells were read: put the deck file right (poured = "
      "true; job add JOB deck.toml --corrects ENTRY)."};
  action.cautions = {
      std::string(
          "Wet concrete burns skin and eyes: gloves, goggles, boots. A pan full of it is at "
          "its heaviest and carries nothing yet: nobody beneath it, no vehicle on it. ") +
      kLocal};
  action.then_type = "job add JOB --entry pour module=all by=...";
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

Action as_found_action(bool digital, const AsFoundRead& read) {
  Action action;
  action.step = "as_found";
  action.code = "as_found";
  action.headline = "Take it as found, before anything is touched";
  action.how = {
      "Before cleaning, jacking, loosening rods, opening the box or breaking a seal: photos, "
      "zero, seals, counters and settings as they are."};
  if (!read.zero) {
    action.how.emplace_back(
        "What it shows with nothing on it: zero_kg, before anything is zeroed.");
  }
  if (!read.corners) {
    action.how.emplace_back(
        "A load over every stand in turn, up and down, zero before and after: "
        "at,load_kg,indication_kg,going,zero_before,zero_after. A whole test by the rulebook does "
        "as well.");
  }
  if (digital && !read.cells) {
    action.how.emplace_back("Every cell on the indicator's own page: stand,kg.");
  }
  if (!digital && !read.cells) action.how.push_back(offer_to_open(""));
  action.cautions = {load_caution()};
  action.then_type = "job add JOB as-found.csv";
  return action;
}

std::string offer_to_open(const std::string& reason) {
  const std::string cost =
      "It costs a seal: only by whom the local law allows, its number and place noted first, and "
      "who verifies again agreed before it is broken.";
  if (reason.empty()) {
    return "Every cell alone (stand,mV) is worth opening the box only where corners differ, zero "
           "wanders or a cause is looked for: it tells which cell. " +
           cost;
  }
  return "Every cell alone (stand,mV) is worth opening the box now: " + reason + ". " + cost;
}

}  // namespace weighwright::job
