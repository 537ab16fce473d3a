// Who wrote it: entries that somebody else wrote into a chain, in the file and from outside.

#include "journal/forgery.h"

#include <gtest/gtest.h>
#include <sqlite3.h>

#include "journal/exchange.h"
#include "journal/fixture.h"
#include "journal/merge.h"
#include "journal/salvage.h"
#include "journal/signature.h"
#include "record/encoding/entry_text.h"

namespace weighwright::journal {
namespace {

using testing::add;
using testing::created;
using testing::device;
using testing::Directory;
using testing::has_problem;
using testing::hashes_of;
using testing::minute;
using testing::note;
using testing::opened;
using testing::told;

/// How somebody with another key, or none, goes on with a chain.
struct Forger {
  std::string key;        // public, as the content says; empty: format 1
  std::string signature;  // over the hash, by...
  std::optional<KeySeed> signs;
};

/// The entry after the head of a device's chain, as a forger makes it; with a hash that fits.
LoadedEntry forged(Journal& journal, char digit, const Forger& forger) {
  LoadedEntry made;
  record::Entry& entry = made.entry;
  entry.stamp = {.device = std::string(16, digit),
                 .sequence = 1,
                 .lamport = 100,
                 .time_ms = minute(50).time_ms,
                 .offset_min = 60,
                 .author = "R. Example"};
  entry.previous = std::string(64, '0');
  for (const record::Head& head : journal.heads()) {
    if (head.device != entry.stamp.device) continue;
    entry.stamp.sequence = head.sequence + 1;
    entry.previous = head.hash;
  }
  entry.what = note("never said");
  entry.key = forger.key;
  made.content = record::print_content(entry);
  const HashBytes hash = entry_hash(made.content, parse_hex(entry.previous).value());
  entry.hash = print_hex(hash);
  made.signature = forger.signs ? sign(*forger.signs, hash) : forger.signature;
  return made;
}

/// Puts it into the file with SQLite itself.
void put(const std::string& path, const LoadedEntry& made) {
  sqlite3* database = nullptr;
  ASSERT_EQ(sqlite3_open(path.c_str(), &database), SQLITE_OK);
  const record::Stamp& stamp = made.entry.stamp;
  const std::string signature =
      made.signature.empty() ? "NULL" : "x'" + print_hex(std::string_view(made.signature)) + "'";
  const std::string insert =
      "INSERT INTO entries (device, sequence, lamport, kind, previous, hash, content, signature) "
      "VALUES ('" +
      stamp.device + "'," + std::to_string(stamp.sequence) + "," + std::to_string(stamp.lamport) +
      ",'note', x'" + made.entry.previous + "', x'" + made.entry.hash + "', '" + made.content +
      "'," + signature + ")";
  EXPECT_EQ(sqlite3_exec(database, insert.c_str(), nullptr, nullptr, nullptr), SQLITE_OK)
      << sqlite3_errmsg(database);
  sqlite3_close(database);
}

class Forgery : public ::testing::Test {
 protected:
  Forgery() {
    const auto site = created(directory_ / "site.job");
    add(*site, 'a', 0, "by a");
    add(*site, 'a', 1, "by a again");
    EXPECT_TRUE(site->backup(directory_ / "copy.job").empty());
  }

  /// Every way to go on with the chain of device a without its key.
  std::vector<Forger> forgers() {
    const KeySeed own = *device('a').key;
    const KeySeed other = *device('f').key;
    return {{.key = {}, .signature = {}, .signs = {}},
            {.key = public_key_of(other), .signature = {}, .signs = other},
            {.key = public_key_of(own), .signature = {}, .signs = other},
            {.key = public_key_of(own), .signature = std::string(64, '\7'), .signs = {}},
            {.key = public_key_of(own), .signature = {}, .signs = {}}};
  }

  std::string export_of(const std::string& path) {
    std::string text;
    (void)export_text(*opened(path, Access::read), [&](std::string_view piece) { text += piece; });
    return text;
  }

