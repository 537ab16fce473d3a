#include "share/judge.h"

#include <Eigen/Cholesky>
#include <Eigen/QR>
#include <Eigen/SVD>
#include <algorithm>
#include <array>
#include <boost/math/distributions/chi_squared.hpp>
#include <cmath>
#include <limits>
#include <optional>

namespace weighwright::share {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr double kTwoPi = 6.283185307179586;
constexpr double kAlarm = 1e-4;   // chance of judging a sound deck faulty by its sums
constexpr double kFar = 4.0;      // standard deviations that end a doubt
constexpr double kListed = 0.10;  // probability from which an explanation is told
constexpr std::size_t kMostListed = 3;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

double square(double x) {
  return x * x;
}

/// One way in which these readings could have come about.
struct Explanation {
  CannotFix fault;
  double log_likelihood = 0.0;
};

/// Readings as a normal vector: what a sound deck would give, and how far off it may be.
class Court {
 public:
  Court(const deck::Deck& deck, const Reduced& reduced, const Evidence& evidence)
      : deck_(deck), reduced_(reduced), evidence_(evidence), stands_(reduced.stands) {
    read_ = evidence.states.back().force_N;
    expected_ = reduced.stand_of_contact * reduced.contact_dead_N;
    variance_.resize(stands_);
    for (int i = 0; i < stands_; ++i) {
      variance_(i) = square(evidence.states.back().noise_N(i)) + square(evidence.zero_N(i)) +
                     square(deck.sharing.sensitivity_spread * expected_(i));
    }
    load_to_stand_ = reduced.stand_of_contact * reduced.contact_per_load;
    sums_cov_ = load_to_stand_ * reduced.load_sd.array().square().matrix().asDiagonal() *
                load_to_stand_.transpose();
    sums_cov_.diagonal() += variance_;
    const std::vector<double> nominal(reduced.parameters.size(), 1.0);
    const MatrixXd stiff = flexibility(reduced, nominal)
                               .llt()
                               .solve(MatrixXd::Identity(reduced.redundants, reduced.redundants));
    mean_ = expected_ + reduced.stand_rows *
                            (stiff * (reduced.mismatch_mean_m + dead_mismatch(reduced, nominal)));
    // The stiffness is known within a factor; the redundants get its room.
    constexpr double kRoom = 1.6;
    full_cov_ = sums_cov_ + square(kRoom) * reduced.stand_rows * stiff * reduced.mismatch_cov_m2 *
                                stiff * reduced.stand_rows.transpose();
  }

  Judged judge() {
    Judged judged;
    judged.expected_N.assign(expected_.data(), expected_.data() + stands_);
    judge_parity(judged.parity);
    judge_roll(judged.roll);
    if (judge_plain_mistakes(judged.faults)) return judged;
    if (judge_turns(judged.faults)) return judged;
    if (!alarm(judged)) return judged;
    judged.faults = explain();
    return judged;
  }

 private:
  // ---- the two invariants

  /// Combination of stand forces that is symmetric, orthogonal to every module weight and fixed by
  /// statics; empty where the deck has none.
  std::optional<VectorXd> parity_row() const {
    const int modules = static_cast<int>(deck_.modules.size());
    MatrixXd rows(modules + 1, reduced_.determinate.cols());
    for (int i = 0; i < modules; ++i) {
      rows.row(i) = (reduced_.determinate.transpose() * load_to_stand_.col(3 * i)).transpose();
      rows.row(i).normalize();
    }
    rows.row(modules) = (reduced_.determinate.transpose() * roll_row()).transpose();
    rows.row(modules).normalize();
    const Eigen::JacobiSVD<MatrixXd> svd(rows, Eigen::ComputeFullV);
    const double largest = svd.singularValues()(0);
    int rank = 0;
    for (int i = 0; i < svd.singularValues().size(); ++i) {
      rank += svd.singularValues()(i) > 1e-9 * largest ? 1 : 0;
    }
    if (rank >= reduced_.determinate.cols()) return std::nullopt;
    VectorXd row = reduced_.determinate * svd.matrixV().col(rank);
    for (int k = 0; 2 * k + 1 < stands_; ++k) {
      const double both = (row(2 * k) + row(2 * k + 1)) / 2.0;
      row(2 * k) = row(2 * k + 1) = both;
    }
    if (row.norm() < 1e-6 || std::abs(row(0)) < 1e-9) return std::nullopt;
    return row / row(0);
  }

