#include "record/entry.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <array>
#include <ctime>
#include <nlohmann/json.hpp>

#include "record/encoding/entry_reader.h"
#include "record/encoding/entry_text.h"
#include "record/encoding/instant.h"

// outside check: order of entries made apart | L. Lamport, *Comm. ACM* 21 (1978) 558

namespace weighwright::record {
namespace {

const std::string kDevice = "0123456789abcdef";
const std::string kHash(64, 'a');

/// Our own invention.
Entry example() {
  Entry entry;
  entry.stamp = {.device = kDevice,
                 .sequence = 12,
                 .lamport = 31,
                 .time_ms = 1'795'631'400'123,
                 .offset_min = -210,
                 .author = "R. Example"};
  entry.seen = {{.device = "fedcba9876543210", .sequence = 7, .hash = kHash}};
  entry.what = {
      .kind = "note", .fields = {{"text", "a \"b\" \\ c\n\td \x01 \xC2\xB5V"}}, .corrects = kHash};
  return entry;
}

void expect_same(const Entry& a, const Entry& b) {
  EXPECT_EQ(a.stamp.device, b.stamp.device);
  EXPECT_EQ(a.stamp.sequence, b.stamp.sequence);
  EXPECT_EQ(a.stamp.lamport, b.stamp.lamport);
  EXPECT_EQ(a.stamp.time_ms, b.stamp.time_ms);
  EXPECT_EQ(a.stamp.offset_min, b.stamp.offset_min);
  EXPECT_EQ(a.stamp.author, b.stamp.author);
  EXPECT_EQ(a.seen, b.seen);
  EXPECT_EQ(a.what.kind, b.what.kind);
  EXPECT_EQ(a.what.fields, b.what.fields);
  EXPECT_EQ(a.what.corrects, b.what.corrects);
}

TEST(EntryText, IsReadBackByBothReaders) {
  const Entry entry = example();
  const std::string content = print_content(entry);
  const auto fast = read_canonical(content);
  const auto general = read_general(content);
  ASSERT_TRUE(fast && general.entry) << content << general.fault;
  expect_same(*fast, entry);
  expect_same(*general.entry, entry);
}

// RFC 8259 as nlohmann's JSON library reads it into a document: names and values as the header
// says.
TEST(EntryText, IsTheJsonThatTheHeaderPromises) {
  const auto json = nlohmann::json::parse(print_content(example()));
  EXPECT_EQ(json.at("format"), 1);
  EXPECT_EQ(json.at("device"), kDevice);
  EXPECT_EQ(json.at("sequence"), 12);
  EXPECT_EQ(json.at("lamport"), 31);
  EXPECT_EQ(json.at("offset_min"), -210);
  EXPECT_EQ(json.at("author"), "R. Example");
  EXPECT_EQ(json.at("seen").at(0).at(1), 7);
  EXPECT_EQ(json.at("kind"), "note");
  EXPECT_EQ(json.at("fields").at("text"), "a \"b\" \\ c\n\td \x01 \xC2\xB5V");
  EXPECT_EQ(json.at("corrects"), kHash);
  EXPECT_EQ(print_content(example()).find('\n'), std::string::npos);
}

// The C library's calendar.
TEST(Instant, AgreesWithGmtime) {
  for (std::int64_t day = 0; day < 60'000; day += 13) {
    const std::time_t seconds = day * 86'400 + day * 7 % 86'400;
    std::tm parts{};
    gmtime_r(&seconds, &parts);
    std::array<char, 32> text{};
    std::strftime(text.data(), text.size(), "%Y-%m-%dT%H:%M:%S.042Z", &parts);
    EXPECT_EQ(print_instant(seconds * 1'000 + 42), text.data());
    EXPECT_EQ(parse_instant(text.data()), seconds * 1'000 + 42);
  }
}

// RFC 3339, section 5.8, first example (its fraction has two digits; ours always three).
TEST(Instant, ReadsTheExampleOfRfc3339) {
  EXPECT_EQ(parse_instant("1985-04-12T23:20:50.520Z"), 482'196'050'520);
}

TEST(Instant, RefusesWhatIsNoInstant) {
  for (const char* const text :
       {"", "2026-11-25", "2026-02-29T00:00:00.000Z", "2026-04-31T00:00:00.000Z",
        "2026-13-01T00:00:00.000Z", "2026-00-01T00:00:00.000Z", "2026-01-00T00:00:00.000Z",
        "2026-01-01T24:00:00.000Z", "2026-01-01T00:60:00.000Z", "2026-01-01T00:00:60.000Z",
        "1969-12-31T23:59:59.999Z", "2026-01-01T00:00:00.000+", "2026-01-01t00:00:00.000Z",
        "2026-01-01T00:00:00.00Z"}) {
    EXPECT_FALSE(parse_instant(text)) << text;
  }
  EXPECT_EQ(parse_instant("2024-02-29T00:00:00.000Z").has_value(), true);
  EXPECT_EQ(print_instant(kLastInstant_ms), "9999-12-31T23:59:59.999Z");
}

TEST(EntryText, OfASignedEntryHoldsTheKeyAndIsFormat2) {
  Entry entry = example();
  entry.key = kHash;
  const std::string content = print_content(entry);
  EXPECT_TRUE(content.starts_with(R"({"format":2,"device":"0123456789abcdef","key":"aaaa)"));
  const auto fast = read_canonical(content);
  const auto general = read_general(content);
  ASSERT_TRUE(fast && general.entry) << general.fault;
  expect_same(*fast, entry);
  EXPECT_EQ(fast->key, kHash);
  EXPECT_EQ(general.entry->key, kHash);
  EXPECT_TRUE(read_canonical(print_content(example()))->key.empty());
}

TEST(EntryText, OfALaterVersionIsReadForWhatIsKnown) {
  std::string content = print_content(example());
  content.insert(content.size() - 1,
                 R"(,"later":{"a":[1,{"b":null}],"c":true,"d":-2.5e3,"e":"x"})");
  const ParsedContent parsed = parse_content(content);
  ASSERT_TRUE(parsed.entry) << parsed.fault;
  expect_same(*parsed.entry, example());
}

// 4 MB of brackets: no recursion ends the program, and what others would stumble over is told.
TEST(EntryText, OfALaterVersionIsNotReadDeeperThanOthersCan) {
  const std::string before =
      R"({"format":1,"device":"0123456789abcdef","sequence":1,"lamport":1,)"
      R"("time":"2026-11-25T18:30:00.123Z","offset_min":0,"author":"","seen":[],)"
      R"("kind":"note","fields":{"text":"x"},"later":)";
  const auto nested = [&](std::size_t depth) {
    return before + std::string(depth, '[') + std::string(depth, ']') + "}";
  };
  EXPECT_TRUE(parse_content(nested(40)).entry);
  const ParsedContent deep = parse_content(nested(2'000'000));
  EXPECT_FALSE(deep.entry);
  EXPECT_NE(deep.fault.find("deep"), std::string::npos) << deep.fault;
  EXPECT_FALSE(parse_content(before + std::string(4'000'000, '[')).entry);
}

TEST(EntryText, InAnotherOrderAndSpacingIsReadToo) {
  const auto json = nlohmann::json::parse(print_content(example()));
  const ParsedContent parsed = parse_content(json.dump(2));
  ASSERT_TRUE(parsed.entry) << parsed.fault;
  expect_same(*parsed.entry, example());
  const ParsedContent escaped = parse_content(json.dump(-1, ' ', true));
  ASSERT_TRUE(escaped.entry) << escaped.fault;
  expect_same(*escaped.entry, example());
}

struct Wrong {
  const char* from;
  const char* to;
  const char* says;
};

TEST(EntryText, ThatIsWrongIsTold) {
  const std::string good = print_content(example());
  const std::vector<Wrong> wrongs = {
      {R"("format":1)", R"("format":3)", "format is 3"},
      {R"("format":1)", R"("format":2)", "\"key\" is missing"},
      {R"("format":1)", R"("format":2,"key":"AB")", "key"},
      {R"("format":1)", R"("format":2,"key":7)", "key"},
      {R"("format":1,)", "", "\"format\" is missing"},
      {R"("format":1)", R"("format":"1")", "\"format\" is not of the right shape"},
      {R"("sequence":12)", R"("sequence":0)", "sequence"},
      {R"("sequence":12)", R"("sequence":-1)", "sequence"},
      {R"("sequence":12)", R"("sequence":1.5)", "not whole"},
      {R"("sequence":12)", R"("sequence":99999999999999999999)", "sequence"},
      {R"("sequence":12)", R"("sequence":18446744073709551615)", "sequence"},
      {R"("lamport":31)", R"("lamport":null)", "null"},
      {R"("offset_min":-210)", R"("offset_min":-9999)", "18 hours"},
      {"0123456789abcdef", "0123456789ABCDEF", "device"},
      {"0123456789abcdef", "0123", "device"},
      {"2026", "20260", "time"},
      {R"("author")", R"("author":"x","author")", "given twice"},
      {R"("seen":[[)", R"("seen":[[[)", "seen"},
      {R"(,7,)", R"(,"7",)", "seen"},
      {R"(,7,)", R"(,)", "seen"},
      {R"("kind":"note")", R"("kind":"")", "kind"},
      {R"("fields":{)", R"("fields":{"text":"x",)", "given twice"},
      {R"("fields":{)", R"("fields":{"n":1,)", "fields"},
      {R"("fields":{)", R"("fields":[{)", "fields"},
      {R"("corrects":"a)", R"("corrects":"g)", "corrects"},
      {"}", "", "JSON"},
      {R"({"format")", R"([{"format")", "JSON"},
      {"\xC2\xB5", "\xC2", "UTF-8"},
  };
  for (const Wrong& wrong : wrongs) {
    std::string content = good;
    const std::size_t at = content.rfind(wrong.from);
    ASSERT_NE(at, std::string::npos) << wrong.from;
    content.replace(at, std::string(wrong.from).size(), wrong.to);
    const ParsedContent parsed = parse_content(content);
    EXPECT_FALSE(parsed.entry) << content;
    EXPECT_NE(parsed.fault.find(wrong.says), std::string::npos) << wrong.to << ": " << parsed.fault;
  }
  for (const char* const text : {"", "{", "[]", "1", "\"x\"", "null", "{}", "{}{}"}) {
    EXPECT_FALSE(parse_content(text).entry) << text;
    EXPECT_FALSE(parse_content(text).fault.empty()) << text;
  }
  EXPECT_FALSE(parse_content(std::string(100'000, '[')).entry);
  EXPECT_FALSE(parse_content(std::string(64, '\0')).entry);
}

// Whatever is typed comes back, and the fast reader says what the general one does.
RC_GTEST_PROP(EntryText, KeepsWhateverIsTyped, ()) {
  Entry entry = example();
  const auto text = rc::gen::container<std::string>(rc::gen::inRange<char>(1, 127));
  const auto texts = *rc::gen::container<std::vector<std::string>>(text);
  entry.what.fields.clear();
  for (std::size_t i = 0; i < texts.size(); ++i) {
    entry.what.fields.emplace_back("name" + std::to_string(i), texts[i]);
  }
  entry.stamp.author = *text;
  entry.stamp.time_ms = *rc::gen::inRange<std::int64_t>(kFirstInstant_ms, kLastInstant_ms);
  const std::string content = print_content(entry);
  const auto fast = read_canonical(content);
  const auto general = read_general(content);
  RC_ASSERT(fast && general.entry);
  RC_ASSERT(fast->what.fields == entry.what.fields);
  RC_ASSERT(general.entry->what.fields == entry.what.fields);
  RC_ASSERT(fast->stamp.author == entry.stamp.author);
  RC_ASSERT(fast->stamp.time_ms == entry.stamp.time_ms);
  RC_ASSERT(print_content(*fast) == content);
}

TEST(EntryKinds, SayWhatIsWrongWithADraft) {
  EXPECT_TRUE(faults_of({.kind = "note", .fields = {{"text", "x"}}, .corrects = {}}).empty());
  EXPECT_FALSE(faults_of({.kind = "nonsense", .fields = {}, .corrects = {}}).empty());
  EXPECT_FALSE(faults_of({.kind = "note", .fields = {}, .corrects = {}}).empty());
  EXPECT_FALSE(faults_of({.kind = "note", .fields = {{"text", "x"}, {"text", "y"}}, .corrects = {}})
                   .empty());
  EXPECT_FALSE(
      faults_of({.kind = "note", .fields = {{"text", "x"}, {"other", "y"}}, .corrects = {}})
          .empty());
  EXPECT_FALSE(faults_of({.kind = "note", .fields = {{"text", "\xFF"}}, .corrects = {}}).empty());
  EXPECT_FALSE(faults_of({.kind = "visit", .fields = {{"reason", "fun"}}, .corrects = {}}).empty());
  EXPECT_FALSE(
      faults_of({.kind = "note", .fields = {{"text", std::string(1'000'001, 'x')}}, .corrects = {}})
          .empty());
}

Draft entry_of(const std::string& kind, Fields fields) {
  return {.kind = kind, .fields = std::move(fields), .corrects = {}};
}

/// What is wrong with the one value; the other fields are right.
std::string told_of(const std::string& kind, Fields fields) {
  const std::vector<std::string> faults = faults_of(entry_of(kind, std::move(fields)));
  EXPECT_LE(faults.size(), 1U);
  return faults.empty() ? "" : faults.front();
}

TEST(EntryKinds, SayWhatWouldBeRightForAValueOfTheWrongKind) {
  EXPECT_EQ(told_of("weather", {{"temp_degC", "banana"}}),
            "temp_degC is \"banana\"; a number in degC, from -60 to 60");
  EXPECT_EQ(told_of("weather", {{"temp_degC", "285"}}),
            "temp_degC is \"285\"; a number in degC, from -60 to 60");
  EXPECT_EQ(told_of("weather", {{"pressure_hPa", "101325"}}),
            "pressure_hPa is \"101325\"; a number in hPa, on site, from 500 to 1100");
  EXPECT_EQ(told_of("weather", {{"humidity_percent", "60 %"}}),
            "humidity_percent is \"60 %\"; a number in %, from 0 to 100");
  EXPECT_EQ(told_of("weather", {{"rain", "some"}}), "rain is \"some\"; one of yes|no");
  EXPECT_EQ(told_of("counter", {{"name", "calibration"}, {"value", "twelve"}, {"when", "left"}}),
            "value is \"twelve\"; digits alone, as it shows them: 012");
  EXPECT_EQ(told_of("notice_sent", {{"authority", "Weights"}, {"date", "25.11.2026"}}),
            "date is \"25.11.2026\"; a day of the calendar, as 2026-11-25");
  EXPECT_EQ(told_of("notice_sent", {{"authority", "Weights"}, {"date", "2026-02-30"}}),
            "date is \"2026-02-30\"; a day of the calendar, as 2026-11-25");
  EXPECT_EQ(told_of("cell_replaced", {{"stand", "2l"}, {"new_serial", "7"}}),
            "stand is \"2l\"; a stand by section and side, as 2L");
  const record::Fields released = {
      {"by", "E. Engineer"}, {"foundation", "grouted"}, {"grounds", "cube"}};
  const auto with = [&](const char* name, const char* value) {
    record::Fields fields = released;
    fields.emplace_back(name, value);
    return told_of("release", fields);
  };
  EXPECT_NE(
      with("strength", "38").find("strength is \"38\"; a pressure or a strength is wanted here"),
      std::string::npos)
      << with("strength", "38");
  EXPECT_NE(with("strength", "38 GPa").find("from 0.1 MPa to 500 MPa"), std::string::npos)
      << with("strength", "38 GPa");
  EXPECT_EQ(told_of("party", {{"role", "customer"}, {"name", "Q"}, {"country", "Britain"}}),
            "country is \"Britain\"; two capital letters (ISO 3166-1), as GB");
}

TEST(EntryKinds, TakeEveryValueThatIsRight) {
  EXPECT_EQ(told_of("weather", {{"temp_degC", "-12.5"},
                                {"pressure_hPa", "1003"},
                                {"humidity_percent", "100"},
                                {"wind", "gusts, 5 m/s"}}),
            "");
  EXPECT_EQ(told_of("weather", {{"temp_degC", ""}}), "");
  EXPECT_EQ(told_of("counter", {{"name", "calibration"}, {"value", "001"}, {"when", "left"}}), "");
  EXPECT_EQ(
      told_of(
          "cell_replaced",
          {{"stand", "12R"}, {"new_serial", "7"}, {"capacity", "50,000 lb"}, {"output", "3 mV/V"}}),
      "");
}

// A rule as a later kind will have it.
TEST(FieldValue, AQuantityIsCheckedByItsDimensionAndRangeAndMayBeUnknown) {
  FieldRule strength;
  strength.name = "strength";
  strength.kind = FieldKind::quantity;
  strength.of = units::Kind::pressure;
  strength.least = 1e6;
  strength.most = 200e6;
  strength.range = "from 1 MPa to 200 MPa";
  EXPECT_FALSE(fault_of_value(strength, "35 MPa"));
  EXPECT_FALSE(fault_of_value(strength, "5000 psi"));
  EXPECT_DOUBLE_EQ(figure_of(strength, "35 MPa").value_or(0.0), 35e6);
  for (const char* const wrong : {"35", "35 h", "0 MPa", "35 GPa", "strong", "unknown"}) {
    EXPECT_TRUE(fault_of_value(strength, wrong)) << wrong;
    EXPECT_FALSE(figure_of(strength, wrong)) << wrong;
  }
  EXPECT_EQ(fault_of_value(strength, "35 h")->expected,
            "a pressure or a strength is wanted here, in MPa, psi or hPa, from 1 MPa to 200 MPa");
  EXPECT_EQ(fault_of_value(strength, "0 MPa")->expected,
            "with its unit, as 35 MPa, from 1 MPa to 200 MPa");
  strength.or_unknown = true;
  EXPECT_FALSE(fault_of_value(strength, "unknown"));
  EXPECT_FALSE(figure_of(strength, "unknown"));
}

TEST(FieldValue, EveryKindOfFieldHasItsCodeAndEveryChoiceItsList) {
  for (const KindRule& rule : entry_kinds()) {
    for (const FieldRule& field : rule.fields) {
      EXPECT_FALSE(code_of(field.kind).empty());
      EXPECT_EQ(field.kind == FieldKind::choice, !field.one_of.empty())
          << rule.kind << " " << field.name;
      const bool figure = field.kind == FieldKind::number || field.kind == FieldKind::quantity;
      EXPECT_EQ(figure, field.most > field.least) << rule.kind << " " << field.name;
      const std::string example(example_of(field));
      EXPECT_TRUE(example.empty() || !fault_of_value(field, example)) << example;
    }
  }
}

TEST(FieldValue, WhatAnOlderVersionTookIsToldAndIsNoFigure) {
  const Draft old = entry_of("weather", {{"temp_degC", "banana"}, {"pressure_hPa", "1003"}});
  EXPECT_FALSE(figure_of(old, "temp_degC"));
  EXPECT_EQ(figure_of(old, "pressure_hPa"), 1003.0);
  const std::vector<ValueFault> odd = odd_values(old);
  ASSERT_EQ(odd.size(), 1U);
  EXPECT_EQ(odd[0].what, "temp_degC is \"banana\"");
  EXPECT_TRUE(odd_values(entry_of("of a later version", {{"x", "y"}})).empty());
}

TEST(EntryKinds, EveryKindMayCarryTheMarkOfItsSender) {
  Draft note{.kind = "note",
             .fields = {{"text", "x"}, {"token", "4b0c8f0e-7d1b"}, {"typed_at", "18:04"}},
             .corrects = {}};
  EXPECT_TRUE(faults_of(note).empty());
  for (const char* const wrong : {"short", "with blank in it", "comma,comma", ""}) {
    note.fields[1].second = wrong;
    EXPECT_EQ(faults_of(note).size(), 1U) << wrong;
  }
  note.fields[1].second = std::string(65, 'a');
  EXPECT_EQ(faults_of(note).size(), 1U);
}

TEST(EntryOrder, IsByLamportThenDeviceThenSequenceThenHash) {
  Entry a = example();
  Entry b = example();
  b.stamp.lamport = 32;
  b.stamp.time_ms = 0;  // whatever the clock says
  EXPECT_TRUE(before(a, b));
  EXPECT_FALSE(before(b, a));
  b = a;
  b.stamp.device = "1123456789abcdef";
  EXPECT_TRUE(before(a, b));
  b = a;
  b.hash = "1";
  EXPECT_TRUE(before(a, b));
  EXPECT_FALSE(before(a, a));
}

}  // namespace
}  // namespace weighwright::record
