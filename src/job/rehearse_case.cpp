#include "job/rehearse_case.h"

#include <fmt/format.h>

#include <charconv>
#include <stdexcept>
#include <utility>

#include "job/read_events.h"
#include "job/rehearse_commands.h"
#include "job/rehearse_words.h"
#include "rehearsal/practice.h"
#include "units/diagnostic.h"
#include "units/suggestion.h"

namespace weighwright::job {

using Answer = RehearseAnswer;

struct Rehearsal::State {
  InputFile deck_file;
  deck::Deck deck;
  std::uint64_t seed = 0;
  rehearsal::PracticeSite site;
  std::vector<std::string> done;
};

namespace {

using rehearsal::PracticeSite;

constexpr std::string_view kFirstLine = "weighwright practice site, format 1";
constexpr std::string_view kSumWord = "sum ";

Answer refused(const std::string& line, std::string what, std::string expected) {
  return {.view = {},
          .faults = {{.file = "command " + units::quote(line),
                      .line = 0,
                      .column = 0,
                      .what = std::move(what),
                      .expected = std::move(expected)}}};
}

Answer unknown(const std::string& line, const std::string& name) {
  std::vector<std::string_view> names;
  for (const RehearseCommand& command : rehearse_commands()) names.push_back(command.name);
  const auto near = units::nearest(name, names);
  return refused(line, "there is no command " + units::quote(name),
                 near ? "did you mean " + *near + "? help lists all" : "help lists all");
}

/// The command done on a copy, so that a site never stays half-way.
Answer done_on(PracticeSite& site,
               const std::string& line,
               Reader& reader,
               const RehearseDoing& act) {
  PracticeSite next = site;
  Answer answer;
  answer.view.emplace();
  answer.view->command = line;
  try {
    act(next, reader, *answer.view);
  } catch (const std::runtime_error& error) {
    // The deck could not stand like that.
    return refused(line, error.what(), "something that leaves the deck standing");
  } catch (const std::invalid_argument& error) {
    return refused(line, error.what(), "something that can be done; see help");
  }
  if (reader.refusal()) {
    return refused(line, reader.refusal()->what, reader.refusal()->expected);
  }
  site = std::move(next);
  return answer;
}

std::uint64_t sum_of(std::string_view text) {
  std::uint64_t sum = 0xcbf29ce484222325ULL;  // FNV-1a, 64 bits (from memory, unverified)
  for (const char c : text) {
    sum ^= static_cast<unsigned char>(c);
    sum *= 0x100000001b3ULL;
  }
  return sum;
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::size_t start = 0;
  while (start < text.size()) {
    const std::size_t end = std::min(text.find('\n', start), text.size());
    lines.push_back(text.substr(start, end - start));
    start = end + 1;
  }
  return lines;
}

units::Diagnostic damaged(const InputFile& file, int line, std::string what) {
  return {.file = file.name,
          .line = line,
          .column = 0,
          .what = std::move(what),
          .expected = "a practice site as rehearse --site keeps it, untouched; or a new file name"};
}

}  // namespace

Rehearsal::Rehearsal(std::unique_ptr<State> state) : state_(std::move(state)) {}
Rehearsal::~Rehearsal() = default;
Rehearsal::Rehearsal(Rehearsal&&) noexcept = default;
Rehearsal& Rehearsal::operator=(Rehearsal&&) noexcept = default;

RehearseAnswer Rehearsal::command(const std::string& line) {
  Words words = words_of(line);
  if (words.empty()) return {};
  const std::string clean = joined(words);
  const RehearseCommand* const command = find_rehearse_command(words.front());
  if (command == nullptr) return unknown(clean, words.front());
  if (!command->act) {
    return refused(clean, "the command needs a file", std::string(command->how));
  }
  Reader reader(state_->deck, Words(words.begin() + 1, words.end()));
  Answer answer = done_on(state_->site, clean, reader, command->act);
  if (answer.view && command->changes) state_->done.push_back(clean);
  return answer;
}

std::optional<std::string> Rehearsal::file_of(const std::string& line) {
  const Words words = words_of(line);
  if (words.size() != 2 || (words[0] != "turns" && words[0] != "trims")) return {};
  return words[1];
}

RehearseAnswer Rehearsal::command(const std::string& line, const InputFile& file) {
  const Words words = words_of(line);
  const Events events = read_events(state_->deck, {file});
  if (!events.faults.empty()) return {.view = {}, .faults = events.faults};
  // What is in the file becomes a command of its own, so that the kept site needs no other file.
  std::string told;
  if (const auto* turns = std::get_if<record::TurnSet>(&events.list.front());
      turns != nullptr && words.front() == "turns") {
    for (const record::StandTurn& turn : turns->stands) {
      if (turn.until_touch) {
        return refused(line, "turning until it touches is not for a practice site",
                       "turns, as 0.75");
      }
      if (told.empty()) told = turn.shim_mm ? "shim" : "turn";
      told += " " + units::print(turn.stand) + " " +
              units::print_exact(turn.shim_mm.value_or(turn.turns.value_or(0.0)));
    }
  }
  if (const auto* trims = std::get_if<record::TrimSet>(&events.list.front());
      trims != nullptr && words.front() == "trims") {
    told = "trim";
    for (const record::TrimMove& move : trims->moves) {
      told += move.place.is_section ? fmt::format(" section {}", move.place.section.value + 1)
                                    : " " + units::print(move.place.stand);
      if (move.factor) told += " factor " + units::print_exact(*move.factor);
      if (move.ohm) told += " " + units::print_exact(*move.ohm) + " ohm";
      if (move.turns) told += " " + units::print_exact(*move.turns);
    }
  }
  if (told.empty()) {
    return refused(line, "the file holds no " + words.front(),
                   words.front() == "turns" ? "a file stand,turns or stand,shim_mm"
                                            : "a file trim,turns or trim,ohm or trim,factor");
  }
  return command(told);
}

const rehearsal::PracticeSite& Rehearsal::truth() const {
  return state_->site;
}

std::string Rehearsal::kept() const {
  std::string text(kFirstLine);
  text += fmt::format("\nseed {}\n", state_->seed);
  std::size_t start = 0;
  const std::string& deck = state_->deck_file.text;
  while (start < deck.size()) {
    const std::size_t end = std::min(deck.find('\n', start), deck.size());
    text += "| " + deck.substr(start, end - start) + "\n";
    start = end + 1;
  }
  for (const std::string& line : state_->done) text += "> " + line + "\n";
  return text + fmt::format("{}{:016x}\n", kSumWord, sum_of(text));
}

struct RehearsalMaker {
  static Rehearsal make(std::unique_ptr<Rehearsal::State> state) {
    return Rehearsal(std::move(state));
  }
  static BegunRehearsal begin(const InputFile& deck, std::uint64_t seed) {
    LoadedDeck loaded = load_deck(deck);
    if (!loaded.ok()) return {.site = {}, .faults = std::move(loaded.faults)};
    PracticeSite site(*loaded.deck, {}, seed);
    return {.site = make(
                std::make_unique<Rehearsal::State>(Rehearsal::State{.deck_file = deck,
                                                                    .deck = std::move(*loaded.deck),
                                                                    .seed = seed,
                                                                    .site = std::move(site),
                                                                    .done = {}})),
            .faults = {}};
  }
  static const InputFile& deck_of(const Rehearsal& site) { return site.state_->deck_file; }
};

BegunRehearsal begin_rehearsal(const InputFile& deck,
                               std::uint64_t seed,
                               const std::vector<std::string>& first) {
  BegunRehearsal begun = RehearsalMaker::begin(deck, seed);
  if (!begun.site) return begun;
  for (const std::string& line : first) {
    const Answer answer = begun.site->command(line);
    begun.faults.insert(begun.faults.end(), answer.faults.begin(), answer.faults.end());
  }
  if (!begun.faults.empty()) begun.site.reset();
  return begun;
}

BegunRehearsal resume_rehearsal(const InputFile& kept, const InputFile& deck) {
  const std::vector<std::string> lines = lines_of(kept.text);
  if (lines.empty() || lines.front() != kFirstLine) {
    return {.site = {}, .faults = {damaged(kept, 1, "this is no practice site")}};
  }
  const std::size_t sum_at = kept.text.rfind(kSumWord);
  const bool whole = sum_at != std::string::npos && kept.text[sum_at - 1] == '\n' &&
                     kept.text.substr(sum_at) ==
                         fmt::format("{}{:016x}\n", kSumWord,
                                     sum_of(std::string_view(kept.text).substr(0, sum_at)));
  if (!whole) {
    return {.site = {},
            .faults = {damaged(kept, static_cast<int>(lines.size()),
                               "the practice site is damaged: its sum does not fit")}};
  }
  std::uint64_t seed = 0;
  InputFile inside{.name = kept.name, .text = ""};
  std::vector<std::pair<int, std::string>> done;
  for (std::size_t i = 1; i + 1 < lines.size(); ++i) {
    const std::string& line = lines[i];
    const int number = static_cast<int>(i) + 1;
    if (line.starts_with("seed ")) {
      const auto read = std::from_chars(line.data() + 5, line.data() + line.size(), seed);
      if (read.ec == std::errc{} && read.ptr == line.data() + line.size()) continue;
    } else if (line.starts_with("| ")) {
      inside.text += line.substr(2) + "\n";
      continue;
    } else if (line.starts_with("> ")) {
      done.emplace_back(number, line.substr(2));
      continue;
    }
    return {.site = {},
            .faults = {damaged(kept, number, units::quote(line) + " is not understood")}};
  }
  std::string given = deck.text;
  if (!given.ends_with('\n')) given += '\n';
  if (given != inside.text) {
    return {.site = {},
            .faults = {
                {.file = deck.name,
                 .line = 0,
                 .column = 0,
                 .what = "this is not the deck that the practice site " + kept.name + " began with",
                 .expected = "that deck file unchanged, or a new practice site"}}};
  }
  inside.name = deck.name;
  BegunRehearsal begun = RehearsalMaker::begin(inside, seed);
  if (!begun.site) return begun;
  for (const auto& [number, line] : done) {
    const Answer answer = begun.site->command(line);
    if (answer.view) continue;
    begun.faults.push_back(
        damaged(kept, number, "the command " + units::quote(line) + " can't be done any more"));
    begun.site.reset();
    return begun;
  }
  return begun;
}

}  // namespace weighwright::job