  VectorXd roll_row() const {
    VectorXd row(stands_);
    for (int i = 0; i < stands_; ++i) row(i) = deck_.stand_y_m(units::StandIndex{i});
    return row;
  }

  void judge_invariant(const VectorXd& row, Invariant& invariant) const {
    invariant.residual_N = row.dot(read_);
    invariant.u_residual_N = std::sqrt(row.dot(sums_cov_ * row));
    invariant.hidden_N = 2.0 * invariant.u_residual_N / row.cwiseAbs().maxCoeff();
    const double z = std::abs(invariant.residual_N) / invariant.u_residual_N;
    if (z > kFar) {
      invariant.verdict = Judgement::fails;
    } else {
      invariant.verdict = evidence_.no_load_known ? Judgement::holds : Judgement::cannot_judge;
    }
  }

  void judge_parity(Invariant& parity) const {
    if (const std::optional<VectorXd> row = parity_row()) judge_invariant(*row, parity);
  }

  void judge_roll(Invariant& roll) const {
    VectorXd row = roll_row();
    double across = 0.0;
    for (const deck::Section& section : deck_.sections) {
      across += section.across_m / static_cast<double>(deck_.sections.size());
    }
    judge_invariant(row / across, roll);
  }

  // ---- mistakes that need no statistics

  bool judge_plain_mistakes(std::vector<CannotFix>& faults) const {
    for (int i = 0; i < stands_; ++i) {
      const Display& display = evidence_.last[at(i)];
      const double full_V = deck_.stands[at(i)].cell.output_V_per_V * display.excitation_V;
      if (std::abs(display.signal_V) <= full_V) continue;
      CannotFix fault;
      fault.stand = units::StandIndex{i};
      fault.detail = CannotFix::Detail::beyond_output;
      fault.amount_N = read_(i);
      faults.push_back(fault);
    }
    if (reads_the_box()) {
      CannotFix fault;
      fault.detail = CannotFix::Detail::box_mean;
      faults.push_back(fault);
    }
    const double ratio = read_.sum() / expected_.sum();
    if (evidence_.unit == record::ReadingUnit::mV && ratio > 0.4e-3 && ratio < 2.5e-3) {
      CannotFix fault;
      fault.detail = CannotFix::Detail::volts_typed;
      faults.push_back(fault);
    }
    return !faults.empty();
  }

  /// Signals all alike although the sections of this deck carry differently.
  bool reads_the_box() const {
    double low = std::numeric_limits<double>::infinity();
    double high = -low;
    double expected_low = low;
    double expected_high = high;
    double step = 0.0;
    for (int i = 0; i < stands_; ++i) {
      const Display& display = evidence_.last[at(i)];
      low = std::min(low, display.signal_V);
      high = std::max(high, display.signal_V);
      expected_low = std::min(expected_low, expected_(i) * display.sensitivity_V_per_N);
      expected_high = std::max(expected_high, expected_(i) * display.sensitivity_V_per_N);
      step = std::max(step, display.step_V);
    }
    const double alike = 2.0 * step + 4.0 * deck_.sharing.noise_V;
    return stands_ > 2 && high - low <= alike && low > alike &&
           expected_high - expected_low > std::max(4.0 * alike, 0.15 * expected_high);
  }

  // ---- turns answered the wrong way

  /// Whatever the stiffness and whatever lifts, the answer of the redundants to a change of heights
  /// is monotone: dq' dH >= 0 (the solution map of a convex program). A negative product is
  /// impossible.
  bool judge_turns(std::vector<CannotFix>& faults) const {
    for (std::size_t t = 1; t < evidence_.states.size(); ++t) {
      const State& before = evidence_.states[t - 1];
      const State& after = evidence_.states[t];
      const VectorXd change_m = reduced_.stand_rows.transpose() * after.raise_m;
      if (change_m.norm() == 0.0) continue;
      const double answer =
          change_m.dot(reduced_.stand_rows.transpose() * (after.force_N - before.force_N));
      const VectorXd weight = reduced_.stand_rows * change_m;
      double variance = 0.0;
      for (int i = 0; i < stands_; ++i) {
        variance += square(weight(i)) * (square(before.noise_N(i)) + square(after.noise_N(i)));
      }
      const double z = answer / std::sqrt(variance);
      if (z > -6.0) continue;
      CannotFix fault;
      fault.code = Code::swapped_pair;
      fault.detail = CannotFix::Detail::wrong_sign;
      fault.z = z;
      int most = 0;
      after.raise_m.cwiseAbs().maxCoeff(&most);
      fault.stand = units::StandIndex{most};
      fault.section = fault.stand->section();
      faults.push_back(fault);
      return true;
    }
    return false;
  }

