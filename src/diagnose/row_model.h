#pragma once
/// How probable a set of readings is under an explanation, quantities of no interest marginalised.
///
/// Model   y = mean + shift + A x + B s + noise, x ~ N(0, I), noise ~ N(0, diag(noise^2)):
///         y ~ N(mean + shift, C + B S B'), C = A A' + diag(noise^2). C is inverted once; each
///         explanation then costs a few products (matrix inversion lemma).
/// Source  log marginal likelihood -1/2 r' C^-1 r - 1/2 ln det C - n/2 ln 2 pi: C. Rasmussen,
///         C. Williams, Gaussian Processes for Machine Learning (2006), eq. (2.30); matrix
///         inversion lemma and determinant: eq. (A.9), (A.10) there (from memory, unverified).
///         A column of which the sign is known has a half-normal prior: the integral over the
///         normal prior times 2 Phi(m / s), m and s mean and standard deviation of its amount.
/// Tails   any one row may be a wild reading (slip of the pen): a mixture with that row widened.

#include <Eigen/Core>
#include <vector>

namespace weighwright::diagnose {

/// A row that tells nothing of the deck under an explanation, and what it shows instead.
struct Replaced {
  Eigen::Index row = 0;
  double mean = 0.0;
  double sd = 1.0;
};

/// A quantity that an explanation knows though nobody read it: a contact that hangs carries
/// nothing. p(y | known) = p(y) p(known | y) / p(known).
struct Pinned {
  double value = 0.0;
  double sd = 1.0;
  double mean = 0.0;           // before any reading, amounts at 0
  Eigen::RowVectorXd open;     // m: its part of the columns A
  Eigen::RowVectorXd amounts;  // k: what one unit of each unknown amount does
};

/// What an explanation makes of n rows.
struct Prediction {
  double log_weight = 0.0;   // of this variant among those of its cause; Jacobians of `data`
  Eigen::VectorXd shift;     // n: added to the mean; empty: 0
  Eigen::MatrixXd columns;   // n x k: what one unit of each unknown amount does; may be empty
  Eigen::VectorXd sd;        // k: prior standard deviation of every amount
  bool positive = false;     // the first amount can't be negative
  Eigen::VectorXd data;      // n: readings put back to what they would be; empty: as read
  Eigen::VectorXd added_sd;  // n: more noise, 0 where none; empty: none
  std::vector<Replaced> replaced;
  std::vector<Pinned> pinned;  // at most one is used
  double size = 0.0;           // of the fault, where the variant fixes it (else the first amount's)
  bool size_fixed = false;
};

struct Weighed {
  double log_evidence = 0.0;  // log_weight included
  double amount = 0.0;        // posterior of the first amount, 0 where there is none
  double u_amount = 0.0;
  double square = 0.0;     // squared deviation of all rows, in the units of what is expected
  Eigen::Index wild = -1;  // row that is more probably wild than not; -1: none
};

/// What is expected of every row by an explanation and all other rows.
struct LeftOut {
  Eigen::VectorXd mean;         // n
  Eigen::VectorXd sd;           // n
  Eigen::VectorXd log_density;  // n, of the row as read
};

class RowModel {
 public:
  /// @param value, mean, noise  n; noise > 0
  /// @param columns  A, n x m
  /// @param wild_sd  n: how far off a wild reading of this row is
  RowModel(Eigen::VectorXd value,
           Eigen::VectorXd mean,
           Eigen::VectorXd noise,
           const Eigen::MatrixXd& columns,
           Eigen::VectorXd wild_sd);

  [[nodiscard]] Weighed weigh(const Prediction& prediction) const;
  [[nodiscard]] LeftOut leave_out(const Prediction& prediction) const;
  /// Mean and covariance of `rows` of a new kind (their part A_new of the same x) once all that was
  /// read is known, under an explanation.
  struct Foreseen {
    Eigen::VectorXd mean;
    Eigen::MatrixXd covariance;
  };
  [[nodiscard]] Foreseen foresee(const Prediction& prediction,
                                 const Prediction& prediction_of_new,
                                 const Eigen::VectorXd& new_mean,
                                 const Eigen::VectorXd& new_noise,
                                 const Eigen::MatrixXd& new_columns) const;
  [[nodiscard]] Eigen::Index rows() const { return value_.size(); }

 private:
  struct Solved;
  [[nodiscard]] Solved solve(const Prediction& prediction) const;
  void pin(const Prediction& prediction, Solved& solved) const;

  Eigen::VectorXd value_;
  Eigen::VectorXd mean_;
  Eigen::VectorXd wild_sd_;
  Eigen::MatrixXd columns_;
  Eigen::MatrixXd precision_;  // C^-1
  Eigen::MatrixXd gain_;       // C^-1 A
  Eigen::VectorXd pull_;       // C^-1 (value - mean)
  double log_norm_ = 0.0;      // -1/2 ln det C - n/2 ln 2 pi
};

}  // namespace weighwright::diagnose
