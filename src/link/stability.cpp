#include "link/stability.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

namespace weighwright::link {

namespace {

// Hand estimates, no source; tests/link/stability_test.cpp shows what they do to seeded series.
constexpr double kWindow_ms = 3000.0;
constexpr double kWindowQuestions = 6.0;
constexpr double kMemory_ms = 60000.0;
constexpr std::size_t kFewest = 5;
constexpr double kFilled = 0.6;  // of the window, before it is judged
constexpr std::size_t kMostSamples = 512;
constexpr std::size_t kMostLooks = 240;
constexpr std::size_t kMostCalm = 120;
constexpr std::size_t kFewestLooks = 20;  // before the scatter of drifts is known
constexpr double kSpread = 8.0;           // standard deviations from least to greatest value
// Where it is known how still a place can be:
constexpr double kFirstSpread = 6.0;   // of the stated standard deviation, before noise is learned
constexpr double kMostSteps = 3.0;     // no place that stands still scatters by more than so many
                                       // steps of its display,
constexpr double kMostQuiet = 5.0;     // or so many times what somebody stated
constexpr double kDrift = 4.0;         // standard deviations of the drift
constexpr double kSpreadSteps = 1.01;  // two neighbouring steps
constexpr double kDriftSteps = 1.5;    // two neighbouring steps, taking turns in any order
constexpr double kTrimmed = 0.15;      // of the differences, the largest
constexpr double kMostCorrelation = 0.98;

/// The quantile of unsorted values, without interpolation.
double quantile(std::vector<double> values, double share) {
  const auto at = static_cast<std::size_t>(share * static_cast<double>(values.size() - 1));
  std::nth_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(at), values.end());
  return values[at];
}

/// E[z2 | |z| below its quantile 0.85] of a standard normal z: 1 - 2 q phi(q) / 0.85 with
/// q = 1.43953 (by hand from the density of the normal distribution).
constexpr double kTrimmedSquare = 0.5205;

/// Standard deviation of white noise by differences of neighbours, the largest left out: a step is
/// one large difference, a slow drift none.
double scatter_of_differences(std::vector<double> squares) {
  const auto cut =
      static_cast<std::size_t>(std::ceil(kTrimmed * static_cast<double>(squares.size())));
  std::sort(squares.begin(), squares.end());
  squares.resize(squares.size() - cut);
  if (squares.empty()) return 0.0;
  double sum = 0.0;
  for (const double square : squares) sum += square;
  return std::sqrt(sum / static_cast<double>(squares.size()) / 2.0 / kTrimmedSquare);
}

/// Lower quartile of the standard deviations of white noise, over the true one: chi-squared by
/// Wilson and Hilferty's cube (from memory, unverified; 0.733 for 5 degrees of freedom, tables of
/// chi-squared give sqrt(2.675 / 5) = 0.731).
double lower_quartile_of_scatter(std::size_t freedom) {
  const double part = 2.0 / (9.0 * static_cast<double>(freedom));
  return std::pow(1.0 - part - 0.6745 * std::sqrt(part), 1.5);
}

/// Lag-one correlation, its bias in short series taken off; 0 where it would be negative.
double correlation_of(const std::deque<double>& values) {
  const auto count = static_cast<double>(values.size());
  double mean = 0.0;
  for (const double value : values) mean += value / count;
  double all = 0.0;
  double neighbours = 0.0;
  for (std::size_t i = 0; i < values.size(); ++i) {
    all += (values[i] - mean) * (values[i] - mean);
    if (i > 0) neighbours += (values[i] - mean) * (values[i - 1] - mean);
  }
  if (all <= 0.0 || count <= 4.0) return 0.0;
  const double unbiased = (neighbours / all + 1.0 / count) / (1.0 - 3.0 / count);
  return std::clamp(unbiased, 0.0, kMostCorrelation);
}

/// n Var(mean)/s2 of a first-order process: 1 without correlation.
double loss_by_correlation(double rho, std::size_t count) {
  double factor = 1.0;
  double power = rho;
  for (std::size_t i = 1; i < count; ++i) {
    factor += 2.0 * (1.0 - static_cast<double>(i) / static_cast<double>(count)) * power;
    power *= rho;
  }
  return factor;
}

}  // namespace