  // ---- is anything wrong at all?

  bool alarm(const Judged& judged) const {
    if (judged.parity.verdict == Judgement::fails || judged.roll.verdict == Judgement::fails) {
      return true;
    }
    for (int i = 0; i < stands_; ++i) {
      if (read_(i) < -kFar * std::sqrt(variance_(i))) return true;
    }
    const MatrixXd& q = reduced_.determinate;
    const VectorXd deviation = q.transpose() * (read_ - expected_);
    const double chi2 = deviation.dot((q.transpose() * sums_cov_ * q).ldlt().solve(deviation));
    const boost::math::chi_squared law(static_cast<double>(q.cols()));
    if (chi2 > quantile(complement(law, kAlarm))) return true;
    return most_pull(read_) > kFar;
  }

  /// How far below zero, in standard deviations, some contact would have to be pulled for these
  /// forces.
  double most_pull(const VectorXd& force) const {
    const MatrixXd prior = reduced_.load_sd.array().square().matrix().asDiagonal();
    const MatrixXd see = reduced_.determinate.transpose() * load_to_stand_;
    MatrixXd innovation = see * prior * see.transpose();
    innovation += reduced_.determinate.transpose() * variance_.asDiagonal() * reduced_.determinate;
    const MatrixXd gain = innovation.ldlt().solve(see * prior).transpose();
    const VectorXd load = reduced_.load_mean + gain * (reduced_.determinate.transpose() * force -
                                                       see * reduced_.load_mean);
    const MatrixXd load_cov = prior - gain * see * prior;
    const VectorXd q = reduced_.stand_rows.transpose() * force;
    const double q_variance = variance_.mean();
    double most = 0.0;
    for (int c = 0; c < reduced_.contacts; ++c) {
      const Eigen::RowVectorXd row = reduced_.contact_per_load.row(c);
      const double value = row.dot(load) + reduced_.contact_rows.row(c).dot(q);
      const double variance = row.dot(load_cov * row.transpose()) +
                              reduced_.contact_rows.row(c).squaredNorm() * q_variance;
      most = std::max(most, -value / std::sqrt(variance));
    }
    return most;
  }

  // ---- which explanation fits best?

  double log_normal(const VectorXd& value, const VectorXd& mean, const MatrixXd& cov) const {
    const Eigen::LLT<MatrixXd> llt(cov);
    if (llt.info() != Eigen::Success) return -std::numeric_limits<double>::infinity();
    VectorXd z = value - mean;
    llt.matrixL().solveInPlace(z);
    return -0.5 * z.squaredNorm() - llt.matrixLLT().diagonal().array().log().sum() -
           0.5 * static_cast<double>(z.size()) * std::log(kTwoPi);
  }

  /// Likelihood of forces on a sound deck: sums, redundants, and nothing pulls.
  double log_sound(const VectorXd& force) const {
    return log_normal(force, mean_, full_cov_) - 0.5 * square(std::max(0.0, most_pull(force)));
  }

  std::vector<CannotFix> explain() const {
    std::vector<Explanation> all;
    add_sound(all);
    add_single_stands(all);
    add_dead_cells(all);
    add_reversed(all);
    add_capacities(all);
    add_swaps(all);
    add_loads(all);
    double best = -std::numeric_limits<double>::infinity();
    for (const Explanation& e : all) best = std::max(best, e.log_likelihood);
    double sum = 0.0;
    for (const Explanation& e : all) sum += std::exp(e.log_likelihood - best);
    for (Explanation& e : all) e.fault.probability = std::exp(e.log_likelihood - best) / sum;
    std::stable_sort(all.begin(), all.end(), [](const Explanation& a, const Explanation& b) {
      return a.log_likelihood > b.log_likelihood;
    });
    std::vector<CannotFix> faults;
    for (const Explanation& e : all) {
      if (faults.size() == kMostListed || (!faults.empty() && e.fault.probability < kListed)) break;
      if (joined(faults, e.fault)) continue;
      faults.push_back(e.fault);
    }
    return faults;
  }

