#include "journal/journal.h"

#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>

#include "journal/fixture.h"

namespace weighwright::journal {
namespace {

using testing::add;
using testing::created;
using testing::device;
using testing::Directory;
using testing::minute;
using testing::note;
using testing::opened;
using testing::told;

/// Runs work in another process; whether it ended well.
template <class Work>
bool in_child(Work work) {
  const pid_t child = ::fork();
  if (child == 0) {
    int code = 1;
    try {
      code = work() ? 0 : 1;
    } catch (const std::exception&) {
      code = 2;
    }
    ::_exit(code);
  }
  int status = 0;
  ::waitpid(child, &status, 0);
  return WIFEXITED(status) && WEXITSTATUS(status) == 0;
}

TEST(Journal, KeepsWhatWasAppended) {
  const Directory directory(testing::fast_place());
  record::Entry first;
  record::Entry second;
  {
    const auto journal = created(directory / "site.job");
    first = add(*journal, 'a', 0, "arrived; \"quoted\", tab\t and \xC2\xB5V\n");
    second = add(*journal, 'a', 1, "dressed");
  }
  const auto journal = opened(directory / "site.job", Access::read);
  const auto entries = journal->entries();
  ASSERT_EQ(entries.size(), 2U);
  EXPECT_TRUE(entries[0].intact && entries[1].intact);
  EXPECT_EQ(entries[0].entry.hash, first.hash);
  EXPECT_EQ(entries[0].entry.what.fields, first.what.fields);
  EXPECT_EQ(entries[0].entry.stamp.time_ms, minute(0).time_ms);
  EXPECT_EQ(entries[0].entry.stamp.offset_min, 60);
  EXPECT_EQ(entries[0].entry.stamp.author, "R. Example");
  EXPECT_EQ(entries[0].entry.previous, std::string(64, '0'));
  EXPECT_EQ(entries[1].entry.previous, first.hash);
  EXPECT_EQ(entries[1].entry.stamp.sequence, 2);
  EXPECT_EQ(entries[1].entry.stamp.lamport, 2);
  EXPECT_TRUE(journal->verify().problems.empty()) << told(journal->verify().problems);
  ASSERT_EQ(journal->heads().size(), 1U);
  EXPECT_EQ(journal->heads()[0].hash, second.hash);
}

TEST(Journal, LeavesOneFileBehind) {
  const Directory directory(testing::fast_place());
  {
    const auto journal = created(directory / "site.job");
    add(*journal, 'a', 0, "one");
  }
  {
    (void)opened(directory / "site.job", Access::read)->entries();
  }
  int files = 0;
  for (const auto& entry : std::filesystem::directory_iterator(directory.path())) {
    EXPECT_EQ(entry.path().filename(), "site.job");
    ++files;
  }
  EXPECT_EQ(files, 1);
}

TEST(Journal, NotesTheHeadsOfOtherChains) {
  const Directory directory(testing::fast_place());
  const auto journal = created(directory / "site.job");
  const auto of_a = add(*journal, 'a', 0, "by a");
  const auto of_b = add(*journal, 'b', 1, "by b");
  ASSERT_EQ(of_b.seen.size(), 1U);
  EXPECT_EQ(of_b.seen[0].hash, of_a.hash);
  EXPECT_EQ(of_b.stamp.sequence, 1);
  EXPECT_EQ(of_b.stamp.lamport, 2);
  EXPECT_EQ(add(*journal, 'a', 2, "a again").previous, of_a.hash);
}

TEST(Journal, RecordsABatchWholeOrNotAtAll) {
  const Directory directory(testing::fast_place());
  const auto journal = created(directory / "site.job");
  const auto bad = journal->append(device('a'), {note("good"), note("")}, minute(0));
  EXPECT_TRUE(bad.entries.empty());
  ASSERT_EQ(bad.faults.size(), 1U);
  EXPECT_NE(bad.faults[0].what.find("text"), std::string::npos);
  EXPECT_TRUE(journal->entries().empty());
  EXPECT_EQ(journal->append(device('a'), {note("one"), note("two")}, minute(0)).entries.size(), 2U);
  EXPECT_EQ(journal->entries().size(), 2U);
}

TEST(Journal, RefusesWhatCanNotBe) {
  const Directory directory(testing::fast_place());
  const auto journal = created(directory / "site.job");
  EXPECT_FALSE(
      journal->append({.device = "A", .author = ""}, {note("x")}, minute(0)).faults.empty());
  EXPECT_FALSE(journal->append(device('a'), {note("x")}, {.time_ms = -1}).faults.empty());
  EXPECT_FALSE(
      journal->append(device('a'), {note("x")}, {.time_ms = 0, .offset_min = 2000}).faults.empty());
  record::Draft correction = note("x");
  correction.corrects = std::string(64, '1');
  EXPECT_FALSE(journal->append(device('a'), {correction}, minute(0)).faults.empty());
  const record::Draft undo{.kind = "undo", .fields = {{"of", "nonsense"}}, .corrects = {}};
  EXPECT_FALSE(journal->append(device('a'), {undo}, minute(0)).faults.empty());
  EXPECT_TRUE(journal->entries().empty());
  const auto first = add(*journal, 'a', 0, "first");
  correction.corrects = first.hash;
  const auto corrected = journal->append(device('a'), {correction}, minute(1));
  ASSERT_EQ(corrected.entries.size(), 1U) << told(corrected.faults);
  EXPECT_EQ(journal->entries()[1].entry.what.corrects, first.hash);
}

TEST(Journal, OpenedForReadingIsNotWritten) {
  const Directory directory(testing::fast_place());
  {
    created(directory / "site.job");
  }
  const auto journal = opened(directory / "site.job", Access::read);
  EXPECT_FALSE(journal->append(device('a'), {note("x")}, minute(0)).faults.empty());
}

TEST(Journal, IsNotCreatedOverSomething) {
  const Directory directory(testing::fast_place());
  testing::write_all(directory / "site.job", "mine");
  const Opened again = Journal::create(directory / "site.job");
  EXPECT_FALSE(again.journal);
  EXPECT_NE(told(again.faults).find("already"), std::string::npos);
  EXPECT_EQ(testing::read_all(directory / "site.job"), "mine");
  EXPECT_FALSE(Journal::create(directory / "no/such/place.job").journal);
  EXPECT_FALSE(Journal::create("").journal);
}

TEST(Journal, TellsWhatIsNoJournal) {
  const Directory directory(testing::fast_place());
  testing::write_all(directory / "text", std::string(20'000, 'x'));
  testing::write_all(directory / "empty", "");
  testing::write_all(directory / "short", "SQLite format 3");
  for (const char* const name : {"text", "empty", "short", "absent", "."}) {
    for (const Access access : {Access::read, Access::write}) {
      const Opened opening = Journal::open(directory / name, access);
      EXPECT_FALSE(opening.journal) << name;
      EXPECT_EQ(opening.faults.size(), 1U) << name;
    }
  }
}

TEST(Journal, RemarksOnAClockThatWentBack) {
  const Directory directory(testing::fast_place());
  const auto journal = created(directory / "site.job");
  add(*journal, 'a', 100, "first");
  const auto back = add(*journal, 'a', 40, "second");
  const Verification verification = journal->verify();
  EXPECT_TRUE(verification.whole());
  ASSERT_EQ(verification.problems.size(), 1U);
  EXPECT_EQ(verification.problems[0].kind, ProblemKind::clock_back);
  EXPECT_EQ(verification.problems[0].name, "aaaaaaaa-2");
  EXPECT_EQ(verification.problems[0].time_ms, back.stamp.time_ms);
  // The order is that of recording all the same.
  EXPECT_EQ(journal->entries()[1].entry.hash, back.hash);
}

TEST(Journal, KeepsAttachments) {
  const Directory directory(testing::fast_place());
  const auto journal = created(directory / "site.job");
  const std::string bytes = std::string("not a photo") + '\0' + std::string(9000, '\xFF');
  const std::string hash = journal->attach(bytes);
  EXPECT_EQ(journal->attach(bytes), hash);
  EXPECT_EQ(journal->attachment(hash), bytes);
  EXPECT_EQ(journal->attachments(), std::vector<std::string>{hash});
  EXPECT_FALSE(journal->attachment(std::string(64, '0')));
  EXPECT_FALSE(journal->attachment("nonsense"));
  const record::Draft photo{.kind = "photo",
                            .fields = {{"file", "box.jpg"},
                                       {"media", "image/jpeg"},
                                       {"blake2b", std::string(64, '7')},
                                       {"size", "1"}},
                            .corrects = {}};
  ASSERT_EQ(journal->append(device('a'), {photo}, minute(0)).entries.size(), 1U);
  const Verification verification = journal->verify();
  EXPECT_TRUE(verification.whole());
  EXPECT_TRUE(testing::has_problem(verification.problems, ProblemKind::photo_absent, "aaaaaaaa-1"));
}

TEST(Journal, IsBackedUpWhileItIsWritten) {
  const Directory directory(testing::fast_place());
  const auto journal = created(directory / "site.job");
  for (int i = 0; i < 50; ++i) add(*journal, 'a', i, std::string(300, 'n'));
  EXPECT_TRUE(journal->backup(directory / "copy.job").empty());
  EXPECT_FALSE(journal->backup(directory / "copy.job").empty());
  const auto copy = opened(directory / "copy.job", Access::read);
  EXPECT_EQ(testing::hashes_of(*copy), testing::hashes_of(*journal));
  EXPECT_TRUE(copy->verify().problems.empty());
}

TEST(Journal, KnowsWhatHeadsWerePrintedEarlier) {
  const Directory directory(testing::fast_place());
  const auto journal = created(directory / "site.job");
  for (int i = 0; i < 5; ++i) add(*journal, 'a', i, "n");
  const auto heads = journal->heads();
  add(*journal, 'a', 9, "later");
  EXPECT_TRUE(journal->verify(heads).problems.empty());
  record::Head longer = heads[0];
  longer.sequence = 30;
  longer.hash = std::string(64, 'e');
  const Verification verification = journal->verify({longer});
  EXPECT_TRUE(testing::has_problem(verification.problems, ProblemKind::tail_lost, "aaaaaaaa-7"));
  EXPECT_FALSE(verification.whole());
}

TEST(Journal, IsWrittenByTwoProcessesInTurn) {
  const Directory directory;
  const std::string path = directory / "site.job";
  created(path).reset();
  constexpr int kEach = 40;
  std::vector<pid_t> children;
  for (const char digit : {'a', 'b'}) {
    const pid_t child = ::fork();
    if (child == 0) {
      bool good = true;
      try {
        const auto journal = opened(path);
        for (int i = 0; i < kEach; ++i) {
          good = good && journal->append(device(digit), {note("n")}, minute(i)).entries.size() == 1;
        }
      } catch (const std::exception&) {
        good = false;
      }
      ::_exit(good ? 0 : 1);
    }
    children.push_back(child);
  }
  // A reader meanwhile sees only whole chains.
  const auto reader = opened(path, Access::read);
  std::size_t seen = 0;
  for (int i = 0; i < 20; ++i) {
    const Verification verification = reader->verify();
    EXPECT_TRUE(verification.whole()) << told(verification.problems);
    EXPECT_GE(static_cast<std::size_t>(verification.count), seen);
    seen = static_cast<std::size_t>(verification.count);
    ::usleep(5'000);
  }
  for (const pid_t child : children) {
    int status = 0;
    ::waitpid(child, &status, 0);
    EXPECT_TRUE(WIFEXITED(status) && WEXITSTATUS(status) == 0);
  }
  const Verification verification = reader->verify();
  EXPECT_EQ(verification.count, 2 * kEach);
  EXPECT_TRUE(verification.problems.empty()) << told(verification.problems);
}

TEST(Journal, GoesOnFromWhatAnotherProcessWrote) {
  const Directory directory(testing::fast_place());
  const std::string path = directory / "site.job";
  const auto journal = created(path);
  add(*journal, 'a', 0, "one");
  ASSERT_TRUE(in_child([&] {
    return opened(path)->append(device('a'), {note("two")}, minute(1)).entries.size() == 1;
  }));
  EXPECT_EQ(add(*journal, 'a', 2, "three").stamp.sequence, 3);
  EXPECT_TRUE(journal->verify().problems.empty());
}

}  // namespace
}  // namespace weighwright::journal
