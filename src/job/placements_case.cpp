#include "job/placements_case.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "job/assumed_of.h"
#include "job/indication_words.h"
#include "job/speak.h"
#include "statics/contact.h"
#include "trim/design.h"
#include "trim/elements.h"
#include "trim/indications.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

constexpr double kUsualLoad_of_Max = 0.1;  // common practice, no source
constexpr double kWanted_of_e = 1.0 / 3.0;
constexpr int kRowsMore = 4;
constexpr int kMostRows = 8;

struct Question {
  double load_kg = 0.0;
  double within_kg = 0.0;
  std::string footprint;
};

double read_mass(const std::optional<std::string>& text,
                 const char* option,
                 double otherwise,
                 units::Diagnostics& faults) {
  if (!text) return otherwise;
  const units::Parsed parsed = units::parse(*text, units::Kind::mass);
  const bool positive = parsed.ok() && parsed.value > 0.0;
  if (positive) return parsed.value;
  faults.push_back(
      {.file = option,
       .line = 0,
       .column = 0,
       .what = parsed.ok() ? "the mass is not above 0" : parsed.what,
       .expected = parsed.ok() ? "a mass with its unit, as \"10 t\"" : parsed.expected});
  return otherwise;
}

Question read_question(const deck::Deck& deck,
                       const PlacementsRequest& request,
                       units::Diagnostics& faults) {
  Question question;
  question.load_kg =
      read_mass(request.load, "--load", kUsualLoad_of_Max * deck.capacity_kg, faults);
  question.within_kg =
      read_mass(request.within, "--within", kWanted_of_e * deck.interval_kg, faults);
  question.footprint = request.footprint.value_or("");
  const double most_kg = std::min(deck.capacity_kg, deck.clc_kg.value_or(deck.capacity_kg));
  if (question.load_kg > most_kg) {
    faults.push_back({.file = "--load",
                      .line = 0,
                      .column = 0,
                      .what = "the load is above what the weighbridge is made for",
                      .expected = fmt::format("at most {:.0f} kg ({})", most_kg,
                                              most_kg < deck.capacity_kg ? "clc" : "Max")});
  }
  const bool known =
      question.footprint.empty() || std::any_of(deck.footprints.begin(), deck.footprints.end(),
                                                [&](const deck::Footprint& footprint) {
                                                  return footprint.name == question.footprint;
                                                });
  if (!known) {
    std::vector<std::string> names;
    for (const deck::Footprint& footprint : deck.footprints) names.push_back(footprint.name);
    faults.push_back({.file = "--footprint",
                      .line = 0,
                      .column = 0,
                      .what = "there is no footprint " + units::quote(question.footprint),
                      .expected = names.empty() ? "a [[footprint]] of that name in the deck file"
                                                : "one of: " + all_of(names)});
  }
  return question;
}

/// Spread of one reading with its two zeros.
double u_reading_kg(const deck::Deck& deck, double load_kg) {
  const double rounding = deck.display_at_kg(load_kg) / std::sqrt(12.0);
  const double zeros = deck.display_kg() / std::sqrt(24.0);
  return std::hypot(trim::repeatability_kg(deck, load_kg), std::hypot(rounding, zeros));
}

report::MorePlacementsView by_count(const trim::DesignProblem& problem, double load_kg, int count) {
  const trim::Design design = trim::best_design(problem, count);
  report::MorePlacementsView row;
  row.count = count;
  if (std::isfinite(design.u_worst)) row.u_trim_kg = design.u_worst * load_kg;
  for (const int c : design.chosen) {
    row.places.push_back(problem.candidates[static_cast<std::size_t>(c)].name);
  }
  return row;
}

void show_table(const deck::Deck& deck,
                const trim::DesignProblem& problem,
                const Question& question,
                int from,
                int to,
                report::PlacementsView& view) {
  const IndicationWords say(deck);
  view.table.heading = {"placements", "worst trim ±", "in e"};
  const int step = 1 + (to - from) / kMostRows;
  for (int n = from; n <= to; n += step) {
    view.by_count.push_back(by_count(problem, question.load_kg, n));
    const auto& row = view.by_count.back();
    view.table.rows.push_back({std::to_string(n), row.u_trim_kg ? say.mass(*row.u_trim_kg) : "open",
                               row.u_trim_kg ? say.in_e(*row.u_trim_kg) : "-"});
  }
}

/// In the order of the candidates; one that comes more than once is told once, with how often.
std::vector<std::string> named(const trim::DesignProblem& problem, const std::vector<int>& chosen) {
  std::vector<std::string> names;
  for (std::size_t i = 0; i < chosen.size();) {
    std::size_t end = i;
    while (end < chosen.size() && chosen[end] == chosen[i]) ++end;
    std::string name = problem.candidates[static_cast<std::size_t>(chosen[i])].name;
    if (end - i == 2) name += ", twice";
    if (end - i > 2) name += fmt::format(", {} times", end - i);
    names.push_back(std::move(name));
    i = end;
  }
  return names;
}