  /// The same fault at another stand that the readings can't tell apart is one line, not two.
  static bool joined(std::vector<CannotFix>& faults, const CannotFix& fault) {
    if (fault.code == Code::swapped_pair) return false;  // its alternatives name the other stand
    for (CannotFix& known : faults) {
      if (known.code == fault.code && known.stand && fault.stand && known.detail == fault.detail &&
          known.other_value == fault.other_value) {
        known.alternatives.push_back(*fault.stand);
        known.probability += fault.probability;
        return true;
      }
    }
    return false;
  }

  static void add(std::vector<Explanation>& all,
                  const CannotFix& fault,
                  double log_likelihood,
                  int alternatives) {
    // Each kind of fault is as likely as another before the readings; within a kind each place is.
    if (!std::isfinite(log_likelihood)) return;
    all.push_back(
        {fault, log_likelihood - std::log(static_cast<double>(std::max(1, alternatives)))});
  }

  void add_sound(std::vector<Explanation>& all) const {
    CannotFix fault;
    fault.code = Code::unknown;
    fault.z = worst_z();
    add(all, fault, log_sound(read_), 1);
  }

  double worst_z() const {
    double worst = 0.0;
    const MatrixXd& q = reduced_.determinate;
    for (int k = 0; 2 * k + 1 < stands_; ++k) {
      VectorXd row = VectorXd::Zero(stands_);
      row(2 * k) = row(2 * k + 1) = 1.0;
      row = q * (q.transpose() * row);
      worst = std::max(worst,
                       std::abs(row.dot(read_ - expected_)) / std::sqrt(row.dot(sums_cov_ * row)));
    }
    return worst;
  }

  CannotFix at_stand(Code code, int i) const {
    CannotFix fault;
    fault.code = code;
    fault.stand = units::StandIndex{i};
    fault.section = fault.stand->section();
    return fault;
  }

  /// One stand off by an unknown amount: zero gone, cell damaged, side load, something under it.
  void add_single_stands(std::vector<Explanation>& all) const {
    for (int i = 0; i < stands_; ++i) {
      MatrixXd cov = full_cov_;
      const double room = std::max(expected_(i), 1.0);
      cov(i, i) += square(room);
      const VectorXd solved = cov.llt().solve(read_ - mean_);
      const double amount = square(room) * solved(i);
      VectorXd mended = read_;
      mended(i) -= amount;
      CannotFix fault = at_stand(Code::section_sum, i);
      fault.amount_N = amount;
      fault.z = amount / std::sqrt(variance_(i));
      add(all, fault,
          log_normal(read_, mean_, cov) - 0.5 * square(std::max(0.0, most_pull(mended))), stands_);
    }
  }

  void add_dead_cells(std::vector<Explanation>& all) const {
    for (int i = 0; i < stands_; ++i) {
      const double sd = std::sqrt(variance_(i));
      if (std::abs(read_(i)) > 6.0 * sd) continue;
      std::vector<int> others;
      for (int j = 0; j < stands_; ++j) {
        if (j != i) others.push_back(j);
      }
      const VectorXd value = read_(others);
      const VectorXd mean = mean_(others);
      const MatrixXd cov = full_cov_(others, others);
      const MatrixXd gain = cov.llt().solve(full_cov_(others, std::vector<int>{i}));
      VectorXd mended = read_;
      mended(i) = mean_(i) + (gain.transpose() * (value - mean))(0);
      CannotFix fault = at_stand(Code::dead_cell, i);
      fault.amount_N = -mended(i);
      add(all, fault,
          log_normal(value, mean, cov) - 0.5 * square(read_(i) / sd) - std::log(sd) -
              0.5 * std::log(kTwoPi) - 0.5 * square(std::max(0.0, most_pull(mended))),
          stands_);
    }
  }

  void add_reversed(std::vector<Explanation>& all) const {
    for (int i = 0; i < stands_; ++i) {
      if (read_(i) > -kFar * std::sqrt(variance_(i))) continue;
      VectorXd mended = read_;
      mended(i) = -mended(i);
      CannotFix fault = at_stand(Code::reversed, i);
      fault.amount_N = 2.0 * read_(i);
      add(all, fault, log_sound(mended), 1);
    }
  }

