#include "report/json_parts.h"

#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>

namespace weighwright::report {

void put(Json& object, const std::string& key, double value, const char* reason) {
  if (std::isfinite(value)) {
    object[key] = value;
    return;
  }
  object[key] = nullptr;
  object[key + "_reason"] = reason;
}

void put(Json& object, const std::string& key, std::optional<double> value, const char* reason) {
  put(object, key, value.value_or(std::numeric_limits<double>::quiet_NaN()), reason);
}

Json text_or_null(const std::string& text) {
  return text.empty() ? Json(nullptr) : Json(text);
}

Json int_or_null(const std::optional<int>& value) {
  return value ? Json(*value) : Json(nullptr);
}

std::string print(const Json& object) {
  // Bytes that are no UTF-8 (a deck's name from a broken editor) are replaced, not thrown on.
  return object.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

Json assumed_json(const std::vector<deck::Assumed>& assumed) {
  Json list = Json::array();
  for (const deck::Assumed& item : assumed)
    list.push_back({{"key", item.key}, {"value", item.value}});
  return list;
}

}  // namespace weighwright::report
