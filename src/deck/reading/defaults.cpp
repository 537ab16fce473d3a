#include <algorithm>
#include <cmath>
#include <cstddef>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "deck/concrete.h"
#include "deck/gravity.h"
#include "deck/reading/raw_deck.h"
#include "units/quantity.h"

namespace weighwright::deck::reading {

namespace {

// Masses by kind and area, hand estimates, no source: steel by comparison with some decks; concrete
// (deck/concrete.h) on a steel pan.
constexpr double kOpen_kg_per_m2 = 200.0;
constexpr double kCells_kg_per_m2 = 250.0;
constexpr double kBox_kg_per_m2 = 260.0;
constexpr double kPan_kg_per_m2 = 150.0;
constexpr double kSlab_m = 0.3;  // common practice, no source
// GJ of a 7 m by 3 m steel module by shell models; every kind spreads widely
constexpr double kOpenTwisting_Nm2 = 0.25e6;
constexpr double kCellsTwisting_Nm2 = 94e6;
constexpr double kBoxTwisting_Nm2 = 285e6;
constexpr double kUnknownTwisting_Nm2 = 60e6;
constexpr double kUnknownTwistingSpread = 4.0;
constexpr double kOverhang_m = 0.6;  // deck wider than its stands, common practice
constexpr double kEstimatedMassSpread = kConcreteMassSpread;
constexpr double kGivenMassSpread = 0.03;
constexpr double kGivenCentreSpread_m = 0.05;
constexpr double kInnerCentreSpread_m = 0.15;  // common practice, no source
constexpr double kEndCentreSpread_m = 0.30;    // ramps, end beams, drains; common practice

class Defaults {
 public:
  explicit Defaults(RawDeck& raw) : raw_(&raw), deck_(&raw.deck) {}

  void fill() {
    fill_across();
    fill_modules();
    fill_joints();
    fill_stands();
    fill_ranges();
    fill_site();
    fill_sharing();
    fill_trimming();
  }

 private:
  void assume(std::string key, std::string value) {
    deck_->assumed.push_back({std::move(key), std::move(value)});
  }

  [[nodiscard]] std::string length_text(double value_m) const {
    if (deck_->units == UnitSystem::us)
      return units::print_fixed(value_m / units::kFoot_m, 2) + " ft";
    return units::print_exact(std::round(value_m * 1e3) / 1e3) + " m";
  }

  [[nodiscard]] std::string mass_text(double value_kg) const {
    if (deck_->units == UnitSystem::us)
      return units::print_fixed(value_kg / units::kPound_kg, 0) + " lb";
    return units::print_fixed(value_kg, 0) + " kg";
  }

  static std::string rigidity_text(double value_Nm2) {
    return units::print_exact(std::round(value_Nm2 / 1e3) / 1e3) + " MN m2";
  }

  // ------------------------------------------------------------------------------------- modules

  /// The greatest distance of stands under each module; a module on none takes its neighbour's.
  void fill_across() {
    const std::size_t count = deck_->modules.size();
    across_m_.assign(count, 0.0);
    for (const Section& section : deck_->sections) {
      const auto module = static_cast<std::size_t>(section.module.value);
      raise(module, section.across_m);
      const bool shared = module + 1 < count &&
                          deck_->joints[module].kind == JointKind::shared_stand &&
                          std::abs(section.at_m - deck_->joint_m(section.module.value)) < 1.1e-3;
      if (shared) raise(module + 1, section.across_m);
    }
    for (std::size_t i = 0; i < count; ++i) {
      if (across_m_[i] == 0.0 && i > 0) across_m_[i] = across_m_[i - 1];
    }
    for (std::size_t i = count - 1; i-- > 0;) {
      if (across_m_[i] == 0.0) across_m_[i] = across_m_[i + 1];
    }
  }

  void raise(std::size_t module, double across_m) {
    across_m_[module] = std::max(across_m_[module], across_m);
  }

  void fill_modules() {
    for (std::size_t i = 0; i < deck_->modules.size(); ++i) fill_module(i);
    list_module_keys();
  }

  void fill_module(std::size_t index) {
    Module& module = deck_->modules[index];
    const Given& given = raw_->modules[index].given;
    const auto note = [&](const std::string& key, std::string value) {
      module_values_[key].resize(deck_->modules.size());
      module_values_[key][index] = std::move(value);
    };
    if (!given.contains("construction")) note("construction", "cells");
    if (module.width_m == 0.0) {
      module.width_m = across_m_[index] + kOverhang_m;
      note("width", length_text(module.width_m));
    }
    if (module.construction == Construction::concrete && module.slab_m == 0.0) {
      module.slab_m = kSlab_m;
      note("slab", length_text(kSlab_m));
    }
    if (module.construction == Construction::concrete && !given.contains("poured"))
      note("poured", "true");
    fill_mass(module);
    if (!module.mass_given)
      note("mass", mass_text(module.mass_kg) + " (estimated from its kind and area)");
    fill_centre(module, index);
    if (!module.centre_given) note("centre", length_text(module.centre_m) + " (mid-length)");
    fill_stiffness(module, given);
    if (!module.twisting_given) {
      note("engineering.twisting", rigidity_text(module.twisting_Nm2) + ", times or divided by " +
                                       units::print_exact(module.twisting_spread));
    }
    if (!given.contains("engineering.bending"))
      note("engineering.bending", rigidity_text(module.bending_Nm2));
    if (!given.contains("engineering.crossbeams")) note("engineering.crossbeams", "2");
    if (!given.contains("engineering.crossbeam_bending"))
      note("engineering.crossbeam_bending", "does not bend");
    if (!given.contains("engineering.crossbeam_twisting"))
      note("engineering.crossbeam_twisting", "0 MN m2");
    if (module.girders_m.empty()) {
      module.girders_m = {across_m_[index] / 2.0, -across_m_[index] / 2.0};
      note("engineering.girders", "over the stands, " + length_text(across_m_[index]) + " apart");
    }
  }

