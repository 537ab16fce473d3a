// What is prescribed is the least: in the plan, and in what a verdict accepts.
#include <gtest/gtest.h>

#include "plan_sites.h"
#include "verdict_results.h"

// outside check: 20 t on each quarter of a 60 t deck on four stands, 8571.4 kg over each of eight
//  supports | R 76-1:2006, 3.6.2.1 and 3.6.2.2, as quoted by OIML Bulletin 2001/04 and Northern
//  Ireland SR 2006/5, Schedule 2, 18(a)
// outside check: at least 12.5 % of capacity over each section: 25 000 lb of 200 000 lb | HB 44,
//  2.20, N.1.3.3.1 (from memory, unverified)

namespace weighwright::proof {
namespace {

using namespace tests;  // NOLINT(google-build-using-namespace)
using tests::pieces;

TEST(PrescribedLoads, ThePlanPutsNoLessOverASupportThanTheWeightsCanMake) {
  for (const int sections : {2, 4}) {
    const deck::Deck deck = chain(sections, "R76", 60'000.0, 20.0);
    PlanRequest request = request_of(sixty_tonnes());
    request.rolling = false;
    const TestPlan plan = plan_of(deck, request);
    const double wanted = sections == 2 ? 20'000.0 : 60'000.0 / 7.0;
    const auto placements = of_check(plan, Check::eccentric);
    ASSERT_EQ(placements.size(), static_cast<std::size_t>(2 * sections)) << tests::told(plan);
    for (const Placement& one : placements) {
      // A third of 0.5 e or 1 e, which is what weights may be off by.
      EXPECT_GE(one.load_kg, wanted - (wanted > 10'000.0 ? 20.0 : 10.0) / 3.0) << tests::told(plan);
    }
  }
}

TEST(PrescribedLoads, ThePlanTakesALittleMoreWhereBlocksMakeNoLess) {
  PlanRequest request = request_of({pieces("T", 2000.0, 30), pieces("K", 20.0, 25)});
  request.rolling = false;
  const TestPlan plan = plan_of(chain(4, "R76", 60'000.0, 20.0), request);
  for (const Placement& one : of_check(plan, Check::eccentric)) {
    EXPECT_GE(one.load_kg, 8'568.0) << tests::told(plan);
  }
  EXPECT_EQ(finding_of(plan, "load_short"), nullptr) << tests::told(plan);
}

TEST(PrescribedLoads, ThePlanTellsWhereTheWeightsMakeLess) {
  // Half of Max is there, but only in pieces that make 19.5 t and then 39 t.
  record::Weight blocks = certified_vehicle("T", 19'500.0, 1.2, record::Handling::crane);
  blocks.width_m = 1.2;
  blocks.count = 2;
  PlanRequest request = request_of({blocks, pieces("K", 20.0, 10)});
  request.rolling = false;
  const TestPlan plan = plan_of(chain(2, "R76", 60'000.0, 20.0), request);
  ASSERT_NE(finding_of(plan, "load_short"), nullptr) << tests::told(plan);
  EXPECT_FALSE(finding_of(plan, "load_short")->blocks);
}

/// Eight supports, each with so much.
Verdict over_supports(double load_kg) {
  deck::Deck deck = chain(4, "R76", 60'000.0, 20.0);
  std::vector<ProofReading> rows{changeover("zero", 0.0, 0.0, 20.0)};
  for (int stand = 0; stand < 8; ++stand) {
    ProofReading one = tests::at_stand(changeover("eccentric", load_kg, 1.0, 20.0), stand);
    one.weights.clear();
    rows.push_back(zeroed(one, 0.0, 0.0));
  }
  return prove(deck, r76(), case_of(rows));
}

TEST(PrescribedLoads, TheVerdictTakesNoLessOverASupport) {
  EXPECT_FALSE(is_missing(over_supports(8'572.0), Check::eccentric, "load"));
  EXPECT_FALSE(is_missing(over_supports(8'570.0), Check::eccentric, "load"));
  EXPECT_TRUE(is_missing(over_supports(7'900.0), Check::eccentric, "load"));
}

/// 200 000 lb by 20 lb on three sections.
deck::Deck in_pounds() {
  deck::Deck deck = weighbridge(200'000.0 * kPound, 20.0 * kPound, "H44");
  deck.units = deck::UnitSystem::us;
  deck.clc_kg = 80'000.0 * kPound;
  return deck;
}

Verdict over_sections(double load_lb) {
  std::vector<ProofReading> rows{row("zero", 0.0, 0.0)};
  for (int section = 0; section < 3; ++section) {
    ProofReading one =
        tests::at_section(row("section", load_lb * kPound, load_lb * kPound), section);
    one.weights.clear();
    rows.push_back(zeroed(one, 0.0, 0.0));
  }
  return prove(in_pounds(), h44(), case_of(rows));
}

TEST(PrescribedLoads, TheVerdictTakesNoLessOverASection) {
  EXPECT_FALSE(is_missing(over_sections(25'000.0), Check::section, "load"));
  EXPECT_TRUE(is_missing(over_sections(24'000.0), Check::section, "load"));
}

TEST(PrescribedLoads, WithoutTheClcNoHandbookTestPasses) {
  ProofCase what = case_of(sound_h44());
  what.occasion = rules::Occasion::routine;
  deck::Deck deck = weighbridge(60'000.0, 20.0, "H44");
  EXPECT_EQ(prove(deck, h44(), what).outcome, Outcome::pass);
  deck.clc_kg.reset();
  const Verdict verdict = prove(deck, h44(), what);
  EXPECT_EQ(verdict.outcome, Outcome::incomplete) << tests::told(verdict);
  EXPECT_TRUE(is_missing(verdict, Check::section, "clc"));
  what.complete = false;
  EXPECT_EQ(prove(deck, h44(), what).outcome, Outcome::incomplete);
}

TEST(PrescribedLoads, TenThousandPoundsAreNotNearZero) {
  const auto at = [](double load_lb) {
    const double d = 20.0 * kPound;
    ProofReading one =
        small_load(load_lb * kPound, load_lb * kPound, 1.4 * d, load_lb * kPound + 2.0 * d);
    one.weights.clear();
    return prove(in_pounds(), h44(), case_of({row("zero", 0.0, 0.0), one}));
  };
  const auto wants_near_zero = [](const Verdict& verdict) {
    return std::any_of(verdict.missing.begin(), verdict.missing.end(), [](const Missing& one) {
      return one.check == Check::discrimination && one.code == "load" &&
             std::abs(one.load_kg - 400.0 * kPound) < 0.1;
    });
  };
  EXPECT_TRUE(wants_near_zero(at(10'000.0)));
  EXPECT_FALSE(wants_near_zero(at(400.0)));
  EXPECT_FALSE(wants_near_zero(at(0.0)));
}

TEST(PrescribedLoads, ThePlanLooksNearZeroOnTheEmptyDeckWhereTheFirstLoadIsGreat) {
  deck::Deck deck = chain(4, "H44", 200'000.0 * kPound, 20.0 * kPound);
  deck.units = deck::UnitSystem::us;
  deck.clc_kg = 80'000.0 * kPound;
  const TestPlan plan = plan_of(deck, request_of(pounds(60)));
  const auto steps = of_check(plan, Check::discrimination);
  ASSERT_FALSE(steps.empty()) << tests::told(plan);
  EXPECT_LE(steps.front().load_kg, 400.0 * kPound) << tests::told(plan);
}

}  // namespace
}  // namespace weighwright::proof
