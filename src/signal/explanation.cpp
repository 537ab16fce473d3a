#include "signal/explanation.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "signal/fit.h"

namespace weighwright::signal {
namespace {

constexpr double kOtherWeight = 0.01;       // that none of the circuits is the true one
constexpr double kLeastProbability = 1e-4;  // to be listed
constexpr double kWorthAsking = 0.01;       // of the leading cause's probability
constexpr double kVariant = 0.15;           // the same, for which arm or core it is
constexpr double kAlike = 1.0;              // standard deviations of the meter
constexpr double kSeparates = 2.0;
constexpr double kLogRootTwoPi = 0.9189385332046727;

constexpr const char* kNoneOfThese = "none_of_these";

std::vector<Quantity> all_quantities() {
  std::vector<Quantity> all;
  for (int q = 0; q < kQuantities; ++q) all.push_back(static_cast<Quantity>(q));
  return all;
}

/// One explanation with its best fit.
struct Fitting {
  const Explanation* explanation = nullptr;  // null: none of these
  Fit best;
  Readings readings{};  // that the best fit predicts
  double log_probability = 0.0;
};

class Ranker {
 public:
  Ranker(const std::vector<Explanation>& explanations, const Measured& measured, const Meter& meter)
      : explanations_(explanations), measured_(measured), scale_(meter) {
    for (const Quantity quantity : all_quantities()) {
      (measured_[index(quantity)] ? known_ : unknown_).push_back(quantity);
    }
  }

  Diagnosis rank() {
    for (const Explanation& explanation : explanations_) fit_one(explanation);
    fittings_.push_back(none_of_these());
    expect();
    const Readings sound = fittings_.front().readings;
    std::ranges::stable_sort(fittings_, std::greater<>(), &Fitting::log_probability);
    const std::vector<double> chances = probabilities();
    Diagnosis diagnosis;
    for (std::size_t i = 0; i < fittings_.size() && chances[i] >= kLeastProbability; ++i) {
      diagnosis.causes.push_back(cause_of(fittings_[i], chances[i], sound));
    }
    mark_look_alikes(diagnosis);
    diagnosis.unexplained = diagnosis.causes.front().code == kNoneOfThese;
    diagnosis.next = next_measurement();
    diagnosis.which = next_within();
    return diagnosis;
  }

 private:
  static std::size_t index(Quantity quantity) { return static_cast<std::size_t>(quantity); }

  [[nodiscard]] double reading(Quantity quantity) const { return *measured_[index(quantity)]; }

  /// How far a prediction is from what was measured, standard deviations of the meter.
  [[nodiscard]] double deviation(Quantity quantity, const Readings& predicted) const {
    return scale_.apart(quantity, predicted[index(quantity)], reading(quantity));
  }

  [[nodiscard]] Deviations deviations_of(const Explanation& explanation) const {
    return [this, &explanation](const Eigen::VectorXd& parameters) {
      const Readings predicted = explanation.predict(parameters);
      Eigen::VectorXd all(static_cast<Eigen::Index>(known_.size()));
      for (std::size_t i = 0; i < known_.size(); ++i) {
        all(static_cast<Eigen::Index>(i)) = deviation(known_[i], predicted);
      }
      return all;
    };
  }

  /// Each parameter of the fault alone off its middle: a leak seen from far away has no slope.
  static std::vector<Eigen::VectorXd> starts(const Explanation& explanation) {
    const Eigen::VectorXd middle = Eigen::VectorXd::Zero(explanation.parameters);
    std::vector<Eigen::VectorXd> all = {middle};
    for (int p = explanation.parameters - explanation.own; p < explanation.parameters; ++p) {
      for (const double start : {-1.5, 1.5}) {
        all.push_back(middle);
        all.back()(p) = start;
      }
    }
    return all;
  }

  void fit_one(const Explanation& explanation) {
    Fitting one;
    one.explanation = &explanation;
    one.best = fit(deviations_of(explanation), starts(explanation));
    one.readings = explanation.predict(one.best.parameters);
    one.log_probability = std::log(explanation.weight) + one.best.log_evidence;
    fittings_.push_back(std::move(one));
  }

  /// Every reading anywhere on its scale.
  [[nodiscard]] Fitting none_of_these() const {
    Fitting none;
    none.log_probability = std::log(kOtherWeight);
    for (const Quantity quantity : known_) {
      none.log_probability +=
          kLogRootTwoPi -
          std::log(scale_.width(quantity) / scale_.deviation(quantity, reading(quantity)));
    }
    return none;
  }

