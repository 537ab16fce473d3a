#include "record/header.h"

#include <algorithm>
#include <cstddef>
#include <set>
#include <string_view>

#include "units/diagnostic.h"
#include "units/suggestion.h"

namespace weighwright::record {

namespace {

constexpr std::string_view kRightHeaders =
    "right headers are: stand with one of mV, mV_per_V, counts, kg, lb (and no_load, gap_mm, "
    "excitation_V, resolution, noise); stand,turns; stand,shim_mm; stand,height_mm; "
    "support,gap_mm; "
    "loaded,moved; a place (x_m,y_m or x_ft,y_ft or at) with load_kg,indication_kg or "
    "load_lb,indication_lb; load_kg,indication_kg alone; trim with turns, ohm or factor; stand "
    "with input_ohm, output_ohm, insulation_Mohm and the like; stand,force_N; zero_kg or zero_lb "
    "alone or with time, temp_degC, rain, after; look,where,found; id,nominal_kg or id,nominal_lb "
    "(test weights); check,load_kg,indication_kg (tests by a rulebook)";

constexpr std::string_view kNoLoad = "no_load";

std::vector<std::string> names_of(const Row& row) {
  std::vector<std::string> names;
  names.reserve(row.size());
  for (const Field& field : row) names.push_back(field.text);
  return names;
}

bool contains(const std::vector<std::string>& names, std::string_view name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

std::vector<UnitName> units_in(const std::vector<std::string>& names) {
  std::vector<UnitName> found;
  for (const UnitName& unit : kReadingUnits) {
    if (contains(names, unit.name)) found.push_back(unit);
  }
  return found;
}

/// A file whose separator is no comma is told as such, not column by column.
bool refuse_other_separator(const Row& row, FaultList& faults) {
  const std::string& first = row.front().text;
  const char separator = first.find(';') != std::string::npos    ? ';'
                         : first.find('\t') != std::string::npos ? '\t'
                                                                 : ',';
  if (separator == ',') return false;
  faults.add(
      row.front().line, row.front().column,
      std::string("the fields are separated by ") + (separator == ';' ? "semicolons" : "tabs"),
      "commas between the fields and points in the numbers, as stand,mV and 1L,1.09");
  return true;
}

std::string unknown_column_hint(std::string_view name, const std::vector<KnownColumn>& known) {
  std::vector<std::string_view> names;
  std::string list;
  for (const KnownColumn& column : known) {
    names.push_back(column.name);
    list += (list.empty() ? "" : ", ") + std::string(column.name);
  }
  const std::optional<std::string> near = units::nearest(name, names);
  return near ? "did you mean " + *near + "?" : "columns of this kind of file are " + list;
}

class HeaderReader {
 public:
  HeaderReader(const Row& row, FaultList& faults)
      : row_(&row), faults_(&faults), names_(names_of(row)) {}

  std::optional<Header> read() {
    const std::optional<FileKind> kind = kind_of(names_);
    if (!kind) {
      fault(row_->front(), "this header is unknown: " + units::quote(joined()),
            std::string(kRightHeaders));
      return std::nullopt;
    }
    header_.kind = *kind;
    header_.names = names_;
    read_unit();
    for (const Field& field : *row_) read_column(field);
    check_required();
    if (!failed_) check_groups();
    if (failed_) return std::nullopt;
    return header_;
  }

 private:
  void fault(const Field& at, std::string what, std::string expected) {
    failed_ = true;
    faults_->add(at.line, at.column, std::move(what), std::move(expected));
  }

  [[nodiscard]] std::string joined() const {
    std::string text;
    for (const std::string& name : names_) text += (text.empty() ? "" : ",") + name;
    return text;
  }

  void read_unit() {
    if (header_.kind != FileKind::readings) return;
    const std::vector<UnitName> found = units_in(names_);
    header_.unit = found.front().unit;
    unit_name_ = found.front().name;
    if (found.size() < 2) return;
    std::vector<std::string> names;
    names.reserve(found.size());
    for (const UnitName& unit : found) names.emplace_back(unit.name);
    fault(row_->front(), std::to_string(found.size()) + " units of reading in one header",
          "keep one of " + units::either(names));
  }

  void read_column(const Field& field) {
    const std::vector<KnownColumn> known = known_columns(header_.kind);
    const auto found = std::find_if(known.begin(), known.end(), [&](const KnownColumn& column) {
      return column.name == field.text;
    });
    if (!seen_.insert(field.text).second) {
      fault(field, "the column " + units::quote(field.text) + " stands twice in the header",
            "keep one of them");
      return;
    }
    if (found != known.end()) {
      header_.columns.push_back({found->column, found->unit});
    } else if (!read_no_load_with_unit(field)) {
      fault(field,
            field.text.empty() ? "a column has no name"
                               : "the column " + units::quote(field.text) + " is unknown",
            unknown_column_hint(field.text, known));
    }
  }

  /// no_load_mV is no_load where readings are in mV.
  bool read_no_load_with_unit(const Field& field) {
    const std::string prefix = std::string(kNoLoad) + "_";
    if (header_.kind != FileKind::readings || !field.text.starts_with(prefix)) return false;
    const std::string_view unit = std::string_view(field.text).substr(prefix.size());
    const bool is_unit = std::any_of(kReadingUnits.begin(), kReadingUnits.end(),
                                     [&](const UnitName& known) { return known.name == unit; });
    if (!is_unit) return false;
    if (contains(names_, kNoLoad)) {
      fault(field, "no_load stands twice in the header", "keep one of them");
    } else if (unit != unit_name_) {
      fault(field,
            "no-load readings in " + std::string(unit) + " beside readings in " +
                std::string(unit_name_),
            "the same unit for both");
    } else {
      header_.columns.push_back({Column::no_load, ColumnUnit::none});
    }
    return true;
  }

  void check_required() {
    for (const std::string_view name : required_columns(header_.kind)) {
      if (contains(names_, name)) continue;
      fault(row_->front(), "the column " + std::string(name) + " is missing",
            std::string(kRightHeaders));
    }
  }

  /// Names of the columns that mean this, as written.
  [[nodiscard]] std::vector<std::string> names_meaning(Column column) const {
    std::vector<std::string> names;
    for (std::size_t i = 0; i < header_.columns.size(); ++i) {
      if (header_.columns[i].column == column) names.push_back(names_[i]);
    }
    return names;
  }

  [[nodiscard]] const Field& field_of(Column column) const {
    for (std::size_t i = 0; i < header_.columns.size(); ++i) {
      if (header_.columns[i].column == column) return (*row_)[i];
    }
    return row_->front();
  }

  void check_groups() {
    if (header_.kind == FileKind::trims) check_trims();
    if (header_.kind == FileKind::zeros) at_most_one(Column::zero);
    if (header_.kind == FileKind::shift) check_place();
    if (header_.kind == FileKind::shift || header_.kind == FileKind::loads) check_load();
    if (header_.kind == FileKind::proof) check_proof();
    if (header_.kind == FileKind::weights) check_weights();
  }

  void check_proof() {
    check_place();
    check_load();
    at_most_one(Column::start);
    at_most_one(Column::then);
  }

  void check_weights() {
    for (const Column column : {Column::nominal, Column::conventional, Column::uncertainty,
                                Column::length, Column::width, Column::axle_load}) {
      at_most_one(column);
    }
  }

  void at_most_one(Column column) {
    const std::vector<std::string> names = names_meaning(column);
    if (names.size() < 2) return;
    fault(field_of(column), "mixed units: " + names[0] + " beside " + names[1],
          "keep one of " + units::either(names));
  }

  void check_place() {
    at_most_one(Column::x);
    at_most_one(Column::y);
    const bool x = header_.has(Column::x);
    const bool y = header_.has(Column::y);
    if (header_.has(Column::at) && (x || y)) {
      fault(field_of(Column::at), "the place is given twice, by at and by x and y",
            "at (2L, 2 or 2-3), or x and y");
    } else if (x != y) {
      fault(field_of(x ? Column::x : Column::y),
            x ? "the column of y is missing" : "the column of x is missing",
            "x from end 1 and y from the centre line, left positive, as x_m,y_m");
    } else if (x && header_.unit_of(Column::x) != header_.unit_of(Column::y) && !failed_) {
      fault(field_of(Column::y),
            "mixed units: " + names_meaning(Column::x).front() + " beside " +
                names_meaning(Column::y).front(),
            "x_m,y_m or x_ft,y_ft");
    }
  }

  void check_load() {
    at_most_one(Column::load);
    at_most_one(Column::indication);
    at_most_one(Column::added);
    if (!header_.has(Column::indication)) {
      fault(row_->front(), "the column indication_kg is missing",
            "indication_kg or indication_lb, or indication with the unit in every field");
    }
    if (!header_.has(Column::load) && !header_.has(Column::load_id)) {
      fault(row_->front(), "the column load_kg is missing",
            "load_kg or load_lb, or load with the unit in every field; load_id alone where no load "
            "is known");
    }
  }

  void check_trims() {
    int given = 0;
    for (const Column column : {Column::turns, Column::ohm, Column::factor}) {
      given += header_.has(column) ? 1 : 0;
    }
    if (given == 1) return;
    fault(row_->front(),
          given == 0 ? "no column says how the trims were set"
                     : "several columns say how the trims were set",
          "one of turns (clockwise positive, from where it stood), ohm or factor (setting "
          "afterwards)");
  }

  const Row* row_;
  FaultList* faults_;
  std::vector<std::string> names_;
  std::string_view unit_name_;
  std::set<std::string> seen_;
  Header header_;
  bool failed_ = false;
};

}  // namespace

bool Header::has(Column column) const {
  return std::any_of(columns.begin(), columns.end(),
                     [&](const HeaderColumn& known) { return known.column == column; });
}

ColumnUnit Header::unit_of(Column column) const {
  const auto found = std::find_if(columns.begin(), columns.end(), [&](const HeaderColumn& known) {
    return known.column == column;
  });
  return found == columns.end() ? ColumnUnit::none : found->unit;
}

std::optional<Header> parse_header(const Row& row, FaultList& faults) {
  if (refuse_other_separator(row, faults)) return std::nullopt;
  return HeaderReader(row, faults).read();
}

}  // namespace weighwright::record
