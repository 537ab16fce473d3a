#include "job/predict_case.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <variant>

#include "job/deck_argument.h"
#include "job/plan_of_deck.h"
#include "job/speak.h"
#include "record/csv.h"
#include "signal/cell.h"
#include "statics/contact.h"
#include "statics/surface.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

std::size_t at(units::StandIndex stand) {
  return static_cast<std::size_t>(stand.value);
}

/// What was asked, in SI.
struct Question {
  Eigen::VectorXd heights_m;
  statics::LoadCase load;
  std::optional<Lift> lift;
};

Eigen::VectorXd read_heights(const PredictRequest& request,
                             const deck::Deck& deck,
                             units::Diagnostics& faults) {
  Eigen::VectorXd heights_m = Eigen::VectorXd::Zero(deck.stand_count());
  if (!request.heights) return heights_m;
  record::ParsedMeasurement parsed = record::parse_measurement(
      request.heights->text, request.heights->name, static_cast<int>(deck.sections.size()),
      static_cast<int>(deck.joints.size()));
  faults.insert(faults.end(), parsed.faults.begin(), parsed.faults.end());
  if (!parsed.value) return heights_m;
  const auto* set = std::get_if<record::HeightSet>(&*parsed.value);
  if (set == nullptr) {
    faults.push_back({.file = request.heights->name,
                      .line = 1,
                      .column = 1,
                      .what = "these are no heights",
                      .expected = "the header stand,height_mm"});
    return heights_m;
  }
  for (int i = 0; i < deck.stand_count(); ++i) {
    heights_m[i] = set->height_mm[static_cast<std::size_t>(i)].value_or(0.0) * 1e-3;
  }
  return heights_m;
}

statics::LoadCase read_loads(const PredictRequest& request,
                             const deck::Deck& deck,
                             const statics::Model& model,
                             units::Diagnostics& faults) {
  std::vector<statics::PointLoad> loads;
  for (const std::string& text : request.loads) {
    const ParsedLoad parsed = parse_load(text, deck.site.gravity_m_per_s2);
    faults.insert(faults.end(), parsed.faults.begin(), parsed.faults.end());
    if (parsed.load) loads.push_back(*parsed.load);
  }
  if (!faults.empty() || loads.empty()) return model.dead;
  const statics::BuiltLoad built = statics::point_loads(model, loads);
  if (!built.load) {
    const Speaker say(deck);
    faults.push_back({.file = "--load",
                      .line = 0,
                      .column = 0,
                      .what = built.what,
                      .expected = "a place on the deck: 0 to " +
                                  units::print_fixed(deck.length_m(), 2) + " m from end 1"});
    return model.dead;
  }
  return statics::add(model.dead, *built.load);
}

void show_stands(const deck::Deck& deck,
                 const statics::ContactState& state,
                 report::PredictView& view) {
  for (int i = 0; i < deck.stand_count(); ++i) {
    const units::StandIndex stand{i};
    const deck::Cell& cell = deck.stands[at(stand)].cell;
    report::PredictedStand shown{
        .stand = units::print(stand), .load_N = state.stand_N[i], .signal_mV = {}};
    if (cell.output_V_per_V > 0.0) {
      shown.signal_mV = signal::signal_V(cell, deck.excitation_V, state.stand_N[i]) * 1e3;
    }
    view.stands.push_back(shown);
  }
  for (int section = 0; section < static_cast<int>(deck.sections.size()); ++section) {
    const int left = 2 * section;
    view.section_N.push_back(state.stand_N[left] + state.stand_N[left + 1]);
  }
}

/// A stand hangs when every contact on it does; the air under it is the least of them.
void show_open(const deck::Deck& deck,
               const statics::Model& model,
               const statics::ContactState& state,
               report::PredictView& view) {
  const Speaker say(deck);
  std::vector<double> air_m(static_cast<std::size_t>(deck.stand_count()),
                            std::numeric_limits<double>::infinity());
  for (int c = 0; c < model.contact_count(); ++c) {
    const statics::Contact& contact = model.contacts[static_cast<std::size_t>(c)];
    const bool open = std::find(state.open.begin(), state.open.end(), c) != state.open.end();
    if (!contact.is_bearing) {
      double& air = air_m[at(contact.stand)];
      air = std::min(air, open ? state.gap_m[c] : -1.0);
      continue;
    }
    if (!open) continue;
    const std::string name = bearing_name(deck, contact.joint, contact.side);
    view.open_bearings.push_back({.joint = contact.joint + 1,
                                  .side = contact.side == units::Side::left ? "L" : "R",
                                  .bearing = name,
                                  .gap_mm = state.gap_m[c] * 1e3});
    mark_hanging(view.plan, contact.joint, contact.side);
    view.remarks.push_back("The bearing " + name + " hangs: " + say.length(state.gap_m[c]) +
                           " of air.");
  }
  for (int i = 0; i < deck.stand_count(); ++i) {
    const double air = air_m[static_cast<std::size_t>(i)];
    if (air < 0.0 || !std::isfinite(air)) continue;
    const std::string stand = units::print(units::StandIndex{i});
    view.lifted.push_back({.stand = stand, .gap_mm = air * 1e3});
    view.remarks.push_back(stand + " carries nothing: " + say.length(air) + " of air over it.");
  }
}

