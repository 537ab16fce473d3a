#include "job/deck_argument.h"

#include <gtest/gtest.h>

namespace weighwright::job {
namespace {

deck::Deck deck_of(int sections) {
  deck::Deck deck;
  deck.sections.resize(static_cast<std::size_t>(sections));
  deck.stands.resize(static_cast<std::size_t>(2 * sections));
  return deck;
}

TEST(LoadArgument, ReadsMetricAndUsWithAThousandsComma) {
  const ParsedLoad metric = parse_load("3.5 m,-0.6 m,10 t", 9.80665);
  ASSERT_TRUE(metric.load);
  EXPECT_DOUBLE_EQ(metric.load->x_m, 3.5);
  EXPECT_DOUBLE_EQ(metric.load->y_m, -0.6);
  EXPECT_DOUBLE_EQ(metric.load->force_N, 98066.5);
  // 1 ft = 0.3048 m, 1 lb = 0.453 592 37 kg, exact (NIST SP 811, B.8)
  const ParsedLoad us = parse_load("10 ft, 2 ft, 80,000 lb", 9.80665);
  ASSERT_TRUE(us.load) << us.faults.front().what;
  EXPECT_DOUBLE_EQ(us.load->x_m, 3.048);
  EXPECT_NEAR(us.load->force_N, 80000 * 0.45359237 * 9.80665, 1e-6);
}

TEST(LoadArgument, TellsAllThatIsWrongWithIt) {
  EXPECT_EQ(parse_load("", 9.8).faults.size(), 1U);
  EXPECT_EQ(parse_load("1 m,1 m", 9.8).faults.size(), 1U);
  EXPECT_EQ(parse_load("1,1,1", 9.8).faults.size(), 3U);
  EXPECT_EQ(parse_load("1 kg,1 m,1 ton", 9.8).faults.size(), 2U);
  EXPECT_EQ(parse_load("1 m,1 m,-1 t", 9.8).faults.size(), 1U);
  EXPECT_FALSE(parse_load("1 m,nan m,1 t", 9.8).load);
}

TEST(LiftArgument, ReadsStandAndRise) {
  const ParsedLift lift = parse_lift("2L, 3 mm", deck_of(2));
  ASSERT_TRUE(lift.lift);
  EXPECT_EQ(lift.lift->stand.value, 2);
  EXPECT_DOUBLE_EQ(lift.lift->lift_m, 0.003);
}

TEST(LiftArgument, TellsWhatIsWrong) {
  EXPECT_EQ(parse_lift("2L", deck_of(2)).faults.size(), 1U);
  EXPECT_EQ(parse_lift("3L,3", deck_of(2)).faults.size(), 2U);
  EXPECT_EQ(parse_lift("2L,-1 mm", deck_of(2)).faults.size(), 1U);
  EXPECT_NE(parse_lift("3L,3 mm", deck_of(2)).faults.front().expected.find("1L to 2R"),
            std::string::npos);
}

}  // namespace
}  // namespace weighwright::job
