#include "link/modbus_answer.h"

#include <gtest/gtest.h>

#include "link/backoff.h"
#include "link/register_spans.h"

namespace weighwright::link {
namespace {

using Bytes = std::vector<std::uint8_t>;
using Kind = ModbusAnswer::Kind;

// Frames put together by hand from the layout of the Modbus Application Protocol V1.1b3 (6.3, 7)
// and, for the CRC, CRC-16 0xA001, start 0xFFFF, low byte first; the exception's bytes stand in a
// public example too.
const Bytes kQuestion = {0x01, 0x03, 0x00, 0x00, 0x00, 0x02};  // crc c4 0b
const Bytes kAnswer = {0x01, 0x03, 0x04, 0x46, 0x40, 0xe6, 0x00, 0xa4, 0xcf};
const Bytes kException = {0x01, 0x83, 0x02, 0xc0, 0xf1};
const ModbusQuestion kAsked{1, 3, 0, 2, 7};

Bytes tcp(const Bytes& data, int transaction = 7) {
  Bytes frame = {0, static_cast<std::uint8_t>(transaction), 0, 0,
                 0, static_cast<std::uint8_t>(data.size())};
  frame.insert(frame.end(), data.begin(), data.end());
  return frame;
}

TEST(ModbusAnswer, WritesTheQuestionOfTheStandard) {
  EXPECT_EQ(print_question(kAsked), kQuestion);
  EXPECT_EQ(print_tcp_question(kAsked), tcp(kQuestion));
  EXPECT_EQ(print_question({247, 4, 0xABCD, 125, 0}), (Bytes{247, 4, 0xAB, 0xCD, 0, 125}));
}

TEST(ModbusAnswer, ReadsRegistersAndExceptions) {
  const ModbusAnswer answer = read_serial_answer(kAsked, kAnswer);
  EXPECT_EQ(answer.kind, Kind::registers);
  EXPECT_EQ(answer.registers, (std::vector<std::uint16_t>{0x4640, 0xE600}));
  const ModbusAnswer refused = read_serial_answer(kAsked, kException);
  EXPECT_EQ(refused.kind, Kind::exception);
  EXPECT_EQ(refused.exception, 2);
  EXPECT_NE(refused.says.find("no such register"), std::string::npos);
  EXPECT_EQ(read_tcp_answer(kAsked, tcp({1, 3, 4, 0x46, 0x40, 0xe6, 0})).kind, Kind::registers);
}

TEST(ModbusAnswer, TellsAnswersToOtherQuestions) {
  EXPECT_EQ(read_tcp_answer(kAsked, tcp({1, 3, 4, 0, 0, 0, 0}, 6)).kind, Kind::other_question);
  EXPECT_NE(read_tcp_answer(kAsked, tcp({2, 3, 4, 0, 0, 0, 0})).says.find("unit 2 answered"),
            std::string::npos);
  EXPECT_NE(read_tcp_answer(kAsked, tcp({1, 4, 4, 0, 0, 0, 0})).says.find("function 4"),
            std::string::npos);
  EXPECT_EQ(read_tcp_answer(kAsked, tcp({1, 0x84, 2})).kind, Kind::wrong);
  EXPECT_NE(read_tcp_answer(kAsked, tcp({1, 3, 2, 0, 0})).says.find("2 bytes of registers, and 4"),
            std::string::npos);
  EXPECT_EQ(read_tcp_answer(kAsked, tcp({1, 3, 4, 0, 0})).kind, Kind::wrong);
  Bytes longer = tcp({1, 3, 4, 0, 0, 0, 0});
  longer[5] = 9;
  EXPECT_EQ(read_tcp_answer(kAsked, longer).kind, Kind::wrong);
  Bytes other = tcp({1, 3, 4, 0, 0, 0, 0});
  other[3] = 1;
  EXPECT_NE(read_tcp_answer(kAsked, other).says.find("not speak Modbus"), std::string::npos);
}

TEST(ModbusAnswer, TakesFramesOfAnyLength) {
  const Bytes whole = tcp({1, 3, 4, 0x46, 0x40, 0xe6, 0});
  for (std::size_t size = 0; size < whole.size(); ++size) {
    EXPECT_EQ(read_tcp_answer(kAsked, {whole.data(), size}).kind, Kind::wrong) << size;
  }
  for (std::size_t size = 0; size < kAnswer.size(); ++size) {
    EXPECT_EQ(read_serial_answer(kAsked, {kAnswer.data(), size}).kind, Kind::wrong) << size;
  }
}

TEST(ModbusAnswer, HasWordsForEveryException) {
  for (const int code : {1, 2, 3, 4, 5, 6, 8, 10, 11}) {
    EXPECT_EQ(exception_words(code).find("the standard does not say"), std::string::npos) << code;
  }
  EXPECT_NE(exception_words(200).find("exception 200"), std::string::npos);
}

// ------------------------------------------------------------------------------------- spans

deck::Register at(int address, deck::RegisterType type, deck::RegisterTable table = {}) {
  deck::Register one;
  one.address = address;
  one.type = type;
  one.table = table;
  return one;
}

TEST(RegisterSpans, JoinNeighboursAndLeaveGapsOut) {
  using enum deck::RegisterType;
  const std::vector<deck::Register> registers = {at(4, int32), at(0, float32), at(2, uint16),
                                                 at(3, int16, deck::RegisterTable::input)};
  const std::vector<RegisterSpan> spans = plan_spans(registers);
  ASSERT_EQ(spans.size(), 3U);
  EXPECT_EQ(spans[0].address, 0);
  EXPECT_EQ(spans[0].count, 3);
  EXPECT_EQ(spans[0].places, (std::vector<std::size_t>{1, 2}));
  EXPECT_EQ(spans[1].address, 4);
  EXPECT_EQ(spans[2].table, deck::RegisterTable::input);
  EXPECT_EQ(split_span(spans[0], registers).size(), 2U);
}

TEST(RegisterSpans, AskForAtMost125AndNeverSplitAValue) {
  // Modbus Application Protocol V1.1b3, 6.3: quantity of registers 1 to 125
  std::vector<deck::Register> registers;
  for (int i = 0; i < 100; ++i) registers.push_back(at(2 * i, deck::RegisterType::int32));
  const std::vector<RegisterSpan> spans = plan_spans(registers);
  ASSERT_EQ(spans.size(), 2U);
  EXPECT_EQ(spans[0].count, 124);
  EXPECT_EQ(spans[1].count, 76);
  EXPECT_EQ(plan_spans(registers, 2).size(), 100U);
}

TEST(Backoff, GrowsToHalfAMinuteAndStartsAnew) {
  Backoff backoff;
  std::vector<double> waits;
  for (int i = 0; i < 8; ++i) waits.push_back(backoff.next_s());
  EXPECT_EQ(waits, (std::vector<double>{0.5, 1, 2, 4, 8, 16, 30, 30}));
  backoff.succeeded();
  EXPECT_EQ(backoff.next_s(), 0.5);
}

}  // namespace
}  // namespace weighwright::link
