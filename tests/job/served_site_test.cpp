// What is served over a network: the journal stays the one that was begun with, and addresses that
// somebody else named are not connected to.
#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "job/page_site.h"
#include "job/writer_clock.h"

namespace weighwright::job {
namespace {

using Json = nlohmann::json;

std::string example() {
  std::ifstream file(std::string(WEIGHWRIGHT_SOURCE_DIR) + "/examples/three-modules.toml");
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

constexpr std::int64_t kNow_ms = 1'795'996'800'000;  // 2026-11-30
constexpr std::int64_t kYear_ms = 366LL * 86'400'000;

class ServedSite : public ::testing::Test {
 protected:
  void SetUp() override {
    const auto* const info = ::testing::UnitTest::GetInstance()->current_test_info();
    folder_ = std::filesystem::temp_directory_path() /
              (std::string("served_site_") + info->name() + std::to_string(::getpid()));
    std::filesystem::create_directories(folder_);
  }
  void TearDown() override {
    site_.reset();
    std::filesystem::remove_all(folder_);
  }

  static Writer writer(std::int64_t time_ms = kNow_ms) {
    return {.device = "00000000000000a1", .author = "tester", .time_ms = time_ms, .offset_min = 0};
  }
  std::string at(const char* name) { return (folder_ / name).string(); }

  void begin(const char* name, std::int64_t time_ms = kNow_ms) {
    ASSERT_TRUE(job_new({.path = at(name),
                         .deck = InputFile{.name = "deck.toml", .text = example()},
                         .service = false,
                         .remark = {}},
                        writer(time_ms))
                    .view);
  }

  void serve(bool lan) {
    PageSite::Opened opened = PageSite::open({.journal = at("site.job"),
                                              .practice = {},
                                              .live = true,
                                              .device = "00000000000000a1",
                                              .lan = lan},
                                             writer());
    ASSERT_TRUE(opened.site);
    site_ = std::move(opened.site);
  }

  /// A deck that names an instrument where nobody answers (RFC 5737: TEST-NET-1), as a page posts
  /// it.
  Reply post_deck_with_an_instrument() {
    PageEntries entries;
    entries.journal = Json::parse(site_->site().json).at("journal");
    entries.token = "deck-token";
    entries.files = {{"deck.toml", example() +
                                       "\n[[instrument]]\nname = \"indicator\"\nlink = "
                                       "\"weight-tcp\"\nhost = \"192.0.2.77\"\nport = 4001\n"}};
    return site_->record(entries, writer());
  }

  std::string state_of_instrument() {
    const Json live = Json::parse(site_->live());
    return live.at("instruments").empty() ? "" : live.at("instruments")[0].at("state");
  }

  std::filesystem::path folder_;
  std::unique_ptr<PageSite> site_;
};

TEST_F(ServedSite, ConnectsToWhatAPhoneNamedOnlyAfterAYesHere) {
  begin("site.job");
  serve(true);
  const Reply posted = post_deck_with_an_instrument();
  ASSERT_EQ(posted.status, Reply::Status::done) << posted.json;
  EXPECT_EQ(state_of_instrument(), "not_allowed");
  ASSERT_EQ(site_->connect_instruments().status, Reply::Status::done);
  EXPECT_NE(state_of_instrument(), "not_allowed");
  EXPECT_NE(state_of_instrument(), "");
}

TEST_F(ServedSite, ConnectsToWhatWasTypedAtThisMachine) {
  begin("site.job");
  serve(false);
  ASSERT_EQ(post_deck_with_an_instrument().status, Reply::Status::done);
  EXPECT_NE(state_of_instrument(), "not_allowed");
  EXPECT_NE(state_of_instrument(), "");
}

TEST_F(ServedSite, NeitherReadsNorWritesAnotherJournalInItsPlace) {
  begin("site.job");
  begin("other.job", kNow_ms + 1000);
  serve(false);
  const std::string own = Json::parse(site_->site().json).at("journal");
  for (const char* const ending : {"", "-wal", "-shm"}) {
    std::filesystem::remove(at("site.job") + ending);
  }
  std::filesystem::rename(at("other.job"), at("site.job"));
  const Reply look = site_->site();
  EXPECT_EQ(look.status, Reply::Status::refused);
  EXPECT_NE(look.json.find("another journal"), std::string::npos) << look.json;
  EXPECT_EQ(site_->exported().status, Reply::Status::refused);
  PageEntries entries;
  entries.journal = own;
  entries.token = "note-token";
  entries.notes = {"meant for the first one"};
  EXPECT_NE(site_->record(entries, writer()).status, Reply::Status::done);
  const auto other = job_look(at("site.job"), true);
  ASSERT_TRUE(other.view);
  EXPECT_EQ(other.view->entry_count, 2) << "nothing was written to the other one";
}

TEST_F(ServedSite, PhoneThatSentAnEntryStandsBesideIt) {
  begin("site.job");
  serve(true);
  PageEntries entries;
  entries.journal = Json::parse(site_->site().json).at("journal");
  entries.token = "note-token";
  entries.notes = {"box is dry"};
  Writer by = writer();
  by.phone = "R. Example";
  ASSERT_EQ(site_->record(entries, by).status, Reply::Status::done);
  by.phone = "S. Example";  // paired anew meanwhile: the same thing sent again is no other
  ASSERT_EQ(site_->record(entries, by).status, Reply::Status::done);
  const auto seen = job_look(at("site.job"), true);
  ASSERT_TRUE(seen.view);
  EXPECT_EQ(seen.view->entry_count, 3);
  EXPECT_EQ(record::field(seen.view->entries.back().fields, "phone"), "R. Example");
  JobAddRequest forged;
  forged.path = at("site.job");
  forged.entry = record::Draft{
      .kind = "tagged", .fields = {{"by", "X"}, {"phone", "R. Example"}}, .corrects = {}};
  EXPECT_FALSE(job_add(forged, writer()).view) << "nobody can write that himself";
}

TEST_F(ServedSite, ClockThatJumpsYearsIsToldAndAnImpossibleOneRefused) {
  begin("site.job");
  JobAddRequest note;
  note.path = at("site.job");
  note.notes = {"years later, or a battery that is empty"};
  const auto near = job_add(note, writer(kNow_ms + 60'000));
  ASSERT_TRUE(near.view);
  EXPECT_TRUE(near.view->warnings.empty());
  for (const std::int64_t jump : {3 * kYear_ms, -5 * kYear_ms}) {
    const auto told = job_add(note, writer(kNow_ms + jump));
    ASSERT_TRUE(told.view) << "a fact all the same";
    ASSERT_FALSE(told.view->warnings.empty());
    EXPECT_NE(told.view->warnings.front().find("clock"), std::string::npos);
  }
  constexpr std::int64_t kYear22000_ms = 632'000'000'000'000;
  const auto refused = job_add(note, writer(kYear22000_ms));
  EXPECT_FALSE(refused.view);
  ASSERT_FALSE(refused.faults.empty());
  EXPECT_NE(refused.faults.front().what.find("the year 2"), std::string::npos)
      << refused.faults.front().what;
}

}  // namespace
}  // namespace weighwright::job