/// The stands, other than its own pair, that a screw moves most.
std::string farther(const deck::Deck& deck,
                    const Eigen::VectorXd& change_V,
                    units::StandIndex own) {
  std::vector<int> others;
  for (int i = 0; i < deck.stand_count(); ++i) {
    if (units::StandIndex{i}.section() != own.section()) others.push_back(i);
  }
  const auto most = [&](int a, int b) {
    return std::abs(change_V[a]) > std::abs(change_V[b]) + 1e-12;
  };
  std::stable_sort(others.begin(), others.end(), most);
  std::string text;
  for (std::size_t i = 0; i < std::min<std::size_t>(2, others.size()); ++i) {
    const int other = others[i];
    if (std::abs(change_V[other]) < 5e-7) break;
    if (!text.empty()) text += ", ";
    text += fmt::format("{} {}{:.3f}", units::print(units::StandIndex{other}),
                        change_V[other] > 0.0 ? "+" : "-", std::abs(change_V[other]) * 1e3);
  }
  return text;
}

/// What a rise of each stand does, as millivolts: by 1 mm (or 1/16 in), and by the smallest turn.
void show_influence(const deck::Deck& deck,
                    const Eigen::MatrixXd& influence,
                    report::PredictView& view) {
  const Speaker say(deck);
  const double step_m = say.us() ? units::kInch_m / 16.0 : 1e-3;
  const std::string step = say.us() ? "1/16 in" : "1 mm";
  view.stand_table.heading = {"stand",   say.mass_unit(),    "mV", "by " + step, "least turn",
                              "by that", "others by " + step};
  for (int i = 0; i < deck.stand_count(); ++i) {
    const units::StandIndex own{i};
    const deck::Stand& stand = deck.stands[at(own)];
    Eigen::VectorXd change_V(deck.stand_count());
    for (int row = 0; row < deck.stand_count(); ++row) {
      const deck::Cell& cell = deck.stands[static_cast<std::size_t>(row)].cell;
      change_V[row] = signal::signal_V(cell, deck.excitation_V, influence(row, i) * step_m);
    }
    const bool turns = stand.adjust == deck::Adjust::screws;
    const double turn_V = change_V[i] / step_m * stand.pitch_m / stand.division;
    const report::PredictedStand& shown = view.stands[at(own)];
    view.stand_table.rows.push_back(
        {shown.stand, say.mass_figure(shown.load_N),
         shown.signal_mV ? units::print_fixed(*shown.signal_mV, 3) : "-",
         units::print_fixed(change_V[i] * 1e3, 3),
         turns ? units::print_turns(1.0 / stand.division, stand.division) : "-",
         turns ? units::print_fixed(turn_V * 1e3, 3) : "-", farther(deck, change_V, own)});
  }
  view.stand_note =
      "\"by\": change of its own reading, in mV, when that stand is raised so far; its partner's "
      "falls "
      "as much or nearly so; \"others\": those beyond the pair that change most.";
  for (int row = 0; row < influence.rows(); ++row) {
    const Eigen::VectorXd line = influence.row(row);
    view.influence_N_per_m.emplace_back(line.begin(), line.end());
  }
}

