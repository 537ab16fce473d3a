/// The catalogue of circuits with a fault. Weights and spreads: hand estimates, no source.

#include <cmath>

#include "signal/bench_fault.h"
#include "units/quantity.h"

namespace weighwright::signal {
namespace {

constexpr std::array<const char*, 4> kCores = {"E+", "E-", "S+", "S-"};
constexpr std::array<const char*, 4> kArmNames = {"E+ S+", "E+ S-", "E- S+", "E- S-"};

// Prior weights. How one code's weight is split: evenly among its variants.
constexpr double kSound = 0.66;
constexpr double kMoisture = 0.08;
constexpr double kMoistures = 9.0;  // variants
constexpr double kOverload = 0.05;
constexpr double kBrokenLead = 0.05;
constexpr double kNoLoad = 0.03;  // before sharing a stand may hang free
constexpr double kCutCable = 0.02;
constexpr double kDeadBehind = 0.1;  // of a break: the supply was measured behind it
constexpr double kOpenArm = 0.03;
constexpr double kShortedArm = 0.01;
constexpr double kLooseScreen = 0.03;
constexpr double kScreenOnCore = 0.01;
constexpr double kWrongCell = 0.03;
constexpr double kReversedSignal = 0.015;
constexpr double kReversedSupply = 0.01;
constexpr double kSwappedPairs = 0.01;
constexpr double kNoSupply = 0.015;

// Spreads of the free quantities: median and factor of one standard deviation, or spread.
constexpr double kLeak_ohm = 1e7;
constexpr double kLeakDecades = 1.5;
constexpr double kTouch_ohm = 3.0;
constexpr double kTouchDecades = 0.7;
constexpr double kOverloadZero_V_per_V = 0.6e-3;
constexpr double kHum_V = 0.1e-3;
constexpr double kRatingSpread = 0.4;  // natural logarithm
constexpr double kOtherPads = 0.09;    // of the output resistance
constexpr double kOtherPadsSpread = 0.05;
constexpr double kOtherKind_share = 0.05;  // nearer than this is the same kind

std::vector<Fitted> nothing(const BenchFault& /*fault*/) {
  return {};
}
std::vector<Fitted> leak(const BenchFault& fault) {
  return {{"leak_ohm", fault.leak_ohm}};
}
std::vector<Fitted> two_leaks(const BenchFault& fault) {
  return {{"leak_ohm", fault.leak_ohm}, {"body_leak_ohm", fault.body_leak_ohm}};
}
std::vector<Fitted> factor(const BenchFault& fault) {
  return {{"output_factor", fault.output_factor}};
}
std::vector<Fitted> kind(const BenchFault& fault) {
  return {{"output_ohm", fault.other_output_ohm}, {"output_factor", fault.output_factor}};
}
std::vector<Fitted> shift(const BenchFault& fault) {
  return {{"zero_shift_V_per_V", fault.zero_shift_V_per_V}};
}

FaultKind fixed(const char* code, std::string detail, double weight, const BenchFault& fault) {
  return {code, std::move(detail), weight, 0, [fault](const double*) { return fault; }, &nothing};
}

/// A leak or a touch of unknown resistance.
FaultKind leaking(const char* code,
                  std::string detail,
                  double weight,
                  const BenchFault& path,
                  double median_ohm,
                  double decades) {
  const auto make = [=](const double* p) {
    BenchFault fault = path;
    fault.leak_ohm = median_ohm * std::pow(10.0, decades * p[0]);
    return fault;
  };
  return {code, std::move(detail), weight, 1, make, &leak};
}

BenchFault path(int from, int to, bool body_on_minus) {
  BenchFault fault;
  fault.leak_from = from;
  fault.leak_to = to;
  fault.body_on_minus = body_on_minus;
  return fault;
}

void add_arms_and_leads(std::vector<FaultKind>& kinds) {
  for (int i = 0; i < 4; ++i) {
    const auto at = static_cast<std::size_t>(i);
    BenchFault open;
    open.open_arm = i;
    kinds.push_back(fixed("open_arm", kArmNames[at], kOpenArm / 4.0, open));
    BenchFault shorted;
    shorted.short_arm = i;
    kinds.push_back(fixed("shorted_arm", kArmNames[at], kShortedArm / 4.0, shorted));
    BenchFault broken;
    broken.open_lead = i;
    kinds.push_back(fixed("broken_lead", kCores[at], kBrokenLead / 4.0, broken));
    if (i >= signal_plus) continue;
    broken.supply_factor = 0.0;
    kinds.push_back(fixed("broken_lead", std::string(kCores[at]) + ", no supply behind it",
                          kDeadBehind * kBrokenLead / 4.0, broken));
  }
  BenchFault cut;
  cut.all_open = true;
  kinds.push_back(fixed("cut_cable", "", kCutCable, cut));
  cut.supply_factor = 0.0;
  kinds.push_back(fixed("cut_cable", "no supply behind it", kDeadBehind * kCutCable, cut));
}

void add_exchanges(std::vector<FaultKind>& kinds) {
  BenchFault signal;
  signal.wired = {supply_plus, supply_minus, signal_minus, signal_plus};
  kinds.push_back(fixed("reversed_signal", "", kReversedSignal, signal));
  BenchFault supply;
  supply.wired = {supply_minus, supply_plus, signal_plus, signal_minus};
  kinds.push_back(fixed("reversed_supply", "", kReversedSupply, supply));
  BenchFault pairs;
  pairs.wired = {signal_plus, signal_minus, supply_plus, supply_minus};
  kinds.push_back(fixed("swapped_pairs", "", kSwappedPairs, pairs));
  BenchFault hanging;
  hanging.output_factor = 0.0;
  kinds.push_back(fixed("no_load", "", kNoLoad, hanging));
  BenchFault dead;
  dead.supply_factor = 0.0;
  kinds.push_back(fixed("no_supply", "", kNoSupply, dead));
}

/// Water inside reaches the body and lies between cores as well; the two paths have no common size.
void add_wet_inside(std::vector<FaultKind>& kinds) {
  for (const int core : {signal_plus, signal_minus}) {
    const auto make = [core](const double* p) {
      BenchFault fault = path(core, supply_minus, false);
      fault.leak_ohm = kLeak_ohm * std::pow(10.0, kLeakDecades * p[0]);
      fault.body_leak_ohm = kLeak_ohm * std::pow(10.0, kLeakDecades * p[1]);
      return fault;
    };
    kinds.push_back(
        {"moisture",
         std::string(kCores[static_cast<std::size_t>(core)]) + " to E-, and to the body",
         kMoisture / kMoistures, 2, make, &two_leaks});
  }
}

/// The body on E-, as a grounded screen puts it, or floating; a leak from E- looks like any core's
/// leak to a floating body.
void add_leaks(std::vector<FaultKind>& kinds) {
  const struct {
    const char* detail;
    int from, to;
    bool body_on_minus;
  } paths[] = {{"to the body", supply_minus, kBody, false},
               {"S+ to the grounded body", signal_plus, kBody, true},
               {"S- to the grounded body", signal_minus, kBody, true},
               {"S+ to E-", signal_plus, supply_minus, false},
               {"S+ to E+", signal_plus, supply_plus, false},
               {"S- to E-", signal_minus, supply_minus, false},
               {"S- to E+", signal_minus, supply_plus, false}};
  for (const auto& one : paths) {
    kinds.push_back(leaking("moisture", one.detail, kMoisture / kMoistures,
                            path(one.from, one.to, one.body_on_minus), kLeak_ohm, kLeakDecades));
  }
  add_wet_inside(kinds);
  for (int core = 0; core < 4; ++core) {
    kinds.push_back(leaking("screen_on_core", kCores[static_cast<std::size_t>(core)],
                            kScreenOnCore / 4.0, path(core, kBody, true), kTouch_ohm,
                            kTouchDecades));
  }
}

void add_screen_and_overload(std::vector<FaultKind>& kinds) {
  const auto hum = [](const double* p) {
    BenchFault fault;
    fault.hum_zero_V = kHum_V * p[0];
    fault.hum_load_V = kHum_V * p[1];
    return fault;
  };
  kinds.push_back({"loose_screen", "", kLooseScreen, 2, hum, &nothing});
  const auto moved = [](const double* p) {
    BenchFault fault;
    fault.zero_shift_V_per_V = kOverloadZero_V_per_V * p[0];
    return fault;
  };
  kinds.push_back({"overload", "", kOverload, 1, moved, &shift});
}

void add_other_cells(std::vector<FaultKind>& kinds, std::optional<double> output_ohm) {
  const auto rating = [](const double* p) {
    BenchFault fault;
    fault.output_factor = std::exp(kRatingSpread * p[0]);
    return fault;
  };
  kinds.push_back(
      {"wrong_cell", "same resistance, other rating", kWrongCell / 3.0, 1, rating, &factor});
  if (!output_ohm) return;
  for (const double usual_ohm : {350.0, 700.0, 1000.0}) {
    if (std::abs(usual_ohm / *output_ohm - 1.0) < kOtherKind_share) continue;
    const auto make = [usual_ohm](const double* p) {
      BenchFault fault;
      fault.other_output_ohm = usual_ohm * (1.0 + 0.01 * p[0]);
      fault.other_pads_share = kOtherPads + kOtherPadsSpread * p[1];
      fault.output_factor = std::exp(kRatingSpread * p[2]);
      return fault;
    };
    kinds.push_back(
        {"wrong_cell", units::print_exact(usual_ohm) + " ohm", kWrongCell / 3.0, 3, make, &kind});
  }
}

}  // namespace

std::vector<FaultKind> cell_fault_kinds(std::optional<double> output_ohm) {
  std::vector<FaultKind> kinds = {fixed("sound", "", kSound, {})};
  add_arms_and_leads(kinds);
  add_exchanges(kinds);
  add_leaks(kinds);
  add_screen_and_overload(kinds);
  add_other_cells(kinds, output_ohm);
  return kinds;
}

}  // namespace weighwright::signal
