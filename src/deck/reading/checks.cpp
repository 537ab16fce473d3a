#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

#include "deck/reading/raw_deck.h"
#include "units/quantity.h"

namespace weighwright::deck::reading {

namespace {

constexpr double kStandsBeyondDeck_m =
    0.5;  // stands may reach out from under the deck this far in all

std::string metres(double value_m) {
  return units::print_exact(std::round(value_m * 1e4) / 1e4) + " m";
}

std::string kilograms(double value_kg) {
  return units::print_fixed(value_kg, 0) + " kg";
}

class Checks {
 public:
  Checks(const RawDeck& raw, FaultSink& sink) : raw_(&raw), deck_(&raw.deck), sink_(&sink) {}

  void check() {
    check_widths();
    check_girders();
    check_display();
    note_intervals();
    note_cells();
    note_grout();
    note_restraint();
  }

 private:
  void too_wide(Position at, const std::string& name, double across_m, const Module& module) {
    if (across_m <= module.width_m + kStandsBeyondDeck_m) return;
    sink_->fault(at,
                 name + ": across is " + metres(across_m) + ", but module " + module.mark + " is " +
                     metres(module.width_m) + " wide",
                 "across is the distance from left to right; width is that of the deck");
  }

  void check_widths() {
    for (std::size_t i = 0; i < deck_->sections.size(); ++i) {
      const Section& section = deck_->sections[i];
      const Module& module = deck_->modules[static_cast<std::size_t>(section.module.value)];
      too_wide(raw_->sections[i].at, "section " + std::to_string(i + 1), section.across_m, module);
    }
    for (std::size_t i = 0; i < deck_->joints.size(); ++i) {
      if (!deck_->joints[i].across_given) continue;
      too_wide(raw_->joints[i].at, "joint " + std::to_string(i + 1), deck_->joints[i].across_m,
               deck_->modules[i]);
    }
  }

  void check_girders() {
    for (std::size_t i = 0; i < deck_->modules.size(); ++i) {
      const Module& module = deck_->modules[i];
      const Position at = raw_->modules[i].at;
      std::vector<double> lines = module.girders_m;
      std::sort(lines.begin(), lines.end());
      const bool doubled = std::adjacent_find(lines.begin(), lines.end(), [](double a, double b) {
                             return b - a < 1.001e-3;
                           }) != lines.end();
      if (lines.size() < 2 || doubled) {
        sink_->fault(at,
                     "module " + module.mark + " has fewer than two girders at different places",
                     R"(write girders = ["1.2 m", "-1.2 m"], or leave it out)");
      } else if (lines.back() - lines.front() > module.width_m + kStandsBeyondDeck_m) {
        sink_->fault(at,
                     "the girders of module " + module.mark + " lie further apart than it is wide",
                     "places from the centre line, left positive");
      }
    }
  }

  /// OIML R 76-1:2006, clause 3.4.2: d < e <= 10 d where they differ.
  void check_display() {
    if (!deck_->display_interval_kg || *deck_->display_interval_kg <= deck_->interval_kg) return;
    sink_->fault({}, "display (d) is greater than the interval (e)",
                 "d is e, or finer than e; leave display out where they are the same");
  }

  void note_intervals() {
    const double count = deck_->capacity_kg / deck_->interval_kg;
    if (std::abs(count - std::round(count)) <= 1e-6 * count) return;
    sink_->note({}, "the capacity is not a whole number of intervals",
                "compare both with the data plate");
  }

  /// Together the cells carry the deck and Max, or they are too small.
  void note_cells() {
    double cells_kg = 0.0;
    for (const Stand& stand : deck_->stands) cells_kg += stand.cell.capacity_kg;
    double load_kg = deck_->capacity_kg;
    for (const Module& module : deck_->modules) load_kg += module.mass_kg;
    if (cells_kg >= load_kg) return;
    sink_->note({},
                "the cells together are too small: " + kilograms(cells_kg) +
                    " for a deck and Max of " + kilograms(load_kg),
                "compare the cells' labels with [cell] capacity");
  }

  static std::string millimetres(double value_m) {
    return units::print_exact(std::round(value_m * 1e4) / 10.0) + " mm";
  }

  void note_grout() {
    for (std::size_t i = 0; i < deck_->stands.size(); ++i) {
      const Stand& stand = deck_->stands[i];
      const std::string name = units::print(units::StandIndex{static_cast<int>(i)});
      const bool window = stand.grout_min_m || stand.grout_max_m;
      if (window && stand.adjust != Adjust::screws) {
        sink_->note({}, "grout_min and grout_max bound screws, and " + name + " has none",
                    "leave them out there");
      }
      if (!stand.grout_m || stand.adjust != Adjust::screws) continue;
      if (stand.grout_min_m && *stand.grout_m < *stand.grout_min_m) {
        sink_->note({},
                    name + ": the gap for grout, " + millimetres(*stand.grout_m) +
                        ", is less than grout_min, " + millimetres(*stand.grout_min_m),
                    "raise the stand, or the pad is chipped down");
      }
      if (stand.grout_max_m && *stand.grout_m > *stand.grout_max_m) {
        sink_->note({},
                    name + ": the gap for grout, " + millimetres(*stand.grout_m) +
                        ", is more than grout_max, " + millimetres(*stand.grout_max_m),
                    "lower the stand, or a plate is packed under it");
      }
    }
  }

  /// A deck that grows into its bumpers reads wrong.
  void note_restraint() {
    const auto& hot = deck_->site.temperature_high_degC;
    if (!hot) return;
    const auto gap_m = end_gap_m(*deck_, *hot);
    if (!gap_m || *gap_m > 0.0) return;
    sink_->note({},
                "[restraint]: at " + units::print_fixed(*hot, 0) +
                    " degC the deck has grown into both gaps",
                "compare gap and temperature with the drawing");
  }

  const RawDeck* raw_;
  const Deck* deck_;
  FaultSink* sink_;
};

}  // namespace

void check_whole(const RawDeck& raw, FaultSink& sink) {
  Checks(raw, sink).check();
}

}  // namespace weighwright::deck::reading
