#include "job/live_limits.h"

#include <gtest/gtest.h>

#include <fstream>
#include <iterator>

#include "job/load_deck.h"

namespace weighwright::job {
namespace {

LoadedDeck example(const std::string& name) {
  std::ifstream file(WEIGHWRIGHT_SOURCE_DIR "/examples/" + name, std::ios::binary);
  return load_deck({.name = name, .text = {std::istreambuf_iterator<char>(file), {}}});
}

deck::Register place(const std::string& name, deck::LiveUnit unit) {
  deck::Register one;
  one.place = name;
  one.unit = unit;
  return one;
}

// examples/three-modules.toml: Max 60 t, e = 20 kg; cells of 25 t, 2 mV/V; 10 V. By hand: 20 mV at
// capacity, 30 mV at one and a half times that; 60,000 + 9 * 20 = 60,180 kg.
TEST(LiveLimits, AreThoseOfDeckAndCells) {
  const LoadedDeck loaded = example("three-modules.toml");
  ASSERT_TRUE(loaded.ok());
  deck::Instrument cells;
  cells.kind = deck::LinkKind::modbus_tcp;
  cells.registers = {place("1L", deck::LiveUnit::mV),         place("1R", deck::LiveUnit::mV_per_V),
                     place("2L", deck::LiveUnit::kg),         place("2R", deck::LiveUnit::counts),
                     place("indication", deck::LiveUnit::kg), place("9L", deck::LiveUnit::mV)};
  deck::Instrument display;
  display.kind = deck::LinkKind::weight_tcp;
  display.step_kg = 50.0;
  const auto limits = live_limits(*loaded.deck, {cells, display});
  ASSERT_EQ(limits.size(), 2U);
  ASSERT_EQ(limits[0].size(), 6U);
  EXPECT_NEAR(limits[0][0].most, 30.0, 1e-9);
  EXPECT_NEAR(limits[0][0].least, -30.0, 1e-9);
  EXPECT_NEAR(limits[0][0].quiet, 0.01, 1e-9) << "of a hand meter, where the file says nothing";
  EXPECT_NEAR(limits[0][1].most, 3.0, 1e-9);
  EXPECT_NEAR(limits[0][1].quiet, 0.001, 1e-9);
  EXPECT_NEAR(limits[0][2].most, 37'500.0, 1e-6);
  EXPECT_NEAR(limits[0][2].quiet, 12.5, 1e-6) << "0.01 mV of 20 mV, of 25 t";
  EXPECT_EQ(limits[0][3].most, 0.0) << "counts at capacity are not given";
  EXPECT_NEAR(limits[0][4].most, 90'000.0, 1e-6);
  EXPECT_NEAR(limits[0][4].explained_most, 60'180.0, 1e-6);
  EXPECT_NEAR(limits[0][4].explained_least, -60'180.0, 1e-6);
  EXPECT_NEAR(limits[0][4].step, 20.0, 1e-9);
  EXPECT_EQ(limits[0][5], link::PlaceLimits{}) << "there is no such stand";
  ASSERT_EQ(limits[1].size(), 1U);
  EXPECT_NEAR(limits[1][0].step, 50.0, 1e-9) << "the display counts by more than d";
}

}  // namespace
}  // namespace weighwright::job
