#include <algorithm>
#include <array>
#include <charconv>
#include <cstddef>
#include <string>
#include <string_view>
#include <system_error>
#include <vector>

#include "deck/limits.h"
#include "deck/reading/raw_deck.h"
#include "deck/reading/read_cell.h"
#include "deck/reading/table_reader.h"
#include "deck/thread.h"

namespace weighwright::deck::reading {

namespace {

using units::Kind;

constexpr int kFinestDivision = 64;

void set(double& target, const std::optional<double>& value) {
  if (value) target = *value;
}

template <class Value>
void set(std::optional<Value>& target, const std::optional<Value>& value) {
  if (value) target = value;
}

/// "1/8", or 8 alone.
std::optional<int> read_division(TableReader& table) {
  const Node* const node = table.node("division");
  if (node == nullptr) return std::nullopt;
  double parts = node->type == Node::Type::whole ? node->number : 0.0;
  if (node->type == Node::Type::text && node->text.starts_with("1/")) {
    const std::string_view digits = std::string_view(node->text).substr(2);
    int value = 0;
    const auto result = std::from_chars(digits.data(), digits.data() + digits.size(), value);
    const bool all = result.ec == std::errc{} && result.ptr == digits.data() + digits.size();
    parts = all ? value : 0.0;
  }
  if (parts >= 1.0 && parts <= kFinestDivision) return static_cast<int>(parts);
  table.sink().fault(of_value(*node), "division is no part of a turn that can be set",
                     R"(write "1/8", "1/4" or "1/6" (at the finest "1/64"))");
  return std::nullopt;
}

void read_thread(TableReader& table, Stand& stand) {
  const auto text = table.text("thread");
  if (text) {
    const std::optional<Thread> thread = parse_thread(*text);
    if (thread) {
      stand.thread = *text;
      stand.pitch_m = thread->pitch_m;
      stand.screw_diameter_m = thread->diameter_m;
    } else {
      table.sink().fault(
          of_value(*table.node("thread")), "thread " + units::quote(*text) + " is unknown",
          R"("M20" (coarse pitch), "M20x1.5", "5/8-11 UNC", or the rise of one turn as pitch = "2.5 mm")");
    }
  }
  const auto pitch = table.quantity("pitch", Kind::length, kSmallLength);
  if (!pitch) return;
  stand.pitch_m = *pitch;
  if (!text) stand.thread = "given by its pitch";
}

void read_travel(TableReader& table, Stand& stand) {
  const auto travel = table.quantities("travel", Kind::length, kTravel);
  if (!travel) return;
  std::string what;
  if (travel->size() != 2) {
    what = "travel is no pair";
  } else if (travel->front() > travel->back()) {
    what = "travel is the wrong way round";
  } else if (travel->front() > 0.0 || travel->back() < 0.0) {
    what = "travel does not contain where the screw is now";
  }
  if (!what.empty()) {
    table.sink().fault(of_value(*table.node("travel")), what,
                       R"(write down and up from where the screw is now, as ["-10 mm", "25 mm"])");
    return;
  }
  stand.travel_down_m = travel->front();
  stand.travel_up_m = travel->back();
}

/// One distance of the screws, or one along and one across the deck.
void read_plate(TableReader& table, Stand& stand) {
  const Node* const node = table.node("plate");
  if (node == nullptr) return;
  if (node->type != Node::Type::list) {
    const auto side = table.quantity("plate", Kind::length, kSmallLength);
    set(stand.plate_along_m, side);
    set(stand.plate_across_m, side);
    return;
  }
  const auto sides = table.quantities("plate", Kind::length, kSmallLength);
  if (!sides) return;
  if (sides->size() != 2) {
    table.sink().fault(
        of_value(*node), "plate is no pair",
        R"(write the distance of the screws along and across the deck: ["250 mm", "200 mm"])");
    return;
  }
  stand.plate_along_m = sides->front();
  stand.plate_across_m = sides->back();
}

void read_shims(TableReader& table, Stand& stand) {
  auto shims = table.quantities("shims", Kind::length, kSmallLength);
  if (!shims) return;
  if (shims->empty()) {
    table.sink().fault(of_value(*table.node("shims")), "the list of shims is empty",
                       R"(write the shims on hand: ["0.5 mm", "1 mm", "3 mm"])");
    return;
  }
  std::sort(shims->begin(), shims->end());
  shims->erase(std::unique(shims->begin(), shims->end()), shims->end());
  stand.shims_m = *shims;
}

void read_grout(TableReader& table, Stand& stand) {
  set(stand.grout_min_m, table.quantity("grout_min", Kind::length, kSmallLength));
  set(stand.grout_max_m, table.quantity("grout_max", Kind::length, kSmallLength));
  set(stand.grout_m, table.quantity("grout", Kind::length, kSmallLength));
  if (!table.has("grout_min") && !table.has("grout_max")) return;
  if (stand.grout_min_m && stand.grout_max_m && *stand.grout_min_m > *stand.grout_max_m) {
    table.sink().fault(table.at(), table.name() + ": grout_min is greater than grout_max",
                       "the least and the greatest gap under the plate");
  }
}

/// Sets what the table gives and leaves the rest as it was.
void read_stand(TableReader& table, Stand& stand) {
  static constexpr std::array<std::string_view, 3> kAdjustWords = {"screws", "shims", "none"};
  static constexpr std::array kAdjust = {Adjust::screws, Adjust::shims, Adjust::none};
  static constexpr std::array<std::string_view, 3> kScrewWords = {"jack", "nut", "unknown"};
  static constexpr std::array kScrew = {ScrewKind::jack, ScrewKind::nut, ScrewKind::unknown};
  if (const auto hit = table.choice("adjust", kAdjustWords)) stand.adjust = kAdjust.at(*hit);
  if (const auto hit = table.choice("screw_kind", kScrewWords)) stand.screw_kind = kScrew.at(*hit);
  stand.screws = table.whole("screws", 1, 12).value_or(stand.screws);
  stand.division = read_division(table).value_or(stand.division);
  set(stand.foundation_N_per_m, table.quantity("foundation", Kind::stiffness, kStiffness));
  read_thread(table, stand);
  read_travel(table, stand);
  read_plate(table, stand);
  read_shims(table, stand);
  read_grout(table, stand);
}

void insert(Given& given, const Given& keys, std::string_view prefix) {
  for (const std::string& key : keys) given.insert(std::string(prefix) + key);
}

void check_shims_given(const Stand& stand, Position at, const std::string& name, FaultSink& sink) {
  if (stand.adjust != Adjust::shims || !stand.shims_m.empty()) return;
  sink.fault(at, name + " is adjusted by shims and no shims are given",
             R"(write the shims on hand: shims = ["0.5 mm", "1 mm", "3 mm"])");
}

class StandsReader {
 public:
  StandsReader(const Node& root, RawDeck& raw, FaultSink& sink)
      : root_(&root), raw_(&raw), sink_(&sink) {}

