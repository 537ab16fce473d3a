// What comes from outside: copies that were worked on apart, exports, restored backups.
#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include "job/job_case.h"
#include "journal/journal.h"

namespace weighwright::job {
namespace {

namespace fs = std::filesystem;

std::string told(const units::Diagnostics& faults) {
  std::string all;
  for (const units::Diagnostic& one : faults) all += units::print(one) + "\n";
  return all;
}

class Merged : public ::testing::Test {
 protected:
  void SetUp() override {
    const auto* const info = ::testing::UnitTest::GetInstance()->current_test_info();
    directory_ = fs::temp_directory_path() /
                 (std::string("merged_") + info->name() + std::to_string(::getpid()));
    fs::create_directories(directory_);
  }
  void TearDown() override { fs::remove_all(directory_); }

  std::string at(const std::string& name) { return (directory_ / name).string(); }

  static Writer writer(char digit) {
    return {.device = std::string(16, digit),
            .author = "tester",
            .time_ms = 1'790'000'000'000,
            .offset_min = 60};
  }

  static std::string example(const std::string& name) {
    std::ifstream file(std::string(WEIGHWRIGHT_SOURCE_DIR) + "/examples/" + name);
    return {std::istreambuf_iterator<char>(file), {}};
  }

  /// A journal with a deck, and a copy of it.
  void begin() {
    const JobNewRequest request{
        .path = at("site.job"),
        .deck = InputFile{.name = "deck.toml", .text = example("three-modules.toml")},
        .service = false,
        .remark = {}};
    const auto made = job_new(request, writer('a'));
    ASSERT_TRUE(made.view) << told(made.faults);
    ASSERT_TRUE(job_backup(at("site.job"), at("copy.job")).view);
  }

  /// Records what `job add` would refuse.
  void append(const std::string& path, const record::Draft& draft) {
    const journal::Opened opened = journal::Journal::open(path, journal::Access::write);
    ASSERT_TRUE(opened.journal) << told(opened.faults);
    const auto done = opened.journal->append({.device = std::string(16, 'b'), .author = "other"},
                                             {draft}, {.time_ms = 1'790'000'100'000});
    ASSERT_EQ(done.entries.size(), 1U) << told(done.faults);
  }

  fs::path directory_;
};

// 40 kB that ended the program, merged in: the journal stays usable, and everybody is told.
TEST_F(Merged, DeckThatNobodyCanReadComesInAndIsToldAndTheOneBeforeItHolds) {
  begin();
  std::string deep = "format = 1\n";
  for (int i = 0; i < 20'000; ++i) deep += "a.";
  append(at("copy.job"), {.kind = "deck",
                          .fields = {{"file", "deep.toml"}, {"text", deep + "a = 1\n"}},
                          .corrects = {}});
  const auto merged = job_merge(at("site.job"), at("copy.job"));
  ASSERT_TRUE(merged.view) << told(merged.faults);
  std::string warnings;
  for (const std::string& one : merged.view->warnings) warnings += one + "\n";
  EXPECT_NE(warnings.find("deep.toml"), std::string::npos) << warnings;
  const auto look = job_look(at("site.job"), true);
  ASSERT_TRUE(look.view) << told(look.faults);
  EXPECT_EQ(look.view->entry_count, 3);
  EXPECT_FALSE(look.view->deck_name.empty());
  ASSERT_EQ(look.view->unreadable.size(), 1U);
  EXPECT_NE(look.view->unreadable.front().what.find("parts"), std::string::npos);
  JobAddRequest request;
  request.path = at("site.job");
  request.notes = {"work goes on"};
  EXPECT_TRUE(job_add(request, writer('a')).view);
}

TEST_F(Merged, RulebookThatNobodyCanReadComesInAndIsTold) {
  begin();
  std::string deep = "format = 1\n";
  for (int i = 0; i < 20'000; ++i) deep += "a.";
  append(at("copy.job"), {.kind = "rulebook",
                          .fields = {{"file", "deep.toml"}, {"text", deep + "a = 1\n"}},
                          .corrects = {}});
  const auto merged = job_merge(at("site.job"), at("copy.job"));
  ASSERT_TRUE(merged.view) << told(merged.faults);
  const auto look = job_look(at("site.job"), true);
  ASSERT_TRUE(look.view) << told(look.faults);
  EXPECT_FALSE(look.view->next.headline.empty());
}

}  // namespace
}  // namespace weighwright::job
