/// Errors that grow with the load, a repeat unlike the others: told, never acted on.
#include <gtest/gtest.h>

#include "proof/verdict_results.h"

// outside check: a repeat unlike the others is flagged, and not left out | Grubbs' test,
// NIST/SEMATECH
//  e-Handbook of Statistical Methods, 1.3.5.17.1: of its eight readings 245.57 is the outlier

namespace weighwright::proof {
namespace {

using namespace tests;

const ProofFinding* find(const Verdict& verdict, std::string_view code) {
  for (const ProofFinding& one : verdict.findings) {
    if (one.code == code) return &one;
  }
  return nullptr;
}

Verdict repeats(const std::vector<double>& shows_kg) {
  std::vector<ProofReading> rows = {row("zero", 0.0, 0.0)};
  for (const double shows : shows_kg) {
    ProofReading one = row("repeatability", 20'000.0, shows);
    one.reading.resolution_kg = 0.01;
    rows.push_back(one);
  }
  return prove(weighbridge(60'000.0, 20.0, "H44"), h44(), part_of(rows));
}

TEST(Signs, FlagARepeatUnlikeTheOthers) {
  // The handbook's readings as kilograms above 19 800.
  std::vector<double> shows;
  for (const double one : {199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57}) {
    shows.push_back(19'800.0 + one);
  }
  const Verdict verdict = repeats(shows);
  const ProofFinding* const flagged = find(verdict, "outlier");
  ASSERT_NE(flagged, nullptr);
  EXPECT_FALSE(flagged->blocks);
  EXPECT_NE(flagged->what.find("20045.57"), std::string::npos) << flagged->what;
  ASSERT_EQ(verdict.ranges.size(), 1U);
  EXPECT_NEAR(verdict.ranges[0].range_kg, 245.57 - 199.31, 1e-6);  // it counts all the same
  shows.pop_back();
  EXPECT_EQ(find(repeats(shows), "outlier"), nullptr);
}

TEST(Signs, SayNothingOfThreeRepeats) {
  EXPECT_EQ(find(repeats({20'000.0, 20'000.5, 20'040.0}), "outlier"), nullptr);
}

Verdict errors(const std::vector<double>& errors_kg) {
  std::vector<ProofReading> rows = {row("zero", 0.0, 0.0)};
  double load_kg = 10'000.0;
  for (const double error : errors_kg) {
    ProofReading one = row("increasing", load_kg, load_kg + error);
    one.reading.resolution_kg = 0.1;
    rows.push_back(one);
    load_kg += 10'000.0;
  }
  for (int i = 0; i < 5; ++i) {
    ProofReading one = row("repeatability", 30'000.0, 30'000.0 + 0.5 * (i % 2));
    one.reading.resolution_kg = 0.1;
    rows.push_back(one);
  }
  return prove(weighbridge(60'000.0, 20.0, "H44"), h44(), part_of(rows));
}

// A span 0.05 % high makes 30 kg at 60 t (by hand).
TEST(Signs, TellErrorsThatGrowWithTheLoad) {
  const Verdict verdict = errors({5.0, 10.0, 15.0, 20.0, 25.0, 30.0});
  const ProofFinding* const found = find(verdict, "span_off");
  ASSERT_NE(found, nullptr);
  EXPECT_NE(found->what.find("rise"), std::string::npos);
  EXPECT_NE(found->what.find("30 kg at Max"), std::string::npos) << found->what;
  EXPECT_FALSE(found->blocks);
}

TEST(Signs, LeaveErrorsAloneThatDoNot) {
  EXPECT_EQ(find(errors({2.0, -2.0, 1.0, -1.0, 2.0, -1.0}), "span_off"), nullptr);
}

}  // namespace
}  // namespace weighwright::proof
