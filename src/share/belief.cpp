#include "share/belief.h"

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "chance/counter_random.h"

namespace weighwright::share {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;
using RowMatrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

constexpr double kTwoPi = 6.283185307179586;
constexpr double kNever = -std::numeric_limits<double>::infinity();
constexpr int kMostSuspects = 5;
// What the model of the deck leaves out, in signal: rigid crossbeams, equal stands, exact
// positions. Judgement, checked by the calibration of the field trial (bench/field_trial).
constexpr double kModelError_V = 0.02e-3;

double square(double x) {
  return x * x;
}

/// A turn made between two states: which column it moves and by how much.
struct TurnMade {
  int state = 0;      // the state that came after it
  VectorXd effect_m;  // r: change of H per unit of the turn
  VectorXd error_m;   // r: change of H per standard deviation of its error
};

/// A sample under work, with what the moves need.
struct Worker {
  Sample sample;
  MatrixXd c;                 // r x r
  double log_det_face = 0.0;  // of C on the face of the active set
  double prior = 0.0;         // log density of factors (in log), turns and H_0
  double anchor = 0.0;        // log likelihood of the last state's misfit (and its gaps)
  double early = 0.0;         // log likelihood of the earlier states, given the last
  std::vector<VectorXd> q_early;
  std::vector<std::vector<int>> active_early;
};

/// Where a sample stands in the coordinates of differential evolution.
struct Place {
  std::vector<double> factor;
  std::vector<double> turn_z;
  VectorXd mismatch_m;
};

class Fit {
 public:
  Fit(const Reduced& reduced, const Evidence& evidence, int particles, std::uint64_t seed)
      : reduced_(reduced),
        evidence_(evidence),
        particles_(particles),
        r_(reduced.redundants),
        states_(static_cast<int>(evidence.states.size())),
        random_(seed),
        solver_(reduced.redundants, reduced.contacts),
        normals_(reduced.contact_rows) {
    set_readings();
    set_turns();
    set_loads();
    prior_llt_ = reduced.mismatch_cov_m2.llt();
    const MatrixXd prior_factor = prior_llt_.matrixL();
    prior_log_det_ = prior_factor.diagonal().array().log().sum();
  }

  Belief run() {
    start();
    temper();
    Belief belief;
    belief.evidence_log = evidence_log_;
    for (Worker& worker : workers_) {
      worker.sample.bias_N = bias_of(worker);
      belief.samples.push_back(worker.sample);
    }
    belief.fit = misfit();
    return belief;
  }

 private:
  // ---- what was read, on the redundants

  void set_readings() {
    const MatrixXd& rows = reduced_.stand_rows;
    double sensitivity = 0.0;
    for (const Display& display : evidence_.last) sensitivity += display.sensitivity_V_per_N;
    sensitivity /= static_cast<double>(reduced_.stands);
    for (int t = 0; t < states_; ++t) {
      const State& state = evidence_.states[at(t)];
      seen_.push_back(rows.transpose() * state.force_N);
      double variance = state.noise_N.squaredNorm() / reduced_.stands;
      if (t + 1 < states_) variance += square(kModelError_V / sensitivity);
      variance_.push_back(variance);
    }
    bias_variance_ = evidence_.zero_N.squaredNorm() / reduced_.stands;
    anchor_variance_ = variance_.back() + bias_variance_;
  }

  void set_turns() {
    turn_sum_.assign(at(states_), VectorXd::Zero(r_));
    for (int t = 1; t < states_; ++t) {
      const State& state = evidence_.states[at(t)];
      for (int i = 0; i < reduced_.stands; ++i) {
        if (state.raise_m(i) == 0.0) continue;
        TurnMade turn;
        turn.state = t;
        turn.effect_m = reduced_.stand_rows.row(i).transpose() * state.raise_m(i);
        turn.error_m = turn.effect_m * state.raise_error(i);
        turn_sum_[at(t)] += turn.effect_m;
        turns_.push_back(turn);
      }
    }
  }

