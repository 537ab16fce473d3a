// Rulebooks from text: what is shipped reads, variants say what differs, faults are told with
// place.
#include <gtest/gtest.h>

#include <fstream>
#include <iterator>
#include <string>

#include "rules/limits.h"
#include "rules/reading/read_rulebook.h"
#include "scales.h"

namespace weighwright::rules {
namespace {

using testing::limit_kg;
using testing::metric;
using testing::r76;

const std::string kVariant = R"(format = 1
code = "LAND"
base = "R76"
title = "Decree"
edition = "2020"
remark = "invented"
)";

std::string faults_of(const std::string& text) {
  const ReadRulebook read = read_rulebook(text, "land.toml");
  EXPECT_EQ(read.rulebook.has_value(), read.faults.empty());
  std::string all;
  for (const units::Diagnostic& fault : read.faults) all += units::print(fault) + "\n";
  return all;
}

Rulebook rulebook_of(const std::string& text) {
  ReadRulebook read = read_rulebook(text, "land.toml");
  for (const units::Diagnostic& fault : read.faults) ADD_FAILURE() << units::print(fault);
  return read.rulebook.value_or(Rulebook{});
}

void expect_in(const std::string& all, const std::string& part) {
  EXPECT_NE(all.find(part), std::string::npos) << "got: " << all << "wanted: " << part;
}

void expect_fault(const std::string& lines, const std::string& part) {
  expect_in(faults_of(kVariant + lines), part);
}

std::string changed(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  if (at == std::string::npos) ADD_FAILURE() << "not in the text: " << from;
  return at == std::string::npos ? text : text.replace(at, from.size(), to);
}

std::string file_text(const std::string& path) {
  std::ifstream file(std::string(WEIGHWRIGHT_SOURCE_DIR) + "/" + path, std::ios::binary);
  EXPECT_TRUE(file) << path;
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

/// R 76 as a whole rulebook of somebody's own.
std::string whole() {
  return changed(std::string(built_in_text("R76")), "code = \"R76\"", "code = \"LAND\"");
}

// 40 kB that ended the program: the TOML library takes its tree of tables down by recursion.
TEST(RulebookReading, TellsAKeyOfTwentyThousandPartsAndGoesOn) {
  std::string deep;
  for (int i = 0; i < 20'000; ++i) deep += "a.";
  EXPECT_NE(faults_of(kVariant + deep + "a = 1\n").find("land.toml:7:16: a key has more than 8"),
            std::string::npos);
  EXPECT_NE(faults_of(kVariant + "x = " + std::string(100'000, '[')).find("brackets lie within"),
            std::string::npos);
}

TEST(BuiltIn, RulebooksReadWithoutFaults) {
  for (const char* const code : {"R76", "H44"}) {
    for (const units::Diagnostic& fault : read_shipped(code).faults)
      ADD_FAILURE() << units::print(fault);
    EXPECT_EQ(built_in(code).code, code);
    EXPECT_EQ(built_in_text(code), file_text("rulebooks/" + std::string(code) + ".toml"));
  }
}

TEST(Variant, TakesOverWhatItDoesNotSay) {
  const Rulebook land = rulebook_of(kVariant);
  EXPECT_EQ(land.code, "LAND");
  EXPECT_EQ(land.base, "R76");
  EXPECT_EQ(land.cited_as, "Decree:2020");
  EXPECT_EQ(land.division, "e");
  EXPECT_EQ(land.classes.size(), r76().classes.size());
  EXPECT_EQ(land.tests.size(), r76().tests.size());
  const Scale scale = metric("III", 60'000, 20);
  EXPECT_EQ(limit_kg(land, scale, Occasion::as_new, 10'020), 20.0);
  EXPECT_EQ(land.cite(land.find_class("III")->limits), "R 76-1:2006, 3.5.1, Table 6");
}

TEST(Variant, ChangesOneNumberUnderItsOwnClause) {
  const Rulebook land = rulebook_of(kVariant + R"(
[occasion.adjusted]
factor = 2
clause = "art. 3"
basis = "read"
)");
  const Scale scale = metric("III", 60'000, 20);
  EXPECT_EQ(limit_kg(land, scale, Occasion::adjusted, 10'000), 20.0);
  EXPECT_EQ(limit_kg(land, scale, Occasion::as_new, 10'000), 10.0);
  const OccasionRule* const rule = land.find_occasion(Occasion::adjusted);
  EXPECT_EQ(land.cite(rule->source), "Decree:2020, art. 3");
  EXPECT_EQ(rule->source.basis, Basis::read);
  EXPECT_EQ(rule->says, "adjusted in service");
  EXPECT_EQ(limit_kg(r76(), scale, Occasion::adjusted, 10'000), 10.0);
}

TEST(Variant, MayHaveReadWhatTheBaseRemembers) {
  const Rulebook land = rulebook_of(kVariant + R"(
[standards.substitution]
basis = "read"
)");
  EXPECT_EQ(land.substitution_source.basis, Basis::read);
  EXPECT_EQ(land.cite(land.substitution_source), "R 76-1:2006, 3.7.3");
  EXPECT_EQ(land.substitution.size(), 3U);
}

TEST(Variant, ReplacesListsAndAddsWholeClasses) {
  const Rulebook land = rulebook_of(kVariant + R"(
[class.III.limits]
steps = [{ up_to = 1000, limit = 1 }]
further = { each = 1000, limit = 1 }
clause = "art. 4"
basis = "read"
[class.V.limits]
steps = [{ up_to = 100, limit = 1 }, { limit = 3 }]
clause = "art. 5"
basis = "memory"
[[class.V.band]]
least = "50 kg"
n_max = 400
clause = "art. 5"
basis = "memory"
)");
  EXPECT_EQ(limit_kg(land, metric("III", 60'000, 20), Occasion::as_new, 40'020), 60.0);
  EXPECT_EQ(limit_kg(land, metric("V", 20'000, 50), Occasion::as_new, 1'000'000), 150.0);
  EXPECT_EQ(land.find_class("III")->bands.size(), 2U);
}

TEST(Variant, StepsOfItsOwnDropWhatWentOnAfterTheBases) {
  const Rulebook land = rulebook_of(changed(kVariant, "R76", "H44") + R"(
[class."III L".limits]
steps = [{ up_to = 500, limit = 1 }, { limit = 2 }]
clause = "art. 6"
basis = "read"
)");
  EXPECT_EQ(land.division, "d");
  EXPECT_EQ(limit_kg(land, metric("III L", 60'000, 10), Occasion::routine, 60'000), 20.0);
}

TEST(Variant, ExampleOfTheInventedLandReads) {
  const ReadRulebook read =
      read_rulebook(file_text("examples/rulebooks/tarnland.toml"), "tarnland.toml");
  for (const units::Diagnostic& fault : read.faults) ADD_FAILURE() << units::print(fault);
  ASSERT_TRUE(read.rulebook);
  EXPECT_EQ(read.rulebook->cite(read.rulebook->least_standards_kg.source),
            "Tarnland Weighing Decree:12/2020, art. 9 (1)");
  EXPECT_DOUBLE_EQ(read.rulebook->least_standards_kg.value, 5'000.0);
  EXPECT_TRUE(read.rulebook->find_test(Check::rolling)->required);
}

TEST(Whole, RulebookOfSomebodysOwnReads) {
  const Rulebook land = rulebook_of(whole());
  EXPECT_EQ(land.code, "LAND");
  EXPECT_TRUE(land.base.empty());
}

TEST(RulebookFault, TellsFilesThatAreNoRulebook) {
  expect_in(faults_of(""), "land.toml: the file is empty; a rulebook begins with format = 1");
  expect_in(faults_of("\xEF\xBB\xBF\n"), "the file is empty");
  expect_in(faults_of(std::string("format = 1\0", 11)), "zero bytes");
  expect_in(faults_of(std::string(1'000'001, '#')), "larger than 1 MB");
  expect_in(faults_of("format = 1\na = \"\xFF\""),
            "land.toml:2: a sign on this line is not in UTF-8");
  expect_in(faults_of("format = 1\na = \xC2\xB5"), "land.toml:2:5: the sign");
  expect_in(faults_of("a = \"\"\"\n\"\"\""), "land.toml:1:5: a text over several lines");
  expect_in(faults_of(kVariant + "[zero\n"), "land.toml:7:");
  expect_in(faults_of(kVariant + "code = \"B\"\n"), "stands twice");
  expect_in(faults_of("[`zero]"), "land.toml:1:");
}

const std::string kArticle = "clause = \"art. 7\", basis = \"read\"";

TEST(Variant, MayAskForNoDecreasingLoadsWithSubstitution) {
  const Rulebook land = rulebook_of(
      kVariant + "[decreasing]\nwith_substitution = { asked = false, " + kArticle + " }\n");
  EXPECT_EQ(land.decreasing_with_substitution.value, 0.0);
  EXPECT_EQ(land.cite(land.decreasing_with_substitution.source), "Decree:2020, art. 7");
  EXPECT_TRUE(r76().decreasing_with_substitution.source.clause.empty());
}

TEST(Variant, MayDropTheReturnOfZero) {
  const Rulebook land =
      rulebook_of(kVariant + "[zero]\nreturn = { dropped = true, " + kArticle + " }\n");
  EXPECT_FALSE(zero_return_limit(land, metric("III", 60'000, 20), Occasion::as_new));
  EXPECT_EQ(land.cite(land.zero_return_dropped), "Decree:2020, art. 7");
  EXPECT_TRUE(zero_setting_limit(land, metric("III", 60'000, 20), Occasion::as_new));
}

TEST(Variant, MayAskDifferentlyByStage) {
  const Rulebook land = rulebook_of(kVariant + R"(
[occasion.adjusted]
stage = "initial"
clause = "art. 7"
basis = "read"
[repeatability.initial]
at = { shares = [0.4], clause = "art. 8", basis = "read" }
count = { value = 5, clause = "art. 8", basis = "read" }
[test.discrimination]
digital_exempt = { at = [], clause = "art. 9", basis = "read" }
)");
  EXPECT_EQ(repeats_asked(land, Occasion::adjusted).shares, std::vector<double>{0.4});
  EXPECT_EQ(repeats_asked(land, Occasion::adjusted).count, 5);
  EXPECT_EQ(repeats_asked(land, Occasion::routine).count, 3);
  EXPECT_TRUE(is_asked(land, metric("III", 60'000, 20), Occasion::routine,
                       *land.find_test(Check::discrimination)));
}

TEST(Whole, RulebookMayDoWithoutTypeExamination) {
  const std::string text = whole();
  const std::size_t from = text.find("[occasion.type]");
  const std::size_t to = text.find("# ---", from);
  EXPECT_FALSE(rulebook_of(text.substr(0, from) + text.substr(to)).find_occasion(Occasion::type));
}

TEST(RulebookFault, TellsATestInWhichNothingHasToBeWeighed) {
  std::string lines;
  for (const TestRule& test : r76().tests) {
    if (test.check == Check::zero) continue;
    lines += "[test." + std::string(code_of(test.check)) +
             "]\nrequired = false\nclause = \"art. 7\"\nbasis = \"read\"\n";
  }
  expect_fault(lines, "no test in which loads are weighed is required any more");
  expect_fault(lines, "required = true in one of them at least");
}

TEST(RulebookFault, TellsOneWeighingThatIsToBeARepeat) {
  expect_fault("[repeatability]\ncount = { value = 1, " + kArticle + " }\n",
               "[repeatability] count: value: 1 is impossible; a whole number from 2: one weighing "
               "repeats nothing");
}

TEST(RulebookFault, TellsOneLimitForAllLoads) {
  const std::string source = "clause = \"art. 7\"\nbasis = \"read\"\n";
  for (const char* const step : {"{ limit = 1 }", "{ up_to = 10000, limit = 1 }"}) {
    expect_fault("[class.III.limits]\nsteps = [" + std::string(step) + "]\n" + source,
                 "land.toml:8:9: class III limits: one limit of error is given for all loads");
  }
}

TEST(RulebookFault, TellsHeadings) {
  expect_in(faults_of(changed(kVariant, "format = 1\n", "")), "does not say its format");
  expect_in(faults_of(changed(kVariant, "format = 1", "format = 2")),
            "land.toml:1:10: this format is unknown; format = 1, the only one there is");
  expect_in(faults_of(changed(kVariant, "\"R76\"", "\"R67\"")),
            "land.toml:3:8: base \"R67\" is unknown; the built-in rulebook that this one changes: "
            "\"R76\" or \"H44\"");
  expect_in(faults_of(changed(kVariant, "\"R76\"", "\"LAND\"")),
            "land.toml:3:8: the rulebook is its own base");
  expect_in(
      faults_of(changed(kVariant, "\"LAND\"", "\"H44\"")),
      "land.toml:2:8: the rulebook \"H44\" is built in; a code of your own, and base = \"H44\"");
  expect_in(faults_of(changed(kVariant, "\"LAND\"", "\"my land\"")), "no code of a rulebook");
  expect_in(faults_of(changed(kVariant, "code = \"LAND\"\n", "")), "the rulebook has no code");
  expect_in(faults_of(changed(kVariant, "title = \"Decree\"\n", "")), "has no title");
  expect_in(faults_of(changed(kVariant, "remark = \"invented\"\n", "")),
            "has no remark; who says so");
  expect_in(faults_of("format = 1\ncode = \"X\"\ntitle = \"Y\"\n"), "has no class");
}

TEST(RulebookFault, TellsNumbersWithoutTheirSource) {
  expect_fault("[occasion.adjusted]\nfactor = 2\n",
               "land.toml:8:1: what the base says is changed without a clause of its own");
  expect_fault("[occasion.adjusted]\nfactor = 2\nclause = \"art. 3\"\n",
               "occasion adjusted: has no basis");
  expect_fault("[occasion.adjusted]\nfactor = 2\nclause = \"art. 3\"\nbasis = \"heard\"\n",
               "land.toml:10:9: occasion adjusted: basis \"heard\" is unknown; one of \"read\", "
               "\"quoted\" or \"memory\"");
  expect_fault("[occasion.adjusted]\nfactor = 2\nclause = \"art. 3\"\nbasis = \"quoted\"\n",
               "is quoted, and there is no carrier");
  expect_fault("[occasion.adjusted]\nfactor = 2\nclause = \" \"\nbasis = \"read\"\n",
               "clause is empty");
  expect_fault("[zero]\nsetting = 0.3\n", "[zero]: setting is no table");
  expect_fault("[zero]\nsetting = { value = 0.3 }\n",
               "land.toml:8:13: what the base says is changed without a clause");
}

TEST(RulebookFault, TellsNumbersThatCanNotBe) {
  const std::string source = "clause = \"1\"\nbasis = \"read\"\n";
  expect_fault(
      "[occasion.adjusted]\nfactor = 0\n" + source,
      "land.toml:8:10: occasion adjusted: factor: 0 is impossible; more than 0, at most 100");
  expect_fault("[occasion.adjusted]\nfactor = -1\n" + source, "-1 is impossible");
  expect_fault("[occasion.adjusted]\nfactor = nan\n" + source, "factor is a number without");
  expect_fault("[occasion.adjusted]\nfactor = true\n" + source, "factor is no quantity");
  expect_fault("[standards]\nleast = { value = 5, clause = \"1\", basis = \"read\" }\n",
               "[standards] least: value is a number without a unit");
  expect_fault("[standards]\nleast = { value = \"5 m\", clause = \"1\", basis = \"read\" }\n",
               "is a length");
  expect_fault("[rolling]\nshare = { value = \"130 %\", clause = \"1\", basis = \"read\" }\n",
               "\"130 %\" is impossible");
  expect_fault("[increasing]\nloads = { value = 2.5, clause = \"1\", basis = \"read\" }\n",
               "a whole number from 1 to 1000000");
  expect_fault("[test.zero]\nrequired = 1\n" + source, "required is neither true nor false");
}

TEST(RulebookFault, TellsStepsThatDoNotRise) {
  const std::string source = "clause = \"1\"\nbasis = \"read\"\n";
  const auto steps = [&](const std::string& list) {
    return "[class.III.limits]\nsteps = " + list + "\n" + source;
  };
  expect_fault(steps("[{ up_to = 500, limit = 1 }, { up_to = 400, limit = 2 }]"),
               "land.toml:8:38: class III limits steps: the steps do not rise");
  expect_fault(steps("[{ up_to = 500, limit = 1 }, { up_to = 600, limit = 1 }]"),
               "the steps do not rise");
  expect_fault(steps("[{ limit = 1 }, { up_to = 600, limit = 2 }]"), "follows one that has no end");
  expect_fault(steps("[{ up_to = 500 }]"), "has no limit");
  expect_fault(steps("[{ up_to = 0.5, limit = 1 }]"), "a whole number");
  expect_fault(steps("[]"), "steps is no list, or an empty one");
  expect_fault(steps("[{ limit = 1 }]\nfurther = { each = 500, limit = 1 }"),
               "nothing is further than a step without an end");
  expect_fault(
      "[standards.substitution]\nsteps = [{ repeatability = 0.3, weights_share = 0.2 }]\n" + source,
      "the repeatability of this row is out of order");
  expect_fault("[standards.amounts]\nrows = [{ up_to = \"5 t\", weights_share = 0.2 }]\n" + source,
               "the up_to of this row is out of order");
}

TEST(RulebookFault, TellsClassesOccasionsAndTestsThatAreNotThere) {
  expect_fault("[class.V.limits]\nsteps = [{ limit = 3 }]\nclause = \"5\"\nbasis = \"read\"\n",
               "class V: has no band; a class that the base does not have needs its bands");
  expect_fault("[[class.V.band]]\nleast = \"5 g\"\nn_max = 5\nclause = \"5\"\nbasis = \"read\"\n",
               "class V: has no limits");
  expect_fault(
      "[[class.III.band]]\nleast = \"5 g\"\nmost = \"2 g\"\nn_min = 6\nn_max = 5\n"
      "clause = \"5\"\nbasis = \"read\"\n",
      "most is less than least");
  expect_fault("[occasion.sometimes]\nfactor = 1\n",
               "land.toml:7:11: there is no occasion \"sometimes\"; one of new, after_rejection");
  expect_fault("[test.corner]\nname = \"X\"\n",
               "there is no test \"corner\"; one of zero, eccentric");
  expect_fault("[test.rolling]\ninstead_of = \"section\"\nclause = \"1\"\nbasis = \"read\"\n",
               "it stands in for \"section\", which is no other test of this rulebook");
  expect_in(faults_of(changed(whole(), "[occasion.routine]", "[occasion.adjusted_twice]")),
            "has no factor for the occasion routine");
}

TEST(RulebookFault, TellsUnknownKeys) {
  expect_fault("[zeros]\nx = 1\n",
               "land.toml:7:2: the rulebook: the key \"zeros\" is unknown; did "
               "you mean zero?");
  expect_fault("[occasion.adjusted]\nfactors = 2\nclause = \"1\"\nbasis = \"read\"\n",
               "did you mean factor?");
  expect_fault("[zero]\nsetting = { value = 0.3, clause = \"1\", basis = \"read\", page = 3 }\n",
               "the key \"page\" is unknown");
}

TEST(RulebookFault, TellsAllAtOnceUpToAHundred) {
  std::string many = kVariant;
  for (int i = 0; i < 150; ++i) many += "key" + std::to_string(i) + " = 1\n";
  const ReadRulebook read = read_rulebook(many, "land.toml");
  ASSERT_EQ(read.faults.size(), 101U);
  EXPECT_EQ(read.faults.front().line, 7);
  EXPECT_EQ(read.faults.back().what, "and 50 more faults");
}

}  // namespace
}  // namespace weighwright::rules
