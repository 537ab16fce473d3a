#include <gtest/gtest.h>

#include <string>

#include "file_text.h"

namespace weighwright::deck {
namespace {

using testing::changed;
using testing::deck_of;
using testing::faults_of;
using testing::kSound;
using testing::notes_of;
using testing::read_file;

// Invented for tests.
const std::string kCells = R"([[instrument]]
name = "cells"
link = "modbus-tcp"
host = "192.0.2.7"
[[instrument.register]]
place = "1L"
value = "mV"
address = 0
type = "int32"
[[instrument.register]]
place = "1R"
value = "mV"
address = 2
type = "int32"
)";
const std::string kDisplay = R"([[instrument]]
name = "display"
link = "weight-line"
device = "/dev/ttyUSB0"
)";
const std::string kConverter = R"([[instrument]]
name = "display"
link = "weight-tcp"
host = "display.local"
port = 10001
)";

/// The sound file and an instrument with the first place of `from` replaced has a fault with
/// `part`.
void expect_fault(const std::string& instrument,
                  const std::string& from,
                  const std::string& to,
                  const std::string& part) {
  const std::string all = faults_of(kSound + changed(from, to, instrument));
  EXPECT_NE(all.find(part), std::string::npos) << "got: " << all << "wanted: " << part;
}

TEST(InstrumentFile, ReadsEveryKey) {
  const Deck deck = deck_of(read_file("tests/deck/every_key.toml"));
  ASSERT_EQ(deck.instruments.size(), 3U);
  const Instrument& cells = deck.instruments[0];
  EXPECT_EQ(cells.name, "cells");
  EXPECT_EQ(cells.kind, LinkKind::modbus_tcp);
  EXPECT_EQ(cells.host, "192.0.2.7");
  EXPECT_EQ(cells.port, 1502);
  EXPECT_EQ(cells.unit, 3);
  EXPECT_DOUBLE_EQ(cells.every_s, 0.25);
  EXPECT_DOUBLE_EQ(cells.timeout_s, 0.8);
  EXPECT_DOUBLE_EQ(cells.stale_s, 2.0);
  ASSERT_EQ(cells.registers.size(), 2U);
  EXPECT_EQ(cells.registers[0].place, "1L");
  EXPECT_EQ(cells.registers[0].unit, LiveUnit::mV);
  EXPECT_EQ(cells.registers[0].table, RegisterTable::input);
  EXPECT_EQ(cells.registers[0].type, RegisterType::int32);
  EXPECT_EQ(cells.registers[0].word_order, Order::low_first);
  EXPECT_EQ(cells.registers[0].byte_order, Order::high_first);
  EXPECT_EQ(cells.registers[0].scale, 0.001);
  EXPECT_EQ(cells.registers[0].step, 0.002);
  EXPECT_EQ(cells.registers[1].unit, LiveUnit::mV_per_V);
  EXPECT_EQ(cells.registers[1].type, RegisterType::float32);
  const Instrument& line = deck.instruments[1];
  EXPECT_EQ(line.kind, LinkKind::modbus_rtu);
  EXPECT_EQ(line.device, "/dev/ttyUSB0");
  EXPECT_EQ(line.baud, 19200);
  EXPECT_EQ(line.parity, Parity::even);
  EXPECT_EQ(line.unit, 1);
  const Instrument& display = deck.instruments[2];
  EXPECT_EQ(display.kind, LinkKind::weight_line);
  EXPECT_EQ(display.data_bits, 7);
  EXPECT_EQ(display.step_kg, 10.0);
  EXPECT_TRUE(display.registers.empty());
}