  /// The loads that the determinate part of the readings leaves possible (linear and normal).
  void set_loads() {
    const MatrixXd see =
        reduced_.determinate.transpose() * (reduced_.stand_of_contact * reduced_.contact_per_load);
    VectorXd noise2 = VectorXd::Constant(see.rows(), 0.0);
    VectorXd mean_force = VectorXd::Zero(reduced_.stands);
    double weight = 0.0;
    double mean_variance = 0.0;
    for (const State& state : evidence_.states) {
      mean_force += state.force_N;
      mean_variance += state.noise_N.squaredNorm() / reduced_.stands;
      weight += 1.0;
    }
    mean_force /= weight;
    noise2.setConstant(mean_variance / (weight * weight) + bias_variance_);
    const MatrixXd prior = reduced_.load_sd.array().square().matrix().asDiagonal();
    MatrixXd innovation = see * prior * see.transpose();
    innovation.diagonal() += noise2;
    const MatrixXd gain = innovation.ldlt().solve(see * prior).transpose();
    load_mean_ = reduced_.load_mean +
                 gain * (reduced_.determinate.transpose() * mean_force - see * reduced_.load_mean);
    MatrixXd cov = prior - gain * see * prior;
    cov = (0.5 * (cov + cov.transpose())).eval();
    cov.diagonal().array() += 1e-12 * reduced_.load_sd.array().square().maxCoeff();
    const Eigen::LDLT<MatrixXd> ldlt(cov);
    const MatrixXd lower = ldlt.matrixL();
    const VectorXd d = ldlt.vectorD().cwiseMax(0.0).cwiseSqrt();
    const MatrixXd root = ldlt.transpositionsP().transpose() * (lower * d.asDiagonal());
    offset_mean_ = reduced_.contact_per_load * load_mean_;
    offset_root_ = reduced_.contact_per_load * root;
  }

  // ---- densities

  VectorXd mean_at_last(const std::vector<double>& turn_z) const {
    VectorXd mean = reduced_.mismatch_mean_m;
    for (std::size_t k = 0; k < turns_.size(); ++k) {
      mean += turns_[k].effect_m + turns_[k].error_m * turn_z[k];
    }
    return mean;
  }

  double log_normal_prior(const VectorXd& deviation) {
    scratch_ = deviation;
    prior_llt_.matrixL().solveInPlace(scratch_);
    return -0.5 * scratch_.squaredNorm() - prior_log_det_;
  }

  double log_factors(const std::vector<double>& factor) const {
    double sum = 0.0;
    for (std::size_t k = 0; k < factor.size(); ++k) {
      sum -= 0.5 * square(std::log(factor[k]) / reduced_.parameters[k].log_spread);
    }
    return sum;
  }

  static double log_turns(const std::vector<double>& turn_z) {
    double sum = 0.0;
    for (const double z : turn_z) sum -= 0.5 * z * z;
    return sum;
  }

  /// Misfit of the last state alone: its noise and the unknown zeros.
  double log_anchor(const Worker& worker) const {
    double sum = -0.5 * (seen_.back() - worker.sample.q_N).squaredNorm() / anchor_variance_;
    for (const GapSeen& gap : evidence_.states.back().gaps) {
      sum -= 0.5 * square((gap.gap_m - gap_at(worker.sample, gap.contact)) / gap.sd_m);
    }
    return sum;
  }

  static double gap_at(const Sample& sample, int contact) {
    for (std::size_t k = 0; k < sample.active.size(); ++k) {
      if (sample.active[k] == contact) return sample.gap_m[k];
    }
    return 0.0;
  }

  /// Earlier states given the last: joint misfit with one common unknown zero, minus the last's
  /// own.
  double log_early(Worker& worker) {
    if (states_ == 1) return 0.0;
    double sum = 0.0;
    VectorXd h = worker.sample.mismatch_m;
    double weight = 1.0 / bias_variance_ + 1.0 / variance_.back();
    error_sum_ = (seen_.back() - worker.sample.q_N) / variance_.back();
    sum -= 0.5 * (seen_.back() - worker.sample.q_N).squaredNorm() / variance_.back();
    for (int t = states_ - 2; t >= 0; --t) {
      h -= turn_sum_[at(t + 1)];
      for (std::size_t k = 0; k < turns_.size(); ++k) {
        if (turns_[k].state == t + 1) h -= turns_[k].error_m * worker.sample.turn_z[k];
      }
      if (!solve_state(worker, t, h)) return kNever;
      const double w = 1.0 / variance_[at(t)];
      const VectorXd& q = worker.q_early[at(t)];
      sum -= 0.5 * (seen_[at(t)] - q).squaredNorm() * w;
      error_sum_ += (seen_[at(t)] - q) * w;
      weight += w;
      sum += log_early_gaps(t);
    }
    sum += 0.5 * error_sum_.squaredNorm() / weight;
    sum += 0.5 * (seen_.back() - worker.sample.q_N).squaredNorm() / anchor_variance_;
    return sum;
  }

