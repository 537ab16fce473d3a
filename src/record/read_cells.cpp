#include <algorithm>
#include <array>
#include <cstddef>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "record/readers.h"
#include "units/diagnostic.h"

namespace weighwright::record {

namespace {

constexpr NumberLimits kOhm{0.0, 1e9, "ohm, from 0 to 1e9, or OL for over the meter's limit"};
constexpr NumberLimits kMohm{0.0, 1e7, "Mohm, from 0 to 1e7, or OL for over the tester's limit"};
constexpr NumberLimits kTest_V{1.0, 5000.0, "volts of the insulation tester, from 1 to 5000"};
constexpr NumberLimits kSupply_V{0.0, 50.0, "volts, from 0 to 50"};
constexpr NumberLimits kSignal_mV{-1e5, 1e5,
                                  "mV, from -100000 to 100000, or OL for over the meter's range"};
constexpr NumberLimits kForce_N{-1e8, 1e8, "newton, from -1e8 to 1e8"};

/// What meters show for "over limit": no path at all.
bool is_over_limit(std::string_view text) {
  std::string plain;
  for (const char c : text) {
    if (c == '.' || c == ' ' || (c == '-' && plain.empty())) continue;
    plain += c == 'o' || c == '0' ? 'O' : c == 'l' ? 'L' : c;
  }
  return plain == "OL";
}

class CellReader : private RowReader {
 public:
  using RowReader::RowReader;

  Measurement read() {
    if (header().kind == FileKind::forces) return read_forces();
    return read_electrics();
  }

 private:
  ForceSet read_forces() {
    ForceSet set{std::vector<double>(static_cast<std::size_t>(2 * sections())), file()};
    for (const Row& row : rows()) {
      const auto stand = read_stand_once(row);
      const Field& field = *find(row, Column::force_N);
      if (field.text.empty()) fault(field, "there is no force", "a number in N; 0 if it is free");
      const auto force_N = number(row, Column::force_N, kForce_N);
      if (stand && force_N) set.force_N.at(static_cast<std::size_t>(stand->value)) = *force_N;
    }
    require_every_stand("force");
    return set;
  }

  ElectricSet read_electrics() {
    ElectricSet set;
    set.source = file();
    for (const Row& row : rows()) {
      const Field& place = *find(row, Column::stand);
      const bool is_box = place.text == "box";
      std::optional<units::StandIndex> stand;
      if (is_box) {
        if (!first_time("box", place, "stand, and one for the box")) continue;
      } else {
        stand = read_stand_once(row);
      }
      const CellElectrics electrics = read_row(row);
      check_row(row, electrics, is_box);
      if (is_box) set.box = electrics;
      if (stand) set.stands.emplace_back(*stand, electrics);
    }
    std::sort(set.stands.begin(), set.stands.end(),
              [](const auto& a, const auto& b) { return a.first < b.first; });
    return set;
  }

  CellElectrics read_row(const Row& row) {
    CellElectrics read;
    read.line = row.front().line;
    read.input_ohm = limited(row, Column::input_ohm, kOhm);
    read.output_ohm = limited(row, Column::output_ohm, kOhm);
    read.e_plus_s_plus_ohm = limited(row, Column::e_plus_s_plus_ohm, kOhm);
    read.e_plus_s_minus_ohm = limited(row, Column::e_plus_s_minus_ohm, kOhm);
    read.e_minus_s_plus_ohm = limited(row, Column::e_minus_s_plus_ohm, kOhm);
    read.e_minus_s_minus_ohm = limited(row, Column::e_minus_s_minus_ohm, kOhm);
    if (const auto insulation = limited(row, Column::insulation_Mohm, kMohm)) {
      read.insulation_ohm = *insulation * 1e6;
    }
    read.test_V = number(row, Column::test_V, kTest_V);
    read.zero_mV = limited(row, Column::zero_mV, kSignal_mV);
    read.mV = limited(row, Column::mV, kSignal_mV);
    read.excitation_V = number(row, Column::excitation_V, kSupply_V);
    read.sense_V = number(row, Column::sense_V, kSupply_V);
    return read;
  }

  /// A number, or infinity for what a meter shows beyond its range.
  std::optional<double> limited(const Row& row, Column column, const NumberLimits& limits) {
    const Field* const field = find(row, column);
    if (field == nullptr || field->text.empty()) return std::nullopt;
    if (is_over_limit(field->text)) return std::numeric_limits<double>::infinity();
    if (field->text.starts_with('>')) {
      fault(*field, units::quote(field->text) + " is no number",
            "OL where the meter was beyond its range");
      return std::nullopt;
    }
    return number(*field, limits);
  }

  void check_row(const Row& row, const CellElectrics& read, bool is_box) {
    static constexpr std::array kMeasured = {Column::input_ohm,
                                             Column::output_ohm,
                                             Column::e_plus_s_plus_ohm,
                                             Column::e_plus_s_minus_ohm,
                                             Column::e_minus_s_plus_ohm,
                                             Column::e_minus_s_minus_ohm,
                                             Column::insulation_Mohm,
                                             Column::zero_mV,
                                             Column::mV,
                                             Column::excitation_V,
                                             Column::sense_V};
    const bool nothing = std::all_of(kMeasured.begin(), kMeasured.end(),
                                     [&](Column column) { return blank(row, column); });
    if (nothing) {
      fault(row.front(), "nothing was measured on this line", "leave the line out");
    }
    if (read.insulation_ohm && !read.test_V && blank(row, Column::test_V)) {
      fault(*find(row, Column::insulation_Mohm), "an insulation without its test voltage",
            "the volts of the tester in a column test_V");
    }
    if (read.sense_V && !is_box) {
      fault(*find(row, Column::sense_V), "a sense voltage on the line of a cell",
            "on the line of the box: it is measured at the indicator's sense terminals");
    }
  }
};

}  // namespace

Measurement read_cell_file(Body body, FaultList& faults) {
  return CellReader(std::move(body), faults).read();
}

}  // namespace weighwright::record
