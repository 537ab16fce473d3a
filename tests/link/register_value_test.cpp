#include "link/register_value.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <cstdint>
#include <vector>

namespace weighwright::link {
namespace {

using deck::Order;
using deck::RegisterType;
using Words = std::vector<std::uint16_t>;

deck::Register place(RegisterType type, double scale = 1.0, double step = 0.0) {
  deck::Register out;
  out.type = type;
  out.scale = scale;
  out.step = step;
  return out;
}

TEST(RegisterValue, ReadsFloatsInBothWordOrders) {
  // IEEE 754 binary32: 12345.5 = 1.5069...*2^13: 0x4640E600; 20.2: 0x41A1999A (any IEEE 754
  // calculator; Python: struct.pack(">f", 12345.5).hex())
  deck::Register one = place(RegisterType::float32);
  EXPECT_EQ(read_registers(one, Words{0x4640, 0xE600}).value, 12345.5);
  one.word_order = Order::low_first;
  EXPECT_EQ(read_registers(one, Words{0xE600, 0x4640}).value, 12345.5);
  one.byte_order = Order::low_first;
  EXPECT_EQ(read_registers(one, Words{0x00E6, 0x4046}).value, 12345.5);
  one = place(RegisterType::float32);
  const RegisterValue value = read_registers(one, Words{0x41A1, 0x999A});
  EXPECT_NEAR(*value.value, 20.2, 1e-6);  // half a unit in the last place of binary32 at 20
  EXPECT_EQ(value.typed, "20.2");
}

TEST(RegisterValue, ReadsWholeNumbersAsTwosComplement) {
  // two's complement by definition: 0xFFFE is -2 or 65534, 0xFFFFFFFE is -2 or 4294967294
  EXPECT_EQ(read_registers(place(RegisterType::int16), Words{0xFFFE}).value, -2.0);
  EXPECT_EQ(read_registers(place(RegisterType::uint16), Words{0xFFFE}).value, 65534.0);
  EXPECT_EQ(read_registers(place(RegisterType::int32), Words{0xFFFF, 0xFFFE}).value, -2.0);
  EXPECT_EQ(read_registers(place(RegisterType::uint32), Words{0xFFFF, 0xFFFE}).value, 4294967294.0);
  deck::Register one = place(RegisterType::int16);
  one.byte_order = Order::low_first;
  EXPECT_EQ(read_registers(one, Words{0x0100}).value, 1.0);
}

TEST(RegisterValue, ScalesAndShowsTheDigitsOfItsStep) {
  const RegisterValue value = read_registers(place(RegisterType::int32, 0.001), Words{0, 1090});
  EXPECT_DOUBLE_EQ(*value.value, 1.09);
  EXPECT_EQ(value.typed, "1.090");
  EXPECT_EQ(read_registers(place(RegisterType::int32, 20.0), Words{0, 617}).typed, "12340");
  EXPECT_EQ(read_registers(place(RegisterType::int16, -0.01), Words{0xFFFE}).typed, "0.02");
  EXPECT_EQ(print_typed(1.0875, 0.0005), "1.0875");
  EXPECT_EQ(print_typed(-0.0004, 0.001), "0.000") << "no minus before a zero";
  EXPECT_EQ(resolution_of(place(RegisterType::int32, -0.001)), 0.001);
  EXPECT_EQ(resolution_of(place(RegisterType::int32, 0.001, 0.005)), 0.005);
  EXPECT_EQ(resolution_of(place(RegisterType::float32, 0.001)), 0.0);
}

TEST(RegisterValue, RefusesWhatIsNoValue) {
  // IEEE 754: exponent of all ones is infinity (fraction 0) or NaN
  EXPECT_NE(read_registers(place(RegisterType::float32), Words{0x7FC0, 0}).says.find("NaN"),
            std::string::npos);
  EXPECT_NE(read_registers(place(RegisterType::float32), Words{0x7F80, 0}).says.find("infinite"),
            std::string::npos);
  EXPECT_NE(read_registers(place(RegisterType::float32), Words{0xFF80, 0}).says.find("infinite"),
            std::string::npos);
  EXPECT_NE(read_registers(place(RegisterType::int16), Words{0x7FFF}).says.find("end of its range"),
            std::string::npos);
  EXPECT_FALSE(read_registers(place(RegisterType::int16), Words{0x8000}).value);
  EXPECT_FALSE(read_registers(place(RegisterType::int32), Words{0x8000, 0}).value);
  EXPECT_FALSE(read_registers(place(RegisterType::uint16), Words{0xFFFF}).value);
  EXPECT_EQ(read_registers(place(RegisterType::uint16), Words{0}).value, 0.0);
  EXPECT_FALSE(read_registers(place(RegisterType::int32), Words{1}).value);
  EXPECT_FALSE(read_registers(place(RegisterType::float32, 1e300), Words{0x7F00, 0}).value);
}

TEST(RegisterValue, WritesTheBytesThatItReads) {
  deck::Register one = place(RegisterType::float32);
  EXPECT_EQ(print_registers(one, 12345.5), (Words{0x4640, 0xE600}));
  one.word_order = Order::low_first;
  EXPECT_EQ(print_registers(one, 12345.5), (Words{0xE600, 0x4640}));
  EXPECT_EQ(print_registers(place(RegisterType::int16), 1e9), (Words{0x7FFF}));
  EXPECT_EQ(print_registers(place(RegisterType::int16, 0.01), -0.02), (Words{0xFFFE}));
  EXPECT_FALSE(read_registers(one, print_registers(one, std::nullopt)).value);
}

RC_GTEST_PROP(RegisterValue, OfEveryTypeAndOrderComesBack, ()) {
  deck::Register one;
  one.type = *rc::gen::element(RegisterType::int16, RegisterType::uint16, RegisterType::int32,
                               RegisterType::uint32, RegisterType::float32);
  one.word_order = *rc::gen::element(Order::high_first, Order::low_first);
  one.byte_order = *rc::gen::element(Order::high_first, Order::low_first);
  const bool is_signed = one.type != RegisterType::uint16 && one.type != RegisterType::uint32;
  const double raw = *rc::gen::inRange(is_signed ? -32767 : 0, 32767);
  RC_ASSERT(read_registers(one, print_registers(one, raw)).value == raw);
}

}  // namespace
}  // namespace weighwright::link
