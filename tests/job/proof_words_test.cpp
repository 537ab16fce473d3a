// What is said of a verdict. Decks, weights and readings are our own invention.
#include "job/proof_words.h"

#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

#include "job/prove_case.h"
#include "rules/reading/read_rulebook.h"

// outside check: words of decision rules | ILAC-G8:09/2019, 4.2.1 to 4.2.3; U against a third of
// the
//  limit: JCGM 106:2012, 8.2.3

namespace weighwright::job {
namespace {

using proof::Conformity;
using proof::DecisionRule;
using proof::Outcome;

InputFile example(const std::string& name) {
  std::ifstream file(WEIGHWRIGHT_SOURCE_DIR "/examples/" + name);
  std::stringstream text;
  text << file.rdbuf();
  return {.name = name, .text = text.str()};
}

const deck::Deck& deck() {
  static const LoadedDeck loaded = load_deck(example("three-modules.toml"));
  return *loaded.deck;
}

std::string of_rulebook(const char* rulebook, const proof::Verdict& verdict, DecisionRule rule) {
  return ProofWords(deck(), rules::built_in(rulebook)).headline(verdict, rule, true, true);
}

std::string headline(const proof::Verdict& verdict, DecisionRule rule) {
  return of_rulebook("R76", verdict, rule);
}

proof::JudgedLine line_of(Conformity conformity, bool capable = true) {
  proof::JudgedLine line;
  line.limit = rules::Limit{};
  line.decision = proof::Decision{
      .conformity = conformity, .accepted = conformity == Conformity::pass, .capable = capable};
  line.passed = line.decision->accepted;
  return line;
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

TEST(ProofWords, ANonBinaryRuleCountsFourWordsApart) {
  proof::Verdict verdict;
  verdict.outcome = Outcome::fail;
  for (int i = 0; i < 2; ++i) verdict.lines.push_back(line_of(Conformity::pass));
  for (int i = 0; i < 14; ++i) verdict.lines.push_back(line_of(Conformity::conditional_pass));
  verdict.lines.push_back(line_of(Conformity::fail));
  EXPECT_EQ(
      headline(verdict, DecisionRule::guarded),
      "NOT WITHIN THE LIMITS, as left: of 17 lines 2 pass, 14 conditional pass, 0 conditional "
      "fail, 1 fail.");
  verdict.lines.pop_back();
  verdict.outcome = Outcome::conditional_pass;
  EXPECT_EQ(headline(verdict, DecisionRule::guarded),
            "CONDITIONAL PASS, as left: of 16 lines 2 pass, 14 conditional pass, 0 conditional "
            "fail, 0 fail.");
}

TEST(ProofWords, ABinaryRuleNeverCallsAResultWithinItsLimitAFailure) {
  proof::Verdict verdict;
  verdict.outcome = Outcome::not_accepted;
  verdict.lines = {line_of(Conformity::pass), line_of(Conformity::not_accepted)};
  const std::string text = headline(verdict, DecisionRule::guarded_binary);
  EXPECT_TRUE(has(text, "NOT ACCEPTED")) << text;
  EXPECT_TRUE(has(text, "1 of 2 lines are within the limit, inside the guard band")) << text;
  EXPECT_FALSE(has(text, "FAIL") || has(text, "NOT WITHIN")) << text;
}

TEST(ProofWords, SimpleAcceptanceCarriesUAboveAThirdInItsFirstLineUnlessHandbook44) {
  proof::Verdict verdict;
  verdict.lines = {line_of(Conformity::pass), line_of(Conformity::pass, false)};
  for (const Outcome outcome : {Outcome::pass, Outcome::fail}) {
    verdict.outcome = outcome;
    EXPECT_TRUE(has(headline(verdict, DecisionRule::simple),
                    "U is above a third of the limit at 1 of 2 lines"));
    EXPECT_FALSE(has(of_rulebook("H44", verdict, DecisionRule::simple), "third of the limit"));
    EXPECT_FALSE(has(headline(verdict, DecisionRule::guarded), "third of the limit"));
  }
}

TEST(ProofWords, NamesOfFilesStayAsTheyWereWritten) {
  proof::ProofFinding finding{.code = "off_resolution",
                              .blocks = true,
                              .file = "results.csv",
                              .line = 7,
                              .what = "10003 kg can't be shown",
                              .source = {}};
  const ProofWords words(deck(), rules::built_in("R76"));
  EXPECT_EQ(words.finding(finding), "results.csv, line 7: 10003 kg can't be shown.");
  finding.file.clear();
  finding.what = "all errors are above zero";
  EXPECT_EQ(words.finding(finding), "All errors are above zero.");
}

TEST(ProofWords, TheEmptyScaleIsCalledSoWhereItWasNotRead) {
  const proof::Missing missing{.check = rules::Check::discrimination,
                               .code = "load",
                               .where = "",
                               .load_kg = 0.0,
                               .source = {}};
  EXPECT_EQ(ProofWords(deck(), rules::built_in("R76")).missing(missing),
            "Discrimination: not read on the empty deck, or near zero.");
}

ProveCaseRequest example_case(const std::string& results) {
  ProveCaseRequest request;
  request.deck = example("three-modules.toml");
  request.files = {example("three-modules-weights.csv"), {.name = "results.csv", .text = results}};
  request.occasion = "new";
  request.day = 20'783;  // 2026-11-26 (Python's datetime)
  return request;
}

TEST(ProofView, TellsTheDaysOfTheResultsNotTheOneThatWasTyped) {
  const report::ProofView timed =
      prove_case(example_case("check,load_kg,indication_kg,time\n"
                              "increasing,10000,10000,2026-03-01T23:50+01:00\n"
                              "increasing,20000,20000,2026-03-02T00:10+01:00\n"))
          .view.value();
  EXPECT_EQ(timed.began, "2026-03-01");
  EXPECT_EQ(timed.ended, "2026-03-02");
  const report::ProofView untimed =
      prove_case(example_case("check,load_kg,indication_kg\nincreasing,10000,10000\n"))
          .view.value();
  EXPECT_EQ(untimed.began, "2026-11-26");
}

TEST(ProofView, AWeightThatWasValidWhenItWasUsedIsNotRefused) {
  ProveCaseRequest request = example_case(
      "check,load_kg,indication_kg,weights,time\n"
      "increasing,10000,10000,W*10,2026-03-01T10:00\n");
  request.day = 30'000;  // long after the certificates ran out
  const report::ProofView valid = prove_case(request).view.value();
  for (const report::StandardView& one : valid.standards) {
    if (one.id != "W") continue;
    EXPECT_TRUE(one.refused.empty()) << one.refused;
  }
  request.files[1].text = "check,load_kg,indication_kg,weights\nincreasing,10000,10000,W*10\n";
  const report::ProofView old = prove_case(request).view.value();
  for (const report::StandardView& one : old.standards) {
    if (one.id != "W") continue;
    EXPECT_FALSE(one.refused.empty());
  }
}

TEST(ProofView, ALineThatNobodyCanJudgeIsNotSaidToHaveNoLimit) {
  const report::ProofView view = prove_case(example_case("check,load_kg,indication_kg,zero_before\n"
                                                         "decreasing,10000,10000,0\n"))
                                     .view.value();
  ASSERT_EQ(view.lines.size(), 1U);
  EXPECT_EQ(view.lines[0].verdict, "not_judged");
  EXPECT_FALSE(view.lines[0].no_limit);
  EXPECT_FALSE(has(report::print_json(view), "the rulebook has no limit"));
}

}  // namespace
}  // namespace weighwright::job
