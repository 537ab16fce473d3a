#include "trim/gains.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "trim/least_squares.h"

namespace weighwright::trim {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr int kSteps = 8;
constexpr double kSettled = 1e-13;
constexpr int kFreedomsToWiden = 3;
constexpr double kTurnIsSure = 4.0;  // standard uncertainties: its size to a quarter
constexpr double kSameFit = 1e-6;    // of chi-square
constexpr double kUnseen = 1e-5;     // parts of a combination that rounding may leave

std::size_t at(Eigen::Index index) {
  return static_cast<std::size_t>(index);
}

/// What a trim of unknown turn does that is believed to stand at its least attenuation.
enum class Ends {
  none,    // it goes on either way
  raises,  // clockwise raises: it stands at its end and turns on clockwise without effect
  lowers   // clockwise lowers: the same the other way
};

/// Where the trims stood in every epoch: known effects, and turns whose effect is to be learned.
class TrimHistory {
 public:
  TrimHistory(const Shifts& shifts, const std::vector<Element>& elements, Ends ends) : ends_(ends) {
    VectorXd known(elements.size());
    VectorXd turned = VectorXd::Zero(known.size());
    for (std::size_t k = 0; k < elements.size(); ++k) {
      known(static_cast<Eigen::Index>(k)) = elements[k].start;
    }
    add(known, turned);
    for (const record::TrimSet& set : shifts.moves) {
      for (const record::TrimMove& move : set.moves) make(move, elements, known, turned);
      add(known, turned);
    }
  }

  [[nodiscard]] bool learns() const { return !turned_.back().isZero(0.0); }
  /// @param per_turn  K: of each trim, its box's
  [[nodiscard]] VectorXd effects(int epoch, const VectorXd& per_turn) const {
    const auto e = static_cast<std::size_t>(epoch);
    return known_[e] + per_turn.cwiseProduct(turned_[e]);
  }
  [[nodiscard]] const VectorXd& turned(int epoch) const {
    return turned_[static_cast<std::size_t>(epoch)];
  }
  [[nodiscard]] int last() const { return static_cast<int>(known_.size()) - 1; }

 private:
  void add(const VectorXd& known, const VectorXd& turned) {
    known_.push_back(known);
    turned_.push_back(turned);
  }

  void make(const record::TrimMove& move,
            const std::vector<Element>& elements,
            VectorXd& known,
            VectorXd& turned) const {
    for (std::size_t k = 0; k < elements.size(); ++k) {
      const Element& element = elements[k];
      if (print(element.place) != print(move.place)) continue;
      const auto i = static_cast<Eigen::Index>(k);
      if (move.factor) known(i) = std::log(*move.factor);
      if (move.ohm && element.cell_ohm > 0.0) known(i) = effect_of_ohm(element, *move.ohm);
      if (move.turns && element.per_turn) known(i) += *move.turns * *element.per_turn;
      if (move.turns && !element.per_turn) {
        turned(i) += *move.turns;
        if (element.start >= element.highest) turned(i) = stopped(turned(i));
      }
    }
  }

  [[nodiscard]] double stopped(double turned) const {
    if (ends_ == Ends::raises) return std::min(turned, 0.0);
    if (ends_ == Ends::lowers) return std::max(turned, 0.0);
    return turned;
  }

