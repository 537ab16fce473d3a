#include "diagnose/row_model.h"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <utility>

namespace weighwright::diagnose {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr double kLogTwoPi = 1.8378770664093453;
constexpr double kWildChance = 2e-3;  // a slip in any one reading; common practice, no source
// A replaced row is first made to say nothing: this many times its own spread.
constexpr double kSaysNothing = 1e3;

double log_normal(double off, double sd) {
  return -0.5 * off * off / (sd * sd) - std::log(sd) - 0.5 * kLogTwoPi;
}

/// ln(2 Phi(z)), kept finite far out (asymptotic series of the tail).
double log_twice_normal(double z) {
  if (z > -25.0) return std::log(std::erfc(-z / std::sqrt(2.0)));
  return -0.5 * z * z - std::log(-z) - 0.5 * kLogTwoPi + std::log(2.0);
}

double log_sum(double a, double b) {
  const double top = std::max(a, b);
  return top + std::log(std::exp(a - top) + std::exp(b - top));
}

}  // namespace

/// An explanation's residual and precision on all rows.
struct RowModel::Solved {
  VectorXd residual;   // n
  MatrixXd columns;    // n x k, those of replaced and widened rows included
  MatrixXd image;      // C^-1 columns
  MatrixXd inner;      // (S^-1 + B' C^-1 B)^-1
  VectorXd pull;       // C_h^-1 residual
  VectorXd amounts;    // k, posterior mean
  VectorXd pin_image;  // n: C_h^-1 cov(rows, pinned); empty: nothing is pinned
  double pin_precision = 0.0;
  double u_first = 0.0;  // standard deviation of the first amount
  double square = 0.0;   // residual' C_h^-1 residual, before anything is pinned
  double log_evidence = 0.0;

  [[nodiscard]] double precision_at(const MatrixXd& precision, Index row) const {
    double value = precision(row, row);
    if (columns.cols() > 0) value -= image.row(row).dot(inner * image.row(row).transpose());
    if (pin_image.size() > 0) value += pin_precision * pin_image(row) * pin_image(row);
    return std::max(value, 1e-300);
  }
};

RowModel::RowModel(
    VectorXd value, VectorXd mean, VectorXd noise, const MatrixXd& columns, VectorXd wild_sd)
    : value_(std::move(value)),
      mean_(std::move(mean)),
      wild_sd_(std::move(wild_sd)),
      columns_(columns) {
  const Index n = value_.size();
  MatrixXd covariance = columns_ * columns_.transpose();
  covariance.diagonal() += noise.array().square().matrix();
  const Eigen::LLT<MatrixXd> factor(covariance);
  precision_ = factor.solve(MatrixXd::Identity(n, n));
  gain_ = precision_ * columns_;
  pull_ = precision_ * (value_ - mean_);
  const MatrixXd lower = factor.matrixL();
  log_norm_ = -0.5 * static_cast<double>(n) * kLogTwoPi;
  for (Index i = 0; i < n; ++i) log_norm_ -= std::log(lower(i, i));
}

