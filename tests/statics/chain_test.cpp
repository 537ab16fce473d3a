/// Hinged chains of modules: hand statics of Gerber beams, twist stiffness of ladders in closed
/// form.
///
/// Sources: hinged (Gerber) beams as in A. Zaborski, Strength of Materials: Design Exercises, ch.
/// 8: the carried beam first, no moment at a hinge. Ladder: its twist stiffness from the bending of
/// crossbeams by the girders' torque and of girders by the crossbeams' torque (derived in
/// docs/theory/statics.md from the beam formulas PL3/3EI). 1e-9 relative to the largest entry.

#include <Eigen/LU>

#include "statics/fixture.h"
#include "statics/surface.h"

// outside check: hinged chain: section sums, influence lines | hand statics of Gerber beams
//  (method: A. Zaborski, *Strength of Materials: Design Exercises*, ch. 8)
// outside check: twist stiffness of a ladder frame, of one module on springs, of a chain with
//  sections on its joints | closed forms, derived on paper
// outside check: corner force of a plate in pure twist | Timoshenko & Woinowsky-Krieger, *Theory
//  of Plates and Shells*, 2nd ed. (from memory, unverified); a shell model agrees within 2 %

namespace weighwright::statics::tests {
namespace {

constexpr double kClosedForm = 1e-9;
constexpr double kLength = 7.0;
constexpr double kSetIn = 0.3;
constexpr double kWeight = 5200.0 * kGravity;

/// Twist stiffness of two girders and two end crossbeams on their corners.
double ladder_twist(double girder_ei,
                    double girder_gj,
                    double cross_ei,
                    double cross_gj,
                    double length,
                    double across) {
  return 2.0 * girder_gj / (length * across * across) /
             (1.0 + girder_gj * across / (3.0 * cross_ei * length)) +
         2.0 * cross_gj / (length * length * across) /
             (1.0 + cross_gj * length / (3.0 * girder_ei * across));
}

double ladder_of_r1() {
  return ladder_twist(126e6, 10e6, 42e6, 0.8e6, kLength, 2.4);
}

/// s s' k with s = (+ - - +).
Eigen::MatrixXd twist_pattern(double stiffness) {
  const Eigen::Vector4d s(1.0, -1.0, -1.0, 1.0);
  return stiffness * s * s.transpose();
}

TEST(Ladder, HasTheTwistStiffnessOfTheClosedFormOnRigidStands) {
  EXPECT_NEAR(ladder_of_r1(), 0.49641381e6, 0.5);
  const Model model = built(deck_r1(deck::kRigid));
  expect_near(influence_at_rest(model), twist_pattern(ladder_of_r1()), kClosedForm);
}

TEST(Ladder, YieldsWithItsStandsInSeries) {
  for (const double stand : {100e6, 200e6, 500e6}) {
    const Model model = built(deck_r1(stand));
    expect_near(influence_at_rest(model), twist_pattern(1.0 / (1.0 / ladder_of_r1() + 4.0 / stand)),
                kClosedForm);
  }
}

TEST(Ladder, OfSevenRigidCrossbeamsTwistsByItsTorsionAlone) {
  // Crossbeams that do not bend: k_t = GJ / (L b2).
  deck::Deck deck = deck_r1(deck::kRigid);
  deck.modules[0].crossbeams = 7;
  deck.modules[0].crossbeam_bending_Nm2 = deck::kRigid;
  deck.modules[0].crossbeam_twisting_Nm2 = 0.0;
  expect_near(influence_at_rest(built(deck)), twist_pattern(20e6 / (kLength * 2.4 * 2.4)),
              kClosedForm);
}

TEST(Ladder, WhoseBeamsHardlyBendTwistsByTheTorsionOfGirdersAndCrossbeams) {
  // Limit of no bending: k_t = (sum GJ_g L + sum GJ_c b) / (L b)2. Girders of 10^4 times the
  // bending miss it by GJ_c L / (3 EI_g b), about 6e-7 of the crossbeams' part.
  deck::Deck deck = deck_r1(deck::kRigid);
  deck.modules[0].crossbeams = 7;
  deck.modules[0].bending_Nm2 *= 1e4;
  deck.modules[0].crossbeam_bending_Nm2 = deck::kRigid;
  const double k_t = (20e6 * kLength + 7 * 0.8e6 * 2.4) / (kLength * 2.4 * kLength * 2.4);
  expect_near(influence_at_rest(built(deck)), twist_pattern(k_t), 1e-6);
}

TEST(Plate, UnderPureTwistHasKirchhoffsCornerForce) {
  // k_t = 2 D (1 - nu) / (a b) = G t3 / (3 a b): Timoshenko & Woinowsky-Krieger, Theory of Plates
  // and Shells, 2nd ed., pure twist (from memory); 12.8205 N/mm for 7 x 2.4 m x 20 mm of steel. As
  // a deck: GJ of the whole module J = b t3 / 3.
  const double shear = 210e9 / 2.6;
  deck::Deck deck = deck_r1(deck::kRigid);
  deck.modules[0].twisting_Nm2 = shear * 2.4 * 8e-6 / 3.0;
  deck.modules[0].crossbeam_bending_Nm2 = deck::kRigid;
  deck.modules[0].crossbeam_twisting_Nm2 = 0.0;
  const Eigen::MatrixXd k = influence_at_rest(built(deck));
  EXPECT_NEAR(k(0, 0), 12820.5, 0.05);
  expect_near(k, twist_pattern(shear * 8e-6 / (3.0 * kLength * 2.4)), kClosedForm);
}

TEST(Scales, OfTwistScaleTheTwistStiffnessOfAModule) {
  const Model model = built(deck_r1());
  Scales scales = nominal(model);
  scales.twist(0) = 3.0;
  const ContactState rest = solve_contact(model, model.dead, level(model), scales);
  expect_near(influence(model, rest, scales),
              twist_pattern(1.0 / (1.0 / (3.0 * ladder_of_r1()) + 4.0 / 200e6)), kClosedForm);
}

/// S C^-1 S' with C_ii = 1/k_t + 4/k_s, C_i,i+1 = -2/k_s: stands on the joint lines.
Eigen::MatrixXd tridiagonal_influence(const std::vector<double>& twist, double stand) {
  const auto n = static_cast<Eigen::Index>(twist.size());
  Eigen::MatrixXd c = Eigen::MatrixXd::Zero(n, n);
  Eigen::MatrixXd s = Eigen::MatrixXd::Zero(2 * n + 2, n);
  for (Eigen::Index i = 0; i < n; ++i) {
    c(i, i) = 1.0 / twist[static_cast<std::size_t>(i)] + 4.0 / stand;
    if (i > 0) c(i, i - 1) = c(i - 1, i) = -2.0 / stand;
    s.block<4, 1>(2 * i, i) << 1.0, -1.0, -1.0, 1.0;
  }
  return s * c.inverse() * s.transpose();
}

TEST(ChainOnJointLines, HasTheInfluenceOfTheTridiagonalClosedForm) {
  const double k_t = ladder_of_r1();
  const Eigen::MatrixXd k = influence_at_rest(built(deck_r2()));
  expect_near(k, tridiagonal_influence({k_t, k_t, k_t}, 200e6), kClosedForm);
  Eigen::Vector4d first;  // the digits of the same closed form, for the eye, N/m
  first << 491546.0, -489129.0, -2404.0, -12.0;
  for (Eigen::Index j = 0; j < 4; ++j) EXPECT_NEAR(k(0, 2 * j), first(j), 0.6);
}

TEST(ChainOnJointLines, OfDifferentModulesHasTheInfluenceOfTheTridiagonalClosedForm) {
  deck::Deck deck = deck_r2();
  std::vector<double> twist;
  for (std::size_t i = 0; i < 3; ++i) {
    deck::Module& module = deck.modules[i];
    module.twisting_Nm2 = 20e6 * static_cast<double>(1 + 3 * i);
    twist.push_back(ladder_twist(126e6, module.twisting_Nm2 / 2.0, 42e6, 0.8e6, kLength, 2.4));
  }
  expect_near(influence_at_rest(built(deck)), tridiagonal_influence(twist, 200e6), kClosedForm);
}

TEST(ChainOnJointLines, CarriesHalfAModuleAtEachEnd) {
  const Model model = built(deck_r2());
  Eigen::VectorXd expected(4);
  expected << kWeight / 2, kWeight, kWeight, kWeight / 2;
  expect_near(section_sums(at_heights(model, level(model)).stand_N), expected, kClosedForm);
}

TEST(Gerber, DeadLoadOfThreeModulesIsThatOfHandStatics) {
  const double end = kWeight * kLength / (2.0 * (kLength - kSetIn));
  const double bearing = kWeight * (kLength - 2.0 * kSetIn) / (2.0 * (kLength - kSetIn));
  const Model model = built(deck_r3());
  const ContactState rest = at_heights(model, level(model));
  Eigen::VectorXd expected(4);
  expected << end, kWeight / 2.0 + bearing, kWeight / 2.0 + bearing, end;
  expect_near(section_sums(rest.stand_N), expected, kClosedForm);
  EXPECT_NEAR(end, 26638.96, 0.005);
  for (Eigen::Index c = 8; c < 12; ++c) {
    EXPECT_NEAR(rest.contact_N(c), bearing / 2.0, 1e-9 * bearing);
  }
}

/// Section sums of deck R3 for 1 N at x, by hand: the end module is a beam on its section and its
/// bearing; the bearing loads the middle module at the joint, outside its section.
Eigen::Vector4d gerber_shares(double x) {
  const double first = 0.30, second = 7.30, third = 13.70;
  const double joint = 7.0;
  double on_first = 0.0, at_joint = 0.0, on_middle_at = x, on_middle = 1.0;
  if (x <= joint) {
    on_first = (joint - x) / (joint - first);
    at_joint = 1.0 - on_first;
    on_middle_at = joint;
    on_middle = at_joint;
  }
  const double on_third = on_middle * (on_middle_at - second) / (third - second);
  return {on_first, on_middle - on_third, on_third, 0.0};
}

TEST(Gerber, InfluenceLinesOfSectionSumsAreThoseOfHandStatics) {
  const Model model = built(deck_r3());
  const ContactState rest = at_heights(model, level(model));
  for (const double x : {0.0, 2.0, 3.5, 5.0, 7.0, 7.3, 9.0, 10.5}) {
    const Eigen::MatrixXd share = influence_surface(model, rest, nominal(model), {{x, 0.0, 1.0}});
    expect_near(section_sums(share.row(0).transpose()), gerber_shares(x), kClosedForm);
  }
}

TEST(Gerber, HundredKilonewtonsAtMidLengthGoMostlyToTheNearSections) {
  // 52.239, 50.000, -2.239, 0 kN by hand statics: the far section is relieved.
  const Model model = built(deck_r3());
  const BuiltLoad load = point_loads(model, {{3.5, 0.0, 100e3}});
  ASSERT_TRUE(load.load);
  const ContactState with =
      solve_contact(model, add(model.dead, *load.load), level(model), nominal(model));
  const Eigen::VectorXd sums = section_sums(with.stand_N - at_heights(model, level(model)).stand_N);
  const double expected[] = {52239.0, 50000.0, -2239.0, 0.0};
  for (Eigen::Index k = 0; k < 4; ++k) EXPECT_NEAR(sums(k), expected[k], 0.5);
}

TEST(FewestStands, TwoStandsUndoHeightsWhoseEndSectionsAgree) {
  // Rolls h_L - h_R of (-4 3 2 -4 5 0 -3 4) mm are -7, 6, 5, -7: lowering 2L by 13 and 3L by 12 mm
  // gives every section the same roll, and a common roll moves no load.
  const Model model = built(deck_r3());
  Eigen::VectorXd heights(8);
  heights << -4, 3, 2 - 13, -4, 5 - 12, 0, -3, 4;
  expect_near(at_heights(model, 1e-3 * heights).stand_N, at_heights(model, level(model)).stand_N,
              kClosedForm);
}

TEST(CentreOfGravity, OffMidLengthMovesTheLoadByTheLever) {
  deck::Deck deck = deck_r1();
  deck.modules[0].centre_m = 3.1;
  const Model model = built(deck);
  Eigen::VectorXd expected(2);
  expected << kWeight * (kLength - 3.1) / kLength, kWeight * 3.1 / kLength;
  expect_near(section_sums(at_heights(model, level(model)).stand_N), expected, kClosedForm);
}

TEST(SharedStand, CarriesHalfOfBothModules) {
  deck::Deck deck;
  deck.modules = {ladder_module("A", 2), ladder_module("B", 2)};
  deck.modules[1].mass_kg = 2600.0;
  deck::Joint joint;
  joint.kind = deck::JointKind::shared_stand;
  deck.joints = {joint};
  add_section(deck, 0.0, 0, 2.4, 200e6);
  add_section(deck, 7.0, 0, 2.4, 200e6);
  add_section(deck, 14.0, 1, 2.4, 200e6);
  const Model model = built(deck);
  EXPECT_EQ(model.contact_count(), 8);
  Eigen::VectorXd expected(3);
  expected << kWeight / 2.0, 0.75 * kWeight, kWeight / 4.0;
  expect_near(section_sums(at_heights(model, level(model)).stand_N), expected, kClosedForm);
  // On common stands each module twists alone against springs in series and parallel: the same
  // tridiagonal form as with hinges on the joint line.
  const double k_t = ladder_of_r1();
  expect_near(influence_at_rest(model), tridiagonal_influence({k_t, k_t}, 200e6), kClosedForm);
}

}  // namespace
}  // namespace weighwright::statics::tests
