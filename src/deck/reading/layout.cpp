#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "deck/limits.h"
#include "deck/reading/raw_deck.h"
#include "units/quantity.h"

namespace weighwright::deck::reading {

namespace {

std::string metres(double value_m) {
  return units::print_exact(std::round(value_m * 1e4) / 1e4) + " m";
}

bool same_place(double a_m, double b_m) {
  return std::abs(a_m - b_m) <= kSamePlace_m;
}

class Layout {
 public:
  Layout(RawDeck& raw, FaultSink& sink) : raw_(&raw), deck_(&raw.deck), sink_(&sink) {}

  bool resolve() {
    const std::size_t before = sink_->fault_count();
    place_modules();
    place_joints();
    place_sections();
    if (sink_->fault_count() == before) check_shared_stands();
    return sink_->fault_count() == before;
  }

 private:
  void place_modules() {
    std::set<std::string> marks;
    for (const RawModule& raw : raw_->modules) {
      if (!marks.insert(raw.module.mark).second) {
        sink_->fault(raw.at, "two modules have the mark " + units::quote(raw.module.mark),
                     "a mark of its own for each module");
      }
      deck_->modules.push_back(raw.module);
    }
  }

  void place_joints() {
    const std::size_t wanted = deck_->modules.size() - 1;
    if (raw_->joints_given && raw_->joints.size() != wanted) {
      const Position at = raw_->joints.empty() ? Position{} : raw_->joints.front().at;
      sink_->fault(at,
                   std::to_string(raw_->joints.size()) + " joints for " +
                       std::to_string(deck_->modules.size()) + " modules",
                   "one [[joint]] between two neighbours: " + std::to_string(wanted) +
                       ", or none where all are hinges");
    }
    for (std::size_t i = 0; i < wanted; ++i) {
      if (i >= raw_->joints.size()) {
        deck_->joints.emplace_back();
        continue;
      }
      Joint joint = raw_->joints[i].joint;
      joint.resting = resting_module(raw_->joints[i], i);
      deck_->joints.push_back(joint);
    }
  }

  std::optional<units::ModuleIndex> resting_module(const RawJoint& raw, std::size_t joint) {
    if (raw.upper.empty()) return std::nullopt;
    const std::string& first = deck_->modules[joint].mark;
    const std::string& second = deck_->modules[joint + 1].mark;
    if (raw.upper == first && raw.lower == second)
      return units::ModuleIndex{static_cast<int>(joint)};
    if (raw.upper == second && raw.lower == first)
      return units::ModuleIndex{static_cast<int>(joint) + 1};
    sink_->fault(
        raw.at,
        "joint " + std::to_string(joint + 1) + " lies between " + first + " and " + second +
            ", but rests says " + units::quote(raw.upper + " on " + raw.lower),
        "write \"" + first + " on " + second + "\" or \"" + second + " on " + first + "\"");
    return std::nullopt;
  }

  void place_sections() {
    if (raw_->sections.size() < 2) {
      sink_->fault(raw_->sections.front().at, "a deck on one section can't stand",
                   "at least two [[section]] tables");
    }
    for (std::size_t i = 0; i < raw_->sections.size(); ++i) {
      check_order(i);
      const RawSection& raw = raw_->sections[i];
      const auto module = carried_module(raw, i);
      const units::ModuleIndex carried = module.value_or(units::ModuleIndex{0});
      deck_->sections.push_back({on_module_m(raw.at_m, carried), carried, raw.across_m});
    }
  }

  void check_order(std::size_t i) {
    if (i == 0) return;
    const double here = raw_->sections[i].at_m;
    const double before = raw_->sections[i - 1].at_m;
    const std::string pair = "sections " + std::to_string(i) + " and " + std::to_string(i + 1);
    if (same_place(here, before)) {
      sink_->fault(raw_->sections[i].at, pair + " stand at one place, " + metres(here),
                   "a section is one pair of stands; a stand shared by two modules is one section "
                   "on a joint of kind \"shared stand\"");
    } else if (here < before) {
      sink_->fault(raw_->sections[i].at,
                   pair + " are out of order: " + metres(before) + ", then " + metres(here),
                   "sections in order from end 1, each at its distance from end 1 of the deck");
    }
  }

