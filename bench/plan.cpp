// Time to plan the whole test of a five-module deck, by either rulebook, against the limit of
// 200 ms for 40 placements. Deck and weights are invented.
#include <chrono>
#include <cstdio>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "deck/reading/deck_file.h"
#include "proof/test_plan.h"
#include "rules/reading/read_rulebook.h"

namespace {

using namespace weighwright;  // NOLINT(google-build-using-namespace)
using record::Handling;

constexpr double kPound = 0.45359237;  // exact; NIST SP 811, B.8
constexpr double kLimit_ms = 200.0;
constexpr int kRounds = 20;

std::string text_of(const std::string& path) {
  std::ifstream file(path);
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

record::Weight pieces(const char* id, double kg, int count, Handling handling) {
  record::Weight weight;
  weight.id = id;
  weight.nominal_kg = kg;
  weight.count = count;
  weight.conventional_kg = kg;
  weight.uncertainty_kg = kg / 30'000.0;
  weight.certificate = "C";
  weight.handling = handling;
  return weight;
}

record::Weight lorry(const char* id, double kg) {
  record::Weight weight;
  weight.id = id;
  weight.nominal_kg = kg;
  weight.length_m = 12.0;
  weight.width_m = 2.5;
  weight.axle_load_kg = kg / 4.0;
  weight.handling = Handling::vehicle;
  return weight;
}

void measure(const char* name,
             const deck::Deck& deck,
             const char* rulebook,
             const proof::PlanRequest& request) {
  const auto built = statics::build_model(deck);
  if (!built.model) return;
  double least_ms = 1e9;
  proof::TestPlan plan;
  for (int round = 0; round < kRounds; ++round) {
    const auto begin = std::chrono::steady_clock::now();
    plan = proof::plan_test(deck, *built.model, rules::built_in(rulebook), request);
    const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - begin;
    least_ms = std::min(least_ms, took.count());
  }
  std::printf("%-28s %3zu placements  %7.2f ms (limit %.0f)  %5.0f min, bound %5.0f (%.0f %%)%s\n",
              name, plan.placements.size(), least_ms, kLimit_ms, plan.minutes, plan.least_minutes,
              100.0 * plan.least_minutes / plan.minutes, plan.possible ? "" : "  not possible");
}

}  // namespace

int main(int argc, char** argv) {
  const std::string root = argc > 1 ? argv[1] : WEIGHWRIGHT_SOURCE_DIR;
  const auto parsed = deck::parse_deck(text_of(root + "/examples/five-modules-us.toml"), "deck");
  if (!parsed.deck) return 1;
  deck::Deck deck = *parsed.deck;
  proof::PlanRequest request;
  request.weights = {pieces("C", 26'000 * kPound, 1, Handling::cart),
                     pieces("B", 1000 * kPound, 30, Handling::fork),
                     pieces("F", 50 * kPound, 40, Handling::hand), lorry("L", 30'000.0)};
  request.sides = true;
  measure("H44, zero at each section", deck, "H44", request);
  request.zero_each = false;
  measure("H44, walk from section", deck, "H44", request);
  request.weights.push_back(pieces("K", 2000 * kPound, 20, Handling::crane));
  measure("H44, five kinds of handling", deck, "H44", request);

  deck.accuracy_class = "III";
  deck.units = deck::UnitSystem::metric;
  deck.capacity_kg = 80'000.0;
  deck.interval_kg = 20.0;
  request = {};
  request.weights = {pieces("T", 1000, 40, Handling::fork), pieces("K", 20, 50, Handling::hand),
                     pieces("G", 5000, 8, Handling::crane)};
  measure("R76, weights to Max", deck, "R76", request);
  request.weights = {pieces("T", 1000, 20, Handling::fork), pieces("K", 20, 50, Handling::hand)};
  request.repeatability_kg = 3.0;
  measure("R76, substitution", deck, "R76", request);
  return 0;
}
