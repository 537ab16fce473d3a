#include "toml/shape.h"

#include <gtest/gtest.h>

#include <string>

namespace weighwright::toml_text {
namespace {

std::string repeated(const std::string& piece, int count) {
  std::string all;
  for (int i = 0; i < count; ++i) all += piece;
  return all;
}

TEST(TomlShape, OfOrdinaryFilesIsLeftAlone) {
  EXPECT_FALSE(find_excess("format = 1\n[deck]\nlength = \"7 m\" # 1.2.3.4.5.6.7.8.9.10\n"));
  EXPECT_FALSE(find_excess("a = [[1.5, 2.5], [\n3.5, # [[[[[[[[[[\n 4.5]]\n[stand.2L.cell]\r\n"));
  EXPECT_FALSE(find_excess("note = \"a.b.c.d.e.f.g.h.i.j [[[[[[[[[[\"\n'x.y' = '\\.......... '\n"));
  EXPECT_FALSE(find_excess(""));
}

TEST(TomlShape, OfAKeyOfManyPartsIsToldWithItsPlace) {
  for (const char* const begin : {"", "[", "x = {", "\"a.b\" . ", "\xEF\xBB\xBF"}) {
    const auto found = find_excess("format = 1\n" + std::string(begin) + repeated("a.", 20'000));
    ASSERT_TRUE(found) << begin;
    EXPECT_EQ(found->line, 2);
    EXPECT_GT(found->column, 10);
    EXPECT_NE(found->what.find("parts"), std::string::npos);
    EXPECT_FALSE(found->expected.empty());
  }
}

TEST(TomlShape, OfBracketsWithinBracketsIsToldAlsoOverLines) {
  for (const char* const open : {"[", "{a=", "[\n", "[{a=["}) {
    const auto found = find_excess("x = " + repeated(open, 300));
    ASSERT_TRUE(found) << open;
    EXPECT_NE(found->what.find("deep"), std::string::npos) << found->what;
  }
}

TEST(TomlShape, OfAnEndlessLineOrAHeapOfTablesIsTold) {
  const auto line = find_excess("a = 1\nb = \"" + std::string(30'000, 'x') + "\"");
  ASSERT_TRUE(line);
  EXPECT_EQ(line->line, 2);
  const auto tables = find_excess(repeated("[[a]]\n", 3'000));
  ASSERT_TRUE(tables);
  EXPECT_NE(tables->what.find("tables"), std::string::npos);
}

// A quotation mark that a backslash hides does not end a text: what follows is not overlooked.
TEST(TomlShape, IsNotHiddenByQuotationMarks) {
  const std::string deep = repeated(".a", 20'000);
  EXPECT_TRUE(find_excess("x = \"\\\"\"" + deep));
  EXPECT_TRUE(find_excess("x = '\\'" + deep));
  EXPECT_TRUE(find_excess("x = \"never closed\ny" + deep));
  EXPECT_TRUE(find_excess("# \"\ny" + deep));
}

}  // namespace
}  // namespace weighwright::toml_text
