#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cctype>
#include <regex>
#include <sstream>

#include "report/outside_program.h"
#include "report/paper/paper.h"
#include "report/sample_document.h"

// outside check: what a report must hold, an amended one too | ISO/IEC 17025:2017, 7.8.2.1,
//  7.8.2.2, 7.8.4.1, 7.8.6 and 7.8.8 (read in transcripts)
// outside check: pages, text, fonts and code of the report | `pdfinfo`, `pdftotext`, `pdffonts`,
//  `pdftoppm` (Poppler) and `zbarimg`
// outside check: size of the paper | ISO 216 (A4); ANSI/ASME Y14.1 (A size)

namespace weighwright::report {
namespace {

bool has(const std::string& text, const std::string& what) {
  return text.find(what) != std::string::npos;
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  for (std::size_t at = 0; (at = text.find(from, at)) != std::string::npos; at += to.size())
    text.replace(at, from.size(), to);
  return text;
}

/// Whole kilograms as they are set from five digits on; poppler reads a thin space as a blank.
std::string grouped(double value) {
  std::string digits = fmt::format("{:.0f}", value);
  if (digits.size() > 4) digits.insert(digits.size() - 3, " ");
  return digits;
}

/// What poppler reads on the pages, one blank between words; true minus made plain.
std::string text_of(const std::string& pdf) {
  const Bench bench;
  bench.put("a.pdf", pdf);
  const Bench::Ran ran = bench.run("pdftotext -layout a.pdf -");
  EXPECT_EQ(ran.status, 0) << ran.output;
  std::istringstream words(
      replaced(replaced(replaced(ran.output, "\u2212", "-"), "\u202f", " "), "\u00a0", " "));
  std::string text;
  for (std::string word; words >> word;) text += word + ' ';
  return text;
}

std::string info_of(const std::string& pdf, const std::string& command) {
  const Bench bench;
  bench.put("a.pdf", pdf);
  const Bench::Ran ran = bench.run(command + " a.pdf");
  EXPECT_EQ(ran.status, 0) << ran.output;
  return ran.output;
}

int pages_of(const std::string& pdf) {
  std::smatch match;
  const std::string info = info_of(pdf, "pdfinfo");
  return std::regex_search(info, match, std::regex("Pages: +([0-9]+)")) ? std::stoi(match[1]) : 0;
}

const std::string& long_pdf() {
  static const std::string pdf = draw_pdf(sample_document(), PaperSize::a4);
  return pdf;
}

const std::string& long_text() {
  static const std::string text = text_of(long_pdf());
  return text;
}

TEST(ReportPdf, PrintsEveryResultWithLimitAndClause) {
  const DocumentView view = sample_document();
  for (const ProofView* proof : {&*view.as_found, &*view.as_left}) {
    for (const ProofLineView& line : proof->lines) {
      const std::string where = line.material.empty() ? line.where : line.where + line.material;
      const std::string verdict = line.verdict == "pass" ? "pass" : "FAIL";
      const std::string row =
          fmt::format("{}{} {} {:+.1f} {:.0f} {:.1f} 2.05 {} {} ", where.empty() ? "" : where + " ",
                      grouped(line.load_kg), grouped(line.indication_kg), line.error_kg,
                      *line.limit_kg, *line.U_kg, line.verdict == "pass" ? "97.8" : "1.1", verdict);
      EXPECT_TRUE(has(long_text(), row)) << row;
      EXPECT_TRUE(has(long_text(), line.clause)) << line.clause;
    }
    for (const ProofRangeView& range : proof->ranges)
      EXPECT_TRUE(has(long_text(), range.clause)) << range.clause;
  }
}

/// ISO/IEC 17025:2017, 7.8.2.1 a to p and 7.8.4.1 a to f (read in transcripts; facts 9.2).
TEST(ReportPdf, HoldsWhatAReportMustHold) {
  DocumentView view = sample_document();
  view.received = "2026-11-23";
  view.condition = "deck clean, pit drained";
  view.by_others = {"Gravity by a survey that others made."};
  view.by_customer = {"Serial numbers of the cells, from the customer's papers."};
  view.opinions = {"The cause of the lean is wear at 2L, by the wear seen."};
  const std::string text = text_of(draw_pdf(view, PaperSize::a4));
  for (const char* item : {"Test report",
                           "Fell Weighing Service",
                           "4 Beck Row",  // a, b
                           "Tarn Quarry, outgoing lane, at the",
                           "TQ-2026-0417",
                           "End of report",  // c, d
                           "Каменоломня «Тарн» / Tarn Quarry Ångström",
                           "office@tarn.example",  // e
                           "OIML R 76-1:2006, A.4.4 to A.4.10",
                           "TQ-0417",
                           "1L C-100",  // f, g
                           "deck clean, pit drained",
                           "2026-11-23",  // g, h
                           "2026-11-24 to 2026-11-25",
                           "2026-11-26",  // i, j
                           "relate only to the item tested",
                           "kg",  // l, m
                           "Load above 20 t by substitution",
                           "Zofia Łącka",
                           "Lead technician",  // n, o
                           "Gravity by a survey",
                           "Serial numbers of the cells",  // p, 7.8.2.2
                           "coverage factor k = 2.05",
                           "effective degrees of freedom 50",  // 7.8.4.1 a
                           "12 °C to 14 °C",
                           "71 %",
                           "1002 hPa",  // b
                           "traceable",
                           "MT-2026-0311",
                           "Results as found",
                           "Results as left",  // c, d
                           "PASS",
                           "FAIL",
                           "The cause of the lean",
                           "Simple acceptance",       // e, f, 7.8.6
                           "Replaces TQ-2026-0416"})  // 7.8.8
    EXPECT_TRUE(has(text, item)) << item;
}

TEST(ReportPdf, TellsSealsAdjustmentsSettingsBudgetAndJournal) {
  for (const char* item :
       {"found seal S-1180", "left calibration counter 0043", "2L raised by 1 1/4 turns",
        "1.00000 → 1.00131", "Standards, summed linearly 2.3 49.0", "Drain at end 1 was cleared",
        "0f4c2a9b e1d38577 66a0b1c2", "device 77aa01bc22de90f1, entry 12", "journal of 96 entries",
        "weighwright job verify tarn.job", "Not accepted: it has no certificate",
        "84 2026-11-24 12:30:05 +01:00 Zofia Łącka", "corrected by 21"})
    EXPECT_TRUE(has(long_text(), item)) << item;
}

TEST(ReportPdf, CountsItsPagesAndEndsOnce) {
  const int pages = pages_of(long_pdf());
  ASSERT_GE(pages, 4);
  for (int page = 1; page <= pages; ++page)
    EXPECT_TRUE(has(long_text(), fmt::format("page {} of {} ", page, pages))) << page;
  EXPECT_FALSE(has(long_text(), fmt::format("page {} of", pages + 1)));
  const auto end = long_text().find("End of report");
  ASSERT_NE(end, std::string::npos);
  EXPECT_EQ(long_text().find("End of report", end + 1), std::string::npos);
}

TEST(ReportPdf, RepeatsTitleNumberAndTableHeadsOnEveryPage) {
  const Bench bench;
  bench.put("a.pdf", long_pdf());
  const int pages = pages_of(long_pdf());
  int heads = 0;
  for (int page = 1; page <= pages; ++page) {
    const std::string text = bench.run(fmt::format("pdftotext -f {0} -l {0} a.pdf -", page)).output;
    EXPECT_TRUE(has(text, "Test report")) << page;
    EXPECT_TRUE(has(text, "TQ-2026-0417")) << page;
    if (has(text, "Indication")) ++heads;
  }
  // Two long tables of results, at least one of them goes over a page.
  EXPECT_GE(heads, 3);
  // More lines of one test than a page holds.
  DocumentView view = short_document();
  view.as_left->lines.assign(120, view.as_left->lines[0]);
  EXPECT_TRUE(has(text_of(draw_pdf(view, PaperSize::a4)), "(continued)"));
}

/// Only an authority verifies (ISO/IEC 17025 apart; facts 9.2): our own words never say so.
TEST(ReportPdf, NeverSaysWhatIsTheAuthoritys) {
  DocumentView view = sample_document();
  view.statements.clear();  // job's sentence names what the report is not
  for (ProofLineView& line : view.as_left->lines) line.terms.clear();
  for (ProofLineView& line : view.as_found->lines) line.terms.clear();
  std::string text = text_of(draw_pdf(view, PaperSize::a4));
  std::transform(text.begin(), text.end(), text.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  for (const char* word : {"verified", "legal for trade", "certified"})
    EXPECT_FALSE(has(text, word)) << word;
}

TEST(ReportPdf, IsACertificateOnlyWithAccreditation) {
  DocumentView view = short_document();
  view.title = "Calibration certificate";
  EXPECT_THROW((void)draw_pdf(view, PaperSize::a4), std::invalid_argument);
  view.accreditation = AccreditationView{.body = "National body (invented)", .number = "K-0001"};
  const std::string text = text_of(draw_pdf(view, PaperSize::a4));
  EXPECT_TRUE(has(text, "Calibration certificate"));
  EXPECT_TRUE(has(text, "K-0001"));
}

TEST(ReportPdf, EmbedsAllFonts) {
  std::istringstream lines(info_of(long_pdf(), "pdffonts"));
  std::string line;
  std::getline(lines, line);
  const std::size_t column = line.find("emb");
  ASSERT_NE(column, std::string::npos);
  std::getline(lines, line);  // dashes
  int fonts = 0;
  for (; std::getline(lines, line); ++fonts) EXPECT_EQ(line.substr(column, 3), "yes") << line;
  EXPECT_GE(fonts, 2);
}

TEST(ReportPdf, HasTheSizeOfItsPaper) {
  // ISO 216: A4 is 210 mm x 297 mm. ANSI/ASME Y14.1: A size is 8.5 in x 11 in. 72 points an inch.
  EXPECT_TRUE(has(info_of(long_pdf(), "pdfinfo"), "(A4)"));
  const std::string letter = draw_pdf(sample_document(), PaperSize::letter);
  EXPECT_TRUE(has(info_of(letter, "pdfinfo"), "612 x 792 pts"));
  EXPECT_TRUE(has(text_of(letter), "End of report"));
}

TEST(ReportPdf, IsTheSameForTheSameView) {
  EXPECT_EQ(draw_pdf(sample_document(), PaperSize::a4), long_pdf());
  EXPECT_TRUE(has(info_of(long_pdf(), "TZ=UTC pdfinfo -isodates"), "2026-11-26T00:00:00"));
  DocumentView undated = short_document();
  undated.issued.clear();
  EXPECT_FALSE(has(info_of(draw_pdf(undated, PaperSize::a4), "pdfinfo"), "CreationDate"));
}

TEST(ReportPdf, CarriesACodeThatAnotherProgramReads) {
  const Bench bench;
  bench.put("a.pdf", long_pdf());
  const Bench::Ran ran =
      bench.run("pdftoppm -r 150 -png a.pdf p && zbarimg -q --raw p-*.png 2>/dev/null");
  EXPECT_TRUE(has(ran.output, sample_document().qr)) << ran.output;
}

PlacedView sample_placed(int number) {
  return {.number = number,
          .phase = "left",
          .name = "Eccentric load",
          .run = 1,
          .where = "over 2L",
          .heading = "",
          .what = "W1*7",
          .load_kg = 7000.0,
          .when = "2026-11-25 09:4" + std::to_string(number),
          .who = "Z. Example",
          .entry = 40 + number,
          .at_m = std::pair{7.3, 1.2}};
}

TEST(ReportPdf, ListsTheLoadsThatStoodThereAndDrawsAPlaceOnce) {
  DocumentView view = short_document();
  view.placed = {sample_placed(1), sample_placed(2), sample_placed(3)};
  view.placed[1].at_m = std::pair{13.7, 1.2};
  view.placed[2].load_kg.reset();
  view.placed[2].phase = "stale";
  const std::string text = text_of(draw_pdf(view, PaperSize::a4));
  EXPECT_TRUE(has(text, "Placements of the load"));
  EXPECT_TRUE(has(text, "1 Eccentric load over 2L W1*7 7000 2026-11-25 09:41 Z. Example 41"));
  EXPECT_TRUE(has(text, "Before the last adjustment: does not count"));
  EXPECT_TRUE(has(text, "W1*7 not known 2026-11-25 09:43"));
  EXPECT_TRUE(has(text, "Placement 1, 3 Placement 2"));
}

/// R 76-1:2006, A.4.4.3 (quoted by OIML bulletins): P = I + e/2 - added, E = P - L, less E0.
TEST(ReportPdf, PrintsAllThatAnErrorIsComputedFrom) {
  DocumentView view = short_document();
  view.as_left->lines = {sample_fine_line()};
  view.as_left->ranges = {sample_repeats()};
  view.as_left->substitutes = {{.name = "S1", .mass_kg = 19872.0, .u_kg = 3.21}};
  view.as_left->s_kg = 2.0;
  const std::string text = text_of(draw_pdf(view, PaperSize::a4));
  // load, indication, added, E0, error = 40 020 + 10 - 16 - 2 - 40 000, limit
  EXPECT_TRUE(has(text, "40 000 40 020 16 2 +12 20")) << text;
  EXPECT_TRUE(has(text, "P: indication + d/2 - added, d = 20 kg"));
  EXPECT_TRUE(has(text, "30 002"));
  EXPECT_TRUE(has(text, "30 004"));
  EXPECT_TRUE(has(text, "s = 2.0 kg"));
  EXPECT_TRUE(has(text, "S1: 19 872 kg, standard uncertainty 3.2 kg"));
}

/// JCGM 100:2008, 7.2.6: two significant digits at most, each figure for itself.
TEST(ReportPdf, StatesUWithTwoSignificantDigits) {
  DocumentView view = short_document();
  for (ProofLineView& line : view.as_left->lines) line.p_conforming.reset();
  view.as_left->lines[0].U_kg = 12.345;
  view.as_left->lines[1].U_kg = 0.5812;
  view.as_left->lines[2].U_kg = 123.4;
  const std::string text = text_of(draw_pdf(view, PaperSize::a4));
  for (const char* row : {" 10 12 2.05 pass", " 10 0.58 2.05 pass", " 10 120 2.05 pass"})
    EXPECT_TRUE(has(text, row)) << row;
}

TEST(ReportPdf, NamesWhoComparedTheRulebookWithPrint) {
  DocumentView view = short_document();
  view.rules = sample_rules(true);
  const std::string text = text_of(draw_pdf(view, PaperSize::a4));
  EXPECT_TRUE(has(text, "compared with print by Zofia Łącka, 2026-11-20"));
  EXPECT_FALSE(has(text, "A.4.10"));
  EXPECT_FALSE(has(text, "Rules that nobody compared"));
}

TEST(ReportPdf, ListsTheRulesThatNobodyComparedWithPrint) {
  DocumentView view = short_document();
  view.rules = sample_rules(false);
  const std::string text = text_of(draw_pdf(view, PaperSize::a4));
  EXPECT_TRUE(has(text, "Rules that nobody compared with their print"));
  EXPECT_TRUE(
      has(text, "R 76-1:2006, A.4.10 repeatability: weighings, at least = 3 not seen in any"))
      << text;
}

TEST(ReportPdf, IsACheckListOfARulebookToBeTicked) {
  const std::string text = text_of(draw_pdf(sample_rules(false), PaperSize::letter));
  for (const char* item : {"Check list of a rulebook", "OIML R 76-1:2006", "Page", "A.4.10",
                           "0f4c2a9b e1d38577", "Tick every line", "Signature"})
    EXPECT_TRUE(has(text, item)) << item;
}

TEST(ReportPdf, TellsMakerModelAndClassOnce) {
  DocumentView view = sample_document();
  const std::string text = text_of(draw_pdf(view, PaperSize::a4));
  const std::string front = text.substr(0, text.find("Results as found"));
  for (const char* once : {"Maker", "Model", "Accuracy class", "three modules, surface mounted"}) {
    const std::size_t at = front.find(once);
    ASSERT_NE(at, std::string::npos) << once;
    EXPECT_EQ(front.find(once, at + 1), std::string::npos) << once;
  }
}

TEST(ReportPdf, LeavesOutWhatWasNotGiven) {
  const std::string text = text_of(draw_pdf(short_document(), PaperSize::a4));
  for (const char* head :
       {"Laboratory", "Customer", "Environment", "Seals", "Adjustments", "Remarks",
        "Standards used", "Journal", "Job record", "Results as found", "Load cells"})
    EXPECT_FALSE(has(text, head)) << head;
  for (const char* there : {"INCOMPLETE", "Missing", "Increasing load was not tested", "Signature"})
    EXPECT_TRUE(has(text, there)) << there;
  EXPECT_FALSE(has(text, "PASS"));
}

TEST(ReportPdf, BearsTheBannerOfAPracticeSiteOnEveryPage) {
  DocumentView view = sample_document();
  view.practice = "PRACTICE SITE - not a real scale";
  const std::string pdf = draw_pdf(view, PaperSize::letter);
  const std::string text = text_of(pdf);
  int count = 0;
  for (std::size_t at = 0; (at = text.find(view.practice, at)) != std::string::npos; ++at) ++count;
  EXPECT_EQ(count, pages_of(pdf));
}

TEST(ReportPdf, SurvivesAnEmptyViewAndBytesThatAreNoText) {
  DocumentView view;
  EXPECT_GT(draw_pdf(view, PaperSize::a4).size(), 1000U);
  view.title = "Test report";
  view.customer = PartyView{.name = "\xff\xfe broken", .address = {}, .contact = "", .country = ""};
  view.remarks = {std::string(20000, 'x'), "\xc3"};
  EXPECT_GT(draw_pdf(view, PaperSize::letter).size(), 1000U);
}

TEST(ReportPdf, BreaksALongCommandWithoutAHyphen) {
  DocumentView view = short_document();
  view.heads = {sample_head()};
  view.verify_command = std::string(150, 'a') + std::string(150, 'b');
  const std::string text = text_of(draw_pdf(view, PaperSize::a4));
  EXPECT_TRUE(has(text, "aaaa"));
  for (const char* broken : {"a-", "b-", "a\u2010", "b\u2010"})
    EXPECT_FALSE(has(text, broken)) << broken;
}

/// JCGM 100:2008, G.4.1: t may be interpolated for degrees of freedom that are not whole; so they
/// are printed as they were used, not cut to a whole number.
TEST(ReportPdf, TellsFewDegreesOfFreedomSoThatKFollows) {
  DocumentView view = short_document();
  ProofLineView& line = view.as_left->lines[0];
  line.terms = sample_terms();
  line.k = 2.60;
  const std::pair<double, const char*> printed[] = {
      {5.44, "freedom 5.4."}, {9.94, "freedom 9.9."}, {9.97, "freedom 10."}, {27.8, "freedom 28."}};
  for (const auto& [dof, says] : printed) {
    line.dof = dof;
    EXPECT_TRUE(has(text_of(draw_pdf(view, PaperSize::a4)), says)) << says;
  }
  line.dof.reset();
  EXPECT_TRUE(has(text_of(draw_pdf(view, PaperSize::a4)), "freedom infinite."));
}

TEST(ReportPdf, TellsWhatWasNotJudgedFromWhatFailed) {
  DocumentView view = short_document();
  view.as_left->ranges = sample_proof(true).ranges;
  view.as_left->ranges[0].verdict = "not_judged";
  view.as_left->lines[0].verdict = "not_judged";
  view.as_left->lines[0].sure = "conditional_fail";
  const std::string text = text_of(draw_pdf(view, PaperSize::a4));
  EXPECT_TRUE(has(text, "R 76-1:2006, 3.6.1 not judged"));
  EXPECT_TRUE(has(text, "97.8 not judged"));
  EXPECT_FALSE(has(text, "FAIL"));
}

// ILAC-G8:09/2019, 4.2.2.
TEST(ReportPdf, TellsWhatWasNotAcceptedFromWhatFailed) {
  DocumentView view = short_document();
  view.as_left->outcome = "not_accepted";
  view.as_left->counts.not_accepted = 1;
  view.as_left->lines[0].verdict = view.as_left->lines[0].sure = "not_accepted";
  const std::string text = text_of(draw_pdf(view, PaperSize::a4));
  EXPECT_TRUE(has(text, "NOT ACCEPTED"));
  EXPECT_TRUE(has(text, "within the limit, inside the guard band"));
  EXPECT_FALSE(has(text, "FAIL"));
}

TEST(ReportPdf, TellsTheWorstOfManyZeros) {
  DocumentView view = short_document();
  ProofRangeView zero = sample_proof(true).ranges[1];
  zero.where = "the greatest change";
  zero.count = 7;
  view.as_left->ranges = {zero};
  EXPECT_TRUE(has(text_of(draw_pdf(view, PaperSize::a4)),
                  "Zero after load, the greatest change (7 results)"));
}

TEST(ReportPdf, LeavesNoHeadingAboveNothing) {
  DocumentView view = short_document();
  view.as_left->missing.clear();
  view.remarks = {""};
  const std::string text = text_of(draw_pdf(view, PaperSize::a4));
  for (const char* head : {"Missing", "Findings", "Remarks", "Agreement", "Assumed", "from memory"})
    EXPECT_FALSE(has(text, head)) << head;
}

}  // namespace
}  // namespace weighwright::report