Stability::Stability(double every_s, Calm calm)
    : window_ms_(std::max(kWindow_ms, kWindowQuestions * 1000.0 * every_s)), calm_limits_(calm) {}

void Stability::interrupt() {
  window_.clear();
  calm_.clear();
  judgement_ = {};
}

void Stability::forget(Calm calm) {
  calm_limits_ = calm;
  interrupt();
  looks_.clear();
}

void Stability::add(std::int64_t time_ms, double value, double resolution, bool own_motion) {
  if (!std::isfinite(value)) return;
  if (!window_.empty() && time_ms <= window_.back().time_ms) return;
  resolution_ = resolution;
  if (own_motion) {  // what came before it belongs to another load
    interrupt();
    judgement_.state = Judgement::State::moving;
    judgement_.says = "the instrument says that it moves";
    return;
  }
  window_.push_back({time_ms, value});
  while (window_.size() > kMostSamples ||
         static_cast<double>(time_ms - window_.front().time_ms) > window_ms_) {
    window_.pop_front();
  }
  if (enough()) {
    looks_.push_back(look());
    while (looks_.size() > kMostLooks ||
           static_cast<double>(time_ms - looks_.front().time_ms) > kMemory_ms) {
      looks_.pop_front();
    }
  }
  judge();
}

bool Stability::enough() const {
  return window_.size() >= kFewest &&
         static_cast<double>(window_.back().time_ms - window_.front().time_ms) >=
             kFilled * window_ms_;
}

/// Least squares line through the window.
Stability::Look Stability::look() const {
  const auto count = static_cast<double>(window_.size());
  double mean_t = 0.0;
  double mean = 0.0;
  for (const Sample& sample : window_) {
    mean_t += static_cast<double>(sample.time_ms - window_.front().time_ms) / count;
    mean += sample.value / count;
  }
  double tt = 0.0;
  double tv = 0.0;
  double vv = 0.0;
  for (const Sample& sample : window_) {
    const double t = static_cast<double>(sample.time_ms - window_.front().time_ms) - mean_t;
    tt += t * t;
    tv += t * (sample.value - mean);
    vv += (sample.value - mean) * (sample.value - mean);
  }
  const double slope = tt > 0.0 ? tv / tt : 0.0;
  const double left = std::max(0.0, vv - slope * tv);
  return {window_.back().time_ms, std::sqrt(left / (count - 2.0)),
          slope * static_cast<double>(window_.back().time_ms - window_.front().time_ms)};
}

bool Stability::learned() const {
  return looks_.size() >= kFewestLooks;
}

/// Noise of this place: of its quietest quarter of the last minute. Before that is known: of this
/// window, by neighbours or about its line, whichever a step or a drift in it disturbs less.
double Stability::quiet_scatter() const {
  if (learned()) {
    std::vector<double> scatters;
    for (const Look& look : looks_) scatters.push_back(look.scatter);
    return quantile(scatters, 0.25) / lower_quartile_of_scatter(window_.size() - 2);
  }
  std::vector<double> squares;
  for (std::size_t i = 1; i < window_.size(); ++i) {
    const double step = window_[i].value - window_[i - 1].value;
    squares.push_back(step * step);
  }
  return std::min(scatter_of_differences(std::move(squares)), looks_.back().scatter);
}

/// Scatter of the drifts of the last minute about their middle: a place that drifts all the time
/// has a middle, and no scatter.
double Stability::drift_scatter() const {
  if (looks_.size() < kFewestLooks) return 0.0;
  std::vector<double> drifts;
  for (const Look& look : looks_) drifts.push_back(look.drift);
  return (quantile(drifts, 0.75) - quantile(drifts, 0.25)) / 1.349;  // of a normal distribution
}