  /// Another capacity that cells are made in. Series: common practice, no source.
  void add_capacities(std::vector<Explanation>& all) const {
    static constexpr std::array<double, 12> kMetric_kg = {5000,  10000, 15000, 20000, 22500, 25000,
                                                          30000, 33000, 40000, 45000, 50000, 60000};
    static constexpr std::array<double, 6> kPounds = {25000, 50000, 60000, 65000, 75000, 100000};
    std::vector<double> capacities(kMetric_kg.begin(), kMetric_kg.end());
    for (const double pounds : kPounds) capacities.push_back(pounds * 0.45359237);
    for (int i = 0; i < stands_; ++i) {
      const double own = deck_.stands[at(i)].cell.capacity_kg;
      for (const double capacity : capacities) {
        const double ratio = capacity / own;
        if (std::abs(ratio - 1.0) < 0.04 || ratio > 3.1 || ratio < 0.3) continue;
        VectorXd mended = read_;
        mended(i) *= ratio;
        CannotFix fault = at_stand(Code::wrong_capacity, i);
        fault.other_value = capacity;
        fault.amount_N = read_(i) - mended(i);
        add(all, fault, log_sound(mended) + std::log(ratio),
            stands_ * static_cast<int>(capacities.size()));
      }
    }
  }

  void add_swaps(std::vector<Explanation>& all) const {
    for (int i = 0; i < stands_; ++i) {
      for (int j = i + 1; j < stands_; ++j) {
        if (std::abs(read_(i) - read_(j)) < 4.0 * std::sqrt(variance_(i) + variance_(j))) continue;
        VectorXd mended = read_;
        std::swap(mended(i), mended(j));
        CannotFix fault = at_stand(Code::swapped_pair, i);
        fault.alternatives.push_back(units::StandIndex{j});
        fault.amount_N = read_(i) - read_(j);
        add(all, fault, log_sound(mended), stands_ * (stands_ - 1) / 2);
      }
    }
  }

  /// Load that is not in the deck file: on one module, or a share of the whole deck.
  void add_loads(std::vector<Explanation>& all) const {
    const int modules = static_cast<int>(deck_.modules.size());
    for (int i = 0; i < modules; ++i) {
      const double weight = reduced_.load_mean(3 * i);
      const double length = deck_.modules[at(i)].length_m;
      const VectorXd centred = load_to_stand_.col(3 * i) * (0.3 * weight);
      const VectorXd along = load_to_stand_.col(3 * i + 1) * (0.3 * weight * length / 4.0);
      MatrixXd cov = full_cov_ + centred * centred.transpose() + along * along.transpose();
      const VectorXd solved = cov.llt().solve(read_ - mean_);
      CannotFix fault;
      fault.amount_N = 0.3 * weight * centred.dot(solved);
      fault.code = fault.amount_N < 0.0 ? Code::touching : Code::section_sum;
      fault.detail =
          fault.amount_N < 0.0 ? CannotFix::Detail::lost_load : CannotFix::Detail::foreign_load;
      fault.joint = std::nullopt;
      fault.section = nearest_section(i);
      add(all, fault, log_normal(read_, mean_, cov), modules);
    }
    MatrixXd cov = full_cov_ + square(0.3) * expected_ * expected_.transpose();
    const double part = square(0.3) * expected_.dot(cov.llt().solve(read_ - mean_));
    CannotFix fault;
    fault.code = part < 0.0 ? Code::touching : Code::section_sum;
    fault.detail = part < 0.0 ? CannotFix::Detail::sums_low : CannotFix::Detail::foreign_load;
    fault.amount_N = part * expected_.sum();
    add(all, fault, log_normal(read_, mean_, cov), 1);
  }

  units::SectionIndex nearest_section(int module) const {
    const double middle =
        deck_.start_m(units::ModuleIndex{module}) + deck_.modules[at(module)].length_m / 2.0;
    int best = 0;
    for (int k = 0; k < static_cast<int>(deck_.sections.size()); ++k) {
      if (std::abs(deck_.sections[at(k)].at_m - middle) <
          std::abs(deck_.sections[at(best)].at_m - middle)) {
        best = k;
      }
    }
    return units::SectionIndex{best};
  }

  const deck::Deck& deck_;
  const Reduced& reduced_;
  const Evidence& evidence_;
  int stands_;
  VectorXd read_;
  VectorXd expected_;
  VectorXd mean_;
  VectorXd variance_;
  MatrixXd load_to_stand_;
  MatrixXd sums_cov_;
  MatrixXd full_cov_;
};

}  // namespace

Judged judge(const deck::Deck& deck, const Reduced& reduced, const Evidence& evidence) {
  return Court(deck, reduced, evidence).judge();
}

}  // namespace weighwright::share