  bool solve_state(Worker& worker, int t, const VectorXd& h) {
    free_.noalias() = worker.sample.inverse * (h + worker.sample.dead_m);
    inverse_row_ = worker.sample.inverse;
    if (solver_.solve(inverse_row_.data(), normals_.data(), worker.sample.offset_N.data(),
                      free_.data(), worker.active_early[at(t)]) != statics::DualStatus::solved) {
      return false;
    }
    worker.q_early[at(t)] = Eigen::Map<const VectorXd>(solver_.q().data(), r_);
    worker.active_early[at(t)] = solver_.active();
    return true;
  }

  /// Gaps of the state that the solver holds.
  double log_early_gaps(int t) const {
    double sum = 0.0;
    for (const GapSeen& gap : evidence_.states[at(t)].gaps) {
      double model = 0.0;
      for (std::size_t k = 0; k < solver_.active().size(); ++k) {
        if (solver_.active()[k] == gap.contact) model = solver_.multipliers()[k];
      }
      sum -= 0.5 * square((gap.gap_m - model) / gap.sd_m);
    }
    return sum;
  }

  VectorXd bias_of(const Worker& worker) const {
    double weight = 1.0 / bias_variance_ + 1.0 / variance_.back();
    VectorXd sum = (seen_.back() - worker.sample.q_N) / variance_.back();
    for (int t = 0; t + 1 < states_; ++t) {
      weight += 1.0 / variance_[at(t)];
      sum += (seen_[at(t)] - worker.q_early[at(t)]) / variance_[at(t)];
    }
    return sum / weight;
  }

  double misfit() const {
    double worst = 0.0;
    for (int t = 0; t + 1 < states_; ++t) {
      std::vector<double> misfits;
      for (const Worker& worker : workers_) {
        const double e =
            (seen_[at(t)] - worker.q_early[at(t)] - worker.sample.bias_N).squaredNorm();
        misfits.push_back(std::sqrt(e / r_ / variance_[at(t)]));
      }
      if (misfits.empty()) continue;
      const auto middle = misfits.begin() + static_cast<std::ptrdiff_t>(misfits.size() / 2);
      std::nth_element(misfits.begin(), middle, misfits.end());
      worst = std::max(worst, *middle);
    }
    return worst;
  }

  // ---- derived quantities of a sample

  void set_stiffness(Worker& worker) const {
    worker.c = flexibility(reduced_, worker.sample.factor);
    worker.sample.inverse = worker.c.llt().solve(MatrixXd::Identity(r_, r_));
    worker.sample.dead_m = dead_mismatch(reduced_, worker.sample.factor);
  }

  /// log det of C restricted to the directions that the active set leaves free.
  double log_det_on_face(const MatrixXd& c, const std::vector<int>& active) const {
    const int k = static_cast<int>(active.size());
    if (k >= r_) return 0.0;
    MatrixXd on_face = c;
    if (k > 0) {
      const MatrixXd face = face_basis(active);
      on_face = face.transpose() * c * face;
    }
    const Eigen::LLT<MatrixXd> llt(on_face);
    return 2.0 * llt.matrixLLT().diagonal().array().log().sum();
  }

  MatrixXd active_normals(const std::vector<int>& active) const {
    MatrixXd normals(r_, static_cast<int>(active.size()));
    for (std::size_t k = 0; k < active.size(); ++k) {
      normals.col(static_cast<int>(k)) = normals_.row(active[k]).transpose();
    }
    return normals;
  }

  MatrixXd face_basis(const std::vector<int>& active) const {
    const int k = static_cast<int>(active.size());
    const MatrixXd q = active_normals(active).householderQr().householderQ();
    return q.rightCols(r_ - k);
  }

  // ---- start: the last state met exactly

