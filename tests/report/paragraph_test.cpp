#include "report/paragraph.h"

#include <gtest/gtest.h>

namespace weighwright::report {
namespace {

TEST(Paragraph, CountsCodePointsNotBytes) {
  EXPECT_EQ(columns_of(""), 0);
  EXPECT_EQ(columns_of("1.05 ±0.08"), 10);
  EXPECT_EQ(pad_right("±", 3), "±  ");
  EXPECT_EQ(centre("ab", 6), "  ab  ");
  EXPECT_EQ(centre("longer", 3), "longer");
}

TEST(Paragraph, BreaksAtBlanksAndHangs) {
  EXPECT_EQ(wrap("raise 1L by a turn", 12, "1. ", "   "), "1. raise 1L\n   by a turn\n");
}

TEST(Paragraph, LeavesALongWordAloneOnItsLine) {
  EXPECT_EQ(wrap("a extraordinarily b", 6), "a\nextraordinarily\nb\n");
}

TEST(Paragraph, KeepsLineFeedsAndAnEmptyText) {
  EXPECT_EQ(wrap("a\nb", 10, "- ", "  "), "- a\n  b\n");
  EXPECT_EQ(wrap("", 10), "\n");
}

}  // namespace
}  // namespace weighwright::report
