#include "signal/network.h"

#include <Eigen/Cholesky>
#include <cmath>
#include <stdexcept>

namespace weighwright::signal {
namespace {

constexpr double kFloating_S = 1e-15;

/// Potentials when some nodes (`held`) have given ones and `current_A` flows into the others.
Eigen::VectorXd solve_free(const Eigen::MatrixXd& admittance,
                           const std::vector<int>& held,
                           const Eigen::VectorXd& held_V,
                           const Eigen::VectorXd& current_A) {
  Eigen::MatrixXd system = admittance;
  Eigen::VectorXd right = current_A;
  for (std::size_t i = 0; i < held.size(); ++i) {
    right -= admittance.col(held[i]) * held_V(static_cast<Eigen::Index>(i));
  }
  for (std::size_t i = 0; i < held.size(); ++i) {
    system.row(held[i]).setZero();
    system.col(held[i]).setZero();
    system(held[i], held[i]) = 1.0;
    right(held[i]) = held_V(static_cast<Eigen::Index>(i));
  }
  return system.llt().solve(right);
}

}  // namespace

void ResistorNetwork::check_node(int node) const {
  if (node < 0 || node >= nodes_) throw std::invalid_argument("network: no such node");
}

void ResistorNetwork::add(int from, int to, double ohm) {
  check_node(from);
  check_node(to);
  if (!(ohm > 0.0)) throw std::invalid_argument("network: a resistance must be more than 0");
  resistors_.push_back({from, to, 1.0 / ohm});
}

Eigen::MatrixXd ResistorNetwork::admittance() const {
  Eigen::MatrixXd sum = Eigen::MatrixXd::Identity(nodes_, nodes_) * kFloating_S;
  for (const Resistor& r : resistors_) {
    sum(r.from, r.from) += r.siemens;
    sum(r.to, r.to) += r.siemens;
    sum(r.from, r.to) -= r.siemens;
    sum(r.to, r.from) -= r.siemens;
  }
  return sum;
}

double ResistorNetwork::resistance_ohm(int from, int to) const {
  check_node(from);
  check_node(to);
  Eigen::VectorXd current_A = Eigen::VectorXd::Zero(nodes_);
  current_A(from) = 1.0;
  const Eigen::VectorXd reference_V = Eigen::VectorXd::Zero(1);
  return solve_free(admittance(), {to}, reference_V, current_A)(from);
}

Eigen::VectorXd ResistorNetwork::potentials_V(int plus, int minus, double volt) const {
  check_node(plus);
  check_node(minus);
  return solve_free(admittance(), {plus, minus}, Eigen::Vector2d(volt, 0.0),
                    Eigen::VectorXd::Zero(nodes_));
}

}  // namespace weighwright::signal
