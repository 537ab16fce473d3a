// Checks of the indicator that need no load, and what was no part of a test.
#include <gtest/gtest.h>

#include "verdict_results.h"

// outside check: no indication above Max + 9 e: 60 180 kg; range of zero 4 % of Max: 2400 kg |
//  R 76-1:2006, 4.2.3 as quoted by French decree 91-330, Annex I, 9; 4.5.1 by Northern Ireland SR
//  2006/5, regulation 8
// outside check: tare within 0.25 e; digital displays and printers agree | R 76-1:2006, 4.6.3 and
//  3.6.3 (from memory, unverified)
// outside check: no indication above 105 % of capacity: 63 000 kg | HB 44, 2.20, S.1.7, as quoted
//  by an engineering forum

namespace weighwright::proof {
namespace {

using namespace tests;  // NOLINT(google-build-using-namespace)

ProofReading overload(double shown_kg) {
  ProofReading one = row("overload", 0.0, shown_kg);
  one.reading.load_kg.reset();
  one.by = "simulator";
  return one;
}

Verdict prove_with(const std::vector<ProofReading>& more) {
  std::vector<ProofReading> rows = sound_r76();
  rows.insert(rows.end(), more.begin(), more.end());
  return prove(weighbridge(60'000.0, 20.0, "R76"), r76(), case_of(rows));
}

bool is_part(const Verdict& verdict, Check check) {
  return std::none_of(verdict.not_part.begin(), verdict.not_part.end(),
                      [check](const NotPart& one) { return one.check == check; });
}

TEST(IndicatorChecks, AreSaidToBeNoPartWhereNobodyLooked) {
  const Verdict verdict = prove_with({});
  EXPECT_EQ(verdict.outcome, Outcome::pass) << told(verdict);
  for (const Check check : {Check::tare, Check::indications, Check::zero_range, Check::overload}) {
    EXPECT_FALSE(is_part(verdict, check)) << rules::code_of(check);
  }
  for (const NotPart& one : verdict.not_part) {
    EXPECT_EQ(one.why, NotPart::Why::no_result);
    EXPECT_FALSE(one.source.clause.empty());
  }
}

TEST(IndicatorChecks, TheGreatestIndicationIsMaxAndNineIntervals) {
  const Verdict within = prove_with({overload(60'180.0)});
  EXPECT_EQ(within.outcome, Outcome::pass) << told(within);
  EXPECT_TRUE(is_part(within, Check::overload));
  EXPECT_EQ(prove_with({overload(60'200.0)}).outcome, Outcome::fail);
  const deck::Deck handbook = weighbridge(60'000.0, 20.0, "H44");
  EXPECT_TRUE(prove(handbook, h44(), part_of({overload(63'000.0)})).checks.at(0).passed);
  EXPECT_FALSE(prove(handbook, h44(), part_of({overload(63'020.0)})).checks.at(0).passed);
}

TEST(IndicatorChecks, ALoadAboveMaxIsAFactAndADanger) {
  ProofReading one = overload(60'180.0);
  one.reading.load_kg = 61'000.0;
  const Verdict verdict = prove_with({one});
  ASSERT_NE(find(verdict, "over_capacity"), nullptr);
  EXPECT_FALSE(find(verdict, "over_capacity")->blocks);
  EXPECT_EQ(verdict.checks.size(), 1U);
}

TEST(IndicatorChecks, TareIsJudgedBeforeRounding) {
  const auto tare = [](double off_kg) { return changeover("tare", 0.0, off_kg, 20.0); };
  EXPECT_EQ(prove_with({tare(5.0)}).outcome, Outcome::pass);
  EXPECT_EQ(prove_with({tare(6.0)}).outcome, Outcome::fail);
  // A display of 0 in steps of 20 kg says nothing about 5 kg: not answered, and no failure.
  const Verdict coarse = prove_with({row("tare", 0.0, 0.0)});
  EXPECT_EQ(coarse.outcome, Outcome::pass) << told(coarse);
  EXPECT_FALSE(is_part(coarse, Check::tare));
}

TEST(IndicatorChecks, DisplaysAndPrinterAgreeExactly) {
  const auto beside = [](double other_kg) {
    ProofReading one = row("indications", 30'000.0, 30'000.0);
    one.other_kg = other_kg;
    return one;
  };
  EXPECT_EQ(prove_with({beside(30'000.0)}).outcome, Outcome::pass);
  EXPECT_EQ(prove_with({beside(30'020.0)}).outcome, Outcome::fail);
}

TEST(IndicatorChecks, OneThatAVariantRequiresIsMissingUntilItIsAnswered) {
  auto read = rules::read_rulebook(
      "format = 1\ncode = \"LAND\"\nbase = \"R76\"\ntitle = \"Decree\"\nedition = "
      "\"2020\"\nremark = \"invented\"\n[test.tare]\nrequired = true\nclause = \"art. "
      "7\"\nbasis = \"read\"\n",
      "land.toml");
  ASSERT_TRUE(read.rulebook);
  const deck::Deck deck = weighbridge(60'000.0, 20.0, "R76");
  std::vector<ProofReading> rows = sound_r76();
  const Verdict without = prove(deck, *read.rulebook, case_of(rows));
  EXPECT_EQ(without.outcome, Outcome::incomplete);
  EXPECT_TRUE(is_missing(without, Check::tare, "test"));
  EXPECT_TRUE(is_part(without, Check::tare));
  rows.push_back(changeover("tare", 0.0, 2.0, 20.0));
  const Verdict with = prove(deck, *read.rulebook, case_of(rows));
  EXPECT_EQ(with.outcome, Outcome::pass) << told(with);
}

TEST(IndicatorChecks, ZeroCoversFourPerCentOfMax) {
  EXPECT_EQ(prove_with({row("zero_range", 0.0, 2'400.0)}).outcome, Outcome::pass);
  EXPECT_EQ(prove_with({row("zero_range", 0.0, 2'420.0)}).outcome, Outcome::fail);
}

}  // namespace
}  // namespace weighwright::proof
