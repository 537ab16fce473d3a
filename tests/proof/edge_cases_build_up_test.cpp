// Edge cases 15 and 16: substitutes, the way down, zero after each unloading. The others:
// edge_cases_test.cpp.
#include <gtest/gtest.h>

#include "verdict_results.h"

namespace weighwright::proof {
namespace {

using namespace tests;  // NOLINT(google-build-using-namespace)
using rules::Occasion;

Verdict r76_part(const std::vector<ProofReading>& rows) {
  return prove(weighbridge(60'000.0, 20.0, "R76"), r76(), part_of(rows));
}

/// Rows of a build-up of 10 t steps with this many substitutes, each shown `off` beside what it
/// repeats; weights show 20 kg too much.
std::vector<ProofReading> build_up(int substitutes, double off_kg) {
  std::vector<ProofReading> rows = {row("zero", 0.0, 0.0), row("increasing", 10'000.0, 10'020.0)};
  std::string heap;
  double heap_shows = 0.0;
  for (int i = 1; i <= substitutes; ++i) {
    heap += (heap.empty() ? "s" : "+s") + std::to_string(i);
    heap_shows += 10'020.0 + off_kg;
    rows.push_back(with_material(row("increasing", 0.0, heap_shows), heap));
    rows.push_back(with_material(row("increasing", 10'000.0, heap_shows + 10'020.0), heap));
  }
  return rows;
}

// outside check: edge cases 15 and 16: substitutes, way down, zero | R 76-1:2006, 3.7.3 (from
//  memory, unverified), 3.9.4.2, A.4.4.1; HB 44, Table 4 note 2 (from memory, unverified)
// L_sub = P_sub - E (R 76-1:2006, 3.7.3, from memory, unverified): the error found with the weights
// is carried forward, and no digit is lost.
TEST(EdgeCase15, SubstituteIsWorthItsIndicationLessTheErrorFound) {
  std::vector<ProofReading> rows = {changeover("zero", 0.0, 0.0, 20.0),
                                    changeover("increasing", 10'000.0, 4.3, 20.0)};
  ProofReading sub = with_material(row("increasing", 0.0, 9980.0), "s1");
  sub.reading.added_kg = 7.2;  // P 9982.8
  rows.push_back(sub);
  rows.push_back(with_material(changeover("increasing", 10'000.0, 9986.8, 20.0), "s1"));
  const Verdict verdict = r76_part(rows);
  EXPECT_NEAR(verdict.substitutes.at(0).kg, 9978.5, 1e-9);
  EXPECT_NEAR(verdict.lines.back().load_kg, 19'978.5, 1e-9);
  EXPECT_NEAR(verdict.lines.back().error_kg, 8.3, 1e-9);  // 4.3 grew; it was not set to 0
}

TEST(EdgeCase15, ZeroErrorCancelsInASubstitute) {
  std::vector<ProofReading> rows = build_up(1, 0.0);
  rows[0] = row("zero", 0.0, 20.0);
  for (std::size_t i = 1; i < rows.size(); ++i) rows[i].reading.indication_kg += 20.0;
  const Verdict verdict = prove(weighbridge(60'000.0, 20.0, "H44"), h44(), part_of(rows));
  EXPECT_NEAR(verdict.substitutes.at(0).kg, 10'000.0, 1e-9);
}

// HB 44, Table 4, note 2 (from memory, unverified): not more than three substitutions, then by
// strain-load rules.
TEST(EdgeCase15, MoreThanThreeSubstitutesGoByStrainRulesInHandbook44) {
  ProofCase what = part_of(build_up(4, 0.0));
  what.occasion = Occasion::routine;
  const Verdict verdict = prove(weighbridge(60'000.0, 20.0, "H44"), h44(), what);
  ASSERT_EQ(verdict.lines.size(), 5U) << told(verdict);
  const JudgedLine& third = verdict.lines[3];
  EXPECT_FALSE(third.by_strain);
  EXPECT_NEAR(third.load_kg, 40'000.0, 1e-9);
  EXPECT_NEAR(third.error_kg, 80.0, 1e-9);
  const JudgedLine& fourth = verdict.lines[4];
  EXPECT_TRUE(fourth.by_strain);
  EXPECT_NEAR(fourth.load_kg, 10'000.0, 1e-9);
  EXPECT_NEAR(fourth.error_kg, 20.0, 1e-9);
  EXPECT_DOUBLE_EQ(fourth.limit->kg, 20.0);  // 1 d of 500 d, not 5 d of 2500 d
  EXPECT_NE(find(verdict, "substitution_many"), nullptr);
}

// R 76-1:2006, A.4.4.1 (quoted by OIML Bulletin 2001/04): the same loads going down.
TEST(EdgeCase16, EveryLoadIsWeighedGoingDownAsWell) {
  std::vector<ProofReading> rows = sound_r76();
  for (ProofReading& one : rows) {
    if (one.check != "decreasing" || *one.reading.load_kg != 20'000.0) continue;
    one.reading.load_kg = 15'000.0;
    one.weights = names_of(15'000.0);
    one.reading.indication_kg = 15'000.0;
    one.reading.added_kg = 10.0;
  }
  const Verdict verdict = prove(weighbridge(60'000.0, 20.0, "R76"), r76(), case_of(rows));
  EXPECT_EQ(verdict.outcome, Outcome::incomplete);
  ASSERT_EQ(verdict.missing.size(), 1U);
  EXPECT_EQ(verdict.missing[0].code, "decreasing_loads");
  EXPECT_DOUBLE_EQ(verdict.missing[0].load_kg, 20'000.0);
}

// Return to zero within 0.5 e (R 76-1:2006, 3.9.4.2, quoted by OIML Bulletin 1990/04).
TEST(EdgeCase16, ZeroIsJudgedAfterEachUnloading) {
  std::vector<ProofReading> rows = {changeover("zero", 0.0, 0.0, 20.0)};
  for (const double after : {4.0, 9.0, 20.5}) {
    rows.push_back(changeover("repeatability", 30'000.0, 2.0, 20.0));
    rows.push_back(changeover("zero", 0.0, after, 20.0));
  }
  const Verdict verdict = r76_part(rows);
  std::vector<double> changes;
  std::vector<bool> passed;
  for (const JudgedZero& zero : verdict.zeros) {
    if (!zero.after_load) continue;
    changes.push_back(zero.change_kg);
    passed.push_back(zero.passed);
    EXPECT_DOUBLE_EQ(zero.limit.kg, 10.0);
    EXPECT_NEAR(zero.load_kg, 30'002.0, 1e-9);
  }
  ASSERT_EQ(changes.size(), 3U);
  EXPECT_NEAR(changes[0], 4.0, 1e-9);
  EXPECT_NEAR(changes[1], 5.0, 1e-9);
  EXPECT_NEAR(changes[2], 11.5, 1e-9);
  EXPECT_EQ(passed, (std::vector<bool>{true, true, false}));
  // Nobody says that the load stood there for half an hour: told, never failed.
  EXPECT_EQ(verdict.outcome, Outcome::pass);
  EXPECT_NE(find(verdict, "zero_moved"), nullptr);
}

// HB 44, N.1.9 (from memory, unverified): after any load. R 76-1, 3.9.4.2: after half an hour.
TEST(EdgeCase16, ATableThatEndsLoadedMissesItsZero) {
  std::vector<ProofReading> rows = sound_h44();
  rows.back().reading.zero_after_kg.reset();
  ProofCase what = case_of(rows);
  what.occasion = rules::Occasion::routine;
  const Verdict verdict = prove(weighbridge(60'000.0, 20.0, "H44"), h44(), what);
  EXPECT_EQ(verdict.outcome, Outcome::incomplete);
  EXPECT_TRUE(is_missing(verdict, Check::discrimination, "zero_after")) << told(verdict);
  rows = sound_r76();
  rows.back().reading.zero_after_kg.reset();
  const Verdict other = prove(weighbridge(60'000.0, 20.0, "R76"), r76(), case_of(rows));
  EXPECT_EQ(other.outcome, Outcome::pass) << told(other);
  EXPECT_NE(find(other, "zero_after_unread"), nullptr);
}

}  // namespace
}  // namespace weighwright::proof
