// Six steps of substitution, computed by an independent script.
#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "verdict_results.h"

namespace weighwright::proof {
namespace {

using namespace tests;  // NOLINT(google-build-using-namespace)

// outside check: uncertainty of six steps of substitution | independent script (numpy) on the
//  formulas of EURAMET cg-18 v4.0, which are from memory, unverified
// A table computed by an independent script (numpy) for 10 t of weights and five substitutes. Its
// inputs, recovered from its figures: ten 1 t blocks of class M1 (50 g each, R 111-1:2004, Table
// 1), not adjusted before the test, nothing known of the air (cg-18 case B1); zero and loads read
// to 1 kg; s = 0.9 kg from 6 readings; places that differ by 3 kg at 10 t. Columns: load,
// indication, u of the reference load, u by place, u, degrees of freedom with the repeatability
// counted once, 2 u. Formulas are cg-18's (from memory, unverified).
struct Step {
  double load, indication, u_reference, u_place, u, dof, twice;
};
constexpr std::array<Step, 6> kSteps = {{{10'000, 10'004, 0.3295, 0.8664, 1.3549, 25.7, 2.710},
                                         {19'994, 20'003, 1.4902, 1.7323, 2.4897, 32.5, 4.979},
                                         {29'992, 30'004, 2.1331, 2.5984, 3.5041, 46.0, 7.008},
                                         {39'996, 40'006, 2.6640, 3.4646, 4.4807, 62.7, 8.961},
                                         {49'995, 50'011, 3.1401, 4.3311, 5.4401, 82.4, 10.880},
                                         {59'998, 60'014, 3.5834, 5.1974, 6.3898, 105.0, 12.780}}};

ProofReading fine(std::string check, double load_kg, double shows_kg) {
  ProofReading one = row(std::move(check), load_kg, shows_kg);
  one.reading.resolution_kg = 1.0;
  if (load_kg > 0.0) one.weights = {"T*10"};
  return one;
}

Verdict substitution_steps() {
  std::vector<ProofReading> rows = {fine("zero", 0.0, 0.0)};
  const double spread = std::sqrt(5.0 * 0.81 / 6.0);  // six readings whose s is 0.9
  for (int i = 0; i < 6; ++i) {
    rows.push_back(fine("repeatability", 10'000.0, 10'000.0 + (i % 2 == 0 ? spread : -spread)));
  }
  rows.push_back(at_stand(fine("eccentric", 10'000.0, 10'003.0), 0));
  rows.push_back(at_stand(fine("eccentric", 10'000.0, 9'997.0), 1));
  std::string heap;
  for (std::size_t i = 0; i < kSteps.size(); ++i) {
    rows.push_back(with_material(fine("increasing", 10'000.0, kSteps[i].indication), heap));
    if (i + 1 == kSteps.size()) break;
    // The substitute repeats the indication but for what the next load of the table says.
    const double shows = kSteps[i].indication + kSteps[i + 1].load - kSteps[i].load - 10'000.0;
    heap += (heap.empty() ? "m" : "+m") + std::to_string(i + 1);
    rows.push_back(with_material(fine("increasing", 0.0, shows), heap));
  }
  ProofCase what = part_of(rows);
  what.sample = true;
  return prove(weighbridge(60'100.0, 20.0, "R76"), r76(), what);
}

TEST(FixtureSubstitution, BudgetOfEveryStepIsTheComputedOne) {
  const Verdict verdict = substitution_steps();
  std::size_t step = 0;
  for (const JudgedLine& line : verdict.lines) {
    if (line.check != Check::increasing) continue;
    ASSERT_LT(step, kSteps.size());
    const Step& want = kSteps[step++];
    ASSERT_TRUE(line.budget);
    const Budget& budget = *line.budget;
    EXPECT_NEAR(line.load_kg, want.load, 1e-9);
    EXPECT_NEAR(line.error_kg, want.indication - want.load, 1e-9);
    const double reference =
        std::hypot(u_of(budget, "weights"), u_of(budget, "buoyancy"), u_of(budget, "substitution"));
    EXPECT_NEAR(reference, want.u_reference, 0.6e-4) << want.load;
    EXPECT_NEAR(u_of(budget, "eccentricity"), want.u_place, 0.6e-4) << want.load;
    EXPECT_NEAR(budget.u_kg, want.u, 0.6e-4) << want.load;
    EXPECT_NEAR(2.0 * budget.u_kg, want.twice, 0.6e-3) << want.load;
    EXPECT_NEAR(budget.dof, want.dof, want.dof > 100.0 ? 0.5 : 0.06) << want.load;
  }
  EXPECT_EQ(step, kSteps.size());
}

// The table's lesson: from the third step on U is above a third of the limit (7.008 > 6.67).
TEST(FixtureSubstitution, IsNoLongerCapableFromTheThirdStep) {
  const Verdict verdict = substitution_steps();
  std::vector<bool> third;
  for (const JudgedLine& line : verdict.lines) {
    if (line.check == Check::increasing) {
      ASSERT_TRUE(line.budget && line.limit);
      third.push_back(2.0 * line.budget->u_kg <= line.limit->kg / 3.0);
    }
  }
  EXPECT_EQ(third, (std::vector<bool>{true, true, false, false, false, false}));
}

// The last step is nearest its limit. Drawn reading by reading, the same but for s, of which only
// six readings tell: its variance counts nu/(nu - 2) times (JCGM 101:2008, 6.4.9.4), nu = 5, in
// eleven readings.
TEST(FixtureSubstitution, MonteCarloOfTheLastStepAgrees) {
  const Verdict verdict = substitution_steps();
  ASSERT_TRUE(verdict.sampled);
  ASSERT_EQ(verdict.sampled_line, static_cast<int>(verdict.lines.size()) - 1);
  const double repeats = 11.0 * 0.81;
  const double expected = std::sqrt(6.3898 * 6.3898 + repeats * (5.0 / 3.0 - 1.0));
  EXPECT_NEAR(verdict.sampled->u, expected, 0.05);  // ends and u are run to 0.1 at 2 s
  EXPECT_TRUE(verdict.validation->holds);
}

}  // namespace
}  // namespace weighwright::proof