  /// What a sound one reads before anything is measured of it, in the middle of its priors.
  void expect() {
    const Explanation& sound = explanations_.front();
    const Eigen::VectorXd middle = Eigen::VectorXd::Zero(sound.parameters);
    const Readings readings = sound.predict(middle);
    const Deviations on_scale = [&](const Eigen::VectorXd& parameters) {
      const Readings predicted = sound.predict(parameters);
      Eigen::VectorXd all(static_cast<Eigen::Index>(known_.size()));
      for (std::size_t i = 0; i < known_.size(); ++i) {
        all(static_cast<Eigen::Index>(i)) = scale_.value(known_[i], predicted[index(known_[i])]);
      }
      return all;
    };
    if (known_.empty()) return;
    const Eigen::MatrixXd slope = slopes(on_scale, middle);
    for (std::size_t i = 0; i < known_.size(); ++i) {
      const Quantity quantity = known_[i];
      const double predicted = readings[index(quantity)];
      const double spread = std::hypot(slope.row(static_cast<Eigen::Index>(i)).norm(),
                                       scale_.deviation(quantity, predicted));
      Evidence& item = expected_[index(quantity)];
      item.expected = shown(quantity, predicted);
      item.tolerance = band(quantity, predicted, spread);
      item.departs = -scale_.apart(quantity, predicted, reading(quantity)) *
                     scale_.deviation(quantity, reading(quantity)) / spread;
    }
  }

  /// Two deviations on the scale as ohm or volts; logarithmic scales: downwards.
  static double band(Quantity quantity, double value, double spread) {
    if (quantity >= Quantity::zero) return 2.0 * spread;
    return value * (1.0 - std::exp(-2.0 * spread));
  }

  [[nodiscard]] std::vector<double> probabilities() const {
    std::vector<double> all;
    double sum = 0.0;
    for (const Fitting& one : fittings_) {
      all.push_back(std::exp(one.log_probability - fittings_.front().log_probability));
      sum += all.back();
    }
    for (double& one : all) one /= sum;
    return all;
  }

  [[nodiscard]] double shown(Quantity quantity, double value) const {
    return scale_.overload(quantity, value) ? std::numeric_limits<double>::infinity() : value;
  }

  [[nodiscard]] Cause cause_of(const Fitting& one, double chance, const Readings& sound) const {
    Cause cause;
    cause.probability = chance;
    cause.code = kNoneOfThese;
    if (one.explanation == nullptr) return cause;
    cause.code = one.explanation->code;
    cause.detail = one.explanation->detail;
    cause.at = one.explanation->at;
    if (one.explanation->fitted) cause.fitted = one.explanation->fitted(one.best.parameters);
    const Readings& against = one.explanation == explanations_.data() ? rival_of_sound() : sound;
    for (const Quantity quantity : known_) {
      const double own = deviation(quantity, one.readings);
      const double other = deviation(quantity, against);
      Evidence item = expected_[index(quantity)];
      item.quantity = quantity;
      item.measured = shown(quantity, reading(quantity));
      item.if_sound = shown(quantity, sound[index(quantity)]);
      item.if_cause = shown(quantity, one.readings[index(quantity)]);
      item.uncertainty = scale_.uncertainty(quantity, reading(quantity));
      item.speaks = 0.5 * (other * other - own * own);
      cause.evidence.push_back(std::move(item));
    }
    std::ranges::stable_sort(cause.evidence, std::greater<>(), &Evidence::speaks);
    return cause;
  }

  /// The most probable circuit that is not the sound one.
  [[nodiscard]] const Readings& rival_of_sound() const {
    for (const Fitting& one : fittings_) {
      if (one.explanation != nullptr && one.explanation != explanations_.data())
        return one.readings;
    }
    return fittings_.front().readings;
  }

  /// Both predict the same of all that was measured, as far as the meter can tell.
  [[nodiscard]] bool alike(const Fitting& a, const Fitting& b) const {
    if (a.explanation == nullptr || b.explanation == nullptr) return a.explanation == b.explanation;
    return std::ranges::all_of(known_, [&](Quantity quantity) {
      return std::abs(deviation(quantity, a.readings) - deviation(quantity, b.readings)) < kAlike;
    });
  }

  void mark_look_alikes(Diagnosis& diagnosis) const {
    int classes = 0;
    for (std::size_t i = 0; i < diagnosis.causes.size(); ++i) {
      int found = kNone;
      for (std::size_t j = 0; j < i && found == kNone; ++j) {
        if (alike(fittings_[i], fittings_[j])) found = diagnosis.causes[j].look_alike;
      }
      diagnosis.causes[i].look_alike = found == kNone ? classes++ : found;
    }
  }

