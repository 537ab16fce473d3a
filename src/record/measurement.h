#pragma once
/// What can be measured or done while the load is shared, the corners are trimmed and the span is
/// set, as values. No storage, no model.
///
/// Units are those of the person at the pit (mV, mm, turns), as typed; conversion to SI is done by
/// signal and share, which know the deck.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "units/place.h"

namespace weighwright::record {

enum class ReadingUnit { mV, mV_per_V, counts, kg, lb };

/// What one stand read.
struct StandReading {
  units::StandIndex stand;
  double value = 0.0;                  // in the set's unit; negative is data (reversed polarity)
  std::optional<double> no_load;       // same unit, the cell unloaded
  std::optional<double> gap_mm;        // feeler gauge under a stand that reads nothing
  std::optional<double> excitation_V;  // measured at that cell
  double resolution = 0.0;             // same unit; by default one of the last digit typed
  std::optional<double> noise;         // same unit: standard deviation of `value` beside that
  int line = 0;                        // of the file, for messages
};

/// One reading of every stand.
struct ReadingSet {
  ReadingUnit unit = ReadingUnit::mV;
  std::vector<StandReading> stands;  // every stand exactly once, in stand order
  std::string source;                // file name
};

/// One stand turned or shimmed.
struct StandTurn {
  units::StandIndex stand;
  std::optional<double> turns;    // positive raises; of each of the stand's screws
  std::optional<double> shim_mm;  // positive raises
  bool until_touch = false;       // turned by hand until its cell began to change
  int line = 0;
};

struct TurnSet {
  std::vector<StandTurn> stands;  // a stand at most once; missing means not turned
  std::string source;
};

/// Surveyed stand tops against a common plane, up positive. Missing stands were not surveyed.
struct HeightSet {
  std::vector<std::optional<double>> height_mm;  // in stand order
  std::string source;
};

/// Where air was measured: under a free stand, or under a bearing of a joint.
struct GapPlace {
  bool is_bearing = false;
  units::StandIndex stand;               // when !is_bearing
  int joint = 0;                         // from 0; when is_bearing
  units::Side side = units::Side::left;  // when is_bearing
};

struct Gap {
  GapPlace place;
  double gap_mm = 0.0;  // 0: a feeler does not go in, the contact presses
  int line = 0;
};

struct GapSet {
  std::vector<Gap> gaps;
  std::string source;
};

/// Each stand loaded in turn: which reading moved.
struct MapSet {
  std::vector<std::pair<units::StandIndex, units::StandIndex>> loaded_and_moved;
  std::string source;
};

/// Where on the deck a load stood.
struct LoadPlace {
  enum class Kind { stand, section, span, point, deck };  // deck: nowhere in particular (no place)
  Kind kind = Kind::deck;
  units::StandIndex stand;      // stand: over it
  units::SectionIndex section;  // section: its middle; span: between it and the next, centre line
  double x_m = 0.0;             // point: from end 1
  double y_m = 0.0;             // point: left positive
  std::string typed;            // as it was written, "2L", "2-3"; empty for a point
};

enum class Going { unknown, up, down };  // the load before was smaller, or greater

/// One load on the deck and what the indicator showed. Masses in kg whatever was typed.
struct LoadReading {
  LoadPlace place;
  std::optional<double> load_kg;  // known; 0: the deck was empty (a zero reading)
  std::string load_id;            // names a load of unknown mass, the same wherever it is used
  std::string material;           // substitution: what lay on the deck beside the weights,
                                  // "m1" or "m1+m2"; empty: nothing
  double indication_kg = 0.0;
  std::optional<double> added_kg;        // small weights added until the display changed over
  std::optional<double> zero_before_kg;  // indication of the empty deck
  std::optional<double> zero_after_kg;
  std::optional<double> resolution_kg;  // of the indication, where the file has that column
  double last_digit_kg = 0.0;           // one of the last digit typed, of the indication
  std::string footprint;                // name; empty: a point
  Going going = Going::unknown;
  std::string test;  // which test or series; empty: none
  int line = 0;
};

/// Shift readings: the deck indicates, a load stands at several places.
struct ShiftSet {
  std::vector<LoadReading> readings;  // in the order in which they were taken
  bool us = false;                    // indications were typed in lb
  std::string source;
};

/// Loads on the deck as a whole: span, linearity, substitution. Places are Kind::deck.
struct LoadSet {
  std::vector<LoadReading> readings;
  bool us = false;
  std::string source;
};

/// A trim in the box, named by its stand, or by its section where it acts on both cells of one.
struct TrimPlace {
  bool is_section = false;
  units::StandIndex stand;
  units::SectionIndex section;
};

/// One trim set. Exactly one of the three.
struct TrimMove {
  TrimPlace place;
  std::optional<double> turns;   // clockwise positive, from where it stood
  std::optional<double> ohm;     // setting afterwards, both leads of the cell together
  std::optional<double> factor;  // setting afterwards
  int line = 0;
};

struct TrimSet {
  std::vector<TrimMove> moves;  // a trim at most once
  std::string source;
};

/// What a meter says of one cell, off the box, power off unless said. Empty: not measured.
struct CellElectrics {
  std::optional<double> input_ohm;   // E+ to E-
  std::optional<double> output_ohm;  // S+ to S-
  std::optional<double> e_plus_s_plus_ohm;
  std::optional<double> e_plus_s_minus_ohm;
  std::optional<double> e_minus_s_plus_ohm;
  std::optional<double> e_minus_s_minus_ohm;
  std::optional<double> insulation_ohm;  // all leads together to screen and body
  std::optional<double> test_V;          // at which the insulation was measured
  std::optional<double> zero_mV;         // power on, no load
  std::optional<double> mV;              // power on, under the dead load
  std::optional<double> excitation_V;    // power on, at these terminals
  std::optional<double> sense_V;         // box only: at the sense terminals of the indicator
  int line = 0;
  bool operator==(const CellElectrics&) const = default;
};

struct ElectricSet {
  std::vector<std::pair<units::StandIndex, CellElectrics>> stands;  // a stand at most once
  std::optional<CellElectrics> box;  // row "box": everything paralleled, at the home cable
  std::string source;
  bool operator==(const ElectricSet&) const = default;
};

/// Forces on stands, for what the cells then read.
struct ForceSet {
  std::vector<double> force_N;  // every stand
  std::string source;
};

/// One look at the zero of the display, the deck empty.
struct ZeroReading {
  /// What happened to the deck since the look before.
  enum class After { nothing, pass_1_to_2, pass_2_to_1, rocked, zeroed };
  double zero_kg = 0.0;
  double last_digit_kg = 0.0;          // one of the last digit typed
  std::optional<std::int64_t> time_s;  // local, since 1970-01-01T00:00; only differences count
  std::optional<double> temp_degC;     // of the air, or of the steel where that was measured
  std::optional<bool> rain;            // fell since the look before, or falls
  After after = After::nothing;
  int line = 0;
};

/// History of zero: drift, weather, passes.
struct ZeroSet {
  std::vector<ZeroReading> readings;  // in the order in which they were taken
  bool us = false;                    // typed in lb
  std::string source;
};

/// What somebody went and looked for: one line of the list in looks.h.
struct Look {
  std::string code;   // "feeler_plate"
  std::string where;  // "2L", "1" (end or joint or section), "B" (module), "" (the whole)
  bool found = false;
  int line = 0;
};

struct LookSet {
  std::vector<Look> looks;
  std::string source;
};

enum class Handling { hand, cart, crane, fork, vehicle };

/// A test weight, or a vehicle that serves as a load; `count` of the same kind in one line.
struct Weight {
  std::string id;  // "W1"
  int count = 1;
  double nominal_kg = 0.0;   // of one; of a vehicle about what it weighs
  std::string weight_class;  // "M1", "F", "n=3000"; empty: none is marked
  std::optional<double>
      conventional_kg;                   // of one, by certificate; empty: the nominal value is used
  std::optional<double> uncertainty_kg;  // expanded, of one, by certificate
  double coverage = 2.0;                 // its factor
  std::optional<double> density_kg_per_m3;
  std::string certificate;                  // number; empty: none
  std::string traced_to;                    // the standard it was compared with; empty: its own
  std::optional<std::int64_t> expires_day;  // days since 1970-01-01
  std::optional<double> length_m;           // footprint, along the deck
  std::optional<double> width_m;
  int axles = 0;                       // of a vehicle
  std::optional<double> axle_load_kg;  // of a vehicle or cart: the heaviest axle
  Handling handling = Handling::hand;
  int line = 0;
};

/// The weights and vehicles at hand.
struct WeightSet {
  std::vector<Weight> weights;
  bool us = false;  // typed in lb
  std::string source;
};

enum class Heading { none, to_end_2, to_end_1 };  // where a rolling load was going

/// One line of a test by a rulebook.
struct ProofReading {
  /// zero, eccentric, section, rolling, increasing, decreasing, repeatability, discrimination,
  /// strain, midspan, tare, indications, zero_range, overload (proof_checks).
  std::string check;
  LoadReading reading;  // load_kg: known load (weights); material: substitutes
  std::vector<std::string>
      weights;                     // ids of what stood there ("W1*3" is three of W1); may be empty
  std::optional<double> start_kg;  // strain: what was indicated before the known load came on
  std::optional<double> then_kg;   // discrimination: indicated after `added_kg` came on
  std::optional<double> other_kg;  // indications: what the other display or the printer showed
  std::string by;                  // overload: "setting" | "simulator", how it was found
  std::optional<int> range;        // from 1: the weighing range of a scale that has several
  Heading heading = Heading::none;
  int run = 1;                         // of a series that was repeated
  std::optional<std::int64_t> time_s;  // local, since 1970-01-01T00:00
  std::optional<int> offset_min;       // of that clock from UTC; empty: not stated
  std::optional<std::int64_t> day;     // since 1970-01-01, on which it was taken (result_days.h)
  std::string source;                  // its file, where lines of several stand in one set
};

struct ProofSet {
  std::vector<ProofReading> readings;  // in the order in which they were taken
  bool us = false;
  std::string source;
};

/// The codes that `check` may be.
[[nodiscard]] const std::vector<std::string_view>& proof_checks();

using Measurement = std::variant<ReadingSet,
                                 TurnSet,
                                 HeightSet,
                                 GapSet,
                                 MapSet,
                                 ShiftSet,
                                 LoadSet,
                                 TrimSet,
                                 ElectricSet,
                                 ForceSet,
                                 ZeroSet,
                                 LookSet,
                                 WeightSet,
                                 ProofSet>;

}  // namespace weighwright::record