void show_answer(const deck::Deck& deck,
                 const trim::DesignProblem& problem,
                 const Question& question,
                 std::size_t left_out,
                 report::PlacementsView& view) {
  const IndicationWords say(deck);
  const int stands = deck.stand_count();
  const int most = 4 * stands;
  const trim::FewestPlacements fewest =
      trim::fewest_placements(problem, question.within_kg / question.load_kg, most);
  view.no_fewer_than = fewest.no_fewer_than;
  view.possible = fewest.design.has_value();
  const int least = static_cast<int>(problem.wanted.rows());
  int count = 0;
  if (view.possible) {
    view.places = named(problem, fewest.design->chosen);
    view.u_trim_kg = fewest.design->u_worst * question.load_kg;
    count = static_cast<int>(fewest.design->chosen.size());
    view.headline = fmt::format("{} of {} tell every trim to ± {} (wanted {}); {}.",
                                count_of(count, "placement"), say.load(question.load_kg),
                                say.mass(*view.u_trim_kg), say.mass(question.within_kg),
                                fewest.no_fewer_than >= count
                                    ? "fewer can not"
                                    : fmt::format("no fewer than {} could", fewest.no_fewer_than));
  } else {
    const bool open = std::isinf(trim::best_design(problem, most).u_worst);
    view.headline =
        open ? fmt::format(
                   "NOT WITH THIS LOAD: wherever {} stands as a whole, some trims stay "
                   "undetermined. A shorter or narrower load.",
                   say.load(question.load_kg))
             : fmt::format(
                   "NOT WITH THIS LOAD: {} placements of {} do not tell every trim to ± {}. {}, a "
                   "finer reading (tenths of d, or small weights until the display changes "
                   "over), or less asked for.",
                   most, say.load(question.load_kg), say.mass(question.within_kg),
                   left_out > 0 ? "A lighter load, that may stand over every stand"
                                : "A heavier load");
  }
  show_table(deck, problem, question, std::min(least, std::max(count, 1)),
             std::max(count, least + kRowsMore), view);
}

}  // namespace

PlacementsAnswer placements_case(const PlacementsRequest& request) {
  LoadedDeck loaded = load_deck(request.deck);
  if (!loaded.ok()) return {.view = {}, .faults = std::move(loaded.faults)};
  const deck::Deck& deck = *loaded.deck;
  units::Diagnostics faults;
  const Question question = read_question(deck, request, faults);
  if (!faults.empty()) return {.view = {}, .faults = std::move(faults)};

  const Eigen::VectorXd dead_N = statics::solve_contact(*loaded.model, loaded.model->dead,
                                                        Eigen::VectorXd::Zero(deck.stand_count()),
                                                        statics::nominal(*loaded.model))
                                     .stand_N;
  trim::DesignProblem problem;
  std::vector<trim::Candidate> everywhere =
      trim::candidates_of(deck, *loaded.model, question.footprint);
  const std::size_t fitting = everywhere.size();
  problem.candidates = trim::within_capacity(deck, std::move(everywhere), dead_N, question.load_kg);
  const std::size_t left_out = fitting - problem.candidates.size();
  problem.wanted = trim::wanted_of(trim::elements_of(deck), deck.stand_count());
  problem.information = Eigen::MatrixXd::Zero(deck.stand_count(), deck.stand_count());
  problem.u_reading = u_reading_kg(deck, question.load_kg) / question.load_kg;
  if (problem.candidates.empty()) {
    return {
        .view = {},
        .faults = {{.file = "--footprint",
                    .line = 0,
                    .column = 0,
                    .what = fitting == 0 ? "this footprint does not fit on the deck anywhere"
                                         : "this load is too much for a cell wherever it stands",
                    .expected = "a load that stands on the deck with all its wheels, within what "
                                "every cell may carry"}}};
  }
  report::PlacementsView view;
  view.deck_name = deck.name;
  view.load_kg = question.load_kg;
  view.wanted_kg = question.within_kg;
  show_answer(deck, problem, question, left_out, view);
  view.notes = {
      "Loads on the centre line can never tell left from right: a cart at the middle of a section "
      "shows the section, not its corners.",
      "The load need not be known, only the same everywhere. Zero is read before and after each."};
  if (left_out > 0) {
    view.notes.insert(
        view.notes.begin(),
        fmt::format("Left out: {} where this load and the deck are more than a cell may "
                    "carry.",
                    count_of(static_cast<int>(left_out), "place")));
  }
  view.cautions = {
      "Loads on the deck only where it is grouted, cured and restrained; nobody below or beside "
      "the "
      "deck while a load moves. Local codes go before this page."};
  view.assumed = std::move(loaded.assumed);
  drop_sharing(view.assumed);
  return {.view = std::move(view), .faults = {}};
}

}  // namespace weighwright::job
