#pragma once
/// Potentials of any network of resistors with one ideal source, by nodal analysis: the tests'
/// second way beside the program's condensed circuits.
///
/// Model   Steady DC. Every node but the reference has an unknown potential; Kirchhoff's current
/// law
///         at each gives a symmetric positive definite system (a node that nothing reaches is held
///         by 1e-15 S to the reference, so that it has a potential at all: 0 V).
/// Source  Nodal analysis (any text on linear networks; from memory, unverified).
/// Limits  Dense; made for a cell or a box, some tens of nodes. Resistances above 1e14 ohm drown in
///         the 1e-15 S; resistances of nothing are not allowed, give both ends one node.

#include <Eigen/Core>
#include <vector>

namespace weighwright::signal {

class ResistorNetwork {
 public:
  explicit ResistorNetwork(int nodes) : nodes_(nodes) {}

  /// A resistor between two nodes; infinite ohm adds nothing.
  /// @throws std::invalid_argument when it is not more than 0 or a node does not exist
  void add(int from, int to, double ohm);

  /// What an ohmmeter reads between two nodes; more than 1e12 where nothing joins them.
  [[nodiscard]] double resistance_ohm(int from, int to) const;

  /// Potentials of all nodes against `minus` with `volt` between `plus` and `minus`.
  [[nodiscard]] Eigen::VectorXd potentials_V(int plus, int minus, double volt) const;

 private:
  struct Resistor {
    int from;
    int to;
    double siemens;
  };

  [[nodiscard]] Eigen::MatrixXd admittance() const;
  void check_node(int node) const;

  int nodes_;
  std::vector<Resistor> resistors_;
};

}  // namespace weighwright::signal
