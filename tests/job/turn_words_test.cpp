/// Words of turns. What is wanted is the wording of the trade itself; there is no outside source.
#include "job/turn_words.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <cmath>
#include <sstream>

namespace weighwright::job {
namespace {

deck::Stand stand_of(deck::ScrewKind kind, int screws = 4) {
  deck::Stand stand;
  stand.screw_kind = kind;
  stand.screws = screws;
  return stand;
}

TEST(TurnWords, GoInQuarterTurnsInRotation) {
  EXPECT_EQ(rounds_of(0.75, 8, 4), "1/4 turn each in rotation, three rounds");
  EXPECT_EQ(rounds_of(-0.75, 4, 4), "1/4 turn each in rotation, three rounds");
  EXPECT_EQ(rounds_of(0.25, 8, 4), "1/4 turn each in rotation");
}

TEST(TurnWords, EndWithWhatDoesNotDivide) {
  EXPECT_EQ(rounds_of(0.625, 8, 4), "1/4 turn each in rotation, two rounds, then 1/8 turn each");
  EXPECT_EQ(rounds_of(0.125, 8, 4), "1/8 turn each in rotation");
}

TEST(TurnWords, GoInSixthsWhereAHexIsTheDivision) {
  EXPECT_EQ(rounds_of(0.5, 6, 4), "1/6 turn each in rotation, three rounds");
}

TEST(TurnWords, GoInHalvesAboveTwoTurns) {
  EXPECT_EQ(rounds_of(2.75, 8, 4), "1/2 turn each in rotation, five rounds, then 1/4 turn each");
}

TEST(TurnWords, SpeakOfOneScrewWithoutRotation) {
  EXPECT_EQ(rounds_of(0.5, 8, 1), "1/4 turn, two rounds");
  EXPECT_EQ(screws_of(stand_of(deck::ScrewKind::jack, 1)), "the screw");
  EXPECT_EQ(screws_of(stand_of(deck::ScrewKind::jack, 2)), "both screws");
  EXPECT_EQ(screws_of(stand_of(deck::ScrewKind::jack, 4)), "all four screws");
}

TEST(TurnWords, KnowTheWayOnlyFromTheKindOfScrew) {
  EXPECT_EQ(direction_of(stand_of(deck::ScrewKind::jack), true), "clockwise");
  EXPECT_EQ(direction_of(stand_of(deck::ScrewKind::jack), false), "counterclockwise");
  EXPECT_EQ(direction_of(stand_of(deck::ScrewKind::nut), true), "counterclockwise");
  EXPECT_EQ(direction_of(stand_of(deck::ScrewKind::nut), false), "clockwise");
  EXPECT_EQ(direction_of(stand_of(deck::ScrewKind::unknown), true), "");
}

/// Reads "a b/c turn(s)" back: an independent reading of the words.
double read_turns(const std::string& words) {
  std::istringstream stream(words);
  double sum = 0.0;
  for (std::string word; stream >> word && word.rfind("turn", 0) != 0;) {
    const std::size_t slash = word.find('/');
    sum += slash == std::string::npos
               ? std::stod(word)
               : std::stod(word.substr(0, slash)) / std::stod(word.substr(slash + 1));
  }
  return sum;
}

double read_rounds(const std::string& words) {
  const std::size_t then = words.find(", then ");
  const std::string first = words.substr(0, then);
  double rounds = 1.0;
  for (int n = 2; n <= 200; ++n) {
    if (first.find(", " + number_word(n) + " rounds") != std::string::npos) rounds = n;
  }
  const double rest = then == std::string::npos ? 0.0 : read_turns(words.substr(then + 7));
  return rounds * read_turns(first) + rest;
}

TEST(TurnWords, AddUpToTheTurnForEveryDivision) {
  rc::check("rounds add up", [] {
    const int division = *rc::gen::element(1, 2, 3, 4, 6, 8, 12);
    const int parts = *rc::gen::inRange(1, 10 * division);
    const double turns = static_cast<double>(parts) / division;
    const std::string words = rounds_of(turns, division, 4);
    RC_LOG(words);
    // print_turns prints two decimals where a fraction is none of the usual ones
    RC_ASSERT(std::abs(read_rounds(words) - turns) < 0.05 * turns + 1e-9);
  });
}

}  // namespace
}  // namespace weighwright::job
