/// What became of entries: undone, corrected, contradicted; in every order in which copies are
/// merged.
///
/// Outside  the order of entries made apart is L. Lamport's ("Time, Clocks, and the Ordering of
///          Events in a Distributed System", Comm. ACM 21 (1978) 558-565, conditions C1, C2 and the
///          total order of section "Ordering the Events Totally"; from memory, unverified).

#include "job/history.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "pen.h"

namespace weighwright::job {
namespace {

using testing::correction;
using testing::note;
using testing::Pen;
using testing::tick;
using testing::undo;

const std::string kPit = "00000000000000aa";
const std::string kTruck = "00000000000000bb";

std::string words(const History& history, int line) {
  return std::string(record::field(history.words(line).fields, "text"));
}

TEST(History, UndoTakesBackAndUndoOfTheUndoBringsBack) {
  Pen pen;
  const std::string first = pen.write(kPit, note("one"));
  const std::string back = pen.write(kPit, undo(first));
  EXPECT_FALSE(history_of(pen.all()).counts(0));
  pen.write(kPit, undo(back));
  const History history = history_of(pen.all());
  EXPECT_TRUE(history.counts(0));
  EXPECT_EQ(history.lines[1].fate, Fate::undone);
  EXPECT_EQ(history.lines.size(), 3U);
}

TEST(History, CorrectionStandsInThePlaceOfWhatItCorrects) {
  Pen pen;
  const std::string first = pen.write(kPit, note("1.63"));
  pen.write(kPit, note("later"));
  const std::string again = pen.write(kPit, correction(note("1.36"), first));
  pen.write(kPit, correction(note("1.35"), again));
  const History history = history_of(pen.all());
  EXPECT_EQ(words(history, 0), "1.35");
  EXPECT_EQ(history.lines[0].by, (std::vector<int>{2, 3}));
  EXPECT_FALSE(history.counts(2)) << "a correction is no entry of its own";
  EXPECT_TRUE(history.conflicts.empty()) << "the second writer had seen the first";
}

TEST(History, UndoOfACorrectionLeavesWhatWasThere) {
  Pen pen;
  const std::string first = pen.write(kPit, note("1.63"));
  const std::string again = pen.write(kPit, correction(note("1.36"), first));
  pen.write(kPit, undo(again));
  EXPECT_EQ(words(history_of(pen.all()), 0), "1.63");
}

TEST(History, TwoCorrectionsMadeApartAreAConflictUntilSettled) {
  Pen pen;
  const std::string first = pen.write(kPit, note("1.63"));
  pen.merge(kPit, kTruck);
  const std::string here = pen.write(kPit, correction(note("1.36"), first));
  const std::string there = pen.write(kTruck, correction(note("1.66"), first));
  pen.merge(kPit, kTruck);
  History history = history_of(pen.all());
  ASSERT_EQ(history.conflicts.size(), 1U);
  EXPECT_EQ(history.conflicts[0].kind, Conflict::Kind::corrections);
  EXPECT_FALSE(history.conflicts[0].settled);
  EXPECT_EQ(history.lines.size(), 3U) << "both are kept";
  pen.write(kPit, {.kind = "settled", .fields = {{"of", here}, {"with", there}}, .corrects = {}});
  history = history_of(pen.all());
  ASSERT_EQ(history.conflicts.size(), 1U);
  EXPECT_TRUE(history.conflicts[0].settled);
}

TEST(History, OneUndoesWhatTheOtherCorrects) {
  Pen pen;
  const std::string first = pen.write(kPit, note("1.63"));
  pen.merge(kPit, kTruck);
  pen.write(kPit, undo(first));
  pen.write(kTruck, correction(note("1.66"), first));
  const History history = history_of(pen.all());
  ASSERT_EQ(history.conflicts.size(), 1U);
  EXPECT_EQ(history.conflicts[0].kind, Conflict::Kind::undone_and_corrected);
}

TEST(History, TicksThatContradictAreToldOnlyWhenMadeApart) {
  Pen pen;
  pen.write(kPit, tick("grouted"));
  pen.merge(kPit, kTruck);
  pen.write(kPit, tick("grouted", "no"));
  EXPECT_TRUE(history_of(pen.all()).conflicts.empty()) << "one after the other is no conflict";
  pen.write(kTruck, tick("grouted", "yes"));
  const History history = history_of(pen.all());
  ASSERT_EQ(history.conflicts.size(), 1U);
  EXPECT_EQ(history.conflicts[0].kind, Conflict::Kind::ticks);
}

TEST(History, ForkOfACopiedFileIsToldAndBothEntriesCount) {
  Pen pen;
  pen.write(kPit, note("one"));
  Pen copy = pen;
  pen.write(kPit, note("here"));
  copy.write(kPit, note("there"));
  record::Entry other = copy.entries().back();
  other.hash = std::string(64, 'f');
  pen.entries().push_back(other);
  const History history = history_of(pen.all());
  ASSERT_EQ(history.conflicts.size(), 1U);
  EXPECT_EQ(history.conflicts[0].kind, Conflict::Kind::fork);
  EXPECT_TRUE(history.counts(1));
  EXPECT_TRUE(history.counts(2));
}

TEST(History, DamagedEntryIsShownAndNeverCounts) {
  Pen pen;
  pen.write(kPit, note("one"));
  std::vector<Kept> kept = pen.all();
  kept[0].intact = false;
  kept[0].problem = "its hash does not fit";
  const History history = history_of(kept);
  EXPECT_FALSE(history.counts(0));
  EXPECT_EQ(history.lines[0].problem, "its hash does not fit");
}

/// Entries name only what their writer had seen, whatever else is told of them: nothing is lost,
/// nothing counts twice, and the order in which copies are merged makes no difference.
RC_GTEST_PROP(History, KeepsEveryEntryHoweverManyUndosAndCorrections, ()) {
  Pen pen;
  std::vector<std::string> hashes;
  const int count = *rc::gen::inRange(1, 30);
  for (int i = 0; i < count; ++i) {
    const std::string device = *rc::gen::arbitrary<bool>() ? kPit : kTruck;
    if (*rc::gen::inRange(0, 4) == 0) pen.merge(kPit, kTruck);
    const int what = hashes.empty() ? 0 : *rc::gen::inRange(0, 3);
    const std::string target =
        hashes.empty()
            ? ""
            : hashes[static_cast<std::size_t>(*rc::gen::inRange<std::size_t>(0, hashes.size()))];
    if (what == 0) hashes.push_back(pen.write(device, note("n" + std::to_string(i))));
    if (what == 1) hashes.push_back(pen.write(device, undo(target)));
    if (what == 2)
      hashes.push_back(pen.write(device, correction(note("c" + std::to_string(i)), target)));
  }
  const History history = history_of(pen.all());
  RC_ASSERT(history.lines.size() == static_cast<std::size_t>(count));
  for (int i = 0; i < count; ++i) {
    const Line& line = history.lines[static_cast<std::size_t>(i)];
    RC_ASSERT(line.number == i + 1);
    if (line.fate == Fate::holds) RC_ASSERT(line.says == i);
    if (line.fate == Fate::corrected) {
      RC_ASSERT(history.lines[static_cast<std::size_t>(line.says)].fate == Fate::correction);
    }
    if (line.fate == Fate::undone) RC_ASSERT(!line.by.empty());
  }
}

}  // namespace
}  // namespace weighwright::job