  /// What a quantity would be on its scale, and how far the fitted parameters leave that open.
  struct Forecast {
    double value = 0.0;
    double deviation = 0.0;  // of the meter
    double variance = 0.0;   // of the parameters
  };

  [[nodiscard]] std::vector<Forecast> forecast(const Fitting& one) const {
    const Explanation& explanation = *one.explanation;
    const Deviations of_unknown = [&](const Eigen::VectorXd& parameters) {
      const Readings predicted = explanation.predict(parameters);
      Eigen::VectorXd all(static_cast<Eigen::Index>(unknown_.size()));
      for (std::size_t i = 0; i < unknown_.size(); ++i) {
        all(static_cast<Eigen::Index>(i)) =
            scale_.value(unknown_[i], predicted[index(unknown_[i])]);
      }
      return all;
    };
    std::vector<Forecast> all;
    for (const Quantity quantity : unknown_) {
      const double predicted = one.readings[index(quantity)];
      all.push_back(
          {scale_.value(quantity, predicted), scale_.deviation(quantity, predicted), 0.0});
    }
    if (explanation.parameters == 0) return all;
    const Eigen::MatrixXd spread =
        covariance(slopes(deviations_of(explanation), one.best.parameters));
    const Eigen::MatrixXd slope = slopes(of_unknown, one.best.parameters);
    const Eigen::VectorXd variance = (slope * spread * slope.transpose()).diagonal();
    for (std::size_t i = 0; i < all.size(); ++i) {
      all[i].variance = variance(static_cast<Eigen::Index>(i));
    }
    return all;
  }

  /// Against the next cause of another kind; where nothing separates those, the one after it; at
  /// last which arm or core it is.
  [[nodiscard]] std::optional<NextMeasurement> next_measurement() const {
    if (unknown_.empty()) return std::nullopt;
    const auto other_kind = next_against(true);
    return other_kind ? other_kind : next_against(false);
  }

  [[nodiscard]] std::optional<NextMeasurement> next_against(bool of_another_kind) const {
    const Fitting* first = nullptr;
    for (const Fitting& one : fittings_) {
      if (one.explanation == nullptr) continue;
      if (first == nullptr) {
        first = &one;
        continue;
      }
      if (of_another_kind && one.explanation->code == first->explanation->code) continue;
      if (one.log_probability < first->log_probability + std::log(kWorthAsking)) break;
      const auto found = best_between(*first, one);
      if (found) return found;
    }
    return std::nullopt;
  }

  /// Which arm, core or cell it is.
  [[nodiscard]] std::optional<NextMeasurement> next_within() const {
    const Fitting& first = fittings_.front();
    if (unknown_.empty() || first.explanation == nullptr) return std::nullopt;
    for (std::size_t i = 1; i < fittings_.size(); ++i) {
      const Fitting& one = fittings_[i];
      if (one.log_probability < first.log_probability + std::log(kVariant)) break;
      if (one.explanation == nullptr || one.explanation->code != first.explanation->code) continue;
      const auto found = best_between(first, one);
      if (found) return found;
    }
    return std::nullopt;
  }

  [[nodiscard]] std::optional<NextMeasurement> best_between(const Fitting& first,
                                                            const Fitting& second) const {
    const std::vector<Forecast> a = forecast(first);
    const std::vector<Forecast> b = forecast(second);
    NextMeasurement best;
    for (std::size_t i = 0; i < unknown_.size(); ++i) {
      const double meter = std::max(a[i].deviation, b[i].deviation);
      const double spread = std::sqrt(meter * meter + a[i].variance + b[i].variance);
      const double separation = std::abs(a[i].value - b[i].value) / spread;
      if (!(separation > best.separation)) continue;
      const Quantity quantity = unknown_[i];
      best = {quantity,
              first.explanation->code,
              first.explanation->detail,
              second.explanation->code,
              second.explanation->detail,
              shown(quantity, first.readings[index(quantity)]),
              shown(quantity, second.readings[index(quantity)]),
              separation};
    }
    if (best.separation < kSeparates) return std::nullopt;
    return best;
  }

  const std::vector<Explanation>& explanations_;
  const Measured& measured_;
  ReadingScale scale_;
  std::vector<Quantity> known_;
  std::vector<Quantity> unknown_;
  std::vector<Fitting> fittings_;
  std::array<Evidence, kQuantities> expected_;  // of a sound one
};

}  // namespace

Diagnosis rank(const std::vector<Explanation>& explanations,
               const Measured& measured,
               const Meter& meter) {
  return Ranker(explanations, measured, meter).rank();
}

}  // namespace weighwright::signal
