#include "signal/bench_fault.h"

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>

namespace weighwright::signal {
namespace {

constexpr double kOpen_ohm = 1e11;
constexpr double kShort_ohm = 0.5;
constexpr double kContact_ohm = 0.01;  // a lead is never nothing: nodes stay apart
constexpr double kFloating_S = 1e-15;  // a node that nothing reaches has a potential too
constexpr double kMostStrain = 0.5;

/// Nodes: 0 to 3 cores, 4 body, 5 to 8 the same four at the bridge.
constexpr int kBridge = 5;
constexpr std::array<std::array<int, 2>, 4> kArms = {{{supply_plus, signal_plus},
                                                      {supply_plus, signal_minus},
                                                      {supply_minus, signal_plus},
                                                      {supply_minus, signal_minus}}};

using NinePole = Eigen::Matrix<double, 9, 9>;

/// The nodes at the bridge eliminated (Kron reduction).
FivePole without_bridge(const NinePole& all) {
  const Eigen::Matrix<double, 4, 5> coupling = all.bottomLeftCorner<4, 5>();
  const Eigen::Matrix4d inner = all.bottomRightCorner<4, 4>();
  return all.topLeftCorner<5, 5>() - coupling.transpose() * inner.llt().solve(coupling);
}

double at_bridge_ohm(double stated, double other) {
  return other > 0.0 ? other : stated;
}

FivePole permuted(const FivePole& own, const std::array<int, 4>& wired) {
  const std::array<int, 5> from = {wired[0], wired[1], wired[2], wired[3], kBody};
  FivePole shown;
  for (std::size_t i = 0; i < 5; ++i) {
    for (std::size_t j = 0; j < 5; ++j) {
      shown(static_cast<int>(i), static_cast<int>(j)) = own(from[i], from[j]);
    }
  }
  return shown;
}

/// All resistances between terminals at once: from Z = (Y + 1 1' g)^-1, R = Zii + Zjj - 2 Zij.
FivePole impedance(const FivePole& admittance) {
  const double level = admittance.diagonal().maxCoeff() / 5.0;
  return (admittance + FivePole::Constant(level)).llt().solve(FivePole::Identity());
}

double between(const FivePole& z, int i, int j) {
  return z(i, i) + z(j, j) - 2.0 * z(i, j);
}

/// Signal with a supply on E and a meter on S.
double powered_V(const FivePole& admittance,
                 double supply_V,
                 bool body_on_minus,
                 double meter_ohm) {
  // S+, S- and the body; on E- the body's potential is that of E-, nothing.
  Eigen::Matrix3d system = admittance.bottomRightCorner<3, 3>();
  Eigen::Vector3d right = -admittance.block<3, 1>(signal_plus, supply_plus) * supply_V;
  join(system, 0, 1, 1.0 / meter_ohm);
  if (body_on_minus) {
    system.row(2).setZero();
    system.col(2).setZero();
    system(2, 2) = 1.0;
    right(2) = 0.0;
  }
  const Eigen::Vector3d volt = system.llt().solve(right);
  return volt(0) - volt(1);
}

}  // namespace

FivePole bench_admittance(const BenchCell& cell, const BenchFault& fault, double strain_V_per_V) {
  const double output_ohm = at_bridge_ohm(cell.output_ohm, fault.other_output_ohm);
  const double pads_ohm =
      fault.other_output_ohm > 0.0 ? fault.other_pads_share * output_ohm : cell.pads_ohm;
  const double boost = (output_ohm + std::max(pads_ohm, 0.0)) / output_ohm;
  const double x = std::clamp(strain_V_per_V * boost, -kMostStrain, kMostStrain);
  NinePole network = NinePole::Identity() * kFloating_S;
  for (int core = 0; core < 4; ++core) {
    const double pad_ohm = core < signal_plus ? std::max(pads_ohm, 0.0) / 2.0 : 0.0;
    const double own_ohm = core < signal_plus ? cell.supply_lead_ohm : cell.signal_lead_ohm;
    const double lead_ohm = own_ohm + kContact_ohm + pad_ohm;
    join(network, core, kBridge + core,
         1.0 / (fault.all_open || core == fault.open_lead ? kOpen_ohm : lead_ohm));
  }
  if (pads_ohm < 0.0) {
    const double input_ohm = std::max(output_ohm + pads_ohm, 0.1 * output_ohm);
    join(network, kBridge + supply_plus, kBridge + supply_minus,
         1.0 / input_ohm - 1.0 / output_ohm);
  }
  const Arms strain = strained(output_ohm, x);
  const std::array<double, 4> arms = {strain.plus_plus_ohm, strain.plus_minus_ohm,
                                      strain.minus_plus_ohm, strain.minus_minus_ohm};
  for (int arm = 0; arm < 4; ++arm) {
    const auto at = static_cast<std::size_t>(arm);
    double ohm = arms[at];
    if (arm == fault.open_arm) ohm = kOpen_ohm;
    if (arm == fault.short_arm) ohm = kShort_ohm;
    join(network, kBridge + kArms[at][0], kBridge + kArms[at][1], 1.0 / ohm);
  }
  join(network, kBridge + supply_minus, kBody, 1.0 / cell.insulation_ohm);
  if (fault.body_leak_ohm > 0.0) {
    join(network, kBridge + supply_minus, kBody, 1.0 / fault.body_leak_ohm);
  }
  if (fault.leak_from != kNone) {
    const int to = fault.leak_to == kBody ? kBody : kBridge + fault.leak_to;
    join(network, kBridge + fault.leak_from, to, 1.0 / fault.leak_ohm);
  }
  return permuted(without_bridge(network), fault.wired);
}

Readings pole_readings(const FivePole& unloaded,
                       const FivePole& loaded,
                       double supply_V,
                       bool body_on_minus,
                       double meter_ohm) {
  const FivePole z = impedance(unloaded);
  Readings readings{};
  const auto set = [&](Quantity quantity, double value) {
    readings[static_cast<std::size_t>(quantity)] = value;
  };
  set(Quantity::input, between(z, supply_plus, supply_minus));
  set(Quantity::output, between(z, signal_plus, signal_minus));
  set(Quantity::e_plus_s_plus, between(z, supply_plus, signal_plus));
  set(Quantity::e_plus_s_minus, between(z, supply_plus, signal_minus));
  set(Quantity::e_minus_s_plus, between(z, supply_minus, signal_plus));
  set(Quantity::e_minus_s_minus, between(z, supply_minus, signal_minus));
  set(Quantity::insulation, 1.0 / unloaded.topLeftCorner<4, 4>().sum());
  set(Quantity::zero, powered_V(unloaded, supply_V, body_on_minus, meter_ohm));
  set(Quantity::signal, powered_V(loaded, supply_V, body_on_minus, meter_ohm));
  set(Quantity::excitation, supply_V);
  return readings;
}

Readings bench_readings(const BenchCell& cell, const BenchFault& fault, double meter_ohm) {
  const double zero = cell.zero_V_per_V + fault.zero_shift_V_per_V;
  Readings readings =
      pole_readings(bench_admittance(cell, fault, zero),
                    bench_admittance(cell, fault, zero + cell.load_V_per_V * fault.output_factor),
                    cell.supply_V * fault.supply_factor, fault.body_on_minus, meter_ohm);
  readings[static_cast<std::size_t>(Quantity::zero)] += fault.hum_zero_V;
  readings[static_cast<std::size_t>(Quantity::signal)] += fault.hum_load_V;
  return readings;
}

}  // namespace weighwright::signal
