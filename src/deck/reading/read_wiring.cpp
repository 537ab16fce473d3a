#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "deck/limits.h"
#include "deck/reading/find_table.h"
#include "deck/reading/raw_deck.h"
#include "deck/reading/table_reader.h"

namespace weighwright::deck::reading {

namespace {

using units::Kind;

/// 4 or 6; 0 when it is not there or faulty.
int read_cores(TableReader& table, std::string_view key) {
  const int cores = table.whole(key, 4, 6).value_or(0);
  if (cores != 5) return cores;
  table.sink().fault(of_value(*table.node(key)), std::string(key) + ": 5 is impossible", "4 or 6");
  return 0;
}

void read_limits_of_indicator(TableReader& table, Indicator& indicator) {
  static constexpr std::array<std::string_view, 5> kClasses = {"I", "II", "III", "IIII", "III L"};
  indicator.input_ohm = table.quantity("input_resistance", Kind::resistance, kInputResistance);
  if (const auto load = table.range("load", Kind::resistance, kResistance)) {
    indicator.load_low_ohm = load->first;
    indicator.load_high_ohm = load->second;
  }
  if (const auto dead = table.range("dead_load_range", Kind::voltage, kDeadVoltage)) {
    indicator.dead_load_low_V = dead->first;
    indicator.dead_load_high_V = dead->second;
  }
  if (const auto count = table.whole("max_intervals", 1, 1'000'000)) {
    indicator.max_intervals = static_cast<double>(*count);
  }
  if (const auto hit = table.choice("class", kClasses)) {
    indicator.accuracy_class = std::string(kClasses.at(*hit));
  }
  indicator.error_fraction = table.number("error_fraction", kErrorFraction);
  indicator.longest_cable_per_m =
      table.quantity("longest_cable", Kind::length_per_area, kCableLengthPerArea);
  if (const auto range = table.range("temperature", Kind::temperature, kTemperature)) {
    indicator.temperature_low_degC = range->first;
    indicator.temperature_high_degC = range->second;
  }
}

void read_indicator(const Node& root, RawDeck& raw, FaultSink& sink) {
  const Node* const node = find_table(root, "indicator", sink);
  if (node == nullptr) return;
  TableReader table(*node, "[indicator]", sink);
  const auto excitation = table.quantity("excitation", Kind::voltage, kExcitation);
  if (excitation) {
    raw.deck.excitation_V = *excitation;
    raw.deck.excitation_given = true;
  }
  raw.deck.min_signal_V = table.quantity("min_signal", Kind::voltage, kSmallVoltage);
  raw.deck.indicator.sense_cores = read_cores(table, "sense");
  if (const Node* const sense = table.node("sense")) raw.sense_at = of_value(*sense);
  read_limits_of_indicator(table, raw.deck.indicator);
  table.finish();
}

void read_receptor(const Node& root, RawDeck& raw, FaultSink& sink) {
  const Node* const node = find_table(root, "receptor", sink);
  if (node == nullptr) return;
  TableReader table(*node, "[receptor]", sink);
  Receptor& receptor = raw.deck.receptor;
  receptor.dead_load_kg = table.quantity("dead_load", Kind::mass, kSmallMass);
  receptor.zero_range_kg = table.quantity("zero_range", Kind::mass, kSmallMass);
  receptor.uneven_kg = table.quantity("uneven", Kind::mass, kSmallMass);
  receptor.tare_kg = table.quantity("tare", Kind::mass, kSmallMass);
  receptor.error_fraction = table.number("error_fraction", kErrorFraction);
  table.finish();
}

std::optional<Cable> read_cable(const Node& cables, std::string_view key, FaultSink& sink) {
  const Node* const node = find_table(cables, key, sink);
  if (node == nullptr) return std::nullopt;
  TableReader table(*node, "[cable." + std::string(key) + "]", sink);
  Cable cable;
  cable.length_m = table.quantity("length", Kind::length, kCableLength).value_or(0.0);
  const auto area = table.quantity("area", Kind::area, kCableArea);
  const auto gauge = table.quantity("gauge", Kind::area, kCableArea);
  if (table.has("area") && table.has("gauge")) {
    sink.fault(table.at(), table.name() + " has an area and a gauge", "keep one of them");
  }
  cable.area_m2 = area.value_or(gauge.value_or(0.0));
  cable.cores = read_cores(table, "cores");
  table.finish();
  return cable;
}

void read_cables(const Node& root, RawDeck& raw, FaultSink& sink) {
  const Node* const node = find_table(root, "cable", sink);
  if (node == nullptr) return;
  TableReader table(*node, "[cable]", sink);
  for (const std::string_view key : {"home", "link", "cell"}) table.allow(key);
  raw.deck.cable_temperature_degC = table.quantity("temperature", Kind::temperature, kTemperature);
  table.finish();
  raw.deck.home_cable = read_cable(*node, "home", sink);
  raw.deck.link_cable = read_cable(*node, "link", sink);
  raw.deck.cell_cable = read_cable(*node, "cell", sink);
  if (const Node* const link = node->find("link")) raw.link_at = of_key(*link);
}

/// Labels are only read here; whether the stands exist is checked when the sections are known.
std::vector<units::StandIndex> read_stand_list(TableReader& table) {
  std::vector<units::StandIndex> stands;
  const Node* const node = table.node("stands");
  if (node == nullptr) return stands;
  if (node->type != Node::Type::list) {
    table.sink().fault(of_value(*node), "stands is no list", R"(write stands = ["1L", "1R"])");
    return stands;
  }
  for (const Node& item : node->children) {
    const auto stand = item.type == Node::Type::text ? units::parse_stand(item.text) : std::nullopt;
    if (stand) {
      stands.push_back(*stand);
    } else {
      table.sink().fault(of_value(item), "stands: " + units::quote(item.text) + " is no stand",
                         R"(section and side, as "2L")");
    }
  }
  return stands;
}

void read_boxes(const Node& root, RawDeck& raw, FaultSink& sink) {
  static constexpr std::array<std::string_view, 5> kTrims = {"none", "signal", "excitation",
                                                             "digital", "section"};
  for (const Node* const node : find_list_of_tables(root, "box", sink)) {
    TableReader table(*node, "[[box]]", sink);
    Box box;
    box.stands = read_stand_list(table);
    box.trims = std::string(kTrims.at(table.choice("trims", kTrims).value_or(0)));
    table.finish();
    raw.deck.boxes.push_back(std::move(box));
    raw.boxes_at.push_back(of_value(*node));
  }
}

}  // namespace

void read_wiring(const Node& root, RawDeck& raw, FaultSink& sink) {
  read_indicator(root, raw, sink);
  read_receptor(root, raw, sink);
  read_cables(root, raw, sink);
  read_boxes(root, raw, sink);
}

}  // namespace weighwright::deck::reading