std::vector<std::string> jack_sentences(const deck::Deck& deck,
                                        const report::JackView& jack,
                                        double section_N) {
  const Speaker say(deck);
  std::vector<std::string> words;
  words.push_back(
      fmt::format("Jack at {}, deck {} up: {} on the jack; that stand is free from {} on.",
                  jack.stand, say.length(jack.lift_mm * 1e-3), say.mass(jack.force_N),
                  say.length(jack.free_lift_mm * 1e-3)));
  if (std::isfinite(jack.most_lift_mm)) {
    words.push_back(fmt::format("Lift no more than {}: then {} comes free.",
                                say.length(jack.most_lift_mm * 1e-3), jack.limited_by));
  }
  if (!jack.open.empty()) words.push_back("Open at this lift: " + all_of(jack.open) + ".");
  words.push_back(fmt::format(
      "Jack both sides of a section together, each jack good for {}; follow with packing, lock the "
      "nuts, no hand between plate and cell, nobody beneath. Never trust a reading of zero as "
      "free.",
      say.jack_size(1.5 * section_N)));
  return words;
}

report::JackView show_jack(const deck::Deck& deck,
                           const statics::Model& model,
                           const Question& question,
                           const std::vector<double>& section_N) {
  const Lift& lift = *question.lift;
  const statics::JackState state = statics::jack(model, question.load, question.heights_m,
                                                 statics::nominal(model), lift.stand, lift.lift_m);
  report::JackView view;
  view.stand = units::print(lift.stand);
  view.lift_mm = lift.lift_m * 1e3;
  view.force_N = state.force_N;
  view.free_lift_mm = state.free_lift_m * 1e3;
  view.most_lift_mm = state.most_lift_m * 1e3;
  view.limited_by = state.limited_by;
  view.stand_N.assign(state.stand_N.begin(), state.stand_N.end());
  for (const int c : state.open) {
    const statics::Contact& contact = model.contacts[static_cast<std::size_t>(c)];
    view.open.push_back(contact.is_bearing ? bearing_name(deck, contact.joint, contact.side)
                                           : units::print(contact.stand));
  }
  view.sentences =
      jack_sentences(deck, view, section_N[static_cast<std::size_t>(lift.stand.section().value)]);
  return view;
}

report::PredictView show(const deck::Deck& deck,
                         const statics::Model& model,
                         const Question& question,
                         const statics::ContactState& state) {
  const Speaker say(deck);
  report::PredictView view;
  view.deck_name = deck.name;
  view.plan = plan_of(deck);
  show_stands(deck, state, view);
  show_open(deck, model, state, view);
  add_row(view.plan, say.mass_unit(),
          [&](units::StandIndex stand) { return say.mass_figure(state.stand_N[stand.value]); });
  add_row(view.plan, "mV", [&](units::StandIndex stand) {
    const auto& signal_mV = view.stands[at(stand)].signal_mV;
    return signal_mV ? units::print_fixed(*signal_mV, 2) : std::string("-");
  });
  view.headline = fmt::format("{}: {} on {}, cells at {:.4g} V{}.", deck.name,
                              say.mass(state.stand_N.sum()), count_of(deck.stand_count(), "stand"),
                              deck.excitation_V, deck.excitation_given ? "" : " (assumed)");
  show_influence(deck, statics::influence(model, state, statics::nominal(model)), view);
  if (question.lift) view.jack = show_jack(deck, model, question, view.section_N);
  return view;
}

}  // namespace

PredictAnswer predict_case(const PredictRequest& request) {
  // The deck must stand before anything can be asked of it.
  LoadedDeck loaded = load_deck(request.deck);
  if (!loaded.ok()) return {.view = {}, .faults = std::move(loaded.faults)};
  const deck::Deck& deck = *loaded.deck;
  const statics::Model& model = *loaded.model;

  // What is asked: heights, loads, a jack. All faults of all three together.
  units::Diagnostics faults;
  Question question;
  question.heights_m = read_heights(request, deck, faults);
  question.load = read_loads(request, deck, model, faults);
  if (request.jack) {
    ParsedLift lift = parse_lift(*request.jack, deck);
    faults.insert(faults.end(), lift.faults.begin(), lift.faults.end());
    question.lift = lift.lift;
  }
  if (!faults.empty()) return {.view = {}, .faults = std::move(faults)};

  const statics::ContactState state =
      statics::solve_contact(model, question.load, question.heights_m, statics::nominal(model));
  if (state.status != statics::ContactStatus::solved) {
    return {.view = {},
            .faults = {{.file = request.loads.empty() ? request.deck.name : "--load",
                        .line = 0,
                        .column = 0,
                        .what = state.what,
                        .expected = "a deck that stands by its weight alone under these loads"}}};
  }
  report::PredictView view = show(deck, model, question, state);
  view.assumed = std::move(loaded.assumed);
  return {.view = std::move(view), .faults = {}};
}

}  // namespace weighwright::job
