/// For tests with clients from outside: answers as the first instrument of a deck file does, with
/// the values of the command line (2L=1.087, "over" and "moving" behind a value), until standard
/// input ends.
#include <poll.h>

#include <fstream>
#include <iostream>
#include <iterator>
#include <string>
#include <vector>

#include "deck/reading/deck_file.h"
#include "link/answering.h"

namespace {

using weighwright::link::Shown;

Shown read_shown(const std::string& word) {
  const std::size_t equals = word.find('=');
  Shown shown{word.substr(0, equals), std::stod(word.substr(equals + 1)), false, false};
  shown.over = word.ends_with("over");
  shown.moving = word.ends_with("moving");
  return shown;
}

void wait_for_the_end() {
  pollfd input{0, POLLIN, 0};
  poll(&input, 1, -1);
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2) return 2;
  std::ifstream file(argv[1]);
  const std::string deck_text{std::istreambuf_iterator<char>(file), {}};
  const auto parsed = weighwright::deck::parse_deck(deck_text, "deck.toml");
  for (const auto& fault : parsed.faults) std::cerr << weighwright::units::print(fault) << '\n';
  if (!parsed.deck || parsed.deck->instruments.empty()) return 2;
  std::vector<Shown> shown;
  for (int i = 2; i < argc; ++i) shown.push_back(read_shown(argv[i]));
  const auto& instrument = parsed.deck->instruments.front();
  const auto now = [shown] { return shown; };
  if (weighwright::deck::is_modbus(instrument.kind)) {
    const weighwright::link::AnsweringModbus server(instrument, 0, now);
    std::cout << "port\t" << server.port() << '\n' << std::flush;
    wait_for_the_end();
  } else {
    const weighwright::link::AnsweringWeight server(
        {true, 0, true}, weighwright::deck::LiveUnit::kg, instrument.step_kg, 60000.0, now);
    std::cout << "port\t" << server.port() << "\ndevice\t" << server.device() << '\n' << std::flush;
    wait_for_the_end();
  }
  return 0;
}
