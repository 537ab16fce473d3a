#include <gtest/gtest.h>

#include <sstream>

#include "report/paragraph.h"
#include "report/sample_document.h"

namespace weighwright::report {
namespace {

bool has(const std::string& text, const std::string& what) {
  return text.find(what) != std::string::npos;
}

/// One blank for any run of blanks and line breaks.
std::string flat(const std::string& text) {
  std::istringstream words(text);
  std::string all;
  for (std::string word; words >> word;) all += word + ' ';
  return all;
}

TEST(ProofText, StaysWithinEightyColumns) {
  for (const bool left : {true, false}) {
    ProofView view = sample_proof(left);
    view.lines[0].where = "in the middle between sections 2 and 3, wheels on the left runway";
    std::istringstream lines(draw_text(view));
    for (std::string line; std::getline(lines, line);) EXPECT_LE(columns_of(line), 80) << line;
  }
}

TEST(ProofText, TellsEveryLineWithItsFigures) {
  const std::string text = flat(draw_text(sample_proof(false)));
  // R 76-1:2006, Table 6 doubled in service (facts: from memory, unverified): 40 kg at 40 t.
  EXPECT_TRUE(has(text, "substitute S2 40000 39940 -60.7 40 6.2 2.05 FAIL")) << text;
  EXPECT_TRUE(has(text, "over 1L 8580 8580 -2.4 20 3.1 2.05 pass")) << text;
  EXPECT_TRUE(has(text, "(R 76-1:2006, 3.6.2.2)"));
  EXPECT_TRUE(has(text, "Repeatability at 30000 kg (3 results): 3 kg, at most 20 kg: pass"));
  EXPECT_TRUE(has(text, "Discrimination at 400 kg: 20 kg, at least 20 kg: pass"));
  EXPECT_TRUE(has(text, "MAY NOT SERVE: it has no certificate"));
}

TEST(ProofText, SaysWhatIsMissingFirst) {
  ProofView view = sample_proof(true);
  view.missing = {{"increasing", "test", "Increasing load was not tested.", "A.4.4.1"}};
  view.findings = {{"stale", true, "a.csv", 3, "Read before the span was set.", ""}};
  const std::string text = draw_text(view);
  const auto missing = text.find("  MISSING: Increasing load was not tested. [A.4.4.1]");
  ASSERT_NE(missing, std::string::npos) << text;
  EXPECT_TRUE(has(text, "  WRONG: Read before the span was set."));
  EXPECT_LT(missing, text.find("Eccentric load"));
}

TEST(ProofText, SpeaksPoundsWhereTheDeckDoes) {
  ProofView view;
  view.us = true;
  view.interval_kg = 9.07184740;  // 20 lb
  // 34 000 lb = 15 422.140 58 kg, 80 000 lb = 36 287.389 6 kg: NIST SP 811 (2008), B.8, lb exact.
  view.capacity_kg = 36287.3896;
  EXPECT_EQ(mass_figure(view, 15422.14058), "34000");
  EXPECT_TRUE(has(draw_text(view), "Max 80000 lb"));
  EXPECT_TRUE(has(draw_text(view), "e = 20 lb"));
}

TEST(ProofText, GivesUncertaintiesTwoSignificantDigits) {
  // JCGM 100:2008, 7.2.6: at most two significant digits.
  const ProofView view = sample_proof(true);
  EXPECT_EQ(uncertainty_figures(view, {9.63, 12.4}), (std::vector<std::string>{"9.6", "12"}));
  EXPECT_EQ(uncertainty_figures(view, {12.4, std::nullopt}), (std::vector<std::string>{"12", "-"}));
  EXPECT_EQ(uncertainty_figures(view, {0.0123}), (std::vector<std::string>{"0.012"}));
  // JCGM 100:2008, 7.2.6: two digits at most; 9.96 rounds to 10, 123 to 120.
  EXPECT_EQ(uncertainty_figures(view, {9.96, 123.0, 0.58}),
            (std::vector<std::string>{"10", "120", "0.58"}));
}

TEST(ProofText, NamesConditionalVerdicts) {
  // ILAC-G8:09/2019, 4.2.3: pass, conditional pass, conditional fail, fail.
  ProofView view = sample_proof(true);
  view.lines[0].sure = "conditional_pass";
  view.lines[1].sure = "conditional_fail";
  view.lines[1].verdict = "fail";
  view.lines[2].sure = "";
  view.lines[2].verdict = "not_judged";
  const std::string text = draw_text(view);
  EXPECT_TRUE(has(text, "pass, conditional"));
  EXPECT_TRUE(has(text, "FAIL, conditional"));
  EXPECT_TRUE(has(text, "not judged"));
}

// ILAC-G8:09/2019, 4.2.2.
TEST(ProofText, SaysOfABinaryRuleWhatNotAcceptedMeans) {
  ProofView view = sample_proof(true);
  EXPECT_FALSE(has(draw_text(view), "not accepted"));
  view.lines[0].verdict = view.lines[0].sure = "not_accepted";
  const std::string text = draw_text(view);
  EXPECT_TRUE(has(text, "not accepted: within the limit, inside the guard band")) << text;
  EXPECT_FALSE(has(text, "FAIL"));
}

TEST(ProofText, LeadsWithTheLineNearestItsLimit) {
  ProofView view = sample_proof(true);
  const ProofLineView* const found = leading_line(view);
  ASSERT_NE(found, nullptr);
  // Of the increasing series, the only one with budgets: 3.9 of 10 kg at 10 t is the largest share.
  EXPECT_EQ(found->load_kg, 10000.0);
  view.leading = 15;
  EXPECT_EQ(leading_line(view), &view.lines[15]);
  for (ProofLineView& line : view.lines) line.terms.clear();
  view.leading = -1;
  EXPECT_EQ(leading_line(view), nullptr);
}

TEST(ProofText, TellsChancesBeforeTheTest) {
  ProofView view;
  view.interval_kg = 20.0;
  view.chances = {{"increasing", 40000.0, 20.0, 4.0, 6.26, 0.9945}};
  EXPECT_TRUE(has(flat(draw_text(view)), "increasing 40000 20 +4 6.3 99.5 %"));
}

}  // namespace
}  // namespace weighwright::report
