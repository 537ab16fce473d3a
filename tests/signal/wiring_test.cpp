/// From a deck to a circuit: what counts, and that what was assumed is told.

#include <gtest/gtest.h>

#include <algorithm>

#include "signal/circuit.h"
#include "signal/wirings.h"

namespace weighwright::signal::tests {
namespace {

deck::Deck deck_of(int stands) {
  deck::Deck deck;
  deck.stands.resize(static_cast<std::size_t>(stands));
  for (deck::Stand& stand : deck.stands) {
    stand.cell.capacity_kg = 25000;
    stand.cell.output_V_per_V = 2e-3;
    stand.cell.input_ohm = 775;
    stand.cell.output_ohm = 700;
  }
  return deck;
}

bool tells(const std::vector<deck::Assumed>& assumed, const std::string& key) {
  return std::ranges::any_of(assumed, [&](const deck::Assumed& one) { return one.key == key; });
}

TEST(Wiring, TakesCablesAndTrimsOfTheDeck) {
  deck::Deck deck = deck_of(4);
  deck.home_cable = deck::Cable{30, 0.5e-6, 6};
  deck.link_cable = deck::Cable{10, 0.75e-6, 6};
  deck.cell_cable = deck::Cable{10, 0.5e-6, 4};
  deck.boxes.resize(2);
  deck.boxes[0] = {{units::StandIndex{0}, units::StandIndex{1}}, "signal"};
  deck.boxes[1] = {{units::StandIndex{2}, units::StandIndex{3}}, "excitation"};
  deck.trimming.range_ohm = 20.0;
  deck.trimming.start = deck::Trimming::Start::middle;
  const Wiring wiring = wire(deck, 20.0, nullptr);
  // IEC 60228 class 5: 39.0 ohm/km at 0.5 mm2, 26.0 at 0.75 mm2.
  EXPECT_NEAR(wiring.home_ohm, 1.17, 1e-12);
  EXPECT_TRUE(wiring.sensed);
  EXPECT_EQ(wiring.boxes[0].link_ohm, 0.0);
  EXPECT_NEAR(wiring.boxes[1].link_ohm, 0.26, 1e-12);
  EXPECT_EQ(wiring.cells[1].box, 0);
  EXPECT_EQ(wiring.cells[2].box, 1);
  EXPECT_NEAR(wiring.cells[2].lead_ohm, 0.39, 1e-12);
  EXPECT_EQ(wiring.cells[0].signal_trim_ohm, 10.0);
  EXPECT_EQ(wiring.cells[0].supply_trim_ohm, 0.0);
  EXPECT_EQ(wiring.cells[3].supply_trim_ohm, 10.0);
  EXPECT_NEAR(wiring.cells[3].rated_N, kRated25t_N, 1e-9);
}

TEST(Wiring, FollowsHowTheIndicatorIsWired) {
  deck::Deck deck = deck_of(2);
  deck.home_cable = deck::Cable{30, 0.5e-6, 6};
  deck.indicator.sense_cores = 4;
  EXPECT_FALSE(wire(deck, 20.0, nullptr).sensed);
}

TEST(Wiring, TellsWhatItAssumed) {
  deck::Deck deck = deck_of(4);
  for (deck::Stand& stand : deck.stands) stand.cell.input_ohm = stand.cell.output_ohm = 0.0;
  std::vector<deck::Assumed> assumed;
  const Wiring wiring = wire(deck, 20.0, &assumed);
  EXPECT_EQ(wiring.cells[3].input_ohm, 350.0);
  EXPECT_EQ(wiring.cells[3].output_ohm, 350.0);
  EXPECT_TRUE(tells(assumed, "cell.input_resistance"));
  EXPECT_TRUE(tells(assumed, "cell.output_resistance"));
  EXPECT_TRUE(tells(assumed, "cable.home"));
  EXPECT_TRUE(tells(assumed, "cable.cell"));
  EXPECT_FALSE(tells(assumed, "cable.temperature"));  // no copper, no temperature
  EXPECT_EQ(std::ranges::count_if(
                assumed, [](const deck::Assumed& one) { return one.key.starts_with("stand."); }),
            0);
}

TEST(Wiring, NamesTheOneCellThatSaysNothing) {
  deck::Deck deck = deck_of(4);
  deck.cell_cable = deck::Cable{10, 0.5e-6, 4};
  deck.stands[2].cell.input_ohm = 0.0;
  std::vector<deck::Assumed> assumed;
  EXPECT_EQ(wire(deck, 20.0, &assumed).cells[2].input_ohm, 700.0);
  EXPECT_TRUE(tells(assumed, "stand.2L.cell.input_resistance"));
  EXPECT_FALSE(tells(assumed, "cell.output_resistance"));
  EXPECT_TRUE(tells(assumed, "cable.temperature"));
}

}  // namespace
}  // namespace weighwright::signal::tests