  Directory directory_{testing::fast_place()};
};

TEST_F(Forgery, InTheFileIsNamedByVerifyAndDoesNotCount) {
  int number = 0;
  for (const Forger& forger : forgers()) {
    const std::string path = directory_ / ("forged" + std::to_string(++number) + ".job");
    ASSERT_TRUE(opened(directory_ / "copy.job")->backup(path).empty());
    put(path, forged(*opened(path), 'a', forger));
    const auto journal = opened(path, Access::read);
    const Verification verification = journal->verify();
    EXPECT_FALSE(verification.whole());
    EXPECT_TRUE(has_problem(verification.problems, ProblemKind::forged, "aaaaaaaa-3"))
        << number << told(verification.problems);
    EXPECT_EQ(verification.count, 2);
    const auto entries = journal->entries();
    ASSERT_EQ(entries.size(), 3U);
    EXPECT_FALSE(entries[2].intact) << number;
    EXPECT_EQ(entries[2].problem_kind, ProblemKind::forged);
    // Rescue leaves it out and says so.
    const Rescued rescued = rescue(path, path + ".new");
    EXPECT_EQ(rescued.entries, 2) << told(rescued.faults);
    EXPECT_NE(told(rescued.lost).find("forged"), std::string::npos);
    EXPECT_TRUE(opened(path + ".new")->verify().problems.empty());
  }
}

TEST_F(Forgery, FromACopyIsRefusedWithTheEntryNamedAndNothingComes) {
  const auto site = opened(directory_ / "site.job");
  const auto before = hashes_of(*site);
  int number = 0;
  for (const Forger& forger : forgers()) {
    const std::string path = directory_ / ("forged" + std::to_string(++number) + ".job");
    ASSERT_TRUE(opened(directory_ / "copy.job")->backup(path).empty());
    add(*opened(path), 'c', 7, "honest");
    put(path, forged(*opened(path), 'a', forger));
    const Merged merged = merge(*site, *opened(path, Access::read));
    ASSERT_FALSE(merged.faults.empty()) << number;
    EXPECT_NE(told(merged.faults).find("aaaaaaaa-3"), std::string::npos) << told(merged.faults);
    EXPECT_NE(told(merged.faults).find("forged"), std::string::npos) << told(merged.faults);
    EXPECT_EQ(hashes_of(*site), before);
  }
}

TEST_F(Forgery, InAnExportIsRefusedByItsLine) {
  const std::string text = export_of(directory_ / "site.job");
  // The last byte of the last signature.
  std::string changed = text;
  changed[changed.size() - 4] = changed[changed.size() - 4] == '0' ? '1' : '0';
  const units::Diagnostics faults = faults_of_export(changed, "e.jsonl");
  ASSERT_EQ(faults.size(), 1U) << told(faults);
  EXPECT_EQ(faults[0].line, 3);
  EXPECT_NE(faults[0].what.find("aaaaaaaa-2"), std::string::npos);
  EXPECT_FALSE(import_text(changed, "e.jsonl", directory_ / "new.job").journal);
  // Its signature taken away.
  std::string bare = text;
  const std::size_t at = bare.rfind(R"(,"signature":")");
  bare.erase(at, bare.rfind('"') + 1 - at);
  EXPECT_NE(told(faults_of_export(bare, "e.jsonl")).find("signature is missing"), std::string::npos)
      << told(faults_of_export(bare, "e.jsonl"));
}

// The chain of a device that this journal knows with one key comes with another: a whole chain made
// up from its first entry on, sound by itself.
TEST_F(Forgery, OfAWholeChainWithAnotherKeyIsRefused) {
  const auto other = created(directory_ / "other.job");
  Identity forger = device('f');
  forger.device = std::string(16, 'a');
  ASSERT_TRUE(other->append(forger, {note("x"), note("y"), note("z")}, minute(0)).faults.empty());
  ASSERT_TRUE(other->verify().problems.empty());
  const auto site = opened(directory_ / "site.job");
  const Merged merged = merge(*site, *other);
  EXPECT_FALSE(merged.faults.empty());
  EXPECT_NE(told(merged.faults).find("forged"), std::string::npos) << told(merged.faults);
  EXPECT_EQ(site->entries().size(), 2U);
}

TEST_F(Forgery, UnderTheNumberOfTheReceiverIsRefusedAlsoWhereItsChainIsNotHereYet) {
  const auto other = opened(directory_ / "copy.job");
  Identity forger = device('f');
  forger.device = std::string(16, 'b');
  ASSERT_TRUE(other->append(forger, {note("in the name of b")}, minute(0)).faults.empty());
  ASSERT_TRUE(other->append(testing::unsigned_device('c'), {note("c")}, minute(0)).faults.empty());
  const auto site = opened(directory_ / "site.job");
  for (const char own : {'b', 'c'}) {
    const Merged merged = merge(*site, *other, {.identity = device(own), .moment = minute(9)});
    ASSERT_EQ(merged.faults.size(), 1U) << told(merged.faults);
    EXPECT_NE(merged.faults[0].what.find(std::string(8, own) + "-1"), std::string::npos);
    EXPECT_NE(merged.faults[0].what.find("forged"), std::string::npos);
  }
  // For everybody else these are chains as any other.
  EXPECT_EQ(merge(*site, *other, {.identity = device('d'), .moment = minute(9)}).came, 2);
}

// A backup that was restored on its own device, and a copy of the later file.
TEST_F(Forgery, IsToldFromABackupThatWasRestoredAndTheDeviceGoesOnUnderAnotherNumber) {
  const auto later = opened(directory_ / "copy.job");
  add(*later, 'a', 5, "after the backup");
  const auto site = opened(directory_ / "site.job");
  const Merged merged = merge(*site, *later, {.identity = device('a'), .moment = minute(9)});
  ASSERT_TRUE(merged.faults.empty()) << told(merged.faults);
  EXPECT_EQ(merged.came, 1);
  EXPECT_EQ(merged.closed, std::vector<std::string>{std::string(16, 'a')});
  const auto next = add(*site, 'a', 10, "goes on");
  EXPECT_EQ(next.stamp.device, merged.goes_on_as);
  EXPECT_NE(next.stamp.device, std::string(16, 'a'));
  EXPECT_EQ(next.stamp.sequence, 2) << "after the entry that closes the old chain";
  EXPECT_TRUE(site->verify().problems.empty()) << told(site->verify().problems);
  // The same once more: nothing new, nothing closed.
  EXPECT_TRUE(merge(*site, *later, {.identity = device('a'), .moment = minute(11)}).closed.empty());
  // And from the other side: the number that follows is the device's own too.
  const Merged back = merge(*later, *site, {.identity = device('a'), .moment = minute(12)});
  ASSERT_TRUE(back.faults.empty()) << told(back.faults);
  EXPECT_TRUE(later->verify().whole()) << told(later->verify().problems);
}

// Merged to and fro on the device that wrote to both: it comes to an end, both are the same.
TEST_F(Forgery, IsNoneWhereTwoFilesOfOneDeviceAreMergedAgainAndAgain) {
  const auto site = opened(directory_ / "site.job");
  const auto copy = opened(directory_ / "copy.job");
  add(*copy, 'b', 3, "written to the copy");
  for (int i = 4; i < 10; i += 2) {
    EXPECT_TRUE(merge(*site, *copy, {.identity = device('b'), .moment = minute(i)}).faults.empty());
    EXPECT_TRUE(
        merge(*copy, *site, {.identity = device('b'), .moment = minute(i + 1)}).faults.empty());
  }
  EXPECT_EQ(hashes_of(*site), hashes_of(*copy));
  EXPECT_EQ(site->entries().size(), 4U) << "two by a, one by b, and the one that closes b";
  // Written to both once more under one number: told as a fork, kept, and gone on with.
  add(*site, 'b', 20, "here");
  add(*copy, 'b', 21, "there");
  EXPECT_FALSE(merge(*site, *copy, {.identity = device('b'), .moment = minute(22)}).forks.empty());
  EXPECT_TRUE(merge(*copy, *site, {.identity = device('b'), .moment = minute(23)}).faults.empty());
  EXPECT_TRUE(merge(*site, *copy, {.identity = device('b'), .moment = minute(24)}).faults.empty());
  EXPECT_TRUE(merge(*copy, *site, {.identity = device('b'), .moment = minute(25)}).faults.empty());
  EXPECT_EQ(hashes_of(*site), hashes_of(*copy));
  EXPECT_EQ(merge(*site, *copy, {.identity = device('b'), .moment = minute(26)}).came, 0);
  const auto next = add(*site, 'b', 30, "goes on");
  EXPECT_EQ(next.stamp.sequence, 2) << next.stamp.device;
}

TEST_F(Forgery, OfOneOwnChainByAnotherKeyDoesNotStopTheDevice) {
  Identity forger = device('f');
  forger.device = std::string(16, 'b');
  const auto site = opened(directory_ / "site.job");
  ASSERT_TRUE(site->append(forger, {note("in the name of b")}, minute(3)).faults.empty());
  const auto own = add(*site, 'b', 4, "by b");
  EXPECT_NE(own.stamp.device, forger.device);
  EXPECT_EQ(own.key, public_key_of(*device('b').key));
  EXPECT_TRUE(site->verify().problems.empty());
}

// Whoever says in another's place that a chain is closed closes nothing, and nothing stops it.
TEST_F(Forgery, OfClosingsDoesNotDriveADeviceFromItsNumber) {
  const auto site = opened(directory_ / "site.job");
  std::string number(16, 'a');
  for (int i = 0; i < 3; ++i) {
    const record::Draft closing{
        .kind = "chain_closed", .fields = {{"device", number}, {"why", "copy"}}, .corrects = {}};
    ASSERT_TRUE(site->append(device('f'), {closing}, minute(i)).faults.empty());
    number = next_number(number, public_key_of(*device('a').key));
  }
  EXPECT_EQ(add(*site, 'a', 9, "goes on").stamp.device, std::string(16, 'a'));
}

TEST_F(Forgery, ByAProgramWithoutTheKeyIsRefusedAtOnce) {
  const auto site = opened(directory_ / "site.job");
  const Appended added = site->append(testing::unsigned_device('a'), {note("x")}, minute(3));
  EXPECT_TRUE(added.entries.empty());
  EXPECT_NE(told(added.faults).find("key"), std::string::npos);
}

TEST_F(Forgery, IsNotWhatUnsignedJournalsAreCalled) {
  const auto old = created(directory_ / "old.job");
  for (int i = 0; i < 3; ++i) {
    ASSERT_TRUE(old->append(testing::unsigned_device('a'), {note("n")}, minute(i)).faults.empty());
  }
  EXPECT_TRUE(old->verify().problems.empty());
  EXPECT_EQ(add(*old, 'a', 9, "signed from here on").stamp.sequence, 4);
  EXPECT_TRUE(old->verify().problems.empty()) << told(old->verify().problems);
  EXPECT_TRUE(faults_of_export(export_of(directory_ / "old.job"), "e").empty());
}

// A signature in the middle that does not fit: verify looks at each, opening at the ends.
TEST_F(Forgery, OfASignatureInTheMiddleIsFoundByVerify) {
  const std::string path = directory_ / "site.job";
  add(*opened(path), 'a', 3, "third");
  sqlite3* database = nullptr;
  ASSERT_EQ(sqlite3_open(path.c_str(), &database), SQLITE_OK);
  EXPECT_EQ(sqlite3_exec(database,
                         "DROP TRIGGER entries_are_never_changed; UPDATE entries SET signature = "
                         "randomblob(64) WHERE sequence = 2",
                         nullptr, nullptr, nullptr),
            SQLITE_OK);
  sqlite3_close(database);
  const Verification verification = opened(path, Access::read)->verify();
  EXPECT_TRUE(has_problem(verification.problems, ProblemKind::forged, "aaaaaaaa-2"))
      << told(verification.problems);
}

}  // namespace
}  // namespace weighwright::journal
