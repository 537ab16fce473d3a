#include <algorithm>
#include <array>
#include <cstddef>
#include <string>
#include <string_view>

#include "deck/limits.h"
#include "deck/reading/find_table.h"
#include "deck/reading/raw_deck.h"
#include "deck/reading/table_reader.h"
#include "deck/rulebook_name.h"

namespace weighwright::deck::reading {

namespace {

using units::Kind;

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

bool is_in_pounds(const Node& mass) {
  return mass.type == Node::Type::text &&
         (mass.text.find("lb") != std::string::npos || mass.text.find("kip") != std::string::npos);
}

/// What the display counts in, as the data plate has it; null: not there, or no list of pairs.
const Node* interval_node(TableReader& table) {
  if (const Node* const interval = table.node("interval")) return interval;
  const Node* const ranges = table.node("ranges");
  const bool pairs = ranges != nullptr && ranges->type == Node::Type::list &&
                     !ranges->children.empty() && ranges->children[0].children.size() == 2;
  return pairs ? &ranges->children[0].children[1] : nullptr;
}

/// The unit of the data plate rules every text and every paper, whatever the rulebook. Where
/// capacity and interval are typed in different units the interval's holds: the display counts in
/// it.
void read_units(TableReader& table, Deck& deck) {
  const Node* const interval = interval_node(table);
  if (interval == nullptr) return;
  deck.units = is_in_pounds(*interval) ? UnitSystem::us : UnitSystem::metric;
  const Node* const capacity = table.node("capacity");
  if (capacity == nullptr || is_in_pounds(*capacity) == is_in_pounds(*interval)) return;
  table.sink().note(of_value(*capacity),
                    "capacity and interval are typed in different units; texts and papers speak "
                    "the interval's",
                    "both as they stand on the data plate");
}

/// What alone `ranges` always meant is kept, and named in what assumes it.
void read_ranges_kind(TableReader& table, Deck& deck) {
  static constexpr std::array<std::string_view, 2> kKinds = {"intervals", "ranges"};
  const auto kind = table.choice("ranges_kind", kKinds);
  if (kind) deck.ranges_kind = static_cast<RangesKind>(*kind);
  if (table.has("ranges")) return;
  if (const Node* const node = table.node("ranges_kind")) {
    table.sink().fault(of_key(*node), "ranges_kind without ranges",
                       R"(ranges = [["30 t", "10 kg"], ["60 t", "20 kg"]], or neither)");
  }
}

void read_capacity(TableReader& table, Deck& deck) {
  const bool by_ranges = table.has("ranges");
  if (!by_ranges) {
    table.require("capacity", R"(write the Max of the data plate, as capacity = "60 t")");
    table.require("interval", R"(write e of the data plate, as interval = "20 kg")");
  }
  read_units(table, deck);
  read_ranges(table, deck);
  read_ranges_kind(table, deck);
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

void read_site(const Node& root, RawDeck& raw, FaultSink& sink) {
  const Node* const node = find_table(root, "site", sink);
  if (node == nullptr) return;
  TableReader table(*node, "[site]", sink);
  Site& site = raw.deck.site;
  site.latitude_rad = table.quantity("latitude", Kind::angle, kLatitude);
  site.altitude_m = table.quantity("altitude", Kind::length, kAltitude);
  const auto gravity = table.quantity("gravity", Kind::acceleration, kGravity);
  if (gravity) site.gravity_m_per_s2 = *gravity;
  if (const auto range = table.range("temperature", Kind::temperature, kTemperature)) {
    site.temperature_low_degC = range->first;
    site.temperature_high_degC = range->second;
  }
  table.finish();
  raw.site_given = table.given();
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

void read_restraint(const Node& root, RawDeck& raw, FaultSink& sink) {
  static constexpr std::array<std::string_view, 2> kWords = {"rods", "gap"};
  static constexpr std::array kKinds = {Restraint::Kind::rods, Restraint::Kind::gap};
  const Node* const node = find_table(root, "restraint", sink);
  if (node == nullptr) return;
  TableReader table(*node, "[restraint]", sink);
  Restraint& restraint = raw.deck.restraint;
  if (const auto hit = table.choice("kind", kWords)) restraint.kind = kKinds.at(*hit);
  restraint.gap_m = table.quantity("gap", Kind::length, kGap);
  restraint.temperature_degC = table.quantity("temperature", Kind::temperature, kTemperature);
  table.finish();
  if (restraint.kind == Restraint::Kind::rods && table.has("gap")) {
    sink.note(of_key(*table.node("gap")), "rods have no gap: gap and temperature are not used",
              R"(kind = "gap" where the deck stands between bumpers)");
  } else if (table.has("gap") && !table.has("kind")) {
    restraint.kind = Restraint::Kind::gap;
    raw.deck.assumed.push_back({"restraint.kind", "gap"});
  } else if (table.has("temperature") && !table.has("gap")) {
    sink.note(of_key(*table.node("temperature")), "temperature without a gap is not used",
              R"(gap = "15 mm", the gap that the drawing states for that temperature)");
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
        "indicator", "receptor", "share", "restraint", "footprint", "trim", "instrument"}) {
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
  read_wiring(root, raw, sink);
  read_share(root, raw, sink);
  read_restraint(root, raw, sink);
  read_footprints(root, raw, sink);
  read_trim(root, raw, sink);
}

}  // namespace weighwright::deck::reading
