#pragma once
/// The answer of the main job: what is believed, which screws to turn, what will then be read, or
/// that no screw will mend it and where to look. Numbers and codes only; sentences are made in job.
///
/// Signs: difference = left - right; raise and turns up positive; forces compressive positive.

#include <optional>
#include <string>
#include <vector>

#include "record/measurement.h"
#include "units/place.h"

namespace weighwright::share {

/// What was found wrong, or why something can't be judged. The first group is the contract's closed
/// list of `cannot_fix` codes.
enum class Code {
  section_sum,     // a section carries what its modules can't weigh (the screws can't change that)
  swapped_pair,    // a turn answered with the wrong sign, or at another stand
  wrong_capacity,  // readings fit if this cell's capacity or output is another common one
  reversed,        // negative reading: signal pair reversed
  dead_cell,       // reads its no-load value (or 0) where statics says it must carry
  bearing_open,    // a bearing hangs and the screws on hand can't land it
  stand_free,      // a stand carries nothing and the screws on hand can't land it
  touching,        // all section sums low: the deck rests on something else
  roll,            // the roll moment is not that of the deck
  unknown
};

/// The contract's spelling of a code ("section_sum").
[[nodiscard]] const char* print(Code code);

/// One thing that no screw mends.
struct CannotFix {
  Code code = Code::unknown;
  std::optional<units::SectionIndex> section;
  std::optional<units::StandIndex> stand;
  std::optional<int> joint;  // from 0
  std::optional<units::Side> side;
  double amount_N = 0.0;     // how much is missing (-) or too much (+), where it is a force
  double z = 0.0;            // how many standard deviations; 0 where that is no measure
  double probability = 0.0;  // among the explanations compared; 0 where none were
  double other_value = 0.0;  // wrong_capacity: the capacity that would fit, kg
  std::vector<units::StandIndex>
      alternatives;  // stands that the readings can't tell apart from `stand`; swapped_pair: the
                     // stand that it was exchanged with
  enum class Detail {
    none,
    box_mean,        // all stands alike though sections must differ: the box's mean was read
    beyond_output,   // beyond the cell's full output at this supply
    travel_used,     // the turns needed exceed the travel left
    not_adjustable,  // adjust = "none"
    no_shim_fits,
    stuck,         // turns made did nothing
    wrong_sign,    // turn answered the wrong way
    sums_low,      // the whole deck weighs too little
    volts_typed,   // readings a thousand times too small: volts in a column of millivolts
    foreign_load,  // a module weighs more than it can
    lost_load,     // a module weighs less than it can
    grout,         // the gap for grout of `stand` ends before the plan does
    no_plan        // no plan was found that is better than leaving it
  } detail = Detail::none;
  double wanted_m = 0.0;  // grout: how far the stand would have to go, up positive
  double left_m = 0.0;    // grout: how far it may, same sign
};

/// What was judged of the readings before any advice.
enum class Judgement { holds, fails, cannot_judge };

struct Invariant {
  Judgement verdict = Judgement::cannot_judge;
  double residual_N = 0.0;    // parity: N; roll: N (moment divided by the mean across)
  double u_residual_N = 0.0;  // standard deviation expected of a sound deck
  double hidden_N = 0.0;      // load that could stay unseen at one stand (2 sigma)
};

struct StandNow {
  units::StandIndex stand;
  double signal_V = 0.0;        // as read (mean of repeats), at `excitation_V`
  std::optional<double> net_V;  // no-load taken off, where it is known
  double force_N = 0.0;         // best estimate of the load
  double u_force_N = 0.0;
  double expected_V = 0.0;  // when the load is shared evenly left and right
  double expected_N = 0.0;
  double excitation_V = 0.0;
  double chance_free = 0.0;  // that this stand carries nothing
};

struct Pair {
  units::SectionIndex section;
  double left_V = 0.0;
  double right_V = 0.0;
  double difference_V = 0.0;  // left - right, net of no-load where known
  double tolerance_V = 0.0;
  double difference_N = 0.0;
  double share_of_mean = 0.0;  // |difference| / mean of the pair
  bool within = false;
  bool under_quarter = false;  // one stand under a quarter of the pair
  bool under_least = false;    // one stand under its cell's least load
};

/// One adjustment, to be made before the next lowering.
struct Move {
  units::StandIndex stand;
  bool shim = false;
  double turns = 0.0;           // of each screw; 0 for shims
  double raise_m = 0.0;         // of the stand top; shim: thickness added (-: taken out)
  std::vector<double> shims_m;  // which shims make it up (added or taken out)
  bool jack_first = false;
  double load_N = 0.0;       // on the stand before any move
  double torque_Nm = 0.0;    // to turn one screw under that load
  double jack_N = 0.0;       // to free this stand alone by a jack beside it; 0: not computed
  double section_N = 0.0;    // load of the whole section (both sides jacked together)
  double lift_m = 0.0;       // lift at which the stand is free
  double most_lift_m = 0.0;  // before something else opens
  std::string lift_limited_by;
  enum class Why { raise_light, lower_heavy, land_hanging, follow } why = Why::raise_light;
  std::optional<double> grout_m;  // gap under the plate afterwards; empty: no window, or shims
};

/// A stand whose gap for grout lies outside its window as things are.
struct GroutOut {
  units::StandIndex stand;
  double gap_m = 0.0;
};

/// What one stand will read after all moves.
struct Then {
  units::StandIndex stand;
  double signal_V = 0.0;    // as it will be read (zero included as in the last reading)
  double u_signal_V = 0.0;  // standard uncertainty
  double force_N = 0.0;
};

/// A measurement worth more than any calculation.
struct Ask {
  record::GapPlace place;
  enum class What { gap, touch, no_load, map, repeat } what = What::gap;
  double chance = 0.0;     // that the place hangs
  double gap_low_m = 0.0;  // 5 % and 95 % of what is believed of the gap
  double gap_high_m = 0.0;
};

/// What is believed of one body of the deck (a module, or modules joined rigidly).
struct BodyBelief {
  int first_module = 0;
  int last_module = 0;
  double twist_stiffness_N_per_m = 0.0;  // median; 0 where the body is not statically redundant
  double twist_spread = 1.0;             // one standard deviation is times or divided by this
  double twist_factor = 1.0;             // median, of what the deck file says (1: as described)
  double twist_spread_before = 1.0;      // as twist_spread, before any reading; 1: no influence
  double twist_mismatch_m = 0.0;         // mean: corner out of plane (pads or module twist)
  double u_twist_mismatch_m = 0.0;
};

struct OpenBelief {
  int joint = 0;
  units::Side side = units::Side::left;
  double chance = 0.0;
  double gap_m = 0.0;  // mean where open
};

enum class Outcome {
  in_tolerance,   // nothing to do
  turn,           // moves are given
  measure_first,  // readings can't be used as they are: see cannot_fix and asks
  cannot_fix      // no screw mends it
};

struct Advice {
  Outcome outcome = Outcome::measure_first;
  bool in_tolerance = false;
  bool map_proven = false;
  bool no_load_known = false;
  bool excitation_assumed = false;         // neither measured nor given in the deck file
  int readings = 0;                        // reading sets used
  std::vector<StandNow> now;               // every stand
  std::vector<double> section_N;           // measured sum of each section
  std::vector<double> section_expected_N;  // of the deck as described
  std::vector<Pair> pairs;
  Invariant parity;
  Invariant roll;
  std::vector<CannotFix> cannot_fix;
  std::vector<Move> moves;    // in order of doing, at most one per stand
  std::vector<Move> gentler;  // the same with smaller moves on more stands; may be empty
  std::optional<double>
      probability_done;  // after `moves`, turn error included; empty without moves
  std::optional<double> probability_gentler;
  std::vector<Then> then;  // every stand, after all moves (empty without moves)
  std::vector<Ask> asks;
  std::vector<BodyBelief> bodies;
  std::vector<OpenBelief> open_bearings;  // chance above 5 %
  std::vector<GroutOut> grout_out;
  bool one_at_a_time = false;  // the map is not proven: the plan was cut to one stand
  bool remapped = false;       // a map file showed exchanged stands; readings were put right
};

}  // namespace weighwright::share
