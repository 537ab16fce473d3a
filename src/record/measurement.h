#pragma once
/// What can be measured or done while the load is shared, as values. No storage, no model.
///
/// Units are those of the person at the pit (mV, mm, turns), as typed; conversion to SI is done by
/// signal and share, which know the deck.

#include <optional>
#include <string>
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

using Measurement = std::variant<ReadingSet, TurnSet, HeightSet, GapSet, MapSet>;

}  // namespace weighwright::record
