// Numbers that no counting reaches: a merged entry may never leave none for the next one.

#include "journal/impossible.h"

#include <gtest/gtest.h>

#include "journal/exchange.h"
#include "journal/fixture.h"
#include "journal/merge.h"
#include "journal/rows.h"
#include "journal/salvage.h"
#include "journal/signature.h"
#include "journal/store.h"
#include "record/encoding/entry_reader.h"
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

struct Numbers {
  std::int64_t sequence = 1;
  std::int64_t lamport = 1;
  std::int64_t time_ms = 1'780'000'000'000;
};

/// A first entry of a device, soundly signed by it, with any numbers.
Row row_with(const Numbers& numbers, char digit = 'e') {
  const Identity identity = device(digit);
  record::Entry entry;
  entry.stamp = {.device = identity.device,
                 .sequence = numbers.sequence,
                 .lamport = numbers.lamport,
                 .time_ms = numbers.time_ms,
                 .offset_min = 0,
                 .author = "R. Example"};
  entry.what = note("odd");
  entry.key = public_key_of(*identity.key);
  Row row{.content = record::print_content(entry), .previous = {}, .hash = {}, .signature = {}};
  row.hash = entry_hash(row.content, row.previous);
  row.signature = sign(*identity.key, row.hash);
  return row;
}

class ImpossibleEntry : public ::testing::Test {
 protected:
  ImpossibleEntry() {
    const auto site = created(directory_ / "site.job");
    add(*site, 'a', 0, "one");
    EXPECT_TRUE(site->backup(directory_ / "copy.job").empty());
  }

  /// As an earlier version would have merged it.
  void put(const std::string& name, const Row& row) {
    const auto journal = opened(directory_ / name);
    (void)StoreAccess::bring(*journal, {row}, {});
  }

  Directory directory_{testing::fast_place()};
};

TEST_F(ImpossibleEntry, IsRefusedAtMergeAndImportWithItsNameAndNothingComes) {
  const std::int64_t large = record::kLargestWhole;
  const std::vector<Numbers> all = {{.lamport = large},
                                    {.lamport = kMostCounted + 1},
                                    {.sequence = large, .lamport = large},
                                    {.sequence = kMostCounted + 1},
                                    {.time_ms = kLastPlausible_ms + 1}};
  int number = 0;
  for (const Numbers& numbers : all) {
    const std::string name = "odd" + std::to_string(++number) + ".job";
    ASSERT_TRUE(opened(directory_ / "copy.job")->backup(directory_ / name).empty());
    put(name, row_with(numbers));
    const auto site = opened(directory_ / "site.job");
    const auto before = hashes_of(*site);
    const Merged merged = merge(*site, *opened(directory_ / name, Access::read));
    ASSERT_FALSE(merged.faults.empty()) << number;
    EXPECT_NE(told(merged.faults).find("eeeeeeee-"), std::string::npos) << told(merged.faults);
    EXPECT_EQ(hashes_of(*site), before);
    // An export made elsewhere.
    std::string text =
        R"({"weighwright_journal":2,"heads":[{"device":"eeeeeeeeeeeeeeee","sequence":)" +
        std::to_string(numbers.sequence) + R"(,"hash":")" + print_hex(row_with(numbers).hash) +
        R"("}],"entries":1,"attachments":0})" + "\n";
    const Row row = row_with(numbers);
    text += row.content.substr(0, row.content.size() - 1) + R"(,"previous":")" +
            std::string(64, '0') + R"(","hash":")" + print_hex(row.hash) + R"(","signature":")" +
            print_hex(std::string_view(row.signature)) + "\"}\n";
    const Opened imported = import_text(text, "odd.jsonl", directory_ / "new.job");
    EXPECT_FALSE(imported.journal);
    ASSERT_EQ(imported.faults.size(), 1U) << told(imported.faults);
    EXPECT_EQ(imported.faults[0].line, 2);
    EXPECT_NE(imported.faults[0].what.find("eeeeeeee-"), std::string::npos);
    EXPECT_FALSE(merge_text(*site, text, "odd.jsonl").faults.empty());
  }
}

