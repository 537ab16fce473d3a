#include "statics/held.h"

#include <Eigen/Cholesky>
#include <Eigen/QR>
#include <cstddef>

#include "statics/equilibrium.h"

namespace weighwright::statics {
namespace {

constexpr double kRank = 1e-9;

// Self-stresses that leave the open contacts without force, m x (r - rank).
Eigen::MatrixXd free_redundants(const Model& model, const Eigen::MatrixXd& at_open) {
  if (at_open.rows() == 0) return model.redundants;
  Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(at_open.transpose());
  qr.setThreshold(kRank);
  const Eigen::MatrixXd q = qr.householderQ();
  return model.redundants * q.rightCols(q.cols() - qr.rank());
}

}  // namespace

HeldResponse respond(const Model& model,
                     const Eigen::MatrixXd& phi,
                     const std::vector<int>& open,
                     const Eigen::MatrixXd& drive) {
  const Eigen::Index m = model.contact_count();
  HeldResponse response{Eigen::MatrixXd::Zero(m, drive.cols()),
                        Eigen::MatrixXd::Zero(m, drive.cols())};
  if (model.redundant_count() == 0) return response;
  Eigen::MatrixXd at_open(static_cast<Eigen::Index>(open.size()), model.redundants.cols());
  for (std::size_t i = 0; i < open.size(); ++i) {
    at_open.row(static_cast<Eigen::Index>(i)) = model.redundants.row(open[i]);
  }
  const Eigen::MatrixXd n = free_redundants(model, at_open);
  if (n.cols() > 0) {
    const Eigen::LLT<Eigen::MatrixXd> factor(n.transpose() * phi * n);
    response.contact_N = n * factor.solve(n.transpose() * drive);
  }
  for (const int c : open) response.contact_N.row(c).setZero();
  if (!open.empty()) {
    const Eigen::MatrixXd misfit =
        model.redundants.transpose() * (phi * response.contact_N - drive);
    const Eigen::MatrixXd gaps =
        at_open.transpose().completeOrthogonalDecomposition().solve(misfit);
    for (std::size_t i = 0; i < open.size(); ++i) {
      response.gap_m.row(open[i]) = gaps.row(static_cast<Eigen::Index>(i));
    }
  }
  return response;
}

Eigen::MatrixXd rigid_motions(const Model& model,
                              const Eigen::MatrixXd& phi,
                              const std::vector<int>& open,
                              const Eigen::MatrixXd& drive,
                              const HeldResponse& response) {
  const Eigen::MatrixXd scaling =
      equilibrium_scaling(model.contacts, static_cast<int>(model.bodies.size()));
  Eigen::MatrixXd at_contacts = (scaling * model.equilibrium).transpose();
  Eigen::MatrixXd misfit = drive - phi * response.contact_N;
  for (const int c : open) {  // an open contact tells nothing
    at_contacts.row(c).setZero();
    misfit.row(c).setZero();
  }
  return scaling.transpose() * at_contacts.completeOrthogonalDecomposition().solve(misfit);
}

}  // namespace weighwright::statics
