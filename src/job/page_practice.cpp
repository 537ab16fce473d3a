#include "job/page_practice.h"

#include <fmt/format.h>

#include <chrono>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <mutex>
#include <optional>
#include <system_error>
#include <utility>

#include "chance/counter_random.h"
#include "job/rehearse_case.h"
#include "job/rehearse_words.h"
#include "job/replace_file.h"
#include "link/answering.h"
#include "rehearsal/practice.h"
#include "signal/cell.h"
#include "units/place.h"

namespace weighwright::job {
namespace {

using Clock = std::chrono::steady_clock;
using rehearsal::PracticeSite;

constexpr double kSettles_s = 0.35;  // time constant of a deck and a filter after a change
constexpr const char* kIndication = "indication";

deck::LiveUnit unit_of(record::ReadingUnit unit) {
  switch (unit) {
    case record::ReadingUnit::mV:
      return deck::LiveUnit::mV;
    case record::ReadingUnit::mV_per_V:
      return deck::LiveUnit::mV_per_V;
    case record::ReadingUnit::counts:
      return deck::LiveUnit::counts;
    case record::ReadingUnit::kg:
      return deck::LiveUnit::kg;
    case record::ReadingUnit::lb:
      break;
  }
  return deck::LiveUnit::lb;
}

/// What a practice site is wired to when its deck file names no instrument.
std::vector<deck::Instrument> usual_instruments(const deck::Deck& deck,
                                                const PracticeSite::Wired& now) {
  deck::Instrument cells;
  cells.name = "cells";
  cells.kind = deck::LinkKind::modbus_tcp;
  for (int i = 0; i < deck.stand_count(); ++i) {
    deck::Register one;
    one.place = units::print(units::StandIndex{i});
    one.unit = unit_of(now.unit);
    one.address = 2 * i;
    one.type = deck::RegisterType::int32;
    one.scale = now.cell_step;
    cells.registers.push_back(one);
  }
  deck::Instrument indicator;
  indicator.name = "indicator";
  indicator.kind = deck::LinkKind::weight_tcp;
  indicator.step_kg = now.indication_step_kg;
  return {cells, indicator};
}

struct Standing {
  record::LoadPlace place;
  double load_kg = 0.0;
};

record::ReadingUnit reading_unit_of(deck::LiveUnit unit) {
  switch (unit) {
    case deck::LiveUnit::mV:
      return record::ReadingUnit::mV;
    case deck::LiveUnit::mV_per_V:
      return record::ReadingUnit::mV_per_V;
    case deck::LiveUnit::counts:
      return record::ReadingUnit::counts;
    case deck::LiveUnit::kg:
      return record::ReadingUnit::kg;
    case deck::LiveUnit::lb:
      break;
  }
  return record::ReadingUnit::lb;
}

/// What one unit of a cell's reading is in another; 1 where the deck does not say (counts).
double ratio_of(const deck::Deck& deck, int stand, deck::LiveUnit from, deck::LiveUnit to) {
  if (from == to) return 1.0;
  const deck::Cell& cell = deck.stands[static_cast<std::size_t>(stand)].cell;
  const auto newtons = [&](deck::LiveUnit unit) {
    return signal::newtons_per_unit(cell, reading_unit_of(unit), deck.excitation_V,
                                    deck.site.gravity_m_per_s2);
  };
  const std::optional<double> one = newtons(from);
  const std::optional<double> other = newtons(to);
  return one && other && *other != 0.0 ? *one / *other : 1.0;
}

/// The unit in which each place is shown.
struct ShownIn {
  std::vector<deck::LiveUnit> cells;  // by stand
  deck::LiveUnit indication = deck::LiveUnit::kg;
};

ShownIn shown_in(const deck::Deck& deck,
                 const deck::Instrument& instrument,
                 deck::LiveUnit cells,
                 deck::LiveUnit mass) {
  ShownIn in{.cells = std::vector<deck::LiveUnit>(deck.stands.size(), cells), .indication = mass};
  for (const deck::Register& one : instrument.registers) {
    const auto stand = units::parse_stand(one.place);
    if (!stand) {
      in.indication = one.unit;
    } else if (stand->value < deck.stand_count()) {
      in.cells[static_cast<std::size_t>(stand->value)] = one.unit;
    }
  }
  return in;
}

units::Diagnostic fault_of(const std::string& file, std::string what, std::string expected) {
  return {.file = file,
          .line = 0,
          .column = 0,
          .what = std::move(what),
          .expected = std::move(expected)};
}

}  // namespace

struct PagePracticeSite::State {
  mutable std::mutex mutex;
  PagePractice practice;
  std::optional<Rehearsal> site;
  std::optional<Standing> standing;
  PracticeSite::Wired now;
  PracticeSite::Wired before;
  Clock::time_point changed = Clock::now();
  chance::CounterRandom noise{1};
  std::vector<deck::Instrument> instruments;
  std::vector<std::string> answers_at;  // in words, for whoever wants to talk to them
  std::vector<std::unique_ptr<link::AnsweringModbus>> modbus;
  std::vector<std::unique_ptr<link::AnsweringWeight>> weights;

