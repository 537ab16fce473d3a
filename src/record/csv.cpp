#include "record/csv.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstddef>
#include <map>
#include <set>
#include <string>
#include <system_error>
#include <utility>
#include <vector>

#include "record/csv_table.h"
#include "record/fault_list.h"
#include "record/header.h"

namespace weighwright::record {

namespace {

using units::quote;
using units::StandIndex;

constexpr double kLargestReading = 1e9;
constexpr double kLargestTurns = 1000.0;
constexpr double kLargestLength_mm = 1000.0;
constexpr double kLargestExcitation_V = 50.0;

std::string number_of(std::size_t count, std::string_view noun) {
  return std::to_string(count) + " " + std::string(noun) + (count == 1 ? "" : "s");
}

/// "1L, 1R, ... 4R".
std::string stands_of(int sections) {
  if (sections <= 0) return "none";
  if (sections == 1) return "1L, 1R";
  const std::string last = std::to_string(sections);
  return "1L, 1R, ... " + last + "L, " + last + "R";
}

bool looks_like_decimal_comma(std::string_view text) {
  const std::size_t comma = text.find(',');
  return comma != std::string_view::npos && comma > 0 && comma + 1 < text.size() &&
         text.find_first_not_of("0123456789,.+-") == std::string_view::npos;
}

/// The value of one of the last digit typed: "1.10" -> 0.01, "2.5e-3" -> 1e-4.
double last_digit(std::string_view typed) {
  const std::size_t exponent_at = typed.find_first_of("eE");
  const std::string_view mantissa = typed.substr(0, exponent_at);
  const std::size_t point = mantissa.find('.');
  const auto decimals =
      point == std::string_view::npos ? 0 : static_cast<int>(mantissa.size() - point) - 1;
  int exponent = 0;
  if (exponent_at != std::string_view::npos) {
    std::string_view digits = typed.substr(exponent_at + 1);
    if (digits.starts_with("+")) digits.remove_prefix(1);
    std::from_chars(digits.data(), digits.data() + digits.size(), exponent);
  }
  // parsed as text, so that "1.10" gives the double nearest to 0.01
  const std::string power = "1e" + std::to_string(std::clamp(exponent - decimals, -300, 300));
  double value = 0.0;
  std::from_chars(power.data(), power.data() + power.size(), value);
  return value;
}

/// Reads the rows below the header into one measurement.
class MeasurementReader {
 public:
  MeasurementReader(std::vector<Row> rows,
                    Header header,
                    std::string file,
                    int sections,
                    int joints,
                    FaultList& faults)
      : rows_(std::move(rows)),
        header_(std::move(header)),
        file_(std::move(file)),
        sections_(sections),
        joints_(joints),
        faults_(&faults) {}

  Measurement read() {
    check_widths();
    switch (header_.kind) {
      case FileKind::turns:
        return read_turns();
      case FileKind::heights:
        return read_heights();
      case FileKind::gaps:
        return read_gaps();
      case FileKind::map:
        return read_map();
      case FileKind::readings:
        break;
    }
    return read_readings();
  }

 private:
  void fault(const Field& at, std::string what, std::string expected) {
    faults_->add(at.line, at.column, std::move(what), std::move(expected));
  }

  /// Rows that have another number of fields than the header are told and left out.
  void check_widths() {
    const std::size_t width = header_.columns.size();
    std::vector<Row> good;
    for (Row& row : rows_) {
      if (row.size() == width) {
        good.push_back(std::move(row));
        continue;
      }
      std::string expected = "as many as the header has: " + number_of(width, "field");
      if (row.size() > width) expected += " (numbers are written with a point, not a comma)";
      fault(row.front(), number_of(row.size(), "field") + " on this line", expected);
      for (const Field& field : row) {
        if (const auto stand = units::parse_stand(field.text)) told_.insert(stand->value);
      }
    }
    rows_ = std::move(good);
  }

  [[nodiscard]] const Field* find(const Row& row, Column column) const {
    for (std::size_t i = 0; i < header_.columns.size(); ++i) {
      if (header_.columns[i] == column) return &row[i];
    }
    return nullptr;
  }

  [[nodiscard]] bool known(StandIndex stand) const { return stand.section().value < sections_; }

