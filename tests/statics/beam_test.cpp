/// A deck of one piece on three and more sections is a continuous beam: handbook values.
///
/// Sources: T. G. Hicks, Civil Engineering Formulas (McGraw-Hill), table 2.1 and figs. 2.2, 2.14
/// (reactions of equal spans); the three-moment equation with settlements as in Gere & Timoshenko,
/// Mechanics of Materials, continuous beams (from memory). 1e-9 relative to the largest entry:
/// about 1e-16 times the condition of beams of so few elements.

#include <Eigen/LU>
#include <random>

#include "statics/fixture.h"
#include "statics/surface.h"

// outside check: reactions of one to five equal spans under an even load; simple span with a point
//  load | T. G. Hicks, *Civil Engineering Formulas* (McGraw-Hill), table 2.1 and figs. 2.2, 2.14
// outside check: unequal spans, settling supports | three-moment equation, solved in the test in
//  its own way (Gere & Timoshenko, *Mechanics of Materials*, continuous beams; from memory,
//  unverified)
// outside check: beam on equal springs | closed form by the Sherman–Morrison formula from the
//  handbook's reactions

namespace weighwright::statics::tests {
namespace {

constexpr double kBending = 252e6;  // N m2
constexpr double kSpan = 7.0;       // m
constexpr double kClosedForm = 1e-9;

std::vector<double> equal_spans(int spans) {
  std::vector<double> supports;
  for (int i = 0; i <= spans; ++i) supports.push_back(kSpan * i);
  return supports;
}

Eigen::VectorXd sums_at(const deck::Deck& deck, const Eigen::VectorXd& section_heights_m) {
  const Model model = built(deck);
  Eigen::VectorXd heights = level(model);
  for (Eigen::Index k = 0; k < section_heights_m.size(); ++k) {
    heights(2 * k) = heights(2 * k + 1) = section_heights_m(k);
  }
  return section_sums(at_heights(model, heights).stand_N);
}

// Reactions / wL of equal spans under an even load.
Eigen::VectorXd handbook(int spans) {
  Eigen::VectorXd r(spans + 1);
  if (spans == 1) r << 0.5, 0.5;
  if (spans == 2) r << 3.0 / 8, 10.0 / 8, 3.0 / 8;
  if (spans == 3) r << 4.0 / 10, 11.0 / 10, 11.0 / 10, 4.0 / 10;
  if (spans == 4) r << 11.0 / 28, 32.0 / 28, 26.0 / 28, 32.0 / 28, 11.0 / 28;
  if (spans == 5) r << 15.0 / 38, 43.0 / 38, 37.0 / 38, 37.0 / 38, 43.0 / 38, 15.0 / 38;
  return r;
}

class EqualSpans : public ::testing::TestWithParam<int> {};

TEST_P(EqualSpans, ShareAnEvenLoadAsTheHandbookSays) {
  const int spans = GetParam();
  const double w_L = 1000.0;
  const Eigen::VectorXd sums =
      sums_at(beam(equal_spans(spans), kBending, w_L * spans), Eigen::VectorXd::Zero(spans + 1));
  expect_near(sums, w_L * handbook(spans), kClosedForm);
}

INSTANTIATE_TEST_SUITE_P(OneToFive, EqualSpans, ::testing::Range(1, 6));

// dR/dh of section sums: raise both stands of a section.
Eigen::MatrixXd section_influence(const deck::Deck& deck) {
  const Model model = built(deck);
  const Eigen::MatrixXd k = influence_at_rest(model);
  const Eigen::Index sections = k.rows() / 2;
  Eigen::MatrixXd sums(sections, sections);
  for (Eigen::Index i = 0; i < sections; ++i) {
    for (Eigen::Index j = 0; j < sections; ++j) sums(i, j) = k.block<2, 2>(2 * i, 2 * j).sum();
  }
  return sums;
}

// Reaction change per rise, times EI / L3: from the three-moment equation, exact fractions.
Eigen::MatrixXd settlement_table(int spans) {
  Eigen::MatrixXd s(spans + 1, spans + 1);
  if (spans == 2) s << 1.5, -3, 1.5, -3, 6, -3, 1.5, -3, 1.5;
  if (spans == 3) {
    s << 1.6, -3.6, 2.4, -0.4, -3.6, 9.6, -8.4, 2.4, 2.4, -8.4, 9.6, -3.6, -0.4, 2.4, -3.6, 1.6;
  }
  return s;
}

TEST(SettlingSupport, ChangesReactionsOfTwoAndThreeSpansAsTheThreeMomentEquationSays) {
  for (const int spans : {2, 3}) {
    const Eigen::MatrixXd expected = kBending / (kSpan * kSpan * kSpan) * settlement_table(spans);
    expect_near(section_influence(beam(equal_spans(spans), kBending, 1e6)), expected, kClosedForm);
  }
}

TEST(SettlingSupport, ChangesReactionsOfFourSpansAsTheThreeMomentEquationSays) {
  Eigen::VectorXd first(5);
  first << 45, -102, 72, -18, 3;  // / 28: 1.607143, -3.642857, 2.571429, -0.642857, 0.107143
  Eigen::VectorXd third(5);
  third << 72, -264, 384, -264, 72;  // / 28
  const Eigen::MatrixXd k = section_influence(beam(equal_spans(4), kBending, 1e7));
  const double unit = kBending / (kSpan * kSpan * kSpan) / 28.0;
  expect_near(k.col(0), unit * first, kClosedForm);
  expect_near(k.col(2), unit * third, kClosedForm);
}

TEST(SettlingSupport, MovesFourAndAHalfKilonewtonsPerMillimetreOnTwoSpansOfSevenMetres) {
  // 6 EI/L3 = 4.4082 kN/mm at the middle, -2.2041 at the ends.
  Eigen::VectorXd heights(3);
  heights << 0.0, 1e-3, 0.0;
  const deck::Deck deck = beam(equal_spans(2), kBending, 1e5);
  const Eigen::VectorXd change = sums_at(deck, heights) - sums_at(deck, Eigen::VectorXd::Zero(3));
  EXPECT_NEAR(change(1), 4408.2, 0.05);
  EXPECT_NEAR(change(0), -2204.1, 0.05);
}

// Reactions of a continuous beam by Clapeyron's equation of three moments, any spans and heights.
Eigen::VectorXd three_moments(const std::vector<double>& x,
                              double bending,
                              double w,
                              const Eigen::VectorXd& h) {
  const auto n = static_cast<Eigen::Index>(x.size());
  Eigen::MatrixXd a = Eigen::MatrixXd::Identity(n, n);
  Eigen::VectorXd rhs = Eigen::VectorXd::Zero(n);
  const auto span = [&](Eigen::Index i) {
    return x[static_cast<std::size_t>(i) + 1] - x[static_cast<std::size_t>(i)];
  };
  for (Eigen::Index i = 1; i + 1 < n; ++i) {
    const double l1 = span(i - 1);
    const double l2 = span(i);
    a(i, i - 1) = l1;
    a(i, i) = 2.0 * (l1 + l2);
    a(i, i + 1) = l2;
    rhs(i) = -w * (l1 * l1 * l1 + l2 * l2 * l2) / 4.0 +
             6.0 * bending * ((h(i - 1) - h(i)) / l1 + (h(i + 1) - h(i)) / l2);
  }
  const Eigen::VectorXd moment = a.partialPivLu().solve(rhs);
  Eigen::VectorXd reaction = Eigen::VectorXd::Zero(n);
  for (Eigen::Index i = 0; i + 1 < n; ++i) {
    const double l = span(i);
    const double shear = (moment(i + 1) - moment(i)) / l;
    reaction(i) += w * l / 2.0 + shear;
    reaction(i + 1) += w * l / 2.0 - shear;
  }
  return reaction;
}

TEST(ContinuousBeam, AgreesWithTheThreeMomentEquationOnUnequalSpansAndHeights) {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> spans(3.0, 9.0);
  std::uniform_real_distribution<double> rise(-2e-3, 2e-3);
  for (int round = 0; round < 50; ++round) {
    std::vector<double> supports = {0.0};
    const int count = 2 + round % 4;
    for (int i = 0; i < count; ++i) supports.push_back(supports.back() + spans(random));
    Eigen::VectorXd heights(count + 1);
    for (Eigen::Index i = 0; i <= count; ++i) heights(i) = rise(random);
    const double w = 100e3;  // heavy, so that nothing lifts
    const Eigen::VectorXd sums = sums_at(beam(supports, kBending, w * supports.back()), heights);
    expect_near(sums, three_moments(supports, kBending, w, heights), kClosedForm);
  }
}

// F = kappa (S + kappa I)^-1 R0 with S the settlement table and R0 the rigid reactions.
TEST(BeamOnSprings, SharesAnEvenLoadOfTwoSpansByTheClosedForm) {
  const double w_L = 1000.0;
  for (const double kappa : {1.0, 10.0, 100.0, 1000.0}) {
    const double stiffness = kappa * kBending / (kSpan * kSpan * kSpan);
    const Eigen::VectorXd sums = sums_at(beam(equal_spans(2), kBending, 2.0 * w_L, stiffness / 2.0),
                                         Eigen::VectorXd::Zero(3));
    Eigen::VectorXd expected(3);
    expected << 0.375 + 2.625 / (kappa + 9.0), 1.25 - 5.25 / (kappa + 9.0),
        0.375 + 2.625 / (kappa + 9.0);
    expect_near(sums, w_L * expected, kClosedForm);
  }
}

TEST(BeamOnSprings, SharesAnEvenLoadOfThreeSpansByTheClosedForm) {
  const double w_L = 1000.0;
  for (const double kappa : {10.0, 100.0}) {
    const double stiffness = kappa * kBending / (kSpan * kSpan * kSpan);
    const Eigen::VectorXd sums = sums_at(beam(equal_spans(3), kBending, 3.0 * w_L, stiffness / 2.0),
                                         Eigen::VectorXd::Zero(4));
    const Eigen::MatrixXd s = settlement_table(3) + kappa * Eigen::MatrixXd::Identity(4, 4);
    expect_near(sums, kappa * s.partialPivLu().solve(w_L * handbook(3)), kClosedForm);
  }
}

TEST(SimpleSpan, SharesAPointLoadByTheLever) {
  // R = P (L - a) / L: Hicks, fig. 2.2.
  const Model model = built(beam(equal_spans(1), kBending, 1e5));
  const ContactState rest = at_heights(model, level(model));
  for (const double a : {0.0, 0.7, 2.1, 3.5, 6.9, 7.0}) {
    const Eigen::MatrixXd share = influence_surface(model, rest, nominal(model), {{a, 0.0, 1.0}});
    EXPECT_NEAR(share(0, 0) + share(0, 1), (kSpan - a) / kSpan, 1e-12);
  }
}

TEST(TwoSpans, TakeAPointLoadAtAMiddleAsTheHandbookSays) {
  // P at the middle of one of two equal spans: 13/32, 22/32, -3/32 (AISC Manual, table 3-23, from
  // memory; three-moment equation: M_B = -3 P L / 32).
  const Model model = built(beam(equal_spans(2), kBending, 1e6));
  const ContactState rest = at_heights(model, level(model));
  const Eigen::MatrixXd share = influence_surface(model, rest, nominal(model), {{3.5, 0.0, 1.0}});
  Eigen::VectorXd expected(3);
  expected << 13.0 / 32, 22.0 / 32, -3.0 / 32;
  expect_near(section_sums(share.row(0).transpose()), expected, kClosedForm);
}

TEST(Scales, OfBendingScaleTheForcesOfSettlementButNotOfAnEvenLoad) {
  const Model model = built(beam(equal_spans(2), kBending, 1e6));
  Scales scales = nominal(model);
  scales.bend(0) = 2.5;
  const ContactState rest = solve_contact(model, model.dead, level(model), scales);
  expect_near(section_sums(rest.stand_N), 5e5 * handbook(2), kClosedForm);
  const Eigen::MatrixXd stiffer = influence(model, rest, scales);
  const double middle = stiffer.block<2, 2>(2, 2).sum();
  EXPECT_NEAR(middle, 2.5 * 6.0 * kBending / 343.0, 1e-9 * middle);
}

}  // namespace
}  // namespace weighwright::statics::tests