  [[nodiscard]] double since_change_s() const {
    return std::chrono::duration<double>(Clock::now() - changed).count();
  }

  /// The instruments see the site as it is from now on.
  void look() {
    before = now;
    changed = Clock::now();
    const Standing nothing;
    const Standing& load = standing ? *standing : nothing;
    now = site->truth().wired(load.place, load.load_kg);
  }

  std::vector<link::Shown> shown(const ShownIn& in) {
    const std::scoped_lock lock(mutex);
    const deck::Deck& deck = site->truth().described();
    const double since_s = since_change_s();
    const double old = before.cells.size() == 0 ? 0.0 : std::exp(-since_s / kSettles_s);
    std::vector<link::Shown> list;
    bool moving = false;  // as long as what is left of a change can be seen
    for (Eigen::Index i = 0; i < now.cells.size(); ++i) {
      const double last = old > 0.0 ? before.cells(i) : now.cells(i);
      const double still = now.cells(i) + old * (last - now.cells(i));
      moving |= old * std::abs(last - now.cells(i)) > now.cell_step;
      list.push_back({.place = units::print(units::StandIndex{static_cast<int>(i)}),
                      .value = (still + now.cell_noise(i) * noise.normal()) *
                               ratio_of(deck, static_cast<int>(i), unit_of(now.unit),
                                        in.cells[static_cast<std::size_t>(i)]),
                      .moving = false,
                      .over = false});
    }
    const double last = old > 0.0 ? before.indication_kg : now.indication_kg;
    const double kg = now.indication_kg + old * (last - now.indication_kg) +
                      now.indication_noise_kg * noise.normal();
    moving |= old * std::abs(last - now.indication_kg) > now.indication_step_kg / 2.0;
    const double most_kg = deck.capacity_kg;
    const double per_kg = in.indication == deck::LiveUnit::lb ? 1.0 / units::kPound_kg : 1.0;
    list.push_back({.place = kIndication,
                    .value = kg * per_kg,
                    .moving = moving,
                    .over = most_kg > 0.0 && kg > most_kg + 9.0 * now.indication_step_kg});
    for (link::Shown& one : list) one.moving = list.back().moving;
    return list;
  }

