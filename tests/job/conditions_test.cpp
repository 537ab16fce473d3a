// Conditions of a reading that nobody ticked: they hold nothing back, widen, and are told.
// Sizes are judgements of ours; what is tested is which reading they meet and that nothing else
// changes.
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <sstream>
#include <variant>

#include "job/condition_doubt.h"
#include "job/site_advice.h"
#include "job/site_evidence.h"
#include "job/site_state.h"
#include "pen.h"

namespace weighwright::job {
namespace {

using testing::Pen;
using testing::table;
using testing::tick;
using testing::visit;

const std::string kPit = "00000000000000aa";
const std::string kUnshared =
    "stand,mV,no_load\n1L,1.63,0\n1R,0.53,0\n2L,1.24,0\n2R,2.94,0\n3L,2.45,0\n3R,1.61,0\n"
    "4L,1.00,0\n4R,1.24,0\n";
const std::vector<std::string> kAll = {"panels_on",      "rods_slack", "nothing_touches",
                                       "nobody_on_deck", "warm",       "same_meter"};

std::string deck_text() {
  std::ifstream file(WEIGHWRIGHT_SOURCE_DIR "/examples/three-modules.toml");
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

class ConditionsTest : public ::testing::Test {
 protected:
  void SetUp() override {
    pen_.write(kPit, visit("install"));
    pen_.write(
        kPit,
        {.kind = "deck", .fields = {{"file", "deck.toml"}, {"text", deck_text()}}, .corrects = {}});
  }
  void tick_all() {
    for (const std::string& name : kAll) pen_.write(kPit, tick(name));
  }
  /// Noise of the first stand's reading as the balance takes it, mV; the deck file says 0.01.
  double noise_mV(std::size_t reading = 0) {
    state_ = site_state_of(pen_.all());
    evidence_ = share_evidence(state_);
    std::size_t at = 0;
    for (const record::Measurement& event : evidence_.events) {
      const auto* const set = std::get_if<record::ReadingSet>(&event);
      if (set == nullptr || at++ != reading) continue;
      return set->stands[0].noise.value_or(-1.0);
    }
    return -2.0;
  }

  Pen pen_;
  SiteState state_;
  Evidence evidence_;
};

TEST_F(ConditionsTest, ThatAreAllTickedLeaveAReadingAsItIs) {
  tick_all();
  pen_.write(kPit, table(kUnshared));
  EXPECT_EQ(noise_mV(), -1.0) << "no noise of its own: that of the deck file";
  EXPECT_TRUE(evidence_.unmet.empty());
}

// 50 kg on a cell of 25 t, 2 mV/V, 10 V: 50 / 25000 * 20 mV = 0.04 mV, beside 0.01 mV of noise.
TEST_F(ConditionsTest, ThatAreNotTickedWidenTheReading) {
  tick_all();
  pen_.write(kPit, tick("nobody_on_deck", "no"));
  pen_.write(kPit, table(kUnshared));
  const double gravity = 9.80665;
  const double full_mV = 20.0;
  const double site_gravity = site_state_of(pen_.all()).deck->deck->site.gravity_m_per_s2;
  const double doubt_mV = 50.0 * site_gravity / (25'000.0 * gravity) * full_mV;
  EXPECT_NEAR(noise_mV(), std::hypot(0.01, doubt_mV), 1e-6);
  EXPECT_EQ(evidence_.unmet, std::vector<std::string>{"nobody_on_deck"});
}

// The mean of two readings has 1/sqrt(2) of their noise; the doubt of both is one and the same.
TEST_F(ConditionsTest, ThatAreNotTickedAreNoSurerByReadingAgain) {
  pen_.write(kPit, table(kUnshared, "first.csv"));
  pen_.write(kPit, table(kUnshared, "second.csv"));
  const double once = std::sqrt(noise_mV(0) * noise_mV(0) - 1e-4);
  const double twice = std::sqrt(noise_mV(1) * noise_mV(1) - 1e-4);
  EXPECT_NEAR(twice / once, std::sqrt(2.0), 1e-9);
}

TEST_F(ConditionsTest, AreVouchedForByATickAfterTheReading) {
  pen_.write(kPit, table(kUnshared));
  EXPECT_GT(noise_mV(), 0.0);
  tick_all();
  EXPECT_EQ(noise_mV(), -1.0);
}

TEST_F(ConditionsTest, ATickDoesNotReachBackBeyondAMove) {
  pen_.write(kPit, table(kUnshared, "first.csv"));
  pen_.write(kPit, table("stand,turns\n2L,1\n", "turns.csv"));
  pen_.write(kPit, table(kUnshared, "second.csv"));
  tick_all();
  EXPECT_GT(noise_mV(0), 0.0);
  EXPECT_EQ(noise_mV(1), -1.0);
}

TEST_F(ConditionsTest, AreToldBesideTheBalanceAndHoldNothingBack) {
  pen_.write(kPit, table(kUnshared));
  state_ = site_state_of(pen_.all());
  const SiteAdvice advice = advise_site(state_);
  ASSERT_TRUE(advice.share.view);
  std::string told;
  for (const auto& judgement : advice.share.view->judgements) {
    if (judgement.code == "conditions") told = judgement.sentence;
  }
  EXPECT_NE(told.find("panels_on, rods_slack, nothing_touches, nobody_on_deck, warm and "
                      "same_meter"),
            std::string::npos)
      << told;
  EXPECT_FALSE(advice.share.view->moves.empty());
  tick_all();
  const SiteState ticked = site_state_of(pen_.all());
  const SiteAdvice sure = advise_site(ticked);
  for (const auto& judgement : sure.share.view->judgements) EXPECT_NE(judgement.code, "conditions");
  // In tolerance or not goes by what was read.
  ASSERT_EQ(sure.share.view->pairs.size(), advice.share.view->pairs.size());
  for (std::size_t i = 0; i < sure.share.view->pairs.size(); ++i) {
    EXPECT_EQ(sure.share.view->pairs[i].within, advice.share.view->pairs[i].within);
  }
  EXPECT_LT(sure.share.view->stands[0].u_load_N, advice.share.view->stands[0].u_load_N);
  // What will be read is told with that doubt in it: 93 kg are 0.07 mV on these cells.
  for (const report::ThenView& then : advice.share.view->then) {
    EXPECT_GT(then.standard_uncertainty_mV, 0.07) << then.stand;
  }
}

TEST(ConditionDoubt, EveryConditionHasASize) {
  for (const std::string& name : kAll) EXPECT_GT(doubt_kg({name}), 0.0) << name;
  EXPECT_EQ(doubt_kg({}), 0.0);
  EXPECT_NEAR(doubt_kg({"warm", "nothing_touches"}), std::hypot(20.0, 50.0), 1e-12);
}

}  // namespace
}  // namespace weighwright::job