  void read() {
    read_share_division();
    read_base_cell();
    read_base_stand();
    const std::size_t count = 2 * raw_->sections.size();
    raw_->stands.each.assign(count, raw_->stands.base);
    raw_->stands.each_given.assign(count, raw_->stands.given);
    stated_.assign(count, base_stated_);
    const Node* const stand = root_->find("stand");
    if (stand != nullptr && stand->type == Node::Type::table) {
      for (const Node& child : stand->children) read_override(child);
    }
    check_required();
    fill_from_ratios(*raw_, stated_, *sink_);
  }

 private:
  void read_share_division() {
    const Node* const share = root_->find("share");
    if (share == nullptr || share->type != Node::Type::table) return;
    TableReader table(*share, "[share]", *sink_);
    if (const auto division = read_division(table)) {
      raw_->stands.base.division = *division;
      raw_->stands.given.insert("division");
    }
  }

  void read_base_cell() {
    const Node* const node = root_->find("cell");
    if (node == nullptr) return;
    if (node->type != Node::Type::table) {
      sink_->fault(of_key(*node), "cell is no table", "write [cell] for what every cell has");
      return;
    }
    TableReader table(*node, "[cell]", *sink_);
    read_cell(table, raw_->stands.base.cell, base_stated_);
    insert(raw_->stands.given, table.given(), "cell.");
  }

