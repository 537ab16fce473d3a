#include "span/advise.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "trim/indications.h"
#include "trim/least_squares.h"
#include "units/quantity.h"

namespace weighwright::span {
namespace {

using Eigen::Index;
using record::Going;

constexpr double kZeroReturn_of_e = 0.5;
constexpr double kUpDown_of_d = 1.0;
constexpr double kStraight_of_e = 0.5;
constexpr double kBent_of_e = 1.0;
constexpr double kSure = 3.0;       // standard uncertainties
constexpr double kSameLoad = 1e-3;  // relative
constexpr double kUnits_alike = 0.05;
constexpr double kWorthSure = 2.0;    // standard uncertainties: below that a setting chases noise
constexpr double kWorth_of_e = 0.25;  // a correction that moves no reading by this is none
constexpr double kResponds = 0.2;     // part of a load that must be shown
constexpr double kUsual = 0.01;       // what a span that was set once is off by at most
constexpr double kSlack = 1e-9;

class Advisor {
 public:
  Advisor(const deck::Deck& deck, const Results& results) : deck_(deck), results_(results) {}

  SpanAdvice advise() {
    advice_.materials = results_.materials;
    fit();
    if (check_response()) {
      show_points();
      advice_.verdict = Verdict::cause_first;
      return std::move(advice_);
    }
    check_units();
    check_size();
    check_zeros();
    check_same_loads();
    check_line();
    show_points();
    show_later();
    decide();
    return std::move(advice_);
  }

 private:
  [[nodiscard]] std::vector<const Result*> with_errors() const {
    std::vector<const Result*> list;
    for (const Result& result : results_.results) {
      if (!result.fixes_material) list.push_back(&result);
    }
    return list;
  }

  static double u_of(const Result& result) { return std::hypot(result.u_kg, result.u_total_kg); }

  void fit() {
    const std::vector<const Result*> list = with_errors();
    Eigen::MatrixXd a(static_cast<Index>(list.size()), 1);
    Eigen::VectorXd y(a.rows());
    for (std::size_t i = 0; i < list.size(); ++i) {
      a(static_cast<Index>(i), 0) = list[i]->total_kg / u_of(*list[i]);
      y(static_cast<Index>(i)) = list[i]->indicated_kg / u_of(*list[i]);
    }
    const trim::LeastSquares solved = trim::least_squares(a, y);
    advice_.slope = solved.x(0);
    advice_.u_slope = solved.solver.row(0).norm();
    advice_.correction = 1.0 / advice_.slope;
  }

  void add(Cause cause, const Result& result, double found, double limit, bool blocks = true) {
    advice_.findings.push_back({.cause = cause,
                                .load_kg = result.total_kg,
                                .found_kg = found,
                                .limit_kg = limit,
                                .blocks = blocks,
                                .file = result.file,
                                .line = result.line});
  }

  /// Too little of a load arrives: then there is no line at all, and readings are shown as they
  /// are.
  bool check_response() {
    for (const Result& result : results_.results) {
      const double least = kResponds * result.total_kg;
      if (result.indicated_kg > least) continue;
      add(result.indicated_kg < -least ? Cause::falls : Cause::no_response, result,
          result.indicated_kg, least);
    }
    if (advice_.findings.empty()) return false;
    advice_.slope = 1.0;
    advice_.u_slope = 0.0;
    advice_.correction = 1.0;
    return true;
  }

  void check_units() {
    const bool pounds = std::abs(advice_.slope * units::kPound_kg - 1.0) < kUnits_alike;
    const bool kilograms = std::abs(advice_.slope / units::kPound_kg - 1.0) < kUnits_alike;
    if (pounds || kilograms) {
      add(Cause::mixed_units, results_.results.front(), advice_.slope, 1.0);
    }
  }

  void check_zeros() {
    const double limit = kZeroReturn_of_e * deck_.interval_at_kg(0.0);
    for (const Result& result : results_.results) {
      if (!result.zero_change_kg || std::abs(*result.zero_change_kg) <= limit + kSlack) continue;
      add(Cause::zero_return, result, *result.zero_change_kg, limit);
    }
  }

  /// Which way a load was reached: as told, else from the load before.
  [[nodiscard]] Going going(std::size_t i) const {
    const std::vector<Result>& list = results_.results;
    if (list[i].going != Going::unknown) return list[i].going;
    if (i == 0 || list[i].from_empty) return Going::up;
    if (list[i].total_kg > list[i - 1].total_kg) return Going::up;
    return list[i].total_kg < list[i - 1].total_kg ? Going::down : Going::unknown;
  }

  void check_same_loads() {
    const std::vector<Result>& list = results_.results;
    for (std::size_t i = 0; i < list.size(); ++i) {
      for (std::size_t j = i + 1; j < list.size(); ++j) {
        if (list[i].fixes_material || list[j].fixes_material) continue;
        if (list[i].material != list[j].material) continue;
        if (std::abs(list[i].total_kg - list[j].total_kg) > kSameLoad * list[i].total_kg) continue;
        compare(i, j);
      }
    }
  }

  void compare(std::size_t i, std::size_t j) {
    const Result& a = results_.results[i];
    const Result& b = results_.results[j];
    const bool ways =
        going(i) != going(j) && going(i) != Going::unknown && going(j) != Going::unknown;
    const double apart = b.indicated_kg - a.indicated_kg;
    const double limit =
        ways ? kUpDown_of_d * deck_.display_at_kg(b.total_kg) : kSure * std::hypot(a.u_kg, b.u_kg);
    if (std::abs(apart) <= limit + kSlack) return;
    add(ways ? Cause::up_down : Cause::repeats, b, apart, limit);
  }