  void start() {
    const int draws = (states_ == 1 ? 3 : 4) * particles_;
    const int dimensions = static_cast<int>(reduced_.parameters.size());
    std::vector<double> shifts;
    for (int k = 0; k < dimensions; ++k) shifts.push_back(random_.uniform());
    std::vector<Worker> drawn;
    std::vector<double> log_weight;
    for (int i = 0; i < draws; ++i) {
      Worker worker;
      for (int k = 0; k < dimensions; ++k) {
        const double z = chance::normal_quantile(
            chance::halton(static_cast<std::uint64_t>(i), k, shifts[at(k)]));
        worker.sample.factor.push_back(std::exp(z * reduced_.parameters[at(k)].log_spread));
      }
      for (std::size_t k = 0; k < turns_.size(); ++k) {
        worker.sample.turn_z.push_back(random_.normal());
      }
      VectorXd z(offset_root_.cols());
      for (int k = 0; k < z.size(); ++k) z(k) = random_.normal();
      worker.sample.offset_N = offset_mean_ + offset_root_ * z;
      set_stiffness(worker);
      log_weight.push_back(draw_last_state(worker));
      drawn.push_back(std::move(worker));
    }
    double total = 0.0;
    const std::vector<int> chosen = resample(log_weight, particles_, total);
    evidence_log_ += total;
    for (const int i : chosen) workers_.push_back(drawn[at(i)]);
    for (Worker& worker : workers_) {
      worker.q_early.assign(at(states_), VectorXd::Zero(r_));
      worker.active_early.assign(at(states_), worker.sample.active);
      refresh(worker);
    }
  }

  void refresh(Worker& worker) {
    worker.log_det_face = log_det_on_face(worker.c, worker.sample.active);
    worker.prior = log_factors(worker.sample.factor) + log_turns(worker.sample.turn_z) +
                   log_normal_prior(worker.sample.mismatch_m - mean_at_last(worker.sample.turn_z));
    worker.anchor = log_anchor(worker);
    worker.early = log_early(worker);
  }

  /// Contacts that the last reading leaves in doubt, for this sample's loads.
  std::vector<int> suspects(const Sample& sample) const {
    std::vector<std::pair<double, int>> low;
    const double sd = std::sqrt(anchor_variance_);
    for (int i = 0; i < reduced_.contacts; ++i) {
      const double norm = normals_.row(i).norm();
      if (norm < 1e-9) continue;
      const double z = (normals_.row(i).dot(seen_.back()) + sample.offset_N(i)) / (norm * sd);
      if (z < 4.0) low.emplace_back(z, i);
    }
    for (const GapSeen& gap : evidence_.states.back().gaps) {
      if (gap.gap_m > 0.0) low.emplace_back(-100.0, gap.contact);
    }
    std::sort(low.begin(), low.end());
    std::vector<int> contacts;
    for (const auto& [z, i] : low) {
      if (std::find(contacts.begin(), contacts.end(), i) != contacts.end()) continue;
      if (static_cast<int>(contacts.size()) == kMostSuspects) break;
      contacts.push_back(i);
    }
    return contacts;
  }

  /// Draws q and gaps given stiffness and loads; returns the logarithm of the weight.
  double draw_last_state(Worker& worker) {
    const std::vector<int> in_doubt = suspects(worker.sample);
    const VectorXd mean = mean_at_last(worker.sample.turn_z);
    double best = kNever;
    double sum = 0.0;
    Sample chosen;
    const int subsets = 1 << in_doubt.size();
    for (int mask = 0; mask < subsets; ++mask) {
      std::vector<int> active;
      for (std::size_t k = 0; k < in_doubt.size(); ++k) {
        if ((static_cast<unsigned>(mask) >> k & 1U) != 0U) active.push_back(in_doubt[k]);
      }
      if (static_cast<int>(active.size()) > r_) continue;
      Sample candidate;
      const double log_weight = draw_on_face(worker, active, mean, candidate);
      if (log_weight == kNever) continue;
      if (best == kNever || log_weight > best) {
        sum = best == kNever ? 0.0 : sum * std::exp(best - log_weight);
        best = log_weight;
      }
      const double weight = std::exp(log_weight - best);
      sum += weight;
      if (random_.uniform() * sum <= weight) chosen = candidate;
    }
    if (best == kNever) return kNever;
    worker.sample.q_N = chosen.q_N;
    worker.sample.mismatch_m = chosen.mismatch_m;
    worker.sample.active = chosen.active;
    worker.sample.gap_m = chosen.gap_m;
    return best + std::log(sum);
  }

