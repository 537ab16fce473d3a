/// Words of one adjustment. What is wanted is the wording of the trade; there is no outside source.
#include "job/move_words.h"

#include <gtest/gtest.h>

#include <limits>

namespace weighwright::job {
namespace {

deck::Deck two_sections() {
  deck::Deck deck;
  deck.modules.resize(1);
  deck.modules[0].mark = "A";
  deck.sections.resize(2);
  deck.stands.resize(4);
  return deck;
}

share::Advice advice_with_pairs() {
  share::Advice advice;
  advice.pairs.resize(2);
  advice.pairs[1].difference_N = 430 * 9.80665;
  return advice;
}

share::Move move_of(int stand, double turns) {
  share::Move move;
  move.stand = {stand};
  move.turns = turns;
  move.raise_m = turns * 2.5e-3;
  move.torque_Nm = 13.0;
  return move;
}

TEST(MoveWords, SayWhichScrewsWhichWayHowFar) {
  deck::Deck deck = two_sections();
  deck.stands[3].screw_kind = deck::ScrewKind::jack;
  deck.stands[3].cell.terminal = "4";
  const auto view = words_of(deck, advice_with_pairs(), move_of(3, 0.75));
  EXPECT_EQ(
      view.instruction,
      "All four screws at 2R (terminal 4), clockwise seen from above, 1/4 turn each in rotation, "
      "three rounds: 3/4 turn up in all, 1.9 mm.");
  EXPECT_EQ(view.jacking, "No jack: about 13 N m a screw.");
  EXPECT_TRUE(view.why.starts_with("2R carries 430 kg less than 2L")) << view.why;
  EXPECT_EQ(view.short_form, "up 3/4");
}

TEST(MoveWords, AskToLookWhereTheWayIsNotKnown) {
  const auto view = words_of(two_sections(), advice_with_pairs(), move_of(3, -0.5));
  EXPECT_EQ(view.instruction.find("clockwise"), std::string::npos);
  EXPECT_NE(view.instruction.find("Lower 2R by 1/2 turn on each of its four screws"),
            std::string::npos);
  EXPECT_NE(view.instruction.find("turn one 1/4 turn and look"), std::string::npos);
}

TEST(MoveWords, JackBothSidesAndNameTheLimit) {
  share::Move move = move_of(2, 0.25);
  move.jack_first = true;
  move.torque_Nm = 80.0;
  move.section_N = 5000 * 9.80665;
  move.lift_m = 0.4e-3;
  move.most_lift_m = 3.9e-3;
  move.lift_limited_by = "1L";
  const auto view = words_of(two_sections(), advice_with_pairs(), move);
  EXPECT_EQ(
      view.jacking,
      "Jack first, 2L and its partner together (5000 kg on the section); 80 N m a screw is too "
      "much to turn; free at 0.4 mm; no more than 3.9 mm or 1L opens.");
  move.most_lift_m = std::numeric_limits<double>::infinity();
  EXPECT_EQ(words_of(two_sections(), advice_with_pairs(), move).jacking.find("inf"),
            std::string::npos);
}

TEST(MoveWords, NameShimsAsTheyAreStamped) {
  deck::Deck deck = two_sections();
  deck.stands[0].adjust = deck::Adjust::shims;
  share::Move move;
  move.stand = {0};
  move.shim = true;
  move.raise_m = -3.5e-3;
  move.shims_m = {3e-3, 0.5e-3};
  move.jack_first = true;
  move.why = share::Move::Why::lower_heavy;
  const auto view = words_of(deck, advice_with_pairs(), move);
  EXPECT_EQ(view.instruction, "Take out 3 mm and 0.5 mm of shim at 1L (down 3.5 mm).");
  EXPECT_EQ(view.short_form, "out 3.5 mm");
  deck.units = deck::UnitSystem::us;
  move.raise_m = 0.125 * 0.0254;
  move.shims_m = {0.125 * 0.0254};
  EXPECT_EQ(words_of(deck, advice_with_pairs(), move).instruction,
            "Add 0.125 in of shim at 1L (up 0.125 in).");
}

}  // namespace
}  // namespace weighwright::job
