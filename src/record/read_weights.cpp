#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "record/load_rows.h"
#include "record/local_time.h"
#include "record/readers.h"
#include "units/diagnostic.h"

namespace weighwright::record {

namespace {

using units::quote;

constexpr NumberLimits kCounts{1.0, 10000.0, "a whole number, 1 or more"};
constexpr NumberLimits kAxles{0.0, 20.0, "a whole number from 0 to 20"};
constexpr NumberLimits kCoverages{1.0, 5.0, "from 1 to 5, 2 as a rule"};
constexpr NumberLimits kDensities{500.0, 23000.0, "kg/m3, from 500 to 23000"};
constexpr double kLargestSide_m = 50.0;

std::optional<Handling> handling_of(std::string_view text) {
  if (text == "hand") return Handling::hand;
  if (text == "cart") return Handling::cart;
  if (text == "crane") return Handling::crane;
  if (text == "fork") return Handling::fork;
  if (text == "vehicle") return Handling::vehicle;
  return std::nullopt;
}

class WeightReader : private LoadRowReader {
 public:
  using LoadRowReader::LoadRowReader;

  Measurement read() {
    WeightSet set;
    for (const Row& row : rows()) {
      Weight weight;
      weight.line = row.front().line;
      const bool named = read_name(row, weight);
      const bool heavy = read_mass_of(row, weight);
      read_papers(row, weight);
      read_body(row, weight);
      if (named && heavy) set.weights.push_back(std::move(weight));
    }
    set.us = us();
    set.source = file();
    return set;
  }

 private:
  bool read_name(const Row& row, Weight& weight) {
    const Field& field = *find(row, Column::id);
    weight.id = field.text;
    if (weight.id.empty()) {
      fault(field, "a weight without a name", "what is painted or stamped on it: W1");
      return false;
    }
    if (weight.id.find_first_of("+*, ") != std::string::npos) {
      fault(field, quote(weight.id) + " can't be a name of a weight",
            "a name without blanks, + and *, which are used to say what stands on the deck");
      return false;
    }
    return first_time(weight.id, field, "weight");
  }

  bool read_mass_of(const Row& row, Weight& weight) {
    const Field& field = *find(row, Column::nominal);
    const auto read = mass(field, header().unit_of(Column::nominal), 0.0);
    if (!read) return false;
    if (read->mass_kg <= 0.0) {
      fault(field, "a weight of nothing", "its nominal mass, above 0");
      return false;
    }
    note_us(read->us);
    weight.nominal_kg = read->mass_kg;
    if (const auto count = whole(row, Column::count, kCounts)) weight.count = *count;
    weight.conventional_kg = side_mass(row, Column::conventional);
    if (weight.conventional_kg == 0.0) {
      fault(*find(row, Column::conventional), "a conventional mass of nothing",
            "the whole value of the certificate, not its error; blank where only nominal is known");
      return false;
    }
    return true;
  }

  void read_papers(const Row& row, Weight& weight) {
    weight.weight_class = text(row, Column::weight_class);
    weight.uncertainty_kg = side_mass(row, Column::uncertainty);
    if (const auto k = number_if(row, Column::coverage, kCoverages)) weight.coverage = *k;
    weight.density_kg_per_m3 = number_if(row, Column::density, kDensities);
    weight.certificate = text(row, Column::certificate);
    weight.traced_to = text(row, Column::traced_to);
    if (weight.conventional_kg && !weight.uncertainty_kg) {
      fault(*find(row, Column::conventional), "a certified value without its uncertainty",
            "uncertainty: the expanded one of the certificate, with k where it is not 2");
    }
    if (blank(row, Column::expires)) return;
    const Field& field = *find(row, Column::expires);
    weight.expires_day = read_date(field.text);
    if (!weight.expires_day) {
      fault(field, quote(field.text) + " is no date", "a date as 2027-03-31");
    }
  }

  void read_body(const Row& row, Weight& weight) {
    weight.length_m = side(row, Column::length);
    weight.width_m = side(row, Column::width);
    if (const auto axles = whole(row, Column::axles, kAxles)) weight.axles = *axles;
    weight.axle_load_kg = side_mass(row, Column::axle_load);
    if (blank(row, Column::handling)) return;
    const Field& field = *find(row, Column::handling);
    const auto handling = handling_of(field.text);
    if (handling) {
      weight.handling = *handling;
    } else {
      fault(field, quote(field.text) + " is no way of handling",
            "hand, cart, crane, fork or vehicle");
    }
  }

  /// Of a column whose unit may be left to that of the nominal mass.
  std::optional<double> side_mass(const Row& row, Column column) {
    return optional_mass(row, column, header().unit_of(column), 0.0);
  }

  std::optional<double> side(const Row& row, Column column) {
    if (blank(row, column)) return std::nullopt;
    const Field& field = *find(row, column);
    const auto length = read_length(field, header().unit_of(column));
    if (!length) return std::nullopt;
    if (*length > 0.0 && *length <= kLargestSide_m) return length;
    fault(field, quote(field.text) + " is out of range", "above 0, at most 50 m");
    return std::nullopt;
  }

  std::optional<double> number_if(const Row& row, Column column, const NumberLimits& limits) {
    if (blank(row, column)) return std::nullopt;
    return number(row, column, limits);
  }

  std::optional<int> whole(const Row& row, Column column, const NumberLimits& limits) {
    const auto read = number_if(row, column, limits);
    if (!read) return std::nullopt;
    const int value = static_cast<int>(*read);
    if (static_cast<double>(value) == *read) return value;
    fault(*find(row, column), quote(text(row, column)) + " is no whole number",
          std::string(limits.words));
    return std::nullopt;
  }
};

}  // namespace

Measurement read_weight_file(Body body, FaultList& faults) {
  return WeightReader(std::move(body), faults).read();
}

}  // namespace weighwright::record