  /// One hypothesis which contacts hang: `active`. Fills q, gaps and H; returns the log weight.
  double draw_on_face(const Worker& worker,
                      const std::vector<int>& active,
                      const VectorXd& mean,
                      Sample& out) {
    const int k = static_cast<int>(active.size());
    const double sd = std::sqrt(anchor_variance_);
    double log_weight = 0.0;
    VectorXd q = seen_.back();
    const MatrixXd normals = active_normals(active);
    if (k > 0) {
      const MatrixXd gram = normals.transpose() * normals;
      const Eigen::LLT<MatrixXd> llt(gram);
      VectorXd slack = normals.transpose() * q;
      for (int i = 0; i < k; ++i) slack(i) += worker.sample.offset_N(active[at(i)]);
      const double volume = llt.matrixLLT().diagonal().array().log().sum();
      if (llt.info() != Eigen::Success || !(volume > -12.0)) return kNever;
      const VectorXd step = llt.solve(slack);
      q -= normals * step;
      log_weight += -0.5 * slack.dot(step) / anchor_variance_ -
                    0.5 * k * std::log(kTwoPi * anchor_variance_) + volume;
    }
    const int free = r_ - k;
    if (free > 0) {
      VectorXd z(free);
      for (int i = 0; i < free; ++i) z(i) = sd * random_.normal();
      if (k > 0) {
        const MatrixXd face = face_basis(active);
        q += face * z;
        const MatrixXd on_face = face.transpose() * worker.c * face;
        log_weight += 2.0 * on_face.llt().matrixLLT().diagonal().array().log().sum();
      } else {
        q += z;
        log_weight += 2.0 * worker.c.llt().matrixLLT().diagonal().array().log().sum();
      }
    }
    for (int i = 0; i < reduced_.contacts; ++i) {
      if (std::find(active.begin(), active.end(), i) != active.end()) continue;
      if (normals_.row(i).dot(q) + worker.sample.offset_N(i) < 0.0) return kNever;
    }
    const VectorXd residual = worker.c * q - worker.sample.dead_m - mean;
    VectorXd gaps(k);
    log_weight += draw_gaps(active, normals, residual, gaps);
    if (!(log_weight > kNever)) return kNever;
    out.q_N = q;
    out.active = active;
    out.gap_m.assign(gaps.data(), gaps.data() + k);
    out.mismatch_m = residual + mean;
    if (k > 0) out.mismatch_m -= normals * gaps;
    return log_weight;
  }

  /// Gaps >= 0 of the hanging contacts from prior and feeler gauge; returns the log of the weight.
  double draw_gaps(const std::vector<int>& active,
                   const MatrixXd& normals,
                   const VectorXd& residual,
                   VectorXd& gaps) {
    const int k = static_cast<int>(active.size());
    const VectorXd solved = prior_llt_.solve(residual);
    double log_weight = -0.5 * residual.dot(solved) - prior_log_det_ - 0.5 * r_ * std::log(kTwoPi);
    MatrixXd precision = MatrixXd::Zero(k, k);
    VectorXd push = VectorXd::Zero(k);
    if (k > 0) {
      precision = normals.transpose() * prior_llt_.solve(normals);
      push = normals.transpose() * solved;
    }
    for (const GapSeen& gap : evidence_.states.back().gaps) {
      const auto found = std::find(active.begin(), active.end(), gap.contact);
      log_weight -= 0.5 * square(gap.gap_m / gap.sd_m);
      if (found == active.end()) continue;
      const auto i = static_cast<int>(found - active.begin());
      precision(i, i) += 1.0 / square(gap.sd_m);
      push(i) += gap.gap_m / square(gap.sd_m);
    }
    if (k == 0) return log_weight;
    const Eigen::LLT<MatrixXd> llt(precision);
    if (llt.info() != Eigen::Success) return kNever;
    const VectorXd mean = llt.solve(push);
    log_weight += 0.5 * push.dot(mean) - llt.matrixLLT().diagonal().array().log().sum() +
                  0.5 * k * std::log(kTwoPi);
    // Sequential draw: gaps = mean + U^-1 z with U' = L, last one first.
    VectorXd z(k);
    for (int i = k - 1; i >= 0; --i) {
      double centre = mean(i);
      for (int j = i + 1; j < k; ++j)
        centre -= llt.matrixL()(j, i) * (gaps(j) - mean(j)) / llt.matrixL()(i, i);
      const double sd = 1.0 / llt.matrixL()(i, i);
      // The upper tail is drawn by its own probability, so that a far tail keeps its digits.
      const double above = chance::normal_probability(centre / sd);
      if (above < 1e-250) return kNever;
      log_weight += std::log(above);
      gaps(i) = std::max(0.0, centre - sd * chance::normal_quantile(above * random_.uniform()));
    }
    return log_weight;
  }