  static void fill_mass(Module& module) {
    module.mass_spread = module.mass_given ? kGivenMassSpread : kEstimatedMassSpread;
    if (module.mass_given) return;
    const double area_m2 = module.length_m * module.width_m;
    switch (module.construction) {
      case Construction::open:
        module.mass_kg = kOpen_kg_per_m2 * area_m2;
        break;
      case Construction::box:
        module.mass_kg = kBox_kg_per_m2 * area_m2;
        break;
      case Construction::concrete:
        module.mass_kg = kPan_kg_per_m2 * area_m2;
        if (module.poured) module.mass_kg += concrete_kg(module);
        break;
      case Construction::cells:
      case Construction::unknown:
        module.mass_kg = kCells_kg_per_m2 * area_m2;
        break;
    }
  }

  void fill_centre(Module& module, std::size_t index) const {
    if (module.centre_given) {
      module.centre_spread_m = kGivenCentreSpread_m;
      return;
    }
    module.centre_m = module.length_m / 2.0;
    const bool at_end = index == 0 || index + 1 == deck_->modules.size();
    module.centre_spread_m = at_end ? kEndCentreSpread_m : kInnerCentreSpread_m;
  }

  static void fill_stiffness(Module& module, const Given& given) {
    if (module.twisting_given) return;
    const bool spread_given = given.contains("engineering.twisting_spread");
    switch (module.construction) {
      case Construction::open:
        module.twisting_Nm2 = kOpenTwisting_Nm2;
        break;
      case Construction::cells:
        module.twisting_Nm2 = kCellsTwisting_Nm2;
        break;
      case Construction::box:
        module.twisting_Nm2 = kBoxTwisting_Nm2;
        break;
      case Construction::concrete:
        module.twisting_Nm2 = module.poured ? slab_twisting_Nm2(module) : kOpenTwisting_Nm2;
        break;
      case Construction::unknown:
        module.twisting_Nm2 = kUnknownTwisting_Nm2;
        if (!spread_given) module.twisting_spread = kUnknownTwistingSpread;
        break;
    }
  }

  /// A default that all modules share is told once, as module.*.key.
  void list_module_keys() {
    for (const auto& [key, values] : module_values_) {
      const bool alike = std::all_of(values.begin(), values.end(), [&](const std::string& value) {
        return value == values.front();
      });
      if (alike && values.size() > 1) {
        assume("module.*." + key, values.front());
        continue;
      }
      for (std::size_t i = 0; i < values.size(); ++i) {
        if (!values[i].empty()) assume("module." + deck_->modules[i].mark + "." + key, values[i]);
      }
    }
  }

  // -------------------------------------------------------------------------------------- joints

  void fill_joints() {
    if (!deck_->joints.empty() && !raw_->joints_given) assume("joint.kind", "hinge");
    for (std::size_t i = 0; i < deck_->joints.size(); ++i) {
      Joint& joint = deck_->joints[i];
      if (joint.across_given || joint.kind != JointKind::hinge) continue;
      joint.across_m = nearest_section(deck_->joint_m(static_cast<int>(i))).across_m;
      assume("joint." + std::to_string(i + 1) + ".across",
             length_text(joint.across_m) + " (as the nearest stands)");
    }
  }

  [[nodiscard]] const Section& nearest_section(double at_m) const {
    return *std::min_element(deck_->sections.begin(), deck_->sections.end(),
                             [&](const Section& a, const Section& b) {
                               return std::abs(a.at_m - at_m) < std::abs(b.at_m - at_m);
                             });
  }

  // -------------------------------------------------------------------------------------- stands

  [[nodiscard]] bool some_lack(const std::string& key) const {
    return std::any_of(raw_->stands.each_given.begin(), raw_->stands.each_given.end(),
                       [&](const Given& given) { return !given.contains(key); });
  }

