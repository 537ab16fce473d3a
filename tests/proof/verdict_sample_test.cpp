#include "proof/verdict_sample.h"

#include <gtest/gtest.h>

#include <cmath>

#include "verdict_results.h"

// outside check: interval of a whole budget against the sampled one | JCGM 101:2008, 8.1

namespace weighwright::proof {
namespace {

using namespace tests;  // NOLINT(google-build-using-namespace)

// outside check: coverage interval of the sum of two rectangles | JCGM 101:2008, 6.4.5
// Two roundings of one division each make a triangle of half width d (JCGM 101:2008, 6.4.5); its
// middle 95 % reach d (1 - sqrt 0.05).
TEST(VerdictSample, TwoRoundingsMakeATriangle) {
  deck::Deck deck = weighbridge(60'000.0, 20.0, "H44");
  deck.trimming.repeatability_kg = 1e-3;
  ProofCase what = part_of({row("zero", 0.0, 0.0), row("increasing", 1000.0, 1000.0)});
  what.sample = true;
  what.coverage = 0.95;
  const Verdict verdict = prove(deck, h44(), what);
  ASSERT_TRUE(verdict.sampled) << told(verdict);
  EXPECT_TRUE(verdict.sampled->stable);
  const double reach = 20.0 * (1.0 - std::sqrt(0.05));
  // Run until twice the standard deviation of its ends is within 0.1 kg: 0.2 is four of them.
  EXPECT_NEAR(verdict.sampled->high, reach, 0.2);
  EXPECT_NEAR(verdict.sampled->low, -reach, 0.2);
  EXPECT_NEAR(verdict.sampled->u, 20.0 / std::sqrt(6.0), 0.05);
}

// outside check: interval of four readings with an estimated deviation | JCGM 100:2008, Table
//  G.2
// Where repeatability of four readings is everything, the interval is Student's: 3.31 s for 95.45 %
// with 3 degrees of freedom (JCGM 100:2008, Table G.2).
TEST(VerdictSample, RepeatabilityOfFourReadingsMakesStudents) {
  const auto fine = [](std::string check, double load, double shows) {
    ProofReading one = row(std::move(check), load, shows);
    one.reading.resolution_kg = 1e-3;
    return one;
  };
  std::vector<ProofReading> rows = {fine("zero", 0.0, 0.0)};
  const double off = std::sqrt(3.0 * 9.0 / 4.0);  // four readings whose s is 3 kg
  for (int i = 0; i < 4; ++i) {
    rows.push_back(zeroed(fine("repeatability", 1000.0, 1000.0 + (i % 2 == 0 ? off : -off)), 0, 0));
  }
  ProofCase what = part_of(rows);
  what.sample = true;
  const Verdict verdict = prove(weighbridge(60'000.0, 20.0, "R76"), r76(), what);
  ASSERT_TRUE(verdict.sampled) << told(verdict);
  EXPECT_NEAR(*verdict.s_kg, 3.0, 1e-9);
  const double half = (verdict.sampled->high - verdict.sampled->low) / 2.0;
  EXPECT_NEAR(half / 3.0, 3.31, 0.05);
  EXPECT_NEAR(verdict.lines[0].budget->k, 3.31, 0.005);
  EXPECT_TRUE(verdict.validation->holds);
}

// JCGM 101:2008, 8.1: the interval of the whole budget agrees with the sampled one, for a line of
// a complete test.
TEST(VerdictSample, AgreesWithTheBudgetOfTheNearestLine) {
  // With three repeats alone Student's t decides; three more of another load, so that it does not.
  std::vector<ProofReading> rows = sound_r76();
  for (const double error : {2.0, 4.0, 3.0}) {
    rows.insert(rows.begin() + 1,
                zeroed(changeover("repeatability", 30'000.0, error, 20.0), 1.0, 2.0));
  }
  ProofCase what = case_of(rows);
  what.sample = true;
  const Verdict verdict = prove(weighbridge(60'000.0, 20.0, "R76"), r76(), what);
  ASSERT_TRUE(verdict.sampled);
  ASSERT_GE(verdict.sampled_line, 0);
  const JudgedLine& line = verdict.lines[static_cast<std::size_t>(verdict.sampled_line)];
  for (const JudgedLine& other : verdict.lines) {
    EXPECT_GE((other.limit->kg - std::abs(other.error_kg)) / other.budget->u_kg,
              (line.limit->kg - std::abs(line.error_kg)) / line.budget->u_kg);
  }
  EXPECT_NEAR(verdict.sampled->mean, line.error_kg, verdict.validation->delta);
  EXPECT_TRUE(verdict.validation->holds)
      << verdict.validation->d_low << " " << verdict.validation->delta;
}

TEST(VerdictSample, IsTheSameEveryTime) {
  ProofCase what = case_of(sound_r76());
  what.sample = true;
  const deck::Deck deck = weighbridge(60'000.0, 20.0, "R76");
  EXPECT_EQ(prove(deck, r76(), what).sampled->low, prove(deck, r76(), what).sampled->low);
}

}  // namespace
}  // namespace weighwright::proof
