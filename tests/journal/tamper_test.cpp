// A journal that somebody worked on with another program: the changes are made by SQLite itself.

#include <gtest/gtest.h>
#include <sqlite3.h>

#include "journal/entry_hash.h"
#include "journal/fixture.h"

// outside check: a changed, lost, reordered, zeroed entry is named | changes made by Debian's
//  sqlite3 and Python's sqlite3, programs of their own

namespace weighwright::journal {
namespace {

using testing::Directory;
using testing::has_problem;

class Tampered : public ::testing::Test {
 protected:
  Tampered() : path_(directory_ / "site.job") {
    const auto journal = testing::created(path_);
    for (int i = 1; i <= 6; ++i) testing::add(*journal, 'a', i, "note " + std::to_string(i));
    testing::add(*journal, 'b', 7, "by another device");
    hash_ = journal->attach("bytes of a photo");
  }

  /// Runs SQL on the file, without its guards.
  void sql(const std::string& statements, bool guards = false) {
    sqlite3* database = nullptr;
    ASSERT_EQ(sqlite3_open(path_.c_str(), &database), SQLITE_OK);
    const std::string free =
        "DROP TRIGGER entries_are_never_changed; DROP TRIGGER entries_are_never_deleted; "
        "DROP TRIGGER attachments_are_never_changed; DROP TRIGGER attachments_are_never_deleted;";
    const std::string all = guards ? statements : free + statements;
    const int code = sqlite3_exec(database, all.c_str(), nullptr, nullptr, nullptr);
    EXPECT_EQ(code, guards ? SQLITE_CONSTRAINT : SQLITE_OK) << sqlite3_errmsg(database);
    sqlite3_close(database);
  }

  Verification verified(const std::vector<record::Head>& expected = {}) {
    return testing::opened(path_, Access::read)->verify(expected);
  }