  void fill_stands() {
    deck_->stands = raw_->stands.each;
    if (some_lack("cell.deflection")) assume("cell.deflection", "0.4 mm at capacity");
    if (some_lack("foundation")) assume("stand.foundation", "rigid");
    if (some_lack("adjust")) assume("stand.adjust", "screws");
    const bool any_screws = std::any_of(deck_->stands.begin(), deck_->stands.end(),
                                        [](const Stand& s) { return s.adjust == Adjust::screws; });
    if (!any_screws) return;
    if (some_lack("screws")) assume("stand.screws", "4");
    if (some_lack("screw_kind"))
      assume("stand.screw_kind", "unknown: the first turn shows which way raises");
    if (some_lack("thread") && some_lack("pitch")) assume("stand.thread", "M20, 2.5 mm a turn");
    if (some_lack("division")) assume("stand.division", "1/8");
    if (some_lack("travel")) assume("stand.travel", "-20 mm to 20 mm");
    if (some_lack("plate")) assume("stand.plate", "250 mm between screws");
    fill_grout();
  }

  /// A window for grout says nothing without the gap that is there: the middle, where it has both
  /// ends. What all stands share is told once.
  void fill_grout() {
    std::vector<std::string> values;
    for (Stand& stand : deck_->stands) values.push_back(grout_of(stand));
    const bool alike = std::all_of(values.begin(), values.end(), [&](const std::string& value) {
      return value == values.front();
    });
    for (std::size_t i = 0; i < values.size(); ++i) {
      if (values[i].empty()) continue;
      const std::string stand =
          alike ? "" : units::print(units::StandIndex{static_cast<int>(i)}) + ".";
      assume("stand." + stand + "grout", values[i]);
      if (alike) return;
    }
  }

  /// @return what is assumed; empty: nothing
  [[nodiscard]] std::string grout_of(Stand& stand) const {
    const bool window = stand.grout_min_m || stand.grout_max_m;
    if (stand.adjust != Adjust::screws || !window || stand.grout_m) return "";
    if (!stand.grout_min_m || !stand.grout_max_m) {
      return std::string("not known, so ") + (stand.grout_min_m ? "grout_min" : "grout_max") +
             " is not held; measure the gap under the plate";
    }
    stand.grout_m = (*stand.grout_min_m + *stand.grout_max_m) / 2.0;
    return small_length_text(*stand.grout_m) +
           " at the first reading, the middle of grout_min and grout_max; measure it";
  }

  [[nodiscard]] std::string small_length_text(double value_m) const {
    if (deck_->units == UnitSystem::us)
      return units::print_fixed(value_m / units::kInch_m, 3) + " in";
    return units::print_exact(std::round(value_m * 1e4) / 10.0) + " mm";
  }

  // ------------------------------------------------------------------------------------ the rest

  void fill_ranges() {
    if (deck_->ranges.size() < 2 || raw_->deck_given.contains("ranges_kind")) return;
    assume("deck.ranges_kind",
           "intervals: one weighing range whose interval changes with the load");
  }

  void fill_site() {
    Site& site = deck_->site;
    if (!deck_->excitation_given) assume("indicator.excitation", "10 V");
    if (raw_->site_given.contains("gravity")) return;
    if (site.latitude_rad) {
      site.gravity_m_per_s2 =
          normal_gravity_m_per_s2(*site.latitude_rad, site.altitude_m.value_or(0.0));
      if (!site.altitude_m) assume("site.altitude", "0 m");
      return;
    }
    assume("site.gravity", "9.80665 m/s2");
  }

  void fill_sharing() {
    const Given& given = raw_->share_given;
    const auto lacking = [&](const std::string& key, std::string value) {
      if (!given.contains(key)) assume("share." + key, std::move(value));
    };
    if (!given.contains("tolerance") && !raw_->deck_given.contains("pair_tolerance")) {
      assume("deck.pair_tolerance", "1 mV or 20 % of the pair's mean, whichever is smaller");
    }
    lacking("turn_error", "5 %");
    lacking("noise", "0.01 mV");
    lacking("heights", "4 mm");
    lacking("survey", "1 mm");
    lacking("module_twist", "1 mm");
    lacking("roll", "10 mm/m");
    lacking("turn_torque", "60 N m");
    lacking("top_line", "3 mm");
  }

  /// Only where something is said of trims: elsewhere nothing of this is used.
  void fill_trimming() {
    const Given& given = raw_->trim_given;
    if (given.empty()) return;
    const auto lacking = [&](const std::string& key, std::string value) {
      if (!given.contains(key)) assume("trim." + key, std::move(value));
    };
    const bool turned = std::any_of(deck_->boxes.begin(), deck_->boxes.end(), [](const Box& box) {
      return box.trims != "none" && box.trims != "digital";
    });
    if (turned) {
      lacking("start", "unknown");
      lacking("attenuates", "true");
      lacking("step", "1/4 turn");
    }
    lacking("most", "1 %");
    lacking("repeatability", "0.3 d: " + mass_text(0.3 * deck_->display_kg()));
    lacking("spread", "e: " + mass_text(deck_->interval_kg));
  }

  RawDeck* raw_;
  Deck* deck_;
  std::vector<double> across_m_;
  std::map<std::string, std::vector<std::string>> module_values_;  // empty: given
};

}  // namespace

void fill_defaults(RawDeck& raw) {
  Defaults(raw).fill();
}

}  // namespace weighwright::deck::reading