RowModel::Solved RowModel::solve(const Prediction& prediction) const {
  const Index n = rows();
  Solved solved;
  solved.residual = (prediction.data.size() > 0 ? prediction.data : value_) - mean_;
  if (prediction.shift.size() > 0) solved.residual -= prediction.shift;
  std::vector<std::pair<Index, double>> widened;  // row and standard deviation
  for (Index i = 0; i < prediction.added_sd.size(); ++i) {
    if (prediction.added_sd(i) > 0.0) widened.emplace_back(i, prediction.added_sd(i));
  }
  double log_replaced = 0.0;
  for (const Replaced& one : prediction.replaced) {
    const double own = 1.0 / std::sqrt(precision_(one.row, one.row));
    const double wide = kSaysNothing * (own + std::abs(solved.residual(one.row)));
    widened.emplace_back(one.row, wide);
    log_replaced += std::log(wide) + 0.5 * kLogTwoPi;
    log_replaced += log_normal(value_(one.row) - one.mean, one.sd);
    solved.residual(one.row) = 0.0;
  }
  const Index own = prediction.columns.cols();
  const Index k = own + static_cast<Index>(widened.size());
  const bool as_read = prediction.data.size() == 0 && prediction.replaced.empty();
  if (!as_read) {
    solved.pull = precision_ * solved.residual;
  } else if (prediction.shift.size() > 0) {
    solved.pull = pull_ - precision_ * prediction.shift;
  } else {
    solved.pull = pull_;
  }
  solved.log_evidence = log_norm_ - 0.5 * solved.residual.dot(solved.pull) + log_replaced;
  solved.square = solved.residual.dot(solved.pull);
  if (k == 0) {
    if (!prediction.pinned.empty()) pin(prediction, solved);
    return solved;
  }
  solved.columns = MatrixXd::Zero(n, k);
  VectorXd sd(k);
  if (own > 0) {
    solved.columns.leftCols(own) = prediction.columns;
    sd.head(own) = prediction.sd;
  }
  for (Index i = own; i < k; ++i) {
    const auto& [row, spread] = widened[static_cast<std::size_t>(i - own)];
    solved.columns(row, i) = 1.0;
    sd(i) = spread;
  }
  solved.image.resize(n, k);
  if (own > 0) solved.image.leftCols(own) = precision_ * prediction.columns;
  for (Index i = own; i < k; ++i) {
    solved.image.col(i) = precision_.col(widened[static_cast<std::size_t>(i - own)].first);
  }
  // In units of the prior: I + S^1/2 B' C^-1 B S^1/2.
  MatrixXd whitened = solved.columns.transpose() * solved.image;
  whitened = sd.asDiagonal() * whitened * sd.asDiagonal();
  whitened.diagonal().array() += 1.0;
  const Eigen::LLT<MatrixXd> factor(whitened);
  solved.inner = sd.asDiagonal() * factor.solve(MatrixXd::Identity(k, k)) * sd.asDiagonal();
  const VectorXd seen = solved.columns.transpose() * solved.pull;
  solved.amounts = solved.inner * seen;
  const MatrixXd lower = factor.matrixL();
  double log_det = 0.0;
  for (Index i = 0; i < k; ++i) log_det += std::log(lower(i, i));
  solved.log_evidence += 0.5 * seen.dot(solved.amounts) - log_det;
  solved.pull -= solved.image * solved.amounts;
  solved.u_first = std::sqrt(std::max(solved.inner(0, 0), 0.0));
  solved.square = solved.residual.dot(solved.pull);
  if (!prediction.pinned.empty()) pin(prediction, solved);
  return solved;
}

/// One more thing known. With c = cov(rows, pinned) and v its variance once the rows are known, the
/// residual seen through the pinned quantity is as if it had been read.
void RowModel::pin(const Prediction& prediction, Solved& solved) const {
  const Pinned& pinned = prediction.pinned.front();
  const Index own = prediction.columns.cols();
  VectorXd cov = columns_ * pinned.open.transpose();  // by the open quantities, n
  double before = pinned.open.squaredNorm() + pinned.sd * pinned.sd;
  VectorXd image = gain_ * pinned.open.transpose();
  if (own > 0) {
    const VectorXd by_amount = prediction.sd.array().square() * pinned.amounts.transpose().array();
    cov += prediction.columns * by_amount;
    image += solved.image.leftCols(own) * by_amount;
    before += pinned.amounts.dot(by_amount);
  }
  if (solved.columns.cols() > 0) {
    image -= solved.image * (solved.inner * (solved.columns.transpose() * image));
  }
  const double mean = pinned.mean + cov.dot(solved.pull);
  const double variance = std::max(before - cov.dot(image), 1e-12 * before);
  const double off = pinned.value - mean;
  solved.log_evidence += log_normal(off, std::sqrt(variance)) -
                         log_normal(pinned.value - pinned.mean, std::sqrt(before));
  // Precision of the rows once it is pinned: C_h^-1 + image image' / variance.
  solved.pull -= image * (off / variance);
  solved.pin_image = image;
  solved.pin_precision = 1.0 / variance;
  if (own == 0) return;
  // Amounts: their covariance with the pinned quantity, the rows known.
  VectorXd seen = VectorXd::Zero(own);
  const MatrixXd inner = solved.inner.topLeftCorner(own, own);
  const VectorXd through = gain_ * pinned.open.transpose();
  seen = inner * pinned.amounts.transpose() -
         solved.inner.topRows(own) * (solved.columns.transpose() * through);
  solved.amounts.head(own) += seen * (off / variance);
  solved.u_first = std::sqrt(std::max(solved.inner(0, 0) - seen(0) * seen(0) / variance, 0.0));
}