  Directory directory_{testing::fast_place()};
  std::string path_;
  std::string hash_;
};

TEST_F(Tampered, GuardsRefuseChangesAndDeletions) {
  sql("UPDATE entries SET kind = 'tick' WHERE position = 1", true);
  sql("DELETE FROM entries WHERE position = 1", true);
  sql("UPDATE attachments SET bytes = x'00'", true);
  sql("DELETE FROM attachments", true);
  EXPECT_TRUE(verified().problems.empty());
}

TEST_F(Tampered, GuardsThatAreGoneAreTold) {
  sql("");
  const Verification verification = verified();
  EXPECT_FALSE(verification.whole());
  EXPECT_TRUE(has_problem(verification.problems, ProblemKind::guard_gone, ""));
}

TEST_F(Tampered, ChangedContentIsNamedAndTheRestIsIntact) {
  sql("UPDATE entries SET content = replace(content, 'note 3', 'note X') WHERE sequence = 3");
  const auto journal = testing::opened(path_, Access::read);
  const Verification verification = journal->verify();
  EXPECT_TRUE(has_problem(verification.problems, ProblemKind::changed, "aaaaaaaa-3"));
  EXPECT_EQ(verification.count, 6);
  int broken = 0;
  for (const LoadedEntry& one : journal->entries()) broken += one.intact ? 0 : 1;
  EXPECT_EQ(broken, 1);
}

TEST_F(Tampered, ProblemsSayWhenTheEntryWasMade) {
  sql("UPDATE entries SET content = replace(content, 'note 3', 'note X') WHERE sequence = 3");
  for (const Problem& one : verified().problems) {
    if (one.kind != ProblemKind::changed) continue;
    EXPECT_EQ(one.sequence, 3);
    EXPECT_EQ(one.time_ms, testing::minute(3).time_ms);
  }
}

TEST_F(Tampered, ChangedHashIsNamed) {
  sql("UPDATE entries SET hash = randomblob(32) WHERE sequence = 4");
  EXPECT_TRUE(has_problem(verified().problems, ProblemKind::changed, "aaaaaaaa-4"));
}

TEST_F(Tampered, ZeroedContentIsNamed) {
  sql("UPDATE entries SET content = zeroblob(length(content)) WHERE sequence = 2");
  const Verification verification = verified();
  EXPECT_TRUE(has_problem(verification.problems, ProblemKind::zeroed, "aaaaaaaa-2"));
  EXPECT_FALSE(verification.whole());
}

TEST_F(Tampered, ZeroedRowIsNoEntry) {
  sql("UPDATE entries SET content = zeroblob(8), hash = zeroblob(32), previous = zeroblob(32) "
      "WHERE sequence = 2");
  EXPECT_TRUE(has_problem(verified().problems, ProblemKind::zeroed, "aaaaaaaa-2"));
}

TEST_F(Tampered, LostEntryInTheMiddleIsNamed) {
  sql("DELETE FROM entries WHERE sequence IN (3, 4)");
  const Verification verification = verified();
  EXPECT_TRUE(has_problem(verification.problems, ProblemKind::missing, "aaaaaaaa-3"));
  EXPECT_FALSE(verification.whole());
}

TEST_F(Tampered, LostFirstEntryIsNamed) {
  sql("DELETE FROM entries WHERE sequence = 1 AND device LIKE 'a%'");
  EXPECT_TRUE(has_problem(verified().problems, ProblemKind::missing, "aaaaaaaa-1"));
}

TEST_F(Tampered, LostTailIsNamedByAnotherChain) {
  sql("DELETE FROM entries WHERE sequence >= 5");
  const Verification verification = verified();
  EXPECT_TRUE(has_problem(verification.problems, ProblemKind::tail_lost, "aaaaaaaa-5"));
}

TEST_F(Tampered, LostTailIsNamedByHeadsThatWerePrinted) {
  const auto heads = testing::opened(path_, Access::read)->heads();
  sql("DELETE FROM entries WHERE device LIKE 'b%'");
  EXPECT_FALSE(has_problem(verified().problems, ProblemKind::tail_lost, "bbbbbbbb-1"));
  EXPECT_TRUE(has_problem(verified(heads).problems, ProblemKind::tail_lost, "bbbbbbbb-1"));
}

TEST_F(Tampered, ReorderedEntriesAreNamed) {
  sql("UPDATE entries SET sequence = CASE sequence WHEN 2 THEN 3 ELSE 2 END "
      "WHERE sequence IN (2, 3)");
  const auto journal = testing::opened(path_, Access::read);
  const Verification verification = journal->verify();
  EXPECT_TRUE(has_problem(verification.problems, ProblemKind::reordered, "aaaaaaaa-2"));
  EXPECT_TRUE(has_problem(verification.problems, ProblemKind::reordered, "aaaaaaaa-3"));
  EXPECT_FALSE(verification.whole());
  // Their content says where they belong.
  EXPECT_EQ(journal->entries()[1].entry.what.fields[0].second, "note 2");
}

TEST_F(Tampered, ContentsThatWereExchangedAreNamed) {
  sql("CREATE TABLE t AS SELECT sequence s, content c FROM entries; UPDATE entries SET content = "
      "(SELECT c FROM t WHERE s = 7 - sequence LIMIT 1) WHERE sequence IN (3, 4); DROP TABLE t");
  const Verification verification = verified();
  EXPECT_TRUE(has_problem(verification.problems, ProblemKind::changed, "aaaaaaaa-3"));
  EXPECT_TRUE(has_problem(verification.problems, ProblemKind::changed, "aaaaaaaa-4"));
}

class Replaced : public Tampered {
 protected:
  /// Note 3 of device a replaced, with a hash that fits.
  void replace_the_third() {
    const auto entries = testing::opened(path_, Access::read)->entries();
    const auto content_of = [&] {
      sqlite3* database = nullptr;
      sqlite3_stmt* statement = nullptr;
      sqlite3_open(path_.c_str(), &database);
      sqlite3_prepare_v2(database, "SELECT content FROM entries WHERE sequence = 3", -1, &statement,
                         nullptr);
      sqlite3_step(statement);
      std::string text = reinterpret_cast<const char*>(sqlite3_column_text(statement, 0));
      sqlite3_finalize(statement);
      sqlite3_close(database);
      return text;
    };
    std::string forged = content_of();
    forged.replace(forged.find("note 3"), 6, "note Y");
    const HashBytes hash = entry_hash(forged, parse_hex(entries[2].entry.previous).value());
    sql("UPDATE entries SET content = '" + forged + "', hash = x'" + print_hex(hash) +
        "' WHERE sequence = 3");
  }
};

TEST_F(Replaced, EntryWithAHashThatFitsIsForgedWhereTheChainIsSigned) {
  replace_the_third();
  const Verification verification = verified();
  EXPECT_TRUE(has_problem(verification.problems, ProblemKind::forged, "aaaaaaaa-3"))
      << testing::told(verification.problems);
  EXPECT_FALSE(verification.whole());
}

TEST_F(Replaced, EntryWithAHashThatFitsIsNamedByTheOneAfterItWhereItIsNot) {
  path_ = directory_ / "unsigned.job";
  {
    const auto journal = testing::created(path_);
    for (int i = 1; i <= 6; ++i) {
      const auto added =
          journal->append(testing::unsigned_device('a'),
                          {testing::note("note " + std::to_string(i))}, testing::minute(i));
      ASSERT_EQ(added.entries.size(), 1U);
    }
  }
  replace_the_third();
  const Verification verification = verified();
  EXPECT_TRUE(has_problem(verification.problems, ProblemKind::changed, "aaaaaaaa-3"))
      << testing::told(verification.problems);
  EXPECT_FALSE(verification.whole());
}

TEST_F(Tampered, ChangedAttachmentIsTold) {
  sql("UPDATE attachments SET bytes = x'00ff'");
  EXPECT_TRUE(has_problem(verified().problems, ProblemKind::photo_damaged, ""));
  EXPECT_FALSE(testing::opened(path_, Access::read)->attachment(hash_));
}

TEST_F(Tampered, UnknownKindIsKeptAndRemarkedOn) {
  const std::string last(64, '0');
  const std::string content =
      R"({"format":1,"device":"cccccccccccccccc","sequence":1,"lamport":9,)"
      R"("time":"2026-11-25T18:30:00.123Z","offset_min":0,"author":"","seen":[],)"
      R"("kind":"of_later","fields":{"x":"y"},"later_key":{"a":[1,2.5,null]}})";
  const HashBytes previous = parse_hex(last).value();
  sqlite3* database = nullptr;
  sqlite3_open(path_.c_str(), &database);
  const std::string insert =
      "INSERT INTO entries (device, sequence, lamport, kind, previous, hash, content) VALUES ("
      "'cccccccccccccccc', 1, 9, 'of_later', x'" +
      last + "', x'" + print_hex(entry_hash(content, previous)) + "', '" + content + "')";
  EXPECT_EQ(sqlite3_exec(database, insert.c_str(), nullptr, nullptr, nullptr), SQLITE_OK);
  sqlite3_close(database);
  const Verification verification = verified();
  EXPECT_TRUE(verification.whole());
  EXPECT_TRUE(has_problem(verification.problems, ProblemKind::unknown_kind, "cccccccc-1"));
  EXPECT_EQ(verification.count, 8);
}

}  // namespace
}  // namespace weighwright::journal
