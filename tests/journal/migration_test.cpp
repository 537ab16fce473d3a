// A file that version 1 wrote (entries, no attachments, no signatures), kept as it was.

#include <gtest/gtest.h>
#include <sqlite3.h>

#include "journal/exchange.h"
#include "journal/fixture.h"
#include "journal/shim_vfs.h"

namespace weighwright::journal {
namespace {

using testing::Directory;

const std::string kOld = WEIGHWRIGHT_SOURCE_DIR "/tests/journal/old/version_1";

std::int64_t schema_of(const std::string& path) {
  sqlite3* database = nullptr;
  sqlite3_stmt* statement = nullptr;
  sqlite3_open_v2(path.c_str(), &database, SQLITE_OPEN_READWRITE, nullptr);
  sqlite3_prepare_v2(database, "PRAGMA user_version", -1, &statement, nullptr);
  sqlite3_step(statement);
  const std::int64_t version = sqlite3_column_int64(statement, 0);
  sqlite3_finalize(statement);
  sqlite3_close(database);
  return version;
}

std::string export_of(Journal& journal) {
  std::string text;
  (void)export_text(journal, [&](std::string_view piece) { text += piece; });
  return text;
}

std::string copy_of_old(const Directory& directory) {
  const std::string path = directory / "site.job";
  std::filesystem::copy_file(kOld + ".job", path);
  return path;
}

TEST(Migration, OfAVersion1FileKeepsEveryEntry) {
  const Directory directory(testing::fast_place());
  const std::string path = copy_of_old(directory);
  ASSERT_EQ(schema_of(path), 1);
  const auto journal = testing::opened(path);
  EXPECT_EQ(schema_of(path), 3);
  // What version 1 exported then.
  EXPECT_EQ(export_of(*journal), testing::read_all(kOld + ".jsonl"));
  EXPECT_TRUE(journal->verify().problems.empty()) << testing::told(journal->verify().problems);
  const std::string hash = journal->attach("photo");
  EXPECT_TRUE(journal->attachment(hash));
  testing::add(*journal, 'c', 5'000'000, "goes on");
  const auto entries = journal->entries();
  ASSERT_EQ(entries.size(), 26U);
  // What was there is unsigned, as it was; what comes is signed.
  for (const LoadedEntry& one : entries) EXPECT_EQ(one.entry.key.empty(), &one != &entries.back());
  EXPECT_TRUE(journal->verify().problems.empty()) << testing::told(journal->verify().problems);
}

TEST(Migration, OfAnOldChainIsGoneOnWithSignedUnderItsNumber) {
  const Directory directory(testing::fast_place());
  const std::string path = copy_of_old(directory);
  const auto journal = testing::opened(path);
  const record::Head head = journal->heads().front();
  Identity identity = testing::device('d');
  identity.device = head.device;
  const Appended added =
      journal->append(identity, {testing::note("signed")}, testing::minute(5'000'000));
  ASSERT_EQ(added.entries.size(), 1U) << testing::told(added.faults);
  EXPECT_EQ(added.entries[0].previous, head.hash);
  EXPECT_FALSE(added.entries[0].key.empty());
  EXPECT_TRUE(journal->verify().problems.empty()) << testing::told(journal->verify().problems);
}

TEST(Migration, IsNotDoneForReading) {
  const Directory directory(testing::fast_place());
  const std::string path = copy_of_old(directory);
  {
    const auto journal = testing::opened(path, Access::read);
    EXPECT_EQ(export_of(*journal), testing::read_all(kOld + ".jsonl"));
    EXPECT_TRUE(journal->attachments().empty());
    EXPECT_TRUE(journal->verify().problems.empty()) << testing::told(journal->verify().problems);
  }
  EXPECT_EQ(schema_of(path), 1);
  EXPECT_EQ(testing::read_all(path), testing::read_all(kOld + ".job"));
}

TEST(Migration, CutOffAtAnyWriteLosesNothing) {
  int cuts = 0;
  for (int nth = 1; nth < 200; ++nth) {
    const Directory directory(testing::fast_place());
    const std::string path = copy_of_old(directory);
    int count = 0;
    {
      const testing::ShimVfs shim([&](const testing::FileAction& action) -> int {
        const bool counts = action.event == testing::FileEvent::write ||
                            action.event == testing::FileEvent::sync ||
                            action.event == testing::FileEvent::truncate;
        if (!counts) return SQLITE_OK;
        return ++count >= nth ? SQLITE_IOERR : SQLITE_OK;
      });
      try {
        (void)Journal::open(path, Access::write);
      } catch (const StorageFailure& failure) {
        EXPECT_FALSE(failure.diagnostic().what.empty());
      }
    }
    const std::int64_t version = schema_of(path);
    EXPECT_TRUE(version == 1 || version == 3);
    const auto journal = testing::opened(path);
    EXPECT_EQ(export_of(*journal), testing::read_all(kOld + ".jsonl"));
    EXPECT_TRUE(journal->verify().problems.empty()) << testing::told(journal->verify().problems);
    if (count < nth) break;
    ++cuts;
  }
  EXPECT_GE(cuts, 5);
  EXPECT_LT(cuts, 190);
}

TEST(Migration, FromTheFutureIsRefusedAndLeftAlone) {
  const Directory directory(testing::fast_place());
  const std::string path = directory / "site.job";
  {
    const auto journal = testing::created(path);
    testing::add(*journal, 'a', 0, "one");
  }
  sqlite3* database = nullptr;
  sqlite3_open(path.c_str(), &database);
  sqlite3_exec(database, "PRAGMA user_version = 4", nullptr, nullptr, nullptr);
  sqlite3_close(database);
  const std::string before = testing::read_all(path);
  for (const Access access : {Access::read, Access::write}) {
    const Opened opened = Journal::open(path, access);
    EXPECT_FALSE(opened.journal);
    EXPECT_NE(testing::told(opened.faults).find("later version"), std::string::npos)
        << testing::told(opened.faults);
  }
  EXPECT_EQ(testing::read_all(path), before);
}

}  // namespace
}  // namespace weighwright::journal
