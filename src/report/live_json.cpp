#include <nlohmann/json.hpp>

#include "report/json_parts.h"
#include "report/live_view.h"

namespace weighwright::report {
namespace {

Json number_or_null(const std::optional<double>& value) {
  return value ? Json(*value) : Json(nullptr);
}

Json value_json(const LiveValueView& value) {
  return {{"place", value.place},
          {"unit", value.unit},
          {"value", number_or_null(value.value)},
          {"shown", value.shown},
          {"resolution", value.resolution},
          {"quality", value.quality},
          {"says", value.says},
          {"age_ms", value.age_ms},
          {"mean", number_or_null(value.mean)},
          {"noise", number_or_null(value.noise)},
          {"u_mean", number_or_null(value.u_mean)},
          {"samples", value.samples},
          {"shown_mean", value.shown_mean}};
}

}  // namespace

std::string print_json(const LiveView& view) {
  Json object;
  object["journal"] = text_or_null(view.journal);
  object["instruments"] = Json::array();
  for (const LiveInstrumentView& one : view.instruments) {
    object["instruments"].push_back({{"name", one.name},
                                     {"address", one.address},
                                     {"state", one.state},
                                     {"says", one.says},
                                     {"next_try_ms", one.next_try_ms}});
  }
  object["values"] = Json::array();
  for (const LiveValueView& value : view.values) object["values"].push_back(value_json(value));
  return object.dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace weighwright::report