Weighed RowModel::weigh(const Prediction& prediction) const {
  const Solved solved = solve(prediction);
  Weighed weighed;
  weighed.log_evidence = solved.log_evidence + prediction.log_weight;
  weighed.square = solved.square;
  if (prediction.columns.cols() > 0) {
    weighed.amount = solved.amounts(0);
    weighed.u_amount = solved.u_first;
    if (prediction.positive && weighed.u_amount > 0.0) {
      weighed.log_evidence += log_twice_normal(weighed.amount / weighed.u_amount);
    }
  }
  const double none = weighed.log_evidence;
  double best = none;
  for (Index i = 0; i < rows(); ++i) {
    const double variance = wild_sd_(i) * wild_sd_(i);
    const double precision = solved.precision_at(precision_, i);
    const double gain = 0.5 * solved.pull(i) * solved.pull(i) / (1.0 / variance + precision) -
                        0.5 * std::log1p(variance * precision);
    const double with = none + std::log(kWildChance) + gain;
    if (with < none - 30.0) continue;
    if (with > best) {
      best = with;
      weighed.wild = i;
      weighed.square =
          solved.square - solved.pull(i) * solved.pull(i) / (1.0 / variance + precision);
    }
    weighed.log_evidence = log_sum(weighed.log_evidence, with);
  }
  return weighed;
}

LeftOut RowModel::leave_out(const Prediction& prediction) const {
  const Solved solved = solve(prediction);
  LeftOut left{.mean = VectorXd::Zero(rows()),
               .sd = VectorXd::Ones(rows()),
               .log_density = VectorXd::Zero(rows())};
  for (Index i = 0; i < rows(); ++i) {
    const double precision = solved.precision_at(precision_, i);
    left.sd(i) = 1.0 / std::sqrt(precision);
    left.mean(i) = value_(i) - solved.pull(i) / precision;
    left.log_density(i) = log_normal(value_(i) - left.mean(i), left.sd(i));
  }
  for (const Replaced& one : prediction.replaced) {
    left.mean(one.row) = one.mean;
    left.sd(one.row) = one.sd;
    left.log_density(one.row) = log_normal(value_(one.row) - one.mean, one.sd);
  }
  return left;
}

RowModel::Foreseen RowModel::foresee(const Prediction& prediction,
                                     const Prediction& prediction_of_new,
                                     const VectorXd& new_mean,
                                     const VectorXd& new_noise,
                                     const MatrixXd& new_columns) const {
  const Solved solved = solve(prediction);
  // x and the amounts, given the rows: their means and what the rows leave open.
  const MatrixXd cross = new_columns * columns_.transpose();  // k_new x n
  Foreseen foreseen;
  foreseen.mean = new_mean + cross * solved.pull;
  if (prediction_of_new.shift.size() > 0) foreseen.mean += prediction_of_new.shift;
  MatrixXd covariance = new_columns * new_columns.transpose();
  const MatrixXd seen = cross * precision_;
  covariance -= seen * cross.transpose();
  if (solved.columns.cols() > 0) {
    const MatrixXd image = cross * solved.image;
    covariance += image * solved.inner * image.transpose();
    const Index own = prediction_of_new.columns.cols();
    if (own > 0) {
      const MatrixXd& b = prediction_of_new.columns;
      foreseen.mean += b * solved.amounts.head(own);
      const MatrixXd mixed = b * solved.inner.topRows(own) * image.transpose();
      covariance += b * solved.inner.topLeftCorner(own, own) * b.transpose();
      covariance -= mixed + mixed.transpose();
    }
  }
  covariance.diagonal() += new_noise.array().square().matrix();
  if (prediction_of_new.added_sd.size() > 0) {
    covariance.diagonal() += prediction_of_new.added_sd.array().square().matrix();
  }
  for (const Replaced& one : prediction_of_new.replaced) {
    foreseen.mean(one.row) = one.mean;
    covariance.row(one.row).setZero();
    covariance.col(one.row).setZero();
    covariance(one.row, one.row) = one.sd * one.sd;
  }
  foreseen.covariance = covariance;
  return foreseen;
}

}  // namespace weighwright::diagnose
