#include <charconv>
#include <cmath>
#include <nlohmann/json.hpp>
#include <optional>

#include "report/json_parts.h"
#include "report/rehearse_view.h"

namespace weighwright::report {
namespace {

std::optional<double> number_of(const std::string& text) {
  double value = 0.0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), value);
  if (read.ec != std::errc{} || read.ptr != text.data() + text.size()) return {};
  if (!std::isfinite(value)) return {};
  return value;
}

Json row_json(const std::vector<std::string>& columns, const std::vector<RehearseField>& row) {
  Json object = Json::object();
  for (std::size_t i = 0; i < columns.size(); ++i) {
    if (!row[i].number) {
      object[columns[i]] = text_or_null(row[i].text);
      continue;
    }
    const bool over = row[i].text == "OL";
    put(object, columns[i], number_of(row[i].text),
        over ? "over the limit of the meter" : "not measured");
  }
  return object;
}

std::string one_line(const Json& object) {
  return object.dump(-1, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace

std::string print_json(const RehearseView& view) {
  Json object;
  object["command"] = view.command;
  object["kind"] = text_or_null(view.kind);
  object["rows"] = Json::array();
  for (const std::vector<RehearseField>& row : view.rows) {
    object["rows"].push_back(row_json(view.columns, row));
  }
  object["sentences"] = view.sentences;
  object["cautions"] = view.cautions;
  return one_line(object);
}

std::string print_refusal_json(const units::Diagnostic& fault) {
  const Json object = {{"faults", Json::array({{{"file", fault.file},
                                                {"line", fault.line},
                                                {"column", fault.column},
                                                {"what", fault.what},
                                                {"expected", fault.expected}}})}};
  return one_line(object);
}

}  // namespace weighwright::report
