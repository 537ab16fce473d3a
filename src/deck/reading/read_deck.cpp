#include <algorithm>
#include <array>
#include <cstddef>
#include <string>
#include <string_view>
#include <utility>

#include "deck/limits.h"
#include "deck/reading/raw_deck.h"
#include "deck/reading/table_reader.h"
#include "deck/rulebook_name.h"

namespace weighwright::deck::reading {

namespace {

using units::Kind;

/// The table of this name; null (and a fault) when something else stands there.
const Node* find_table(const Node& root, std::string_view key, FaultSink& sink) {
  const Node* const found = root.find(key);
  if (found == nullptr || found->type == Node::Type::table) return found;
  const bool is_list = found->type == Node::Type::list;
  sink.fault(of_key(*found), std::string(key) + " is no table",
             "write [" + std::string(key) + "]" +
                 (is_list ? " in single brackets" : " on a line of its own"));
  return nullptr;
}

std::vector<const Node*> find_list_of_tables(const Node& root,
                                             std::string_view key,
                                             FaultSink& sink) {
  std::vector<const Node*> tables;
  const Node* const found = root.find(key);
  if (found == nullptr) return tables;
  bool sound = found->type == Node::Type::list;
  for (const Node& item : found->children) sound = sound && item.type == Node::Type::table;
  if (!sound) {
    sink.fault(of_key(*found), std::string(key) + " is no list of tables",
               "write [[" + std::string(key) + "]] in double brackets, once for each");
    return tables;
  }
  for (const Node& item : found->children) tables.push_back(&item);
  return tables;
}

/// The rulebook also decides in which units texts are printed.
void read_rulebook(TableReader& table, Deck& deck) {
  table.require("rulebook", R"(write rulebook = "R76" or rulebook = "H44")");
  const std::optional<std::string> typed = table.text("rulebook");
  if (!typed) return;
  deck.rulebook = parse_rulebook(*typed).value_or("");
  if (deck.rulebook.empty()) {
    table.sink().fault(of_value(*table.node("rulebook")),
                       "rulebook " + units::quote(*typed) + " is unknown",
                       R"("R76" (OIML R 76) or "H44" (NIST Handbook 44))");
  }
  deck.units = deck.rulebook == "H44" ? UnitSystem::us : UnitSystem::metric;
}

void read_class(TableReader& table, Deck& deck) {
  table.require("class", "write class = " + classes_of(deck.rulebook));
  const std::optional<std::string> typed = table.text("class");
  if (!typed || deck.rulebook.empty()) return;
  deck.accuracy_class = parse_class(deck.rulebook, *typed).value_or("");
  if (deck.accuracy_class.empty()) {
    table.sink().fault(of_value(*table.node("class")),
                       "class " + units::quote(*typed) + " is not a class of " + deck.rulebook,
                       classes_of(deck.rulebook));
  }
}

/// "1 mV" or "20 %": the one that is given replaces both defaults.
void read_tolerance(TableReader& table, std::string_view key, Sharing& sharing) {
  const Node* const node = table.node(key);
  if (node == nullptr) return;
  const bool is_share = node->type == Node::Type::text && node->text.find('%') != std::string::npos;
  const std::optional<double> value =
      is_share ? table.read_quantity(*node, key, Kind::fraction, kShare)
               : table.read_quantity(*node, key, Kind::voltage, kTolerance);
  if (!value) return;
  sharing.tolerance_V = is_share ? std::nullopt : value;
  sharing.tolerance_share = is_share ? value : std::nullopt;
}

std::optional<Range> read_range(TableReader& table, const Node& item) {
  if (item.type != Node::Type::list || item.children.size() != 2) {
    table.sink().fault(of_value(item), "a weighing range is no pair",
                       R"(write [["30 t", "10 kg"], ["60 t", "20 kg"]])");
    return std::nullopt;
  }
  const auto capacity = table.read_quantity(item.children[0], "ranges", Kind::mass, kMass);
  const auto interval = table.read_quantity(item.children[1], "ranges", Kind::mass, kInterval);
  if (!capacity || !interval) return std::nullopt;
  return Range{*capacity, *interval};
}

void read_ranges(TableReader& table, Deck& deck) {
  const Node* const node = table.node("ranges");
  if (node == nullptr) return;
  if (node->type != Node::Type::list || node->children.empty()) {
    table.sink().fault(of_value(*node), "ranges is no list of pairs",
                       R"(write ranges = [["30 t", "10 kg"], ["60 t", "20 kg"]])");
    return;
  }
  for (const Node& item : node->children) {
    const std::optional<Range> range = read_range(table, item);
    if (!range) return;
    const bool ascending =
        deck.ranges.empty() || (range->capacity_kg > deck.ranges.back().capacity_kg &&
                                range->interval_kg > deck.ranges.back().interval_kg);
    if (!ascending) {
      table.sink().fault(
          of_value(item), "the weighing ranges are not in ascending order",
          "each range has a greater capacity and a greater interval than the one before");
    }
    deck.ranges.push_back(*range);
  }
}

void read_capacity(TableReader& table, Deck& deck) {
  const bool by_ranges = table.has("ranges");
  if (!by_ranges) {
    table.require("capacity", R"(write the Max of the data plate, as capacity = "60 t")");
    table.require("interval", R"(write e of the data plate, as interval = "20 kg")");
  }
  read_ranges(table, deck);
  if (!deck.ranges.empty()) {
    deck.capacity_kg = deck.ranges.back().capacity_kg;
    deck.interval_kg = deck.ranges.front().interval_kg;
  }
  const auto capacity = table.quantity("capacity", Kind::mass, kMass);
  if (capacity && !deck.ranges.empty() && *capacity != deck.capacity_kg) {
    table.sink().fault(of_value(*table.node("capacity")),
                       "capacity is not that of the greatest range",
                       "leave capacity out where ranges are given, or make them agree");
  }
  if (capacity) deck.capacity_kg = *capacity;
  const auto interval = table.quantity("interval", Kind::mass, kInterval);
  if (interval) deck.interval_kg = *interval;
  if (deck.capacity_kg > 0.0 && deck.interval_kg >= deck.capacity_kg) {
    table.sink().fault(table.at(), "the interval is not smaller than the capacity",
                       "capacity is Max, interval is e; both stand on the data plate");
  }
}

void read_deck_table(const Node& root, RawDeck& raw, FaultSink& sink) {
  const Node* const node = find_table(root, "deck", sink);
  if (node == nullptr) {
    if (root.find("deck") == nullptr) {
      sink.fault({}, "there is no [deck] table",
                 "write [deck] with name, rulebook, class, capacity and interval");
    }
    return;
  }
  TableReader table(*node, "[deck]", sink);
  table.require("name", R"(write name = "..." as the site calls the weighbridge)");
  raw.deck.name = table.text("name").value_or("");
  read_rulebook(table, raw.deck);
  read_class(table, raw.deck);
  read_capacity(table, raw.deck);
  raw.deck.display_interval_kg = table.quantity("display", Kind::mass, kInterval);
  raw.deck.clc_kg = table.quantity("clc", Kind::mass, kMass);
  raw.deck.approval = table.label("approval").value_or("");
  raw.deck.serial = table.label("serial").value_or("");
  read_tolerance(table, "pair_tolerance", raw.deck.sharing);
  table.finish();
  raw.deck_given = table.given();
}

void read_temperature(TableReader& table, Site& site) {
  const auto range = table.quantities("temperature", Kind::temperature, kTemperature);
  if (!range) return;
  if (range->size() != 2 || range->front() >= range->back()) {
    table.sink().fault(of_value(*table.node("temperature")), "temperature is no range",
                       R"(write ["-15 degC", "35 degC"], the lower one first)");
    return;
  }
  site.temperature_low_degC = range->front();
  site.temperature_high_degC = range->back();
}

void read_site(const Node& root, RawDeck& raw, FaultSink& sink) {
  const Node* const node = find_table(root, "site", sink);
  if (node == nullptr) return;
  TableReader table(*node, "[site]", sink);
  Site& site = raw.deck.site;
  site.latitude_rad = table.quantity("latitude", Kind::angle, kLatitude);
  site.altitude_m = table.quantity("altitude", Kind::length, kAltitude);
  const auto gravity = table.quantity("gravity", Kind::acceleration, kGravity);
  if (gravity) site.gravity_m_per_s2 = *gravity;
  read_temperature(table, site);
  table.finish();
  raw.site_given = table.given();
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
  cable.cores = table.whole("cores", 4, 6).value_or(0);
  if (cable.cores == 5) {
    sink.fault(of_value(*table.node("cores")), "cores: 5 is impossible", "4 or 6");
  }
  table.finish();
  return cable;
}

void read_cables(const Node& root, RawDeck& raw, FaultSink& sink) {
  const Node* const node = find_table(root, "cable", sink);
  if (node == nullptr) return;
  TableReader table(*node, "[cable]", sink);
  table.allow("home");
  table.allow("cell");
  table.finish();
  raw.deck.home_cable = read_cable(*node, "home", sink);
  raw.deck.cell_cable = read_cable(*node, "cell", sink);
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
  }
}

template <class Target>
void set(Target& target, const std::optional<double>& value) {
  if (value) target = *value;
}

void read_share(const Node& root, RawDeck& raw, FaultSink& sink) {
  const Node* const node = find_table(root, "share", sink);
  if (node == nullptr) return;
  TableReader table(*node, "[share]", sink);
  Sharing& sharing = raw.deck.sharing;
  read_tolerance(table, "tolerance", sharing);
  if (table.has("tolerance") && raw.deck_given.contains("pair_tolerance")) {
    sink.fault(of_key(*table.node("tolerance")), "the tolerance of a pair is given twice",
               "keep tolerance here or pair_tolerance in [deck]");
  }
  table.allow("division");  // read with the stands
  set(sharing.turn_error, table.quantity("turn_error", Kind::fraction, kShare));
  set(sharing.noise_V, table.quantity("noise", Kind::voltage, kSmallVoltage));
  set(sharing.heights_m, table.quantity("heights", Kind::length, kSmallLength));
  set(sharing.survey_m, table.quantity("survey", Kind::length, kSmallLength));
  set(sharing.module_twist_m, table.quantity("module_twist", Kind::length, kSmallLength));
  set(sharing.roll, table.quantity("roll", Kind::slope, kSlope));
  set(sharing.turn_torque_Nm, table.quantity("turn_torque", Kind::torque, kTorque));
  set(sharing.top_line_m, table.quantity("top_line", Kind::length, kSmallLength));
  table.finish();
  raw.share_given = table.given();
}

void check_restraint(const Node& root, FaultSink& sink) {
  static constexpr std::array<std::string_view, 2> kKinds = {"rods", "gap"};
  const Node* const node = find_table(root, "restraint", sink);
  if (node == nullptr) return;
  TableReader table(*node, "[restraint]", sink);
  static_cast<void>(table.choice("kind", kKinds));
  static_cast<void>(table.quantity("gap", Kind::length, kGap));
  static_cast<void>(table.quantity("temperature", Kind::temperature, kTemperature));
  table.finish();
  sink.note(table.at(), "[restraint] is read and not used yet", "");
}

void check_footprint_points(TableReader& table) {
  const Node* const node = table.node("points");
  if (node == nullptr) return;
  bool sound = node->type == Node::Type::list && !node->children.empty();
  for (const Node& point : node->children) {
    if (point.type != Node::Type::list || point.children.size() != 2) {
      sound = false;
      continue;
    }
    static_cast<void>(table.read_quantity(point.children[0], "points", Kind::length, kSidePlace));
    static_cast<void>(table.read_quantity(point.children[1], "points", Kind::length, kSidePlace));
  }
  if (!sound) {
    table.sink().fault(
        of_value(*node), "points is no list of places",
        R"(write points = [["0 m", "0.9 m"], ["0 m", "-0.9 m"]], along and to the left)");
  }
}

void check_footprints(const Node& root, FaultSink& sink) {
  for (const Node* const node : find_list_of_tables(root, "footprint", sink)) {
    TableReader table(*node, "[[footprint]]", sink);
    table.require("name", R"(write name = "axle")");
    table.require("points", R"(write points = [["0 m", "0.9 m"], ["0 m", "-0.9 m"]])");
    static_cast<void>(table.text("name"));
    check_footprint_points(table);
    table.finish();
    sink.note(table.at(), "[[footprint]] is read and not used yet", "");
  }
}

void note_reserved(const Node& root, FaultSink& sink) {
  for (const std::string_view key : {"trim", "instrument"}) {
    const Node* const node = root.find(key);
    if (node == nullptr) continue;
    sink.note(of_key(*node), std::string(key) + " is kept for later and not read yet", "");
  }
}

void check_format(const Node& root, FaultSink& sink) {
  const Node* const format = root.find("format");
  if (format == nullptr) {
    sink.fault({1, 1}, "the file does not say its format", "write format = 1 on the first line");
  } else if (format->type != Node::Type::whole || format->number != 1.0) {
    sink.fault(of_value(*format), "this format is unknown", "write format = 1");
  }
}

void check_top_level(const Node& root, FaultSink& sink) {
  TableReader table(root, "the file", sink);
  for (const std::string_view key :
       {"format", "deck", "site", "module", "joint", "section", "cell", "stand", "cable", "box",
        "indicator", "share", "restraint", "footprint", "trim", "instrument"}) {
    table.allow(key);
  }
  table.finish();
}

}  // namespace

void read_deck_tables(const Node& root, RawDeck& raw, FaultSink& sink) {
  check_format(root, sink);
  check_top_level(root, sink);
  read_deck_table(root, raw, sink);
  read_site(root, raw, sink);
  read_indicator(root, raw, sink);
  read_cables(root, raw, sink);
  read_boxes(root, raw, sink);
  read_share(root, raw, sink);
  check_restraint(root, sink);
  check_footprints(root, sink);
  note_reserved(root, sink);
}

}  // namespace weighwright::deck::reading