  std::optional<StandIndex> read_stand(const Row& row, Column column) {
    const Field& field = *find(row, column);
    const std::optional<StandIndex> stand = units::parse_stand(field.text);
    if (stand && known(*stand)) return stand;
    if (field.text.empty()) {
      fault(field, "the stand is missing", "one of " + stands_of(sections_));
      return std::nullopt;
    }
    std::string expected = "one of " + stands_of(sections_);
    std::string upper = field.text;
    for (char& c : upper) c = c == 'l' ? 'L' : c == 'r' ? 'R' : c;
    const std::optional<StandIndex> meant = units::parse_stand(upper);
    if (meant && known(*meant)) expected = "did you mean " + upper + "?";
    fault(field, "there is no stand " + quote(field.text), expected);
    return std::nullopt;
  }

  /// The stand of a row that may stand once only.
  std::optional<StandIndex> read_stand_once(const Row& row) {
    const std::optional<StandIndex> stand = read_stand(row, Column::stand);
    if (!stand) return std::nullopt;
    const Field& field = *find(row, Column::stand);
    const auto [first, is_new] = line_of_stand_.emplace(stand->value, field.line);
    if (is_new) return stand;
    fault(field,
          "stand " + units::print(*stand) + " stands twice, first on line " +
              std::to_string(first->second),
          "one line for each stand");
    return std::nullopt;
  }

  struct Limits {
    double lowest;
    double highest;
    std::string_view words;  // "from 0 to 50 V"
  };

  /// A number; empty (with a fault) when the text is none, empty without one when it is blank.
  std::optional<double> read_number(const Row& row, Column column, const Limits& limits) {
    const Field* const field = find(row, column);
    if (field == nullptr || field->text.empty()) return std::nullopt;
    std::string_view digits = field->text;
    if (digits.starts_with("\xE2\x88\x92")) {  // a true minus sign
      fault(*field, quote(digits) + " has a typographic minus sign", "write - from the keyboard");
      return std::nullopt;
    }
    if (digits.starts_with("+")) digits.remove_prefix(1);
    double value = 0.0;
    const auto result = std::from_chars(digits.data(), digits.data() + digits.size(), value);
    const bool all = result.ptr == digits.data() + digits.size();
    if (result.ec == std::errc::result_out_of_range && all) {
      fault(*field, quote(field->text) + " is beyond what can be measured",
            std::string(limits.words));
      return std::nullopt;
    }
    if (result.ec != std::errc{} || !all || !std::isfinite(value)) {
      fault(*field, not_a_number(field->text), number_hint(field->text));
      return std::nullopt;
    }
    if (value < limits.lowest || value > limits.highest) {
      fault(*field, quote(field->text) + " is out of range", std::string(limits.words));
      return std::nullopt;
    }
    return value;
  }

  static std::string not_a_number(std::string_view text) {
    if (looks_like_decimal_comma(text)) return "decimal comma in " + quote(text);
    return quote(text) + " is no number";
  }

  static std::string number_hint(std::string_view text) {
    if (looks_like_decimal_comma(text)) return "write the number with a point, as 1.09";
    if (!text.empty() && text.front() >= '0' && text.front() <= '9') {
      return "the number alone; its unit stands in the header";
    }
    return "a number such as 1.09; leave the line out rather than writing words";
  }

  ReadingSet read_readings() {
    ReadingSet set{header_.unit, {}, file_};
    for (const Row& row : rows_) {
      const std::optional<StandIndex> stand = read_stand_once(row);
      std::optional<StandReading> reading = read_reading(row);
      if (!stand || !reading) continue;
      reading->stand = *stand;
      set.stands.push_back(*reading);
    }
    std::sort(set.stands.begin(), set.stands.end(),
              [](const StandReading& a, const StandReading& b) { return a.stand < b.stand; });
    check_all_stands();
    return set;
  }

  std::optional<StandReading> read_reading(const Row& row) {
    static constexpr Limits kReading{-kLargestReading, kLargestReading, "a reading below 1e9"};
    StandReading reading;
    const Field& typed = *find(row, Column::reading);
    reading.line = typed.line;
    const std::optional<double> value = read_number(row, Column::reading, kReading);
    if (typed.text.empty()) {
      fault(typed, "there is no reading", "a number; 0 if the cell reads 0");
    }
    reading.no_load = read_number(row, Column::no_load, kReading);
    reading.gap_mm = read_number(row, Column::gap_mm, kGap);
    reading.excitation_V = read_number(row, Column::excitation_V,
                                       {0.1, kLargestExcitation_V, "volts, from 0.1 to 50"});
    const std::optional<double> resolution = read_number(
        row, Column::resolution, {1e-9, kLargestReading, "one step of the display, above 0"});
    if (!value) return std::nullopt;
    reading.value = *value;
    reading.resolution = resolution.value_or(last_digit(typed.text));
    return reading;
  }