  Ends ends_;
  std::vector<VectorXd> known_;
  std::vector<VectorXd> turned_;
};

/// d ln(factors) / d(effect of one turn), N.
VectorXd factor_slope(const std::vector<Element>& elements,
                      const VectorXd& turned,
                      int box,
                      int stands) {
  VectorXd slope = VectorXd::Zero(stands);
  double common = 0.0;
  for (std::size_t k = 0; k < elements.size(); ++k) {
    if (elements[k].box != box) continue;
    const double turns = turned(static_cast<Eigen::Index>(k));
    for (const int stand : elements[k].stands) slope(stand) += turns;
    common += elements[k].weight * turns;
  }
  slope.array() -= common;
  return slope;
}

class Fitter {
 public:
  Fitter(const Shifts& shifts, const std::vector<Element>& elements, Ends ends)
      : shifts_(shifts),
        elements_(elements),
        history_(shifts, elements, ends),
        stands_(shifts.placed.front().share.size()),
        rows_(static_cast<Eigen::Index>(shifts.placed.size())) {
    const bool any_known = std::any_of(shifts.placed.begin(), shifts.placed.end(),
                                       [](const Placed& p) { return p.unknown < 0; });
    fixed_first_ = !any_known;
    first_load_ = stands_;
    const auto loads = static_cast<Eigen::Index>(shifts.unknown.size());
    turn_at_ = stands_ + loads - (fixed_first_ ? 1 : 0);
    columns_ = turn_at_;
    per_turn_ = VectorXd::Zero(static_cast<Eigen::Index>(elements.size()));
    find_turns();
    gains_ = VectorXd::Ones(stands_);
    guess_loads();
  }

  /// Whether a trim was turned of which nobody knows what a turn does.
  [[nodiscard]] bool learns() const { return history_.learns(); }

  GainFit fit() {
    LeastSquares solved;
    for (int step = 0; step < kSteps; ++step) {
      solved = least_squares(slopes(), scaled_residual());
      apply(solved.x);
      if (solved.x.cwiseAbs().maxCoeff() < kSettled) break;
    }
    return result(solved);
  }

 private:
  /// One unknown for every box in which a trim was turned of which nobody knows what a turn does.
  void find_turns() {
    int boxes = 0;
    for (const Element& element : elements_) boxes = std::max(boxes, element.box + 1);
    columns_of_box_.assign(static_cast<std::size_t>(boxes), -1);
    const VectorXd& turned = history_.turned(history_.last());
    for (std::size_t k = 0; k < elements_.size(); ++k) {
      Eigen::Index& column = columns_of_box_[static_cast<std::size_t>(elements_[k].box)];
      if (column < 0 && turned(static_cast<Eigen::Index>(k)) != 0.0) column = columns_++;
    }
  }

  void guess_loads() {
    loads_.assign(shifts_.unknown.size(), 0.0);
    std::vector<int> count(loads_.size(), 0);
    for (const Placed& placed : shifts_.placed) {
      if (placed.unknown < 0) continue;
      loads_[static_cast<std::size_t>(placed.unknown)] += placed.indication_kg;
      ++count[static_cast<std::size_t>(placed.unknown)];
    }
    for (std::size_t j = 0; j < loads_.size(); ++j) loads_[j] = std::max(loads_[j] / count[j], 1.0);
  }

  [[nodiscard]] double load_of(const Placed& placed) const {
    return placed.unknown < 0 ? *placed.load_kg : loads_[static_cast<std::size_t>(placed.unknown)];
  }

  /// Column of an unknown load; -1: it is the gauge.
  [[nodiscard]] Eigen::Index column_of(int unknown) const {
    if (fixed_first_ && unknown == 0) return -1;
    return first_load_ + unknown - (fixed_first_ ? 1 : 0);
  }

  /// What every stand's newton is multiplied by at a placement, N.
  [[nodiscard]] VectorXd factors(const Placed& placed) const {
    const VectorXd effects = history_.effects(placed.epoch, per_turn_);
    return log_factors(elements_, effects, static_cast<int>(stands_)).array().exp().matrix();
  }

  [[nodiscard]] double predicted(const Placed& placed) const {
    const VectorXd weighed = gains_.cwiseProduct(factors(placed));
    return load_of(placed) * placed.share.dot(weighed);
  }

  [[nodiscard]] VectorXd scaled_residual() const {
    VectorXd residual(rows_);
    for (Eigen::Index p = 0; p < rows_; ++p) {
      const Placed& placed = shifts_.placed[at(p)];
      residual(p) = (placed.indication_kg - predicted(placed)) / placed.u_kg;
    }
    return residual;
  }

