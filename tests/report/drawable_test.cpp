#include "report/drawable.h"

#include <gtest/gtest.h>

#include "report/every_code_point.h"

// outside check: characters that stand for nothing | The Unicode Standard: 66 noncharacters (23.7),
//  65 control codes (23.1) (from memory, unverified); RFC 3629, 4 (well-formed sequences)

namespace weighwright::report {
namespace {

const std::string kGone = "\xEF\xBF\xBD";

TEST(Drawable, ReplacesNoncharactersAndControlsOnly) {
  int replaced = 0;
  for (char32_t code = 0; code <= 0x10FFFF; ++code) {
    if ((code >= 0xD800 && code <= 0xDFFF) || code == 0xFFFD) continue;
    const std::string text = encoded(code);
    const std::string safe = drawable(text);
    if (safe == kGone) {
      ++replaced;
    } else {
      EXPECT_EQ(safe, code == U'\r' ? "\n" : text) << static_cast<unsigned>(code);
    }
  }
  // Of 65 controls tabulator, line feed and carriage return stay.
  EXPECT_EQ(replaced, 66 + 65 - 3);
}

TEST(Drawable, ReplacesEachOfTheKnownTroubles) {
  for (const char32_t code :
       {0x0, 0x1, 0x1B, 0x7F, 0x85, 0x9F, 0xFDD0, 0xFDEF, 0xFFFE, 0xFFFF, 0x1FFFE, 0x10FFFF})
    EXPECT_EQ(drawable("a" + encoded(code) + "b"), "a" + kGone + "b")
        << static_cast<unsigned>(code);
}

TEST(Drawable, ReplacesBytesThatAreNoText) {
  // RFC 3629, 3 and 4: no surrogates, nothing overlong, nothing above U+10FFFF.
  EXPECT_EQ(drawable("a\xFFz"), "a" + kGone + "z");
  EXPECT_EQ(drawable("\xC3"), kGone);
  EXPECT_EQ(drawable("\xED\xA0\x80"), kGone + kGone + kGone);  // U+D800 as if it were a character
  EXPECT_EQ(drawable("\xC0\xAF"), kGone + kGone);
  EXPECT_EQ(drawable("\xF4\x90\x80\x80").find_first_not_of(kGone), std::string::npos);
}

TEST(Drawable, KeepsWordsAndLines) {
  EXPECT_EQ(drawable("Ångström «Тарн» \xF0\x9F\x9A\x9B\tx\r\ny\rz"),
            "Ångström «Тарн» \xF0\x9F\x9A\x9B\tx\ny\nz");
  EXPECT_EQ(drawable(""), "");
}

TEST(CharacterStart, GoesBackToTheFirstByte) {
  const std::string text = "aÅ\xF0\x9F\x9A\x9B";
  const std::size_t starts[] = {0, 1, 1, 3, 3, 3, 3, 7};
  for (std::size_t at = 0; at <= text.size(); ++at)
    EXPECT_EQ(character_start(text, at), starts[at]) << at;
}

}  // namespace
}  // namespace weighwright::report
