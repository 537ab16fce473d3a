#include "units/diagnostic.h"

#include <gtest/gtest.h>

#include <array>
#include <string_view>

#include "units/suggestion.h"

namespace weighwright::units {
namespace {

TEST(Diagnostic, LeavesOutPartsThatAreEmpty) {
  EXPECT_EQ(print(Diagnostic{"deck.toml", 3, 5, "no unit", "write 7 m"}),
            "deck.toml:3:5: no unit; write 7 m");
  EXPECT_EQ(print(Diagnostic{"deck.toml", 3, 0, "no unit", ""}), "deck.toml:3: no unit");
  EXPECT_EQ(print(Diagnostic{"deck.toml", 0, 5, "empty", ""}), "deck.toml: empty");
  EXPECT_EQ(print(Diagnostic{"", 0, 0, "empty", ""}), "empty");
}

TEST(Quote, CutsLongTextAndHidesWhatCannotBeShown) {
  EXPECT_EQ(quote("7 m"), "\"7 m\"");
  EXPECT_EQ(quote(std::string(50, 'a')), "\"" + std::string(40, 'a') + "...\"");
  EXPECT_EQ(quote(std::string_view("a\0b\n\x7F", 5)), "\"a?b??\"");
}

// The Unicode Standard 15.0, table 3-7: C0, C1, F5.. never occur; E0 80, ED A0, F0 80, F4 90 are no
// well-formed starts.
TEST(Quote, AlwaysGivesValidUtf8) {
  EXPECT_EQ(quote("\xC2\xB0"), "\"\xC2\xB0\"");
  EXPECT_EQ(quote("\xE2\x80\xB2"), "\"\xE2\x80\xB2\"");
  EXPECT_EQ(quote("\xF0\x9F\x98\x80"), "\"\xF0\x9F\x98\x80\"");
  EXPECT_EQ(quote("\xC0\xAF"), "\"??\"");
  EXPECT_EQ(quote("\xE0\x80\xAF"), "\"???\"");
  EXPECT_EQ(quote("\xED\xA0\x80"), "\"???\"");
  EXPECT_EQ(quote("\xF4\x90\x80\x80"), "\"????\"");
  EXPECT_EQ(quote("\xC2"), "\"?\"");
  EXPECT_EQ(quote("\xC2("), "\"?(\"");
  EXPECT_TRUE(is_utf8("23\xE2\x80\xB2"));
  EXPECT_FALSE(is_utf8("a\xED\xA0\x80"));
}

TEST(Nearest, FindsTheWordThatWasMeant) {
  constexpr std::array<std::string_view, 3> words = {"length", "width", "mass"};
  EXPECT_EQ(nearest("lenght", words), "length");
  EXPECT_EQ(nearest("Width", words), "width");
  EXPECT_EQ(nearest("colour", words), std::nullopt);
  EXPECT_EQ(nearest(std::string(100, 'm'), words), std::nullopt);
}

TEST(Either, JoinsWordsAsASentenceDoes) {
  EXPECT_EQ(either(std::array<std::string, 1>{"a"}), "a");
  EXPECT_EQ(either(std::array<std::string, 3>{"a", "b", "c"}), "a, b or c");
}

}  // namespace
}  // namespace weighwright::units
