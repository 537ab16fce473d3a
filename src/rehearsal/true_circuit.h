#pragma once
/// The whole circuit of a site with whatever is wrong in it, solved as it is.
///
/// Model   Every cell is the bridge of signal/bench_fault.h with its fault, seen from its four
/// cores
///         and its body; the bodies are one node (the deck). Boxes, link and home cables, a bad
///         contact in the supply and the indicator's input are added by nodal analysis; the supply
///         is ideal. A sensed indicator knows the supply at the first box, before that contact.
/// Limits  Steady DC, as signal/circuit.h. Without faults the two agree (tests).

#include <Eigen/Core>
#include <vector>

#include "signal/bench_fault.h"
#include "signal/circuit.h"

namespace weighwright::rehearsal {

/// What hangs on one terminal of a box. The bench's load and supply are filled in by what is asked.
struct TrueCell {
  signal::BenchCell bench;
  signal::BenchFault fault;
  double signal_V_per_V_per_N = 0.0;  // of a newton on it
  int box = 0;
};

struct TrueCircuit {
  std::vector<TrueCell> cells;   // by terminal
  std::vector<double> link_ohm;  // one core, by box; the first is not used
  double home_ohm = 0.0;         // one core
  bool sensed = false;
  double supply_V = 10.0;
  double indicator_ohm = 0.0;  // infinite: open
  double contact_ohm = 0.0;    // in the supply, between the first box's entry and its cells
  double leak_S_S = 0.0;       // siemens at the first box: S+ to E+ where positive, to E- else
  double body_leak_S = 0.0;    // siemens at the first box, E- to the deck
};

struct TrueReading {
  double V_per_V = 0.0;  // what the indicator works with
  double entry_V = 0.0;  // supply where the home cable enters the first box
  double bus_V = 0.0;    // supply that the cells of the first box get
};

/// @param force_N  on the cell of every terminal
[[nodiscard]] TrueReading read_circuit(const TrueCircuit& circuit, const Eigen::VectorXd& force_N);

/// What a meter reads of one cell, its signal cores (volts) or all of its cores (ohms) off the box.
/// @param force_N  on that cell while "signal" is read; "zero" is read without any
/// @param bus_V    supply at its terminals
[[nodiscard]] signal::Readings meter_cell(const TrueCell& cell, double force_N, double bus_V);

/// What a meter reads at the first box: all together; ohms with the home cable off.
[[nodiscard]] signal::Readings meter_box(const TrueCircuit& circuit,
                                         const Eigen::VectorXd& force_N);

/// Resistance at the first box between E+ and E- with the home cable off.
[[nodiscard]] double input_ohm(const TrueCircuit& circuit);

}  // namespace weighwright::rehearsal
