/// Readings are made by contact statics on decks of our own, faults are put in by hand.

#include "share/judge.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "rehearsal/site.h"
#include "share/readings.h"
#include "statics/random_decks.h"

// outside check: parity and roll of readings | virtual work and moment equilibrium by hand: 2 W e
//  / L for a centre of gravity off by e

namespace weighwright::share {
namespace {

using namespace tests;
using record::Measurement;
using statics::tests::deck_r3;

Judged judged(const deck::Deck& deck,
              const statics::Model& model,
              const std::vector<Measurement>& events) {
  const GatheredEvidence gathered = gather(deck, model, events);
  for (const units::Diagnostic& fault : gathered.faults) ADD_FAILURE() << fault.what;
  return judge(deck, reduce(deck, model, gathered.evidence.value().survey_m), *gathered.evidence);
}

/// Three stiff modules, with screws off by a few millimetres.
class JudgedReadings : public ::testing::Test {
 protected:
  deck::Deck deck_ = metered(deck_r3(200e6));
  statics::Model model_ = built(deck_);
  Eigen::VectorXd sound_N_ = forces_at_mm(model_, {0.5, 0.0, 0.0, 0.4, -0.3, 0.0, 0.0, 0.2});

  [[nodiscard]] Judged of(const std::vector<Measurement>& events) const {
    return judged(deck_, model_, events);
  }
  [[nodiscard]] Judged of_forces(const Eigen::VectorXd& force_N, bool with_no_load = true) const {
    return of({readings_of(force_N, with_no_load)});
  }
};

bool names(const Judged& judged, Code code, int stand) {
  return std::any_of(judged.faults.begin(), judged.faults.end(), [&](const CannotFix& fault) {
    if (fault.code != code) return false;
    const auto& others = fault.alternatives;
    return (fault.stand && fault.stand->value == stand) ||
           std::any_of(others.begin(), others.end(),
                       [&](units::StandIndex other) { return other.value == stand; });
  });
}

std::string told(const Judged& judged) {
  std::string text;
  for (const CannotFix& fault : judged.faults) {
    text += std::string(print(fault.code)) + " " +
            (fault.stand ? units::print(*fault.stand) : std::string("-")) + " p " +
            std::to_string(fault.probability) + "; ";
  }
  return text;
}

// ---- the invariants

// Virtual work: every module pitches about its own mid-length, up and down in turn; weights there
// do no work, so sum (-1)^k (1 - 2 a_k / L) S_k = 0, and the roll moment is that of the weights,
// whatever the heights and whatever hangs at a bearing.
TEST_F(JudgedReadings, HaveNoParityAndNoRollWhateverTheHeights) {
  std::mt19937_64 random(5);
  std::uniform_real_distribution<double> mm(-6.0, 6.0);
  for (int trial = 0; trial < 50; ++trial) {
    std::vector<double> heights(8);
    for (double& height : heights) height = mm(random);
    const Eigen::VectorXd force = forces_at_mm(model_, heights);
    const Judged result = of_forces(force);
    EXPECT_NEAR(result.parity.residual_N, 0.0, 1e-6 * force.sum());
    EXPECT_NEAR(result.roll.residual_N, 0.0, 1e-6 * force.sum());
    EXPECT_EQ(result.parity.verdict, Judgement::holds);
    EXPECT_EQ(result.roll.verdict, Judgement::holds);
    EXPECT_TRUE(result.faults.empty()) << told(result);
  }
}

TEST(JudgedChain, HasNoParityForModulesOfAnyLengthAndMass) {
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    SCOPED_TRACE(seed);
    statics::tests::RandomDeck random(seed);
    deck::Deck deck =
        metered(random.make(statics::tests::Kind::hinged, static_cast<int>(1 + seed % 5)));
    const statics::BuiltModel model = statics::build_model(deck);
    if (!model.model) continue;  // a random deck that would tip
    const Eigen::VectorXd force =
        forces_at_mm(*model.model, random.heights(deck.stand_count(), 3.0));
    const Judged result = judged(deck, *model.model, {readings_of(force)});
    EXPECT_NEAR(result.parity.residual_N, 0.0, 1e-6 * force.sum());
    EXPECT_NEAR(result.roll.residual_N, 0.0, 1e-6 * force.sum());
  }
}

// Closed form by virtual work: a centre of gravity e off mid-length leaves 2 W e / L; the row is
// scaled so that its entry at 1L is 1, where the zig-zag has 1 - 2 a / L = 1 - 0.6 / 7.
TEST_F(JudgedReadings, ShowACentreOfGravityOffMidLengthAsParity) {
  for (const int module : {0, 1, 2}) {
    deck::Deck truth = deck_;
    truth.modules[at(module)].centre_m = 3.5 + 0.05;
    const Judged result =
        of_forces(statics::tests::at_heights(built(truth), Eigen::VectorXd::Zero(8)).stand_N);
    const double residual_N = 2.0 * 5200.0 * 9.80665 * 0.05 / 7.0;  // 728.5 N
    EXPECT_NEAR(std::abs(result.parity.residual_N), residual_N / (1.0 - 0.6 / 7.0), 0.01);
    EXPECT_EQ(result.parity.verdict, Judgement::holds);  // 50 mm is within what is believed
  }
}

// Moments about the centre line: sum across (F_L - F_R) / 2 = W y.
TEST_F(JudgedReadings, ShowAWeightBesideTheMiddleAsRoll) {
  const statics::BuiltLoad side =
      statics::point_loads(model_, {{10.5, 1.2, 1000.0}, {10.5, -1.2, -1000.0}});
  const statics::LoadCase load = statics::add(model_.dead, *side.load);
  const Eigen::VectorXd force =
      statics::solve_contact(model_, load, Eigen::VectorXd::Zero(8), statics::nominal(model_))
          .stand_N;
  EXPECT_NEAR(of_forces(force).roll.residual_N, 2.0 * 1000.0 * 1.2 / 2.4, 0.01);
}

TEST_F(JudgedReadings, CanNotBeJudgedWithoutNoLoadReadings) {
  const Judged result = of_forces(sound_N_, false);
  EXPECT_EQ(result.parity.verdict, Judgement::cannot_judge);
  EXPECT_EQ(result.roll.verdict, Judgement::cannot_judge);
  EXPECT_GT(result.parity.hidden_N, 0.0);
  EXPECT_GT(result.roll.hidden_N, 0.0);
  EXPECT_GT(result.roll.hidden_N, of_forces(sound_N_, true).roll.hidden_N);
  EXPECT_TRUE(result.faults.empty()) << told(result);
}

TEST_F(JudgedReadings, AreExpectedAsStaticsSharesThem) {
  const Judged result = of_forces(sound_N_);
  ASSERT_EQ(result.expected_N.size(), 8U);
  EXPECT_NEAR(result.expected_N[0], 13319.480, 0.01);  // hand statics, carried beams
  EXPECT_NEAR(result.expected_N[3], 24926.455, 0.01);
}

// ---- faults, each alone

TEST_F(JudgedReadings, TellADeadCell) {
  for (int stand = 0; stand < 8; ++stand) {
    SCOPED_TRACE(stand);
    Eigen::VectorXd force = sound_N_;
    force(stand) = 0.0;
    const Judged result = of_forces(force);
    EXPECT_TRUE(names(result, Code::dead_cell, stand)) << told(result);
  }
}

TEST_F(JudgedReadings, TellAReversedSignalPair) {
  for (int stand = 0; stand < 8; ++stand) {
    SCOPED_TRACE(stand);
    Eigen::VectorXd force = sound_N_;
    force(stand) *= -1.0;
    const Judged result = of_forces(force);
    ASSERT_FALSE(result.faults.empty());
    EXPECT_EQ(result.faults[0].code, Code::reversed) << told(result);
    EXPECT_TRUE(names(result, Code::reversed, stand)) << told(result);
  }
}

// A cell of 30 t of the same output reads 25/30: at a load of 24 926 N 1.69 mV for 2.03.
TEST_F(JudgedReadings, TellACellOfThirtyTonnesAmongThoseOfTwentyFive) {
  const Judged result = of({readings_mV({1.09, 1.09, 2.03, 2.03, 1.69, 2.03, 1.09, 1.09})});
  bool thirty = false;
  for (const CannotFix& fault : result.faults) {
    thirty |= fault.code == Code::wrong_capacity && fault.other_value == 30000.0 && fault.stand &&
              fault.stand->value == 4;
  }
  EXPECT_TRUE(thirty) << told(result);
}

TEST_F(JudgedReadings, TellTwoCellsOfDifferentSectionsExchanged) {
  Eigen::VectorXd force = sound_N_;
  std::swap(force(0), force(3));
  const Judged result = of_forces(force);
  EXPECT_TRUE(names(result, Code::swapped_pair, 0)) << told(result);
  EXPECT_TRUE(names(result, Code::swapped_pair, 3)) << told(result);
}

// Parallel cells of equal resistance give the mean of all: (2 x 26.639 + 2 x 49.853) kN / 8.
TEST_F(JudgedReadings, TellTheMeanOfTheBox) {
  const Judged result = of({readings_mV(std::vector<double>(8, 1.56))});
  ASSERT_FALSE(result.faults.empty());
  EXPECT_EQ(result.faults[0].detail, CannotFix::Detail::box_mean);
}

TEST_F(JudgedReadings, TellVoltsTypedAsMillivolts) {
  Eigen::VectorXd force = sound_N_ * 1e-3;
  const Judged result = of_forces(force);
  ASSERT_FALSE(result.faults.empty());
  EXPECT_EQ(result.faults[0].detail, CannotFix::Detail::volts_typed);
}

TEST_F(JudgedReadings, TellADeckThatRestsOnSomethingElse) {
  const Judged result = of_forces(sound_N_ * 0.7);
  ASSERT_FALSE(result.faults.empty());
  EXPECT_EQ(result.faults[0].code, Code::touching) << told(result);
  EXPECT_EQ(result.faults[0].detail, CannotFix::Detail::sums_low) << told(result);
  EXPECT_NEAR(result.faults[0].amount_N, -0.3 * 152983.74, 0.15 * 0.3 * 152983.74);
}

TEST_F(JudgedReadings, TellForeignLoadOnAModule) {
  const statics::BuiltLoad crate =
      statics::point_loads(model_, {{10.5, 0.6, 7500.0}, {10.5, -0.6, 7500.0}});  // 1.5 t on B
  const statics::LoadCase load = statics::add(model_.dead, *crate.load);
  const Judged result = of_forces(
      statics::solve_contact(model_, load, Eigen::VectorXd::Zero(8), statics::nominal(model_))
          .stand_N);
  ASSERT_FALSE(result.faults.empty());
  bool foreign = false;
  for (const CannotFix& fault : result.faults) {
    foreign |= fault.detail == CannotFix::Detail::foreign_load;
  }
  EXPECT_TRUE(foreign) << told(result);
}

TEST_F(JudgedReadings, TellASignalBeyondFullOutput) {
  const Judged result = of({readings_mV({1.09, 1.09, 2.03, 24.0, 2.03, 2.03, 1.09, 1.09})});
  ASSERT_FALSE(result.faults.empty());
  EXPECT_EQ(result.faults[0].detail, CannotFix::Detail::beyond_output);
  EXPECT_EQ(result.faults[0].stand->value, 3);
}

// The answer of the twist forces to a change of heights is monotone, dq' dH >= 0, whatever the
// stiffness and whatever lifts (solution map of a convex program): raising a stand never unloads
// it.
TEST_F(JudgedReadings, TellATurnThatAnsweredTheWrongWay) {
  const Eigen::VectorXd before = forces_at_mm(model_, {-0.5, 0, 0, 0, 0, 0, 0, 0});
  const Eigen::VectorXd raised = forces_at_mm(model_, {0.75, 0, 0, 0, 0, 0, 0, 0});
  const Eigen::VectorXd lowered = forces_at_mm(model_, {-1.75, 0, 0, 0, 0, 0, 0, 0});
  const record::TurnSet half = turns_of({{0, 0.5}});  // 1.25 mm up
  EXPECT_TRUE(of({readings_of(before), half, readings_of(raised)}).faults.empty());
  const Judged wrong = of({readings_of(before), half, readings_of(lowered)});
  ASSERT_FALSE(wrong.faults.empty());
  EXPECT_EQ(wrong.faults[0].detail, CannotFix::Detail::wrong_sign);
  EXPECT_EQ(wrong.faults[0].stand->value, 0);
}

TEST_F(JudgedReadings, NeverShowATurnOfASoundDeckAnsweringTheWrongWay) {
  std::mt19937_64 random(11);
  std::uniform_real_distribution<double> mm(-6.0, 6.0);
  for (int trial = 0; trial < 60; ++trial) {
    std::vector<double> heights(8);
    for (double& height : heights) height = mm(random);
    const Eigen::VectorXd before = forces_at_mm(model_, heights);
    std::vector<std::pair<int, double>> turns;
    for (int stand = 0; stand < 8; ++stand) {
      if (random() % 2 == 0) continue;
      const double turned = mm(random) / 2.5;
      turns.emplace_back(stand, turned);
      heights[at(stand)] += turned * 2.5;
    }
    const Judged result =
        of({readings_of(before), turns_of(turns), readings_of(forces_at_mm(model_, heights))});
    EXPECT_TRUE(result.faults.empty()) << told(result);
  }
}

// ---- no false alarm

// Section 1 on three points: (R1 - J)/2 and (R1 + J)/2 and what follows from it on a stiff deck.
TEST_F(JudgedReadings, AreSoundWhereABearingHangs) {
  const Judged result = of({readings_mV({0.09, 2.08, 2.99, 1.08, 2.03, 2.03, 1.09, 1.09})});
  EXPECT_TRUE(result.faults.empty()) << told(result);
}

TEST_F(JudgedReadings, AreSoundWhereAStandCarriesNothing) {
  const Judged result = of({readings_mV({0.12, 2.06, 4.07, 0.00, 0.96, 3.11, 1.09, 1.09})});
  EXPECT_TRUE(result.faults.empty()) << told(result);
}

// 200 sound sites with masses, centres, stiffness, pads and noise of their own: at most 1 % may be
// called faulty.
TEST(JudgedSites, AreSeldomCalledFaultyWhenSound) {
  int alarms = 0;
  std::string which;
  for (int modules = 1; modules <= 4; ++modules) {
    const deck::Deck deck = chain(modules, 94e6);
    const statics::Model model = built(deck);
    for (std::uint64_t seed = 0; seed < 50; ++seed) {
      rehearsal::Site site(deck, {}, 1000 * static_cast<std::uint64_t>(modules) + seed);
      const Judged result = judged(deck, model, {site.read(true)});
      if (result.faults.empty()) continue;
      ++alarms;
      which += std::to_string(modules) + "/" + std::to_string(seed) + ": " + told(result);
    }
  }
  EXPECT_LE(alarms, 2) << which;
}

}  // namespace
}  // namespace weighwright::share
