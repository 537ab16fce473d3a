/// From a deck file's words to resistances.

#include <algorithm>
#include <string>

#include "signal/circuit.h"
#include "signal/conductor.h"
#include "units/quantity.h"

namespace weighwright::signal {
namespace {

constexpr double kUsual_ohm = 350.0;  // the usual bridge; common practice, no source

class Wirer {
 public:
  Wirer(const deck::Deck& deck, double cable_degC, std::vector<deck::Assumed>* assumed)
      : deck_(deck), cable_degC_(cable_degC), assumed_(assumed) {}

  Wiring wire() {
    Wiring wiring;
    wiring.supply_V = deck_.excitation_V;
    if (!deck_.excitation_given) assume("indicator.excitation", deck_.excitation_V, " V");
    wiring.home_ohm = ohm_of(deck_.home_cable, "cable.home");
    wiring.sensed = is_sensed();
    if (deck_.indicator.input_ohm) wiring.indicator_ohm = *deck_.indicator.input_ohm;
    wire_boxes(wiring);
    wire_cells(wiring);
    if (has_copper_ && !deck_.cable_temperature_degC) {
      assume("cable.temperature", cable_degC_, " degC");
    }
    return wiring;
  }

 private:
  void assume(std::string key, std::string value) {
    if (assumed_ != nullptr) assumed_->push_back({std::move(key), std::move(value)});
  }
  void assume(std::string key, double value, const std::string& unit) {
    assume(std::move(key), units::print_exact(value) + unit);
  }

  double ohm_of(const std::optional<deck::Cable>& cable, const std::string& key) {
    if (!cable || cable->length_m == 0.0 || cable->area_m2 == 0.0) {
      assume(key, "no resistance");
      return 0.0;
    }
    has_copper_ = true;
    return core_ohm(cable->length_m, cable->area_m2, cable_degC_);
  }

  /// How it is wired counts; else how many cores the cable has; else four wires.
  bool is_sensed() {
    if (deck_.indicator.sense_cores != 0) return deck_.indicator.sense_cores == 6;
    if (deck_.home_cable && deck_.home_cable->cores != 0) return deck_.home_cable->cores == 6;
    assume("indicator.sense", "4 wires");
    return false;
  }

  void wire_boxes(Wiring& wiring) {
    wiring.boxes.resize(std::max<std::size_t>(deck_.boxes.size(), 1));
    if (wiring.boxes.size() < 2) return;
    const double link_ohm = ohm_of(deck_.link_cable, "cable.link");
    for (std::size_t b = 1; b < wiring.boxes.size(); ++b) wiring.boxes[b].link_ohm = link_ohm;
  }

  [[nodiscard]] int box_of(int stand) const {
    for (std::size_t b = 0; b < deck_.boxes.size(); ++b) {
      const auto& stands = deck_.boxes[b].stands;
      if (stands.empty() || std::ranges::count(stands, units::StandIndex{stand}) > 0) {
        return static_cast<int>(b);
      }
    }
    return 0;
  }

  void wire_cells(Wiring& wiring) {
    const double lead_ohm = ohm_of(deck_.cell_cable, "cable.cell");
    for (int s = 0; s < deck_.stand_count(); ++s) {
      const deck::Cell& cell = deck_.stands[static_cast<std::size_t>(s)].cell;
      WiredCell wired;
      wired.rated_N = cell.capacity_kg * units::kStandardGravity_m_per_s2;
      wired.output_V_per_V = cell.output_V_per_V;
      wired.zero_V_per_V = cell.zero_V_per_V.value_or(0.0);
      wired.lead_ohm = lead_ohm;
      wired.box = box_of(s);
      set_resistances(s, cell, wired);
      set_trims(wired);
      wiring.cells.push_back(wired);
    }
  }

  /// One of the two given: the other is taken as equal. None: the usual bridge.
  void set_resistances(int stand, const deck::Cell& cell, WiredCell& wired) {
    wired.input_ohm = cell.input_ohm > 0.0 ? cell.input_ohm : cell.output_ohm;
    wired.output_ohm = cell.output_ohm > 0.0 ? cell.output_ohm : cell.input_ohm;
    if (!(wired.input_ohm > 0.0)) wired.input_ohm = wired.output_ohm = kUsual_ohm;
    if (!(cell.input_ohm > 0.0)) assume_of_cell(stand, "input_resistance", wired.input_ohm);
    if (!(cell.output_ohm > 0.0)) assume_of_cell(stand, "output_resistance", wired.output_ohm);
  }

  /// Told once where no cell has it, else for every cell that lacks it.
  void assume_of_cell(int stand, const std::string& key, double ohm) {
    const auto lacks = [&](const deck::Stand& other) {
      const deck::Cell& cell = other.cell;
      return !((key == "input_resistance" ? cell.input_ohm : cell.output_ohm) > 0.0) &&
             cell.input_ohm == cell_of(stand).input_ohm &&
             cell.output_ohm == cell_of(stand).output_ohm;
    };
    if (std::ranges::all_of(deck_.stands, lacks)) {
      if (stand == 0) assume("cell." + key, ohm, " ohm");
      return;
    }
    assume("stand." + units::print(units::StandIndex{stand}) + ".cell." + key, ohm, " ohm");
  }

  [[nodiscard]] const deck::Cell& cell_of(int stand) const {
    return deck_.stands[static_cast<std::size_t>(stand)].cell;
  }

  void set_trims(WiredCell& wired) {
    if (deck_.boxes.empty()) return;
    const std::string& trims = deck_.boxes[static_cast<std::size_t>(wired.box)].trims;
    if (trims == "signal") wired.signal_trim_ohm = trim_start_ohm();
    if (trims == "excitation") wired.supply_trim_ohm = trim_start_ohm();
  }

  [[nodiscard]] double trim_start_ohm() const {
    const deck::Trimming& trimming = deck_.trimming;
    if (trimming.start_ohm) return *trimming.start_ohm;
    if (trimming.start == deck::Trimming::Start::middle && trimming.range_ohm) {
      return *trimming.range_ohm / 2.0;
    }
    return 0.0;
  }

  const deck::Deck& deck_;
  double cable_degC_;
  std::vector<deck::Assumed>* assumed_;
  bool has_copper_ = false;
};

}  // namespace

Wiring wire(const deck::Deck& deck, double cable_degC, std::vector<deck::Assumed>* assumed) {
  return Wirer(deck, cable_degC, assumed).wire();
}

}  // namespace weighwright::signal
