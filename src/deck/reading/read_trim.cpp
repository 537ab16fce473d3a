#include <algorithm>
#include <array>
#include <cmath>
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

constexpr std::size_t kMostPoints = 100;
constexpr double kSharesClose = 2e-3;  // "33.3 %" three times is meant to be the whole

// ------------------------------------------------------------------------------------
// [[footprint]]

void points_fault(TableReader& table, const Node& at, std::string what) {
  table.sink().fault(of_value(at), std::move(what),
                     R"(write points = [["0 m", "0.9 m"], ["0 m", "-0.9 m"]], along and to the )"
                     R"(left, each with its share of the load ("30 %") or none)");
}

std::optional<Footprint::Point> read_point(TableReader& table, const Node& node) {
  const bool sound =
      node.type == Node::Type::list && (node.children.size() == 2 || node.children.size() == 3);
  if (!sound) {
    points_fault(table, node, "points is no list of places");
    return std::nullopt;
  }
  const auto along = table.read_quantity(node.children[0], "points", Kind::length, kSidePlace);
  const auto left = table.read_quantity(node.children[1], "points", Kind::length, kSidePlace);
  std::optional<double> share = 0.0;
  if (node.children.size() == 3) {
    share = table.read_quantity(node.children[2], "points", Kind::fraction, kShare);
  }
  if (!along || !left || !share) return std::nullopt;
  return Footprint::Point{*along, *left, *share};
}

/// Shares of all points or of none; none: all alike.
void settle_shares(TableReader& table, const Node& node, std::vector<Footprint::Point>& points) {
  const auto with_share = std::count_if(points.begin(), points.end(),
                                        [](const auto& point) { return point.share > 0.0; });
  double sum = 0.0;
  for (const Footprint::Point& point : points) sum += point.share;
  if (with_share == 0) {
    for (Footprint::Point& point : points) point.share = 1.0 / static_cast<double>(points.size());
  } else if (static_cast<std::size_t>(with_share) != points.size()) {
    points_fault(table, node, "some points have a share of the load and some have none");
  } else if (std::abs(sum - 1.0) > kSharesClose) {
    points_fault(table, node,
                 "the shares of the points add up to " + units::print_fixed(100.0 * sum, 1) +
                     " %, not to 100 %");
  } else {
    for (Footprint::Point& point : points) point.share /= sum;
  }
}

std::vector<Footprint::Point> read_points(TableReader& table) {
  std::vector<Footprint::Point> points;
  const Node* const node = table.node("points");
  if (node == nullptr) return points;
  if (node->type != Node::Type::list || node->children.empty()) {
    points_fault(table, *node, "points is no list of places");
    return points;
  }
  if (node->children.size() > kMostPoints) {
    points_fault(
        table, *node,
        std::to_string(node->children.size()) + " points; at most " + std::to_string(kMostPoints));
    return points;
  }
  bool all = true;
  for (const Node& item : node->children) {
    const auto point = read_point(table, item);
    all = all && point.has_value();
    if (point) points.push_back(*point);
  }
  if (all) settle_shares(table, *node, points);
  return points;
}

// ------------------------------------------------------------------------------------------ [trim]

/// "10 ohm", of both leads together, or "1 %" of the reading.
void read_range(TableReader& table, Trimming& trimming) {
  const Node* const node = table.node("range");
  if (node == nullptr) return;
  const bool is_share = node->type == Node::Type::text && node->text.find('%') != std::string::npos;
  if (is_share) {
    trimming.range_share = table.read_quantity(*node, "range", Kind::fraction, kTrimShare);
  } else {
    trimming.range_ohm = table.read_quantity(*node, "range", Kind::resistance, kTrimResistance);
  }
}

void read_start(TableReader& table, Trimming& trimming) {
  const Node* const node = table.node("start");
  if (node == nullptr) return;
  const bool is_word =
      node->type == Node::Type::text && node->text.find_first_of("0123456789") == std::string::npos;
  if (!is_word) {
    trimming.start_ohm = table.read_quantity(*node, "start", Kind::resistance, kTrimStart);
    return;
  }
  if (node->text == "least") {
    trimming.start = Trimming::Start::least;
  } else if (node->text == "middle") {
    trimming.start = Trimming::Start::middle;
  } else if (node->text != "unknown") {
    table.sink().fault(of_value(*node), "start " + units::quote(node->text) + " is unknown",
                       R"(one of "least", "middle" or "unknown", or a resistance as "5 ohm")");
  }
}

}  // namespace

void read_footprints(const Node& root, RawDeck& raw, FaultSink& sink) {
  std::vector<Footprint>& all = raw.deck.footprints;
  for (const Node* const node : find_list_of_tables(root, "footprint", sink)) {
    TableReader table(*node, "[[footprint]]", sink);
    table.require("name", R"(write name = "axle")");
    table.require("points", R"(write points = [["0 m", "0.9 m"], ["0 m", "-0.9 m"]])");
    const auto name = table.text("name");
    Footprint footprint{name.value_or(""), read_points(table)};
    table.finish();
    if (!name) continue;
    const bool twice = std::any_of(all.begin(), all.end(), [&](const Footprint& other) {
      return other.name == footprint.name;
    });
    if (footprint.name.empty()) {
      sink.fault(of_value(*table.node("name")), "the name of a footprint is empty",
                 R"(write name = "axle")");
    } else if (twice) {
      sink.fault(of_value(*table.node("name")),
                 "two footprints have the name " + units::quote(footprint.name),
                 "each has its own name, by which files of measurements call it");
    }
    all.push_back(std::move(footprint));
  }
}

void read_trim(const Node& root, RawDeck& raw, FaultSink& sink) {
  static constexpr std::array<std::string_view, 2> kClockwise = {"lowers", "raises"};
  const Node* const node = find_table(root, "trim", sink);
  if (node == nullptr) return;
  TableReader table(*node, "[trim]", sink);
  Trimming& trimming = raw.deck.trimming;
  read_range(table, trimming);
  trimming.turns = table.number("turns", kTrimTurns);
  if (const auto hit = table.choice("clockwise", kClockwise)) trimming.clockwise_raises = *hit == 1;
  read_start(table, trimming);
  trimming.attenuates = table.boolean("attenuates").value_or(trimming.attenuates);
  trimming.step_turns = table.number("step", kTrimStep).value_or(trimming.step_turns);
  trimming.most = table.quantity("most", Kind::fraction, kTrimShare).value_or(trimming.most);
  trimming.repeatability_kg = table.quantity("repeatability", Kind::mass, kInterval);
  trimming.spread_kg = table.quantity("spread", Kind::mass, kInterval);
  table.finish();
  raw.trim_given = table.given();
  raw.trim_at = table.at();
}

}  // namespace weighwright::deck::reading