TEST(InstrumentFile, FillsWhatNobodySaid) {
  const Deck deck = deck_of(kSound + kCells + kDisplay);
  const Instrument& cells = deck.instruments.at(0);
  // docs/deck-file.md; 502 is the port registered for Modbus (from memory, unverified)
  EXPECT_EQ(cells.port, 502);
  EXPECT_EQ(cells.every_s, 0.5);
  EXPECT_EQ(cells.timeout_s, 1.0);
  EXPECT_EQ(cells.stale_s, 3.0);
  EXPECT_EQ(cells.registers.at(0).table, RegisterTable::holding);
  EXPECT_EQ(deck.instruments.at(1).step_kg, 20.0) << "d of [deck]";
  EXPECT_EQ(deck_of(kSound + "[[instrument]]\nevery = \"10 s\"" + kDisplay.substr(14))
                .instruments.at(0)
                .stale_s,
            20.0)
      << "a value is not stale before the next one is due";
  const std::string ranges = changed("capacity = \"60 t\"\ninterval = \"20 kg\"",
                                     "ranges = [[\"30 t\", \"10 kg\"], [\"60 t\", \"20 kg\"]]");
  EXPECT_EQ(deck_of(ranges + kDisplay).instruments.at(0).step_kg, 20.0)
      << "never finer than the display is where it is coarsest";
}

TEST(InstrumentFile, ChangesNothingElse) {
  const Deck with = deck_of(kSound + kCells + kDisplay);
  const Deck without = deck_of(kSound);
  EXPECT_EQ(with.assumed.size(), without.assumed.size());
  EXPECT_EQ(notes_of(kSound + kCells + kDisplay), "");
}

TEST(InstrumentFault, TellsPlaces) {
  expect_fault(kCells, "\"1R\"", "\"9R\"",
               "there is no stand \"9R\"; one of 1L, 1R, ... 3R, or \"indication\"");
  expect_fault(kCells, "\"1R\"", "\"R1\"", "there is no stand \"R1\"");
  expect_fault(kCells, "\"1R\"", "5", "place is no text");
  expect_fault(kCells, "\"1R\"", "\"1L\"", "1L is read twice");
  expect_fault(kCells + kDisplay, "\"1R\"", "\"indication\"", "indication is read twice");
  expect_fault(kCells, "place = \"1R\"\n", "", "[[instrument.register]] has no place");
}

TEST(InstrumentFault, TellsAddresses) {
  // 25 lines of the sound file, and line 13 of kCells
  expect_fault(kCells, "address = 2", "address = 1",
               "deck.toml:38:11: the registers of 1R and of 1L overlap");
  expect_fault(kCells, "address = 2", "address = -1", "what manuals call 40001 or 30001 is 0");
  expect_fault(kCells, "address = 2", "address = 400001",
               "address: 400001 is no register address; from 0 to 65535");
  expect_fault(kCells, "address = 2", "address = \"2\"", "address is no register address");
  expect_fault(kCells, "address = 2", "address = 65535", "the second register of this value");
  const std::string input = changed("address = 2", "address = 1\ntable = \"input\"", kCells);
  EXPECT_EQ(faults_of(kSound + input), "") << "another table";
  const std::string manual = kSound + changed("address = 2", "address = 40003", kCells);
  EXPECT_EQ(faults_of(manual), "");
  EXPECT_NE(notes_of(manual).find("addresses count from 0; where the manual's register 40003 is "
                                  "meant, write address = 2"),
            std::string::npos)
      << notes_of(manual);
}

TEST(InstrumentFault, TellsValues) {
  expect_fault(kCells, "\"mV\"", "\"V\"", "value \"V\" is unknown; one of \"mV\"");
  expect_fault(kCells, "\"int32\"", "\"int64\"", "type \"int64\" is unknown");
  expect_fault(kCells, "type = \"int32\"", "", "has no type");
  expect_fault(kCells, "type = \"int32\"", "type = \"int16\"\nword_order = \"low first\"",
               "word_order is of two registers, but this value has one");
  expect_fault(kCells, "type = \"int32\"", "type = \"int32\"\nscale = 0", "scale is 0");
  expect_fault(kCells, "type = \"int32\"", "type = \"int32\"\nscale = \"1 kg\"", "scale:");
  expect_fault(kCells, "type = \"int32\"", "type = \"int32\"\nstep = -1", "more than 0");
  expect_fault(kCells, "type = \"int32\"", "type = \"int32\"\nwordorder = \"low first\"",
               "did you mean word_order?");
}

