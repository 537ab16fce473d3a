/// For tests with servers from outside: reads the instruments of a deck file live and prints what
/// is seen, until standard input ends. Fields are separated by tabs.
#include <poll.h>

#include <array>
#include <cstdio>
#include <fstream>
#include <iostream>
#include <iterator>

#include "deck/reading/deck_file.h"
#include "link/station.h"

namespace {

using weighwright::link::InstrumentNow;
using weighwright::link::LiveValue;

constexpr std::array kStates = {"connecting", "connected", "waiting", "refused"};
constexpr std::array kQualities = {"silent", "stable", "moving", "stale", "bad"};
constexpr std::array kUnits = {"mV", "mV_per_V", "counts", "kg", "lb"};

std::string text(const std::optional<double>& value) {
  return value ? std::to_string(*value) : "none";
}

void print(const LiveValue& value) {
  std::cout << "value\t" << value.place << '\t' << kUnits[static_cast<std::size_t>(value.unit)]
            << '\t' << value.typed << '\t' << text(value.value) << '\t'
            << kQualities[static_cast<std::size_t>(value.quality)] << '\t' << value.resolution
            << '\t' << text(value.mean) << '\t' << value.says << '\n';
}

void print(const InstrumentNow& now) {
  std::cout << "instrument\t" << now.name << '\t' << kStates[static_cast<std::size_t>(now.state)]
            << '\t' << now.address << '\t' << now.says << '\n';
  for (const LiveValue& value : now.values) print(value);
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) return 2;
  std::ifstream file(argv[1]);
  const std::string deck_text{std::istreambuf_iterator<char>(file), {}};
  const auto parsed = weighwright::deck::parse_deck(deck_text, "deck.toml");
  for (const auto& fault : parsed.faults) std::cerr << weighwright::units::print(fault) << '\n';
  if (!parsed.deck) return 2;
  const weighwright::link::Station station(parsed.deck->instruments);
  pollfd input{0, POLLIN, 0};
  while (poll(&input, 1, 50) == 0) {
    for (const InstrumentNow& now : station.look()) print(now);
    std::cout << "end" << '\n' << std::flush;
  }
  return 0;
}
