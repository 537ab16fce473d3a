// What is wrong with results is said with its place, and never passes.
#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "verdict_results.h"

// outside check: standards that are too coarse, a display that does not move | R 76-1:2006,
//  3.7.1, as quoted by OIML Bulletin 1994/02; OIML R 111-1:2004, table 1; 1.4 d by Canadian
//  SI/98-81
// outside check: loads over the CLC, too small on a section, too few standards | HB 44, 2.20,
//  N.1.3.3.1 (b) (from memory, unverified); table 4, reprint of 2014

namespace weighwright::proof {
namespace {

using namespace tests;  // NOLINT(google-build-using-namespace)

/// The sound set of R 76 with one row changed.
template <typename Change>
Verdict changed(const char* check, Change change) {
  std::vector<ProofReading> rows = sound_r76();
  for (ProofReading& one : rows) {
    if (one.check != check) continue;
    change(one);
    break;
  }
  return prove(weighbridge(60'000.0, 20.0, "R76"), r76(), case_of(rows));
}

void expect_blocked(const Verdict& verdict, const char* code) {
  const ProofFinding* const finding = find(verdict, code);
  ASSERT_NE(finding, nullptr) << code << "\n" << told(verdict);
  EXPECT_TRUE(finding->blocks);
  EXPECT_FALSE(finding->what.empty());
  EXPECT_NE(verdict.outcome, Outcome::pass);
}

Verdict with_weights(const std::vector<record::Weight>& weights) {
  ProofCase what = case_of(sound_r76());
  what.weights = weights;
  return prove(weighbridge(60'000.0, 20.0, "R76"), r76(), what);
}

TEST(VerdictBadInput, LoadAboveMax) {
  std::vector<ProofReading> rows = sound_r76();
  ProofReading heavy = changeover("increasing", 61'000.0, 0.0, 20.0);
  heavy.reading.zero_before_kg = 1.0;
  heavy.reading.zero_after_kg = 1.0;
  rows.push_back(heavy);
  const Verdict verdict = prove(weighbridge(60'000.0, 20.0, "R76"), r76(), case_of(rows));
  expect_blocked(verdict, "over_capacity");
  const ProofFinding* const finding = find(verdict, "over_capacity");
  ASSERT_NE(finding, nullptr);
  EXPECT_EQ(finding->file, "proof.csv");
  EXPECT_EQ(finding->line, static_cast<int>(rows.size()) + 1);
}

TEST(VerdictBadInput, StrainLoadAboveMaxWithWhatLayThere) {
  ProofReading one = row("strain", 10'000.0, 64'990.0);
  one.start_kg = 55'000.0;
  expect_blocked(prove(weighbridge(60'000.0, 20.0, "H44"), h44(), part_of({one})), "over_capacity");
}

// HB 44, N.1.3.3.1 (b) (from memory, unverified): one pattern within the CLC, 35 t here, one side
// within half of it.
TEST(VerdictBadInput, LoadAboveTheClcOnOnePattern) {
  const deck::Deck deck = weighbridge(60'000.0, 20.0, "H44");
  expect_blocked(prove(deck, h44(), part_of({at_section(row("section", 36'000.0, 36'000.0), 1)})),
                 "over_section");
  expect_blocked(prove(deck, h44(), part_of({at_stand(row("section", 18'000.0, 18'000.0), 1)})),
                 "over_section");
}

TEST(VerdictBadInput, LoadAboveTheCellBeneath) {
  deck::Deck deck = weighbridge(60'000.0, 20.0, "R76");
  for (deck::Stand& stand : deck.stands) stand.cell.capacity_kg = 13'000.0;
  // 12 t and 10 t of deck on six stands: 13.67 t.
  const Verdict verdict =
      prove(deck, r76(), part_of({at_stand(changeover("eccentric", 12'000.0, 0.0, 20.0), 3)}));
  expect_blocked(verdict, "over_section");
  const ProofFinding* const finding = find(verdict, "over_section");
  ASSERT_NE(finding, nullptr);
  EXPECT_NE(finding->what.find("2R"), std::string::npos);
}

TEST(VerdictBadInput, StandardWithoutCertificate) {
  std::vector<record::Weight> weights = enough_weights();
  weights[0].certificate.clear();
  expect_blocked(with_weights(weights), "no_certificate");
}

TEST(VerdictBadInput, StandardWhoseCertificateHasExpired) {
  std::vector<record::Weight> weights = enough_weights();
  weights[0].expires_day = kDay - 1;
  expect_blocked(with_weights(weights), "expired");
  weights[0].expires_day = kDay;  // on its last day it is good
  EXPECT_EQ(with_weights(weights).outcome, Outcome::pass);
}

TEST(VerdictBadInput, WeightThatIsInNoList) {
  expect_blocked(with_weights({blocks("H", 500.0, 2), blocks("K", 20.0, 50)}), "unknown_weight");
}

// R 76-1:2006, 3.7.1 (quoted by OIML Bulletin 1994/02): at most a third of the limit. M3 allows
// 500 g for 1 t (R 111-1:2004, Table 1): 30 kg at 60 t, where a third is 10 kg.
TEST(VerdictBadInput, StandardsThatAreTooCoarse) {
  std::vector<record::Weight> weights = enough_weights();
  for (record::Weight& weight : weights) weight.weight_class = "M3";
  expect_blocked(with_weights(weights), "standards_too_coarse");
}

TEST(VerdictBadInput, LoadThatIsNotWhatItsWeightsAre) {
  expect_blocked(changed("increasing", [](ProofReading& one) { one.weights = {"K*30"}; }),
                 "load_unlike_weights");
}

TEST(VerdictBadInput, ResultsWithoutTheNamesOfTheirWeights) {
  std::vector<ProofReading> rows = sound_r76();
  for (ProofReading& one : rows) one.weights.clear();
  const Verdict verdict = prove(weighbridge(60'000.0, 20.0, "R76"), r76(), case_of(rows));
  EXPECT_EQ(verdict.outcome, Outcome::incomplete);
  EXPECT_TRUE(is_missing(verdict, Check::increasing, "weights"));
}

TEST(VerdictBadInput, DecreasingReadingsLabelledIncreasing) {
  const Verdict verdict =
      changed("decreasing", [](ProofReading& one) { one.check = "increasing"; });
  expect_blocked(verdict, "labelled_wrong_way");
  EXPECT_TRUE(is_missing(verdict, Check::decreasing, "decreasing_loads"));
}

TEST(VerdictBadInput, IncreasingReadingThatCameDown) {
  expect_blocked(
      changed("increasing", [](ProofReading& one) { one.reading.going = record::Going::down; }),
      "labelled_wrong_way");
}

TEST(VerdictBadInput, DecreasingReadingFromAnEmptyDeck) {
  const Verdict verdict = prove(
      weighbridge(60'000.0, 20.0, "R76"), r76(),
      part_of({changeover("zero", 0.0, 0.0, 20.0), changeover("decreasing", 20'000.0, 0.0, 20.0)}));
  expect_blocked(verdict, "labelled_wrong_way");
}

TEST(VerdictBadInput, DecreasingReadingAboveTheLoadBeforeIt) {
  const Verdict verdict = prove(
      weighbridge(60'000.0, 20.0, "R76"), r76(),
      part_of({changeover("zero", 0.0, 0.0, 20.0), changeover("increasing", 20'000.0, 0.0, 20.0),
               changeover("decreasing", 30'000.0, 0.0, 20.0)}));
  expect_blocked(verdict, "labelled_wrong_way");
}

TEST(VerdictBadInput, IncreasingLoadsAfterDecreasingOnes) {
  const Verdict verdict = prove(
      weighbridge(60'000.0, 20.0, "R76"), r76(),
      part_of({changeover("zero", 0.0, 0.0, 20.0), changeover("increasing", 20'000.0, 0.0, 20.0),
               changeover("decreasing", 10'000.0, 0.0, 20.0),
               changeover("increasing", 30'000.0, 0.0, 20.0)}));
  expect_blocked(verdict, "out_of_order");
}

TEST(VerdictBadInput, FewerRepeatsThanAsked) {
  std::vector<ProofReading> rows = sound_r76();
  rows.erase(rows.begin() + 1);
  const Verdict verdict = prove(weighbridge(60'000.0, 20.0, "R76"), r76(), case_of(rows));
  EXPECT_EQ(verdict.outcome, Outcome::incomplete);
  EXPECT_TRUE(is_missing(verdict, Check::repeatability, "repeats"));
  EXPECT_NE(find(verdict, "not_enough_repeats"), nullptr);
}

TEST(VerdictBadInput, ZeroThatNobodyRead) {
  std::vector<ProofReading> rows = sound_r76();
  rows.erase(rows.begin());
  const Verdict verdict = prove(weighbridge(60'000.0, 20.0, "R76"), r76(), case_of(rows));
  EXPECT_EQ(verdict.outcome, Outcome::incomplete);
  EXPECT_TRUE(is_missing(verdict, Check::zero, "zero"));
}

// outside check: class III L: 2000 to 10 000 divisions | HB 44, 2.20, Table 3, reprint of 2014
// HB 44, Table 3 (reprint of 2014): class III L needs 2000 to 10 000 d.
TEST(VerdictBadInput, ImpossibleClassIntervalAndCapacity) {
  ProofCase what = case_of(sound_h44());
  what.occasion = rules::Occasion::routine;
  for (const double d : {5.0, 50.0}) {
    const Verdict verdict = prove(weighbridge(60'000.0, d, "H44"), h44(), what);
    expect_blocked(verdict, "class_fault");
    EXPECT_EQ(verdict.outcome, Outcome::refused);
  }
  deck::Deck deck = weighbridge(60'000.0, 20.0, "R76");
  deck.accuracy_class = "V";
  EXPECT_EQ(prove(deck, r76(), case_of(sound_r76())).outcome, Outcome::refused);
}

TEST(VerdictBadInput, CheckThatIsNone) {
  expect_blocked(changed("zero", [](ProofReading& one) { one.check = "shake"; }), "unknown_check");
}

TEST(VerdictBadInput, FiguresThatAreNone) {
  for (const double value : {std::nan(""), std::numeric_limits<double>::infinity()}) {
    expect_blocked(
        changed("increasing", [&](ProofReading& one) { one.reading.indication_kg = value; }),
        "not_a_number");
  }
  expect_blocked(changed("increasing", [](ProofReading& one) { one.reading.load_kg = -5.0; }),
                 "not_a_number");
}

TEST(VerdictBadInput, LoadThatNobodyKnows) {
  expect_blocked(changed("rolling",
                         [](ProofReading& one) {
                           one.reading.load_kg.reset();
                           one.weights.clear();
                         }),
                 "load_unknown");
}

TEST(VerdictBadInput, SubstituteThatRepeatedNothing) {
  const Verdict verdict = prove(
      weighbridge(60'000.0, 20.0, "R76"), r76(),
      part_of({changeover("zero", 0.0, 0.0, 20.0), changeover("increasing", 10'000.0, 0.0, 20.0),
               with_material(added(row("increasing", 0.0, 30'000.0), 10.0), "s1")}));
  expect_blocked(verdict, "substitute_unknown");
}

TEST(VerdictBadInput, SubstituteTwiceOnTheDeckAndTwoNewOnes) {
  const auto verdict = [](const char* heap) {
    return prove(
        weighbridge(60'000.0, 20.0, "R76"), r76(),
        part_of({changeover("zero", 0.0, 0.0, 20.0), changeover("increasing", 10'000.0, 0.0, 20.0),
                 with_material(added(row("increasing", 0.0, 10'000.0), 10.0), heap)}));
  };
  expect_blocked(verdict("s1+s1"), "substitute_unknown");
  expect_blocked(verdict("s1+s2"), "substitute_unknown");
}

TEST(VerdictBadInput, StrainTestWithoutItsStart) {
  expect_blocked(prove(weighbridge(60'000.0, 20.0, "H44"), h44(),
                       part_of({row("strain", 10'000.0, 40'000.0)})),
                 "strain_start");
}

TEST(VerdictBadInput, SmallLoadOfMoreThanItMayBe) {
  expect_blocked(changed("discrimination", [](ProofReading& one) { one.reading.added_kg = 40.0; }),
                 "added_out_of_range");
  expect_blocked(changed("discrimination", [](ProofReading& one) { one.then_kg.reset(); }),
                 "step_unread");
}

// R 76-1:2006, 3.8.2.2 (value quoted by Canadian SI/98-81): 1.4 d must change the indication.
TEST(VerdictBadInput, DisplayThatDoesNotMoveFails) {
  const Verdict verdict =
      changed("discrimination", [](ProofReading& one) { one.then_kg = one.reading.indication_kg; });
  EXPECT_EQ(verdict.outcome, Outcome::fail);
}

TEST(VerdictBadInput, FewerStandardsThanTheRulebookAsks) {
  // HB 44, Table 4 (reprint of 2014): 12.5 % of 60 t. Substitutes reach 15 t, weights only 5 t.
  std::vector<ProofReading> rows = sound_h44();
  std::vector<ProofReading> less;
  for (ProofReading& one : rows) {
    const double load = *one.reading.load_kg;
    if (load >= 7500.0 && one.check == "increasing") continue;
    less.push_back(one);
  }
  const auto at = less.begin() + 7;
  less.insert(
      at, {row("increasing", 5000.0, 5000.0), with_material(row("increasing", 0.0, 5000.0), "s1"),
           with_material(row("increasing", 5000.0, 10'000.0), "s1")});
  for (ProofReading& one : less) {
    if (*one.reading.load_kg > 5000.0) {
      one.reading.load_kg = 5000.0;
      one.reading.indication_kg -= 2500.0;
      one.weights = names_of(5000.0);
    }
  }
  ProofCase what = case_of(less);
  what.occasion = rules::Occasion::routine;
  const Verdict verdict = prove(weighbridge(60'000.0, 20.0, "H44"), h44(), what);
  EXPECT_NE(verdict.outcome, Outcome::pass);
  EXPECT_TRUE(is_missing(verdict, Check::increasing, "standards")) << told(verdict);
}

// HB 44, N.1.3.3.1 (b) (from memory, unverified): 12.5 % of capacity, 7.5 t, on each section.
TEST(VerdictBadInput, SectionLoadThatIsTooSmall) {
  std::vector<ProofReading> rows = sound_h44();
  for (ProofReading& one : rows) {
    if (one.check != "section" || one.reading.place.section.value != 2) continue;
    one.reading.load_kg = 5000.0;
    one.reading.indication_kg = 5000.0;
    one.weights = names_of(5000.0);
  }
  ProofCase what = case_of(rows);
  what.occasion = rules::Occasion::routine;
  const Verdict verdict = prove(weighbridge(60'000.0, 20.0, "H44"), h44(), what);
  EXPECT_EQ(verdict.outcome, Outcome::incomplete);
  ASSERT_EQ(verdict.missing.size(), 1U) << told(verdict);
  EXPECT_EQ(verdict.missing[0].code, "load");
  EXPECT_EQ(verdict.missing[0].where, "3");
  EXPECT_DOUBLE_EQ(verdict.missing[0].load_kg, 7500.0);
}

ProofReading in_steps_of(ProofReading one, double resolution_kg) {
  one.reading.resolution_kg = resolution_kg;
  return one;
}

/// One increasing load at 30 t in the place of the one at 20 t of the sound set.
Verdict with_reading(const ProofReading& reading) {
  std::vector<ProofReading> rows = sound_r76();
  for (ProofReading& one : rows) {
    if (one.check == "increasing" && one.reading.load_kg == 20'000.0) one = reading;
  }
  return prove(weighbridge(60'000.0, 20.0, "R76"), r76(), case_of(rows));
}

TEST(VerdictBadInput, AFigureThatTheStatedResolutionCantShow) {
  expect_blocked(with_reading(in_steps_of(row("increasing", 30'000.0, 30'003.0), 2.0)),
                 "off_resolution");
  EXPECT_EQ(
      find(with_reading(in_steps_of(row("increasing", 30'000.0, 30'004.0), 2.0)), "off_resolution"),
      nullptr);
}

TEST(VerdictBadInput, AResolutionThatNoDisplayOfThisScaleHas) {
  for (const double resolution_kg : {500.0, 1e-300}) {
    const Verdict verdict =
        with_reading(in_steps_of(row("increasing", 30'000.0, 30'000.0), resolution_kg));
    expect_blocked(verdict, "resolution_unlikely");
    EXPECT_EQ(find(verdict, "off_resolution"), nullptr);
  }
}

TEST(VerdictBadInput, AFigureBetweenTheDivisionsIsToldWhereNoResolutionIsStated) {
  const Verdict verdict = with_reading(row("increasing", 30'000.0, 30'003.0));
  ASSERT_NE(find(verdict, "off_division"), nullptr);
  EXPECT_FALSE(find(verdict, "off_division")->blocks);
  EXPECT_EQ(
      find(prove(weighbridge(60'000.0, 20.0, "R76"), r76(), case_of(sound_r76())), "off_division"),
      nullptr);
}

/// A second line of the same load right behind the first.
Verdict with_twin(double load_kg, double error_kg) {
  std::vector<ProofReading> rows = sound_r76();
  const auto at = std::find_if(rows.begin(), rows.end(), [&](const ProofReading& one) {
    return one.check == "increasing" && one.reading.load_kg == load_kg;
  });
  rows.insert(at + 1, changeover("increasing", load_kg, error_kg, 20.0));
  return prove(weighbridge(60'000.0, 20.0, "R76"), r76(), case_of(rows));
}

// Limit 20 kg at 20 t (R 76-1:2006, Table 6): results of one load may differ by no more (3.6.1, as
// quoted by OIML Bulletin 1994/02).
TEST(VerdictBadInput, TwoLinesThatSayDifferentThingsOfOneLoad) {
  const Verdict near = with_twin(20'000.0, 6.0);  // the first says 2 kg
  ASSERT_NE(find(near, "contradiction"), nullptr) << told(near);
  EXPECT_FALSE(find(near, "contradiction")->blocks);
  EXPECT_EQ(near.outcome, Outcome::pass) << told(near);
  const Verdict far = with_twin(20'000.0, -19.0);
  ASSERT_NE(find(far, "contradiction"), nullptr);
  EXPECT_TRUE(find(far, "contradiction")->blocks);
  EXPECT_EQ(find(with_twin(20'000.0, 2.0), "contradiction"), nullptr);  // the same said twice
}

TEST(VerdictBadInput, ALoadReadAgainAtAnotherTimeOrInAnotherRunIsNoContradiction) {
  std::vector<ProofReading> rows = sound_r76();
  for (int run = 1; run <= 2; ++run) {
    rows.push_back(at_section(changeover("midspan", 20'000.0, 2.0 * run, 20.0), 1));
    rows.back().run = run;
  }
  const deck::Deck deck = weighbridge(60'000.0, 20.0, "R76");
  EXPECT_EQ(find(prove(deck, r76(), case_of(rows)), "contradiction"), nullptr);
  rows.back().run = 1;
  EXPECT_NE(find(prove(deck, r76(), case_of(rows)), "contradiction"), nullptr);
  rows[rows.size() - 2].time_s = kDay * 86'400;
  rows.back().time_s = kDay * 86'400 + 600;
  EXPECT_EQ(find(prove(deck, r76(), case_of(rows)), "contradiction"), nullptr);
}

// A class-M1 weight without a certificate has a class: only what it lacks is said.
TEST(VerdictBadInput, AWeightOfAClassWithoutCertificateLacksTheCertificateOnly) {
  std::vector<record::Weight> weights = enough_weights();
  weights[0].certificate.clear();
  const Verdict verdict = with_weights(weights);
  const ProofFinding* const finding = find(verdict, "no_certificate");
  ASSERT_NE(finding, nullptr);
  EXPECT_EQ(finding->what.find("class"), std::string::npos) << finding->what;
  EXPECT_NE(finding->what.find("certificate"), std::string::npos);
}

TEST(VerdictBadInput, ACertifiedValueWithAnUncertaintyOfNothingIsTold) {
  std::vector<record::Weight> weights = enough_weights();
  weights[0].conventional_kg = 1000.0;
  weights[0].uncertainty_kg = 0.0;
  const Verdict by_class = with_weights(weights);
  ASSERT_NE(find(by_class, "uncertainty_zero"), nullptr) << told(by_class);
  EXPECT_FALSE(find(by_class, "uncertainty_zero")->blocks);
  // R 111-1:2004, Table 1: M1, 1 t: 50 g; 20 of them, linearly, over sqrt 3.
  for (const JudgedLine& line : by_class.lines) {
    if (line.check != Check::increasing || line.load_kg != 20'000.0) continue;
    EXPECT_NEAR(u_of(line.budget.value(), "weights"), 20.0 * 0.050 / std::sqrt(3.0), 1e-9);
  }
  weights[0].weight_class.clear();
  expect_blocked(with_weights(weights), "uncertainty_zero");
}

TEST(VerdictBadInput, WhatAWeightWasComparedWithIsAskedFor) {
  std::vector<record::Weight> weights = enough_weights();
  ASSERT_TRUE(weights[0].traced_to.empty());
  const Verdict verdict = with_weights(weights);
  ASSERT_NE(find(verdict, "traced_to_unknown"), nullptr) << told(verdict);
  EXPECT_FALSE(find(verdict, "traced_to_unknown")->blocks);
  EXPECT_EQ(verdict.outcome, Outcome::pass);
  for (record::Weight& weight : weights) weight.traced_to = "county standard";
  EXPECT_EQ(find(with_weights(weights), "traced_to_unknown"), nullptr);
}

TEST(VerdictBadInput, WeightsThatNobodyNamesAreMissedWhereTheyStood) {
  std::vector<ProofReading> rows = sound_r76();
  rows.push_back(zeroed(at_stand(changeover("eccentric", 12'000.0, 0.0, 20.0), 2), 1.0, 1.0));
  rows.back().weights.clear();
  const Verdict verdict = prove(weighbridge(60'000.0, 20.0, "R76"), r76(), case_of(rows));
  EXPECT_TRUE(is_missing(verdict, Check::eccentric, "weights")) << told(verdict);
  EXPECT_FALSE(is_missing(verdict, Check::increasing, "weights")) << told(verdict);
}

// A line with the wrong label has no limit because nobody can judge it, not because there is none.
TEST(VerdictBadInput, OnlyALoadBeyondTheTableHasNoLimit) {
  std::vector<ProofReading> rows = sound_r76();
  rows.push_back(zeroed(changeover("decreasing", 10'000.0, 0.0, 20.0), 1.0, 1.0));
  const Verdict verdict = prove(weighbridge(60'000.0, 20.0, "R76"), r76(), case_of(rows));
  const JudgedLine& mislabelled = verdict.lines.back();
  ASSERT_NE(find(verdict, "labelled_wrong_way"), nullptr) << told(verdict);
  EXPECT_FALSE(mislabelled.limit.has_value());
  EXPECT_FALSE(mislabelled.no_limit);
}

TEST(VerdictBadInput, ANetErrorSaysWhetherTheLoadsPassByThemselves) {
  const auto net_of = [](double low_kg, double high_kg) {
    return prove(weighbridge(80'000.0, 20.0, "R76"), r76(),
                 part_of({changeover("zero", 0.0, 0.0, 20.0),
                          changeover("increasing", 20'000.0, low_kg, 20.0),
                          changeover("increasing", 40'000.0, high_kg, 20.0)}))
        .net;
  };
  ASSERT_TRUE(net_of(-15.0, 15.0));  // limits 20 and 20 kg; 30 kg on a net of 20 t: 20 kg
  EXPECT_FALSE(net_of(-15.0, 15.0)->within);
  EXPECT_TRUE(net_of(-15.0, 15.0)->each_passes);
  EXPECT_FALSE(net_of(-15.0, 25.0)->each_passes);
}

}  // namespace
}  // namespace weighwright::proof