// What an earlier version let in: verify says what blocks, writing goes on all the same, rescue
// leaves it out and says so.
TEST_F(ImpossibleEntry, ThatIsInTheFileIsNamedByVerifyAndWritingGoesOn) {
  put("site.job", row_with({.lamport = record::kLargestWhole}));
  put("site.job", row_with({.sequence = record::kLargestWhole}, 'a'));
  const auto site = opened(directory_ / "site.job");
  const Verification verification = site->verify();
  EXPECT_FALSE(verification.whole());
  EXPECT_TRUE(has_problem(verification.problems, ProblemKind::impossible, "eeeeeeee-1"))
      << told(verification.problems);
  EXPECT_NE(told(verification.problems).find("9007199254740991"), std::string::npos);
  const auto second = add(*site, 'a', 1, "two");
  const auto third = add(*site, 'b', 2, "three");
  EXPECT_EQ(second.stamp.sequence, 2);
  EXPECT_EQ(second.stamp.lamport, 2);
  EXPECT_EQ(third.stamp.lamport, 3);
  ASSERT_EQ(third.seen.size(), 1U) << "what can not be is not named as seen";
  const Rescued rescued = rescue(directory_ / "site.job", directory_ / "new.job");
  EXPECT_EQ(rescued.entries, 3) << told(rescued.faults);
  EXPECT_NE(told(rescued.lost).find("eeeeeeee-1"), std::string::npos);
  const auto made = opened(directory_ / "new.job");
  EXPECT_TRUE(made->verify().problems.empty()) << told(made->verify().problems);
  EXPECT_EQ(add(*made, 'b', 5, "goes on").stamp.lamport, 4);
}

// A jump that is still possible is kept, and what honest writers add after it stays possible.
TEST_F(ImpossibleEntry, IsNotWhatFollowsALargeNumberThatWasLetIn) {
  put("copy.job", row_with({.lamport = kMostCounted}));
  const auto copy = opened(directory_ / "copy.job");
  EXPECT_EQ(add(*copy, 'b', 3, "after it").stamp.lamport, kMostCounted + 1);
  EXPECT_EQ(add(*copy, 'c', 4, "and after that").stamp.lamport, kMostCounted + 2);
  EXPECT_TRUE(copy->verify().problems.empty()) << told(copy->verify().problems);
  const auto site = opened(directory_ / "site.job");
  const Merged merged = merge(*site, *copy);
  EXPECT_EQ(merged.came, 3) << told(merged.faults);
  EXPECT_EQ(add(*site, 'a', 5, "here too").stamp.lamport, kMostCounted + 3);
}

// A flipped bit in a column is told by verify, and does not send later entries to the end.
TEST_F(ImpossibleEntry, IsNotMadeByAFlippedColumn) {
  const auto site = opened(directory_ / "site.job");
  StoreAccess::store(*site).change(
      [](Database& database) {
        database.run("DROP TRIGGER entries_are_never_changed");
        database.run("UPDATE entries SET lamport = 1152921504606846977");
      },
      {});
  EXPECT_EQ(add(*opened(directory_ / "site.job"), 'a', 1, "two").stamp.lamport, 2);
}

TEST_F(ImpossibleEntry, IsNotRecordedByAClockThatIsNotSet) {
  const auto site = opened(directory_ / "site.job");
  EXPECT_FALSE(
      site->append(device('a'), {note("x")}, {.time_ms = kLastPlausible_ms}).faults.empty());
  EXPECT_TRUE(
      site->append(device('a'), {note("x")}, {.time_ms = kLastPlausible_ms - 1}).faults.empty());
}

}  // namespace
}  // namespace weighwright::journal
