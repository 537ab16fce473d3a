/// Decks that can not stand, joints whose rest statics finds, places of stands and loads.

#include <algorithm>
#include <string>

#include "statics/fixture.h"
#include "statics/surface.h"

namespace weighwright::statics::tests {
namespace {

/// A on one section at the given x and on B; B on two sections.
deck::Deck two_modules(double first_m) {
  deck::Deck deck;
  deck.modules = {ladder_module("A", 3), ladder_module("B", 3)};
  deck.joints = {hinge(0, 2.4)};
  add_section(deck, first_m, 0, 2.4, 200e6);
  add_section(deck, 7.3, 1, 2.4, 200e6);
  add_section(deck, 13.7, 1, 2.4, 200e6);
  return deck;
}

std::string only_fault(const deck::Deck& deck) {
  const BuiltModel result = build_model(deck);
  EXPECT_FALSE(result.model);
  EXPECT_EQ(result.faults.size(), 1U);
  if (result.faults.empty()) return {};
  EXPECT_FALSE(result.faults[0].expected.empty());
  return result.faults[0].what;
}

TEST(BuildModel, RefusesAModuleWhoseBearingsWouldHaveToPull) {
  // Section at 4.5 m, weight at 3.5 m, bearings at 7 m: W * 1.0 / 2.5 = 20.4 kN up at the joint.
  EXPECT_EQ(only_fault(two_modules(4.5)),
            "module A tips: its bearings on module B would have to pull 10.2 kN each");
}

TEST(BuildModel, RefusesAModuleWhoseStandsWouldHaveToPull) {
  deck::Deck deck;
  deck.modules = {ladder_module("A", 2)};
  add_section(deck, 4.0, 0, 2.4, 200e6);
  add_section(deck, 6.0, 0, 2.4, 200e6);
  // Moments about 4 m: W * 0.5 / 2.0 = 12.7 kN up at 6 m.
  EXPECT_EQ(only_fault(deck), "module A tips: its stands 2L and 2R would have to pull 6.4 kN each");
}

TEST(BuildModel, RefusesAModuleThatNothingKeepsFromTipping) {
  deck::Deck deck = two_modules(0.3);
  deck.sections.erase(deck.sections.begin());
  deck.stands.resize(4);
  EXPECT_EQ(only_fault(deck), "module A tips: nothing keeps its ends from going up and down");
}

TEST(BuildModel, RefusesAModuleWithNothingUnderIt) {
  deck::Deck deck = two_modules(0.3);
  deck.joints[0].kind = deck::JointKind::shared_stand;
  deck.sections = {{0.3, units::ModuleIndex{0}, 2.4}, {7.0, units::ModuleIndex{0}, 2.4}};
  deck.stands.resize(4);
  EXPECT_EQ(only_fault(deck), "module B tips: nothing keeps its ends from going up and down");
  deck.sections = {{0.3, units::ModuleIndex{0}, 2.4}, {6.0, units::ModuleIndex{0}, 2.4}};
  EXPECT_NE(only_fault(deck).find("is on shared stands, but no section stands there"),
            std::string::npos);
}

TEST(BuildModel, RefusesAnUnstiffModuleInWords) {
  deck::Deck deck = deck_r1();
  deck.modules[0].twisting_Nm2 = 0.0;
  EXPECT_EQ(only_fault(deck), "module A has no bending or twisting rigidity");
  deck = deck_r1();
  deck.modules[0].crossbeams = 1;
  EXPECT_EQ(only_fault(deck), "module A has fewer than 2 crossbeams");
  deck = deck_r1();
  deck.modules[0].girders_m = {1.2};
  EXPECT_EQ(only_fault(deck), "module A has fewer than two girder lines");
  deck = deck_r1();
  deck.sections[1].at_m = 8.0;
  EXPECT_EQ(only_fault(deck), "section 2 at 8.000 m is not under module A");
  deck = deck_r1();
  deck.stands[2].cell.capacity_kg = 0.0;
  EXPECT_EQ(only_fault(deck), "stand 2L has no capacity, or a deflection or foundation below 0");
  deck = deck_r3();
  deck.joints[1].across_m = 0.0;
  EXPECT_EQ(only_fault(deck), "joint B-C has no distance between its bearings");
}

TEST(BuildModel, TellsAllFaultsAtOnce) {
  deck::Deck deck = deck_r3();
  deck.modules[0].length_m = -1.0;
  deck.modules[2].mass_kg = std::numeric_limits<double>::quiet_NaN();
  deck.sections[1].module = units::ModuleIndex{9};
  EXPECT_GE(build_model(deck).faults.size(), 3U);
  EXPECT_FALSE(build_model(deck::Deck{}).model);
}

TEST(Resting, IsTheModuleThatPressesDownUnderDeadLoad) {
  deck::Deck deck = deck_r3();
  for (deck::Joint& joint : deck.joints) joint.resting.reset();
  const BuiltModel found = build_model(deck);
  ASSERT_TRUE(found.model);
  EXPECT_EQ(found.model->resting[0].value, 0);  // end modules rest on the middle one
  EXPECT_EQ(found.model->resting[1].value, 2);
  ASSERT_EQ(found.assumed.size(), 2U);
  EXPECT_EQ(found.assumed[0].key, "joint A-B.rests");
  EXPECT_EQ(found.assumed[1].value.substr(0, 6), "C on B");
  expect_near(at_heights(*found.model, level(*found.model)).stand_N,
              at_heights(built(deck_r3()), Eigen::VectorXd::Zero(8)).stand_N, 1e-12);
}

TEST(Resting, IsAskedForWhereTheJointCarriesNothing) {
  // Two modules that balance on sections under their own middle... on two sections each, joined
  // where neither presses: symmetric halves.
  deck::Deck deck;
  deck.modules = {ladder_module("A", 2), ladder_module("B", 2)};
  deck::Joint joint = hinge(0, 2.4);
  joint.resting.reset();
  deck.joints = {joint};
  for (const double x : {1.0, 6.0, 8.0, 13.0}) add_section(deck, x, x < 7.0 ? 0 : 1, 2.4, 200e6);
  const BuiltModel asked = build_model(deck);
  ASSERT_EQ(asked.faults.size(), 1U);
  EXPECT_NE(asked.faults[0].what.find("joint A-B carries nothing under dead load"),
            std::string::npos);
  EXPECT_NE(asked.faults[0].expected.find("rests = \"A on B\""), std::string::npos);
  deck.joints[0].resting = units::ModuleIndex{1};
  EXPECT_TRUE(build_model(deck).model);
}

TEST(Resting, DecidesWhichBearingHangs) {
  // The same deck with B lying on A instead: the bearing would have to pull.
  deck::Deck deck = two_modules(0.3);
  deck.joints[0].resting = units::ModuleIndex{1};
  EXPECT_NE(only_fault(deck).find("bearings on module A would have to pull"), std::string::npos);
}

TEST(Contacts, StandInTheOrderOfTheHeader) {
  const Model model = built(deck_r3());
  ASSERT_EQ(model.contact_count(), 12);
  EXPECT_EQ(model.redundant_count(), 3);
  for (int i = 0; i < 8; ++i) {
    const Contact& contact = model.contacts[static_cast<std::size_t>(i)];
    EXPECT_FALSE(contact.is_bearing);
    EXPECT_EQ(contact.stand.value, i);
  }
  EXPECT_EQ(print_contact(model, 8), "bearing A-B left");
  EXPECT_EQ(print_contact(model, 11), "bearing B-C right");
  EXPECT_EQ(model.contacts[11].above, 2);
  EXPECT_EQ(model.contacts[11].below, 1);
}

TEST(StandStiffness, IsCellAndFoundationInSeries) {
  deck::Deck deck = deck_r1();
  deck.stands[1].cell.capacity_kg = 25000.0;
  deck.stands[1].cell.deflection_m = 0.4e-3;
  deck.stands[1].foundation_N_per_m = 297e6;
  const Model model = built(deck);
  const double cell = 25000.0 * 9.80665 / 0.4e-3;
  EXPECT_NEAR(model.stand_stiffness_N_per_m(1), 1.0 / (1.0 / cell + 1.0 / 297e6), 1e-3);
}

TEST(StandOffTheGirders, AwayFromCrossbeamsIsHeldByTheLeverRuleAndSaysSo) {
  deck::Deck deck = deck_r1();
  deck.sections[0].at_m = 1.0;
  deck.sections[0].across_m = 1.8;
  const BuiltModel result = build_model(deck);
  ASSERT_TRUE(result.model);
  ASSERT_EQ(result.assumed.size(), 2U);
  EXPECT_EQ(result.assumed[0].key, "1L");
  EXPECT_NE(result.assumed[0].value.find("lever rule"), std::string::npos);
}

TEST(StandNearACrossbeam, CountsWithTheDrawingsPlaceInStatics) {
  deck::Deck deck = deck_r1();
  deck.sections[0].at_m = 0.0008;
  deck.sections[0].across_m = 2.0;
  const Model model = built(deck);
  const Eigen::VectorXd sums = section_sums(at_heights(model, level(model)).stand_N);
  EXPECT_NEAR(sums(0), 5200.0 * kGravity * 3.5 / (7.0 - 0.0008), 1e-6);
}

TEST(PointLoads, OffTheDeckAreRefusedWithTheReason) {
  const Model model = built(deck_r3());
  for (const PointLoad& off :
       {PointLoad{-0.1, 0.0, 1.0}, PointLoad{21.1, 0.0, 1.0}, PointLoad{3.0, 1.6, 1.0},
        PointLoad{std::numeric_limits<double>::quiet_NaN(), 0.0, 1.0}}) {
    const BuiltLoad load = point_loads(model, {off});
    EXPECT_FALSE(load.load);
    EXPECT_NE(load.what.find("off the deck"), std::string::npos);
    EXPECT_THROW(static_cast<void>(influence_surface(model, at_heights(model, level(model)),
                                                     nominal(model), {off})),
                 std::invalid_argument);
  }
  EXPECT_FALSE(point_loads(model, {{1.0, 0.0, std::numeric_limits<double>::infinity()}}).load);
}

TEST(PointLoads, OnAJointLineCountOnTheModuleNearerEndOne) {
  const Model model = built(deck_r3());
  const BuiltLoad load = point_loads(model, {{7.0, 0.0, 10.0}});
  ASSERT_TRUE(load.load);
  EXPECT_EQ(load.load->resultant(0), 10.0);
  EXPECT_EQ(load.load->resultant(3), 0.0);
}

TEST(AxleGroup, PutsHalfOfEveryAxleOnEachSide) {
  const std::vector<PointLoad> wheels = axle_group(2.0, 0.25, {0.0, 1.3}, {80e3, 90e3}, 2.0);
  ASSERT_EQ(wheels.size(), 4U);
  EXPECT_EQ(wheels[2].x_m, 3.3);
  EXPECT_EQ(wheels[2].y_m, 1.25);
  EXPECT_EQ(wheels[3].y_m, -0.75);
  EXPECT_EQ(wheels[3].force_N, 45e3);
  EXPECT_THROW(static_cast<void>(axle_group(0.0, 0.0, {0.0}, {}, 2.0)), std::invalid_argument);
}

}  // namespace
}  // namespace weighwright::statics::tests
