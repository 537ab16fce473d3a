#include "record/load_rows.h"

#include <charconv>
#include <cmath>
#include <cstddef>
#include <system_error>
#include <utility>

#include "units/diagnostic.h"
#include "units/quantity.h"

namespace weighwright::record {

namespace {

using units::quote;

constexpr double kLargestPlace_m = 1000.0;

/// The number of a section, from 0; empty for anything else ("2L", "02", "-1").
std::optional<int> section_number(std::string_view text) {
  if (text.empty() || text.size() > 4 || text.front() == '0') return std::nullopt;
  int number = 0;
  const auto result = std::from_chars(text.data(), text.data() + text.size(), number);
  const bool all = result.ec == std::errc{} && result.ptr == text.data() + text.size();
  if (!all || number < 1) return std::nullopt;
  return number - 1;
}

}  // namespace

std::optional<LoadReading> LoadRowReader::read_reading(const Row& row,
                                                       Place place,
                                                       bool needs_load) {
  LoadReading reading;
  reading.line = row.front().line;
  const bool sound = read_load(row, needs_load, reading);
  const bool placed = read_place(row, place, reading);
  const bool indicated = read_indication(row, reading);
  read_beside(row, reading);
  if (!sound || !placed || !indicated) return std::nullopt;
  return reading;
}

// ----------------------------------------------------------------------------------- masses

/// @param unit  of the column, or of the indication for those that follow it
std::optional<MassField> LoadRowReader::mass(const Field& field,
                                             ColumnUnit unit,
                                             double lowest_kg) {
  MassField read = read_mass(field.text, unit);
  if (!read.what.empty()) {
    fault(field, read.what, read.expected);
    return std::nullopt;
  }
  if (read.mass_kg < lowest_kg || read.mass_kg > kLargestMass_kg) {
    fault(field, quote(field.text) + " is out of range",
          lowest_kg < 0.0 ? "from -1000 t to 1000 t" : "0 or more, at most 1000 t");
    return std::nullopt;
  }
  return read;
}

std::optional<double> LoadRowReader::optional_mass(const Row& row,
                                                   Column column,
                                                   ColumnUnit unit,
                                                   double lowest_kg) {
  if (blank(row, column)) return std::nullopt;
  const auto read = mass(*find(row, column), unit, lowest_kg);
  if (!read) return std::nullopt;
  return read->mass_kg;
}

/// Known by its mass or named by load_id, not both.
bool LoadRowReader::read_load(const Row& row, bool needed, LoadReading& reading) {
  reading.load_id = text(row, Column::load_id);
  reading.material = text(row, Column::material);
  if (needed && reading.load_id.empty() && blank(row, Column::load)) {
    fault(load_field(row), "the load is neither known nor named",
          "its mass, 0 for the empty deck, or a name in load_id (the same wherever it is used)");
    return false;
  }
  if (blank(row, Column::load)) return true;
  const Field& field = *find(row, Column::load);
  if (!reading.load_id.empty()) {
    fault(field, "the load is known (" + quote(field.text) + ") and named at once",
          "a mass, or a name in load_id for a load of unknown mass");
    return false;
  }
  if (field.text.starts_with('-')) {
    fault(field, "the load " + quote(field.text) + " is negative",
          "what stood on the deck, 0 when it was empty");
    return false;
  }
  const auto read = mass(field, header().unit_of(Column::load), 0.0);
  if (read) reading.load_kg = read->mass_kg;
  return read.has_value();
}

const Field& LoadRowReader::load_field(const Row& row) const {
  const Field* const field = find(row, Column::load);
  return field != nullptr ? *field : *find(row, Column::load_id);
}

bool LoadRowReader::read_indication(const Row& row, LoadReading& reading) {
  const Field& field = *find(row, Column::indication);
  if (field.text.empty()) {
    fault(field, "there is no indication", "what the indicator showed; 0 if it showed 0");
    return false;
  }
  const auto read = mass(field, header().unit_of(Column::indication), -kLargestMass_kg);
  if (!read) return false;
  reading.indication_kg = read->mass_kg;
  reading.last_digit_kg = read->last_digit_kg;
  us_ = us_ || read->us;
  return true;
}

void LoadRowReader::read_beside(const Row& row, LoadReading& reading) {
  const ColumnUnit unit = header().unit_of(Column::indication);
  reading.added_kg = optional_mass(row, Column::added, header().unit_of(Column::added), 0.0);
  reading.zero_before_kg = optional_mass(row, Column::zero_before, unit, -kLargestMass_kg);
  reading.zero_after_kg = optional_mass(row, Column::zero_after, unit, -kLargestMass_kg);
  reading.resolution_kg = optional_mass(row, Column::resolution, unit, 0.0);
  if (reading.resolution_kg == 0.0) {
    fault(*find(row, Column::resolution), "a resolution of 0", "one step of the display, above 0");
  }
  reading.footprint = text(row, Column::footprint);
  reading.test = text(row, Column::test);
  const std::string going = text(row, Column::going);
  if (going == "up") {
    reading.going = Going::up;
  } else if (going == "down") {
    reading.going = Going::down;
  } else if (!going.empty()) {
    fault(*find(row, Column::going), quote(going) + " is unknown here",
          "up (the load before was smaller), down, or nothing");
  }
}

// ----------------------------------------------------------------------------------- places

bool LoadRowReader::read_place(const Row& row, Place wanted, LoadReading& reading) {
  if (wanted == Place::none) return true;
  const bool may_miss = wanted == Place::optional || reading.load_kg == 0.0;
  if (header().has(Column::at)) return read_at(row, may_miss, reading.place);
  if (header().has(Column::x)) return read_point(row, may_miss, reading.place);
  if (may_miss) return true;
  fault("there is no place in this file", "a column at, or x and y");
  return false;
}

bool LoadRowReader::read_point(const Row& row, bool may_miss, LoadPlace& place) {
  const bool no_x = blank(row, Column::x);
  const bool no_y = blank(row, Column::y);
  if (no_x && no_y && may_miss) return true;
  if (no_x || no_y) {
    const Field& field = *find(row, no_x ? Column::x : Column::y);
    fault(field, no_x ? "there is no x" : "there is no y",
          "where the middle of the load stood; only a load of 0 needs no place");
    return false;
  }
  const auto x_m = read_length(*find(row, Column::x), header().unit_of(Column::x));
  const auto y_m = read_length(*find(row, Column::y), header().unit_of(Column::y));
  if (!x_m || !y_m) return false;
  place.kind = LoadPlace::Kind::point;
  place.x_m = *x_m;
  place.y_m = *y_m;
  return true;
}

std::optional<double> LoadRowReader::read_length(const Field& field, ColumnUnit unit) {
  if (unit == ColumnUnit::typed) {
    const units::Parsed parsed = units::parse(field.text, units::Kind::length);
    if (!parsed.ok()) {
      fault(field, parsed.what, parsed.expected);
      return std::nullopt;
    }
    if (std::abs(parsed.value) <= kLargestPlace_m) return parsed.value;
    fault(field, quote(field.text) + " is out of range", "from -1000 m to 1000 m");
    return std::nullopt;
  }
  if (unit == ColumnUnit::m) {
    return number(field, {-kLargestPlace_m, kLargestPlace_m, "metres, from -1000 to 1000"});
  }
  const auto feet = number(field, {-3000.0, 3000.0, "feet, from -3000 to 3000"});
  if (!feet) return std::nullopt;
  return *feet * units::kFoot_m;
}

bool LoadRowReader::read_at(const Row& row, bool may_miss, LoadPlace& place) {
  const Field& field = *find(row, Column::at);
  if (field.text.empty()) {
    if (may_miss) return true;
    fault(field, "there is no place", places() + "; only a load of 0 needs no place");
    return false;
  }
  place.typed = field.text;
  if (read_named_place(field.text, place)) return true;
  fault(field, "there is no place " + quote(field.text), hint(field.text));
  return false;
}

bool LoadRowReader::read_named_place(std::string_view text, LoadPlace& place) const {
  if (const auto stand = units::parse_stand(text)) {
    place.kind = LoadPlace::Kind::stand;
    place.stand = *stand;
    place.section = stand->section();
    return stand->section().value < sections();
  }
  const std::size_t dash = text.find('-');
  const auto first = section_number(text.substr(0, dash));
  if (!first || *first >= sections()) return false;
  place.section = units::SectionIndex{*first};
  place.kind = LoadPlace::Kind::section;
  if (dash == std::string_view::npos) return true;
  place.kind = LoadPlace::Kind::span;
  const auto second = section_number(text.substr(dash + 1));
  return second && *second == *first + 1 && *second < sections();
}

std::string LoadRowReader::places() const {
  const std::string last = std::to_string(sections());
  std::string all = "a stand (" + stands_of(sections()) + "), a section (1 to " + last + ")";
  if (sections() > 1) {
    all += " or a span between neighbours (1-2 to " + std::to_string(sections() - 1) + "-" + last +
           ")";
  }
  return all;
}

/// What was meant: a small letter, a span the wrong way round.
std::string LoadRowReader::hint(const std::string& text) const {
  std::string upper = text;
  for (char& c : upper) c = c == 'l' ? 'L' : c == 'r' ? 'R' : c;
  LoadPlace ignored;
  if (upper != text && read_named_place(upper, ignored)) return "did you mean " + upper + "?";
  const std::size_t dash = text.find('-');
  if (dash != std::string::npos) {
    const std::string turned = text.substr(dash + 1) + "-" + text.substr(0, dash);
    if (read_named_place(turned, ignored)) return "did you mean " + turned + "?";
  }
  return places();
}

}  // namespace weighwright::record