TEST(InstrumentFault, TellsWhatDoesNotBelongToALink) {
  expect_fault(kCells, "host = \"192.0.2.7\"\n", "", "[[instrument]] has no host");
  expect_fault(kCells, "host =", "device =", "has device, but link modbus-tcp goes over the");
  expect_fault(kCells, "link = \"modbus-tcp\"", "link = \"modbus-rtu\"",
               "has host, but link modbus-rtu is a serial line");
  expect_fault(kCells, "link = \"modbus-tcp\"", "link = \"modbus-rtu\"", "has no device");
  expect_fault(kCells, "link = \"modbus-tcp\"", "link = \"weight-tcp\"",
               "has register, but link weight-tcp has no registers");
  expect_fault(kCells, "link = \"modbus-tcp\"", "link = \"carrier pigeon\"",
               "link \"carrier pigeon\" is unknown");
  expect_fault(kCells, "link = \"modbus-tcp\"\n", "", "[[instrument]] has no link");
  expect_fault(kCells, "host = \"192.0.2.7\"", "host = \"192.0.2.7\"\nstep = \"20 kg\"",
               "has step, but a Modbus instrument has a step for each register");
  expect_fault(kConverter, "port = 10001\n", "", "[[instrument]] has no port");
  expect_fault(kConverter, "10001", "70000", "a whole number from 1 to 65535");
  expect_fault(kConverter, "port", "unit = 1\nport", "has unit, but link weight-tcp");
  expect_fault(kConverter, "\"display.local\"", "\"http://display.local\"", "is no address");
  expect_fault(kDisplay, "\"/dev/ttyUSB0\"", "\"ttyUSB0\"", "is no serial port; its whole path");
  const std::string bare = kCells.substr(0, kCells.find("[[instrument.register]]"));
  expect_fault(bare, "cells", "cells", "[[instrument]] has no register");
  expect_fault(kCells, "[[instrument]]", "[instrument]", "instrument is no list of tables");
}

TEST(InstrumentFault, TellsLineSettingsUnitsNamesAndTimes) {
  expect_fault(kDisplay, "device", "baud = 9601\ndevice", "baud 9601 is not usual");
  expect_fault(kDisplay, "device", "parity = \"mark\"\ndevice", "parity \"mark\" is unknown");
  expect_fault(kDisplay, "device", "data_bits = 6\ndevice", "from 7 to 8");
  const std::string line = changed("link = \"modbus-tcp\"\nhost = \"192.0.2.7\"",
                                   "link = \"modbus-rtu\"\ndevice = \"/dev/ttyS1\"", kCells);
  expect_fault(line, "device", "data_bits = 7\ndevice", "from 8 to 8");
  expect_fault(line, "device", "unit = 248\ndevice", "from 1 to 247");
  expect_fault(kCells, "host", "unit = 250\nhost", "0 to 247, or 255");
  EXPECT_EQ(faults_of(kSound + changed("host", "unit = 255\nhost", kCells)), "");
  expect_fault(kCells + kDisplay, "\"cells\"", "\"display\"", "two instruments have the name");
  expect_fault(kDisplay, "\"display\"", "\"\"", "the name of an instrument is empty");
  expect_fault(kDisplay, "device", "every = 0.5\ndevice", "every is no time; a time with its unit");
  expect_fault(kDisplay, "device", "every = \"50 %s\"\ndevice", "every is no time");
  expect_fault(kDisplay, "device", "every = \"1 ms\"\ndevice", "from 50 ms to 1 min");
  expect_fault(kDisplay, "device", "timeout = \"1 min\"\ndevice", "from 50 ms to 30 s");
  expect_fault(kDisplay, "device", "every = \"5 s\"\nstale = \"3 s\"\ndevice",
               "stale is shorter than every");
}

TEST(InstrumentFault, TakesManyRegistersAndNotWithoutEnd) {
  std::string many = kCells.substr(0, kCells.find("[[instrument.register]]"));
  for (int i = 0; i < 201; ++i) {
    many += "[[instrument.register]]\nplace = \"1L\"\nvalue = \"mV\"\naddress = " +
            std::to_string(2 * i) + "\ntype = \"int32\"\n";
  }
  EXPECT_NE(faults_of(kSound + many).find("201 registers in one instrument; at most 200"),
            std::string::npos);
  std::string instruments;
  for (int i = 0; i < 33; ++i) instruments += kDisplay;
  EXPECT_NE(faults_of(kSound + instruments).find("33 instruments; at most 32"), std::string::npos);
}

}  // namespace
}  // namespace weighwright::deck
