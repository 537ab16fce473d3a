#include "job/stand_cells.h"

#include <utility>

#include "units/place.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

using How = SaidFigure::How;

/// Two serial numbers of two cells: what nobody knows is no other cell.
bool differ(const std::string& was, const std::string& is) {
  const auto known = [](const std::string& serial) {
    return !serial.empty() && serial != kUnknown;
  };
  return known(was) && known(is) && was != is;
}

void take_figure(SaidFigure& held, const SaidFigure& said) {
  if (said.how != How::unsaid) held = said;
}

/// A word of a later description that is another than before takes the place of what entries said.
void keep_unless_changed(SaidFigure& held, double was, double is) {
  if (was != is) held = {};
}

void put_figure(const SaidFigure& said, double& figure) {
  if (said.how == How::known) figure = said.value;
}

/// Which box the lead of each stand goes to; a box that names no stands has them all.
std::vector<int> boxes_of(const deck::Deck& deck) {
  std::vector<int> boxes(deck.stands.size(), 0);
  for (std::size_t box = 0; box < deck.boxes.size(); ++box) {
    for (const units::StandIndex stand : deck.boxes[box].stands) {
      boxes[static_cast<std::size_t>(stand.value)] = static_cast<int>(box);
    }
  }
  return boxes;
}

/// 0 means "not given" in a deck: nobody has to know it.
void put_resistance(const SaidFigure& said, double& figure) {
  if (said.how == How::known) figure = said.value;
  if (said.how == How::unknown) figure = 0.0;
}

std::string capacity_text(const deck::Deck& deck, double capacity_kg) {
  if (deck.units == deck::UnitSystem::us)
    return units::print_fixed(capacity_kg / units::kPound_kg, 0) + " lb";
  return units::print_exact(capacity_kg / 1000.0) + " t";
}

/// What a certificate states of one cell is not true of the next.
void forget_papers(deck::Cell& cell, bool other_capacity) {
  cell.zero_V_per_V.reset();
  if (!other_capacity) return;
  cell.min_interval_kg.reset();
  cell.max_intervals.reset();
  cell.least_load_kg.reset();
  cell.dead_load_return_kg.reset();
}

/// What is taken for granted of the cell under a stand.
void tell(const StandCells& stand,
          const NotKnown& lacks,
          const deck::Deck& deck,
          std::vector<deck::Assumed>& assumed) {
  const deck::Cell& cell = deck.stands[static_cast<std::size_t>(lacks.stand.value)].cell;
  const std::string key = "stand." + units::print(lacks.stand) + ".cell.";
  const std::string capacity = capacity_text(deck, cell.capacity_kg);
  if (lacks.capacity) {
    assumed.push_back({key + "capacity", "unknown; it gives way as one of " + capacity});
  } else if (stand.capacity_of_before) {
    assumed.push_back({key + "capacity", capacity + ", as the cell before it"});
  }
  if (lacks.output) {
    assumed.push_back({key + "output", "unknown"});
  } else if (stand.output_of_before) {
    assumed.push_back({key + "output", units::print_exact(cell.output_V_per_V * 1e3) +
                                           " mV/V, as the cell before it"});
  }
}

}  // namespace

std::vector<std::string> stands_without_serial(const std::vector<StandCells>& cells) {
  std::vector<std::string> stands;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    if (!cells[i].now().serial.empty()) continue;
    stands.push_back(units::print(units::StandIndex{static_cast<int>(i)}));
  }
  return stands;
}

/// The new one is on the old one's terminal until somebody says otherwise.
void CellBook::change(StandCells& stand, int line) {
  const std::string terminal = stand.now().terminal;
  stand.list.push_back(
      {.line = line, .put_in = true, .serial = {}, .certificate = {}, .terminal = terminal});
  stand.capacity_of_before = true;
  stand.output_of_before = true;
  stand.cell_from = line;
  stand.lead_from = line;
}

