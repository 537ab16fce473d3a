#include "journal/merge.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>

#include "journal/fixture.h"

namespace weighwright::journal {
namespace {

using testing::add;
using testing::Directory;
using testing::hashes_of;

void copy(const std::string& from, const std::string& to) {
  EXPECT_TRUE(testing::opened(from)->backup(to).empty());
}

TEST(Merge, OfTwoCopiesWorkedOnApartIsTheSameBothWays) {
  const Directory directory(testing::fast_place());
  {
    const auto site = testing::created(directory / "a.job");
    add(*site, 'a', 0, "before parting");
  }
  copy(directory / "a.job", directory / "b.job");
  const auto a = testing::opened(directory / "a.job");
  const auto b = testing::opened(directory / "b.job");
  for (int i = 0; i < 4; ++i) add(*a, 'a', i, "in the office");
  for (int i = 0; i < 3; ++i) add(*b, 'b', i, "on site");
  const std::string photo = b->attach("photo");
  copy(directory / "a.job", directory / "a0.job");
  copy(directory / "b.job", directory / "b0.job");

  const auto b0 = testing::opened(directory / "b0.job", Access::read);
  const Merged forth = merge(*a, *b0);
  EXPECT_EQ(forth.came, 3);
  EXPECT_EQ(forth.attachments, 1);
  EXPECT_TRUE(forth.forks.empty());
  const auto a0 = testing::opened(directory / "a0.job", Access::read);
  const Merged back = merge(*b, *a0);
  EXPECT_EQ(back.came, 4);

  EXPECT_EQ(hashes_of(*a), hashes_of(*b));
  EXPECT_EQ(a->heads(), b->heads());
  EXPECT_EQ(a->heads().size(), 2U);
  EXPECT_TRUE(a->attachment(photo));
  EXPECT_TRUE(a->verify().problems.empty()) << testing::told(a->verify().problems);

  const Merged again = merge(*a, *b);
  EXPECT_EQ(again.came, 0);
  EXPECT_EQ(again.attachments, 0);
  // Work goes on: the next entry has seen both chains.
  const auto next = add(*a, 'a', 20, "joined");
  EXPECT_EQ(next.stamp.sequence, 6);
  EXPECT_EQ(next.seen.size(), 1U);
}

TEST(Merge, OfAForkKeepsBothWaysAndTellsIt) {
  const Directory directory(testing::fast_place());
  {
    const auto site = testing::created(directory / "a.job");
    add(*site, 'a', 0, "before parting");
  }
  copy(directory / "a.job", directory / "b.job");
  const auto a = testing::opened(directory / "a.job");
  const auto b = testing::opened(directory / "b.job");
  for (int i = 0; i < 3; ++i) add(*a, 'a', i, "one way");
  for (int i = 0; i < 2; ++i) add(*b, 'a', i, "the other way");
  // Merged by a third device: it only keeps both.
  const Merged merged = merge(*a, *b);
  EXPECT_EQ(merged.came, 2);
  ASSERT_EQ(merged.forks.size(), 2U);
  EXPECT_EQ(merged.forks[0].name, "aaaaaaaa-2");
  EXPECT_EQ(merge(*b, *a).came, 3);
  EXPECT_EQ(hashes_of(*a), hashes_of(*b));
  EXPECT_EQ(a->heads(), b->heads());
  EXPECT_EQ(a->heads().size(), 2U);
  EXPECT_EQ(a->entries().size(), 6U);
  // A chain that forked is closed: its device goes on under another number, in both copies.
  const auto next = add(*a, 'a', 9, "goes on");
  EXPECT_NE(next.stamp.device, std::string(16, 'a'));
  EXPECT_EQ(next.stamp.sequence, 1);
  ASSERT_EQ(next.seen.size(), 2U);
  EXPECT_EQ(add(*a, 'a', 10, "and on").stamp.device, next.stamp.device);
  EXPECT_EQ(add(*b, 'a', 11, "here too").stamp.device, next.stamp.device);
}

TEST(Merge, IntoAJournalForReadingIsRefused) {
  const Directory directory(testing::fast_place());
  testing::created(directory / "a.job").reset();
  testing::created(directory / "b.job").reset();
  const auto a = testing::opened(directory / "a.job", Access::read);
  const auto b = testing::opened(directory / "b.job", Access::read);
  EXPECT_FALSE(merge(*a, *b).faults.empty());
}

// Commutative, associative, idempotent, and nothing is dropped, for any three histories.
RC_GTEST_PROP(MergeLaws, OrderAndRepetitionDoNotMatter, ()) {
  const Directory directory(testing::fast_place());
  testing::created(directory / "0.job").reset();
  std::vector<std::string> all;
  for (const char digit : {'1', '2', '3'}) {
    const std::string path = directory / (std::string(1, digit) + ".job");
    copy(directory / "0.job", path);
    const auto journal = testing::opened(path);
    const auto writers = *rc::gen::container<std::vector<char>>(rc::gen::element('a', 'b', digit));
    int at = 0;
    for (const char writer : writers) {
      all.push_back(add(*journal, writer, ++at, std::string("at ") + digit).hash);
    }
  }
  const auto merged = [&](const std::string& order) {
    const std::string path = directory / ("m" + order + ".job");
    copy(directory / "0.job", path);
    const auto journal = testing::opened(path);
    for (const char digit : order) {
      const auto from = testing::opened(directory / (std::string(1, digit) + ".job"), Access::read);
      (void)merge(*journal, *from);
    }
    return std::pair{hashes_of(*journal), journal->heads()};
  };
  const auto one = merged("123");
  RC_ASSERT(one == merged("321"));
  RC_ASSERT(one == merged("2132"));
  std::vector<std::string> there = one.first;
  std::ranges::sort(there);
  std::ranges::sort(all);
  RC_ASSERT(there == all);
}

}  // namespace
}  // namespace weighwright::journal
