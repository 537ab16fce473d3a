#include "deck/draft.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <map>
#include <string>

#include "deck/reading/deck_file.h"
#include "file_text.h"

namespace weighwright::deck {
namespace {

using testing::deck_of;

/// The examples of all questions, some replaced.
Answers answered(const std::map<QuestionKey, std::string>& other = {}) {
  Answers answers;
  for (const Question& question : questions()) {
    const auto found = other.find(question.key);
    const std::string text = found == other.end() ? std::string(question.example) : found->second;
    const ParsedAnswer parsed = parse_answer(question.key, text, answers);
    EXPECT_TRUE(parsed.ok()) << text << ": " << parsed.what << "; " << parsed.expected;
    answers = parsed.answers;
  }
  return answers;
}

std::string fault_of(QuestionKey key, const std::string& text) {
  const ParsedAnswer parsed = parse_answer(key, text, Answers{});
  EXPECT_FALSE(parsed.ok()) << text;
  EXPECT_FALSE(parsed.expected.empty()) << text << ": " << parsed.what;
  return parsed.what + "; " + parsed.expected;
}

void expect_fault(QuestionKey key, const std::string& text, const std::string& part) {
  const std::string fault = fault_of(key, text);
  EXPECT_NE(fault.find(part), std::string::npos) << text << ": " << fault;
}

TEST(Questions, AreEightAndStandInTheOrderOfTheirKeys) {
  ASSERT_EQ(questions().size(), 8U);
  for (std::size_t i = 0; i < questions().size(); ++i) {
    EXPECT_EQ(static_cast<std::size_t>(questions()[i].key), i);
    EXPECT_FALSE(questions()[i].text.empty());
    EXPECT_FALSE(questions()[i].help.empty());
  }
}

TEST(Draft, OfTheExamplesIsASoundDeckFile) {
  const Draft draft = draft_deck(answered());
  ASSERT_TRUE(draft.ok()) << draft.what;
  const Deck deck = deck_of(draft.text);
  EXPECT_EQ(deck.rulebook, "R76");
  EXPECT_EQ(deck.capacity_kg, 60000.0);
  ASSERT_EQ(deck.modules.size(), 3U);
  ASSERT_EQ(deck.sections.size(), 4U);
  EXPECT_EQ(deck.sections[3].at_m, 20.7);
  EXPECT_EQ(deck.joints[0].resting, (units::ModuleIndex{0}));
  EXPECT_EQ(deck.joints[1].resting, (units::ModuleIndex{2}));
  EXPECT_EQ(deck.stands[0].thread, "M20");
  EXPECT_TRUE(deck.excitation_given);
}

TEST(Draft, MarksEveryGuess) {
  const std::string text = draft_deck(answered({{QuestionKey::construction, ""},
                                                {QuestionKey::adjust, ""},
                                                {QuestionKey::signal, ""}}))
                               .text;
  for (const char* const guess :
       {"construction = \"unknown\"  # assumed", "adjust = \"screws\"  # assumed",
        "screws = 4  # assumed", "screw_kind = \"unknown\"  # assumed",
        "thread = \"M20\"  # assumed", "division = \"1/8\"  # assumed",
        "travel = [\"-20 mm\", \"20 mm\"]  # assumed", "excitation = \"10 V\"  # assumed",
        "kind = \"hinge\"  # assumed"}) {
    EXPECT_NE(text.find(guess), std::string::npos) << guess << " in\n" << text;
  }
  EXPECT_EQ(text.find("capacity = \"60 t\"  #"), std::string::npos);
  const std::string told = draft_deck(answered()).text;
  EXPECT_EQ(told.find("construction = \"cells\"  # assumed"), std::string::npos);
  EXPECT_EQ(told.find("excitation = \"10 V\"  # assumed"), std::string::npos);
}

TEST(Draft, TakesDistancesBetweenSectionsInsteadOfRunningOnes) {
  const Deck deck = deck_of(
      draft_deck(answered({{QuestionKey::sections, "0.3 m, +7 m, +6.4 m, +7 m; across 2.4 m"}}))
          .text);
  EXPECT_NEAR(deck.sections[1].at_m, 7.3, 1e-12);
  EXPECT_NEAR(deck.sections[2].at_m, 13.7, 1e-12);
  EXPECT_NEAR(deck.sections[3].at_m, 20.7, 1e-12);
}

TEST(Draft, ReadsUsDecksAsDrawn) {
  const Deck deck =
      deck_of(draft_deck(answered({{QuestionKey::rulebook, "HB 44 III L"},
                                   {QuestionKey::capacity, "100,000 lb, 20 lb"},
                                   {QuestionKey::sections, "1' 0\", +22' 6 1/2\"; across 8 ft"},
                                   {QuestionKey::modules, "1 24 ft"},
                                   {QuestionKey::construction, "concrete 11 in"},
                                   {QuestionKey::cell, "50,000 lb, 3 mV/V"},
                                   {QuestionKey::adjust, "shims 1/32 in, 1/16 in"},
                                   {QuestionKey::signal, "analog, 5 V"}}))
                  .text);
  EXPECT_EQ(deck.accuracy_class, "III L");
  EXPECT_NEAR(deck.capacity_kg, 100000 * 0.45359237, 1e-9);          // NIST SP 811, B.8
  EXPECT_NEAR(deck.sections[1].at_m, (12 + 270.5) * 0.0254, 1e-12);  // exact inch
  EXPECT_NEAR(deck.stands[0].shims_m[0], 0.0254 / 32, 1e-15);
  EXPECT_EQ(deck.modules[0].construction, Construction::concrete);
  EXPECT_EQ(deck.excitation_V, 5.0);
}

TEST(Draft, PutsASectionUnderAJointOnASharedStandOrOnTheModuleThatCarries) {
  const std::map<QuestionKey, std::string> joint_line = {
      {QuestionKey::sections, "0.3 m, 7 m, 13.7 m; across 2.4 m"},
      {QuestionKey::modules, "7 m, 7 m"}};
  const Deck shared = deck_of(draft_deck(answered(joint_line)).text);
  EXPECT_EQ(shared.joints[0].kind, JointKind::shared_stand);
  auto with_rest = joint_line;
  with_rest[QuestionKey::modules] = "7 m, 7 m; A on B";
  const Deck hinged = deck_of(draft_deck(answered(with_rest)).text);
  EXPECT_EQ(hinged.joints[0].kind, JointKind::hinge);
  EXPECT_EQ(hinged.sections[1].module, (units::ModuleIndex{1}));
}

TEST(Draft, ReadsDigitalCells) {
  const Deck deck = deck_of(draft_deck(answered({{QuestionKey::cell, "25 t, 100000 counts"},
                                                 {QuestionKey::signal, "digital"},
                                                 {QuestionKey::adjust, "none"}}))
                                .text);
  EXPECT_EQ(deck.stands[0].cell.counts, 100000.0);
  EXPECT_EQ(deck.boxes.at(0).trims, "digital");
  EXPECT_EQ(deck.stands[0].adjust, Adjust::none);
}

TEST(Draft, SaysWhichQuestionToAskAgain) {
  const Draft off = draft_deck(answered({{QuestionKey::modules, "7 m, 7 m"}}));
  EXPECT_FALSE(off.ok());
  EXPECT_EQ(off.again, QuestionKey::sections);
  EXPECT_NE(off.what.find("stands off the deck: the modules together are 14 m long"),
            std::string::npos);
  const Draft empty = draft_deck(Answers{});
  EXPECT_EQ(empty.again, QuestionKey::rulebook);
}

TEST(Draft, KeepsANameWithAnySign) {
  Answers answers = answered();
  answers.name = "North \"A\" \\ gate\n\x01";
  EXPECT_EQ(deck_of(draft_deck(answers).text).name, answers.name);
  answers.name = "\xFF";
  EXPECT_EQ(deck_of(draft_deck(answers).text).name, "Weighbridge");
}

TEST(Answer, SaysWhatIsWrongAndWhatWouldBeRight) {
  expect_fault(QuestionKey::rulebook, "", "there is no answer; write it like this: R76 III");
  expect_fault(QuestionKey::rulebook, "X III", "the rulebook \"X III\" is unknown; R76");
  expect_fault(QuestionKey::rulebook, "R76", "the accuracy class is missing");
  expect_fault(QuestionKey::rulebook, "R76 III L", "class \"III L\" is not a class of R76");
  expect_fault(QuestionKey::capacity, "60 t", "two quantities are wanted");
  expect_fault(QuestionKey::capacity, "60 tons, 20 kg", "which ton is meant?");
  expect_fault(QuestionKey::capacity, "60, 20 kg", "has no unit");
  expect_fault(QuestionKey::capacity, "20 kg, 60 t", "is impossible");
  expect_fault(QuestionKey::capacity, "20 kg, 1 t", "the interval is not smaller");
  expect_fault(QuestionKey::sections, "0.3 m, 7 m", "the distance from left to right is missing");
  expect_fault(QuestionKey::sections, "7 m, 0.3 m; across 2.4 m",
               "section 2 at \"0.3 m\" does not lie beyond");
  expect_fault(QuestionKey::sections, "0,3 m, 7 m; across 2.4 m", "decimal comma");
  expect_fault(QuestionKey::sections, "0.3 m; across 2.4 m", "a deck on one section can't stand");
  expect_fault(QuestionKey::sections, "0.3 m, 7; across 2.4 m", "has no unit");
  expect_fault(QuestionKey::sections, "0.3 m, 7 m; across 24 m",
               "is impossible; from 0.2 m to 20 m");
  expect_fault(QuestionKey::modules, "A 7 m, A 7 m", "two modules have the mark \"A\"");
  expect_fault(QuestionKey::modules, "7 m, 7 kg", "is a mass; a length is wanted");
  expect_fault(QuestionKey::modules, "7 m, - 7 kg", "is a mass");
  expect_fault(QuestionKey::modules, "7 m, 7 m; A over B", "is not clear");
  expect_fault(QuestionKey::modules, "7 m, 7 m, 7 m; A on C", "names no neighbours");
  expect_fault(QuestionKey::modules, "7 m, 7 m; A on B, B on A", "was told already");
  expect_fault(QuestionKey::construction, "wood", "the kind \"wood\" is unknown");
  expect_fault(QuestionKey::construction, "concrete 3 t", "is a mass; a length is wanted");
  expect_fault(QuestionKey::construction, "cells 3 m", "is unknown");
  expect_fault(QuestionKey::cell, "25 t", "two values are wanted");
  expect_fault(QuestionKey::cell, "25 t, 2 V/V", "cells give 1 to 3 mV/V");
  expect_fault(QuestionKey::cell, "25 t, many counts", "is no number of counts");
  expect_fault(QuestionKey::adjust, "wedges", "is not understood; screws");
  expect_fault(QuestionKey::adjust, "screws M21", "the thread \"M21\" is unknown");
  expect_fault(QuestionKey::adjust, "shims", "the shims on hand are missing");
  expect_fault(QuestionKey::signal, "radio", "is not understood; analog");
  expect_fault(QuestionKey::signal, "analog 10000 V", "is impossible");
  expect_fault(QuestionKey::signal, std::string(5000, 'x'), "too long");
  expect_fault(QuestionKey::signal, "\xFF", "no text in UTF-8");
  std::string many = "1 m";
  for (int i = 0; i < 70; ++i) many += ", +1 m";
  expect_fault(QuestionKey::sections, many + "; across 2 m", "too many sections");
  expect_fault(QuestionKey::modules, many.substr(0, 3 + 25 * 6), "too many modules");
}

RC_GTEST_PROP(Answer, TakesAnyTextWithoutHarm, (const std::string& text)) {
  for (const Question& question : questions()) {
    const ParsedAnswer parsed = parse_answer(question.key, text, Answers{});
    RC_ASSERT(parsed.ok() || !parsed.expected.empty());
  }
}

/// Lengths in whole millimetres, so that a drawn text is exact.
std::string millimetres(int value) {
  return std::to_string(value) + " mm";
}

RC_GTEST_PROP(Draft, IsSoundForAnyDeckThatFits, ()) {
  const int count = *rc::gen::inRange(1, 13);
  int length_mm = 0;
  std::string modules;
  for (int i = 0; i < count; ++i) {
    const int piece_mm = *rc::gen::inRange(1000, 12000);
    length_mm += piece_mm;
    modules += (i > 0 ? ", " : "") + millimetres(piece_mm);
  }
  const int sections = *rc::gen::inRange(2, 15);
  std::string places;
  int at_mm = 0;
  int told = 0;
  for (int i = 0; i < sections; ++i) {
    const int step_mm = *rc::gen::inRange(2, length_mm / sections + 3);
    if (at_mm + step_mm > length_mm) break;
    at_mm += step_mm;
    const bool running = *rc::gen::arbitrary<bool>();
    places += (told > 0 ? ", " : "") +
              (running || told == 0 ? millimetres(at_mm) : "+" + millimetres(step_mm));
    ++told;
  }
  RC_PRE(told >= 2);
  const Draft draft = draft_deck(answered({{QuestionKey::modules, modules},
                                           {QuestionKey::sections, places + "; across 2.4 m"},
                                           {QuestionKey::construction, ""}}));
  RC_ASSERT(draft.ok());
  const ParsedDeck parsed = parse_deck(draft.text, "draft.toml");
  for (const units::Diagnostic& fault : parsed.faults)
    RC_LOG() << units::print(fault) << "\n" << draft.text;
  RC_ASSERT(parsed.faults.empty());
}

}  // namespace
}  // namespace weighwright::deck