  /// Systematic resampling; `total` is the log of the mean weight.
  std::vector<int> resample(const std::vector<double>& log_weight, int count, double& total) {
    double best = kNever;
    for (const double w : log_weight) best = std::max(best, w);
    std::vector<int> chosen;
    if (best == kNever) {
      total = kNever;
      for (int i = 0; i < count; ++i) {
        chosen.push_back(i % static_cast<int>(log_weight.size()));
      }
      return chosen;
    }
    double sum = 0.0;
    for (const double w : log_weight) sum += std::exp(w - best);
    total = best + std::log(sum / static_cast<double>(log_weight.size()));
    const double u = random_.uniform();
    double cumulative = 0.0;
    int i = 0;
    for (int k = 0; k < static_cast<int>(log_weight.size()); ++k) {
      cumulative += std::exp(log_weight[at(k)] - best) / sum * count;
      while (i < count && static_cast<double>(i) + u < cumulative) {
        chosen.push_back(k);
        ++i;
      }
    }
    while (static_cast<int>(chosen.size()) < count) chosen.push_back(chosen.back());
    return chosen;
  }

  // ---- tempering

  void temper() {
    double power = 0.0;
    if (states_ == 1) {
      sweep(1.0);
      return;
    }
    while (power < 1.0) {
      const double next = next_power(power);
      std::vector<double> log_weight;
      for (const Worker& worker : workers_) {
        log_weight.push_back(worker.early == kNever ? kNever : (next - power) * worker.early);
      }
      double total = 0.0;
      const std::vector<int> chosen = resample(log_weight, particles_, total);
      evidence_log_ += total;
      std::vector<Worker> kept;
      kept.reserve(chosen.size());
      for (const int i : chosen) kept.push_back(workers_[at(i)]);
      workers_ = std::move(kept);
      power = next;
      for (int i = 0; i < 2; ++i) sweep(power);
    }
    for (int i = 0; i < 2; ++i) sweep(1.0);
  }

  /// The greatest step that keeps half of the samples' worth.
  double next_power(double power) const {
    double low = 0.0;
    double high = 1.0 - power;
    if (effective(high) >= 0.5) return 1.0;
    for (int i = 0; i < 30; ++i) {
      const double middle = 0.5 * (low + high);
      (effective(middle) >= 0.5 ? low : high) = middle;
    }
    return std::min(1.0, power + std::max(low, 1e-9));
  }

  double effective(double step) const {
    double best = kNever;
    for (const Worker& worker : workers_) best = std::max(best, worker.early);
    double sum = 0.0;
    double squares = 0.0;
    for (const Worker& worker : workers_) {
      const double w = std::exp(step * (worker.early - best));
      sum += w;
      squares += w * w;
    }
    return sum * sum / squares / static_cast<double>(workers_.size());
  }

  void sweep(double power) {
    for (Worker& worker : workers_) stiffness_move(worker, power);
    if (!turns_.empty()) {
      for (Worker& worker : workers_) turn_move(worker, power);
    }
    frozen_.resize(workers_.size());
    for (std::size_t i = 0; i < workers_.size(); ++i) {
      frozen_[i].factor = workers_[i].sample.factor;
      frozen_[i].turn_z = workers_[i].sample.turn_z;
      frozen_[i].mismatch_m = workers_[i].sample.mismatch_m;
    }
    for (Worker& worker : workers_) evolution_move(worker, power);
  }

  bool accept(double log_ratio) { return std::log(random_.uniform()) < log_ratio; }

  /// Changes stiffness and keeps the forces and gaps of the last state.
  void stiffness_move(Worker& worker, double power) {
    const int count = static_cast<int>(reduced_.parameters.size());
    if (count == 0) return;
    Worker& next = next_;
    next = worker;
    const bool all = random_.uniform() < 0.3;
    const int one = random_.below(count);
    for (int k = 0; k < count; ++k) {
      if (!all && k != one) continue;
      const double width = reduced_.parameters[at(k)].log_spread * (all ? 0.5 : 1.0);
      next.sample.factor[at(k)] *= std::exp(width * random_.normal());
    }
    set_stiffness(next);
    next.sample.mismatch_m = next.c * next.sample.q_N - next.sample.dead_m;
    for (std::size_t k = 0; k < next.sample.active.size(); ++k) {
      next.sample.mismatch_m -=
          normals_.row(next.sample.active[k]).transpose() * next.sample.gap_m[k];
    }
    refresh(next);
    const double ratio = next.prior - worker.prior + next.log_det_face - worker.log_det_face +
                         power * (next.early - worker.early);
    if (accept(ratio)) std::swap(worker, next);
  }

