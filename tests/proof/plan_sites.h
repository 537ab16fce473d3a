#pragma once
/// Decks, weights and vehicles for the tests of the plan. All of it is invented.

#include <algorithm>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "deck/reading/deck_file.h"
#include "proof/test_plan.h"
#include "rules/reading/read_rulebook.h"

namespace weighwright::proof::tests {

inline constexpr std::int64_t kPlanDay = 20'500;  // since 1970-01-01

/// A deck of examples/, as the program reads it.
inline deck::Deck example_deck(const std::string& name) {
  const std::string path = std::string(WEIGHWRIGHT_SOURCE_DIR) + "/examples/" + name + ".toml";
  std::ifstream file(path);
  std::stringstream text;
  text << file.rdbuf();
  const auto parsed = deck::parse_deck(text.str(), path);
  if (!parsed.deck) throw std::runtime_error("can't read " + path);
  return *parsed.deck;
}

inline statics::Model model_of(const deck::Deck& deck) {
  auto built = statics::build_model(deck);
  if (!built.model) throw std::runtime_error("the deck does not stand");
  return std::move(*built.model);
}

inline record::Weight pieces(const std::string& id,
                             double kg,
                             int count,
                             record::Handling handling = record::Handling::fork) {
  record::Weight weight;
  weight.id = id;
  weight.nominal_kg = kg;
  weight.count = count;
  weight.weight_class = "M1";
  weight.certificate = "C-" + id;
  weight.expires_day = kPlanDay + 100;
  weight.handling = handling;
  return weight;
}

/// With a certified value: good to one part in 20 000.
inline record::Weight certified_vehicle(const std::string& id,
                                        double kg,
                                        double length_m,
                                        record::Handling handling = record::Handling::vehicle) {
  record::Weight weight = pieces(id, kg, 1, handling);
  weight.weight_class.clear();
  weight.conventional_kg = kg;
  weight.uncertainty_kg = kg / 20'000.0;
  weight.length_m = length_m;
  weight.width_m = 2.5;
  return weight;
}

/// A lorry that nobody certified.
inline record::Weight lorry(const std::string& id, double kg, double length_m) {
  record::Weight weight;
  weight.id = id;
  weight.nominal_kg = kg;
  weight.length_m = length_m;
  weight.width_m = 2.5;
  weight.handling = record::Handling::vehicle;
  return weight;
}

inline PlanRequest request_of(std::vector<record::Weight> weights) {
  PlanRequest request;
  request.day = kPlanDay;
  request.weights = std::move(weights);
  return request;
}

inline TestPlan plan_of(const deck::Deck& deck, const PlanRequest& request) {
  return plan_test(deck, model_of(deck), rules::built_in(deck.rulebook), request);
}

inline std::vector<Placement> of_check(const TestPlan& plan, rules::Check check) {
  std::vector<Placement> found;
  for (const Placement& placement : plan.placements) {
    if (placement.check == check) found.push_back(placement);
  }
  return found;
}

inline const PlanFinding* finding_of(const TestPlan& plan, const std::string& code) {
  for (const PlanFinding& finding : plan.findings) {
    if (finding.code == code) return &finding;
  }
  return nullptr;
}

inline constexpr double kPound = 0.45359237;  // exact; NIST SP 811, B.8

/// Modules of 7 m, one section at every joint and end; the last one stands on two.
inline deck::Deck chain(int sections,
                        const std::string& rulebook,
                        double capacity,
                        double interval) {
  deck::Deck deck;
  deck.rulebook = rulebook;
  deck.accuracy_class = rulebook == "H44" ? "III L" : "III";
  deck.capacity_kg = capacity;
  deck.interval_kg = interval;
  for (int i = 0; i + 1 < sections; ++i) {
    deck::Module module;
    module.mark = std::string(1, static_cast<char>('A' + i));
    module.length_m = 7.0;
    module.width_m = 3.0;
    module.mass_kg = 5200.0;
    module.centre_m = 3.5;
    module.girders_m = {1.2, -1.2};
    deck.modules.push_back(module);
    if (i > 0) deck.joints.push_back({deck::JointKind::hinge, units::ModuleIndex{i - 1}, 2.4});
  }
  for (int i = 0; i < sections; ++i) {
    const int module = std::min(i, sections - 2);
    const double inset = i == 0 ? 0.3 : (i + 1 == sections ? -0.3 : 0.3);
    deck.sections.push_back({7.0 * i + inset, units::ModuleIndex{module}, 2.4});
  }
  deck.stands.resize(static_cast<std::size_t>(2 * sections));
  for (deck::Stand& stand : deck.stands) {
    stand.cell.capacity_kg = 40'000.0;
    stand.foundation_N_per_m = 200e6;
  }
  return deck;
}

inline std::vector<record::Weight> sixty_tonnes(const std::string& weight_class = "M1") {
  std::vector<record::Weight> weights{pieces("T", 1000.0, 60),
                                      pieces("K", 20.0, 50, record::Handling::hand)};
  for (record::Weight& weight : weights) weight.weight_class = weight_class;
  return weights;
}

inline std::vector<record::Weight> pounds(int thousands) {
  std::vector<record::Weight> weights{pieces("B", 1000.0 * kPound, thousands)};
  weights.front().weight_class = "F";
  return weights;
}

/// For messages of failed tests.
inline std::string told(const TestPlan& plan) {
  std::ostringstream out;
  out << "possible " << plan.possible << ", minutes " << plan.minutes
      << " >= " << plan.least_minutes << '\n';
  for (const Placement& one : plan.placements) {
    out << one.number << ' ' << rules::code_of(one.check) << ' ' << one.place.typed << ' '
        << one.weights_kg << " kg of " << one.load_kg << " kg, " << one.minutes << " min";
    for (const std::string& name : one.substitutes) out << ' ' << name;
    for (const Taken& taken : one.weights) out << ' ' << taken.id << '*' << taken.count;
    out << (one.read_zero_before ? " 0<" : "") << (one.read_zero_after ? " >0" : "")
        << (one.required ? "" : " (extra)") << '\n';
  }
  for (const PlanFinding& one : plan.findings) {
    out << one.code << (one.blocks ? "! " : ": ") << one.placement << ' ' << one.place << ' '
        << one.value << " / " << one.limit << ' ' << one.what << '\n';
  }
  return out.str();
}

}  // namespace weighwright::proof::tests
