#include <fmt/format.h>
#include <gtest/gtest.h>

#include <regex>
#include <sstream>

#include "report/every_code_point.h"
#include "report/outside_program.h"
#include "report/paper/excerpt.h"
#include "report/paper/paper.h"
#include "report/sample_document.h"

// outside check: texts of any length and any bytes on paper | `pdftotext` and `pdfinfo` (Poppler)

namespace weighwright::report {
namespace {

bool has(const std::string& text, const std::string& what) {
  return text.find(what) != std::string::npos;
}

std::string text_of(const std::string& pdf) {
  const Bench bench;
  bench.put("a.pdf", pdf);
  const Bench::Ran ran = bench.run("pdftotext -layout a.pdf -");
  EXPECT_EQ(ran.status, 0) << ran.output;
  return ran.output;
}

/// "w0000 w0001 ..."
std::string numbered(int words, const char* between = " ") {
  std::string text;
  for (int i = 0; i < words; ++i) text += fmt::format("{}w{:04}", i > 0 ? between : "", i);
  return text;
}

void expect_words(const std::string& text, int words) {
  for (int i = 0; i < words; ++i) EXPECT_TRUE(has(text, fmt::format("w{:04}", i))) << "word " << i;
}

/// Words below the foot of the page would be found by pdftotext too: boxes tell.
void expect_inside(const std::string& pdf, double height) {
  const Bench bench;
  bench.put("a.pdf", pdf);
  const std::string boxes = bench.run("pdftotext -bbox a.pdf -").output;
  const std::regex word("yMax=\"([0-9.]+)\">w[0-9]");
  int count = 0;
  for (std::sregex_iterator at(boxes.begin(), boxes.end(), word); at != std::sregex_iterator();
       ++at, ++count)
    EXPECT_LT(std::stod((*at)[1]), height - 40.0);
  EXPECT_GT(count, 100);
}

constexpr double kA4_pt = 841.9;
constexpr double kLetter_pt = 792.0;

TEST(AnyText, GoesOverPagesWhereItIsLong) {
  for (const bool letter : {false, true}) {
    DocumentView view = short_document();
    view.remarks = {"short", numbered(1500), numbered(200, "\n")};
    view.opinions = {std::string(300, 'x')};
    const std::string pdf = draw_pdf(view, letter ? PaperSize::letter : PaperSize::a4);
    expect_words(text_of(pdf), 1500);
    expect_inside(pdf, letter ? kLetter_pt : kA4_pt);
  }
}

TEST(AnyText, GoesOverPagesInParagraphsToo) {
  DocumentView view = short_document();
  view.as_left->decision_rule = numbered(1500);
  const std::string pdf = draw_pdf(view, PaperSize::a4);
  expect_words(text_of(pdf), 1500);
  expect_inside(pdf, kA4_pt);
}

TEST(AnyText, GoesOverPagesInATable) {
  DocumentView view = short_document();
  view.record = sample_record();
  view.record[1].says = numbered(600);
  view.settings = {{"Name", numbered(90, "\n")}};
  const std::string pdf = draw_pdf(view, PaperSize::letter);
  expect_words(text_of(pdf), 600);
  expect_inside(pdf, kLetter_pt);
}

TEST(AnyText, IsCutWithTheNumberOfWhatIsLeftOut) {
  EXPECT_EQ(excerpt("short", 10, "({} more)"), "short");
  EXPECT_EQ(excerpt("ÅÅÅÅÅ", 3, "({} more)"), "ÅÅÅ\u2026 (2 more)");
  EXPECT_EQ(excerpt("a\nb\nc", 50, "({} more)"), "a\nb\u2026 (2 more)");
  EXPECT_EQ(one_line("two\nlines"), "two lines");
  EXPECT_EQ(one_line("ÅÅÅ", 2), "ÅÅ\u2026");
  DocumentView view = short_document();
  view.remarks = {std::string(60000, '~')};
  const std::string text = text_of(draw_pdf(view, PaperSize::a4));
  EXPECT_TRUE(has(text, fmt::format("({} characters more in the journal)", 60000 - kMostText)));
  EXPECT_EQ(static_cast<std::size_t>(std::count(text.begin(), text.end(), '~')), kMostText);
}

TEST(AnyText, MayBeAnyBytes) {
  DocumentView view = sample_document();
  for (const std::string& trouble :
       {encoded(0xFFFE), encoded(0xFFFF), encoded(0xFDD0), encoded(0x1FFFE), encoded(0x10FFFF),
        encoded(0x1), encoded(0x1B), encoded(0x85), std::string(1, '\0'),
        std::string("\xED\xA0\x80"), std::string("\xFF"), std::string("\xC3")}) {
    const std::string text = "before" + trouble + "after";
    view.title = "Test report " + text;
    view.number = view.remarks[0] = view.seals[0].number = view.environment.weather = text;
    view.customer->name = view.as_left->deck_name = view.practice = view.made_by = text;
    view.qr = view.verify_command = text;
    const std::string read = text_of(draw_pdf(view, PaperSize::a4));
    EXPECT_TRUE(has(read, "before\xEF\xBF\xBD")) << trouble;
    EXPECT_TRUE(has(read,
                    "\xEF\xBF\xBD"
                    "after"))
        << trouble;
  }
}

/// Names in the letters of any people. What no font of this machine has (U+E000 is private, no font
/// has it by right; U+0378 stands for nothing yet: The Unicode Standard 15, from memory,
/// unverified) is drawn as U+FFFD and told, never as the font's own box.
TEST(AnyText, IsNeverDrawnAsABox) {
  DocumentView view = short_document();
  view.customer = PartyView{.name = "Ελλάδα Тарн Łącka \uE000 \u0378 石場 \U0001F69B",
                            .address = {},
                            .contact = "",
                            .country = ""};
  const std::string text = text_of(draw_pdf(view, PaperSize::a4));
  for (const char* drawn : {"Ελλάδα", "Тарн", "Łącka"}) EXPECT_TRUE(has(text, drawn)) << drawn;
  EXPECT_TRUE(has(text, "Łącka \uFFFD \uFFFD"));
  for (const char* told : {"U+0378", "U+E000", "No font of the machine"})
    EXPECT_TRUE(has(text, told)) << told;
  // By the machine's fonts either drawn or told; what was not drawn is not in the text.
  for (const auto& [sign, told] : {std::pair{"石", "U+77F3"}, {"\U0001F69B", "U+1F69B"}})
    EXPECT_NE(has(text, sign), has(text, told)) << told;
  EXPECT_FALSE(has(text_of(draw_pdf(short_document(), PaperSize::a4)), "No font of the machine"));
}

TEST(AnyText, OfEveryFieldMayBeHuge) {
  const std::string huge = numbered(4000, "");
  DocumentView view = sample_document();
  view.number = view.place = view.condition = view.authorised = view.role = view.practice = huge;
  view.customer->name = view.as_left->headline = huge;
  view.as_left->deck_name = std::string(20000, 'd');  // stands at the foot of every page
  view.environment.weather = view.seals[0].place = view.as_left->lines[0].where = huge;
  view.as_left->lines[0].clause = view.as_left->lines[0].name = huge;
  view.heads[0].device = huge;
  for (const PaperSize size : {PaperSize::a4, PaperSize::letter}) {
    const std::string pdf = draw_pdf(view, size);
    EXPECT_TRUE(has(text_of(pdf), "End of report"));
    expect_inside(pdf, size == PaperSize::a4 ? kA4_pt : kLetter_pt);
  }
}

}  // namespace
}  // namespace weighwright::report
