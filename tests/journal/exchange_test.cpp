#include "journal/exchange.h"

#include <gtest/gtest.h>

#include <cstdlib>

#include "journal/fixture.h"

// outside check: base64 of attachments | RFC 4648 section 10

namespace weighwright::journal {
namespace {

using testing::add;
using testing::Directory;
using testing::hashes_of;

class Exchange : public ::testing::Test {
 protected:
  Exchange() : journal_(testing::created(directory_ / "site.job")) {
    add(*journal_, 'a', 0, "one \"quoted\" \\ line\nand \xC2\xB5V \x01");
    add(*journal_, 'b', 1, "two");
    add(*journal_, 'a', 2, std::string(8'000, 'x'));
    (void)journal_->attach(std::string("bytes\0of a photo", 16));
    (void)journal_->attach("");
  }

  std::string exported() {
    std::string text;
    last_ = export_text(*journal_, [&](std::string_view piece) { text += piece; });
    return text;
  }

  Directory directory_{testing::fast_place()};
  std::unique_ptr<Journal> journal_;
  Exported last_;
};

TEST_F(Exchange, GivesTheSameHashesBack) {
  const std::string text = exported();
  EXPECT_EQ(last_.entries, 3);
  EXPECT_EQ(last_.attachments, 2);
  EXPECT_EQ(last_.heads, journal_->heads());
  const Opened imported = import_text(text, "export.jsonl", directory_ / "new.job");
  ASSERT_TRUE(imported.journal) << testing::told(imported.faults);
  EXPECT_EQ(hashes_of(*imported.journal), hashes_of(*journal_));
  EXPECT_EQ(imported.journal->heads(), journal_->heads());
  EXPECT_EQ(imported.journal->attachments(), journal_->attachments());
  for (const std::string& hash : journal_->attachments()) {
    EXPECT_EQ(imported.journal->attachment(hash), journal_->attachment(hash));
  }
  EXPECT_TRUE(imported.journal->verify().problems.empty());
  std::string again;
  (void)export_text(*imported.journal, [&](std::string_view piece) { again += piece; });
  EXPECT_EQ(again, text);
}

TEST_F(Exchange, GoesThroughAFile) {
  const Exported written = export_file(*journal_, directory_ / "export.jsonl");
  EXPECT_TRUE(written.faults.empty()) << testing::told(written.faults);
  EXPECT_EQ(testing::read_all(directory_ / "export.jsonl"), exported());
  EXPECT_FALSE(export_file(*journal_, directory_ / "export.jsonl").faults.empty());
  const Opened imported = import_file(directory_ / "export.jsonl", directory_ / "new.job");
  ASSERT_TRUE(imported.journal);
  EXPECT_FALSE(import_file(directory_ / "export.jsonl", directory_ / "new.job").journal);
  EXPECT_FALSE(import_file(directory_ / "absent", directory_ / "newer.job").journal);
}

TEST_F(Exchange, IntoAJournalIsAMerge) {
  const std::string text = exported();
  add(*journal_, 'c', 5, "later");
  EXPECT_EQ(merge_text(*journal_, text, "e").came, 0);
  const auto other = testing::created(directory_ / "other.job");
  const Merged merged = merge_text(*other, text, "e");
  EXPECT_EQ(merged.came, 3);
  EXPECT_EQ(merged.attachments, 2);
}

// The hashes as a general program makes them: Python's hashlib, by the recipe of the documentation
// (docs/theory/journal.md).
TEST_F(Exchange, IsVerifiedByPython) {
  ASSERT_TRUE(export_file(*journal_, directory_ / "export.jsonl").faults.empty());
  const std::string command = std::string(WEIGHWRIGHT_PYTHON) + " -B " + WEIGHWRIGHT_SOURCE_DIR +
                              "/tests/journal/verify_export.py " + (directory_ / "export.jsonl");
  EXPECT_EQ(std::system(command.c_str()), 0);
  std::string text = exported();
  text.replace(text.find("two"), 3, "TWO");
  testing::write_all(directory_ / "changed.jsonl", text);
  const std::string changed = std::string(WEIGHWRIGHT_PYTHON) + " -B " + WEIGHWRIGHT_SOURCE_DIR +
                              "/tests/journal/verify_export.py " + (directory_ / "changed.jsonl") +
                              " 2>/dev/null";
  EXPECT_NE(std::system(changed.c_str()), 0);
}

/// An export with one line changed, and what is to be said of it.
struct Broken {
  const char* name;
  int line;
  std::string from;
  std::string to;
  std::string says;
};

class BrokenExport : public Exchange, public ::testing::WithParamInterface<Broken> {};

TEST_P(BrokenExport, IsNamedByLineAndNothingIsImported) {
  const Broken& broken = GetParam();
  std::string text = exported();
  std::size_t start = 0;
  for (int i = 1; i < broken.line; ++i) start = text.find('\n', start) + 1;
  const std::size_t at = broken.from.empty() ? start : text.find(broken.from, start);
  ASSERT_NE(at, std::string::npos);
  text.replace(at, broken.from.size(), broken.to);
  const Opened imported = import_text(text, "export.jsonl", directory_ / "new.job");
  EXPECT_FALSE(imported.journal);
  ASSERT_FALSE(imported.faults.empty());
  EXPECT_EQ(imported.faults[0].line, broken.line) << testing::told(imported.faults);
  EXPECT_EQ(imported.faults[0].file, "export.jsonl");
  EXPECT_NE(testing::told(imported.faults).find(broken.says), std::string::npos)
      << testing::told(imported.faults);
  EXPECT_FALSE(std::filesystem::exists(directory_ / "new.job"));
  const auto before = hashes_of(*journal_);
  EXPECT_FALSE(merge_text(*journal_, text, "export.jsonl").faults.empty());
  EXPECT_EQ(hashes_of(*journal_), before);
}

INSTANTIATE_TEST_SUITE_P(
    EveryKind,
    BrokenExport,
    ::testing::Values(
        Broken{"changed", 3, "two", "TWO", "entry bbbbbbbb-1 was changed"},
        Broken{"previous", 4, R"("previous":")", R"("previous":"0)", "cut or changed"},
        Broken{"cut", 4, "xxxxx", "\n", "cut or changed"},
        Broken{"no_json", 2, R"({"format":2,)", R"({"format":,)", "can not be read"},
        Broken{"no_text", 2, "quoted", "qu\xFFted", "UTF-8"},
        Broken{"later", 2, R"({"format":2,)", R"({"format":3,)", "format is 3"},
        Broken{"empty_line", 2, "", "\n", "empty"},
        Broken{"attachment", 5, R"("base64":")", R"("base64":"AAAA)", "attachment"},
        Broken{"base64", 5, R"("base64":")", R"("base64":"*)", "attachment"},
        Broken{"header", 1, R"("weighwright_journal":2)", R"("weighwright_journal":3)", "format"},
        Broken{"signature", 3, R"("signature":")", R"("signature":"0)", "cut or changed"},
        Broken{"count", 1, R"("entries":3)", R"("entries":4)", "says 4 entries and holds 3"},
        Broken{"photos", 1, R"("attachments":2)", R"("attachments":3)", "says 3 attachments"},
        Broken{"heads", 1, R"("sequence":2)", R"("sequence":1)", "heads"},
        Broken{"nothing", 1, R"({)", "", "does not begin"}),
    [](const auto& one) { return std::string(one.param.name); });

TEST_F(Exchange, OfALineThatIsMissingIsNoticed) {
  std::string text = exported();
  const std::size_t second = text.find('\n') + 1;
  text.erase(second, text.find('\n', second) + 1 - second);
  EXPECT_FALSE(faults_of_export(text, "e").empty());
  EXPECT_FALSE(faults_of_export("", "e").empty());
}

TEST_F(Exchange, TellsAllFaultsAtOnce) {
  std::string text = exported();
  text.replace(text.find("two"), 3, "TWO");
  text.replace(text.find("xxx"), 3, "yyy");
  EXPECT_EQ(faults_of_export(text, "e").size(), 2U);
}

}  // namespace
}  // namespace weighwright::journal
