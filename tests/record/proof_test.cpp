#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <string>

#include "record/file_text.h"
#include "record/local_time.h"

// outside check: pounds of loads and weights | NIST Special Publication 811 (2008), B.8
// outside check: days since 1970 of calendar dates | Python's `datetime`

namespace weighwright::record {
namespace {

using testing::expect_fault;
using testing::expect_only_fault;
using testing::read;

// What is expected here follows from the format that csv.h states; there is no outside source for
// it. Pound: NIST Special Publication 811 (2008), B.8, 0.453 592 37 kg exact.

constexpr const char* kHeader =
    "check,at,heading,run,weights,material,load_kg,indication_kg,added_kg,zero_before,zero_after,"
    "start,then,time\n";

std::string line(const std::string& text) {
  return std::string(kHeader) + text + "\n";
}

TEST(ProofLines, SayTestPlaceLoadAndWhatStoodThere) {
  const auto set =
      read<ProofSet>(line("section,2,to_end_2,2,W1*3+W2,,7000,6990,8,0,10,,,2026-11-26T09:30"));
  ASSERT_EQ(set.readings.size(), 1U);
  const ProofReading& one = set.readings[0];
  EXPECT_EQ(one.check, "section");
  EXPECT_EQ(one.reading.place.kind, LoadPlace::Kind::section);
  EXPECT_EQ(one.reading.place.section, units::SectionIndex{1});
  EXPECT_EQ(one.heading, Heading::to_end_2);
  EXPECT_EQ(one.run, 2);
  EXPECT_EQ(one.weights, (std::vector<std::string>{"W1*3", "W2"}));
  EXPECT_EQ(one.reading.load_kg, 7000.0);
  EXPECT_EQ(one.reading.indication_kg, 6990.0);
  EXPECT_EQ(one.reading.added_kg, 8.0);
  EXPECT_EQ(one.reading.zero_before_kg, 0.0);
  EXPECT_EQ(one.reading.zero_after_kg, 10.0);
  EXPECT_TRUE(one.time_s.has_value());
}

// Seconds by Python's calendar.timegm: 2026-11-26T09:30:00 is 1795685400. Offsets: RFC 3339, 5.6.
TEST(ProofLines, SayTheOffsetOfTheirClock) {
  const auto time_of = [](const std::string& time) {
    return read<ProofSet>(line("increasing,,,,,,400,400,,,,,," + time)).readings.at(0);
  };
  const auto plain = time_of("2026-11-26T09:30");
  EXPECT_EQ(plain.time_s, 1'795'685'400);
  EXPECT_FALSE(plain.offset_min.has_value());
  for (const auto& [text, offset_min] :
       {std::pair{"2026-11-26T09:30+01:00", 60}, std::pair{"2026-11-26T09:30:00-0530", -330},
        std::pair{"2026-11-26 09:30Z", 0}}) {
    EXPECT_EQ(time_of(text).time_s, 1'795'685'400) << text;  // the clock's own time
    EXPECT_EQ(time_of(text).offset_min, offset_min) << text;
  }
  for (const char* wrong :
       {"2026-11-26T09:30+15:00", "2026-11-26T09:30+1", "2026-11-26T09:30+01:60",
        "0000-11-26T09:30", "1899-12-31T23:59", "2026-11-26+01:00"}) {
    expect_fault(line(std::string("increasing,,,,,,400,400,,,,,,") + wrong), "is no time");
  }
}

TEST(ProofLines, OfLoadsAsAWholeNeedNoPlace) {
  const auto set = read<ProofSet>("check,load_lb,indication_lb\nincreasing,20000,19980\n");
  EXPECT_TRUE(set.us);
  EXPECT_EQ(set.readings[0].reading.place.kind, LoadPlace::Kind::deck);
  EXPECT_DOUBLE_EQ(set.readings[0].reading.load_kg.value_or(0.0), 9071.8474);
}

TEST(ProofLines, ThatAreNotDoneYetAreLeftOut) {
  const auto set =
      read<ProofSet>(line("increasing,,,,,,400,,,,,,,\n"
                          "increasing,,,,,,10000,9990,,,,,,"));
  ASSERT_EQ(set.readings.size(), 1U);
  EXPECT_EQ(set.readings[0].reading.load_kg, 10000.0);
  expect_only_fault(
      (line("increasing,,,,,,400,,,,,,,")),
      "file.csv: no line has an indication yet; what the indicator showed, in the lines that are "
      "done");
}

TEST(ProofLines, OfPlacesNeedOne) {
  for (const char* const check : {"section", "eccentric", "midspan"}) {
    expect_fault((line(std::string(check) + ",,,,,,7000,6990,,,,,,")), "there is no place");
  }
  expect_fault(("check,load_kg,indication_kg\nsection,7000,6990\n"),
               "there is no place in this file");
  expect_fault((line("rolling,1,,,,,7000,6990,,,,,,")), "a rolling load without its heading");
}

TEST(ProofLines, OfStrainAndDiscriminationSayWhatWasBeforeAndAfter) {
  expect_fault((line("strain,,,,,,7000,26990,,,,,,")), "a strain load without its start");
  const auto strain = read<ProofSet>(line("strain,,,,,,7000,26990,,,,20000,,"));
  EXPECT_EQ(strain.readings[0].start_kg, 20000.0);
  expect_fault((line("discrimination,,,,,,400,400,28,,,,,")),
               "discrimination without what was added and what was then indicated");
  const auto step = read<ProofSet>(line("discrimination,,,,,,400,400,28,,,,420,"));
  EXPECT_EQ(step.readings[0].then_kg, 420.0);
  EXPECT_EQ(step.readings[0].reading.added_kg, 28.0);
}

TEST(ProofLines, OfTheIndicatorNeedNoLoadAndSayHowTheyWereFound) {
  const std::string header = "check,load_kg,indication_kg,other_kg,by,range\n";
  const auto overload = read<ProofSet>(header + "overload,,60180,,simulator,\n");
  ASSERT_EQ(overload.readings.size(), 1U);
  EXPECT_FALSE(overload.readings[0].reading.load_kg);
  EXPECT_EQ(overload.readings[0].by, "simulator");
  expect_fault(header + "overload,,60180,,,\n", "the greatest indication without how it was found");
  expect_fault(header + "overload,,60180,,lorry,\n", "nobody loads the deck above Max for it");
  const auto beside = read<ProofSet>(header + "indications,30000,30000,30020,,\n");
  EXPECT_EQ(beside.readings[0].other_kg, 30020.0);
  expect_fault(header + "indications,30000,30000,,,\n", "one indication alone agrees with nothing");
  EXPECT_EQ(read<ProofSet>(header + "zero_range,,2400,,,\n").readings.size(), 1U);
  expect_fault(header + "increasing,,2400,,,\n", "the load is neither known nor named");
}

TEST(ProofLines, SayInWhichRangeTheyWereRead) {
  const std::string header = "check,load_kg,indication_kg,range\n";
  const auto set = read<ProofSet>(header + "increasing,5000,5000,2\nincreasing,6000,6000,\n");
  EXPECT_EQ(set.readings[0].range, 2);
  EXPECT_FALSE(set.readings[1].range);
  expect_fault(header + "increasing,5000,5000,1.5\n", "a range is counted");
  expect_fault(header + "increasing,5000,5000,0\n", "the number of the range, from 1");
}

TEST(ProofLines, TellWhatIsWrong) {
  expect_fault((line("incresing,,,,,,400,400,,,,,,")), "did you mean increasing?");
  expect_fault((line("increasing,,up,,,,400,400,,,,,,")), "is no heading");
  expect_fault((line("increasing,,,0,,,400,400,,,,,,")), "from 1 to 100");
  expect_fault((line("increasing,,,1.5,,,400,400,,,,,,")), "a run is counted");
  expect_fault((line("increasing,,,,,,400,400,,,,,,yesterday")), "is no time");
  expect_fault(("check,indication_kg\nincreasing,400\n"), "load_kg is missing");
  expect_fault(("check,load_kg,indication_kg,thn\nincreasing,400,400,1\n"),
               "the column \"thn\" is unknown");
}

TEST(WeightLines, SayMassClassPapersAndHandling) {
  const auto set = read<WeightSet>(
      "id,nominal_kg,count,class,conventional_kg,uncertainty_g,k,density_kg_m3,certificate,"
      "traced_to,expires,length_m,width_m,axles,axle_load_kg,handling\n"
      "W1,1000,10,M1,1000.012,25,2,7100,C-17,K3,2027-03-31,1.2,1,0,,crane\n"
      "V1,20000,,,,,,,,,,6.5,2.5,3,8000,vehicle\n");
  ASSERT_EQ(set.weights.size(), 2U);
  const Weight& weight = set.weights[0];
  EXPECT_EQ(weight.id, "W1");
  EXPECT_EQ(weight.count, 10);
  EXPECT_EQ(weight.nominal_kg, 1000.0);
  EXPECT_EQ(weight.weight_class, "M1");
  EXPECT_EQ(weight.conventional_kg, 1000.012);
  EXPECT_DOUBLE_EQ(weight.uncertainty_kg.value_or(0.0), 0.025);
  EXPECT_EQ(weight.density_kg_per_m3, 7100.0);
  EXPECT_EQ(weight.certificate, "C-17");
  EXPECT_EQ(weight.traced_to, "K3");
  EXPECT_EQ(print_date(weight.expires_day.value_or(0)), "2027-03-31");
  EXPECT_EQ(weight.handling, Handling::crane);
  EXPECT_EQ(set.weights[1].axles, 3);
  EXPECT_EQ(set.weights[1].axle_load_kg, 8000.0);
  EXPECT_EQ(set.weights[1].handling, Handling::vehicle);
  EXPECT_FALSE(set.weights[1].expires_day.has_value());
}

TEST(WeightLines, InPoundsAreConvertedExactly) {
  const auto set = read<WeightSet>("id,nominal_lb,class\nW,1000,F\n");
  EXPECT_TRUE(set.us);
  EXPECT_EQ(set.weights[0].nominal_kg, 453.59237);
}

TEST(WeightLines, TellWhatIsWrong) {
  expect_fault(("id,nominal_kg\n,1000\n"), "a weight without a name");
  expect_fault(("id,nominal_kg\nW+1,1000\n"), "can't be a name of a weight");
  expect_fault(("id,nominal_kg\nW1,1000\nW1,500\n"), "W1");
  expect_fault(("id,nominal_kg\nW1,0\n"), "a weight of nothing");
  expect_fault(("id,nominal_kg,count\nW1,1000,2.5\n"), "is no whole number");
  expect_fault(("id,nominal_kg,conventional_kg\nW1,1000,1000.01\n"),
               "a certified value without its uncertainty");
  expect_fault(("id,nominal_kg,expires\nW1,1000,31.3.2027\n"), "is no date");
  expect_fault(("id,nominal_kg,expires\nW1,1000,2027-02-29\n"), "is no date");
  expect_fault(("id,nominal_kg,handling\nW1,1000,boat\n"), "is no way of handling");
  expect_fault(("id,nominal_kg,length_m\nW1,1000,0\n"), "above 0");
  expect_fault(("id,nominal_kg,nominal_lb\nW1,1000,2204\n"), "mixed units");
  expect_fault(("id,nominal_kg,k\nW1,1000,0.5\n"), "from 1 to 5");
}

// Known days of the calendar: 2000-03-01 is day 11017, 2026-11-26 day 20783 since 1970-01-01
// (computed with Python's datetime).
TEST(Dates, AreDaysSince1970) {
  EXPECT_EQ(read_date("1970-01-01"), 0);
  EXPECT_EQ(read_date("2000-03-01"), 11017);
  EXPECT_EQ(read_date("2026-11-26"), 20783);
  EXPECT_EQ(print_date(20783), "2026-11-26");
  EXPECT_EQ(print_date(0), "1970-01-01");
  EXPECT_FALSE(read_date("2026-13-01").has_value());
  EXPECT_FALSE(read_date("26-11-26").has_value());
}

RC_GTEST_PROP(Dates, ArePrintedAsTheyAreRead, ()) {
  const auto day = *rc::gen::inRange<std::int64_t>(-200000, 200000);
  RC_ASSERT(read_date(print_date(day)) == day);
}

}  // namespace
}  // namespace weighwright::record
