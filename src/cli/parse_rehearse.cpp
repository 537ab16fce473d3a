// With parse_arguments.cpp and parse_job.cpp the only file that knows CLI11.
#include "cli/parse_rehearse.h"

#include <CLI/CLI.hpp>
#include <algorithm>

namespace weighwright::cli {
namespace {

constexpr const char* kRehearseFooter =
    R"(A practice site answers like a real one: cells, gaps, corners, meter, weather, and what is wrong.
  weighwright rehearse deck.toml                      commands from standard input, one a line; each
                                                      answer ends with a blank line; help lists them
  weighwright rehearse deck.toml --site p.site cells no-load > r1.csv      the site kept in a file
  weighwright share deck.toml r1.csv ...
  weighwright rehearse deck.toml --site p.site turn 2R 3/4 3L -1/2 > t1.csv
  weighwright rehearse deck.toml --wired              the same, and any Modbus or serial client may
                                                      read its cells and its display meanwhile
  weighwright rehearse deck.toml --site s.site --left-right --seed 7 --fault "end_packed end1"
Answers are files as share, trim, span, signal and job take them. Data of a practice site are invented.
Exit code: 0 done; 2 a command was refused (the site is as it was).)";

bool takes_value(const std::string& option) {
  return option == "--seed" || option == "--fault" || option == "--site";
}

}  // namespace

void add_rehearse(CLI::App& app, RehearseVerb& filled) {
  CLI::App* rehearse = app.add_subcommand(
      "rehearse", "a practice site that answers like a real one, faults included");
  rehearse->add_option("DECK", filled.deck, "deck file")->required();
  rehearse->add_option("--seed", filled.seed, "which site: the same number, the same site");
  rehearse->add_option("--fault", filled.faults, "\"CODE PLACE\", as often as wanted")
      ->allow_extra_args(false);
  rehearse->add_flag("--left-right", filled.left_right,
                     "begin with a deck that was left as it should be");
  rehearse->add_option("--site", filled.site, "file that keeps the practice site");
  rehearse->add_flag("--wired", filled.wired,
                     "its instruments answer meanwhile: Modbus TCP, and the weight protocol over "
                     "TCP and a serial line; where is told on standard error");
  rehearse->add_flag("--json", filled.json, "answers as JSON, one object a line");
  rehearse->footer(kRehearseFooter);
}

SplitRehearse split_rehearse(const std::vector<std::string>& arguments) {
  if (arguments.empty() || arguments.front() != "rehearse") return {arguments, {}};
  std::size_t i = 1;
  bool deck = false;
  for (; i < arguments.size(); ++i) {
    const std::string& argument = arguments[i];
    if (argument.size() > 1 && argument.front() == '-') {
      if (takes_value(argument)) ++i;
      continue;
    }
    if (deck) break;
    deck = true;
  }
  i = std::min(i, arguments.size());
  const auto cut = arguments.begin() + static_cast<std::ptrdiff_t>(i);
  SplitRehearse split{{arguments.begin(), cut}, {cut, arguments.end()}};
  // --json may stand at the end, as with every verb.
  if (std::erase(split.command, "--json") > 0) split.options.emplace_back("--json");
  return split;
}

}  // namespace weighwright::cli
