#include "record/header.h"

#include <algorithm>
#include <array>
#include <cstddef>
#include <set>
#include <string_view>

#include "units/diagnostic.h"
#include "units/suggestion.h"

namespace weighwright::record {

namespace {

constexpr std::string_view kRightHeaders =
    "right headers are: stand with one of mV, mV_per_V, counts, kg, lb (and no_load, gap_mm, "
    "excitation_V, resolution); stand,turns; stand,shim_mm; stand,height_mm; support,gap_mm; "
    "loaded,moved";

struct UnitName {
  std::string_view name;
  ReadingUnit unit;
};

constexpr std::array kUnits = {UnitName{"mV", ReadingUnit::mV},
                               UnitName{"mV_per_V", ReadingUnit::mV_per_V},
                               UnitName{"counts", ReadingUnit::counts},
                               UnitName{"kg", ReadingUnit::kg}, UnitName{"lb", ReadingUnit::lb}};

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
  for (const UnitName& unit : kUnits) {
    if (contains(names, unit.name)) found.push_back(unit);
  }
  return found;
}

std::optional<FileKind> kind_of(const std::vector<std::string>& names) {
  if (contains(names, "support")) return FileKind::gaps;
  if (contains(names, "loaded") || contains(names, "moved")) return FileKind::map;
  if (!contains(names, "stand")) return std::nullopt;
  if (contains(names, "turns") || contains(names, "shim_mm")) return FileKind::turns;
  if (contains(names, "height_mm")) return FileKind::heights;
  if (!units_in(names).empty()) return FileKind::readings;
  return std::nullopt;
}

struct KnownColumn {
  std::string_view name;
  Column column;
};

std::vector<KnownColumn> known_columns(FileKind kind) {
  const std::vector<KnownColumn> ignored = {{"time", Column::ignored}, {"temp", Column::ignored}};
  std::vector<KnownColumn> known;
  switch (kind) {
    case FileKind::readings:
      known = {{"stand", Column::stand},
               {"no_load", Column::no_load},
               {"gap_mm", Column::gap_mm},
               {"excitation_V", Column::excitation_V},
               {"resolution", Column::resolution}};
      for (const UnitName& unit : kUnits) known.push_back({unit.name, Column::reading});
      break;
    case FileKind::turns:
      known = {{"stand", Column::stand},
               {"turns", Column::turns},
               {"shim_mm", Column::shim_mm},
               {"until", Column::until}};
      break;
    case FileKind::heights:
      known = {{"stand", Column::stand}, {"height_mm", Column::height_mm}};
      break;
    case FileKind::gaps:
      known = {{"support", Column::support}, {"gap_mm", Column::gap_mm}};
      break;
    case FileKind::map:
      known = {{"loaded", Column::loaded}, {"moved", Column::moved}};
      break;
  }
  known.insert(known.end(), ignored.begin(), ignored.end());
  return known;
}

std::vector<std::string_view> required_columns(FileKind kind) {
  switch (kind) {
    case FileKind::readings:
    case FileKind::turns:
      return {"stand"};
    case FileKind::heights:
      return {"stand", "height_mm"};
    case FileKind::gaps:
      return {"support", "gap_mm"};
    case FileKind::map:
      return {"loaded", "moved"};
  }
  return {};
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
      header_.columns.push_back(found->column);
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
    const bool is_unit = std::any_of(kUnits.begin(), kUnits.end(),
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
      header_.columns.push_back(Column::no_load);
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
  return std::find(columns.begin(), columns.end(), column) != columns.end();
}

std::optional<Header> parse_header(const Row& row, FaultList& faults) {
  if (refuse_other_separator(row, faults)) return std::nullopt;
  return HeaderReader(row, faults).read();
}

}  // namespace weighwright::record