/// From least to greatest value of a window that stands still. Before the noise of the place is
/// known: two neighbouring values of the display, or what somebody stated of the noise; afterwards
/// what was learned, as far as a place that stands still can scatter at all.
double Stability::widest(double scatter) const {
  const double rounding = resolution_ / std::sqrt(12.0);
  const double step = std::max(resolution_, calm_limits_.step);
  const double by_noise = kSpread * std::max(scatter, rounding);
  if (calm_limits_.step <= 0.0 && calm_limits_.quiet <= 0.0) return by_noise;
  const double stated =
      calm_limits_.quiet > 0.0 ? kFirstSpread * calm_limits_.quiet + resolution_ : 0.0;
  if (!learned()) return std::min(by_noise, std::max(kSpreadSteps * step, stated));
  const double noisiest = std::max(kMostSteps * step, kMostQuiet * calm_limits_.quiet);
  return std::min(by_noise, kSpread * noisiest);
}

void Stability::judge() {
  judgement_ = {};
  judgement_.samples = static_cast<int>(window_.size());
  if (!enough()) {
    calm_.clear();
    judgement_.says = "listening";
    return;
  }
  const auto [low, high] =
      std::minmax_element(window_.begin(), window_.end(),
                          [](const Sample& a, const Sample& b) { return a.value < b.value; });
  const double scatter = quiet_scatter();
  const double spread = high->value - low->value;
  const bool two_steps = spread <= kSpreadSteps * resolution_;
  const bool wide = !two_steps && spread > widest(scatter);
  // line through n evenly spaced values with white noise s: what it rises by over the window has
  // the variance 12 s2 (n - 1) / (n (n + 1)) (textbooks of regression; by hand)
  const auto count = static_cast<double>(window_.size());
  const double white = scatter * std::sqrt(12.0 * (count - 1.0) / (count * (count + 1.0)));
  const bool drifts =
      std::abs(looks_.back().drift) > std::max((two_steps ? kDriftSteps : 1.0) * resolution_,
                                               kDrift * std::max(white, drift_scatter()));
  if (wide || drifts) {
    calm_.clear();
    judgement_.state = Judgement::State::moving;
    judgement_.says = !wide ? "it drifts" : "it moves by more than its noise";
    const double by_noise = kSpread * std::max(scatter, resolution_ / std::sqrt(12.0));
    if (wide && spread <= by_noise) {
      judgement_.says = learned() ? "it never stands still: what it scatters by is no noise"
                                  : "it moves by more than two values of its display";
    }
    return;
  }
  settle();
}

void Stability::settle() {
  if (calm_.empty()) {
    for (const Sample& sample : window_) calm_.push_back(sample.value);
  } else {
    calm_.push_back(window_.back().value);
    if (calm_.size() > kMostCalm) calm_.pop_front();
  }
  const auto count = static_cast<double>(window_.size());
  // about a value of the window: sums of large numbers would eat the digits
  const double base = window_.front().value;
  double mean = 0.0;
  for (const Sample& sample : window_) mean += (sample.value - base) / count;
  double squares = 0.0;
  for (const Sample& sample : window_) {
    squares += (sample.value - base - mean) * (sample.value - base - mean);
  }
  const double deviation = std::sqrt(squares / (count - 1.0));
  const double rounding = resolution_ / std::sqrt(12.0);
  const double loss = loss_by_correlation(correlation_of(calm_), window_.size());
  // a short piece of a correlated series scatters less than the series
  const double whole = deviation * std::sqrt((count - 1.0) / std::max(1.0, count - loss));
  double u_mean = whole * std::sqrt(loss / count);
  if (deviation < resolution_) u_mean = std::max(u_mean, rounding);
  judgement_.state = Judgement::State::stable;
  judgement_.mean = base + mean;
  judgement_.noise = std::max(deviation, rounding);
  judgement_.u_mean = u_mean;
}

}  // namespace weighwright::link
