#include <gtest/gtest.h>

#include <string>

#include "web/read_body.h"

namespace weighwright::web {
namespace {

using std::string;

const string kJournal = "\"journal\":\"" + string(64, '7') + "\"";
const string kToken = kJournal + R"(,"token":"4b0c8f0e-7d1b-4a54-9a51-0f2f3f6f6a55")";

/// All faults of a record as one text; "" when there are none.
string faults(const string& body) {
  string all;
  for (const auto& fault : read_record(body).faults) all += units::print(fault) + "\n";
  return all;
}

bool says(const string& body, const string& part) {
  const string all = faults(body);
  return all.find(part) != string::npos || (ADD_FAILURE() << all, false);
}

// The example of docs/page-api.md, the contract.
TEST(RecordBody, TakesTheWholeOfTheContract) {
  const auto body = read_record("{" + kToken + R"(,
 "author":"T. Brook","typed_at":"2026-11-25T18:04:11+01:00",
 "tables":[{"name":"cells.csv","text":"stand,mV\n1L,1.09\n"}],
 "ticks":["rods_slack"],"unticks":[],"notes":["n"],
 "entry":{"kind":"setting","fields":{"name":"span","value":"1.0023","when":"left"}},
 "photos":[{"name":"plate-2L.jpg","base64":"Zm9vYmFy"}],
 "corrects":"","remark":""})");
  ASSERT_TRUE(body.value);
  const job::PageEntries& entries = body.value->entries;
  EXPECT_EQ(body.value->author, "T. Brook");
  EXPECT_EQ(entries.journal, string(64, '7'));
  EXPECT_EQ(entries.token, "4b0c8f0e-7d1b-4a54-9a51-0f2f3f6f6a55");
  EXPECT_EQ(entries.typed_at, "2026-11-25T18:04:11+01:00");
  ASSERT_EQ(entries.files.size(), 1U);
  EXPECT_EQ(entries.files[0].text, "stand,mV\n1L,1.09\n");
  EXPECT_EQ(entries.ticks, std::vector<string>{"rods_slack"});
  ASSERT_TRUE(entries.entry);
  EXPECT_EQ(entries.entry->kind, "setting");
  EXPECT_EQ(entries.entry->fields[1], (std::pair<string, string>{"value", "1.0023"}));
  // RFC 4648, 10: BASE64("foobar") = "Zm9vYmFy".
  EXPECT_EQ(entries.photos[0].text, "foobar");
}

// As much as a body may hold (kLargestBody_bytes), all of it brackets.
TEST(RecordBody, OfNothingButBracketsIsToldAndEndsNothing) {
  EXPECT_TRUE(says(string(4 * 1024 * 1024, '['), "too deep"));
  EXPECT_TRUE(says("{" + kToken + R"(,"ticks":)" + string(4'000'000, '[') + "}", "too deep"));
  string objects;
  for (int i = 0; i < 500'000; ++i) objects += R"({"a":)";
  EXPECT_TRUE(says(objects, "too deep"));
}

TEST(RecordBody, NeedsAJournalATokenAndNothingElse) {
  EXPECT_TRUE(read_record("{" + kToken + "}").value);
  EXPECT_TRUE(says("{}", "token is missing"));
  for (const char* const token :
       {"short", "with blank in it", "a/../../etc", "\\u00e4bcdefgh", ""}) {
    EXPECT_TRUE(says("{" + kJournal + R"(,"token":")" + string(token) + "\"}", "token is "))
        << token;
  }
  EXPECT_TRUE(says("{" + kJournal + R"(,"token":")" + string(65, 'a') + "\"}", "token is "));
  EXPECT_TRUE(read_record("{" + kJournal + R"(,"token":")" + string(64, 'a') + "\"}").value);
}

