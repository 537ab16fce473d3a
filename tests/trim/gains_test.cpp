#include "trim/gains.h"

#include <gtest/gtest.h>

#include <Eigen/LU>
#include <Eigen/SVD>
#include <cmath>

#include "shifts.h"

// outside check: gains from shift readings, load shares, conditions | a separate numpy model of
//  the same grillage

namespace weighwright::trim {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;
using tests::advised;
using tests::bridge;
using tests::corners;
using tests::middle;
using tests::over;
using tests::point;
using tests::reading;
using tests::shift;

const VectorXd kGains =
    (VectorXd(8) << 1.002, 0.998, 1.001, 1.0, 0.999, 1.0015, 0.9985, 1.0005).finished();

double most_off(const GainFit& fit) {
  return (fit.log_gain - tests::against_mean(kGains)).cwiseAbs().maxCoeff();
}

/// Largest error of the gains themselves, where the load was known.
double most_off_absolute(const GainFit& fit) {
  VectorXd gains = fit.common * fit.log_gain.array().exp().matrix();
  return (gains - kGains).cwiseAbs().maxCoeff();
}

/// 10 t at +-0.8 m on every section of the reference deck: indications worked out outside the
/// project (a separate numpy model of the same grillage, kept with three decimals).
std::vector<record::LoadReading> constructed(double step_kg) {
  const double shown[8] = {10013.279, 9986.721,  10008.316, 10001.684,
                           9994.250,  10010.750, 9988.321,  10001.679};
  const double at_m[4] = {0.30, 7.30, 13.70, 20.70};
  std::vector<record::LoadReading> readings;
  for (int i = 0; i < 8; ++i) {
    const double kg = step_kg > 0.0 ? std::round(shown[i] / step_kg) * step_kg : shown[i];
    readings.push_back(reading(point(at_m[i / 2], i % 2 == 0 ? 0.8 : -0.8), 10000.0, kg));
  }
  return readings;
}

TEST(ShiftReadings, GiveTheConstructedGainsBack) {
  const deck::Deck deck = bridge();
  const statics::Model model = statics::tests::built(deck);
  EXPECT_LT(most_off(advised(deck, model, {shift(constructed(0.0))}).fit), 1e-6);
}

// The constructed case again: rounded to 20 kg the gains are off by up to 0.0010, to 2 kg by
// 0.0001.
TEST(ShiftReadings, LoseWhatRoundingTakes) {
  const deck::Deck deck = bridge();
  const statics::Model model = statics::tests::built(deck);
  const double by_20 = most_off_absolute(advised(deck, model, {shift(constructed(20.0))}).fit);
  const double by_2 = most_off_absolute(advised(deck, model, {shift(constructed(2.0))}).fit);
  EXPECT_GT(by_20, 2e-4);
  EXPECT_LT(by_20, 1.5e-3);
  EXPECT_GT(by_2, 2e-5);
  EXPECT_LT(by_2, 1.5e-4);
}

MatrixXd shares(const std::vector<record::LoadPlace>& places, double twisting_Nm2) {
  deck::Deck deck = statics::tests::deck_r3(twisting_Nm2);
  deck.capacity_kg = 60000.0;
  deck.interval_kg = 20.0;
  const statics::Model model = statics::tests::built(deck);
  std::vector<record::LoadReading> readings;
  for (const auto& place : places) readings.push_back(reading(place, 1000.0, 1000.0));
  const PlacedShifts placed = place_loads(deck, model, {shift(readings)});
  MatrixXd a(static_cast<Eigen::Index>(places.size()), 8);
  for (std::size_t p = 0; p < places.size(); ++p) {
    a.row(static_cast<Eigen::Index>(p)) = placed.shifts->placed[p].share.transpose();
  }
  return a;
}

std::vector<record::LoadPlace> on_sections(const std::vector<double>& y_m) {
  std::vector<record::LoadPlace> places;
  for (const double x : {0.30, 7.30, 13.70, 20.70}) {
    for (const double y : y_m) places.push_back(point(x, y));
  }
  return places;
}

std::vector<record::LoadPlace> on_stands() {
  std::vector<record::LoadPlace> places;
  for (int i = 0; i < 8; ++i) places.push_back(over(i));
  return places;
}

VectorXd singular(const MatrixXd& a) {
  return Eigen::JacobiSVD<MatrixXd>(a).singularValues();
}

VectorXd gain_spread(const MatrixXd& a) {
  return (a.transpose() * a).inverse().diagonal().cwiseSqrt();
}

// Condition numbers and spreads of the same separate numpy model, to the digits it printed.
TEST(LoadShares, AreAsWellConditionedAsWorkedOutElsewhere) {
  const MatrixXd a = shares(on_stands(), 20e6);
  EXPECT_NEAR(a(0, 0), 0.99714, 1e-5);
  EXPECT_NEAR(a(0, 1), 0.00286, 1e-5);
  EXPECT_NEAR(a(2, 2), 0.99378, 1e-5);
  EXPECT_NEAR(a(2, 3), 0.00622, 1e-5);
  VectorXd s = singular(a);
  EXPECT_NEAR(s(0) / s(7), 1.022, 1e-3);
  EXPECT_GT(gain_spread(a).minCoeff(), 1.0025);
  EXPECT_LT(gain_spread(a).maxCoeff(), 1.0065);
  const MatrixXd inside = shares(on_sections({0.8, -0.8}), 20e6);
  s = singular(inside);
  EXPECT_NEAR(s(0) / s(7), 1.533, 1e-3);
  EXPECT_NEAR(gain_spread(inside).maxCoeff(), 1.28, 0.01);
}

TEST(LoadShares, AreAsWellConditionedAsWorkedOutElsewhereForStiffModules) {
  VectorXd s = singular(shares(on_stands(), 200e6));
  EXPECT_NEAR(s(0) / s(7), 1.170, 1e-3);
  s = singular(shares(on_sections({0.8, -0.8}), 200e6));
  EXPECT_NEAR(s(0) / s(7), 1.755, 2e-3);
}

// n + 1 sections: a load on the centre line shares alike left and right, whatever the deck.
TEST(LoadShares, OnTheCentreLineHaveTheRankOfTheSections) {
  const VectorXd s = singular(shares(on_sections({0.0}), 20e6));
  EXPECT_EQ((s.array() > 1e-9).count(), 4);
  std::vector<record::LoadPlace> more = on_sections({0.0});
  for (const double x : {2.0, 3.5, 5.0, 9.0, 10.5, 12.0, 16.0, 18.0}) more.push_back(point(x, 0.0));
  EXPECT_EQ((singular(shares(more, 20e6)).array() > 1e-9).count(), 4);
}

TEST(ShiftReadings, OnTheCentreLineLeaveLeftAndRightOpen) {
  const deck::Deck deck = bridge();
  const statics::Model model = statics::tests::built(deck);
  std::vector<record::LoadReading> readings;
  for (int s = 0; s < 4; ++s) readings.push_back(reading(middle(s), 10000.0, 10000.0 + 7.0 * s));
  const TrimAdvice advice = advised(deck, model, {shift(readings)});
  EXPECT_EQ(advice.verdict, Verdict::more_places);
  ASSERT_TRUE(advice.undetermined);
  EXPECT_EQ(advice.undetermined->trims.size(), 8U);
  EXPECT_TRUE(advice.undetermined->left_right_only);
  EXPECT_FALSE(advice.undetermined->settle_by.empty());
}

TEST(ShiftReadings, OnTheCentreLineAreEnoughForTrimsThatActOnSections) {
  const deck::Deck deck = bridge("section");
  const statics::Model model = statics::tests::built(deck);
  std::vector<record::LoadReading> readings;
  for (int s = 0; s < 4; ++s) readings.push_back(reading(middle(s), 10000.0, 10000.0 + 10.0 * s));
  const TrimAdvice advice = advised(deck, model, {shift(readings)});
  EXPECT_FALSE(advice.undetermined);
  EXPECT_EQ(advice.elements.size(), 4U);
}

// A load that nobody weighed tells as much of the ratios as one that was: only its own mass is
// lost.
TEST(UnknownLoads, GiveTheSameGainsAsKnownOnes) {
  const deck::Deck deck = bridge();
  const statics::Model model = statics::tests::built(deck);
  std::vector<record::LoadReading> readings = corners(deck, model, kGains, 8765.0);
  for (record::LoadReading& one : readings) {
    one.load_kg.reset();
    one.load_id = "fork truck";
  }
  const GainFit fit = advised(deck, model, {shift(readings)}).fit;
  EXPECT_LT(most_off(fit), 1e-9);
  EXPECT_NEAR(fit.unknown_kg.at(0), 8765.0, 10.0);
}

TEST(UnknownLoads, OfTwoKindsMayEachCoverApartOfTheDeck) {
  const deck::Deck deck = bridge();
  const statics::Model model = statics::tests::built(deck);
  std::vector<record::LoadReading> readings = corners(deck, model, kGains, 5000.0);
  std::vector<record::LoadReading> other = corners(deck, model, kGains, 12000.0);
  readings.resize(5);  // the first five places with one load, the last four with the other
  readings.insert(readings.end(), other.begin() + 4, other.end());
  for (std::size_t i = 0; i < readings.size(); ++i) {
    readings[i].load_kg.reset();
    readings[i].load_id = i < 5 ? "small" : "large";
  }
  EXPECT_LT(most_off(advised(deck, model, {shift(readings)}).fit), 1e-9);
}

TEST(UnknownLoads, ThatMeetNowhereLeaveTheDeckInTwoParts) {
  const deck::Deck deck = bridge();
  const statics::Model model = statics::tests::built(deck);
  std::vector<record::LoadReading> readings = corners(deck, model, kGains, 5000.0);
  // Over stands of a soft deck nearly nothing goes elsewhere: each load is a world of its own.
  for (std::size_t i = 0; i < readings.size(); ++i) {
    readings[i].load_kg.reset();
    readings[i].load_id = i < 4 ? "small" : "large";
  }
  const TrimAdvice advice = advised(deck, model, {shift(readings)});
  EXPECT_EQ(advice.verdict, Verdict::more_places);
}

// Derived by hand: equal cells, one trim turned by 2 turns that lower its own cell by 0.2 % each in
// a box with factors. The reading over it falls by 0.4 % of what that stand carries.
TEST(OneTurn, IsLearnedFromTheCornerItMoved) {
  deck::Deck deck = bridge("excitation");
  const statics::Model model = statics::tests::built(deck);
  VectorXd turned = kGains;
  turned(2) *= std::exp(-0.004);
  record::TrimSet moved;
  moved.moves.push_back({.place = {.is_section = false, .stand = {2}, .section = {1}},
                         .turns = 2.0,
                         .ohm = {},
                         .factor = {},
                         .line = 2});
  const auto again = reading(over(2), 10000.0, tests::shows(deck, model, turned, over(2), 10000.0));
  const TrimAdvice advice =
      advised(deck, model, {shift(corners(deck, model, kGains, 10000.0)), moved, shift({again})});
  ASSERT_TRUE(advice.fit.turn);
  EXPECT_TRUE(advice.fit.turn->sure);
  EXPECT_NEAR(advice.fit.turn->effect, -0.002, 1e-8);
  EXPECT_LT((advice.fit.log_gain - tests::against_mean(turned)).cwiseAbs().maxCoeff(), 1e-8);
}

}  // namespace
}  // namespace weighwright::trim