  /// The instruments of this deck, answering on loopback.
  void wire() {
    const deck::Deck& deck = site->truth().described();
    const bool us = deck.units == deck::UnitSystem::us;
    const deck::LiveUnit mass = us ? deck::LiveUnit::lb : deck::LiveUnit::kg;
    const double kg = us ? units::kPound_kg : 1.0;
    instruments = deck.instruments.empty() ? usual_instruments(deck, now) : deck.instruments;
    for (deck::Instrument& one : instruments) {
      const ShownIn in = shown_in(deck, one, unit_of(now.unit), mass);
      const auto show = [this, in] { return shown(in); };
      const bool modbus_kind =
          one.kind == deck::LinkKind::modbus_tcp || one.kind == deck::LinkKind::modbus_rtu;
      one.host = "127.0.0.1";
      if (modbus_kind) {
        modbus.push_back(std::make_unique<link::AnsweringModbus>(one, 0, show));
        one.kind = deck::LinkKind::modbus_tcp;
        one.port = modbus.back()->port();
        answers_at.push_back(
            fmt::format("{}: Modbus TCP 127.0.0.1:{}, unit {}, {} registers from {}", one.name,
                        one.port, one.unit, one.registers.size(), one.registers.front().address));
        continue;
      }
      const bool pty = one.kind == deck::LinkKind::weight_line;
      weights.push_back(std::make_unique<link::AnsweringWeight>(
          link::AnsweringWeight::Where{.tcp = true, .port = 0, .pty = true}, mass,
          now.indication_step_kg / kg, deck.capacity_kg / kg, show));
      if (pty) one.device = weights.back()->device();
      if (!pty) one.port = weights.back()->port();
      answers_at.push_back(fmt::format("{}: weight protocol, TCP 127.0.0.1:{}, serial line {}",
                                       one.name, weights.back()->port(), weights.back()->device()));
    }
  }
};

PagePracticeSite::PagePracticeSite(std::unique_ptr<State> state) : state_(std::move(state)) {}

PagePracticeSite::~PagePracticeSite() {
  // The servers ask this site: they go first.
  state_->modbus.clear();
  state_->weights.clear();
}

const std::vector<deck::Instrument>& PagePracticeSite::instruments() const {
  return state_->instruments;
}

std::vector<std::string> PagePracticeSite::answers_at() const {
  return state_->answers_at;
}

namespace {

std::optional<std::string> text_of(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  if (!file) return {};
  return std::string(std::istreambuf_iterator<char>(file), {});
}

BegunRehearsal begin(const PagePractice& practice, const std::vector<std::string>& first) {
  std::error_code ignored;
  if (practice.site_file.empty() || !std::filesystem::exists(practice.site_file, ignored)) {
    return begin_rehearsal(practice.deck, practice.seed, first);
  }
  const std::optional<std::string> kept = text_of(practice.site_file);
  if (!kept) {
    return {.site = {},
            .faults = {fault_of(practice.site_file, "the file can't be read",
                                "a file that this user may read")}};
  }
  return resume_rehearsal({.name = practice.site_file, .text = *kept}, practice.deck);
}

/// "stay 2L 10 t": where and how much. Empty and a fault when it can't be.
std::optional<Standing> read_stay(const PracticeSite& site,
                                  const std::string& line,
                                  units::Diagnostics& faults) {
  const Words words = words_of(line);
  Reader reader(site.described(), Words(words.begin() + 1, words.end()));
  Standing load;
  load.place = reader.place();
  load.load_kg = reader.mass_kg();
  reader.end();
  if (!reader.refusal()) {
    const std::string no = site.refuses_load(load.place, load.load_kg);
    if (no.empty()) return load;
    reader.refuse(no, site.grouted() ? "a place and a load that the deck can bear"
                                     : "grout first, and let it cure");
  }
  faults.push_back(fault_of("command " + units::quote(line), reader.refusal()->what,
                            reader.refusal()->expected));
  return {};
}

}  // namespace

PagePracticeSite::Opened PagePracticeSite::open(const PagePractice& practice,
                                                bool wired,
                                                const std::vector<std::string>& first) {
  BegunRehearsal begun = begin(practice, first);
  if (!begun.site) return {.site = nullptr, .faults = std::move(begun.faults)};
  auto state = std::make_unique<State>();
  state->practice = practice;
  state->site = std::move(begun.site);
  state->noise = chance::CounterRandom(practice.seed + 1);
  state->look();
  if (wired) {
    try {
      state->wire();
    } catch (const std::system_error& error) {
      return {.site = nullptr,
              .faults = {fault_of("practice site",
                                  std::string("its instruments can't answer: ") + error.what(),
                                  "a machine that lets a program listen on 127.0.0.1")}};
    }
  }
  return {.site = std::unique_ptr<PagePracticeSite>(new PagePracticeSite(std::move(state))),
          .faults = {}};
}

PagePracticeSite::Answers PagePracticeSite::command(const std::vector<std::string>& lines) {
  const std::scoped_lock lock(state_->mutex);
  const std::string kept = state_->site->kept();
  const std::optional<Standing> stood = state_->standing;
  Answers answers;
  for (const std::string& line : lines) {
    const Words words = words_of(line);
    if (!words.empty() && (words.front() == "stay" || words.front() == "drive-off")) {
      std::optional<Standing> load;
      if (words.front() == "stay") {
        load = read_stay(state_->site->truth(), line, answers.faults);
        if (!load) break;
      }
      state_->standing = load;
      report::RehearseView view;
      view.command = line;
      view.sentences = {load ? "The load stands there." : "The deck is empty."};
      answers.list.push_back(std::move(view));
      continue;
    }
    RehearseAnswer answer = state_->site->command(line);
    if (!answer.faults.empty()) {
      answers.faults = std::move(answer.faults);
      break;
    }
    if (answer.view) answers.list.push_back(std::move(*answer.view));
  }
  if (answers.faults.empty() && !state_->practice.site_file.empty() &&
      state_->site->kept() != kept) {
    answers.failed = replace_file(state_->practice.site_file, state_->site->kept());
  }
  if (!answers.faults.empty() || !answers.failed.empty()) {
    // As it was before the first line.
    BegunRehearsal again =
        resume_rehearsal({.name = "practice site", .text = kept}, state_->practice.deck);
    if (again.site) state_->site = std::move(again.site);
    state_->standing = stood;
    answers.list.clear();
    return answers;
  }
  state_->look();
  return answers;
}

}  // namespace weighwright::job