// A page of the version before sends no journal: what it kept could belong to any site.
TEST(EveryBodyThatChangesSomething, NamesTheJournalThatItIsFor) {
  const string token = R"("token":"abcdefgh")";
  EXPECT_TRUE(says("{" + token + "}", "journal is missing"));
  EXPECT_FALSE(read_undo("{" + token + R"(,"entry":"7"})").value);
  EXPECT_FALSE(read_practice(R"({"lines":["cells"]})").value);
  for (const string& journal : {string("site.job"), string(63, 'a'), string(64, 'A'), string()}) {
    const string named = R"({"journal":")" + journal + "\",";
    EXPECT_TRUE(says(named + token + "}", "journal is ")) << journal;
    EXPECT_FALSE(read_undo(named + token + "}").value) << journal;
    EXPECT_FALSE(read_practice(named + R"("lines":[]})").value) << journal;
  }
}

TEST(RecordBody, NamesEveryFieldThatIsWrongAtOnce) {
  const string body = R"({"token":7,"author":[],"ticks":"cured","notes":[1,null],
    "tables":[{"name":"a.csv","text":5},{"nam":"b"},3],"entry":{"kind":2,"fields":{"x":1.5}},"odd":1})";
  for (const char* const part :
       {"token is a number", "author is a list", "ticks is text", "notes[0] is a number",
        "notes[1] is null", "tables[0].text is a number", "no field \"nam\" in tables[1]",
        "tables[1].name is missing", "tables[2] is a number", "entry.kind is a number",
        "entry.fields.\"x\" is a number", "no field \"odd\""}) {
    EXPECT_TRUE(says(body, part)) << part;
  }
}

TEST(RecordBody, TakesPlainFileNamesOnly) {
  for (const char* const name : {"../../x.csv", "/etc/x", "a\\\\b", "a\\nb"}) {
    EXPECT_TRUE(says("{" + kToken + R"(,"tables":[{"name":")" + name + R"(","text":""}]})",
                     "tables[0].name is "))
        << name;
  }
}

TEST(RecordBody, IsConfirmedByTrueAlone) {
  EXPECT_FALSE(read_record("{" + kToken + "}").value->entries.confirmed);
  EXPECT_TRUE(read_record("{" + kToken + R"(,"confirmed":true})").value->entries.confirmed);
  EXPECT_FALSE(read_record("{" + kToken + R"(,"confirmed":false})").value->entries.confirmed);
  EXPECT_TRUE(says("{" + kToken + R"(,"confirmed":"yes"})", "confirmed is text"));
}

// RFC 3339, 5.6 and its examples in 5.8.
TEST(RecordBody, ReadsTimesOfRfc3339) {
  const auto with = [](const string& time) {
    return read_record("{" + kToken + R"(,"typed_at":")" + time + "\"}").value.has_value();
  };
  EXPECT_TRUE(with("1985-04-12T23:20:50.52Z"));
  EXPECT_TRUE(with("1996-12-19T16:39:57-08:00"));
  EXPECT_TRUE(with("1937-01-01T12:00:27.87+00:20"));
  for (const char* const time :
       {"yesterday", "1985-04-12", "1985-04-12T23:20:50", "1985-04-12 23:20:50Z",
        "1985-04-12T23:20:50.Z", "1985-04-12T23:20:50+0100", "1985-04-12T23:20:50Zx"}) {
    EXPECT_FALSE(with(time)) << time;
  }
}

TEST(RecordBody, RefusesBrokenAndLargePhotos) {
  const auto photo = [](const string& code) {
    return "{" + kToken + R"(,"photos":[{"name":"a.jpg","base64":")" + code + R"("}]})";
  };
  // RFC 4648, 10: test vectors with padding.
  EXPECT_EQ(read_record(photo("Zm9vYg==")).value->entries.photos[0].text, "foob");
  EXPECT_TRUE(says(photo("Zm9vYg"), "is no base64"));
  EXPECT_TRUE(says(photo("Zm9v*g=="), "is no base64"));
  EXPECT_TRUE(read_record(photo(string(4'000'000, 'A'))).value);
  EXPECT_TRUE(says(photo(string(4'000'004, 'A')), "holds 3000003 bytes"));
}

TEST(JsonText, IsRefusedWithLineAndColumn) {
  EXPECT_TRUE(says("{\n \"token\": }", "body:2:"));
  EXPECT_TRUE(says("", "the body is empty"));
  EXPECT_TRUE(says("[]", "no object"));
  EXPECT_TRUE(says("7", "no object"));
  EXPECT_TRUE(says("{" + kToken, "no JSON"));
  EXPECT_TRUE(says("{" + kToken + "} x", "no JSON"));
  EXPECT_TRUE(says("{" + kToken + R"(,"notes":[NaN]})", "no JSON"));
}

