#include "share/evidence.h"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "share/readings.h"

namespace weighwright::share {
namespace {

using namespace tests;
using record::Measurement;
using record::ReadingSet;

// Expected numbers by hand: 20 mV at 25 000 kg x 9.80665 m/s2, 2.5 mm a turn (M20, ISO 262).
class EvidenceOfReadings : public ::testing::Test {
 protected:
  deck::Deck deck_ = metered(statics::tests::deck_r1());
  statics::Model model_ = built(deck_);

  [[nodiscard]] GatheredEvidence gathered(const std::vector<Measurement>& events) const {
    return gather(deck_, model_, events);
  }
  [[nodiscard]] Evidence evidence(const std::vector<Measurement>& events) const {
    const GatheredEvidence result = gathered(events);
    for (const units::Diagnostic& fault : result.faults) ADD_FAILURE() << fault.what;
    return result.evidence.value();
  }
  void expect_fault(const std::vector<Measurement>& events,
                    const std::string& what,
                    const std::string& expected) const {
    const GatheredEvidence result = gathered(events);
    EXPECT_FALSE(result.evidence);
    ASSERT_FALSE(result.faults.empty());
    EXPECT_NE(result.faults[0].what.find(what), std::string::npos) << result.faults[0].what;
    EXPECT_NE(result.faults[0].expected.find(expected), std::string::npos)
        << result.faults[0].expected;
  }
};

TEST_F(EvidenceOfReadings, IsForceNetOfNoLoad) {
  ReadingSet set = readings_mV({1.0, 2.0, 3.0, 4.0});
  set.stands[1].no_load = 0.5;
  const Evidence seen = evidence({set});
  ASSERT_EQ(seen.states.size(), 1U);
  EXPECT_TRUE(seen.no_load_known);
  EXPECT_NEAR(seen.states[0].force_N(0), kFull_N / 20.0, 1e-6);
  EXPECT_NEAR(seen.states[0].force_N(1), 1.5 * kFull_N / 20.0, 1e-6);
  EXPECT_NEAR(seen.last[1].signal_V, 2e-3, 1e-15);
  EXPECT_NEAR(seen.last[1].no_load_V, 0.5e-3, 1e-15);
}

TEST_F(EvidenceOfReadings, AveragesRepeatsOfOneState) {
  const Evidence once = evidence({readings_mV({1.0, 1.0, 1.0, 1.0})});
  const Evidence twice =
      evidence({readings_mV({1.0, 1.0, 1.0, 1.0}), readings_mV({1.2, 1.0, 1.0, 1.0})});
  ASSERT_EQ(twice.states.size(), 1U);
  EXPECT_EQ(twice.states[0].readings, 2);
  EXPECT_NEAR(twice.states[0].force_N(0), 1.1 * kFull_N / 20.0, 1e-6);
  EXPECT_NEAR(twice.states[0].noise_N(0), once.states[0].noise_N(0) / std::sqrt(2.0), 1e-9);
}

// Standard deviation of rounding: step / sqrt(12) (JCGM 100:2008, F.2.2.1), beside 0.01 mV noise.
TEST_F(EvidenceOfReadings, IsAsUncertainAsMeterAndNoise) {
  const Evidence seen = evidence({readings_mV({1.0, 1.0, 1.0, 1.0})});
  const double sd_mV = std::hypot(0.01, 0.01 / std::sqrt(12.0));
  EXPECT_NEAR(seen.states[0].noise_N(2), sd_mV / kMvPerN, 1e-6);
}

// The same with what the instrument itself saw of its noise.
TEST_F(EvidenceOfReadings, IsAsNoisyAsTheInstrumentSays) {
  ReadingSet set = readings_mV({1.0, 1.0, 1.0, 1.0});
  set.stands[2].noise = 0.004;
  set.stands[3].noise = 0.0;
  const Evidence seen = evidence({set});
  const double rounding_mV = 0.01 / std::sqrt(12.0);
  EXPECT_NEAR(seen.states[0].noise_N(2), std::hypot(0.004, rounding_mV) / kMvPerN, 1e-6);
  EXPECT_NEAR(seen.states[0].noise_N(3), rounding_mV / kMvPerN, 1e-6);
}

TEST_F(EvidenceOfReadings, TakesASupplyOfItsOwn) {
  ReadingSet set = readings_mV({1.0, 1.0, 1.0, 1.0});
  set.stands[2].excitation_V = 5.0;
  const Evidence seen = evidence({set});
  EXPECT_NEAR(seen.states[0].force_N(2), 2.0 * seen.states[0].force_N(1), 1e-6);
  EXPECT_EQ(seen.last[2].excitation_V, 5.0);
  EXPECT_FALSE(seen.excitation_assumed);
}

TEST_F(EvidenceOfReadings, SaysWhenTheSupplyIsAssumed) {
  deck_.excitation_given = false;
  EXPECT_TRUE(evidence({readings_mV({1.0, 1.0, 1.0, 1.0})}).excitation_assumed);
  ReadingSet ratio = readings_mV({0.1, 0.1, 0.1, 0.1});
  ratio.unit = record::ReadingUnit::mV_per_V;  // needs no supply
  EXPECT_FALSE(evidence({ratio}).excitation_assumed);
}

TEST_F(EvidenceOfReadings, KnowsNoZerosWithoutANoLoadColumn) {
  const Evidence seen = evidence({readings_mV({1.0, 1.0, 1.0, 1.0}, false)});
  EXPECT_FALSE(seen.no_load_known);
  EXPECT_NEAR(seen.zero_N(0), deck_.sharing.zero_spread * kFull_N, 1e-6);
}

TEST_F(EvidenceOfReadings, KeepsNoLoadValuesForTheWholeHistory) {
  const Evidence seen = evidence({readings_mV({1.0, 1.0, 1.0, 1.0}, false), turns_of({{0, 1.0}}),
                                  readings_mV({1.1, 0.9, 0.9, 1.1}, true)});
  EXPECT_TRUE(seen.no_load_known);
}

TEST_F(EvidenceOfReadings, RefusesVoltsInAColumnOfMillivoltsAndAnythingBeyondTheCell) {
  // 20 mV is full output: 1.5 times that is the end.
  EXPECT_TRUE(gathered({readings_mV({29.9, 1.0, 1.0, 1.0})}).evidence);
  expect_fault({readings_mV({31.0, 1.0, 1.0, 1.0})}, "1L reads 31 mV", "millivolts");
  expect_fault({readings_mV({1.0, 1.0, -31.0, 1.0})}, "2L reads -31 mV", "20.00 mV");
  expect_fault({readings_mV({1090.0, 1090.0, 1090.0, 1090.0})}, "1L reads 1090 mV",
               "not microvolts");
  const GatheredEvidence result = gathered({readings_mV({1.0, 1.0, 1.0, 99.0})});
  ASSERT_EQ(result.faults.size(), 1U);
  EXPECT_EQ(result.faults[0].file, "readings.csv");
  EXPECT_EQ(result.faults[0].line, 5);
}

TEST_F(EvidenceOfReadings, RefusesCountsWithoutTheirScale) {
  ReadingSet set = readings_mV({1000.0, 1000.0, 1000.0, 1000.0}, false);
  set.unit = record::ReadingUnit::counts;
  expect_fault({set}, "counts", "counts = ");
  for (deck::Stand& stand : deck_.stands) stand.cell.counts = 200000.0;
  EXPECT_NEAR(evidence({set}).states[0].force_N(0), kFull_N / 200.0, 1e-6);
}

TEST_F(EvidenceOfReadings, RefusesTurnsAtAStandOnShims) {
  deck_.stands[3].adjust = deck::Adjust::shims;
  deck_.stands[3].shims_m = {1e-3};
  const ReadingSet set = readings_mV({1.0, 1.0, 1.0, 1.0});
  expect_fault({set, turns_of({{3, 1.0}}), set}, "2R stands on shims", "shim_mm");
}

TEST_F(EvidenceOfReadings, NeedsAReadingAtTheEnd) {
  const ReadingSet set = readings_mV({1.0, 1.0, 1.0, 1.0});
  expect_fault({set, turns_of({{0, 1.0}})}, "the last file is not a reading", "as the last file");
  expect_fault({}, "no readings", "stand,mV");
}

record::GapSet gap_under(int stand, double mm) {
  record::GapSet set;
  set.source = "gaps.csv";
  record::Gap gap;
  gap.place.stand = units::StandIndex{stand};
  gap.gap_mm = mm;
  set.gaps.push_back(gap);
  return set;
}

TEST_F(EvidenceOfReadings, RefusesGapsBeforeTheReadingTheyBelongTo) {
  const ReadingSet set = readings_mV({1.0, 1.0, 1.0, 1.0});
  expect_fault({gap_under(0, 0.5), set}, "nothing was read in this state", "readings file before");
  expect_fault({set, turns_of({{0, 1.0}}), gap_under(0, 0.5), set},
               "nothing was read in this state", "after the last turns");
}

TEST_F(EvidenceOfReadings, TakesGapsWithTheStateTheyWereMeasuredIn) {
  const ReadingSet set = readings_mV({0.0, 1.0, 1.0, 0.0});
  const Evidence seen = evidence({set, gap_under(3, 0.8)});
  ASSERT_EQ(seen.states[0].gaps.size(), 1U);
  EXPECT_EQ(model_.contacts[at(seen.states[0].gaps[0].contact)].stand.value, 3);
  EXPECT_NEAR(seen.states[0].gaps[0].gap_m, 0.8e-3, 1e-15);
  ReadingSet column = set;  // the same in a column of the readings
  column.stands[0].gap_mm = 0.3;
  EXPECT_NEAR(evidence({column}).states[0].gaps[0].gap_m, 0.3e-3, 1e-15);
}

TEST_F(EvidenceOfReadings, RefusesAGapAtABearingThatIsNotThere) {
  record::GapSet set = gap_under(0, 1.0);
  set.gaps[0].place.is_bearing = true;
  expect_fault({readings_mV({1.0, 1.0, 1.0, 1.0}), set}, "no bearings", "hinge");
}

TEST_F(EvidenceOfReadings, TakesATurnUntilTouchAsTheGapThatWasThere) {
  record::TurnSet turns = turns_of({{0, 0.5}});
  turns.stands[0].until_touch = true;
  const ReadingSet set = readings_mV({0.0, 1.0, 1.0, 0.2});
  const Evidence seen = evidence({set, turns, set});
  ASSERT_EQ(seen.states.size(), 2U);
  ASSERT_EQ(seen.states[0].gaps.size(), 1U);
  EXPECT_NEAR(seen.states[0].gaps[0].gap_m, 1.25e-3, 1e-15);
  EXPECT_TRUE(seen.states[1].gaps.empty());
  EXPECT_NEAR(seen.states[1].raise_m(0), 1.25e-3, 1e-15);
}

TEST_F(EvidenceOfReadings, AddsUpTurnsBetweenReadings) {
  const ReadingSet set = readings_mV({1.0, 1.0, 1.0, 1.0});
  const Evidence seen = evidence({set, turns_of({{0, 1.0}, {1, -0.5}}), turns_of({{0, 1.0}}), set});
  ASSERT_EQ(seen.states.size(), 2U);
  EXPECT_NEAR(seen.states[1].raise_m(0), 5e-3, 1e-15);
  EXPECT_NEAR(seen.states[1].raise_m(1), -1.25e-3, 1e-15);
  // Two turns of 5 % each, independent: 5 % / sqrt 2 of their sum.
  EXPECT_NEAR(seen.states[1].raise_error(0), 0.05 / std::sqrt(2.0), 1e-12);
  EXPECT_NEAR(seen.used_m(0), 5e-3, 1e-15);
}

record::MapSet map_of(const std::vector<std::pair<int, int>>& pairs) {
  record::MapSet map;
  map.source = "map.csv";
  for (const auto& [loaded, moved] : pairs) {
    map.loaded_and_moved.emplace_back(units::StandIndex{loaded}, units::StandIndex{moved});
  }
  return map;
}

TEST_F(EvidenceOfReadings, PutsExchangedStandsRightByTheMap) {
  const ReadingSet set = readings_mV({1.0, 2.0, 3.0, 4.0});
  const Evidence seen = evidence({map_of({{0, 2}, {1, 1}, {2, 0}, {3, 3}}), set});
  EXPECT_TRUE(seen.map_proven);
  EXPECT_TRUE(seen.remapped);
  const double expected_mV[] = {3.0, 2.0, 1.0, 4.0};
  for (int i = 0; i < 4; ++i) {
    EXPECT_NEAR(seen.states[0].force_N(i) * kMvPerN, expected_mV[i], 1e-12);
  }
}

TEST_F(EvidenceOfReadings, IsProvenByAMapThatChangesNothing) {
  const Evidence seen =
      evidence({map_of({{0, 0}, {1, 1}, {2, 2}, {3, 3}}), readings_mV({1.0, 2.0, 3.0, 4.0})});
  EXPECT_TRUE(seen.map_proven);
  EXPECT_FALSE(seen.remapped);
}

TEST_F(EvidenceOfReadings, RefusesAMapInWhichTwoStandsMovedOneReading) {
  expect_fault({map_of({{0, 1}, {1, 1}}), readings_mV({1.0, 2.0, 3.0, 4.0})},
               "two stands moved the same reading", "loaded in turn");
}

record::HeightSet survey_mm(std::vector<std::optional<double>> mm) {
  record::HeightSet set;
  set.source = "heights.csv";
  set.height_mm = std::move(mm);
  return set;
}

TEST_F(EvidenceOfReadings, RefersASurveyBackToTheFirstReading) {
  const ReadingSet set = readings_mV({1.0, 1.0, 1.0, 1.0});
  const Evidence seen = evidence({set, turns_of({{0, 1.0}}), survey_mm({5.0, 1.0, {}, 0.0}), set});
  EXPECT_NEAR(seen.survey_m(0), 2.5e-3, 1e-15);  // 5 mm less the turn of 2.5 mm
  EXPECT_NEAR(seen.survey_m(1), 1e-3, 1e-15);
  EXPECT_TRUE(std::isnan(seen.survey_m(2)));
  EXPECT_EQ(seen.survey_m(3), 0.0);
}

// The first reading is taken after the turn: by then 1L stands 2.5 mm higher than surveyed.
TEST_F(EvidenceOfReadings, RaisesASurveyByWhatWasTurnedBeforeTheFirstReading) {
  const ReadingSet set = readings_mV({1.0, 1.0, 1.0, 1.0});
  const Evidence before = evidence({survey_mm({5.0, 0.0, 0.0, 0.0}), turns_of({{0, 1.0}}), set});
  EXPECT_NEAR(before.survey_m(0), 7.5e-3, 1e-15);
  const Evidence after = evidence({turns_of({{0, 1.0}}), survey_mm({7.5, 0.0, 0.0, 0.0}), set});
  EXPECT_NEAR(after.survey_m(0), 7.5e-3, 1e-15);
}

// Travel is from the screws' position at the first reading.
TEST_F(EvidenceOfReadings, CountsTravelFromTheFirstReading) {
  const ReadingSet set = readings_mV({1.0, 1.0, 1.0, 1.0});
  const Evidence seen = evidence({turns_of({{0, 1.0}}), set, turns_of({{0, 0.5}}), set});
  EXPECT_NEAR(seen.used_m(0), 1.25e-3, 1e-15);
}

}  // namespace
}  // namespace weighwright::share