/// A terminal carries one lead: who had it before lost it.
void CellBook::connect(std::size_t stand, int line, const std::string& terminal) {
  if (terminal.empty() || terminal == kUnknown) return;
  std::string& own = stands_[stand].list.back().terminal;
  if (!own.empty() && own != terminal) stands_[stand].lead_from = line;
  own = terminal;
  for (std::size_t i = 0; i < stands_.size(); ++i) {
    if (i == stand || boxes_[i] != boxes_[stand]) continue;
    if (stands_[i].now().terminal != terminal) continue;
    stands_[i].lead_from = line;
    stands_[i].list.back().terminal.clear();
  }
}

bool CellBook::describe(int line, const deck::Deck& deck) {
  bool changed = false;
  stands_.resize(deck.stands.size());
  boxes_ = boxes_of(deck);
  for (std::size_t i = 0; i < stands_.size(); ++i) {
    StandCells& stand = stands_[i];
    const deck::Cell& cell = deck.stands[i].cell;
    const bool first = i >= described_.size();
    if (stand.list.empty()) stand.list.emplace_back();
    if (first) {
      stand.list.back().serial = cell.serial;
      stand.list.back().terminal = cell.terminal;
      continue;
    }
    const deck::Cell& was = described_[i];
    keep_unless_changed(stand.capacity, was.capacity_kg, cell.capacity_kg);
    keep_unless_changed(stand.output, was.output_V_per_V, cell.output_V_per_V);
    keep_unless_changed(stand.input_ohm, was.input_ohm, cell.input_ohm);
    keep_unless_changed(stand.output_ohm, was.output_ohm, cell.output_ohm);
    if (was.serial != cell.serial && differ(stand.now().serial, cell.serial)) {
      change(stand, line);
      stand.capacity_of_before = false;
      stand.output_of_before = false;
      changed = true;
    }
    if (was.serial != cell.serial && !cell.serial.empty()) stand.list.back().serial = cell.serial;
    if (was.terminal != cell.terminal) connect(i, line, cell.terminal);
  }
  described_.clear();
  for (const deck::Stand& stand : deck.stands) described_.push_back(stand.cell);
  return changed;
}

bool CellBook::take(int line, const CellEntry& entry) {
  said_ = true;
  const auto index = static_cast<std::size_t>(entry.stand->value);
  StandCells& stand = stands_[index];
  const bool another = entry.replaced || differ(stand.now().serial, entry.serial);
  if (another) change(stand, line);
  CellThere& cell = stand.list.back();
  if (cell.line < 0) cell.line = line;
  const bool names = !entry.serial.empty() && (entry.serial != kUnknown || cell.serial.empty());
  if (names) cell.serial = entry.serial;
  if (!entry.certificate.empty()) cell.certificate = entry.certificate;
  take_figure(stand.capacity, entry.capacity);
  take_figure(stand.output, entry.output);
  take_figure(stand.input_ohm, entry.input_ohm);
  take_figure(stand.output_ohm, entry.output_ohm);
  if (entry.capacity.how != How::unsaid) stand.capacity_of_before = false;
  if (entry.output.how != How::unsaid) stand.output_of_before = false;
  connect(index, line, entry.terminal);
  return another;
}

void CellBook::put_into(LoadedDeck& loaded) const {
  deck::Deck& deck = *loaded.deck;
  for (std::size_t i = 0; i < stands_.size() && i < deck.stands.size(); ++i) {
    const StandCells& stand = stands_[i];
    const units::StandIndex index{static_cast<int>(i)};
    deck::Cell& cell = deck.stands[i].cell;
    const double described_kg = cell.capacity_kg;
    put_figure(stand.capacity, cell.capacity_kg);
    put_figure(stand.output, cell.output_V_per_V);
    put_resistance(stand.input_ohm, cell.input_ohm);
    put_resistance(stand.output_ohm, cell.output_ohm);
    if (stand.now().serial != kUnknown) cell.serial = stand.now().serial;
    cell.terminal = stand.now().terminal;
    if (stand.cell_from >= 0) forget_papers(cell, cell.capacity_kg != described_kg);
    const NotKnown lacks{.stand = index,
                         .capacity = stand.capacity.how == How::unknown,
                         .output = stand.output.how == How::unknown};
    if (lacks.capacity || lacks.output) loaded.not_known.push_back(lacks);
    tell(stand, lacks, deck, loaded.assumed);
  }
}

}  // namespace weighwright::job
