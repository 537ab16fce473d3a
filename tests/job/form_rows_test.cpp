// What a row of a form or of the test shows is its own: found by key, place and heading, whatever
// the sentences of other rows mention.
#include <gtest/gtest.h>

#include "job/ask_forms.h"
#include "job/page_test_view.h"

namespace weighwright::job {
namespace {

const report::FormRow* row_of(const std::vector<report::FormView>& forms, const std::string& key) {
  for (const report::FormView& form : forms) {
    for (const report::FormRow& row : form.rows) {
      if (row.key == key) return &row;
    }
  }
  return nullptr;
}

// The sentence of section 1 speaks of 4 turns, and stands first.
TEST(FormRows, ATrimShowsItsOwnInstructionThoughAnotherSentenceNamesItsNumber) {
  report::TrimView view;
  const std::string first = "The trim of section 1: 4 turns clockwise. That raises its reading.";
  const std::string other = "The trim of section 4: 1/2 turn counter-clockwise.";
  for (const auto& [trim, turns, says] :
       {std::tuple{"1", 4.0, first}, std::tuple{"4", -0.5, other}}) {
    report::TrimSettingView one;
    one.trim = trim;
    one.turns = turns;
    one.instruction = says;
    view.trims.push_back(one);
  }
  const std::vector<report::FormView> forms = trims_forms(view);
  ASSERT_NE(row_of(forms, "4"), nullptr);
  EXPECT_EQ(row_of(forms, "4")->says, other);
  EXPECT_EQ(row_of(forms, "1")->says, first);
}

TEST(FormRows, AMoveShowsItsOwnInstructionThoughAnotherOneNamesItsStand) {
  report::MoveView left;
  left.stand = "2L";
  left.turns = 0.5;
  left.instruction = "Raise 2L by 1/2 turn, jacked together with 2R.";
  report::MoveView right;
  right.stand = "2R";
  right.turns = -0.5;
  right.instruction = "Lower 2R by 1/2 turn.";
  const std::vector<report::FormView> forms = moves_forms({left, right});
  ASSERT_NE(row_of(forms, "2R"), nullptr);
  EXPECT_EQ(row_of(forms, "2R")->says, right.instruction);
}

TEST(FormRows, ATouchDownTurnSaysWhatItIs) {
  const report::FormView form =
      touch_form({{.support = "3L", .what = "touch", .sentence = "Turn 3L by hand.", .why = ""}});
  ASSERT_EQ(form.rows.size(), 1U);
  EXPECT_EQ(form.rows[0].says, "Turn 3L by hand.");
}

report::PlacementView planned(int number, const std::string& section, const std::string& heading) {
  report::PlacementView view;
  view.number = number;
  view.check = "rolling";
  view.at = section;
  view.where = "over section " + section;
  view.heading = heading;
  view.load_kg = 20'000.0;
  return view;
}

report::ProofLineView judged(const std::string& section,
                             const std::string& heading,
                             double error_kg) {
  report::ProofLineView view;
  view.check = "rolling";
  view.at = section;
  view.heading = heading;
  view.where =
      "over section " + section + (heading == "to_end_1" ? ", going to end 1" : ", going to end 2");
  view.load_kg = 20'000.0;
  view.error_kg = error_kg;
  view.verdict = "pass";
  return view;
}

// "over section 10" begins with "over section 1".
TEST(FormRows, TheResultOfSectionTenIsNotShownAtSectionOne) {
  SiteProof proof;
  proof.plan.emplace();
  proof.verdict.emplace();
  for (const char* const section : {"1", "10"}) {
    for (const char* const heading : {"to_end_2", "to_end_1"}) {
      const int number = static_cast<int>(proof.plan->placements.size()) + 1;
      proof.plan->placements.push_back(planned(number, section, heading));
      proof.verdict->lines.push_back(judged(section, heading, number));
      proof.done_by.push_back(number);
    }
  }
  const auto view = page_test_view(proof);
  ASSERT_TRUE(view);
  ASSERT_EQ(view->lines.size(), 4U);
  for (const report::PageTestLineView& line : view->lines) {
    EXPECT_EQ(line.error_kg, line.number) << line.where;
  }
  EXPECT_EQ(view->lines[1].at, "1");
  EXPECT_EQ(view->lines[1].heading, "to_end_1");
}

}  // namespace
}  // namespace weighwright::job
