#include "report/paper/paper_table.h"

#include <gtest/gtest.h>

#include "report/paper/page_size.h"
#include "report/paper/phrases.h"

// outside check: digits in groups of three by a small space | ISO 80000-1:2009, 7.3.1 (from
//  memory, unverified)

namespace weighwright::report {
namespace {

TEST(Typeset, GroupsDigitsByThinSpaces) {
  // ISO 80000-1:2009, 7.3.1 (from memory, unverified): groups of three, a small space, no comma.
  EXPECT_EQ(typeset("60000", false), "60\u202f000");
  EXPECT_EQ(typeset("-1234567.5", false), "\u22121\u202f234\u202f567.5");
  EXPECT_EQ(typeset("+20", false), "+20");
  EXPECT_EQ(typeset("8580", false), "8580");
}

TEST(Typeset, GroupsDigitsByCommasInTheUnitedStates) {
  EXPECT_EQ(typeset("80000", true), "80,000");
  EXPECT_EQ(typeset("1000", true), "1,000");
  EXPECT_EQ(typeset("999", true), "999");
}

TEST(Typeset, LeavesWordsAlone) {
  for (const char* word : {"-", "", "pass", "1e5", "2L"}) EXPECT_EQ(typeset(word, false), word);
}

TEST(MetadataDate, TakesDaysOnly) {
  EXPECT_EQ(metadata_date("2026-11-25"), "2026-11-25T00:00:00Z");
  EXPECT_EQ(metadata_date("2026-11-25 14:05"), "2026-11-25T00:00:00Z");
  for (const char* none : {"", "yesterday", "25.11.2026", "2026-11-2"})
    EXPECT_EQ(metadata_date(none), "") << none;
}

TEST(Phrases, RefuseALanguageThatThereIsNot) {
  EXPECT_NO_THROW((void)phrases("en"));
  EXPECT_THROW((void)phrases("xx"), std::invalid_argument);
}

}  // namespace
}  // namespace weighwright::report
