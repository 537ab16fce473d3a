#include "job/signal_case.h"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>
#include <variant>

#include "job/budget_view_of.h"
#include "job/circuit_view_of.h"
#include "job/compatibility_view_of.h"
#include "job/speak.h"
#include "record/csv.h"
#include "signal/budget.h"
#include "signal/compatibility.h"
#include "signal/electrics.h"
#include "statics/contact.h"

namespace weighwright::job {
namespace {

/// The measurement of a file when it is of the kind wanted; else a fault.
template <class Set>
std::optional<Set> read_set(const InputFile& file,
                            const deck::Deck& deck,
                            const char* what,
                            const char* expected,
                            units::Diagnostics& faults) {
  record::ParsedMeasurement parsed =
      record::parse_measurement(file.text, file.name, static_cast<int>(deck.sections.size()),
                                static_cast<int>(deck.joints.size()));
  faults.insert(faults.end(), parsed.faults.begin(), parsed.faults.end());
  if (!parsed.value) return std::nullopt;
  if (Set* const set = std::get_if<Set>(&*parsed.value)) return std::move(*set);
  faults.push_back({.file = file.name, .line = 1, .column = 1, .what = what, .expected = expected});
  return std::nullopt;
}

/// Millivolts of every cell, as they are also read for sharing.
record::ElectricSet electrics_of(const record::ReadingSet& readings) {
  record::ElectricSet set;
  set.source = readings.source;
  for (const record::StandReading& reading : readings.stands) {
    record::CellElectrics row;
    row.mV = reading.value;
    row.zero_mV = reading.no_load;
    row.excitation_V = reading.excitation_V;
    row.line = reading.line;
    set.stands.emplace_back(reading.stand, row);
  }
  return set;
}

std::optional<record::ElectricSet> read_electrics(const InputFile& file,
                                                  const deck::Deck& deck,
                                                  units::Diagnostics& faults) {
  if (signal::is_digital(deck)) {
    faults.push_back({.file = file.name,
                      .line = 1,
                      .column = 1,
                      .what = "the cells of this deck are digital: no bridge reaches their "
                              "terminals that a meter could judge",
                      .expected = "signal without --resistances"});
    return std::nullopt;
  }
  record::ParsedMeasurement parsed =
      record::parse_measurement(file.text, file.name, static_cast<int>(deck.sections.size()),
                                static_cast<int>(deck.joints.size()));
  const auto* const readings =
      parsed.value ? std::get_if<record::ReadingSet>(&*parsed.value) : nullptr;
  if (readings != nullptr && readings->unit == record::ReadingUnit::mV) {
    return electrics_of(*readings);
  }
  return read_set<record::ElectricSet>(
      file, deck, "these are no resistances",
      "the header stand,input_ohm,output_ohm,insulation_Mohm,test_V,zero_mV,mV,excitation_V,"
      "sense_V or part of it",
      faults);
}

/// Dead load on every stand, all tops level.
std::vector<double> dead_load(const LoadedDeck& loaded,
                              const std::string& file,
                              units::Diagnostics& faults) {
  const statics::Model& model = *loaded.model;
  const statics::ContactState state =
      statics::solve_contact(model, model.dead, Eigen::VectorXd::Zero(loaded.deck->stand_count()),
                             statics::nominal(model));
  if (state.status != statics::ContactStatus::solved) {
    faults.push_back({.file = file,
                      .line = 0,
                      .column = 0,
                      .what = state.what,
                      .expected = "a deck that stands by its weight alone"});
    return {};
  }
  return {state.stand_N.begin(), state.stand_N.end()};
}

void show_rows(const deck::Deck& deck,
               const signal::Compatibility& check,
               report::SignalView& view) {
  view.rules = deck.rulebook == "H44"
                   ? "Do the parts fit together? NIST Handbook 44 and the indicator's own data"
                   : "Do the parts fit together? OIML R 76-1:2006, Annex F";
  view.inequalities = rows_of(deck, check);
  view.remarks = check.remarks;
  if (std::any_of(check.rows.begin(), check.rows.end(),
                  [](const signal::Inequality& row) { return row.source_unverified; })) {
    view.remarks.emplace_back("* wording of the clause from memory, unverified");
  }
}

int count(const std::vector<report::InequalityView>& rows, const std::string& verdict) {
  return static_cast<int>(std::count_if(rows.begin(), rows.end(),
                                        [&](const auto& row) { return row.verdict == verdict; }));
}

bool is_wrong(const report::CircuitView& circuit) {
  return circuit.verdict == "fault" || circuit.verdict == "unexplained";
}

std::string headline_of(const report::SignalView& view) {
  const int fail = count(view.inequalities, "fails");
  const int open = count(view.inequalities, "not_judged");
  const int hold = count(view.inequalities, "holds");
  std::string text;
  if (fail > 0) {
    text = fmt::format("NO: {} of {} that could be judged {}.", count_of(fail, "condition"),
                       fail + hold, fail == 1 ? "fails" : "fail");
  } else if (hold == 0) {
    text = "Whether the parts fit together can't be judged.";
  } else if (open == 0) {
    text = fmt::format("The parts fit together: all {} hold.", count_of(hold, "condition"));
  } else {
    text = fmt::format("Nothing speaks against the parts: {} {}.", count_of(hold, "condition"),
                       hold == 1 ? "holds" : "hold");
  }
  if (open > 0) {
    text += hold + fail == 0 ? " The deck file lacks their papers."
                             : fmt::format(" {} can't be judged: papers are lacking.", open);
  }
  std::vector<std::string> likely;
  for (const report::CircuitView& circuit : view.circuits) {
    if (is_wrong(circuit)) likely.push_back(circuit.stand == "box" ? "the box" : circuit.stand);
  }
  if (!view.circuits.empty()) {
    const bool unclear = std::ranges::any_of(
        view.circuits, [](const report::CircuitView& one) { return one.verdict == "open"; });
    const char* const sound = unclear
                                  ? " The circuit is not clear everywhere: measure more."
                                  : " Nothing that was measured of the circuit speaks of a fault.";
    text += likely.empty() ? sound : " FIND FIRST what is wrong with " + all_of(likely) + ".";
  }
  return text;
}

/// What has nothing to do with signals is left to the verbs that use it.
std::vector<deck::Assumed> relevant(std::vector<deck::Assumed> all) {
  static constexpr std::string_view kOther[] = {"share.",
                                                "stand.foundation",
                                                "stand.plate",
                                                "stand.screw",
                                                "stand.travel",
                                                "stand.division",
                                                "stand.thread",
                                                "stand.adjust",
                                                "trim.most",
                                                "trim.spread",
                                                "trim.repeatability",
                                                "trim.step",
                                                "deck.pair_tolerance",
                                                "module.*.engineering",
                                                "cell.deflection"};
  std::erase_if(all, [](const deck::Assumed& item) {
    const bool engineering =
        item.key.starts_with("module.") && item.key.find(".engineering.") != std::string::npos;
    return engineering || std::any_of(std::begin(kOther), std::end(kOther),
                                      [&](const auto& key) { return item.key.starts_with(key); });
  });
  return all;
}

/// Each key once, the first word stands.
void add_assumed(const std::vector<deck::Assumed>& more, std::vector<deck::Assumed>& all) {
  for (const deck::Assumed& item : more) {
    const bool told = std::any_of(
        all.begin(), all.end(), [&](const deck::Assumed& other) { return other.key == item.key; });
    if (!told) all.push_back(item);
  }
}

}  // namespace

SignalAnswer signal_case(const SignalRequest& request) {
  // The deck, and what was measured. All faults together.
  LoadedDeck loaded = load_deck(request.deck);
  if (!loaded.ok()) return {.view = {}, .faults = std::move(loaded.faults)};
  const deck::Deck& deck = *loaded.deck;
  units::Diagnostics faults;
  std::optional<record::ForceSet> forces;
  if (request.forces) {
    forces = read_set<record::ForceSet>(*request.forces, deck, "these are no forces",
                                        "the header stand,force_N", faults);
  }
  std::optional<record::ElectricSet> readings;
  if (request.resistances) {
    readings = read_electrics(*request.resistances, deck, faults);
  }
  const std::vector<double> dead_N = dead_load(loaded, request.deck.name, faults);
  if (!faults.empty()) return {.view = {}, .faults = std::move(faults)};

  // Millivolts, the check of the modules, the circuit.
  report::SignalView view;
  view.deck_name = deck.name;
  const signal::SignalBudget budget = signal::signal_budget(deck, dead_N);
  view.why_none = budget.why_none;
  if (!budget.digital) {
    show_budget(deck, budget, forces ? forces->force_N : dead_N, forces.has_value(), view);
  }
  const signal::Compatibility check = signal::compatibility(deck);
  show_rows(deck, check, view);
  view.assumed = relevant(std::move(loaded.assumed));
  add_assumed(budget.assumed, view.assumed);
  add_assumed(check.assumed, view.assumed);
  if (readings) {
    signal::CircuitDiagnosis diagnosis =
        signal::diagnose_circuit(deck, *readings, forces ? forces->force_N : dead_N);
    if (!diagnosis.faults.empty()) return {.view = {}, .faults = std::move(diagnosis.faults)};
    show_circuits(diagnosis, view);
    add_assumed(diagnosis.assumed, view.assumed);
  }
  const bool circuit_fine = std::none_of(view.circuits.begin(), view.circuits.end(), &is_wrong);
  view.fine = !check.fails() && circuit_fine;
  view.headline = headline_of(view);
  return {.view = std::move(view), .faults = {}};
}

}  // namespace weighwright::job
