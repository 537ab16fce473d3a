// One site as the page sees it: a whole job played by nothing but what the answers ask for, tokens
// that are sent twice, other hands at the same file.
#include "job/page_site.h"

#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <set>
#include <string>
#include <vector>

#include "job/job_case.h"

namespace weighwright::job {
namespace {

using Json = nlohmann::json;

std::string text_of(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

/// A practice job of its own in a directory of its own.
class PageSiteTest : public ::testing::Test {
 protected:
  void SetUp() override {
    const auto* const info = ::testing::UnitTest::GetInstance()->current_test_info();
    directory_ = std::filesystem::temp_directory_path() /
                 (std::string("page_site_") + info->name() + std::to_string(::getpid()));
    std::filesystem::create_directories(directory_);
  }
  void TearDown() override {
    site_.reset();
    std::filesystem::remove_all(directory_);
  }

  static Writer writer() {
    return {.device = "00000000000000a1", .author = "tester", .time_ms = 1, .offset_min = 0};
  }

  std::string journal() { return (directory_ / "site.job").string(); }

  void open(const std::string& example, std::uint64_t seed) {
    const std::string path = std::string(WEIGHWRIGHT_SOURCE_DIR) + "/examples/" + example;
    PageSiteOptions options{
        .journal = journal(),
        .practice = PagePractice{.deck = {.name = example, .text = text_of(path)},
                                 .seed = seed,
                                 .site_file = (directory_ / "site").string()},
        .live = false};
    PageSite::Opened opened = PageSite::open(options, writer());
    ASSERT_TRUE(opened.site) << (opened.faults.empty() ? "" : opened.faults.front().what);
    site_ = std::move(opened.site);
  }

  Json look() {
    const Reply reply = site_->site();
    EXPECT_EQ(reply.status, Reply::Status::done) << reply.json;
    return Json::parse(reply.json);
  }

  Reply practice(const std::vector<std::string>& lines) {
    return site_->practice({.journal = named(), .lines = lines});
  }

  Reply record(PageEntries entries) {
    entries.journal = named();
    return site_->record(entries, writer());
  }

  Reply undo(const std::string& token) {
    return site_->undo({.journal = named(), .token = token, .entry = "", .remark = ""}, writer());
  }

  /// The journal that the site says it has.
  std::string named() { return look().at("journal"); }

  /// What the practice site answers, as tables of which each becomes an entry.
  std::vector<Json> practise(const Json& ask) {
    std::vector<std::string> lines = ask.at("practice");
    if (lines.empty()) return {};
    const Reply reply = practice(lines);
    // What is suspected on a sound site is not there to be mended.
    const bool mend = lines.front().starts_with("mend");
    EXPECT_TRUE(reply.status == Reply::Status::done || mend) << reply.json;
    if (reply.status != Reply::Status::done) return {};
    return Json::parse(reply.json).at("answers").get<std::vector<Json>>();
  }

  /// Does on the practice site what is asked, and records it. False: nothing could be recorded.
  bool answer(const Json& ask) {
    PageEntries entries;
    entries.token = "token-" + std::to_string(++tokens_);
    const std::vector<Json> answers = practise(ask);
    if (ask.at("kind") == "tick") {
      entries.ticks = {ask.at("name")};
      if (ask.at("remark").get<bool>()) entries.remark = "as the cause named it";
    } else if (ask.at("kind") == "entry") {
      record::Draft draft{.kind = ask.at("name"), .fields = {}, .corrects = {}};
      for (const Json& field : ask.at("fields")) {
        if (field.at("given") != "") draft.fields.emplace_back(field.at("name"), field.at("given"));
      }
      if (draft.kind == "occasion") draft.fields.emplace_back("occasion", "new");
      entries.entry = draft;
    } else {
      for (const Json& one : answers) {
        // The zero key is pressed before the zero of a test is read: no line of the test.
        const std::string table = one.at("table");
        if (ask.at("form") == "proof" && !table.starts_with("check")) continue;
        if (!table.empty()) entries.files.push_back({ask.at("name"), table});
      }
      if (entries.files.empty()) return false;
    }
    const Reply reply = record(entries);
    EXPECT_EQ(reply.status, Reply::Status::done) << reply.json << "\nasked: " << ask.dump();
    return reply.status == Reply::Status::done;
  }

  std::string state_of(const Json& site, const std::string& step) {
    for (const Json& one : site.at("steps")) {
      if (one.at("step") == step) return one.at("state");
    }
    return "";
  }

  /// Plays until a step is done. @return how many rounds it took; 0: it did not get there
  int play(int most, const std::string& until = "span") {
    for (int round = 1; round <= most; ++round) {
      const Json site = look();
      const Json& next = site.at("next");
      codes_.insert(next.at("code").get<std::string>());
      if (state_of(site, until) == "done") return round;
      const Json& asks = next.at("asks");
      if (asks.empty()) {
        ADD_FAILURE() << "nothing is asked: " << next.dump(1);
        return 0;
      }
      bool any = false;
      if (next.at("code") == "conditions") {
        for (const Json& ask : asks) any |= answer(ask);
      } else {
        // No screw is left: the difference is accepted, with its reason. Everything was looked for
        // and not found: that is said, and the job goes on.
        const std::string code = next.at("code");
        any = answer(code == "no_move" || code == "mended" ? asks.back() : asks.front());
      }
      if (!any) {
        ADD_FAILURE() << "nothing could be recorded: " << next.dump(1);
        return 0;
      }
    }
    return 0;
  }

  std::filesystem::path directory_;
  std::unique_ptr<PageSite> site_;
  int tokens_ = 1000'0000;
  std::set<std::string> codes_;
};

TEST_F(PageSiteTest, AWholeJobIsPlayedByWhatIsAskedAlone) {
  open("three-modules.toml", 7);
  const int rounds = play(80);
  EXPECT_GT(rounds, 0);
  EXPECT_GT(play(60, "prove"), 0) << look().at("test").dump(1);
  EXPECT_EQ(look().at("test").at("outcome"), "pass");
  EXPECT_GT(play(3, "report"), 0);
  for (const char* const kind : {"report", "sheet", "csv", "chart", "plan"}) {
    const Reply paper = site_->paper(kind, writer());
    EXPECT_EQ(paper.status, Reply::Status::done) << kind << paper.json.substr(0, 300);
    EXPECT_GT(paper.json.size(), 500U) << kind;
  }
  EXPECT_EQ(site_->paper("photo", writer()).status, Reply::Status::not_there);
  for (const char* const code :
       {"occasion", "weights", "test", "tick", "conditions", "no_load", "map", "read_cells",
        "move_stands", "clearance", "release", "read_corners", "more_places", "loads"}) {
    EXPECT_TRUE(codes_.contains(code)) << code;
  }
  const JobAnswer<report::VerifyView> verified = job_verify(journal(), {}, {});
  ASSERT_TRUE(verified.view);
  EXPECT_TRUE(verified.view->whole);
}

// Time is played on a practice site: three days of grout go by at a word.
TEST_F(PageSiteTest, OnAPracticeSiteAReleaseIsNotComparedWithTheClockAndThatIsSaid) {
  open("three-modules.toml", 7);
  PageEntries grout;
  grout.token = "grout-token";
  grout.ticks = {"grouted"};
  ASSERT_EQ(record(grout).status, Reply::Status::done);
  PageEntries release;
  release.token = "release-token";
  release.entry = record::Draft{.kind = "release",
                                .fields = {{"by", "practice"},
                                           {"foundation", "grouted"},
                                           {"grounds", "maker_time"},
                                           {"time", "72 h"},
                                           {"temperature", "15 degC"}},
                                .corrects = {}};
  const Reply reply = record(release);
  EXPECT_EQ(reply.status, Reply::Status::done) << reply.json;
  EXPECT_NE(reply.json.find("not compared with the clock"), std::string::npos) << reply.json;
}

TEST_F(PageSiteTest, AHandOverWithSomethingOpenIsRefusedWithoutAWordOfIt) {
  open("three-modules.toml", 7);
  PageEntries entries;
  entries.token = "hand-over-1";
  entries.ticks = {"handed_over"};
  const Reply silent = record(entries);
  EXPECT_EQ(silent.status, Reply::Status::refused);
  EXPECT_NE(silent.json.find("Corner adjustment"), std::string::npos) << silent.json;
  entries.remark = "practised as far as the corners";
  EXPECT_EQ(record(entries).status, Reply::Status::done);
  EXPECT_EQ(record(entries).status, Reply::Status::done) << "sent twice";
}

// The first rounds only: the looks that this long deck asks for take minutes.
TEST_F(PageSiteTest, ADeckInPoundsToo) {
  open("five-modules-us.toml", 3);
  EXPECT_EQ(play(13), 0) << "so soon?";
  EXPECT_TRUE(codes_.contains("move_stands"));
  EXPECT_GT(look().at("entry_count").get<int>(), 13);
  ASSERT_EQ(practice({"grout"}).status, Reply::Status::done);
  const Json corners = Json::parse(practice({"corners 20000 lb fine"}).json);
  PageEntries entries;
  entries.token = "corners-in-pounds";
  entries.ticks = {"grouted", "cured"};
  entries.files = {{"corners.csv", corners.at("answers")[0].at("table")}};
  EXPECT_NE(entries.files.front().text.find("load_lb"), std::string::npos);
  EXPECT_EQ(record(entries).status, Reply::Status::done);
}

TEST_F(PageSiteTest, DigitalCellsToo) {
  open("digital.toml", 5);
  EXPECT_GT(play(80), 0);
}

TEST_F(PageSiteTest, WhatIsSentTwiceIsRecordedOnce) {
  open("three-modules.toml", 1);
  PageEntries entries;
  entries.token = "4b0c8f0e-7d1b";
  entries.ticks = {"locked_out"};
  const Reply first = record(entries);
  ASSERT_EQ(first.status, Reply::Status::done) << first.json;
  const Json before = look();
  const Reply again = record(entries);
  ASSERT_EQ(again.status, Reply::Status::done) << again.json;
  EXPECT_EQ(look().at("entry_count"), before.at("entry_count"));
  EXPECT_EQ(Json::parse(first.json).at("recorded").at("recorded"),
            Json::parse(again.json).at("recorded").at("recorded"));

  entries.ticks = {"received"};
  const Reply other = record(entries);
  EXPECT_EQ(other.status, Reply::Status::refused);
  EXPECT_NE(other.json.find("token"), std::string::npos);
  EXPECT_EQ(look().at("entry_count"), before.at("entry_count"));
}

TEST_F(PageSiteTest, ACorrectionSentAgainIsThatOfTheSameEntryOnly) {
  open("three-modules.toml", 1);
  for (const char* const text : {"first", "second"}) {
    PageEntries note;
    note.token = std::string("note-token-") + text;
    note.notes = {text};
    ASSERT_EQ(record(note).status, Reply::Status::done);
  }
  PageEntries correction;
  correction.token = "correction-1";
  correction.notes = {"as it was"};
  correction.corrects = "3";
  ASSERT_EQ(record(correction).status, Reply::Status::done);
  EXPECT_EQ(record(correction).status, Reply::Status::done);
  correction.corrects = "4";
  EXPECT_EQ(record(correction).status, Reply::Status::refused);
}

TEST_F(PageSiteTest, WhatIsSentAgainAfterTheDeckWasDescribedAnewIsStillKnown) {
  open("three-modules.toml", 1);
  PageEntries turns;
  turns.token = "turns-of-4R";
  turns.files = {{"turns.csv", "stand,turns\n4R,0.5\n"}};
  ASSERT_EQ(record(turns).status, Reply::Status::done);
  PageEntries deck;
  deck.token = "another-deck";
  deck.files = {{"one.toml", text_of(WEIGHWRIGHT_SOURCE_DIR "/examples/one-module.toml")}};
  ASSERT_EQ(record(deck).status, Reply::Status::done);
  const Json before = look();
  const Reply again = record(turns);
  EXPECT_EQ(again.status, Reply::Status::done) << again.json;
  EXPECT_EQ(look().at("entry_count"), before.at("entry_count"));
}

TEST_F(PageSiteTest, ASlipOfTheFingerIsToldBeforeItIsRecorded) {
  open("three-modules.toml", 1);
  const Json before = look();
  int token = 0;
  // Travel of this deck's screws: 35 mm in all; cells of 2 mV/V at 10 V.
  for (const char* const table : {"stand,turns\n2R,275\n", "stand,zero_mV\n3L,9999\n"}) {
    PageEntries entries;
    entries.token = "slip-token-" + std::to_string(++token);
    entries.files = {{"slip.csv", table}};
    const Reply reply = record(entries);
    EXPECT_EQ(reply.status, Reply::Status::refused) << table;
    EXPECT_NE(reply.json.find("\"line\": 2"), std::string::npos) << reply.json;
  }
  EXPECT_EQ(look().at("entry_count"), before.at("entry_count"));
}

// Max 60 t, e = 20 kg: by R 76-1:2006, 4.2.3 (from memory, unverified) nothing above 60,180 kg is
// shown. Cells of 2 mV/V at 10 V give 20 mV at capacity. A faulty scale does show such things.
TEST_F(PageSiteTest, WhatCanHardlyBeIsAskedForAgainAndKeptWhenItIsConfirmed) {
  open("three-modules.toml", 1);
  std::string cells = Json::parse(practice({"cells"}).json).at("answers")[0].at("table");
  const std::size_t value = cells.find("1L,") + 3;
  cells.replace(value, cells.find_first_of(",\n", value) - value, "500");
  const std::vector<std::pair<std::string, std::string>> tables = {
      {"at,load_kg,indication_kg\n2L,20000,123400\n", "no load on this deck explains"},
      {"at,load_kg,indication_kg,zero_before,zero_after\n2L,20000,20000,0,-61000\n",
       "no load on this deck explains"},
      {cells, "1L: 500 mV is more than a cell gives"},
      {"stand,turns\n2R,275\n", "turns are"}};
  int token = 0;
  for (const auto& [table, says] : tables) {
    const Json before = look();
    PageEntries entries;
    entries.token = "unlikely-" + std::to_string(++token);
    entries.files = {{"unlikely.csv", table}};
    const Reply asked = record(entries);
    EXPECT_EQ(asked.status, Reply::Status::refused) << table;
    EXPECT_NE(asked.json.find(says), std::string::npos) << asked.json;
    EXPECT_EQ(Json::parse(asked.json).value("confirm", false), true) << asked.json;
    EXPECT_EQ(look().at("entry_count"), before.at("entry_count"));

    entries.token = "confirmed-" + std::to_string(token);
    entries.confirmed = true;
    const Reply kept = record(entries);
    EXPECT_EQ(kept.status, Reply::Status::done) << kept.json;
    EXPECT_EQ(record(entries).status, Reply::Status::done) << "sent again";
    EXPECT_EQ(look().at("entry_count"), before.at("entry_count").get<int>() + 1);
    const Json fields = Json::parse(site_->entries().json).at("entries").back().at("fields");
    EXPECT_NE(std::find(fields.begin(), fields.end(), Json::array({"confirmed", "yes"})),
              fields.end())
        << fields.dump();
  }
}

TEST_F(PageSiteTest, WhatIsWrongAltogetherIsNotRecordedByConfirmingIt) {
  open("three-modules.toml", 1);
  PageEntries entries;
  entries.token = "wrong-altogether";
  entries.files = {{"slip.csv", "stand,turns\n2R,275\n9Z,1\n"}};
  entries.confirmed = true;
  const Reply reply = record(entries);
  EXPECT_EQ(reply.status, Reply::Status::refused);
  EXPECT_FALSE(Json::parse(reply.json).contains("confirm")) << reply.json;
}

// Forms filled in while the connection was gone arrive as they were sent.
TEST_F(PageSiteTest, GapsThatArriveBeforeTheReadingOfTheirStateDoNotStopTheJob) {
  open("three-modules.toml", 7);
  JobAddRequest add;
  add.path = journal();
  add.ticks = {"locked_out", "received", "set_down", "wired"};
  add.files = {{"map.csv", Json::parse(practice({"map"}).json).at("answers")[0].at("table")},
               {"cells.csv", Json::parse(practice({"cells"}).json).at("answers")[0].at("table")},
               {"turns.csv", "stand,turns\n2R,1\n"},
               {"gaps.csv", "support,gap_mm\nbearing1L,1.5\n"}};
  ASSERT_TRUE(job_add(add, writer()).view);
  EXPECT_EQ(look().at("next").at("code"), "read_cells");
  JobAddRequest read;
  read.path = journal();
  read.ticks = {"panels_on",      "rods_slack", "nothing_touches",
                "nobody_on_deck", "warm",       "same_meter"};
  read.files = {{"cells.csv", Json::parse(practice({"cells"}).json).at("answers")[0].at("table")}};
  ASSERT_TRUE(job_add(read, writer()).view);
  const std::string code = look().at("next").at("code");
  EXPECT_NE(code, "read_cells");
  EXPECT_TRUE(look().at("unreadable").empty());
}

TEST_F(PageSiteTest, InventedReadingsGoIntoNoRealJournal) {
  JobNewRequest real;
  real.path = journal();
  real.deck = InputFile{"d.toml", text_of(WEIGHWRIGHT_SOURCE_DIR "/examples/three-modules.toml")};
  ASSERT_TRUE(job_new(real, writer()).view);
  const PageSite::Opened opened =
      PageSite::open({.journal = journal(),
                      .practice = PagePractice{.deck = *real.deck, .seed = 1, .site_file = {}},
                      .live = false},
                     writer());
  EXPECT_FALSE(opened.site);
  ASSERT_EQ(opened.faults.size(), 1U);
  EXPECT_NE(opened.faults.front().what.find("practice"), std::string::npos);
}

TEST_F(PageSiteTest, AnUndoThatIsSentTwiceTakesBackOneEntry) {
  open("three-modules.toml", 1);
  for (const char* const tick : {"locked_out", "received"}) {
    PageEntries entries;
    entries.token = std::string("token-of-") + tick;
    std::replace(entries.token.begin(), entries.token.end(), '_', '-');
    entries.ticks = {tick};
    ASSERT_EQ(record(entries).status, Reply::Status::done);
  }
  ASSERT_EQ(undo("undo-token-1").status, Reply::Status::done);
  ASSERT_EQ(undo("undo-token-1").status, Reply::Status::done);
  std::set<std::string> on;
  const Json site = look();
  for (const Json& tick : site.at("ticks")) {
    if (tick.at("on").get<bool>()) on.insert(tick.at("name").get<std::string>());
  }
  EXPECT_EQ(on, std::set<std::string>{"locked_out"});
}

// All sites are called site.job, and are served from one port one after the other.
TEST_F(PageSiteTest, NothingThatWasTypedForAnotherJournalIsRecordedOrDone) {
  open("three-modules.toml", 1);
  const std::string practised = named();
  site_.reset();
  std::filesystem::remove(journal());
  Writer later = writer();
  later.time_ms = 2;
  JobNewRequest real;
  real.path = journal();
  real.deck = InputFile{"d.toml", text_of(WEIGHWRIGHT_SOURCE_DIR "/examples/three-modules.toml")};
  ASSERT_TRUE(job_new(real, later).view);
  PageSite::Opened opened =
      PageSite::open({.journal = journal(), .practice = {}, .live = false}, later);
  ASSERT_TRUE(opened.site);
  site_ = std::move(opened.site);
  const Json before = look();
  ASSERT_NE(before.at("journal"), practised);

  for (const std::string& other : {practised, std::string()}) {
    PageEntries entries;
    entries.token = "typed-in-practice";
    entries.notes = {"invented"};
    entries.journal = other;
    const Reply recorded = site_->record(entries, writer());
    EXPECT_EQ(recorded.status, Reply::Status::elsewhere) << recorded.json;
    EXPECT_NE(recorded.json.find("nothing was recorded"), std::string::npos) << recorded.json;
    const Reply undone = site_->undo(
        {.journal = other, .token = "undo-in-practice", .entry = "", .remark = ""}, writer());
    EXPECT_EQ(undone.status, Reply::Status::elsewhere) << undone.json;
  }
  EXPECT_EQ(look().at("revision"), before.at("revision"));
  PageEntries own;
  own.token = "typed-in-practice";
  own.notes = {"measured"};
  EXPECT_EQ(record(own).status, Reply::Status::done);
}

TEST_F(PageSiteTest, APracticeSiteObeysNobodyWhoMeansAnother) {
  open("three-modules.toml", 1);
  const std::string kept = text_of((directory_ / "site").string());
  const Reply reply = site_->practice({.journal = std::string(64, '7'), .lines = {"turn 2R 1"}});
  EXPECT_EQ(reply.status, Reply::Status::elsewhere);
  EXPECT_EQ(text_of((directory_ / "site").string()), kept);
}

TEST_F(PageSiteTest, AJournalIsNamedAlikeInEverySentAnswer) {
  open("three-modules.toml", 1);
  const std::string name = named();
  EXPECT_EQ(name.size(), 64U);
  EXPECT_EQ(Json::parse(site_->entries().json).at("journal"), name);
  EXPECT_EQ(Json::parse(site_->live()).at("journal"), name);
  EXPECT_EQ(Json::parse(site_->entries().json).at("entries")[0].at("hash"), name);
}

TEST_F(PageSiteTest, AnotherHandAtTheSameFileIsSeen) {
  open("three-modules.toml", 1);
  const std::string before = site_->revision();
  JobAddRequest add;
  add.path = journal();
  add.notes = {"written by another program"};
  ASSERT_TRUE(job_add(add, writer()).view);
  EXPECT_NE(site_->revision(), before);
  EXPECT_NE(site_->entries().json.find("written by another program"), std::string::npos);
}

TEST_F(PageSiteTest, LinesOfThePracticeSiteAreDoneAllOrNone) {
  open("three-modules.toml", 1);
  const std::string kept = text_of((directory_ / "site").string());
  const Reply reply = practice({"turn 2R 1", "turn 9R 1"});
  EXPECT_EQ(reply.status, Reply::Status::refused);
  EXPECT_NE(reply.json.find("9R"), std::string::npos);
  EXPECT_EQ(text_of((directory_ / "site").string()), kept);
}

TEST_F(PageSiteTest, ALoadStaysOnlyOnADeckThatIsFixed) {
  open("three-modules.toml", 1);
  EXPECT_EQ(practice({"stay 2L 10 t"}).status, Reply::Status::refused);
  EXPECT_EQ(practice({"grout", "stay 2L 10 t"}).status, Reply::Status::done);
}

TEST_F(PageSiteTest, AnswersMakeADeckOrSayWhichToGiveAnew) {
  open("three-modules.toml", 1);
  const Json questions = Json::parse(site_->questions().json).at("questions");
  ASSERT_EQ(questions.size(), 8U);
  std::vector<std::string> answers;
  for (const Json& question : questions) {
    const std::string preset = question.at("default");
    answers.push_back(preset.empty() ? question.at("example").get<std::string>() : preset);
  }
  const Reply drafted = site_->draft_deck("Lane 2", answers);
  ASSERT_EQ(drafted.status, Reply::Status::done) << drafted.json;
  EXPECT_NE(Json::parse(drafted.json).at("text").get<std::string>().find("format = 1"),
            std::string::npos);
  answers[1] = "sixty";
  const Reply refused = site_->draft_deck("Lane 2", answers);
  ASSERT_EQ(refused.status, Reply::Status::refused);
  EXPECT_EQ(Json::parse(refused.json).at("question"), 2);
}

}  // namespace
}  // namespace weighwright::job