// RFC 8259, 4: names should be unique; what is to be done with two is not said, so there are none.
TEST(JsonText, TakesEachKeyOnce) {
  EXPECT_TRUE(says("{" + kToken + "," + kToken + "}", "twice"));
  EXPECT_TRUE(says("{" + kToken + R"(,"entry":{"kind":"a","fields":{"x":"1","x":"2"}}})", "twice"));
}

TEST(JsonText, IsNotDeepAndNotEndless) {
  EXPECT_TRUE(
      says("{" + kToken + R"(,"notes":)" + string(100'000, '[') + string(100'000, ']') + "}",
           "too deep"));
  EXPECT_TRUE(says("{" + kToken + R"(,"notes":)" + string(100'000, '['), "too deep"));
  string many = "{" + kToken + R"(,"notes":["a")";
  for (int i = 0; i < 30'000; ++i) many += ",\"a\"";
  EXPECT_TRUE(says(many + "]}", "too many values"));
}

// The Unicode Standard, table 3-7: C0 80 (overlong), ED A0 80 (surrogate), FF are not well-formed.
TEST(JsonText, IsUtf8) {
  for (const char* const bytes : {"\xC0\x80", "\xED\xA0\x80", "\xFF", "\xE2\x82"}) {
    EXPECT_TRUE(says("{" + kToken + R"(,"notes":[")" + bytes + "\"]}", "no UTF-8"));
  }
  EXPECT_TRUE(read_record("{" + kToken + R"(,"notes":["Grube f\u00fcnf, 3 \u20ac, ü"]})").value);
  EXPECT_TRUE(says("{" + kToken + R"(,"notes":["a\u0000b"]})", "NUL"));
  // A lone surrogate is no text (RFC 8259, 8.2 leaves open what to do; nothing is guessed here).
  EXPECT_FALSE(read_record("{" + kToken + R"(,"notes":["\ud800"]})").value);
}

TEST(OtherBodies, AreReadAsTheContractSays) {
  const auto pair = read_pair(R"({"code":"ABCD-EFGH","name":"R. Example"})");
  ASSERT_TRUE(pair.value);
  EXPECT_EQ(pair.value->code, "ABCD-EFGH");
  EXPECT_EQ(pair.value->name, "R. Example");
  EXPECT_FALSE(read_pair(R"({"code":"ABCD-EFGH"})").value) << "who holds the phone is asked";
  EXPECT_FALSE(read_pair(R"({"code":"ABCD-EFGH","name":"  "})").value);
  EXPECT_FALSE(read_pair("{\"code\":\"A\",\"name\":\"a\\u001b[31m\"}").value)
      << "a terminal prints it";
  EXPECT_EQ(*read_put_out(R"({"phone":"2"})").value, 2);
  EXPECT_FALSE(read_put_out(R"({"phone":"2x"})").value);
  EXPECT_FALSE(read_pair(R"({"code":1})").value);
  EXPECT_FALSE(read_pair(R"({})").value);
  EXPECT_TRUE(read_leave("").value);
  EXPECT_TRUE(read_leave("{}").value);
  EXPECT_FALSE(read_leave(R"({"x":1})").value);
  EXPECT_EQ(read_undo("{" + kToken + R"(,"entry":"7","remark":"typed wrong"})").value->undo.entry,
            "7");
  EXPECT_FALSE(read_undo("{" + kJournal + R"(,"entry":"7"})").value);
  const string lines = "{" + kJournal + R"(,"lines":)";
  EXPECT_EQ(read_practice(lines + R"(["corners 10 t","cells"]})").value->lines.size(), 2U);
  EXPECT_FALSE(read_practice(lines + R"("cells"})").value);
  EXPECT_FALSE(read_practice("{" + kJournal + "}").value);
  EXPECT_EQ(read_draft(R"({"name":"Yard","answers":["R76 III"]})").value->answers[0], "R76 III");
  EXPECT_FALSE(read_draft(R"({"name":"Yard"})").value);
}

}  // namespace
}  // namespace weighwright::web