  /// d(prediction)/d(unknowns) in units of each reading's uncertainty. Unknown loads are counted in
  /// parts of themselves.
  [[nodiscard]] MatrixXd slopes() const {
    MatrixXd slope = MatrixXd::Zero(rows_, columns_);
    for (Eigen::Index p = 0; p < rows_; ++p) {
      const Placed& placed = shifts_.placed[at(p)];
      const double load = load_of(placed);
      const VectorXd weighed = factors(placed);
      slope.row(p).head(stands_) = load * placed.share.cwiseProduct(weighed).transpose();
      if (placed.unknown >= 0 && column_of(placed.unknown) >= 0) {
        slope(p, column_of(placed.unknown)) = predicted(placed);
      }
      for (std::size_t box = 0; box < columns_of_box_.size(); ++box) {
        if (columns_of_box_[box] < 0) continue;
        const VectorXd turn = factor_slope(elements_, history_.turned(placed.epoch),
                                           static_cast<int>(box), static_cast<int>(stands_));
        slope(p, columns_of_box_[box]) =
            load * placed.share.dot(gains_.cwiseProduct(weighed).cwiseProduct(turn));
      }
      slope.row(p) /= placed.u_kg;
    }
    return slope;
  }

  void apply(const VectorXd& step) {
    gains_ += step.head(stands_);
    // A reading of the wrong sign or size must not turn a gain or a load inside out.
    gains_ = gains_.cwiseMax(1e-3);
    for (std::size_t j = 0; j < loads_.size(); ++j) {
      const Eigen::Index column = column_of(static_cast<int>(j));
      if (column >= 0) loads_[j] *= std::max(1.0 + step(column), 1e-3);
    }
    for (std::size_t k = 0; k < elements_.size(); ++k) {
      const Eigen::Index column = columns_of_box_[static_cast<std::size_t>(elements_[k].box)];
      double& effect = per_turn_(static_cast<Eigen::Index>(k));
      if (column >= 0) effect = std::clamp(effect + step(column), -1.0, 1.0);
    }
  }

  [[nodiscard]] GainFit result(const LeastSquares& solved) const {
    GainFit fit;
    const VectorXd residual = scaled_residual();
    fit.chi_square = residual.squaredNorm();
    fit.freedoms = static_cast<int>(rows_) - solved.rank;
    if (fit.freedoms >= kFreedomsToWiden) {
      fit.widened = std::max(1.0, std::sqrt(fit.chi_square / fit.freedoms));
    }
    read_placements(fit, solved);
    read_gains(fit, solved);
    fit.unknown_kg = loads_;
    read_turns(fit, solved);
    return fit;
  }

  void read_turns(GainFit& fit, const LeastSquares& solved) const {
    const auto boxes = static_cast<Eigen::Index>(columns_of_box_.size());
    fit.turns.assign(columns_of_box_.size(), std::nullopt);
    fit.turn_root = MatrixXd::Zero(rows_, boxes);
    for (std::size_t k = 0; k < elements_.size(); ++k) {
      const auto box = static_cast<std::size_t>(elements_[k].box);
      const Eigen::Index column = columns_of_box_[box];
      if (column < 0) continue;
      const double effect = per_turn_(static_cast<Eigen::Index>(k));
      const double u = fit.widened * solved.solver.row(column).norm();
      const bool seen = solved.seen(column, column) > 1.0 - 1e-6;
      fit.turn_root.col(static_cast<Eigen::Index>(box)) =
          fit.widened * solved.solver.row(column).transpose();
      fit.turns[box] =
          TurnLearned{.effect = effect, .u = u, .sure = seen && std::abs(effect) > kTurnIsSure * u};
    }
    if (const std::optional<int> box = last_box()) {
      fit.turn = fit.turns[static_cast<std::size_t>(*box)];
    }
  }

  /// The box in which a trim was turned last.
  [[nodiscard]] std::optional<int> last_box() const {
    for (auto set = shifts_.moves.rbegin(); set != shifts_.moves.rend(); ++set) {
      for (const record::TrimMove& move : set->moves) {
        if (!move.turns || *move.turns == 0.0) continue;
        for (const Element& element : elements_) {
          if (print(element.place) == print(move.place)) return element.box;
        }
      }
    }
    return std::nullopt;
  }

