#pragma once
/// Ranks circuits by how well they reproduce a meter's readings. Model: electrics.h.

#include <Eigen/Core>
#include <array>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "signal/bench_fault.h"
#include "signal/electrics.h"

namespace weighwright::signal {

using Measured = std::array<std::optional<double>, kQuantities>;  // SI, by Quantity

/// One circuit with free parameters, each standard normal beforehand.
struct Explanation {
  std::string code;
  std::string detail;
  std::optional<units::StandIndex> at;
  double weight = 0.0;  // prior, relative
  int parameters = 0;
  int own = 0;  // the last of them: of the fault, the others are of what is sound
  std::function<Readings(const Eigen::VectorXd& parameters)> predict;
  std::function<std::vector<Fitted>(const Eigen::VectorXd& parameters)> fitted;
};

/// Values on a scale on which the meter's uncertainty hardly depends on the value: logarithm of
/// ohms (an open circuit lies at the meter's overload), volts as they are.
class ReadingScale {
 public:
  explicit ReadingScale(const Meter& meter) : meter_(meter) {}
  [[nodiscard]] double value(Quantity quantity, double reading) const;
  [[nodiscard]] double deviation(Quantity quantity, double reading) const;    // of value()
  [[nodiscard]] double uncertainty(Quantity quantity, double reading) const;  // ohm, V
  [[nodiscard]] double width(Quantity quantity) const;  // all that value() may be
  [[nodiscard]] bool overload(Quantity quantity, double reading) const;
  /// Of a prediction from what was measured, standard deviations of the meter.
  [[nodiscard]] double apart(Quantity quantity, double predicted, double measured) const;

 private:
  Meter meter_;
};

/// @param explanations  the first is "sound"
[[nodiscard]] Diagnosis rank(const std::vector<Explanation>& explanations,
                             const Measured& measured,
                             const Meter& meter);

}  // namespace weighwright::signal
