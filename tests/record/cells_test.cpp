#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "record/file_text.h"

namespace weighwright::record {
namespace {

using testing::expect_fault;
using testing::expect_only_fault;
using testing::read;

// What is expected here follows from the format that csv.h states; there is no outside source for
// it.

TEST(Electrics, AreReadForStandsAndBox) {
  const auto set = read<ElectricSet>(
      "stand,input_ohm,output_ohm,e_plus_s_plus_ohm,e_plus_s_minus_ohm,e_minus_s_plus_ohm,"
      "e_minus_s_minus_ohm,insulation_Mohm,test_V,zero_mV,mV,excitation_V,sense_V,note\n"
      "box,,,,,,,,,,1.56,9.98,9.91,\n"
      "2R,775,700,560,561,562,563,5000,50,-0.02,1.09,9.9,,dry\n"
      "1L,774,,,,,,,,,,,,\n");
  ASSERT_EQ(set.stands.size(), 2U);
  EXPECT_EQ(set.stands[0].first, units::StandIndex{0});  // in stand order
  EXPECT_EQ(set.stands[0].second.input_ohm, 774.0);
  EXPECT_FALSE(set.stands[0].second.output_ohm);
  const CellElectrics& cell = set.stands[1].second;
  EXPECT_EQ(set.stands[1].first, units::StandIndex{3});
  EXPECT_EQ(cell.output_ohm, 700.0);
  EXPECT_EQ(cell.e_plus_s_plus_ohm, 560.0);
  EXPECT_EQ(cell.e_plus_s_minus_ohm, 561.0);
  EXPECT_EQ(cell.e_minus_s_plus_ohm, 562.0);
  EXPECT_EQ(cell.e_minus_s_minus_ohm, 563.0);
  EXPECT_EQ(cell.insulation_ohm, 5e9);
  EXPECT_EQ(cell.test_V, 50.0);
  EXPECT_EQ(cell.zero_mV, -0.02);
  EXPECT_EQ(cell.mV, 1.09);
  EXPECT_EQ(cell.excitation_V, 9.9);
  EXPECT_EQ(cell.line, 3);
  ASSERT_TRUE(set.box);
  EXPECT_EQ(set.box->sense_V, 9.91);
  EXPECT_EQ(set.box->mV, 1.56);
}

TEST(Electrics, TakeTheMetersOverLimitAsNoPathAtAll) {
  for (const char* const shown : {"OL", "O.L", "0L", "0.L", "ol", ".OL"}) {
    const auto set = read<ElectricSet>(std::string("stand,input_ohm\n1L,") + shown + "\n");
    EXPECT_TRUE(std::isinf(set.stands.at(0).second.input_ohm.value_or(0.0))) << shown;
  }
  const auto tester = read<ElectricSet>("stand,insulation_Mohm,test_V\n1L,OL,50\n");
  EXPECT_TRUE(std::isinf(tester.stands.at(0).second.insulation_ohm.value_or(0.0)));
}

TEST(Electrics, AreToldFromReadingsByTheirColumns) {
  const auto readings = read<ReadingSet>("stand,mV\n1L,1\n1R,1\n2L,1\n2R,1\n");
  EXPECT_EQ(readings.stands.size(), 4U);
  const auto zero = read<ElectricSet>("stand,zero_mV\n1L,0.02\n");
  EXPECT_EQ(zero.stands.at(0).second.zero_mV, 0.02);
  const auto one = read<ElectricSet>("stand,output_ohm,mV\n1L,700,1.09\n");  // not every stand
  EXPECT_EQ(one.stands.at(0).second.mV, 1.09);
}

TEST(Electrics, TellsWhatCanNotBe) {
  expect_only_fault("stand,input_ohm\n1L,-5\n",
                    "file.csv:2:4: \"-5\" is out of range; ohm, from 0 to 1e9, or OL for over the "
                    "meter's limit");
  expect_only_fault("stand,insulation_Mohm\n1L,5000\n",
                    "file.csv:2:4: an insulation without its test voltage; the volts of the tester "
                    "in a column test_V");
  expect_fault("stand,insulation_Mohm,test_V\n1L,>500,50\n",
               "\">500\" is no number; OL where the meter was beyond its range");
  expect_fault("stand,input_ohm,sense_V\n1L,700,9.9\n", "a sense voltage on the line of a cell");
  expect_fault("stand,input_ohm\n1L,\n", "file.csv:2:1: nothing was measured on this line");
  expect_fault("stand,input_ohm\n1L,1\n1L,2\n", "stand 1L stands twice, first on line 2");
  expect_fault("stand,input_ohm\nbox,1\nbox,2\n", "box stands twice, first on line 2");
  expect_fault("stand,input_ohm\n3L,1\n", "there is no stand \"3L\"");
  expect_fault("stand,input_ohm\nBox,1\n", "there is no stand \"Box\"");
  expect_fault("stand,input_ohm\n1L,open\n", "\"open\" is no number");
  expect_fault("stand,input_ohm\n1L,\"0,7\"\n", "decimal comma");
  expect_fault("stand,input_ohm,excitation_V\n1L,700,230\n", "volts, from 0 to 50");
  expect_fault("stand,input_ohm,inputohm\n1L,1,1\n", "did you mean input_ohm?");
}

TEST(Forces, AreReadForEveryStand) {
  const auto set = read<ForceSet>("stand,force_N\n1R,13000.5\n1L,12000\n2L,0\n2R,-1\n");
  EXPECT_EQ(set.force_N, (std::vector<double>{12000.0, 13000.5, 0.0, -1.0}));
  expect_fault("stand,force_N\n1L,1\n1R,1\n2L,1\n", "file.csv: no force of 2R; one line for each");
  expect_fault("stand,force_N\n1L,\n1R,1\n2L,1\n2R,1\n", "file.csv:2:4: there is no force");
  expect_fault("stand,force_N\n1L,1 kN\n1R,1\n2L,1\n2R,1\n", "the number alone");
  expect_fault("stand,force_N,kg\n1L,1,1\n", "the column \"kg\" is unknown");
}

}  // namespace
}  // namespace weighwright::record