  void read_placements(GainFit& fit, const LeastSquares& solved) const {
    fit.fitted_kg.resize(rows_);
    fit.residual_kg.resize(rows_);
    const VectorXd leverage = (slopes() * solved.solver).diagonal();
    fit.leverage = leverage.cwiseMax(0.0).cwiseMin(1.0);
    for (Eigen::Index p = 0; p < rows_; ++p) {
      const Placed& placed = shifts_.placed[at(p)];
      fit.fitted_kg(p) = predicted(placed);
      fit.residual_kg(p) = placed.indication_kg - fit.fitted_kg(p);
    }
  }

  void read_gains(GainFit& fit, const LeastSquares& solved) const {
    const int stands = static_cast<int>(stands_);
    fit.effects_now = history_.effects(history_.last(), per_turn_);
    const VectorXd now = log_factors(elements_, fit.effects_now, stands);
    VectorXd log_gain = gains_.array().log().matrix() + now;
    const MatrixXd centre =
        MatrixXd::Identity(stands_, stands_) - MatrixXd::Constant(stands_, stands_, 1.0 / stands);
    MatrixXd to_log = MatrixXd::Zero(stands_, columns_);
    to_log.leftCols(stands_) = gains_.cwiseInverse().asDiagonal();
    for (std::size_t box = 0; box < columns_of_box_.size(); ++box) {
      if (columns_of_box_[box] < 0) continue;
      to_log.col(columns_of_box_[box]) =
          factor_slope(elements_, history_.turned(history_.last()), static_cast<int>(box), stands);
    }
    fit.common = fixed_first_ ? 1.0 : std::exp(log_gain.mean());
    log_gain.array() -= log_gain.mean();
    fit.gain_root =
        fit.widened * centre * gains_.cwiseInverse().asDiagonal() * solved.solver.topRows(stands_);
    fit.turned_now = history_.turned(history_.last());
    const MatrixXd root = fit.widened * centre * to_log * solved.solver;
    fit.log_gain = log_gain;
    fit.covariance = root * root.transpose();
    fit.seen = solved.seen.topRows(stands_);
  }

  const Shifts& shifts_;
  const std::vector<Element>& elements_;
  TrimHistory history_;
  Eigen::Index stands_;
  Eigen::Index rows_;
  Eigen::Index columns_ = 0;
  Eigen::Index first_load_ = 0;
  Eigen::Index turn_at_ = 0;
  bool fixed_first_ = false;
  VectorXd gains_;
  std::vector<double> loads_;
  VectorXd per_turn_;                         // K: of each trim, its box's
  std::vector<Eigen::Index> columns_of_box_;  // -1: nothing to learn there
};

}  // namespace

GainFit fit_gains(const Shifts& shifts, const std::vector<Element>& elements) {
  Fitter free(shifts, elements, Ends::none);
  GainFit best = free.fit();
  if (!free.learns()) return best;
  // With its end: which way it turned on without effect is told by what fits the readings better.
  for (const Ends ends : {Ends::raises, Ends::lowers}) {
    Fitter stopped(shifts, elements, ends);
    if (!stopped.learns()) continue;
    GainFit fit = stopped.fit();
    const bool agrees = fit.turn && (fit.turn->effect > 0.0) == (ends == Ends::raises);
    if (agrees && fit.chi_square < best.chi_square - kSameFit) best = std::move(fit);
  }
  return best;
}

VectorXd turn_slope(const std::vector<Element>& elements,
                    const VectorXd& turned,
                    int box,
                    int stands) {
  VectorXd slope = VectorXd::Zero(stands);
  for (std::size_t k = 0; k < elements.size(); ++k) {
    if (elements[k].box != box) continue;
    const double turns = turned(static_cast<Eigen::Index>(k));
    for (const int stand : elements[k].stands) slope(stand) += turns;
  }
  slope.array() -= slope.mean();
  return slope;
}

bool is_determined(const GainFit& fit, const Eigen::VectorXd& combination) {
  Eigen::VectorXd seen = fit.seen.transpose() * combination;
  seen.head(combination.size()) -= combination;
  return seen.cwiseAbs().maxCoeff() < kUnseen * combination.cwiseAbs().maxCoeff();
}

}  // namespace weighwright::trim
