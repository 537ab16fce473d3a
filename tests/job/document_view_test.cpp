/// What stands on the papers of a site, from its journal.
///
/// Outside  ISO/IEC 17025:2017, 7.8.2.1 c, f, g, m, p, 7.8.2.2 and 7.8.7 (as quoted in public
///          digests; 7.8.2.2's disclaimer and 7.8.7 from memory, unverified). OIML R 76-1:2006,
///          A.4.4.3 (quoted by OIML bulletins): P = I + e/2 - added, E = P - L, less E0.
// outside check: errors computed anew from the figures on paper | R 76-1:2006, A.4.4.3, as quoted
// by
//  OIML bulletins
// outside check: places for what a report must tell | ISO/IEC 17025:2017, 7.8.2.1, 7.8.2.2, 7.8.7
// (as
//  quoted in public digests; 7.8.7 from memory, unverified)

#include <gtest/gtest.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <fstream>
#include <sstream>

#include "job/look.h"
#include "job/practice_remark.h"
#include "job/proof_words.h"
#include "job/report_case.h"
#include "job/rulebook_of.h"
#include "job/rules_list.h"
#include "job/rules_standing.h"
#include "job/site_proof.h"
#include "pen.h"
#include "report/exchange/exchange.h"
#include "rules/numbers.h"
#include "rules/reading/read_rulebook.h"