  [[nodiscard]] double end_m(std::size_t module) const {
    return deck_->start_m({static_cast<int>(module)}) + deck_->modules[module].length_m;
  }

  /// A place up to 1 mm beyond its module's end is the end.
  [[nodiscard]] double on_module_m(double at_m, units::ModuleIndex module) const {
    const double start_m = deck_->start_m(module);
    return std::clamp(at_m, start_m, end_m(static_cast<std::size_t>(module.value)));
  }

  /// Modules over a place: one, two on a joint line, none off the deck.
  [[nodiscard]] std::vector<std::size_t> modules_over(double at_m) const {
    std::vector<std::size_t> over;
    for (std::size_t i = 0; i < deck_->modules.size(); ++i) {
      const double start_m = deck_->start_m({static_cast<int>(i)});
      if (at_m >= start_m - kSamePlace_m && at_m <= end_m(i) + kSamePlace_m) over.push_back(i);
    }
    return over;
  }

  std::optional<units::ModuleIndex> carried_module(const RawSection& raw, std::size_t index) {
    const std::string name = "section " + std::to_string(index + 1) + " at " + metres(raw.at_m);
    const std::vector<std::size_t> over = modules_over(raw.at_m);
    if (over.empty()) {
      sink_->fault(raw.at, name + " stands off the deck",
                   "the modules together are " + metres(deck_->length_m()) + " long");
      return std::nullopt;
    }
    const bool named_here = check_named(raw, name, over);
    if (!named_here) return std::nullopt;
    const bool shared =
        over.size() == 2 && deck_->joints[over.front()].kind == JointKind::shared_stand;
    if (over.size() == 1 || shared) return units::ModuleIndex{static_cast<int>(over.front())};
    if (raw.module) {
      const bool first = deck_->modules[over.front()].mark == *raw.module;
      return units::ModuleIndex{static_cast<int>(first ? over.front() : over.back())};
    }
    sink_->fault(raw.at, name + " stands under a joint",
                 "say which module rests on it: module = \"" + deck_->modules[over.front()].mark +
                     "\" or module = \"" + deck_->modules[over.back()].mark + "\"");
    return std::nullopt;
  }

  /// Whether the module that the section names, if any, is over it.
  bool check_named(const RawSection& raw,
                   const std::string& name,
                   const std::vector<std::size_t>& over) {
    if (!raw.module) return true;
    std::string there;
    for (const std::size_t i : over) {
      if (deck_->modules[i].mark == *raw.module) return true;
      there += (there.empty() ? "" : " and ") + deck_->modules[i].mark + " (" +
               metres(deck_->start_m({static_cast<int>(i)})) + " to " + metres(end_m(i)) + ")";
    }
    const bool known = std::any_of(deck_->modules.begin(), deck_->modules.end(),
                                   [&](const Module& m) { return m.mark == *raw.module; });
    sink_->fault(raw.at,
                 known ? name + " is not under module " + units::quote(*raw.module)
                       : "there is no module " + units::quote(*raw.module),
                 "over that place lies " + there);
    return false;
  }

  void check_shared_stands() {
    for (std::size_t i = 0; i < deck_->joints.size(); ++i) {
      if (deck_->joints[i].kind != JointKind::shared_stand) continue;
      const double line_m = deck_->joint_m(static_cast<int>(i));
      const bool found = std::any_of(deck_->sections.begin(), deck_->sections.end(),
                                     [&](const Section& s) { return same_place(s.at_m, line_m); });
      if (found) continue;
      sink_->fault(
          raw_->joints[i].at,
          "joint " + std::to_string(i + 1) + " is on a shared stand, but no section stands there",
          "a [[section]] at " + metres(line_m));
    }
  }

  RawDeck* raw_;
  Deck* deck_;
  FaultSink* sink_;
};

}  // namespace

bool resolve_layout(RawDeck& raw, FaultSink& sink) {
  if (!raw.structure_sound || raw.modules.empty() || raw.sections.empty()) return false;
  return Layout(raw, sink).resolve();
}

}  // namespace weighwright::deck::reading
