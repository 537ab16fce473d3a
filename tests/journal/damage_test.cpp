// Bytes that flipped and runs of zeros at every place of a small journal and of its log.
//
// Held    no crash; every intact entry is one that was recorded (its hash says so); what is not
//         shown intact is told by verify; a verify without a word means that everything is there.

#include <gtest/gtest.h>

#include <cstdio>
#include <set>

#include "journal/fixture.h"
#include "journal/salvage.h"

namespace weighwright::journal {
namespace {

using testing::Directory;

struct Original {
  std::string file;
  std::string log;  // empty: everything is in the file
  std::set<std::string> hashes;
  std::vector<record::Head> heads;
};

Original make_original(bool in_log) {
  const Directory directory(testing::fast_place());
  const std::string path = directory / "site.job";
  Original original;
  {
    const auto journal = testing::created(path);
    for (int i = 0; i < 10; ++i) {
      testing::add(*journal, i % 3 == 2 ? 'b' : 'a', i, "note " + std::to_string(i));
    }
    testing::add(*journal, 'a', 11, std::string(6'000, 'l'));
    testing::add(*journal, 'b', 12, "the last one");
    for (const std::string& hash : testing::hashes_of(*journal)) original.hashes.insert(hash);
    original.heads = journal->heads();
    if (in_log) {
      original.file = testing::read_all(path);
      original.log = testing::read_all(path + "-wal");
    }
  }
  if (!in_log) original.file = testing::read_all(path);
  return original;
}

struct Tally {
  int damages = 0;
  int unharmed = 0;            // verify has nothing to say, and everything is there
  int told = 0;                // verify says what
  int refused = 0;             // not opened, with a message
  int salvaged = 0;            // SQLite could not read it
  std::size_t fewest = 1'000;  // intact entries shown
};

class Damaged {
 public:
  explicit Damaged(const Original& original) : original_(original) {}

  void look(const std::string& file,
            const std::string& log,
            std::size_t least,
            const std::string& at) {
    SCOPED_TRACE(at);
    const Directory directory(testing::fast_place());
    const std::string path = directory / "site.job";
    testing::write_all(path, file);
    if (!log.empty()) testing::write_all(path + "-wal", log);
    ++tally.damages;
    try {
      const Opened opened = Journal::open(path, Access::read);
      if (!opened.journal) {
        ++tally.refused;
        EXPECT_FALSE(opened.faults.empty());
        hold(salvage(path).entries, least);
        return;
      }
      tally.salvaged += opened.journal->salvaged() ? 1 : 0;
      const std::size_t intact = hold(opened.journal->entries(), least);
      const Verification verification = opened.journal->verify();
      const bool all = intact == original_.hashes.size();
      if (verification.problems.empty()) {
        ++tally.unharmed;
        EXPECT_TRUE(all) << "entries are missing and verify says nothing";
        EXPECT_EQ(verification.heads, original_.heads);
      } else {
        ++tally.told;
      }
    } catch (const StorageFailure& failure) {
      ++tally.refused;
      EXPECT_FALSE(failure.diagnostic().what.empty());
      hold(salvage(path).entries, least);
    }
  }

  Tally tally;

 private:
  std::size_t hold(const std::vector<LoadedEntry>& entries, std::size_t least) {
    std::set<std::string> intact;
    for (const LoadedEntry& one : entries) {
      if (!one.intact) continue;
      EXPECT_TRUE(original_.hashes.contains(one.entry.hash)) << "an entry that was never recorded";
      intact.insert(one.entry.hash);
    }
    EXPECT_GE(intact.size(), least);
    tally.fewest = std::min(tally.fewest, intact.size());
    return intact.size();
  }

  const Original& original_;
};

void print(const char* what, const Tally& tally) {
  std::printf(
      "%s: %d damages, %d without harm, %d told, %d refused with a message; SQLite could not read "
      "%d; at least %zu of 12 entries shown\n",
      what, tally.damages, tally.unharmed, tally.told, tally.refused, tally.salvaged, tally.fewest);
}

void flip_everywhere(const Original& original, bool in_log, std::size_t stride, const char* what) {
  Damaged damaged(original);
  damaged.look(original.file, original.log, 12, "none");
  EXPECT_EQ(damaged.tally.unharmed, 1);
  const std::string& target = in_log ? original.log : original.file;
  for (std::size_t at = 0; at < target.size(); at += stride) {
    std::string bytes = target;
    bytes[at] = static_cast<char>(bytes[at] ^ (1 << (at % 8)));
    // One byte lies in one entry at most.
    damaged.look(in_log ? original.file : bytes, in_log ? bytes : original.log, 11,
                 std::string(what) + " " + std::to_string(at));
    if (::testing::Test::HasFailure()) break;
  }
  print(what, damaged.tally);
}

void zero_everywhere(const Original& original,
                     bool in_log,
                     std::size_t stride,
                     std::size_t length,
                     const char* what) {
  Damaged damaged(original);
  const std::string& target = in_log ? original.log : original.file;
  for (std::size_t at = 0; at < target.size(); at += stride) {
    std::string bytes = target;
    for (std::size_t i = at; i < std::min(at + length, bytes.size()); ++i) bytes[i] = '\0';
    damaged.look(in_log ? original.file : bytes, in_log ? bytes : original.log, 0,
                 std::string(what) + " " + std::to_string(at));
    if (::testing::Test::HasFailure()) break;
  }
  print(what, damaged.tally);
}

TEST(Damage, OfAnyByteOfTheFileIsFoundOrHarmless) {
  flip_everywhere(make_original(false), false, 3, "flipped byte of the file");
}

TEST(Damage, OfAnyByteOfTheHeaderIsFoundOrHarmless) {
  Original original = make_original(false);
  Damaged damaged(original);
  for (std::size_t at = 0; at < 108; ++at) {
    for (int bit = 0; bit < 8; ++bit) {
      std::string bytes = original.file;
      bytes[at] = static_cast<char>(bytes[at] ^ (1 << bit));
      damaged.look(bytes, "", 12, "header " + std::to_string(at));
    }
  }
  print("flipped bit of the header", damaged.tally);
}

TEST(Damage, OfAnyByteOfTheLogIsFoundOrHarmless) {
  flip_everywhere(make_original(true), true, 17, "flipped byte of the log");
}

TEST(Damage, OfAnyByteOfTheLogsHeadersIsFoundOrHarmless) {
  const Original original = make_original(true);
  Damaged damaged(original);
  constexpr std::size_t kFrame_bytes = 24 + 4096;
  for (std::size_t frame = 32; frame + kFrame_bytes <= original.log.size(); frame += kFrame_bytes) {
    const std::size_t first = frame == 32 ? 0 : frame;
    for (std::size_t at = first; at < frame + 24; ++at) {
      std::string bytes = original.log;
      bytes[at] = static_cast<char>(bytes[at] ^ 0x10);
      damaged.look(original.file, bytes, 11, "header of frame " + std::to_string(at));
    }
  }
  print("flipped byte of the log's headers", damaged.tally);
}

TEST(Damage, ByZerosIsFoundOrHarmless) {
  const Original in_file = make_original(false);
  zero_everywhere(in_file, false, 37, 100, "100 zeros in the file");
  zero_everywhere(in_file, false, 499, 5'000, "5000 zeros in the file");
  const Original in_log = make_original(true);
  zero_everywhere(in_log, true, 211, 100, "100 zeros in the log");
  zero_everywhere(in_log, true, 1'499, 5'000, "5000 zeros in the log");
}

TEST(Damage, ByCuttingTheFileIsFound) {
  const Original original = make_original(false);
  Damaged damaged(original);
  for (std::size_t size = 0; size < original.file.size(); size += 301) {
    damaged.look(original.file.substr(0, size), "", 0, "cut at " + std::to_string(size));
  }
  print("file cut short", damaged.tally);
  EXPECT_EQ(damaged.tally.unharmed, 0);
}

TEST(Rescue, BringsEveryIntactEntryToANewFile) {
  const Original original = make_original(false);
  const Directory directory(testing::fast_place());
  std::string bytes = original.file;
  for (std::size_t i = 0; i < 4096; ++i) bytes[i] = '\0';
  const std::size_t at = bytes.find("note 4");
  ASSERT_NE(at, std::string::npos);
  bytes[at] = 'N';
  testing::write_all(directory / "site.job", bytes);
  const Opened writing = Journal::open(directory / "site.job", Access::write);
  EXPECT_FALSE(writing.journal);
  EXPECT_NE(testing::told(writing.faults).find("damaged"), std::string::npos);
  const Rescued rescued = rescue(directory / "site.job", directory / "new.job");
  EXPECT_EQ(rescued.entries, 11);
  EXPECT_FALSE(rescued.lost.empty());
  const auto journal = testing::opened(directory / "new.job");
  EXPECT_EQ(journal->entries().size(), 11U);
  EXPECT_EQ(journal->heads(), original.heads);
  const auto added = testing::add(*journal, 'a', 99, "goes on");
  EXPECT_EQ(added.previous, original.heads[0].hash);
  EXPECT_EQ(testing::read_all(directory / "site.job"), bytes);
}

TEST(Salvage, NamesADamagedEntry) {
  Original original = make_original(false);
  const std::size_t at = original.file.find("note 4");
  ASSERT_NE(at, std::string::npos);
  original.file[at] = 'N';
  const Salvaged salvaged = salvage_bytes(original.file, "");
  ASSERT_EQ(salvaged.entries.size(), 12U);
  int damaged = 0;
  for (const LoadedEntry& one : salvaged.entries) {
    if (one.intact) continue;
    ++damaged;
    EXPECT_EQ(record::print_name(one.entry.stamp), "aaaaaaaa-4");
  }
  EXPECT_EQ(damaged, 1);
}

TEST(Salvage, OfZerosFindsNothing) {
  EXPECT_TRUE(
      salvage_bytes(std::string(100'000, '\0'), std::string(100'000, '\0')).entries.empty());
}

}  // namespace
}  // namespace weighwright::journal
