#include "job/budget_view_of.h"

#include <fmt/format.h>

#include "job/electric_words.h"
#include "job/speak.h"
#include "signal/circuit.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

constexpr double kReference_degC = 20.0;  // as the budget's own

std::string mass_of(const deck::Deck& deck, double mass_kg) {
  return Speaker(deck).mass(mass_kg * deck.site.gravity_m_per_s2);
}

std::string ratio_words(double ratio) {
  return fmt::format("{:.4g} mV/V", ratio * 1e3);
}

std::string level_sentence(const report::BudgetView& view, bool given) {
  std::string text =
      fmt::format("Nothing but the deck: {} ({}). With Max on it: {} ({}).",
                  voltage_words(view.dead_load_V), ratio_words(view.dead_load_V_per_V),
                  voltage_words(view.max_V), ratio_words(view.max_V_per_V));
  if (given) text += " At the forces given: " + voltage_words(view.output_V) + ".";
  return text;
}

std::string interval_sentence(const deck::Deck& deck, const report::BudgetView& view) {
  std::string text;
  for (const report::RangeSignalView& range : view.ranges) {
    text += fmt::format("{} of {} {} {}", text.empty() ? "An interval" : ", one",
                        mass_of(deck, range.interval_kg), text.empty() ? "is" : "",
                        voltage_words(range.interval_V));
  }
  if (view.least_interval_V) {
    text += "; the indicator takes " + voltage_words(*view.least_interval_V) + " or more";
  }
  return text + ".";
}

std::string supply_sentence(const report::BudgetView& view) {
  return fmt::format("Supply: {} at the indicator, {} at the box; the cells draw {}, a load of {}.",
                     voltage_words(view.supply_V), voltage_words(view.box_V),
                     current_words(view.supply_A), resistance_words(view.supply_ohm));
}

std::string loss_sentence(const report::BudgetView& view) {
  return fmt::format("Of the supply {} stays in the home cable and {} between box and cells. {}",
                     share_words(view.home_loss), share_words(view.cell_loss),
                     view.sensed ? "6 wires: the indicator knows the supply at the box, so the "
                                   "home cable's loss leaves the reading."
                                 : "4 wires: the home cable's loss is in the reading, so the span "
                                   "holds for this cable only.");
}

/// The changes are so small that they go with the length: a foot is 0.3048 of a metre's.
std::string length_sentence(const report::BudgetView& view, bool us) {
  const double length = us ? units::kFoot_m : 1.0;
  const std::string more = us ? "foot more" : "metre more";
  std::string text;
  const auto add = [&](const std::optional<double>& change, double factor,
                       const std::string& what) {
    if (!change) return;
    text += (text.empty() ? "Sensitivity changes by " : ", by ") + share_words(*change * factor) +
            " with " + what;
  };
  add(view.per_home_metre, length, "a " + more + " of home cable");
  add(view.per_cell_metre, length, "a " + more + " at every cell");
  add(view.per_kelvin, us ? 10.0 / 1.8 : 10.0,
      us ? "copper 10 degF warmer" : "copper 10 degC warmer");
  if (!text.empty()) text += ".";
  if (view.per_corner_metre) {
    text += fmt::format(
        " A {} at one cell alone moves that corner by {} against the others: never shorten or "
        "lengthen a single cell's 4-wire lead.",
        more, share_words(*view.per_corner_metre * length));
  }
  return text;
}

report::BudgetView figures_of(const signal::SignalBudget& budget) {
  report::BudgetView view;
  view.supply_V = budget.supply_V;
  view.supply_ohm = budget.load_ohm;
  view.sensed = budget.sensed;
  view.dead_load_V = budget.dead_V;
  view.max_V = budget.full_V;
  view.dead_load_V_per_V = budget.dead_V_per_V;
  view.max_V_per_V = budget.full_V_per_V;
  view.least_interval_V = budget.least_interval_V;
  view.home_loss = budget.home_loss;
  view.cell_loss = budget.cell_loss;
  view.per_home_metre = budget.per_home_metre;
  view.per_cell_metre = budget.per_cell_metre;
  view.per_corner_metre = budget.per_corner_metre;
  view.per_kelvin = budget.per_K;
  for (const signal::RangeBudget& range : budget.ranges) {
    view.ranges.push_back({range.capacity_kg, range.interval_kg, range.interval_V});
  }
  return view;
}

report::Table table_of(const deck::Deck& deck, const std::vector<report::CellSignalView>& cells) {
  const Speaker say(deck);
  report::Table table;
  table.heading = {"stand",     say.mass_unit(), "mV",       "% of cell",
                   "mV at Max", "% of cell",     "supply V", "weight"};
  for (const report::CellSignalView& cell : cells) {
    table.rows.push_back({cell.stand, say.mass_figure(cell.force_N), signal_figure(cell.signal_V),
                          units::print_fixed(cell.share * 100.0, 0), signal_figure(cell.max_V),
                          units::print_fixed(cell.max_share * 100.0, 0),
                          units::print_fixed(cell.supply_V, 3),
                          units::print_fixed(cell.weight, 4)});
  }
  return table;
}

}  // namespace

void show_budget(const deck::Deck& deck,
                 const signal::SignalBudget& budget,
                 const std::vector<double>& force_N,
                 bool given,
                 report::SignalView& view) {
  const signal::Wiring wiring =
      signal::wire(deck, deck.cable_temperature_degC.value_or(kReference_degC), nullptr);
  const auto count = static_cast<Eigen::Index>(force_N.size());
  const signal::Solved solved =
      signal::solve(wiring, Eigen::Map<const Eigen::VectorXd>(force_N.data(), count));
  report::BudgetView figures = figures_of(budget);
  figures.output_V = solved.output_V;
  figures.supply_A = solved.supply_A;
  figures.box_V = solved.box_V;
  for (std::size_t i = 0; i < force_N.size(); ++i) {
    const signal::WiredCell& wired = wiring.cells[i];
    const signal::CellBudget& cell = budget.cells[i];
    const double share = force_N[i] / wired.rated_N;
    figures.cells.push_back(
        {.stand = units::print(units::StandIndex{static_cast<int>(i)}),
         .force_N = force_N[i],
         .supply_V = solved.cell_V[i],
         .signal_V = solved.cell_V[i] * (wired.output_V_per_V * share + wired.zero_V_per_V),
         .max_V = cell.full_V,
         .share = share,
         .max_share = cell.full_share,
         .weight = cell.weight});
  }
  view.budget_sentences = {level_sentence(figures, given), interval_sentence(deck, figures),
                           supply_sentence(figures), loss_sentence(figures)};
  const std::string lengths = length_sentence(figures, deck.units == deck::UnitSystem::us);
  if (!lengths.empty()) view.budget_sentences.push_back(lengths);
  view.cell_table = table_of(deck, figures.cells);
  view.cell_note =
      std::string(given ? "At the forces given"
                        : "Nothing but the dead load by statics, tops level") +
      "; each cell alone, as read with its signal leads off the box. At Max: shared equally. "
      "Weight: its part in what the indicator sees, 1 where all count alike.";
  view.budget = std::move(figures);
}

}  // namespace weighwright::job
