#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <string>

#include "record/file_text.h"

namespace weighwright::record {
namespace {

using testing::expect_fault;
using testing::expect_only_fault;
using testing::faults_of;
using testing::read;

// What is expected here follows from the format that csv.h states; there is no outside source for
// it. Pound and foot: NIST Special Publication 811 (2008), B.8, 0.453 592 37 kg and 0.3048 m exact.

TEST(ShiftReadings, StandAtStandsSectionsAndSpans) {
  const auto set = read<ShiftSet>(
      "at,load_kg,indication_kg\n,0,0\n2L,10000,9980\n2,10000,9990\n1-2,10000,10000\n");
  ASSERT_EQ(set.readings.size(), 4U);
  EXPECT_FALSE(set.us);
  EXPECT_EQ(set.source, "file.csv");
  EXPECT_EQ(set.readings[0].place.kind, LoadPlace::Kind::deck);
  EXPECT_EQ(set.readings[0].load_kg, 0.0);
  EXPECT_EQ(set.readings[1].place.kind, LoadPlace::Kind::stand);
  EXPECT_EQ(set.readings[1].place.stand, units::StandIndex{2});
  EXPECT_EQ(set.readings[1].place.typed, "2L");
  EXPECT_EQ(set.readings[1].indication_kg, 9980.0);
  EXPECT_EQ(set.readings[1].line, 3);
  EXPECT_EQ(set.readings[2].place.kind, LoadPlace::Kind::section);
  EXPECT_EQ(set.readings[2].place.section, units::SectionIndex{1});
  EXPECT_EQ(set.readings[3].place.kind, LoadPlace::Kind::span);
  EXPECT_EQ(set.readings[3].place.section, units::SectionIndex{0});
  EXPECT_EQ(set.readings[3].place.typed, "1-2");
}

TEST(ShiftReadings, AreReadInMetresAndFeetPoundsAndKilograms) {
  const auto metric = read<ShiftSet>("x_m,y_m,load_kg,indication_kg\n0.3,-1.2,1e4,9980.5\n");
  EXPECT_EQ(metric.readings[0].place.kind, LoadPlace::Kind::point);
  EXPECT_EQ(metric.readings[0].place.x_m, 0.3);
  EXPECT_EQ(metric.readings[0].place.y_m, -1.2);
  EXPECT_EQ(metric.readings[0].place.typed, "");
  EXPECT_EQ(metric.readings[0].load_kg, 10000.0);
  EXPECT_DOUBLE_EQ(metric.readings[0].last_digit_kg, 0.1);
  const auto us = read<ShiftSet>("x_ft,y_ft,load_lb,indication_lb\n10,4,20000,19980\n");
  EXPECT_DOUBLE_EQ(us.readings[0].place.x_m, 3.048);
  EXPECT_DOUBLE_EQ(us.readings[0].load_kg.value_or(0.0), 9071.8474);  // 20000 * 0.453 592 37
  EXPECT_DOUBLE_EQ(us.readings[0].indication_kg, 19980.0 * 0.45359237);
  EXPECT_DOUBLE_EQ(us.readings[0].last_digit_kg, 0.45359237);
  EXPECT_TRUE(us.us);
  const auto both = read<ShiftSet>("at,load_kg,indication_lb\n1,1000,2200\n");
  EXPECT_EQ(both.readings[0].load_kg, 1000.0);
  EXPECT_TRUE(both.us);
}

TEST(ShiftReadings, MaySayTheirUnitsInTheFields) {
  const auto set = read<ShiftSet>(
      "x,y,load,indication,zero_before,resolution\n"
      "300 mm,-4 ft,\"20,000 lb\",\"9,080 lb\",-20 lb,20 lb\n3 m,0 m,10 t,9.98 t,0 kg,\n");
  EXPECT_DOUBLE_EQ(set.readings[0].place.x_m, 0.3);
  EXPECT_DOUBLE_EQ(set.readings[0].place.y_m, -1.2192);
  EXPECT_DOUBLE_EQ(set.readings[0].load_kg.value_or(0.0), 9071.8474);
  EXPECT_DOUBLE_EQ(set.readings[0].last_digit_kg, 0.45359237);
  EXPECT_DOUBLE_EQ(set.readings[0].resolution_kg.value_or(0.0), 9.0718474);
  EXPECT_DOUBLE_EQ(set.readings[0].zero_before_kg.value_or(0.0), -9.0718474);
  EXPECT_EQ(set.readings[1].load_kg, 10000.0);
  EXPECT_DOUBLE_EQ(set.readings[1].last_digit_kg, 10.0);
  EXPECT_TRUE(set.us);
  const auto small = read<ShiftSet>("at,load,indication\n1,1.5e3 kg,1.50e1 t\n1,1/2 t,1/2 t\n");
  EXPECT_DOUBLE_EQ(small.readings[0].last_digit_kg, 100.0);
  EXPECT_EQ(small.readings[1].indication_kg, 500.0);
}

TEST(ShiftReadings, KeepEverythingElseThatWasNoted) {
  const auto set = read<ShiftSet>(
      "at,load_kg,load_id,indication_lb,added_kg,zero_before,zero_after,resolution,footprint,going,"
      "test,time,temp,note\n"
      "2R,,fork truck,2200,1.5,0,20,20,fork truck,up,corners,08:10,12,dry\n"
      "2L,,fork truck,2200,,,,,,down,,,,\n"
      "1L,500,,1100,,,,,,,,,,\n");
  const LoadReading& first = set.readings.at(0);
  EXPECT_FALSE(first.load_kg);
  EXPECT_EQ(first.load_id, "fork truck");
  EXPECT_EQ(first.added_kg, 1.5);
  EXPECT_EQ(first.zero_before_kg, 0.0);
  EXPECT_DOUBLE_EQ(first.zero_after_kg.value_or(0.0), 9.0718474);  // in the indication's unit
  EXPECT_DOUBLE_EQ(first.resolution_kg.value_or(0.0), 9.0718474);
  EXPECT_EQ(first.footprint, "fork truck");
  EXPECT_EQ(first.going, Going::up);
  EXPECT_EQ(first.test, "corners");
  EXPECT_EQ(set.readings.at(1).going, Going::down);
  EXPECT_FALSE(set.readings.at(1).zero_after_kg);
  EXPECT_EQ(set.readings.at(2).going, Going::unknown);
  EXPECT_EQ(set.readings.at(2).load_kg, 500.0);
}

TEST(ShiftReadings, NeedNoMassWhereEveryLoadIsNamed) {
  const auto set = read<ShiftSet>("at,load_id,indication_kg\n1L,truck,8000\n1R,truck,8020\n");
  EXPECT_EQ(set.readings.at(1).load_id, "truck");
  EXPECT_FALSE(set.readings.at(1).load_kg);
}

TEST(Loads, AsAWholeHaveNoPlaceAndMayHaveMaterial) {
  const auto set = read<LoadSet>(
      "load_kg,indication_kg,material,going\n0,0,,up\n10000,9995,,up\n0,10010,m1,\n"
      "10000,20010,m1,\n0,20030,m1+m2,\n");
  ASSERT_EQ(set.readings.size(), 5U);
  EXPECT_EQ(set.readings[1].place.kind, LoadPlace::Kind::deck);
  EXPECT_EQ(set.readings[4].material, "m1+m2");
  EXPECT_EQ(set.readings[4].load_kg, 0.0);
  EXPECT_EQ(set.readings[1].going, Going::up);
}

TEST(Trims, AreNamedByStandOrSection) {
  const auto turns = read<TrimSet>("trim,turns,note\n2L,-1.5,\n1,0.25,first move\n");
  ASSERT_EQ(turns.moves.size(), 2U);
  EXPECT_FALSE(turns.moves[0].place.is_section);
  EXPECT_EQ(turns.moves[0].place.stand, units::StandIndex{2});
  EXPECT_EQ(turns.moves[0].turns, -1.5);
  EXPECT_TRUE(turns.moves[1].place.is_section);
  EXPECT_EQ(turns.moves[1].place.section, units::SectionIndex{0});
  EXPECT_EQ(turns.moves[1].line, 3);
  EXPECT_EQ(read<TrimSet>("trim,ohm\n1R,7.5\n").moves.at(0).ohm, 7.5);
  EXPECT_EQ(read<TrimSet>("trim,factor\n1R,1.00234\n").moves.at(0).factor, 1.00234);
}

TEST(LoadFault, TellsHeadersThatMixUnitsOrLackAColumn) {
  expect_only_fault("x_m,y_ft,load_kg,indication_kg\n1,1,1,1\n",
                    "file.csv:1:5: mixed units: x_m beside y_ft; x_m,y_m or x_ft,y_ft");
  expect_only_fault("at,load_kg,load_lb,indication_kg\n1,1,1,1\n",
                    "file.csv:1:4: mixed units: load_kg beside load_lb; keep one of load_kg or "
                    "load_lb");
  expect_fault("at,load_kg,indication_kg,indication_lb\n1,1,1,1\n",
               "mixed units: indication_kg beside indication_lb");
  expect_fault("x_m,x_ft,y_m,load_kg,indication_kg\n1,1,1,1,1\n", "mixed units: x_m beside x_ft");
  expect_fault("at,load_kg,indication_kg,added_kg,added_lb\n1,1,1,1,1\n",
               "mixed units: added_kg beside added_lb");
  expect_only_fault("x_m,load_kg,indication_kg\n1,1,1\n",
                    "file.csv:1:1: the column of y is missing; x from end 1 and y from the centre "
                    "line, left positive, as x_m,y_m");
  expect_fault("x_m,y_m,at,load_kg,indication_kg\n1,1,1,1,1\n", "the place is given twice");
  expect_fault("at,load_kg\n1,1\n", "file.csv:1:1: the column indication_kg is missing");
  expect_fault("at,indication_kg\n1,1\n", "the column load_kg is missing");
  expect_fault("at,load,indication_kg,loadid\n1,1,1,1\n", "did you mean load_id?");
  expect_fault("at,load_kg,indication_kg,material\n1,1,1,m\n",
               "the column \"material\" is unknown");
  expect_fault("trim\n1L\n", "no column says how the trims were set");
  expect_fault("trim,ohm,turns\n1L,1,1\n", "several columns say how the trims were set");
}

TEST(LoadFault, TellsLoadsThatCanNotBe) {
  const std::string head = "at,load_kg,load_id,indication_kg\n1L,500,,500\n";
  expect_only_fault(head + "1L,-5,,0\n",
                    "file.csv:3:4: the load \"-5\" is negative; what stood on the deck, 0 when it "
                    "was empty");
  expect_only_fault(head + "1L,,,0\n",
                    "file.csv:3:4: the load is neither known nor named; its mass, 0 for the empty "
                    "deck, or a name in load_id (the same wherever it is used)");
  expect_only_fault(head + "1L,5,truck,0\n",
                    "file.csv:3:4: the load is known (\"5\") and named at once; a mass, or a name "
                    "in load_id for a load of unknown mass");
  expect_fault(head + "1L,0,truck,0\n", "known (\"0\") and named at once");
  expect_only_fault(head + "1L,5,,\n",
                    "file.csv:3:7: there is no indication; what the indicator showed; 0 if it "
                    "showed 0");
  expect_fault(head + "1L,\"5,5\",,5\n", "decimal comma in \"5,5\"; write the number with a point");
  expect_fault(head + "1L,5,5,,5\n", "5 fields on this line");
  expect_fault(head + "1L,5 kg,,5\n", "the number alone; its unit stands in the header");
  expect_fault(head + "1L,5e9,,5\n", "\"5e9\" is out of range; 0 or more, at most 1000 t");
  expect_fault(head + "1L,5,,nan\n", "\"nan\" is no number");
  expect_fault("at,load_kg,indication_kg\n,0,0\n,0,1\n",
               "file.csv: nothing but zero readings; at least one reading with a load");
  expect_fault("load_kg,indication_kg\n0,0\n", "nothing but zero readings");
  expect_fault("at,load,indication\n1,5000,5000 kg\n",
               "file.csv:2:3: \"5000\" has no unit; a mass is wanted here");
  expect_fault("at,load,indication\n1,5 t,5000 m\n", "\"5000 m\" is a length");
  expect_fault("at,load,indication\n1,\"5,000 kg\",5 t\n", "thousands mark or a decimal mark");
  expect_fault("at,load,indication\n1,-5 t,5 t\n", "the load \"-5 t\" is negative");
  expect_fault("at,load_kg,indication_kg,resolution\n1,5,5,0\n", "a resolution of 0");
  expect_fault("at,load_kg,indication_kg,added_kg\n1,5,5,-1\n", "0 or more, at most 1000 t");
  expect_fault("at,load_kg,indication_kg,going\n1,5,5,left\n", "\"left\" is unknown here; up");
}

TEST(LoadFault, TellsPlacesThatTheDeckDoesNotHave) {
  const std::string head = "at,load_kg,indication_kg\n1L,500,500\n";
  expect_only_fault(head + "3L,5,5\n",
                    "file.csv:3:1: there is no place \"3L\"; a stand (1L, 1R, ... 2L, 2R), a "
                    "section (1 to 2) or a span between neighbours (1-2 to 1-2)");
  expect_fault(head + "3,5,5\n", "there is no place \"3\"");
  expect_fault(head + "2-3,5,5\n", "there is no place \"2-3\"");
  expect_fault(head + "2-1,5,5\n", "there is no place \"2-1\"; did you mean 1-2?");
  expect_fault(head + "2l,5,5\n", "did you mean 2L?");
  expect_fault(head + "0,5,5\n", "there is no place \"0\"");
  expect_fault(head + "1-,5,5\n", "there is no place \"1-\"");
  expect_fault(head + "-1,5,5\n", "there is no place \"-1\"");
  expect_fault(head + "middle,5,5\n", "there is no place \"middle\"");
  expect_fault(head + ",5,5\n", "there is no place; a stand (1L");
  const std::string point = "x_m,y_m,load_kg,indication_kg\n1,1,5,5\n";
  expect_fault(point + "1,,5,5\n", "file.csv:3:3: there is no y; where the middle of the load");
  expect_fault(point + ",,5,5\n", "there is no x");
  expect_fault(point + "1 m,1,5,5\n", "the number alone; its unit stands in the header");
  expect_fault("x,y,load,indication\n1,1 m,5 t,5 t\n", "\"1\" has no unit; a length is wanted");
  expect_fault("x,y,load,indication\n2 km,1 m,5 t,5 t\n", "\"2 km\" is out of range");
}

TEST(TrimFault, TellsTrimsThatCanNotBe) {
  expect_fault("trim,turns\n3L,1\n", "file.csv:2:1: there is no trim \"3L\"; the trim of a stand");
  expect_fault("trim,turns\n3,1\n", "there is no trim \"3\"");
  expect_fault("trim,turns\n,1\n", "the trim is missing");
  expect_fault("trim,turns\n1L,1\n1L,2\n",
               "1L stands twice, first on line 2; one line for each trim");
  expect_fault("trim,turns\n1L,\n", "file.csv:2:4: nothing says how this trim was set");
  expect_fault("trim,ohm\n1L,-1\n", "\"-1\" is out of range; ohm, from 0");
  expect_fault("trim,factor\n1L,0\n", "a factor, from 0.5 to 2");
  expect_fault("trim,turns\n1L,1 1/4\n", "\"1 1/4\" is no number");
}

RC_GTEST_PROP(ShiftReadings, KeepPoundsAsExactlyAsTheyWereTyped, ()) {
  const int pounds = *rc::gen::inRange(1, 200000);
  const auto set = read<ShiftSet>("at,load_lb,indication_lb\n1," + std::to_string(pounds) + "," +
                                  std::to_string(pounds) + "\n");
  RC_ASSERT(set.readings.size() == 1U);
  RC_ASSERT(set.readings[0].load_kg == pounds * 0.45359237);
  RC_ASSERT(set.readings[0].indication_kg == set.readings[0].load_kg);
}

}  // namespace
}  // namespace weighwright::record
