#include <algorithm>
#include <cstddef>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "record/readers.h"
#include "record/typed_number.h"
#include "units/diagnostic.h"

namespace weighwright::record {

namespace {

using units::quote;
using units::StandIndex;

constexpr double kLargestReading = 1e9;
constexpr double kLargestTurns = 1000.0;
constexpr double kLargestLength_mm = 1000.0;
constexpr double kLargestExcitation_V = 50.0;

class SharingReader : private RowReader {
 public:
  using RowReader::RowReader;

  Measurement read() {
    switch (header().kind) {
      case FileKind::turns:
        return read_turns();
      case FileKind::heights:
        return read_heights();
      case FileKind::gaps:
        return read_gaps();
      case FileKind::map:
        return read_map();
      default:
        return read_readings();
    }
  }

 private:
  ReadingSet read_readings() {
    ReadingSet set{header().unit, {}, file()};
    for (const Row& row : rows()) {
      const std::optional<StandIndex> stand = read_stand_once(row);
      std::optional<StandReading> reading = read_reading(row);
      if (!stand || !reading) continue;
      reading->stand = *stand;
      set.stands.push_back(*reading);
    }
    std::sort(set.stands.begin(), set.stands.end(),
              [](const StandReading& a, const StandReading& b) { return a.stand < b.stand; });
    require_every_stand("reading");
    return set;
  }

  std::optional<StandReading> read_reading(const Row& row) {
    static constexpr NumberLimits kReading{-kLargestReading, kLargestReading,
                                           "a reading below 1e9"};
    StandReading reading;
    const Field& typed = *find(row, Column::reading);
    reading.line = typed.line;
    const std::optional<double> value = number(row, Column::reading, kReading);
    if (typed.text.empty()) {
      fault(typed, "there is no reading", "a number; 0 if the cell reads 0");
    }
    reading.no_load = number(row, Column::no_load, kReading);
    reading.gap_mm = number(row, Column::gap_mm, kGap);
    reading.excitation_V =
        number(row, Column::excitation_V, {0.1, kLargestExcitation_V, "volts, from 0.1 to 50"});
    const std::optional<double> resolution = number(
        row, Column::resolution, {1e-9, kLargestReading, "one step of the display, above 0"});
    reading.noise =
        number(row, Column::noise, {0.0, kLargestReading, "a standard deviation, 0 or above"});
    if (!value) return std::nullopt;
    reading.value = *value;
    reading.resolution = resolution.value_or(last_digit(typed.text));
    return reading;
  }

  TurnSet read_turns() {
    TurnSet set{{}, file()};
    for (const Row& row : rows()) {
      const std::optional<StandIndex> stand = read_stand_once(row);
      const std::optional<StandTurn> turn = read_turn(row);
      if (!stand || !turn) continue;
      set.stands.push_back(*turn);
      set.stands.back().stand = *stand;
    }
    return set;
  }

  std::optional<StandTurn> read_turn(const Row& row) {
    StandTurn turn;
    turn.line = row.front().line;
    turn.turns =
        number(row, Column::turns, {-kLargestTurns, kLargestTurns, "turns, from -1000 to 1000"});
    turn.shim_mm = number(row, Column::shim_mm, kHeight);
    turn.until_touch = read_until(row);
    if (blank(row, Column::turns) == blank(row, Column::shim_mm)) {
      const bool none = blank(row, Column::turns);
      fault(row.front(),
            none ? "neither turns nor a shim on this line" : "turns and a shim on one line",
            "one of them for each stand; leave out stands that were not moved");
      return std::nullopt;
    }
    if (!turn.turns && !turn.shim_mm) return std::nullopt;
    return turn;
  }

  bool read_until(const Row& row) {
    const Field* const field = find(row, Column::until);
    if (field == nullptr || field->text.empty()) return false;
    if (field->text != "touch") {
      fault(*field, quote(field->text) + " is unknown here",
            "touch (turned by hand until the cell's reading began to change) or nothing");
    }
    return true;
  }

  HeightSet read_heights() {
    HeightSet set{std::vector<std::optional<double>>(static_cast<std::size_t>(2 * sections())),
                  file()};
    for (const Row& row : rows()) {
      const std::optional<StandIndex> stand = read_stand_once(row);
      const std::optional<double> height = number(row, Column::height_mm, kHeight);
      const Field& typed = *find(row, Column::height_mm);
      if (typed.text.empty()) {
        fault(typed, "there is no height", "a number in mm; leave out stands not surveyed");
      }
      if (stand && height) set.height_mm.at(static_cast<std::size_t>(stand->value)) = height;
    }
    return set;
  }

  GapSet read_gaps() {
    GapSet set{{}, file()};
    for (const Row& row : rows()) {
      const std::optional<GapPlace> place = read_support(row);
      const std::optional<double> gap_mm = number(row, Column::gap_mm, kGap);
      const Field& typed = *find(row, Column::gap_mm);
      if (typed.text.empty()) fault(typed, "there is no gap", "a number in mm; 0 if it presses");
      if (place && gap_mm) set.gaps.push_back({*place, *gap_mm, typed.line});
    }
    return set;
  }

  std::optional<GapPlace> read_support(const Row& row) {
    static constexpr std::string_view kBearing = "bearing";
    const Field& field = *find(row, Column::support);
    const std::string_view text = field.text;
    const bool is_bearing = text.starts_with(kBearing);
    const std::optional<StandIndex> label =
        units::parse_stand(is_bearing ? text.substr(kBearing.size()) : text);
    const bool exists = label && label->section().value < (is_bearing ? joints() : sections());
    if (!exists) {
      std::string right = "a stand (" + stands_of(sections()) + ")";
      if (joints() > 0) right += " or a bearing (bearing1L is the left one of joint 1)";
      fault(field,
            field.text.empty() ? "the support is missing" : "there is no support " + quote(text),
            right);
      return std::nullopt;
    }
    if (!first_time(field.text, field, "support")) return std::nullopt;
    if (!is_bearing) return GapPlace{false, *label, 0, units::Side::left};
    return GapPlace{true, {}, label->section().value, label->side()};
  }

  MapSet read_map() {
    MapSet set{{}, file()};
    for (const Row& row : rows()) {
      const std::optional<StandIndex> loaded = read_stand(row, Column::loaded);
      const std::optional<StandIndex> moved = read_stand(row, Column::moved);
      if (!loaded) continue;
      const Field& field = *find(row, Column::loaded);
      const auto [first, is_new] = line_of_loaded_.emplace(loaded->value, field.line);
      if (!is_new) {
        fault(field,
              "stand " + units::print(*loaded) + " was loaded twice, first on line " +
                  std::to_string(first->second),
              "one line for each stand that was loaded");
      } else if (moved) {
        set.loaded_and_moved.emplace_back(*loaded, *moved);
      }
    }
    return set;
  }

  static constexpr NumberLimits kGap{0.0, kLargestLength_mm, "mm, from 0 to 1000"};
  static constexpr NumberLimits kHeight{-kLargestLength_mm, kLargestLength_mm,
                                        "mm, from -1000 to 1000"};

  std::map<int, int> line_of_loaded_;
};

}  // namespace

Measurement read_sharing_file(Body body, FaultList& faults) {
  return SharingReader(std::move(body), faults).read();
}

}  // namespace weighwright::record