namespace weighwright::job {
namespace {

using testing::Pen;
using testing::table;
using testing::visit;

const std::string kPit = "00000000000000aa";

std::string example(const std::string& name) {
  std::ifstream file(WEIGHWRIGHT_SOURCE_DIR "/examples/" + name);
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

record::Draft entry(const std::string& kind, record::Fields fields) {
  return {.kind = kind, .fields = std::move(fields), .corrects = {}};
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return at == std::string::npos ? text : text.replace(at, from.size(), to);
}

bool holds(const std::vector<std::string>& list, const std::string& part) {
  return std::any_of(list.begin(), list.end(), [&part](const std::string& one) {
    return one.find(part) != std::string::npos;
  });
}

/// A service call on the three-module deck, its weights and occasion on record.
class DocumentTest : public ::testing::Test {
 protected:
  void begin(const std::string& deck, record::Draft first = visit("service")) {
    write(entry("deck", {{"file", "deck.toml"}, {"text", deck}}));
    write(std::move(first));
    write(table(example("three-modules-weights.csv"), "weights.csv"));
    write(entry("occasion", {{"occasion", "adjusted"}}));
  }

  std::string write(record::Draft draft) { return pen_.write(kPit, std::move(draft)); }

  std::string write_results(const std::string& rows) {
    return write(table(
        "check,at,load_kg,indication_kg,added_kg,zero_before,zero_after,weights,material\n" + rows,
        "results.csv"));
  }

  report::DocumentView look() {
    Looked looked;
    looked.state = site_state_of(pen_.all());
    return document_view(looked, {.path = "site.job",
                                  .kind = PaperKind::report,
                                  .letter = {},
                                  .record = false,
                                  .today = "2026-11-26"});
  }

  SiteProof proof() {
    state_ = site_state_of(pen_.all());
    return site_proof_of(state_, true);
  }

  Pen pen_;
  SiteState state_;
};

TEST_F(DocumentTest, PlacementsAreTheLoadsThatStoodThereAndNotThePlan) {
  begin(example("three-modules.toml"));
  ASSERT_TRUE(proof().plan);
  ASSERT_GT(proof().plan->placements.size(), 5U);
  write_results(
      "zero,,0,0,,,,,\neccentric,2L,8000,8000,10,0,0,W*8,\nincreasing,,10000,10000,10,0,0,,\n");
  const report::DocumentView view = look();
  ASSERT_EQ(view.placed.size(), 2U);  // nothing stood on the empty deck
  EXPECT_EQ(view.placed[0].where, "over 2L");
  EXPECT_EQ(view.placed[0].what, "W*8");
  EXPECT_EQ(view.placed[0].load_kg, 8000.0);
  EXPECT_EQ(view.placed[0].who, "A. Tester");
  EXPECT_EQ(view.placed[0].entry, 5);
  EXPECT_EQ(view.placed[0].phase, "left");
  EXPECT_EQ(view.placed[0].when.size(), std::string("2026-11-25 18:30").size());
  ASSERT_TRUE(view.placed[0].at_m);
  EXPECT_NEAR(view.placed[0].at_m->first, 7.30, 1e-9);  // three-modules.toml, section 2
  EXPECT_NEAR(view.placed[0].at_m->second, 1.2, 1e-9);  // half of 2.4 m, left
  EXPECT_FALSE(view.placed[1].at_m);
}

TEST_F(DocumentTest, PlacementsTellWhatWasReadBeforeTheLastAdjustment) {
  begin(example("three-modules.toml"));
  write_results("increasing,,10000,10030,,0,0,,\n");
  write(table("trim,turns\n2L,0.25\n", "trims.csv"));
  write_results("increasing,,10000,10010,,0,0,,\n");
  write(table("trim,turns\n2L,0.25\n", "trims.csv"));
  write_results("increasing,,10000,10000,,0,0,,\n");
  const report::DocumentView view = look();
  ASSERT_EQ(view.placed.size(), 3U);
  EXPECT_EQ(view.placed[0].phase, "found");
  EXPECT_EQ(view.placed[1].phase, "stale");
  EXPECT_EQ(view.placed[2].phase, "left");
  EXPECT_TRUE(view.adjusted);
}

TEST_F(DocumentTest, SaysNothingOfAnAdjustmentWhereNothingWasAdjusted) {
  begin(example("three-modules.toml"));
  write_results("increasing,,10000,10030,,0,0,,\n");
  write(entry("seal_broken", {{"number", "S-1"}, {"place", "box"}}));
  EXPECT_FALSE(look().adjusted);
}

// 8010 kg are 17 659 lb: no display of this scale shows that.
TEST_F(DocumentTest, AKilogramScaleUnderHandbook44IsReportedInKilograms) {
  const std::string deck = replaced(
      replaced(replaced(example("three-modules.toml"), "rulebook = \"R76\"", "rulebook = \"H44\""),
               "class = \"III\"", "class = \"III L\""),
      "interval = \"20 kg\"", "interval = \"10 kg\"");
  begin(deck);
  write_results("section,2,8000,8010,,0,0,,\n");
  const report::DocumentView view = look();
  EXPECT_FALSE(view.us);
  ASSERT_TRUE(view.as_left);
  EXPECT_FALSE(view.as_left->us);
  EXPECT_EQ(report::mass_figure(*view.as_left, view.as_left->interval_kg), "10");
  EXPECT_EQ(report::mass_figure(*view.as_left, view.as_left->lines[0].indication_kg), "8010");
  const std::string csv = report::print_results_csv(*view.as_left);
  EXPECT_NE(csv.find(",load_kg,"), std::string::npos);
  EXPECT_NE(csv.find(",8010,"), std::string::npos);
}

TEST_F(DocumentTest, EveryErrorCanBeComputedAgainFromItsLine) {
  begin(example("three-modules.toml"));
  write_results(
      "increasing,,10000,10000,6,2,2,,\n"
      "increasing,,20000,20020,18,-1,0,,\n"
      "increasing,,30000,30020,,0,0,,\n"
      "repeatability,,30000,30000,8,0,0,,\n"
      "repeatability,,30000,30000,4,1,0,,\n"
      "repeatability,,30000,30020,16,0,0,,\n");
  const report::DocumentView view = look();
  ASSERT_TRUE(view.as_left);
  ASSERT_EQ(view.as_left->lines.size(), 6U);
  for (const report::ProofLineView& line : view.as_left->lines) {
    double before = line.indication_kg;
    if (line.added_kg) before += line.division_kg / 2.0 - *line.added_kg;
    EXPECT_NEAR(before - line.zero_kg.value_or(0.0) - line.start_kg.value_or(0.0) - line.load_kg,
                line.error_kg, 1e-9);
  }
  // By hand: 10 000 + 10 - 6 - 2 - 10 000 = 2; 20 020 + 10 - 18 + 1 - 20 000 = 13.
  EXPECT_NEAR(view.as_left->lines[0].error_kg, 2.0, 1e-9);
  EXPECT_NEAR(view.as_left->lines[1].error_kg, 13.0, 1e-9);
  const auto& ranges = view.as_left->ranges;
  const auto range = std::find_if(ranges.begin(), ranges.end(),
                                  [](const auto& one) { return one.check == "repeatability"; });
  ASSERT_NE(range, ranges.end());
  ASSERT_EQ(range->repeats.size(), 3U);
  // By hand: 30 002, 30 005, 30 014; mean 30 007, s = sqrt((25 + 4 + 49)/2).
  EXPECT_NEAR(range->repeats[1].result_kg, 30005.0, 1e-9);
  EXPECT_NEAR(range->s_kg.value_or(0.0), std::sqrt(39.0), 1e-9);
}

TEST_F(DocumentTest, GivesAPlaceToWhatAReportMustTell) {
  begin(example("three-modules.toml"));
  write(entry("item", {{"maker", "Invented Works"},
                       {"model", "M"},
                       {"address", "1 Quarry Lane; Upper Tarn"},
                       {"condition", "deck clean, pit drained"},
                       {"received", "2026-11-20"}}));
  write(entry("supplied", {{"from", "customer"}, {"what", "Serial numbers of the cells"}}));
  write(entry(
      "supplied",
      {{"from", "provider"}, {"what", "Gravity 9.8143 m/s2"}, {"by", "Survey Office (invented)"}}));
  write(entry("opinion", {{"text", "2L is worn."}, {"basis", "what was seen"}, {"by", "Z."}}));
  write(entry("weather",
              {{"temp_degC", "12"}, {"pressure_hPa", "1002"}, {"humidity_percent", "70"}}));
  write(entry("weather",
              {{"temp_degC", "12"}, {"pressure_hPa", "1004"}, {"humidity_percent", "64"}}));
  write_results("increasing,,10000,10010,,0,0,,\n");
  const report::DocumentView view = look();
  EXPECT_EQ(view.place_address, (std::vector<std::string>{"1 Quarry Lane", "Upper Tarn"}));
  EXPECT_EQ(view.condition, "deck clean, pit drained");
  EXPECT_EQ(view.received, "2026-11-20");
  EXPECT_TRUE(holds(view.by_customer, "Serial numbers of the cells"));
  EXPECT_TRUE(holds(view.by_others, "Gravity 9.8143 m/s2; from Survey Office (invented)"));
  EXPECT_TRUE(holds(view.opinions, "2L is worn. Basis: what was seen. Given by Z."));
  EXPECT_EQ(view.environment.temperature, "12 \u00b0C");  // once: it did not change
  EXPECT_EQ(view.environment.pressure, "1002 to 1004 hPa");
  EXPECT_EQ(view.environment.humidity, "64 to 70 %");
  EXPECT_NE(view.method.find("Calibration model"), std::string::npos);
  EXPECT_NE(view.method.find("EURAMET cg-18"), std::string::npos);
  for (const auto& [name, value] : view.item) EXPECT_EQ(name.find("Maker"), std::string::npos);
}

TEST_F(DocumentTest, TellsNoConditionOfAnEarlierVisit) {
  begin(example("three-modules.toml"));
  write(entry("item", {{"serial", "TQ-1"}, {"condition", "deck clean"}, {"address", "Tarn"}}));
  write(visit("service"));
  write_results("increasing,,10000,10010,,0,0,,\n");
  const report::DocumentView view = look();
  EXPECT_EQ(view.condition, "not stated");
  EXPECT_EQ(view.serial, "TQ-1");
  EXPECT_EQ(view.place_address, std::vector<std::string>{"Tarn"});
}

TEST_F(DocumentTest, NamesWhatNobodyStated) {
  begin(example("three-modules.toml"));
  write_results("increasing,,10000,10010,,0,0,,\n");
  const report::DocumentView view = look();
  EXPECT_EQ(view.condition, "not stated");
  EXPECT_TRUE(holds(view.place_address, "not stated"));
  EXPECT_TRUE(view.opinions.empty());
  EXPECT_TRUE(view.by_customer.empty());
}

record::Draft confirmation(const std::string& hash) {
  return entry("rules_confirmed", {{"by", "Northmoor Scales (invented)"},
                                   {"print", "R 76-1, edition 2006 (E)"},
                                   {"rulebook_hash", hash},
                                   {"date", "2026-11-20"},
                                   {"clauses", "3.5.1 p. 21"}});
}

TEST_F(DocumentTest, ListsTheRulesThatNobodyComparedWithPrint) {
  begin(example("three-modules.toml"));
  write_results("increasing,,10000,10010,,0,0,,\n");
  const report::DocumentView view = look();
  ASSERT_TRUE(view.rules);
  EXPECT_FALSE(view.rules->confirmed);
  EXPECT_EQ(view.rules->hash.size(), 64U);
  ASSERT_FALSE(view.rules->numbers.empty());
  for (const report::RuleNumberView& number : view.rules->numbers) {
    EXPECT_NE(number.basis, "read");
    EXPECT_FALSE(number.clause.empty());
    // Of the class and the occasion of this test.
    EXPECT_EQ(number.name.starts_with("class."), number.name.starts_with("class.III."));
    EXPECT_EQ(number.name.starts_with("occasion."), number.name.starts_with("occasion.adjusted."));
  }
  EXPECT_FALSE(view.as_left->unverified.empty());
}

TEST_F(DocumentTest, NamesWhoComparedTheRulebookWithPrint) {
  begin(example("three-modules.toml"));
  write_results("increasing,,10000,10010,,0,0,,\n");
  write(confirmation(proof().standing.hash));
  const report::DocumentView view = look();
  ASSERT_TRUE(view.rules);
  EXPECT_TRUE(view.rules->confirmed);
  EXPECT_NE(view.rules->says.find("Northmoor Scales (invented), 2026-11-20: R 76-1, edition 2006"),
            std::string::npos);
  EXPECT_TRUE(view.as_left->unverified.empty());
}

TEST_F(DocumentTest, AConfirmationHoldsForOneTextOfTheRulebookOnly) {
  begin(example("three-modules.toml"));
  write_results("increasing,,10000,10010,,0,0,,\n");
  write(confirmation(proof().standing.hash));
  ASSERT_TRUE(proof().standing.confirmed);
  write(
      entry("rulebook", {{"file", "tarnland.toml"}, {"text", example("rulebooks/tarnland.toml")}}));
  const RulesStanding standing = proof().standing;
  EXPECT_FALSE(standing.confirmed);
  EXPECT_TRUE(standing.another);
  EXPECT_NE(standing_words(standing).find("another text of the rulebook"), std::string::npos);
}

TEST_F(DocumentTest, APracticeSiteCountsAsConfirmedAndSaysSo) {
  record::Draft first = visit("install");
  first.fields.emplace_back("remark", kPracticeRemark);
  begin(example("three-modules.toml"), first);
  const RulesStanding standing = proof().standing;
  ASSERT_TRUE(standing.confirmed);
  EXPECT_TRUE(standing.confirmed->practice);
  EXPECT_NE(standing_words(standing).find("Practice site"), std::string::npos);
}

TEST(RulesStandingWords, APassIsReadyForTheAuthorityOnlyByRulesThatWereComparedWithPrint) {
  const rules::Rulebook& rulebook = rules::built_in("R76");
  const deck::Deck deck;
  const ProofWords words(deck, rulebook);
  proof::Verdict verdict;
  verdict.outcome = proof::Outcome::pass;
  const auto lower = [](std::string text) {
    std::transform(text.begin(), text.end(), text.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return text;
  };
  const std::string unconfirmed = lower(words.headline(verdict, true, false));
  EXPECT_EQ(unconfirmed.find("ready for"), std::string::npos) << unconfirmed;
  EXPECT_NE(lower(words.headline(verdict, true, true)).find("ready for the authority"),
            std::string::npos);
}

TEST(RulesList, EveryNumberIsToldInWords) {
  for (const char* code : {"R76", "H44"}) {
    const rules::Rulebook& rulebook = rules::built_in(code);
    for (const rules::Number& number : rules::numbers_of(rulebook))
      EXPECT_NE(number_says(rulebook, number.name), "") << number.name;
  }
}

TEST(RulesList, ItsHashChangesWithWhatItSaysAndNotWithAComment) {
  const InputFile plain{.name = "v.toml", .text = "format = 1\nfactor = 2\n"};
  const InputFile commented{.name = "w.toml",
                            .text = "# who says so\r\nformat = 1  \n\nfactor = 2"};
  const InputFile other{.name = "v.toml", .text = "format = 1\nfactor = 3\n"};
  EXPECT_EQ(rules_hash("R76", plain), rules_hash("R76", commented));
  EXPECT_NE(rules_hash("R76", plain), rules_hash("R76", other));
  EXPECT_NE(rules_hash("R76", plain), rules_hash("H44", plain));
  EXPECT_NE(rules_hash("R76", plain), rules_hash("R76", {}));
}

TEST(RulesList, TakesAShortFormOfTheHash) {
  const std::string hash = rules_hash("R76", {});
  EXPECT_EQ(meant_hash(hash, hash), hash);
  EXPECT_EQ(meant_hash(hash.substr(0, 8) + " " + hash.substr(8, 4), hash), hash);
  EXPECT_EQ(meant_hash(hash.substr(0, 11), hash), "");
  EXPECT_EQ(meant_hash("000000000000", hash), "");
}

}  // namespace
}  // namespace weighwright::job
