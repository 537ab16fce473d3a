#include <algorithm>
#include <cstddef>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "deck/reading/raw_deck.h"
#include "units/diagnostic.h"
#include "units/quantity.h"

namespace weighwright::deck::reading {

namespace {

std::string ohms(double value_ohm) {
  return units::print_exact(value_ohm) + " ohm";
}

class WiringChecks {
 public:
  WiringChecks(const RawDeck& raw, FaultSink& sink)
      : raw_(&raw),
        deck_(&raw.deck),
        sink_(&sink),
        stands_(2 * static_cast<int>(raw.sections.size())) {}

  void check() {
    if (stands_ > 0) check_boxes();
    check_sense();
    check_link();
    check_trims();
    check_start();
    check_step();
  }

 private:
  /// A box that names no stands has them all.
  [[nodiscard]] std::vector<units::StandIndex> stands_of(const Box& box) const {
    if (!box.stands.empty()) return box.stands;
    std::vector<units::StandIndex> all;
    for (int i = 0; i < stands_; ++i) all.push_back(units::StandIndex{i});
    return all;
  }

  void check_boxes() {
    std::map<int, std::size_t> box_of_stand;
    for (std::size_t i = 0; i < deck_->boxes.size(); ++i) {
      for (const units::StandIndex stand : stands_of(deck_->boxes[i])) {
        if (stand.value >= stands_) {
          sink_->fault(
              raw_->boxes_at[i],
              "a [[box]] names the stand " + units::print(stand) + ", which does not exist",
              "stands are 1L, 1R, ... " + units::print(units::StandIndex{stands_ - 1}));
          continue;
        }
        if (box_of_stand.emplace(stand.value, i).second) continue;
        sink_->fault(raw_->boxes_at[i], "stand " + units::print(stand) + " is in two boxes",
                     R"(each cell ends in one box: write stands = ["1L", "1R"] in every [[box]])");
        break;  // two boxes without stands would tell every stand
      }
    }
    if (!deck_->boxes.empty()) note_stands_without_box(box_of_stand);
  }

  void note_stands_without_box(const std::map<int, std::size_t>& box_of_stand) {
    std::string without;
    for (int i = 0; i < stands_; ++i) {
      if (box_of_stand.contains(i)) continue;
      without += (without.empty() ? "" : ", ") + units::print(units::StandIndex{i});
    }
    if (without.empty()) return;
    sink_->note(raw_->boxes_at.front(),
                "no [[box]] names " + without + ": taken as wired to the first",
                "name every stand in one box, or leave stands out where there is one box");
  }

  void check_sense() {
    const bool four_cores = deck_->home_cable && deck_->home_cable->cores == 4;
    if (deck_->indicator.sense_cores != 6 || !four_cores) return;
    sink_->fault(raw_->sense_at, "sense = 6, but the home cable has 4 cores",
                 "sense = 4, or cores = 6 in [cable.home]");
  }

  void check_link() {
    if (!deck_->link_cable || deck_->boxes.size() > 1) return;
    sink_->fault(raw_->link_at, "[cable.link] goes from box to box, but there is one box at most",
                 "write [[box]] once for each box, or leave [cable.link] out");
  }

  [[nodiscard]] bool has_trims(const std::vector<std::string_view>& kinds) const {
    return std::any_of(deck_->boxes.begin(), deck_->boxes.end(), [&](const Box& box) {
      return std::find(kinds.begin(), kinds.end(), box.trims) != kinds.end();
    });
  }

  /// What only a trim with a screw has, or a trim at all.
  void check_trims() {
    for (const std::string_view key : {"range", "turns", "clockwise", "start", "step"}) {
      if (!raw_->trim_given.contains(std::string(key))) continue;
      const Trimming& trimming = deck_->trimming;
      const bool resistive =
          (key == "range" && trimming.range_ohm) || (key == "start" && trimming.start_ohm);
      const bool turned = key == "turns" || key == "clockwise" || key == "step";
      if (!has_trims({"signal", "excitation", "section", "digital"})) {
        no_such_trim(key, "no [[box]] has trims", R"(write trims = "signal" in its [[box]])");
      } else if (resistive && !has_trims({"signal", "excitation", "section"})) {
        no_such_trim(key, "digital trims are factors and have no resistance",
                     R"(write range = "1 %", or leave it out)");
      } else if (turned && !has_trims({"signal", "excitation", "section"})) {
        no_such_trim(key, "digital trims are factors and are not turned", "leave it out");
      }
    }
  }

  void no_such_trim(std::string_view key, std::string_view why, std::string_view right) {
    sink_->fault(raw_->trim_at, "[trim] has " + std::string(key) + ", but " + std::string(why),
                 std::string(right));
  }

  void check_start() {
    const Trimming& trimming = deck_->trimming;
    if (!trimming.start_ohm) return;
    if (trimming.range_share) {
      sink_->fault(raw_->trim_at, "[trim] start is a resistance and range is a share",
                   R"(both in ohm, or start = "least", "middle" or "unknown")");
    } else if (trimming.range_ohm && *trimming.start_ohm > *trimming.range_ohm) {
      sink_->fault(raw_->trim_at,
                   "[trim] start is " + ohms(*trimming.start_ohm) + ", beyond the range of " +
                       ohms(*trimming.range_ohm),
                   "both are of the two leads of one cell together");
    }
  }

  void check_step() {
    const Trimming& trimming = deck_->trimming;
    if (!trimming.turns || trimming.step_turns <= *trimming.turns) return;
    sink_->fault(raw_->trim_at,
                 raw_->trim_given.contains("step")
                     ? "[trim] step is more than all turns of the trim"
                     : "[trim] turns is less than the step of 1/4 turn that is assumed",
                 R"(step is what can be set of a turn, as step = "1/8")");
  }

  const RawDeck* raw_;
  const Deck* deck_;
  FaultSink* sink_;
  int stands_;
};

}  // namespace

void check_wiring(const RawDeck& raw, FaultSink& sink) {
  WiringChecks(raw, sink).check();
}

}  // namespace weighwright::deck::reading
