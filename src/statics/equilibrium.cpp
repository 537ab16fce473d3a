#include "statics/equilibrium.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>

namespace weighwright::statics {
namespace {

// Rank decisions: entries of the scaled equations are of order 1, rounding of order 1e-15; a lever
// arm of a millimetre on a deck of tens of metres is of order 1e-5.
constexpr double kRank = 1e-9;

// Three equations a body: those of the bodies before it.
Eigen::Index rows_of(int bodies) {
  return Eigen::Index{3} * bodies;
}

}  // namespace

Eigen::MatrixXd equilibrium_matrix(const std::vector<Contact>& contacts, int bodies) {
  Eigen::MatrixXd e =
      Eigen::MatrixXd::Zero(rows_of(bodies), static_cast<Eigen::Index>(contacts.size()));
  for (std::size_t c = 0; c < contacts.size(); ++c) {
    const Contact& contact = contacts[c];
    const Eigen::Vector3d unit(1.0, contact.x_m, contact.y_m);
    const auto column = static_cast<Eigen::Index>(c);
    e.block<3, 1>(rows_of(contact.above), column) += unit;
    if (contact.below >= 0) e.block<3, 1>(rows_of(contact.below), column) -= unit;
  }
  return e;
}

Eigen::MatrixXd equilibrium_scaling(const std::vector<Contact>& contacts, int bodies) {
  Eigen::MatrixXd scaling = Eigen::MatrixXd::Identity(rows_of(bodies), rows_of(bodies));
  for (int b = 0; b < bodies; ++b) {
    double low = std::numeric_limits<double>::infinity();
    double high = -low;
    double side = 0.0;
    for (const Contact& contact : contacts) {
      if (contact.above != b && contact.below != b) continue;
      low = std::min(low, contact.x_m);
      high = std::max(high, contact.x_m);
      side = std::max(side, std::abs(contact.y_m));
    }
    if (!(low <= high)) continue;  // nothing touches it: its rows are zero anyhow
    const Eigen::Index row = rows_of(b);
    const double half = high > low ? 0.5 * (high - low) : 1.0;
    scaling(row + 1, row) = -0.5 * (low + high) / half;
    scaling(row + 1, row + 1) = 1.0 / half;
    scaling(row + 2, row + 2) = 1.0 / (side > 0.0 ? side : 1.0);
  }
  return scaling;
}

std::optional<FreeMotion> find_free_motion(const Eigen::MatrixXd& equilibrium,
                                           const Eigen::MatrixXd& scaling) {
  const Eigen::MatrixXd scaled = scaling * equilibrium;
  Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(scaled);
  qr.setThreshold(kRank);
  if (qr.rank() == scaled.rows()) return std::nullopt;
  // A motion is a combination of equations that vanishes at every contact: outside the range of E.
  const Eigen::MatrixXd q = qr.householderQ();
  const Eigen::VectorXd motion = q.col(scaled.rows() - 1);
  Eigen::Index most = 0;
  const double size = motion.cwiseAbs().maxCoeff(&most);
  const Eigen::Index row = most / 3 * 3;
  return FreeMotion{static_cast<int>(most / 3), motion(row) / size, motion(row + 1) / size,
                    motion(row + 2) / size};
}

Eigen::MatrixXd particular_forces(const Eigen::MatrixXd& equilibrium,
                                  const Eigen::MatrixXd& scaling) {
  const Eigen::MatrixXd scaled = scaling * equilibrium;
  return scaled.completeOrthogonalDecomposition().pseudoInverse() * scaling;
}

Eigen::MatrixXd redundant_forces(const Eigen::MatrixXd& equilibrium,
                                 const Eigen::MatrixXd& scaling,
                                 const Eigen::MatrixXd& stand_of_contact) {
  const Eigen::MatrixXd scaled = scaling * equilibrium;
  const Eigen::Index equations = scaled.rows();
  const Eigen::Index count = scaled.cols() - equations;
  if (count == 0) return Eigen::MatrixXd::Zero(scaled.cols(), 0);
  const Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(scaled.transpose());
  const Eigen::MatrixXd q = qr.householderQ();
  const Eigen::MatrixXd basis = q.rightCols(count);
  const Eigen::JacobiSVD<Eigen::MatrixXd> svd(stand_of_contact * basis,
                                              Eigen::ComputeThinU | Eigen::ComputeFullV);
  Eigen::MatrixXd n = basis * svd.matrixV();
  for (Eigen::Index i = 0; i < svd.singularValues().size(); ++i) {
    if (svd.singularValues()(i) > kRank) n.col(i) /= svd.singularValues()(i);
  }
  return n;
}

}  // namespace weighwright::statics
