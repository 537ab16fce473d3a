#include <gtest/gtest.h>

#include <regex>

#include "report/outside_program.h"
#include "report/paper/paper.h"
#include "report/sample_document.h"

// outside check: pages, words, size of letters and code of the job sheet | `pdfinfo`,
//  `pdftotext`, `pdftoppm` (Poppler) and `zbarimg`

namespace weighwright::report {
namespace {

bool has(const std::string& text, const std::string& what) {
  return text.find(what) != std::string::npos;
}

/// A sheet with that many moves.
JobSheetView sheet_of(int moves) {
  JobSheetView view = sample_job_sheet();
  const std::vector<JobSheetMoveView> some = view.moves;
  view.moves.clear();
  for (int i = 0; i < moves; ++i)
    view.moves.push_back(some[static_cast<std::size_t>(i) % some.size()]);
  return view;
}

/// Height of the first word that is `what`, points, as poppler finds it.
double word_height(const Bench& bench, const std::string& what) {
  const std::string boxes = bench.run("pdftotext -bbox a.pdf -").output;
  std::smatch match;
  const std::regex word("yMin=\"([0-9.]+)\" xMax=\"[0-9.]+\" yMax=\"([0-9.]+)\">" + what + "<");
  return std::regex_search(boxes, match, word) ? std::stod(match[2]) - std::stod(match[1]) : 0.0;
}

TEST(JobSheetPdf, IsOnePageWithEverythingOnIt) {
  for (const int moves : {0, 1, 3, 8, 12}) {
    for (const PaperSize size : {PaperSize::a4, PaperSize::letter}) {
      const Bench bench;
      bench.put("a.pdf", draw_pdf(sheet_of(moves), size));
      EXPECT_TRUE(has(bench.run("pdfinfo a.pdf").output, "Pages:           1")) << moves;
      const std::string text = bench.run("pdftotext -layout a.pdf -").output;
      for (const char* item : {"Turn screws", "Nobody reaches under the deck",
                               "an eighth at a time", "Read all eight cells", "0f4c2a9b e1d38577"})
        EXPECT_TRUE(has(text, item)) << item << moves;
      EXPECT_EQ(has(text, "1 1/4 turns, up"), moves > 0);
    }
  }
}

TEST(JobSheetPdf, IsReadAtArmsLength) {
  const Bench bench;
  bench.put("a.pdf", draw_pdf(sheet_of(6), PaperSize::a4));
  // Common practice, no source: letters of 5 mm are read at 1 m and more; the box of a line is
  // about 1.2 times its size, a capital 0.73 of it.
  EXPECT_GT(word_height(bench, "turns,") * 25.4 / 72.0 / 1.2 * 0.73, 4.0);
}

TEST(JobSheetPdf, CarriesACodeAndTheBanner) {
  JobSheetView view = sheet_of(4);
  view.practice = "PRACTICE SITE - not a real scale";
  const Bench bench;
  bench.put("a.pdf", draw_pdf(view, PaperSize::letter));
  EXPECT_TRUE(has(bench.run("pdftotext a.pdf -").output, view.practice));
  EXPECT_TRUE(
      has(bench.run("pdftoppm -r 150 -png a.pdf p && zbarimg -q --raw p-1.png 2>/dev/null").output,
          view.qr));
}

TEST(JobSheetPdf, IsTheSameForTheSameView) {
  EXPECT_EQ(draw_pdf(sheet_of(3), PaperSize::a4), draw_pdf(sheet_of(3), PaperSize::a4));
}

}  // namespace
}  // namespace weighwright::report
