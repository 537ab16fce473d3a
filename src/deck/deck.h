#pragma once
/// What stands on the site: the deck as data, in coherent SI, every default filled in.
///
/// Nothing here computes. A Deck comes from a deck file (deck/reading) or is built by hand in a
/// test; every value that nobody gave is listed in `assumed`, so that each output can name what it
/// used. x from end 1 along the deck, y left positive, heights up positive, forces compressive
/// positive.

#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "deck/instrument.h"
#include "units/place.h"

namespace weighwright::deck {

inline constexpr double kRigid = std::numeric_limits<double>::infinity();

/// A default that was used: key as in the deck file ("module.A.twisting"), value as text with unit.
struct Assumed {
  std::string key;
  std::string value;
};

enum class Construction { open, cells, box, concrete, unknown };

/// One piece of deck between two joints (or ends).
struct Module {
  std::string mark;
  double length_m = 0.0;
  double width_m = 0.0;
  double mass_kg = 0.0;
  double mass_spread = 0.03;  // relative standard deviation of what is believed of the mass
  bool mass_given = false;
  double centre_m = 0.0;          // centre of gravity, from the module's end 1
  double centre_spread_m = 0.05;  // standard deviation
  bool centre_given = false;
  double side_spread_m = 0.01;  // standard deviation of the centre of gravity across
  Construction construction = Construction::cells;
  double slab_m = 0.0;           // concrete only
  bool poured = false;           // concrete only
  std::optional<bool> halves;    // came in two, bolted; no influence on statics; empty: not said
  double bending_Nm2 = 250e6;    // EI of the whole module, shared equally by its girders
  double twisting_Nm2 = 94e6;    // GJ of all girders together
  double twisting_spread = 1.6;  // one standard deviation is times or divided by this
  bool twisting_given = false;
  int crossbeams = 2;                     // at 0, L/(m-1), ..., L and nowhere else
  double crossbeam_bending_Nm2 = kRigid;  // EI of each; kRigid: by elimination of the freedom
  double crossbeam_twisting_Nm2 = 0.0;    // GJ of each
  std::vector<double> girders_m;          // y of every girder line, at least two, left positive
};

enum class JointKind { hinge, rigid, shared_stand };

/// Where two neighbouring modules meet.
struct Joint {
  JointKind kind = JointKind::hinge;
  /// hinge: the module whose bearings lie in the other's seats; empty: the one that presses down on
  /// its neighbour under dead load, found by statics.
  std::optional<units::ModuleIndex> resting;
  double across_m = 0.0;  // left to right bearing
  bool across_given = false;
};

/// A pair of stands across the deck.
struct Section {
  double at_m = 0.0;          // from end 1 of the deck
  units::ModuleIndex module;  // that rests on these stands; shared stand: the one nearer end 1
  double across_m = 0.0;      // left to right stand
};

/// A load cell, from its label or certificate.
struct Cell {
  double capacity_kg = 0.0;
  double output_V_per_V = 0.0;                // at capacity
  double input_ohm = 0.0;                     // 0: not given
  double output_ohm = 0.0;                    // 0: not given
  double deflection_m = 0.4e-3;               // at capacity
  std::optional<double> min_interval_kg;      // v_min
  std::optional<double> max_intervals;        // n_LC
  std::optional<double> least_load_kg;        // minimum dead load, E_min
  std::optional<double> zero_V_per_V;         // output with no load on it, from the certificate
  std::optional<double> dead_load_return_kg;  // DR
  std::optional<double> error_fraction;       // p_LC
  std::string accuracy_class;                 // of the cell's certificate, "C"; empty: not given
  std::optional<double> temperature_low_degC;
  std::optional<double> temperature_high_degC;
  std::optional<double> counts;  // counts at capacity of a digital cell
  std::string serial;
  std::string terminal;  // number at the box
  std::string address;   // of a digital cell
};

enum class Adjust { screws, shims, none };
enum class ScrewKind { jack, nut, unknown };  // jack: clockwise from above raises; nut: lowers

/// Plate, screws or shims under one cell.
struct Stand {
  Cell cell;
  Adjust adjust = Adjust::screws;
  std::vector<double> shims_m;  // on hand, ascending
  int screws = 4;
  ScrewKind screw_kind = ScrewKind::unknown;
  std::string thread = "M20";
  double pitch_m = 2.5e-3;
  double screw_diameter_m = 20e-3;
  int division = 8;               // parts of a turn that can be set
  double travel_down_m = -20e-3;  // from the screws' position at the first reading
  double travel_up_m = 20e-3;
  double foundation_N_per_m = kRigid;  // plate, screws and concrete together
  double plate_along_m = 0.25;         // distance of the screws along the deck
  double plate_across_m = 0.25;
  std::optional<double> grout_min_m;  // least and greatest gap under the plate for grout
  std::optional<double> grout_max_m;
  std::optional<double> grout_m;  // that gap at the first reading; empty: nobody measured it
};

/// How far the screws of a stand may go from where they stood at the first reading, m, up positive:
/// travel, and the gap for grout where both it and its limit are known (up: the gap grows).
struct ScrewWay {
  double down_m = 0.0;         // positive: the gap is too small as it stands
  double up_m = 0.0;           // negative: it is too great
  bool down_by_grout = false;  // the grout stops it before the screw does
  bool up_by_grout = false;
};
[[nodiscard]] ScrewWay screw_way(const Stand& stand);

/// What keeps the deck in its place along and across.
struct Restraint {
  enum class Kind { unknown, rods, gap };  // gap: bumpers, with air at both ends
  Kind kind = Kind::unknown;
  std::optional<double> gap_m;             // at each end, as the drawing says
  std::optional<double> temperature_degC;  // of the steel, that the gap is stated for
};

struct Cable {
  double length_m = 0.0;
  double area_m2 = 0.0;  // of one core
  int cores = 0;         // 4, or 6 with sense leads
};

/// A junction box. The first is the one that the indicator's cable ends in; each further one hangs
/// on the one before it by the link cable.
struct Box {
  std::vector<units::StandIndex> stands;  // empty: all
  std::string trims = "none";             // signal | excitation | digital | section | none
};

/// What the indicator's approval and manual state, for the module compatibility check.
struct Indicator {
  int sense_cores = 0;                 // 4 or 6 as it is wired; 0: as the home cable has
  std::optional<double> input_ohm;     // of its signal input
  std::optional<double> load_low_ohm;  // R_L,min, R_L,max of the supply
  std::optional<double> load_high_ohm;
  std::optional<double> dead_load_low_V;  // U_min ... of the signal at dead load
  std::optional<double> dead_load_high_V;
  std::optional<double> max_intervals;        // n_ind
  std::string accuracy_class;                 // empty: not given
  std::optional<double> error_fraction;       // p_ind
  std::optional<double> longest_cable_per_m;  // greatest length over area, m/m2
  std::optional<double> temperature_low_degC;
  std::optional<double> temperature_high_degC;
};

/// What is stated of the load receptor beside capacity and interval (Q of the compatibility check).
struct Receptor {
  std::optional<double> dead_load_kg;    // DL; empty: the modules' masses
  std::optional<double> zero_range_kg;   // IZSR, initial zero setting range
  std::optional<double> uneven_kg;       // NUD, non-uniform distribution
  std::optional<double> tare_kg;         // T+, additive tare
  std::optional<double> error_fraction;  // p of the connecting elements
};

/// What the trims of the boxes can do, and how corner adjustment is judged.
struct Trimming {
  enum class Start { unknown, least, middle };  // where the trims stand before the first move
  std::optional<double> range_ohm;              // both leads of one cell together, from end to end
  std::optional<double> range_share;            // or: change of the reading from end to end
  std::optional<double> turns;                  // of the trim from end to end
  std::optional<bool> clockwise_raises;         // the reading; empty: learned from the first move
  Start start = Start::unknown;
  std::optional<double> start_ohm;         // every trim alike
  bool attenuates = true;                  // the trims can only lower a reading from their least
  double step_turns = 0.25;                // what can be set of a turn
  double most = 0.01;                      // a demand above this is a fault, not an adjustment
  std::optional<double> repeatability_kg;  // standard deviation; empty: 0.3 d
  std::optional<double> spread_kg;         // wanted; empty: e
};

/// Where a load touches the deck, about its own centre.
struct Footprint {
  std::string name;  // "axle"
  struct Point {
    double along_m = 0.0;  // towards end 2
    double left_m = 0.0;
    double share = 0.0;  // of the load; all together 1
  };
  std::vector<Point> points;
};

/// How sharing is judged and planned. Source of each default: docs/deck-file.md.
struct Sharing {
  /// Greatest left-right difference of a pair: the smaller of the two that are set.
  std::optional<double> tolerance_V = 1e-3;     // common practice, no source
  std::optional<double> tolerance_share = 0.2;  // of the pair's mean
  double turn_error = 0.05;                     // relative standard deviation of a turn made
  double noise_V = 0.01e-3;            // standard deviation of a reading beside its resolution
  double heights_m = 4e-3;             // standard deviation of a stand top that nobody surveyed
  double survey_m = 1e-3;              // standard deviation of a surveyed height
  double module_twist_m = 1e-3;        // as-built: standard deviation of a corner out of plane
  double zero_spread = 0.01;           // of rated output, where no no-load reading was taken
  double sensitivity_spread = 0.0005;  // relative, of a cell within its papers
  double roll = 10e-3;                 // greatest change of cross level that a plan may make, m/m
  double turn_torque_Nm = 60.0;        // above this: jack first
  double top_line_m = 3e-3;            // a move above this gets a gentler alternative
};

struct Site {
  std::optional<double> latitude_rad;
  std::optional<double> altitude_m;
  std::optional<double> temperature_low_degC;
  std::optional<double> temperature_high_degC;
  double gravity_m_per_s2 = 9.80665;  // weights are mass times this
};

struct Range {
  double capacity_kg = 0.0;
  double interval_kg = 0.0;
};

/// What `ranges` of a deck are (R 76-1, T.3.2.6 and T.3.2.7).
enum class RangesKind {
  intervals,  // multi-interval: one weighing range whose e changes with the load, up and down
  ranges      // multiple range: each begins at zero; the upper one keeps its e until zero again
};

enum class UnitSystem { metric, us };  // which units texts are printed in

struct Deck {
  std::string name;
  std::string rulebook;        // "R76" or "H44"
  std::string accuracy_class;  // "III", "IIII", "III L", ...
  UnitSystem units = UnitSystem::metric;
  double capacity_kg = 0.0;                   // Max
  double interval_kg = 0.0;                   // e
  std::optional<double> display_interval_kg;  // d where it is not e
  std::vector<Range> ranges;
  RangesKind ranges_kind = RangesKind::intervals;  // no meaning where there are no ranges
  std::optional<double> clc_kg;
  Site site;
  std::vector<Module> modules;
  std::vector<Joint> joints;  // modules.size() - 1
  std::vector<Section> sections;
  std::vector<Stand> stands;                     // 2 * sections.size(), order 1L, 1R, 2L, ...
  std::optional<Cable> home_cable;               // box to indicator
  std::optional<Cable> link_cable;               // box to box, where there are several
  std::optional<Cable> cell_cable;               // cell to box
  std::optional<double> cable_temperature_degC;  // empty: 20 degC
  std::vector<Box> boxes;
  double excitation_V = 10.0;
  bool excitation_given = false;
  std::optional<double> min_signal_V;  // per interval
  Indicator indicator;
  Receptor receptor;
  Sharing sharing;
  Trimming trimming;
  Restraint restraint;
  std::vector<Footprint> footprints;
  std::vector<Instrument> instruments;  // read live; statics knows nothing of them
  std::vector<Assumed> assumed;
  std::string approval;  // type approval, from the data plate; empty: not given
  std::string serial;    // of the weighbridge; empty: not given

