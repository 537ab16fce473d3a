#include "journal/founding.h"

#include <gtest/gtest.h>
#include <sqlite3.h>

#include "journal/exchange.h"
#include "journal/export_heads.h"
#include "journal/fixture.h"
#include "journal/merge.h"
#include "journal/salvage.h"

namespace weighwright::journal {
namespace {

using testing::add;
using testing::Directory;
using testing::hashes_of;

std::string name_of(const std::string& path) {
  return founding_hash(testing::opened(path, Access::read)->entries());
}

/// Changes a file with SQLite itself, its guards off.
void sql(const std::string& path, const std::string& statements) {
  sqlite3* database = nullptr;
  ASSERT_EQ(sqlite3_open(path.c_str(), &database), SQLITE_OK);
  const std::string all =
      "DROP TRIGGER entries_are_never_changed; DROP TRIGGER entries_are_never_deleted; " +
      statements;
  EXPECT_EQ(sqlite3_exec(database, all.c_str(), nullptr, nullptr, nullptr), SQLITE_OK)
      << sqlite3_errmsg(database);
  sqlite3_close(database);
}

class Founding : public ::testing::Test {
 protected:
  Founding() : path_(directory_ / "site.job") {
    const auto journal = testing::created(path_);
    for (int i = 1; i <= 4; ++i) add(*journal, 'b', i, "note " + std::to_string(i));
    // A device whose name comes first in every order, later.
    add(*journal, 'a', 5, "by another device");
    name_ = hashes_of(*journal).front();
  }

  Directory directory_{testing::fast_place()};
  std::string path_;
  std::string name_;
};

TEST_F(Founding, NameIsThatOfTheFirstEntryAndStaysWhateverComes) {
  EXPECT_EQ(name_of(path_), name_);
  add(*testing::opened(path_), 'c', 9, "much later");
  EXPECT_EQ(name_of(path_), name_);
}

TEST_F(Founding, NameIsTheSameInEveryCopyBackupExportAndMergedFile) {
  const std::string copy = directory_ / "copy.job";
  EXPECT_TRUE(testing::opened(path_)->backup(copy).empty());
  add(*testing::opened(copy), 'c', 6, "on site");
  add(*testing::opened(path_), 'b', 6, "in the office");
  EXPECT_EQ(name_of(copy), name_);

  const std::string text = directory_ / "copy.jsonl";
  EXPECT_TRUE(export_file(*testing::opened(copy, Access::read), text).faults.empty());
  EXPECT_EQ(heads_of_export(text).belonging.founding, name_);
  ASSERT_TRUE(import_file(text, directory_ / "imported.job").journal);
  EXPECT_EQ(name_of(directory_ / "imported.job"), name_);

  const auto into = testing::opened(path_);
  EXPECT_EQ(merge(*into, *testing::opened(copy, Access::read)).came, 1);
  EXPECT_EQ(founding_hash(into->entries()), name_);
}

TEST_F(Founding, NameOutlivesDamageToTheFirstEntry) {
  sql(path_,
      "UPDATE entries SET content = replace(content, 'note 1', 'note X') WHERE position = 1");
  EXPECT_EQ(name_of(path_), name_);
}

TEST_F(Founding, NameOutlivesTheLossOfTheFirstEntryAndARescue) {
  sql(path_, "DELETE FROM entries WHERE position = 1");
  EXPECT_EQ(name_of(path_), name_);
  EXPECT_TRUE(rescue(path_, directory_ / "rescued.job").faults.empty());
  EXPECT_EQ(name_of(directory_ / "rescued.job"), name_);
}

TEST_F(Founding, NameIsNotGuessedWhereNothingNamesIt) {
  sql(path_, "DELETE FROM entries WHERE position <= 2");
  EXPECT_EQ(name_of(path_), "");
}

TEST(FoundingEntry, OfAChainOfOneIsNamedByTheDeviceThatCameAfter) {
  const Directory directory(testing::fast_place());
  const auto journal = testing::created(directory / "site.job");
  EXPECT_EQ(founding_hash(journal->entries()), "") << "nothing was recorded yet";
  const std::string name = add(*journal, 'b', 1, "one").hash;
  add(*journal, 'a', 2, "two");
  std::vector<LoadedEntry> entries = journal->entries();
  EXPECT_EQ(founding_hash(entries), name);
  entries.erase(entries.begin());
  EXPECT_EQ(founding_hash(entries), name);
}

TEST_F(Founding, CopiesBelongTogetherAndJournalsOfOneNameDoNot) {
  const auto other = testing::created(directory_ / "other.job");
  for (int i = 1; i <= 4; ++i) add(*other, 'b', i + 1, "note " + std::to_string(i));
  const Belonging here = belonging_of(testing::opened(path_, Access::read)->entries());
  const Belonging there = belonging_of(other->entries());
  EXPECT_FALSE(are_one_journal(here, there));
  EXPECT_TRUE(are_one_journal(here, here));
  // So much is lost that only a common entry tells.
  Belonging half = here;
  half.founding.clear();
  EXPECT_TRUE(are_one_journal(here, half));
  half.hashes = there.hashes;
  EXPECT_FALSE(are_one_journal(here, half));
  EXPECT_TRUE(are_one_journal(here, {})) << "an empty file belongs to every journal";
}

}  // namespace
}  // namespace weighwright::journal
