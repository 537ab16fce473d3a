#include "report/paper/qr_code.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "report/outside_program.h"
#include "report/paper/paper.h"
#include "report/sample_document.h"

// outside check: code of a command with more heads than it holds | `pdftoppm` (Poppler) and
//  `zbarimg`
// outside check: most bytes of a code | ISO/IEC 18004, version 40: 2331 (M), 2953 (L) (from memory,
//  unverified)

namespace weighwright::report {
namespace {

constexpr double kAnySide = 1e9;

bool has(const std::string& text, const std::string& what) {
  return text.find(what) != std::string::npos;
}

std::string without_blanks(const std::string& text) {
  std::string packed;
  for (const char c : text) {
    if (c > ' ' || c < 0) packed += c;
  }
  return packed;
}

std::vector<HeadView> heads_of(int count) {
  std::vector<HeadView> heads(static_cast<std::size_t>(count), sample_head());
  for (std::size_t i = 0; i < heads.size(); ++i) heads[i].device = fmt::format("{:016x}", i + 16);
  return heads;
}

std::string command_of(const std::vector<HeadView>& heads) {
  std::string text = "weighwright job verify JOB";
  for (const HeadView& head : heads)
    text += fmt::format(" --head {}:{}:{}", head.device, head.sequence, head.hash);
  return text;
}

TEST(CodeText, LessensCorrectionBeforeItDropsHeads) {
  EXPECT_TRUE(code_text(std::string(2331, 'q'), kAnySide).strong);
  const CodeText weak = code_text(std::string(2332, 'q'), kAnySide);
  EXPECT_FALSE(weak.strong);
  EXPECT_EQ(weak.text.size(), 2332U);
  EXPECT_EQ(code_text(std::string(2953, 'q'), kAnySide).text.size(), 2953U);
  EXPECT_EQ(code_text(std::string(2954, 'q'), kAnySide).text, "");
  EXPECT_EQ(code_text("", kAnySide).side, 0.0);
}

TEST(CodeText, KeepsWholeHeads) {
  const std::string command = command_of(heads_of(40));
  const CodeText code = code_text(command, kAnySide);
  EXPECT_EQ(code.heads_of_whole, 40);
  EXPECT_GT(code.heads, 20);
  EXPECT_EQ(code.text, command_of(heads_of(code.heads)));
  const CodeText small = code_text(command, 120.0);
  EXPECT_LE(small.side, 120.0);
  EXPECT_LT(small.heads, code.heads);
  EXPECT_GT(small.heads, 0);
}

TEST(CodeText, HoldsOnlyWhatIsText) {
  EXPECT_EQ(code_text("a\xFF\xEF\xBF\xBE", kAnySide).text, "a\xEF\xBF\xBD\xEF\xBF\xBD");
}

DocumentView document_of(int heads) {
  DocumentView view = short_document();
  view.heads = heads_of(heads);
  view.verify_command = view.qr = command_of(view.heads);
  return view;
}

/// All that zbarimg reads on the pages.
std::string codes_of(const Bench& bench) {
  return bench.run("pdftoppm -gray -r 150 -png a.pdf p && zbarimg -q --raw p*.png 2>/dev/null")
      .output;
}

TEST(ReportCode, HoldsWhatFitsAndTheCommandIsWhole) {
  for (const int heads : {3, 40}) {
    const DocumentView view = document_of(heads);
    const Bench bench;
    bench.put("a.pdf", draw_pdf(view, PaperSize::a4));
    const std::string code = codes_of(bench);
    ASSERT_FALSE(code.empty()) << heads;
    EXPECT_EQ(view.qr.substr(0, code.size() - 1), code.substr(0, code.size() - 1)) << heads;
    // Page by page: running heads stand between the parts of a command that goes over a page.
    const std::string text = bench.run("pdftotext -raw -x 0 -y 58 -W 600 -H 738 a.pdf -").output;
    EXPECT_TRUE(has(without_blanks(text), without_blanks(view.verify_command))) << heads;
    EXPECT_EQ(has(text, fmt::format("of {} heads", heads)), heads > 3) << heads;
  }
}

TEST(ReportCode, IsLeftOutWhereNothingFits) {
  DocumentView view = short_document();
  view.qr = std::string(5000, 'q');
  const Bench bench;
  bench.put("a.pdf", draw_pdf(view, PaperSize::a4));
  EXPECT_TRUE(has(bench.run("pdftotext a.pdf -").output, "too long for a code"));
  EXPECT_EQ(codes_of(bench), "");
}

TEST(SheetCode, StaysOnItsPage) {
  for (const int heads : {5, 60}) {
    JobSheetView view = sample_job_sheet();
    view.heads = heads_of(heads);
    view.qr = command_of(view.heads);
    const Bench bench;
    bench.put("a.pdf", draw_pdf(view, PaperSize::letter));
    EXPECT_TRUE(has(bench.run("pdfinfo a.pdf").output, "Pages:           1"));
    const std::string code = codes_of(bench);
    ASSERT_FALSE(code.empty());
    EXPECT_EQ(view.qr.substr(0, code.size() - 1), code.substr(0, code.size() - 1));
    EXPECT_EQ(has(bench.run("pdftotext a.pdf -").output, "names 55 more"), heads == 60);
  }
}

}  // namespace
}  // namespace weighwright::report
