#include "record/row_reader.h"

#include <cstddef>
#include <utility>

#include "record/typed_number.h"
#include "units/diagnostic.h"

namespace weighwright::record {

using units::quote;
using units::StandIndex;

namespace {

std::string number_of(std::size_t count, std::string_view noun) {
  return std::to_string(count) + " " + std::string(noun) + (count == 1 ? "" : "s");
}

}  // namespace

std::string stands_of(int sections) {
  if (sections <= 0) return "none";
  if (sections == 1) return "1L, 1R";
  const std::string last = std::to_string(sections);
  return "1L, 1R, ... " + last + "L, " + last + "R";
}

RowReader::RowReader(Body body, FaultList& faults) : body_(std::move(body)), faults_(&faults) {
  check_widths();
}

void RowReader::check_widths() {
  const std::size_t width = body_.header.columns.size();
  std::vector<Row> good;
  for (Row& row : body_.rows) {
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
  body_.rows = std::move(good);
}

const Field* RowReader::find(const Row& row, Column column) const {
  for (std::size_t i = 0; i < body_.header.columns.size(); ++i) {
    if (body_.header.columns[i].column == column) return &row[i];
  }
  return nullptr;
}

bool RowReader::blank(const Row& row, Column column) const {
  const Field* const field = find(row, column);
  return field == nullptr || field->text.empty();
}

std::string RowReader::text(const Row& row, Column column) const {
  const Field* const field = find(row, column);
  return field == nullptr ? std::string() : field->text;
}

std::optional<StandIndex> RowReader::read_stand(const Row& row, Column column) {
  const Field& field = *find(row, column);
  const std::optional<StandIndex> stand = units::parse_stand(field.text);
  if (stand && known(*stand)) return stand;
  if (field.text.empty()) {
    fault(field, "the stand is missing", "one of " + stands_of(sections()));
    return std::nullopt;
  }
  std::string expected = "one of " + stands_of(sections());
  std::string upper = field.text;
  for (char& c : upper) c = c == 'l' ? 'L' : c == 'r' ? 'R' : c;
  const std::optional<StandIndex> meant = units::parse_stand(upper);
  if (meant && known(*meant)) expected = "did you mean " + upper + "?";
  fault(field, "there is no stand " + quote(field.text), expected);
  return std::nullopt;
}

std::optional<StandIndex> RowReader::read_stand_once(const Row& row) {
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

bool RowReader::first_time(const std::string& name, const Field& field, const std::string& each) {
  const auto [first, is_new] = line_of_name_.emplace(name, field.line);
  if (is_new) return true;
  fault(field, name + " stands twice, first on line " + std::to_string(first->second),
        "one line for each " + each);
  return false;
}

std::optional<double> RowReader::number(const Row& row, Column column, const NumberLimits& limits) {
  const Field* const field = find(row, column);
  if (field == nullptr || field->text.empty()) return std::nullopt;
  return number(*field, limits);
}

std::optional<double> RowReader::number(const Field& field, const NumberLimits& limits) {
  const TypedNumber typed = record::read_number(field.text);
  if (typed.fault == TypedNumber::Fault::too_large) {
    fault(field, describe(typed.fault, field.text), std::string(limits.words));
    return std::nullopt;
  }
  if (typed.fault != TypedNumber::Fault::none) {
    fault(field, describe(typed.fault, field.text), remedy(typed.fault, field.text));
    return std::nullopt;
  }
  if (typed.value < limits.lowest || typed.value > limits.highest) {
    fault(field, quote(field.text) + " is out of range", std::string(limits.words));
    return std::nullopt;
  }
  return typed.value;
}

void RowReader::require_every_stand(const std::string& what) {
  std::string missing;
  for (int i = 0; i < 2 * sections(); ++i) {
    if (line_of_stand_.contains(i) || told_.contains(i)) continue;
    missing += (missing.empty() ? "" : ", ") + units::print(StandIndex{i});
  }
  if (missing.empty()) return;
  fault("no " + what + " of " + missing, "one line for each stand: " + stands_of(sections()));
}

}  // namespace weighwright::record
