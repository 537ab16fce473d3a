// What speaks against a plan before anyone drives. Decks, weights and lorries are our own
// invention; the source stands beside each check. "Metrology notes" are our excerpts of published
// texts, with their carriers.
#include "proof/plan_checks.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "plan_sites.h"
#include "proof/scale_of.h"

// outside check: load on one cell of a placement | equilibrium by hand
// outside check: least load of a scale, 20 e | R 76-1:2006, 3.2, table 3, as quoted by French
//  decree 91-330, Annex I

namespace weighwright::proof {
namespace {

using namespace tests;  // NOLINT(google-build-using-namespace)
using record::Handling;
using rules::Check;

// ---- checks before anyone drives
// -----------------------------------------------------------------

TEST(TestPlan, FindsACellThatWouldBeOverloaded) {
  deck::Deck deck = chain(4, "R76", 60'000.0, 20.0);
  PlanRequest request = request_of(sixty_tonnes());
  request.rolling = false;
  EXPECT_TRUE(plan_of(deck, request).possible);
  for (deck::Stand& stand : deck.stands) stand.cell.capacity_kg = 9'000.0;
  const TestPlan plan = plan_of(deck, request);
  EXPECT_FALSE(plan.possible);
  const PlanFinding* over = finding_of(plan, "over_cell");
  ASSERT_NE(over, nullptr);
  EXPECT_GT(over->value, over->limit);
  EXPECT_DOUBLE_EQ(over->limit, 9'000.0);
  EXPECT_GT(over->placement, 0);
}

/// A plan of one placement, for the checks alone.
std::vector<PlanFinding> findings_of(const deck::Deck& deck,
                                     const PlanRequest& request,
                                     Placement placement) {
  placement.number = 1;
  return check_plan(deck, model_of(deck), rules::built_in(deck.rulebook), scale_of(deck), request,
                    {placement});
}

bool names(const std::vector<PlanFinding>& findings, const std::string& code) {
  return std::any_of(findings.begin(), findings.end(),
                     [&](const PlanFinding& one) { return one.code == code; });
}

// Equilibrium: 4 t in the middle of a symmetric module on four stands is 1 t on each, beside a
// quarter of 5.2 t; a cell rated for 2.3 t or more bears it, of 2.299 t does not.
TEST(PlanChecks, LoadOnACellIsThatOfStatics) {
  deck::Deck deck = chain(2, "R76", 20'000.0, 10.0);
  Placement placement;
  placement.check = Check::increasing;
  placement.load_kg = 4'000.0;
  placement.patches = {{3.5, 0.0, 7.0, 3.0}};
  for (deck::Stand& stand : deck.stands) stand.cell.capacity_kg = 2'300.001;
  EXPECT_FALSE(names(findings_of(deck, {}, placement), "over_cell"));
  for (deck::Stand& stand : deck.stands) stand.cell.capacity_kg = 2'299.999;
  EXPECT_TRUE(names(findings_of(deck, {}, placement), "over_cell"));
}

TEST(PlanChecks, HeaviestAxleIsLookedAtOverEverySection) {
  deck::Deck deck = chain(4, "R76", 60'000.0, 20.0);
  record::Weight vehicle = certified_vehicle("V", 30'000.0, 10.0);
  Placement placement;
  placement.check = Check::rolling;
  placement.load_kg = 30'000.0;
  placement.weights = {{"V", 1}};
  placement.patches = {{10.5, 0.0, 10.0, 2.5}};
  for (deck::Stand& stand : deck.stands) stand.cell.capacity_kg = 12'000.0;
  EXPECT_FALSE(names(findings_of(deck, request_of({vehicle}), placement), "over_cell"));
  vehicle.axle_load_kg = 24'000.0;
  EXPECT_TRUE(names(findings_of(deck, request_of({vehicle}), placement), "over_cell"));
}

TEST(PlanChecks, AxleAboveTheClcIsOverTheSection) {
  deck::Deck deck = chain(4, "H44", 60'000.0, 20.0);
  deck.clc_kg = 20'000.0;
  record::Weight vehicle = certified_vehicle("V", 30'000.0, 10.0);
  Placement placement;
  placement.check = Check::rolling;
  placement.load_kg = 30'000.0;
  placement.weights = {{"V", 1}};
  vehicle.axle_load_kg = 20'000.0;
  EXPECT_FALSE(names(findings_of(deck, request_of({vehicle}), placement), "over_section"));
  vehicle.axle_load_kg = 20'001.0;
  EXPECT_TRUE(names(findings_of(deck, request_of({vehicle}), placement), "over_section"));
}

TEST(PlanChecks, LoadBetweenMinAndMax) {
  const deck::Deck deck = chain(4, "R76", 60'000.0, 20.0);
  Placement placement;
  placement.check = Check::increasing;
  for (const auto& [kg, code] : std::vector<std::pair<double, std::string>>{
           {399.0, "below_min"}, {60'021.0, "over_capacity"}}) {  // Min 20 e: R 76-1, 3.2, Table 3
    placement.load_kg = kg;
    EXPECT_TRUE(names(findings_of(deck, {}, placement), code)) << kg;
  }
  for (const double kg : {400.0, 60'000.0}) {
    placement.load_kg = kg;
    EXPECT_TRUE(findings_of(deck, {}, placement).empty()) << kg;
  }
}

TEST(PlanChecks, NothingStandsOverTheEdge) {
  const deck::Deck deck = chain(4, "R76", 60'000.0, 20.0);
  Placement placement;
  placement.check = Check::increasing;
  placement.load_kg = 1'000.0;
  placement.patches = {{1.0, 0.0, 2.0, 3.0}};
  EXPECT_FALSE(names(findings_of(deck, {}, placement), "overhang"));
  placement.patches = {{0.9, 0.0, 2.0, 3.0}};
  EXPECT_TRUE(names(findings_of(deck, {}, placement), "overhang"));
  placement.patches = {{10.0, 0.5, 2.0, 2.2}};
  EXPECT_TRUE(names(findings_of(deck, {}, placement), "overhang"));
}

TEST(PlanChecks, PatternWithinTheClc) {
  deck::Deck deck = chain(4, "H44", 60'000.0, 20.0);
  deck.clc_kg = 20'000.0;
  Placement placement;
  placement.check = Check::section;
  placement.place.kind = record::LoadPlace::Kind::section;
  placement.load_kg = 20'000.0;
  EXPECT_FALSE(names(findings_of(deck, {}, placement), "over_clc"));
  placement.load_kg = 20'001.0;
  EXPECT_TRUE(names(findings_of(deck, {}, placement), "over_clc"));
  placement.place.kind = record::LoadPlace::Kind::point;  // one side: half of it
  placement.load_kg = 10'001.0;
  EXPECT_TRUE(names(findings_of(deck, {}, placement), "over_clc"));
}

// Patches of a whole plan keep to the deck, however long the load is.
TEST(TestPlan, KeepsEveryPatchOnTheDeck) {
  std::vector<record::Weight> weights = sixty_tonnes();
  weights.push_back(certified_vehicle("V", 40'000.0, 16.0));
  const deck::Deck deck = chain(4, "R76", 60'000.0, 20.0);
  const TestPlan plan = plan_of(deck, request_of(weights));
  EXPECT_EQ(finding_of(plan, "overhang"), nullptr) << told(plan);
  for (const Placement& one : plan.placements) {
    for (const Patch& patch : one.patches) {
      EXPECT_GE(patch.x_m - patch.along_m / 2.0, -1e-9);
      EXPECT_LE(patch.x_m + patch.along_m / 2.0, deck.length_m() + 1e-9);
      EXPECT_LE(std::abs(patch.y_m) + patch.across_m / 2.0, 1.5 + 1e-9);
    }
  }
}

TEST(TestPlan, LeavesOutWhatDoesNotFitTheDeckOrTheRoad) {
  PlanRequest request = request_of(sixty_tonnes());
  request.axle_kg = 11'500.0;  // an axle limit of roads, as a user may give it
  request.weights.push_back(certified_vehicle("long", 40'000.0, 30.0));
  request.weights.push_back(certified_vehicle("wide", 40'000.0, 10.0));
  request.weights.back().width_m = 3.5;
  request.weights.push_back(certified_vehicle("heavy", 40'000.0, 10.0));
  request.weights.back().axle_load_kg = 12'000.0;
  const TestPlan plan = plan_of(chain(4, "R76", 60'000.0, 20.0), request);
  ASSERT_NE(finding_of(plan, "vehicle_too_long"), nullptr);
  EXPECT_EQ(finding_of(plan, "vehicle_too_long")->place, "long");
  ASSERT_NE(finding_of(plan, "overhang"), nullptr);
  EXPECT_EQ(finding_of(plan, "overhang")->place, "wide");
  ASSERT_NE(finding_of(plan, "axle_over_road"), nullptr);
  EXPECT_EQ(finding_of(plan, "axle_over_road")->place, "heavy");
  EXPECT_TRUE(plan.possible) << told(plan);
  EXPECT_NE(finding_of(plan, "no_rolling_load"), nullptr);  // so every support is loaded
  EXPECT_EQ(of_check(plan, Check::eccentric).size(), 8U);
}

TEST(TestPlan, WithoutClcSaysSoAndKeepsToTheRoadsAxleGroup) {
  deck::Deck deck = chain(4, "H44", 60'000.0, 20.0);
  PlanRequest request = request_of({pieces("T", 1000.0, 20), pieces("K", 20.0, 50)});
  request.axle_kg = 7'700.0;
  const TestPlan plan = plan_of(deck, request);
  ASSERT_NE(finding_of(plan, "no_clc"), nullptr) << told(plan);
  for (const Placement& one : of_check(plan, Check::section)) EXPECT_LE(one.load_kg, 7'700.0);
}

TEST(TestPlan, SectionThatEveryLoadAtHandOverloadsIsSaid) {
  deck::Deck deck = chain(4, "H44", 60'000.0, 20.0);
  deck.clc_kg = 20'000.0;
  const TestPlan plan =
      plan_of(deck, request_of({certified_vehicle("C", 25'000.0, 4.0, Handling::cart)}));
  ASSERT_NE(finding_of(plan, "over_clc"), nullptr) << told(plan);
  EXPECT_DOUBLE_EQ(finding_of(plan, "over_clc")->value, 25'000.0);
  EXPECT_DOUBLE_EQ(finding_of(plan, "over_clc")->limit, 20'000.0);
  EXPECT_FALSE(plan.possible);
}

}  // namespace
}  // namespace weighwright::proof