  [[nodiscard]] int stand_count() const { return static_cast<int>(stands.size()); }
  [[nodiscard]] double length_m() const {
    double sum = 0.0;
    for (const Module& module : modules) sum += module.length_m;
    return sum;
  }
  /// e at a load: that of the smallest range which holds it (multiple range: going up).
  [[nodiscard]] double interval_at_kg(double load_kg) const {
    for (const Range& range : ranges) {
      if (load_kg <= range.capacity_kg) return range.interval_kg;
    }
    return ranges.empty() ? interval_kg : ranges.back().interval_kg;
  }
  /// d at a load: what the display counts by there.
  [[nodiscard]] double display_at_kg(double load_kg) const {
    return display_interval_kg.value_or(interval_at_kg(load_kg));
  }
  /// d near zero.
  [[nodiscard]] double display_kg() const { return display_at_kg(0.0); }
  /// Whether the cells reach the indicator as numbers: a box says so, or no box is named and every
  /// cell has counts.
  [[nodiscard]] bool is_digital() const {
    bool named = false;
    for (const Box& box : boxes) {
      if (box.trims == "digital") return true;
      named = true;
    }
    if (named || stands.empty()) return false;
    for (const Stand& stand : stands) {
      if (!stand.cell.counts) return false;
    }
    return true;
  }
  /// x of the module's end 1.
  [[nodiscard]] double start_m(units::ModuleIndex module) const {
    double sum = 0.0;
    for (int i = 0; i < module.value; ++i) sum += modules[static_cast<std::size_t>(i)].length_m;
    return sum;
  }
  /// x of joint i (between modules i and i + 1).
  [[nodiscard]] double joint_m(int joint) const { return start_m(units::ModuleIndex{joint + 1}); }
  /// +across/2 for a left stand, -across/2 for a right one.
  [[nodiscard]] double stand_y_m(units::StandIndex stand) const {
    const double half = sections[static_cast<std::size_t>(stand.section().value)].across_m / 2.0;
    return stand.side() == units::Side::left ? half : -half;
  }
};

/// Gap to set at each end when the deck (steel, or concrete where every module is) has this
/// temperature, m: the drawing's, less half of what the whole deck has grown since. Empty: the deck
/// file does not say gap and temperature. Negative: the deck does not fit.
/// Expansion: 12e-6 per K of steel, 10e-6 of concrete (EN 1991-1-5:2003, table C.1; from memory,
/// unverified). Both ends take the same part: hand estimate, the deck floats between its bumpers.
[[nodiscard]] std::optional<double> end_gap_m(const Deck& deck, double temperature_degC);

}  // namespace weighwright::deck
