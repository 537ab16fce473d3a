#include "link/weight_line.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <string>

namespace weighwright::link {
namespace {

/// Layout of SCP-0499, 5.1 (through public digests): `<LF> s r n m f xxxxxxxxxx uuu <CR>`; the
/// bytes of "stable, gross, 12340 kg" were put together from that layout by hand:
/// 0a 20 31 47 20 20 20 20 20 20 20 31 32 33 34 30 6b 67 20 0d.
const std::string kStable12340 =
    "\x0a\x20\x31\x47\x20\x20\x20\x20\x20\x20\x20\x31\x32\x33\x34\x30\x6b\x67\x20\x0d";

std::string line(const std::string& flags, const std::string& figure, const std::string& unit) {
  return "\n" + flags + figure + unit + "\r";
}

LineEvent only_event(const std::string& bytes) {
  WeightStream stream;
  const std::vector<LineEvent> events = stream.feed(bytes);
  EXPECT_EQ(events.size(), 1U) << bytes;
  return events.empty() ? LineEvent{} : events.front();
}

WeightReply weight_in(const std::string& bytes) {
  const LineEvent event = only_event(bytes);
  EXPECT_EQ(event.kind, LineEvent::Kind::weight) << event.says;
  return event.weight;
}

TEST(WeightLine, ReadsTheReplyOfTheLayout) {
  ASSERT_EQ(kStable12340.size(), 20U);
  const WeightReply reply = weight_in(kStable12340);
  EXPECT_EQ(reply.value, 12340.0);
  EXPECT_EQ(reply.typed, "12340");
  EXPECT_EQ(reply.unit, "kg");
  EXPECT_EQ(reply.status, WeightStatus::normal);
  EXPECT_EQ(reply.kind, WeightKind::gross);
  EXPECT_EQ(reply.range, 1);
  EXPECT_FALSE(reply.moving);
  EXPECT_FALSE(reply.high_resolution);
  EXPECT_EQ(reply.last_digit, 1.0);
}

TEST(WeightLine, WritesTheReplyOfTheLayout) {
  WeightReply reply;
  reply.value = 12340.0;
  reply.typed = "12340";
  reply.unit = "kg";
  EXPECT_EQ(print_line(reply), kStable12340);
  reply.typed = "12345678901";
  EXPECT_FALSE(print_line(reply)) << "eleven signs do not fit into ten";
  reply.typed = "1";
  reply.unit = "tons";
  EXPECT_FALSE(print_line(reply));
}

TEST(WeightLine, AsksAsTheFrameOfTheProtocolSays) {
  EXPECT_EQ(kAskWeight, "\x0aW\x0d");  // SCP-0499, 2.3: <LF> c <CR>
}

TEST(WeightLine, ReadsMotionNetRangeHighResolutionAndPoint) {
  const WeightReply reply = weight_in(line("Z2nM ", "    -12.50", "lb "));
  EXPECT_EQ(reply.status, WeightStatus::centre_of_zero);
  EXPECT_EQ(reply.range, 2);
  EXPECT_EQ(reply.kind, WeightKind::net);
  EXPECT_TRUE(reply.high_resolution);
  EXPECT_TRUE(reply.moving);
  EXPECT_EQ(reply.value, -12.5);
  EXPECT_EQ(reply.typed, "-12.50");
  EXPECT_DOUBLE_EQ(reply.last_digit, 0.01);
  EXPECT_EQ(reply.unit, "lb");
  EXPECT_EQ(weight_in(line(" 1T  ", "        20", "kg ")).kind, WeightKind::tare);
}

TEST(WeightLine, ReadsEveryStatusWithoutAFigure) {
  // SCP-0499, 5.1: on E, I and T the weight is ten '-'
  EXPECT_EQ(weight_in(line("E1G  ", "----------", "kg ")).status, WeightStatus::zero_error);
  EXPECT_EQ(weight_in(line("I1G  ", "----------", "kg ")).status, WeightStatus::initial_zero_error);
  EXPECT_EQ(weight_in(line("T1G  ", "----------", "kg ")).status, WeightStatus::tare_error);
  EXPECT_FALSE(weight_in(line("E1G  ", "----------", "kg ")).value);
  EXPECT_EQ(weight_in(line("O1G  ", "          ", "kg ")).status, WeightStatus::over);
  EXPECT_EQ(weight_in(line("U1G  ", "----------", "kg ")).status, WeightStatus::under);
  EXPECT_EQ(only_event(line(" 1G  ", "----------", "kg ")).kind, LineEvent::Kind::malformed)
      << "without a status there must be a figure";
}

TEST(WeightLine, TellsTheShortReplies) {
  EXPECT_EQ(only_event("\n?\r").kind, LineEvent::Kind::unknown_command);
  EXPECT_EQ(only_event("\n!\r").kind, LineEvent::Kind::communication_error);
}

TEST(WeightLine, TellsWhatIsWrongWithAReply) {
  const auto says = [](const std::string& bytes) {
    const LineEvent event = only_event(bytes);
    EXPECT_EQ(event.kind, LineEvent::Kind::malformed) << bytes;
    return event.says;
  };
  EXPECT_NE(says(line(" 1G  ", "     1234", "kg ")).find("19 bytes long, not 20"),
            std::string::npos);
  EXPECT_NE(says(line("X1G  ", "     12340", "kg ")).find("status"), std::string::npos);
  EXPECT_NE(says(line(" 0G  ", "     12340", "kg ")).find("range"), std::string::npos);
  EXPECT_NE(says(line(" 1X  ", "     12340", "kg ")).find("third sign"), std::string::npos);
  EXPECT_NE(says(line(" 1t  ", "     12340", "kg ")).find("third sign"), std::string::npos);
  EXPECT_NE(says(line(" 1GX ", "     12340", "kg ")).find("motion"), std::string::npos);
  EXPECT_NE(says(line(" 1G  ", "12340     ", "kg ")).find("its weight"), std::string::npos);
  EXPECT_NE(says(line(" 1G  ", "   - 12340", "kg ")).find("its weight"), std::string::npos);
  EXPECT_NE(says(line(" 1G  ", "  12.34.56", "kg ")).find("its weight"), std::string::npos);
  EXPECT_NE(says(line(" 1G  ", "   1234e10", "kg ")).find("its weight"), std::string::npos);
  EXPECT_NE(says(line(" 1G  ", "          ", "kg ")).find("its weight"), std::string::npos);
  EXPECT_NE(says(line(" 1G  ", "     12340", "   ")).find("its unit"), std::string::npos);
  EXPECT_NE(says(line(" 1G  ", "     12340", "k\x80 ")).find("its unit"), std::string::npos);
}

TEST(WeightStream, GivesTheSameWhateverThePieces) {
  const std::string bytes = "noise\n?\r" + kStable12340 + kStable12340;
  WeightStream whole;
  EXPECT_EQ(whole.feed(bytes).size(), 3U);
  WeightStream single;
  std::size_t events = 0;
  for (const char byte : bytes) events += single.feed({&byte, 1}).size();
  EXPECT_EQ(events, 3U);
}

TEST(WeightStream, FindsTheNextReplyAfterGarbage) {
  WeightStream stream;
  EXPECT_TRUE(stream.feed("\x01\xFF garbage\r\r").empty());
  EXPECT_GT(stream.stray_bytes(), 0U);
  // cut off, then a whole one
  const std::vector<LineEvent> events = stream.feed(kStable12340.substr(0, 9) + kStable12340);
  ASSERT_EQ(events.size(), 1U);
  EXPECT_EQ(events[0].weight.value, 12340.0);
  EXPECT_EQ(stream.stray_bytes(), 0U);
}

TEST(WeightStream, KeepsNothingOfEndlessBabble) {
  WeightStream stream;
  const std::string babble(100000, 'x');
  EXPECT_TRUE(stream.feed("\n" + babble).empty());
  EXPECT_FALSE(stream.inside());
  EXPECT_GE(stream.stray_bytes(), babble.size());
  EXPECT_EQ(stream.feed(kStable12340).size(), 1U);
}

RC_GTEST_PROP(WeightStream, ReadsBackWhatWasWritten, ()) {
  WeightReply reply;
  reply.status = *rc::gen::element(WeightStatus::normal, WeightStatus::centre_of_zero);
  reply.range = *rc::gen::inRange(1, 10);
  reply.kind = *rc::gen::element(WeightKind::gross, WeightKind::net);
  reply.high_resolution = *rc::gen::arbitrary<bool>();
  reply.moving = *rc::gen::arbitrary<bool>();
  reply.typed = std::to_string(*rc::gen::inRange(-99999999, 999999999));
  reply.value = std::stod(reply.typed);
  reply.unit = *rc::gen::element<std::string>("kg", "lb", "t");
  const auto bytes = print_line(reply);
  RC_ASSERT(bytes.has_value());
  RC_ASSERT(bytes->size() == 20U);
  const LineEvent event = only_event(*bytes);
  RC_ASSERT(event.kind == LineEvent::Kind::weight);
  RC_ASSERT(event.weight.value == reply.value);
  RC_ASSERT(event.weight.typed == reply.typed);
  RC_ASSERT(event.weight.status == reply.status);
  RC_ASSERT(event.weight.range == reply.range);
  RC_ASSERT(event.weight.kind == reply.kind);
  RC_ASSERT(event.weight.high_resolution == reply.high_resolution);
  RC_ASSERT(event.weight.moving == reply.moving);
  RC_ASSERT(event.weight.unit == reply.unit);
}

}  // namespace
}  // namespace weighwright::link
