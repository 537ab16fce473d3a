#include <gtest/gtest.h>

#include <string>

#include "record/csv.h"

namespace weighwright::record {
namespace {

std::string faults_of(const std::string& text, int sections = 2, int joints = 1) {
  const ParsedMeasurement parsed = parse_measurement(text, "file.csv", sections, joints);
  EXPECT_FALSE(parsed.value.has_value()) << text;
  std::string all;
  for (const units::Diagnostic& fault : parsed.faults) all += units::print(fault) + "\n";
  return all;
}

void expect_fault(const std::string& text, const std::string& part) {
  const std::string faults = faults_of(text);
  EXPECT_NE(faults.find(part), std::string::npos) << "got: " << faults << "wanted: " << part;
}

std::size_t lines_of(const std::string& text) {
  std::size_t count = 0;
  for (const char c : text) count += c == '\n' ? 1U : 0U;
  return count;
}

const std::string kGood = "stand,mV\n1L,1\n1R,1\n2L,1\n";  // 2R is still to come

TEST(CsvFault, TellsFilesThatAreNoCsvAtAll) {
  expect_fault("", "file.csv: the file is empty; a header such as stand,mV");
  expect_fault("# nothing\n\n", "the file is empty");
  expect_fault("stand,mV\n", "a header and nothing below it");
  expect_fault(std::string("stand,mV\n1L,1\0", 14), "zero bytes");
  expect_fault(std::string(1'000'001, 'x'), "larger than 1 MB");
  expect_fault("stand;mV\n1L;1,09\n",
               "separated by semicolons; commas between the fields and points");
  expect_fault("stand\tmV\n1L\t1.09\n", "separated by tabs");
  expect_fault("stand,mV\n1L,\"1.0\n", "file.csv:2:4: the quotation mark is not closed");
  expect_fault("stand,mV\n1L,\"1\"x\n", "text behind the closing quotation mark");
}

TEST(CsvFault, TellsAHeaderThatIsWrong) {
  expect_fault("cell,volt\n1,2\n",
               "file.csv:1:1: this header is unknown: \"cell,volt\"; right headers are: stand with "
               "one of mV");
  expect_fault("stand,mV,kg\n1L,1,2\n", "2 units of reading in one header; keep one of mV or kg");
  expect_fault("stand,mV,colour\n1L,1,2\n",
               "file.csv:1:10: the column \"colour\" is unknown; columns of this kind");
  expect_fault("stand,mV,excitation\n1L,1,2\n", "did you mean excitation_V?");
  expect_fault("stand,mV,mV\n1L,1,2\n", "stands twice in the header");
  expect_fault("stand,mV,no_load_kg\n1L,1,2\n", "no-load readings in kg beside readings in mV");
  expect_fault("stand,mV,no_load,no_load_mV\n1L,1,2,2\n", "no_load stands twice");
  expect_fault("stand,mV,no_load_volts\n1L,1,2\n", "the column \"no_load_volts\" is unknown");
  expect_fault("stand,mV,\n1L,1,2\n", "a column has no name");
  expect_fault("Stand,MV\n1L,1\n", "this header is unknown");
  expect_fault("support,mm\n1L,1\n", "the column gap_mm is missing");
  expect_fault("loaded\n1L\n", "the column moved is missing");
  expect_fault("stand,gap_mm\n1L,1\n", "this header is unknown");
}

TEST(CsvFault, TellsStandsThatAreMissingDoubledOrUnknown) {
  expect_fault(kGood, "file.csv: no reading of 2R; one line for each stand: 1L, 1R, ... 2L, 2R");
  expect_fault(kGood + "1L,2\n", "file.csv:5:1: stand 1L stands twice, first on line 2");
  expect_fault(kGood + "3L,2\n",
               "file.csv:5:1: there is no stand \"3L\"; one of 1L, 1R, ... 2L, 2R");
  expect_fault(kGood + "2r,2\n", "there is no stand \"2r\"; did you mean 2R?");
  expect_fault(kGood + ",2\n", "the stand is missing");
  expect_fault("stand,turns\n1L,1\n1L,2\n", "stands twice");
  expect_fault("stand,height_mm\n5R,1\n", "there is no stand \"5R\"");
  expect_fault("loaded,moved\n1L,1R\n1L,1L\n", "was loaded twice, first on line 2");
  expect_fault("loaded,moved\n1L,9R\n", "there is no stand \"9R\"");
  expect_fault("support,gap_mm\n9L,1\n",
               "there is no support \"9L\"; a stand (1L, 1R, ... 2L, 2R) or a bearing");
  expect_fault("support,gap_mm\nbearing2L,1\n", "there is no support \"bearing2L\"");
  expect_fault("support,gap_mm\n,1\n", "the support is missing");
  expect_fault("support,gap_mm\n1L,1\n1L,2\n", "1L stands twice");
}

TEST(CsvFault, TellsTextThatIsNoNumber) {
  expect_fault(kGood + "2R,dead\n", "file.csv:5:4: \"dead\" is no number; a number such as 1.09");
  expect_fault(kGood + "2R,1.09 mV\n",
               "\"1.09 mV\" is no number; the number alone; its unit stands in the header");
  expect_fault(kGood + "2R,\"1,09\"\n", "decimal comma in \"1,09\"; write the number with a point");
  expect_fault(kGood + "2R,1,09\n",
               "file.csv:5:1: 3 fields on this line; as many as the header has: 2 fields (numbers "
               "are written with a point");
  expect_fault(kGood + "2R\n", "1 field on this line");
  expect_fault(kGood + "2R,\n", "there is no reading; a number; 0 if the cell reads 0");
  expect_fault(kGood + "2R,nan\n", "\"nan\" is no number");
  expect_fault(kGood + "2R,inf\n", "\"inf\" is no number");
  expect_fault(kGood + "2R,-INF\n", "is no number");
  expect_fault(kGood + "2R,1e999\n", "beyond what can be measured");
  expect_fault(kGood + "2R,1e10\n", "out of range");
  expect_fault(kGood +
                   "2R,\xE2\x88\x92"
                   "1\n",
               "typographic minus");
  expect_fault(kGood + "2R,--1\n", "is no number");
}

TEST(CsvFault, DoesNotReportAStandAsMissingWhoseLineHasAFaultAlready) {
  EXPECT_EQ(lines_of(faults_of(kGood + "2R,1,09\n")), 1U);
  EXPECT_EQ(lines_of(faults_of(kGood + "2R,dead\n")), 1U);
}

TEST(CsvFault, TellsOptionalValuesThatAreOutOfRange) {
  expect_fault("stand,mV,gap_mm\n1L,1,-1\n", "\"-1\" is out of range; mm, from 0 to 1000");
  expect_fault("stand,mV,excitation_V\n1L,1,10000\n", "volts, from 0.1 to 50");
  expect_fault("stand,mV,resolution\n1L,1,0\n", "one step of the display, above 0");
  expect_fault("stand,mV,noise\n1L,1,-0.1\n", "a standard deviation, 0 or above");
  expect_fault("stand,mV,no_load\n1L,1,?\n", "\"?\" is no number");
  expect_fault("stand,turns,until\n1L,1,touched\n", "\"touched\" is unknown here; touch");
  expect_fault("stand,turns\n1L,\n", "neither turns nor a shim");
  expect_fault("stand,turns,shim_mm\n1L,1,1\n", "turns and a shim on one line");
  expect_fault("stand,turns\n1L,5000\n", "turns, from -1000 to 1000");
  expect_fault("stand,height_mm\n1L,\n", "there is no height");
  expect_fault("support,gap_mm\n1L,\n", "there is no gap");
}

TEST(CsvFault, ListsTheFirstHundredThenTheirNumber) {
  std::string text = "stand,mV\n";
  for (int i = 0; i < 150; ++i) text += "9L,1\n";
  const std::string faults = faults_of(text);
  EXPECT_EQ(lines_of(faults), 101U);
  EXPECT_NE(faults.find("and 51 more faults"), std::string::npos) << faults;  // 150, and none read
}

}  // namespace
}  // namespace weighwright::record