  void check_all_stands() {
    std::string missing;
    for (int i = 0; i < 2 * sections_; ++i) {
      if (line_of_stand_.contains(i) || told_.contains(i)) continue;
      missing += (missing.empty() ? "" : ", ") + units::print(StandIndex{i});
    }
    if (missing.empty()) return;
    faults_->add(0, 0, "no reading of " + missing,
                 "one line for each stand: " + stands_of(sections_));
  }

  TurnSet read_turns() {
    TurnSet set{{}, file_};
    for (const Row& row : rows_) {
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
    turn.turns = read_number(row, Column::turns,
                             {-kLargestTurns, kLargestTurns, "turns, from -1000 to 1000"});
    turn.shim_mm = read_number(row, Column::shim_mm, kHeight);
    turn.until_touch = read_until(row);
    const auto blank = [&](Column column) {
      const Field* const field = find(row, column);
      return field == nullptr || field->text.empty();
    };
    if (blank(Column::turns) == blank(Column::shim_mm)) {
      const bool none = blank(Column::turns);
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
    HeightSet set{std::vector<std::optional<double>>(static_cast<std::size_t>(2 * sections_)),
                  file_};
    for (const Row& row : rows_) {
      const std::optional<StandIndex> stand = read_stand_once(row);
      const std::optional<double> height = read_number(row, Column::height_mm, kHeight);
      const Field& typed = *find(row, Column::height_mm);
      if (typed.text.empty()) {
        fault(typed, "there is no height", "a number in mm; leave out stands not surveyed");
      }
      if (stand && height) set.height_mm.at(static_cast<std::size_t>(stand->value)) = height;
    }
    return set;
  }

  GapSet read_gaps() {
    GapSet set{{}, file_};
    for (const Row& row : rows_) {
      const std::optional<GapPlace> place = read_support(row);
      const std::optional<double> gap_mm = read_number(row, Column::gap_mm, kGap);
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
    const bool exists = label && label->section().value < (is_bearing ? joints_ : sections_);
    if (!exists) {
      std::string right = "a stand (" + stands_of(sections_) + ")";
      if (joints_ > 0) right += " or a bearing (bearing1L is the left one of joint 1)";
      fault(field,
            field.text.empty() ? "the support is missing" : "there is no support " + quote(text),
            right);
      return std::nullopt;
    }
    const auto [first, is_new] = line_of_support_.emplace(field.text, field.line);
    if (!is_new) {
      fault(field, field.text + " stands twice, first on line " + std::to_string(first->second),
            "one line for each support");
      return std::nullopt;
    }
    if (!is_bearing) return GapPlace{false, *label, 0, units::Side::left};
    return GapPlace{true, {}, label->section().value, label->side()};
  }

  MapSet read_map() {
    MapSet set{{}, file_};
    for (const Row& row : rows_) {
      const std::optional<StandIndex> loaded = read_stand(row, Column::loaded);
      const std::optional<StandIndex> moved = read_stand(row, Column::moved);
      if (!loaded) continue;
      const Field& field = *find(row, Column::loaded);
      const auto [first, is_new] = line_of_stand_.emplace(loaded->value, field.line);
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

  static constexpr Limits kGap{0.0, kLargestLength_mm, "mm, from 0 to 1000"};
  static constexpr Limits kHeight{-kLargestLength_mm, kLargestLength_mm, "mm, from -1000 to 1000"};

  std::vector<Row> rows_;
  Header header_;
  std::string file_;
  int sections_;
  int joints_;
  FaultList* faults_;
  std::map<int, int> line_of_stand_;
  std::map<std::string, int> line_of_support_;
  std::set<int> told_;  // stands on lines that had a fault of their own
};

}  // namespace

ParsedMeasurement parse_measurement(std::string_view text,
                                    const std::string& file,
                                    int sections,
                                    int joints) {
  FaultList faults(file);
  std::vector<Row> rows = split_csv(text, faults);
  if (!faults.empty()) return {std::nullopt, faults.list()};
  std::optional<Header> header = parse_header(rows.front(), faults);
  if (!header) return {std::nullopt, faults.list()};
  if (rows.size() == 1) {
    faults.add(0, 0, "there is a header and nothing below it", "a line for each stand measured");
    return {std::nullopt, faults.list()};
  }
  rows.erase(rows.begin());
  Measurement measurement =
      MeasurementReader(std::move(rows), std::move(*header), file, sections, joints, faults).read();
  if (!faults.empty()) return {std::nullopt, faults.list()};
  return {std::move(measurement), {}};
}

}  // namespace weighwright::record
