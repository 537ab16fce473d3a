// A machine that fails: full disk, errors of the disk at every event, read-only files.
//
// Method  "fail at the Nth step, for every N, once and from then on" ("How SQLite Is Tested",
//         section 3): a run ends when it meets no failure. The only outcomes that are accepted: it
//         worked, or StorageFailure that says what became of the entry; afterwards, on a disk that
//         works again, what was acknowledged is there and verify finds nothing broken.

#include <gtest/gtest.h>
#include <sqlite3.h>
#include <sys/mount.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cstdio>
#include <optional>
#include <set>

#include "journal/exchange.h"
#include "journal/fixture.h"
#include "journal/shim_vfs.h"

namespace weighwright::journal {
namespace {

using testing::Directory;
using testing::FileAction;
using testing::FileEvent;

struct FaultCase {
  const char* name;
  FileEvent event;
  int code;
  bool lasting;  // from the Nth on; else the Nth alone
};

class Fault : public ::testing::TestWithParam<FaultCase> {};

/// What a run was told.
struct Told {
  std::set<std::string> acknowledged;
  std::set<std::string> not_recorded;  // texts of notes
  int failures = 0;
  bool went_on = false;
};

void attempt(Journal& journal, const std::string& text, Told& told) {
  try {
    const Appended done =
        journal.append(testing::device('a'), {testing::note(text)},
                       testing::minute(static_cast<int>(told.acknowledged.size())));
    ASSERT_EQ(done.entries.size(), 1U) << testing::told(done.faults);
    told.acknowledged.insert(done.entries[0].hash);
  } catch (const StorageFailure& failure) {
    ++told.failures;
    EXPECT_FALSE(failure.diagnostic().what.empty());
    EXPECT_FALSE(failure.diagnostic().expected.empty());
    if (failure.outcome() == Outcome::not_recorded) told.not_recorded.insert(text);
  }
}

/// Whether the fault was met.
bool run_with_fault(const std::string& path, const FaultCase& fault, int nth, Told& told) {
  int count = 0;
  bool met = false;
  bool works_again = false;
  const testing::ShimVfs shim([&](const FileAction& action) -> int {
    if (works_again || action.event != fault.event) return SQLITE_OK;
    ++count;
    const bool now = fault.lasting ? count >= nth : count == nth;
    met = met || now;
    return now ? fault.code : SQLITE_OK;
  });
  std::unique_ptr<Journal> journal;
  try {
    Opened opened = Journal::open(path, Access::write);
    journal = std::move(opened.journal);
    EXPECT_TRUE(journal) << testing::told(opened.faults);
  } catch (const StorageFailure&) {
    ++told.failures;
  }
  if (!journal) return met;
  for (const char* const text : {"first", "second", "third"}) attempt(*journal, text, told);
  try {
    (void)journal->entries();
  } catch (const StorageFailure&) {
    ++told.failures;
  }
  works_again = true;
  const std::size_t before = told.acknowledged.size();
  attempt(*journal, "after the fault", told);
  told.went_on = told.acknowledged.size() == before + 1;
  EXPECT_TRUE(told.went_on) << fault.name << " " << nth;
  return met;
}

TEST_P(Fault, AtEveryStepIsToldAndLosesNothing) {
  const FaultCase& fault = GetParam();
  constexpr int kMostSteps = 400;
  int failures = 0;
  int nth = 1;
  for (; nth < kMostSteps; ++nth) {
    const Directory directory(testing::fast_place());
    const std::string path = directory / "site.job";
    {
      const auto journal = testing::created(path);
      testing::add(*journal, 'a', 0, "before");
    }
    Told told;
    const bool met = run_with_fault(path, fault, nth, told);
    failures += told.failures;
    const auto journal = testing::opened(path);
    ASSERT_TRUE(journal) << fault.name << " " << nth;
    const Verification verification = journal->verify();
    EXPECT_TRUE(verification.whole()) << testing::told(verification.problems);
    std::set<std::string> hashes;
    std::set<std::string> texts;
    for (const LoadedEntry& one : journal->entries()) {
      hashes.insert(one.entry.hash);
      texts.insert(std::string(record::field(one.entry.what.fields, "text")));
    }
    EXPECT_TRUE(texts.contains("before"));
    for (const std::string& hash : told.acknowledged) EXPECT_TRUE(hashes.contains(hash)) << nth;
    for (const std::string& text : told.not_recorded) EXPECT_FALSE(texts.contains(text)) << nth;
    if (!met) break;
  }
  EXPECT_LT(nth, kMostSteps) << "no end of steps";
  EXPECT_GT(failures, 0);
  std::printf("%s: %d steps, told %d times\n", fault.name, nth - 1, failures);
}

INSTANTIATE_TEST_SUITE_P(
    EveryKind,
    Fault,
    ::testing::Values(FaultCase{"full_once", FileEvent::write, SQLITE_FULL, false},
                      FaultCase{"full_from_then_on", FileEvent::write, SQLITE_FULL, true},
                      FaultCase{"write_error_once", FileEvent::write, SQLITE_IOERR_WRITE, false},
                      FaultCase{"write_error_on", FileEvent::write, SQLITE_IOERR_WRITE, true},
                      FaultCase{"flush_error_once", FileEvent::sync, SQLITE_IOERR_FSYNC, false},
                      FaultCase{"flush_error_on", FileEvent::sync, SQLITE_IOERR_FSYNC, true},
                      FaultCase{"read_error_once", FileEvent::read, SQLITE_IOERR_READ, false},
                      FaultCase{"read_error_on", FileEvent::read, SQLITE_IOERR_READ, true},
                      FaultCase{"open_error_once", FileEvent::open, SQLITE_CANTOPEN, false}),
    [](const auto& one) { return std::string(one.param.name); });

TEST(FullDisk, IsToldAndGoesOnOnceThereIsRoom) {
  const Directory directory;
  // A file system of 400 kB of its own, where that is permitted.
  if (::mount("none", directory.path().c_str(), "tmpfs", 0, "size=400k") != 0) {
    GTEST_SKIP() << "mounting a small tmpfs is not permitted here";
  }
  {
    const std::string path = directory / "site.job";
    const auto journal = testing::created(path);
    int recorded = 0;
    std::optional<StorageFailure> failure;
    while (!failure && recorded < 10'000) {
      try {
        recorded += static_cast<int>(journal
                                         ->append(testing::device('a'),
                                                  {testing::note(std::string(2000, 'n'))},
                                                  testing::minute(recorded))
                                         .entries.size());
      } catch (const StorageFailure& thrown) {
        failure = thrown;
      }
    }
    ASSERT_TRUE(failure);
    EXPECT_EQ(failure->outcome(), Outcome::not_recorded);
    EXPECT_NE(std::string(failure->what()).find("disk is full"), std::string::npos)
        << failure->what();
    EXPECT_EQ(journal->verify().count, recorded);
    EXPECT_EQ(::mount("none", directory.path().c_str(), "tmpfs", MS_REMOUNT, "size=4m"), 0);
    testing::add(*journal, 'a', 90'000, "after making room");
    const Verification verification = journal->verify();
    EXPECT_EQ(verification.count, recorded + 1);
    EXPECT_TRUE(verification.whole()) << testing::told(verification.problems);
    // Making new files there says so too, and leaves nothing behind.
    EXPECT_EQ(::mount("none", directory.path().c_str(), "tmpfs", MS_REMOUNT, "size=1m"), 0);
    std::string filler(700'000, 'f');
    testing::write_all(directory / "filler", filler);
    EXPECT_THROW((void)export_file(*journal, directory / "export.jsonl"), StorageFailure);
    EXPECT_THROW((void)journal->backup(directory / "copy.job"), StorageFailure);
    for (const auto& entry : std::filesystem::directory_iterator(directory.path())) {
      const std::string name = entry.path().filename();
      EXPECT_TRUE(name.starts_with("site.job") || name == "filler") << name;
      EXPECT_EQ(name.find(".new-"), std::string::npos) << name;
    }
  }
  ::umount(directory.path().c_str());
}

TEST(FullDisk, IsToldToWhoReadsToo) {
  const Directory directory;
  if (::mount("none", directory.path().c_str(), "tmpfs", 0, "size=200k") != 0) {
    GTEST_SKIP() << "mounting a small tmpfs is not permitted here";
  }
  {
    const std::string path = directory / "site.job";
    testing::add(*testing::created(path), 'a', 1, "before it was full");
    std::ofstream filler(directory / "filler", std::ios::binary);
    for (int i = 0; i < 400 && filler; ++i) filler << std::string(1024, 'f') << std::flush;
    try {
      const Opened opened = Journal::open(path, Access::read);
      ADD_FAILURE() << "reading needs room for the index of the log";
    } catch (const StorageFailure& failure) {
      EXPECT_NE(std::string(failure.what()).find("the disk is full"), std::string::npos)
          << failure.what();
      EXPECT_NE(std::string(failure.what()).find("make room"), std::string::npos) << failure.what();
    }
  }
  ::umount(directory.path().c_str());
}

TEST(NewJournal, IsForItsOwnerOnly) {
  const Directory directory;
  const std::string path = directory / "site.job";
  const auto journal = testing::created(path);
  testing::add(*journal, 'a', 1, "who wrote it is nobody else's business");
  for (const char* const ending : {"", "-wal", "-shm"}) {
    const auto mode = std::filesystem::status(path + ending).permissions();
    EXPECT_EQ(mode & std::filesystem::perms::mask,
              std::filesystem::perms::owner_read | std::filesystem::perms::owner_write)
        << ending;
  }
}

/// Runs work as somebody who may not do everything; 0 when all held.
template <class Work>
int without_rights(Work work) {
  constexpr uid_t kNobody = 65534;
  const pid_t child = ::fork();
  if (child == 0) {
    if (::getuid() == 0 && ::setuid(kNobody) != 0) ::_exit(9);
    int code = 8;
    try {
      code = work();
    } catch (const std::exception&) {
      code = 7;
    }
    ::_exit(code);
  }
  int status = 0;
  ::waitpid(child, &status, 0);
  return WIFEXITED(status) ? WEXITSTATUS(status) : 100;
}

int expect_read_only(const std::string& path, std::size_t entries) {
  const Opened reading = Journal::open(path, Access::read);
  if (!reading.journal) return 1;
  if (reading.journal->entries().size() != entries) return 2;
  if (!reading.journal->verify().whole()) return 3;
  try {
    Opened writing = Journal::open(path, Access::write);
    if (!writing.journal) return 4;
    (void)writing.journal->append(testing::device('a'), {testing::note("x")}, testing::minute(9));
  } catch (const StorageFailure& failure) {
    const std::string what = failure.what();
    const bool clear = what.find("read-only") != std::string::npos ||
                       what.find("can not be opened") != std::string::npos;
    return clear ? 0 : 5;
  }
  return 6;
}

TEST(ReadOnly, FileAndDirectoryAreReadAndNotWritten) {
  const Directory directory(testing::fast_place());
  const std::string path = directory / "site.job";
  {
    const auto journal = testing::created(path);
    testing::add(*journal, 'a', 0, "one");
    testing::add(*journal, 'a', 1, "two");
  }
  ASSERT_EQ(::chmod(path.c_str(), 0444), 0);
  ASSERT_EQ(::chmod(directory.path().c_str(), 0755), 0);
  EXPECT_EQ(without_rights([&] { return expect_read_only(path, 2); }), 0);
  ASSERT_EQ(::chmod(directory.path().c_str(), 0555), 0);
  EXPECT_EQ(without_rights([&] { return expect_read_only(path, 2); }), 0);
}

TEST(ReadOnly, DirectoryWithALogIsReadWithWhatTheLogHolds) {
  const Directory directory(testing::fast_place());
  const std::string copy = directory / "copy";
  {
    const std::string path = directory / "site.job";
    const auto journal = testing::created(path);
    testing::add(*journal, 'a', 0, "one");
    testing::add(*journal, 'a', 1, "two");
    std::filesystem::create_directory(copy);
    std::filesystem::copy_file(path, copy + "/site.job");
    std::filesystem::copy_file(path + "-wal", copy + "/site.job-wal");
    // Its owner lets others read it; of itself a journal is the owner's only.
    for (const char* const name : {"/site.job", "/site.job-wal"}) {
      ASSERT_EQ(::chmod((copy + name).c_str(), 0644), 0);
    }
  }
  ASSERT_EQ(::chmod(directory.path().c_str(), 0755), 0);
  ASSERT_EQ(::chmod(copy.c_str(), 0555), 0);
  EXPECT_EQ(without_rights([&] {
              const Opened reading = Journal::open(copy + "/site.job", Access::read);
              return reading.journal && reading.journal->entries().size() == 2 ? 0 : 1;
            }),
            0);
  ASSERT_EQ(::chmod(copy.c_str(), 0755), 0);
}

}  // namespace
}  // namespace weighwright::journal