  void read_base_stand() {
    const Node* const node = root_->find("stand");
    if (node == nullptr) return;
    if (node->type != Node::Type::table) {
      sink_->fault(of_key(*node), "stand is no table",
                   "write [stand] for what every stand has, [stand.2L] for one");
      return;
    }
    TableReader table(*node, "[stand]", *sink_);
    read_stand(table, raw_->stands.base);
    for (const Node& child : node->children) {
      if (child.type == Node::Type::table) table.allow(child.key);  // read_override judges these
    }
    table.finish();
    insert(raw_->stands.given, table.given(), "");
    check_shims_given(raw_->stands.base, of_value(*node), "[stand]", *sink_);
  }

  void read_override(const Node& node) {
    if (node.type != Node::Type::table) return;
    const auto label = units::parse_stand(node.key);
    const auto count = static_cast<int>(raw_->stands.each.size());
    if (!label || label->value >= count) {
      // without sections there is nothing to compare with, and that fault is told already
      if (label && raw_->sections.empty()) return;
      const std::string last = std::to_string(count / 2);
      sink_->fault(of_key(node), "there is no stand " + units::quote(node.key),
                   count == 0 ? "section and side, as [stand.2L]"
                              : "stands are 1L, 1R, ... " + last + "L, " + last + "R");
      return;
    }
    const auto index = static_cast<std::size_t>(label->value);
    const std::string name = "stand " + node.key;
    TableReader table(node, name, *sink_);
    Stand& stand = raw_->stands.each.at(index);
    read_stand(table, stand);
    read_papers(table, stand.cell);
    const Node* const cell = table.node("cell");
    table.finish();
    insert(raw_->stands.each_given.at(index), table.given(), "");
    if (cell != nullptr && cell->type == Node::Type::table) {
      TableReader cell_table(*cell, name + " cell", *sink_);
      read_cell(cell_table, stand.cell, stated_.at(index));
      insert(raw_->stands.each_given.at(index), cell_table.given(), "cell.");
    } else if (cell != nullptr) {
      sink_->fault(of_value(*cell), "cell is no table", "write [stand." + node.key + ".cell]");
    }
    if (table.has("adjust")) check_shims_given(stand, table.at(), name, *sink_);
  }

  void check_required() {
    const Node* const cell = root_->find("cell");
    const Position at = cell == nullptr ? Position{} : of_value(*cell);
    for (const auto& [key, example] :
         {std::pair<std::string, std::string>{"capacity",
                                              R"(write capacity = "25 t", from the cell's label)"},
          std::pair<std::string, std::string>{
              "output", R"(write output = "2 mV/V", from the cell's label or certificate)"}}) {
      std::string without;
      for (std::size_t i = 0; i < raw_->stands.each.size(); ++i) {
        if (raw_->stands.each_given.at(i).contains("cell." + key)) continue;
        without +=
            (without.empty() ? "" : ", ") + units::print(units::StandIndex{static_cast<int>(i)});
      }
      const bool none_known =
          raw_->stands.each.empty() && !raw_->stands.given.contains("cell." + key);
      if (without.empty() && !none_known) continue;
      sink_->fault(at, cell == nullptr ? "there is no [cell] with " + key : "[cell] has no " + key,
                   example);
    }
  }

  const Node* root_;
  RawDeck* raw_;
  FaultSink* sink_;
  StatedByRatio base_stated_;
  std::vector<StatedByRatio> stated_;  // of every stand
};

}  // namespace

void read_stands(const Node& root, RawDeck& raw, FaultSink& sink) {
  StandsReader(root, raw, sink).read();
}

}  // namespace weighwright::deck::reading
