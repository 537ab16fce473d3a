// Damage in the last transaction of the log: SQLite forgets it without a word, and the next one
// would be written over it.

#include <gtest/gtest.h>

#include <set>

#include "journal/fixture.h"
#include "journal/salvage.h"

namespace weighwright::journal {
namespace {

using testing::add;
using testing::Directory;
using testing::has_problem;
using testing::opened;
using testing::told;

constexpr std::size_t kFrame_bytes = 24 + 4096;

/// A file and its log, as a program that was killed leaves them; all entries are in the log.
class DamagedTail : public ::testing::Test {
 protected:
  DamagedTail() {
    const std::string path = directory_ / "written.job";
    const auto journal = testing::created(path);
    for (int i = 0; i < 15; ++i) add(*journal, 'a', i, "note " + std::to_string(i));
    before_ = testing::read_all(path + "-wal").size();
    add(*journal, 'a', 20, "the last one");
    file_ = testing::read_all(path);
    log_ = testing::read_all(path + "-wal");
    last_ = journal->heads().front().hash;
  }

  /// With the log damaged from `at` on.
  std::string damaged(std::size_t at, std::size_t length = 1) {
    std::string log = log_;
    for (std::size_t i = at; i < at + length; ++i) log[i] = static_cast<char>(log[i] ^ 0x55);
    return laid_down(log);
  }

  std::string laid_down(const std::string& log) {
    const std::string path = directory_ / ("site" + std::to_string(++count_) + ".job");
    testing::write_all(path, file_);
    testing::write_all(path + "-wal", log);
    return path;
  }

  Directory directory_{testing::fast_place()};
  std::string file_;
  std::string log_;
  std::size_t before_ = 0;  // where the last transaction begins
  std::string last_;        // hash
  int count_ = 0;
};

TEST_F(DamagedTail, IsBrokenForVerifyAndTheEntryFoundIsNamed) {
  const std::string path = damaged(before_ + 30);  // an unimportant byte of its first page
  const auto journal = opened(path, Access::read);
  const Verification verification = journal->verify();
  EXPECT_FALSE(verification.whole());
  EXPECT_TRUE(has_problem(verification.problems, ProblemKind::log_end, ""));
  EXPECT_NE(told(verification.problems).find("aaaaaaaa-16"), std::string::npos)
      << told(verification.problems);
  EXPECT_EQ(verification.count, 15);
}

// Every 101st byte of the last transaction, and each of its headers.
TEST_F(DamagedTail, IsNeverWrittenOverAndRescueBringsWhatIsIntact) {
  int refused = 0;
  int rescued_whole = 0;
  int in_vain = 0;
  std::set<std::size_t> places;
  for (std::size_t at = before_; at < log_.size(); at += 101) places.insert(at);
  for (std::size_t frame = before_; frame < log_.size(); frame += kFrame_bytes) {
    for (std::size_t i = 0; i < 24; ++i) places.insert(frame + i);
  }
  for (const std::size_t at : places) {
    const std::string path = damaged(at);
    const std::string log = testing::read_all(path + "-wal");
    const Opened writing = Journal::open(path, Access::write);
    if (writing.journal) {
      // Only where no entry can be recognised any more.
      ++in_vain;
      continue;
    }
    ++refused;
    EXPECT_NE(told(writing.faults).find("rescue"), std::string::npos) << told(writing.faults);
    EXPECT_FALSE(opened(path, Access::read)->verify().whole());
    EXPECT_EQ(testing::read_all(path + "-wal"), log) << "the log was touched at " << at;
    const Rescued rescued = rescue(path, path + ".new");
    EXPECT_GE(rescued.entries, 15);
    const auto made = opened(path + ".new");
    ASSERT_TRUE(made);
    EXPECT_TRUE(made->verify().problems.empty()) << told(made->verify().problems);
    rescued_whole += made->heads().front().hash == last_ ? 1 : 0;
    EXPECT_EQ(add(*made, 'a', 30, "goes on").stamp.sequence, rescued.entries + 1);
  }
  std::printf("damaged last transaction: %d refused, %d of them rescued whole, %d not noticed\n",
              refused, rescued_whole, in_vain);
  EXPECT_GT(refused, 0);
  EXPECT_GT(rescued_whole, refused / 2);
  EXPECT_LE(in_vain * 20, refused);
}

// Three entries in one transaction, the first of them damaged: what follows it would leave a gap.
TEST_F(DamagedTail, OfABatchBringsNothingThatHangsOnALostEntry) {
  const std::string path = directory_ / "batch.job";
  const auto journal = testing::created(path);
  add(*journal, 'a', 0, "before");
  const std::vector<record::Draft> three = {testing::note(std::string(3'500, 'x')),
                                            testing::note(std::string(3'500, 'y')),
                                            testing::note(std::string(3'500, 'z'))};
  ASSERT_EQ(journal->append(testing::device('a'), three, testing::minute(1)).entries.size(), 3U);
  file_ = testing::read_all(path);
  std::string log = testing::read_all(path + "-wal");
  // In every version of every page.
  for (std::size_t at = log.find("xxxx"); at != std::string::npos; at = log.find("xxxx", at)) {
    log[at] = 'w';
  }
  const std::string damaged = laid_down(log);
  const Rescued rescued = rescue(damaged, damaged + ".new");
  EXPECT_EQ(rescued.entries, 1);
  EXPECT_NE(told(rescued.lost).find("aaaaaaaa-3"), std::string::npos) << told(rescued.lost);
  EXPECT_TRUE(opened(damaged + ".new")->verify().problems.empty());
}

// What a program that was killed while it wrote leaves is not that.
TEST_F(DamagedTail, IsNotWhatAKilledProgramLeaves) {
  for (std::size_t size = before_; size < log_.size(); size += 97) {
    const std::string path = laid_down(log_.substr(0, size));
    EXPECT_TRUE(opened(path, Access::read)->verify().whole());
    EXPECT_EQ(add(*opened(path), 'a', 30, "goes on").stamp.sequence, 16);
  }
  const std::string path = laid_down(log_);
  EXPECT_EQ(add(*opened(path), 'a', 30, "goes on").stamp.sequence, 17);
}

}  // namespace
}  // namespace weighwright::journal