  [[nodiscard]] double deviation(const Result& result) const {
    return result.indicated_kg / advice_.slope - result.total_kg;
  }

  /// Size of a deviation, in e at that load.
  [[nodiscard]] double in_e(const Result& result) const {
    return std::abs(deviation(result)) / deck_.interval_at_kg(result.total_kg);
  }

  [[nodiscard]] bool one_load_only() const {
    const std::vector<const Result*> list = with_errors();
    return std::all_of(list.begin(), list.end(), [&](const Result* result) {
      return std::abs(result->total_kg - list.front()->total_kg) <=
             kSameLoad * list.front()->total_kg;
    });
  }

  void check_size() {
    if (std::abs(advice_.slope - 1.0) <= kUsual) return;
    add(Cause::far_off, *with_errors().front(), advice_.slope, kUsual, false);
  }

  /// The reading that lies furthest from the line, by the way it bends there.
  void check_line() {
    const Result* worst = nullptr;
    for (const Result* result : with_errors()) {
      // What is not sure must not hide what is.
      if (std::abs(deviation(*result)) <= kSure * u_of(*result)) continue;
      if (worst == nullptr || in_e(*result) > in_e(*worst)) worst = result;
    }
    if (one_load_only()) add(Cause::too_few, *with_errors().front(), 0.0, 0.0, false);
    if (worst == nullptr || in_e(*worst) <= kStraight_of_e) return;
    const bool bent = in_e(*worst) > kBent_of_e;
    add(bends_down() ? Cause::bends_down : Cause::bends_up, *worst, deviation(*worst),
        kBent_of_e * deck_.interval_at_kg(worst->total_kg), bent);
    if (!bent) show_linearity();
  }

  /// Whether the heavy end of the line lies below the light end.
  [[nodiscard]] bool bends_down() const {
    const std::vector<const Result*> list = with_errors();
    const auto [light, heavy] = std::minmax_element(
        list.begin(), list.end(),
        [](const Result* a, const Result* b) { return a->total_kg < b->total_kg; });
    return (*heavy)->indicated_kg / (*heavy)->total_kg <
           (*light)->indicated_kg / (*light)->total_kg;
  }

  void show_linearity() {
    for (const Result* result : with_errors()) {
      advice_.linearity.push_back(
          {.load_kg = result->total_kg, .shows_kg = result->indicated_kg / advice_.slope});
    }
    std::sort(
        advice_.linearity.begin(), advice_.linearity.end(),
        [](const LinearityPoint& a, const LinearityPoint& b) { return a.load_kg < b.load_kg; });
  }

  void show_points() {
    bool above = true;
    bool below = true;
    const double leans = kStraight_of_e * deck_.interval_at_kg(0.0);
    for (const Result& result : results_.results) {
      PointThen point;
      point.load_kg = result.total_kg;
      point.u_load_kg = result.u_total_kg;
      point.indicated_kg = result.indicated_kg;
      point.u_indicated_kg = result.u_kg;
      point.error_kg = result.indicated_kg - result.total_kg;
      point.deviation_kg = deviation(result);
      point.then_kg = result.indicated_kg / advice_.slope;
      point.then_error_kg = point.then_kg - result.total_kg;
      point.u_then_error_kg =
          std::hypot(u_of(result), result.total_kg * advice_.u_slope / advice_.slope);
      point.fixes_material = result.fixes_material;
      point.material = result.material;
      advice_.points.push_back(point);
      if (!result.fixes_material) {
        above &= point.error_kg > leans;
        below &= point.error_kg < -leans;
      }
      if (result.total_kg > advice_.set_at_kg && !result.fixes_material) {
        advice_.set_at_kg = result.total_kg;
        advice_.shows_now_kg = result.indicated_kg;
      }
    }
    advice_.one_sided = above || below;
    advice_.reach = advice_.set_at_kg / deck_.capacity_kg;
    const double d = deck_.display_at_kg(advice_.set_at_kg);
    advice_.set_to_kg = std::round(advice_.shows_now_kg / advice_.slope / d) * d;
  }

  void show_later() {
    for (const double part : {0.25, 0.5, 0.75, 1.0}) {
      const double load = part * deck_.capacity_kg;
      const double rounding = deck_.display_at_kg(load) / std::sqrt(12.0);
      const double u = std::hypot(load * advice_.u_slope / advice_.slope,
                                  std::hypot(rounding, trim::repeatability_kg(deck_, load)));
      advice_.later.push_back({.load_kg = load, .u_kg = u, .now_kg = load * advice_.slope});
    }
  }

  void decide() {
    const bool blocked = std::any_of(advice_.findings.begin(), advice_.findings.end(),
                                     [](const Finding& finding) { return finding.blocks; });
    const double moved = std::abs(advice_.slope - 1.0) * advice_.set_at_kg;
    if (blocked) {
      advice_.verdict = Verdict::cause_first;
    } else if (moved > kWorth_of_e * deck_.interval_at_kg(advice_.set_at_kg) &&
               std::abs(advice_.slope - 1.0) > kWorthSure * advice_.u_slope) {
      advice_.verdict = Verdict::set;
    }
  }

  const deck::Deck& deck_;
  const Results& results_;
  SpanAdvice advice_;
};

}  // namespace

SpanAdvice advise(const deck::Deck& deck, const Results& results) {
  return Advisor(deck, results).advise();
}

}  // namespace weighwright::span