  /// Changes the errors of the turns and keeps the last state.
  void turn_move(Worker& worker, double power) {
    Worker& next = next_;
    next = worker;
    for (double& z : next.sample.turn_z) z = 0.8 * z + 0.6 * random_.normal();
    refresh(next);
    // The proposal keeps the prior of the errors: only H_0 and the earlier readings decide.
    const double ratio = next.prior - log_turns(next.sample.turn_z) - worker.prior +
                         log_turns(worker.sample.turn_z) + power * (next.early - worker.early);
    if (accept(ratio)) std::swap(worker, next);
  }

  /// Differential evolution in flexibility, turn errors and H at once.
  void evolution_move(Worker& worker, double power) {
    const int count = static_cast<int>(frozen_.size());
    const Place& a = frozen_[at(random_.below(count))];
    const Place& b = frozen_[at(random_.below(count))];
    const double dimensions =
        static_cast<double>(r_) + static_cast<double>(turns_.size() + reduced_.parameters.size());
    const double scale = random_.uniform() < 0.1
                             ? 1.0
                             : 2.38 / std::sqrt(2.0 * dimensions) * (0.4 + 0.8 * random_.uniform());
    Worker& next = next_;
    next = worker;
    double jacobian = 0.0;
    for (std::size_t k = 0; k < next.sample.factor.size(); ++k) {
      const double flexible =
          1.0 / next.sample.factor[k] + scale * (1.0 / a.factor[k] - 1.0 / b.factor[k]);
      if (flexible <= 0.0) return;
      jacobian += std::log(1.0 / flexible) - std::log(next.sample.factor[k]);
      next.sample.factor[k] = 1.0 / flexible;
    }
    for (std::size_t k = 0; k < next.sample.turn_z.size(); ++k) {
      next.sample.turn_z[k] += scale * (a.turn_z[k] - b.turn_z[k]);
    }
    next.sample.mismatch_m += scale * (a.mismatch_m - b.mismatch_m);
    set_stiffness(next);
    if (!solve_last(next)) return;
    refresh(next);
    const double ratio = next.prior - worker.prior + jacobian + next.anchor - worker.anchor +
                         power * (next.early - worker.early);
    if (accept(ratio)) std::swap(worker, next);
  }

  bool solve_last(Worker& worker) {
    free_.noalias() = worker.sample.inverse * (worker.sample.mismatch_m + worker.sample.dead_m);
    inverse_row_ = worker.sample.inverse;
    if (solver_.solve(inverse_row_.data(), normals_.data(), worker.sample.offset_N.data(),
                      free_.data(), worker.sample.active) != statics::DualStatus::solved) {
      return false;
    }
    worker.sample.q_N = Eigen::Map<const VectorXd>(solver_.q().data(), r_);
    worker.sample.active = solver_.active();
    worker.sample.gap_m = solver_.multipliers();
    return true;
  }

  const Reduced& reduced_;
  const Evidence& evidence_;
  int particles_;
  int r_;
  int states_;
  chance::CounterRandom random_;
  statics::DualActiveSet solver_;
  RowMatrix normals_;
  RowMatrix inverse_row_;
  Eigen::LLT<MatrixXd> prior_llt_;
  double prior_log_det_ = 0.0;
  std::vector<VectorXd> seen_;
  std::vector<double> variance_;
  double bias_variance_ = 0.0;
  double anchor_variance_ = 0.0;
  std::vector<TurnMade> turns_;
  std::vector<VectorXd> turn_sum_;
  VectorXd load_mean_;
  VectorXd offset_mean_;
  MatrixXd offset_root_;
  VectorXd scratch_;
  VectorXd free_;
  VectorXd error_sum_;
  std::vector<Worker> workers_;
  std::vector<Place> frozen_;
  Worker next_;  // memory of a proposal, used again and again
  double evidence_log_ = 0.0;
};

}  // namespace

Belief fit(const Reduced& reduced, const Evidence& evidence, int particles, std::uint64_t seed) {
  return Fit(reduced, evidence, particles, seed).run();
}

}  // namespace weighwright::share
