#include "rehearsal/site.h"

#include <gtest/gtest.h>

#include <cmath>
#include <set>

#include "statics/decks.h"

namespace weighwright::rehearsal {
namespace {

using statics::tests::deck_r3;

/// Truth and deck file agree in everything.
Spread exact() {
  Spread spread;
  spread.twist_factor = spread.bend_factor = spread.stand_factor = 1.0;
  spread.mass = spread.side_m = spread.height_m = spread.place_m = 0.0;
  spread.noise_V = spread.turn_error = spread.gap_m = spread.survey_m = 0.0;
  return spread;
}

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

record::StandTurn turn(int stand, double turns) {
  record::StandTurn made;
  made.stand = units::StandIndex{stand};
  made.turns = turns;
  return made;
}

bool same(const record::ReadingSet& a, const record::ReadingSet& b) {
  for (std::size_t i = 0; i < a.stands.size(); ++i) {
    if (a.stands[i].value != b.stands[i].value) return false;
  }
  return true;
}

TEST(PracticeSite, AnswersAlikeForTheSameSeed) {
  Site one(deck_r3(), {}, 7);
  Site two(deck_r3(), {}, 7);
  Site other(deck_r3(), {}, 8);
  const record::ReadingSet first = one.read(true);
  EXPECT_TRUE(same(first, two.read(true)));
  EXPECT_FALSE(same(first, other.read(true)));
  for (Site* site : {&one, &two}) site->turn({turn(2, 0.5)});
  EXPECT_TRUE(same(one.read(true), two.read(true)));
}

// Hand statics of the carried beams (R1 = W L / 2(L-a), R2 = W/2 + J; L = 7, a = 0.3,
// W = 5200 kg): 13 319.48 and 24 926.46 N a stand; at 0.0815773 mV/kN: 1.0866 and 2.0334 mV.
TEST(PracticeSite, WithoutSpreadReadsWhatStaticsDemands) {
  Site site(deck_r3(), exact(), 1);
  const record::ReadingSet set = site.read(true);
  const double expected_mV[] = {1.09, 1.09, 2.03, 2.03, 2.03, 2.03, 1.09, 1.09};
  for (int i = 0; i < 8; ++i) EXPECT_NEAR(set.stands[at(i)].value, expected_mV[i], 1e-9);
}

// Influence of 1L of this deck, computed with CalculiX 2.20 (U1 beams): 0.571027, -0.571027,
// -0.593363, +0.593363, +0.022410, -0.022410, -0.000074, +0.000074 kN/mm.
TEST(PracticeSite, AnswersATurnByTheInfluenceOfTheStand) {
  Spread fine = exact();
  fine.resolution_V = 1e-9;
  Site site(deck_r3(), fine, 1);
  const record::ReadingSet before = site.read(false);
  site.turn({turn(0, 1.0)});  // 2.5 mm
  const record::ReadingSet after = site.read(false);
  const double kN_per_mm[] = {0.571027, -0.571027, -0.593363, 0.593363,
                              0.022410, -0.022410, -0.000074, 0.000074};
  for (int i = 0; i < 8; ++i) {
    const double change_mV = after.stands[at(i)].value - before.stands[at(i)].value;
    EXPECT_NEAR(change_mV, 2.5 * kN_per_mm[i] * 0.0815773, 3e-6);
  }
}

TEST(PracticeSite, TakesAShimAsItsThickness) {
  Site site(deck_r3(), exact(), 1);
  record::StandTurn shim;
  shim.stand = units::StandIndex{3};
  shim.shim_mm = 2.0;
  site.turn({shim});
  EXPECT_NEAR(site.true_heights_m()(3), 2e-3, 0.1e-3);  // sheet steel, within a few percent
}

// The stiff deck with 1L 5 mm low stands module A on three points: (R1 - J)/2 and (R1 + J)/2 at
// section 1 by moments about the line of the others, R1 = 26 638.96 N, J = 24 355.62 N.
TEST(PracticeSite, LetsABearingHangByThreePointStatics) {
  Site site(deck_r3(200e6), exact(), 1);
  site.turn({turn(0, -2.0)});
  EXPECT_NEAR(site.true_state().stand_N(0), 1141.67, 0.01);
  EXPECT_NEAR(site.true_state().stand_N(1), 25497.29, 0.01);
  const record::GapSet gaps = site.gaps();
  ASSERT_EQ(gaps.gaps.size(), 1U);
  EXPECT_TRUE(gaps.gaps[0].place.is_bearing);
  EXPECT_EQ(gaps.gaps[0].place.joint, 0);
  EXPECT_EQ(gaps.gaps[0].place.side, units::Side::right);
  EXPECT_GT(gaps.gaps[0].gap_mm, 1.0);
  EXPECT_LT(gaps.gaps[0].gap_mm, 5.0);  // no more than the stand was lowered
}

TEST(PracticeSite, MeasuresGapsJustWhereAContactCarriesNothing) {
  int hanging = 0;
  for (std::uint64_t seed = 0; seed < 60; ++seed) {
    Spread spread;
    spread.height_m = seed % 2 == 0 ? 4e-3 : 0.1e-3;
    Site site(deck_r3(285e6), spread, seed);
    std::set<int> open;
    for (int c = 0; c < site.true_model().contact_count(); ++c) {
      if (site.true_state().contact_N(c) <= 0.0) open.insert(c);
    }
    const record::GapSet gaps = site.gaps();
    ASSERT_EQ(gaps.gaps.size(), open.size());
    hanging += open.empty() ? 0 : 1;
    for (const record::Gap& gap : gaps.gaps) {
      EXPECT_GT(gap.gap_mm, 0.0);
      bool found = false;
      for (const int c : open) {
        const statics::Contact& contact = site.true_model().contacts[at(c)];
        found |=
            contact.is_bearing == gap.place.is_bearing &&
            (contact.is_bearing ? contact.joint == gap.place.joint && contact.side == gap.place.side
                                : contact.stand == gap.place.stand);
      }
      EXPECT_TRUE(found);
    }
  }
  EXPECT_GT(hanging, 20);  // stiff boxes hang on pads 4 mm off (by some 5 kN/mm), not on good ones
  EXPECT_LT(hanging, 40);
}

TEST(PracticeSite, HasZerosInReadingsAndInNoLoadReadings) {
  Spread spread = exact();
  spread.zero = 0.01;  // 0.2 mV of 20 mV
  Site site(deck_r3(), spread, 5);
  const record::ReadingSet with = site.read(true);
  const double expected_mV[] = {1.0866, 1.0866, 2.0334, 2.0334, 2.0334, 2.0334, 1.0866, 1.0866};
  double most = 0.0;
  for (int i = 0; i < 8; ++i) {
    const record::StandReading& reading = with.stands[at(i)];
    ASSERT_TRUE(reading.no_load);
    most = std::max(most, std::abs(*reading.no_load));
    EXPECT_NEAR(reading.value - *reading.no_load, expected_mV[i], 0.011);  // two roundings
    EXPECT_NEAR(*reading.no_load, site.true_zero_V()(i) * 1e3, 0.006);
  }
  EXPECT_GT(most, 0.05);
  const record::ReadingSet without = site.read(false);
  for (const record::StandReading& reading : without.stands) EXPECT_FALSE(reading.no_load);
}

// Sample standard deviation of n normal values: relative standard error 1/sqrt(2n), n = 480: 3.2 %.
TEST(PracticeSite, ScattersHeightsAsItSays) {
  double square = 0.0;
  int count = 0;
  for (std::uint64_t seed = 100; seed < 160; ++seed) {
    const Site site(deck_r3(), {}, seed);
    square += site.true_heights_m().squaredNorm();
    count += static_cast<int>(site.true_heights_m().size());
  }
  EXPECT_NEAR(std::sqrt(square / count), 4e-3, 0.13 * 4e-3);
}

TEST(PracticeSite, SurveysItsOwnHeights) {
  Site site(deck_r3(), {}, 3);
  const record::HeightSet survey = site.survey();
  ASSERT_EQ(survey.height_mm.size(), 8U);
  double most = 0.0;
  for (int i = 0; i < 8; ++i) {
    most = std::max(most, std::abs(*survey.height_mm[at(i)] - site.true_heights_m()(i) * 1e3));
  }
  EXPECT_LT(most, 4.5);  // standard deviation 1 mm
  EXPECT_GT(most, 0.1);
}

}  // namespace
}  // namespace weighwright::rehearsal
