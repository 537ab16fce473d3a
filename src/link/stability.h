#pragma once
/// Is a value steady, and how well is its mean known? Pure: time is passed in.
///
/// Model (docs/theory/live.md): the values of the last 3 s (six questions, where that is longer)
/// are steady when neither their spread nor their drift is more than the noise of this place and
/// the resolution explain. The noise of a place is learned: that of its quietest quarter of the
/// last minute. An instrument that says itself that it moves is believed. Where it is known how
/// still the place can be (Calm), nothing is taken for its noise that is more than that: a value
/// that jumps or swings all the time is not steady because it always did.
///
/// Sources:
///  - standard deviation and mean: JCGM 100:2008, 4.2.2 and 4.2.1
///  - a rounded value: standard uncertainty resolution/sqrt(12), JCGM 100:2008, F.2.2.1
///  - mean of correlated values: JCGM 100:2008, 4.2.7 says that 4.2.3 does not hold for them; for a
///    first-order process Var(mean) = s2/n (1 + 2 sum (1 - i/n) rho^i), standard time series
///    analysis (Box, Jenkins, Reinsel, Time Series Analysis; from memory, unverified; the tests
///    hold it against simulated series with a known mean)
///  - bias of an estimated correlation, (1 + 3 rho)/n: Marriott and Pope 1954, Kendall 1954; from
///    memory, unverified
///  - the limits of spread and drift: hand estimates, no source

#include <cstdint>
#include <deque>
#include <optional>
#include <string>

namespace weighwright::link {

struct Judgement {
  enum class State { too_few, moving, stable };
  State state = State::too_few;
  std::string says;            // moving: why; too_few: how many are missing
  int samples = 0;             // in the window
  std::optional<double> mean;  // these three: stable only
  /// Standard deviation of one value, not below resolution/sqrt(12).
  std::optional<double> noise;
  /// Standard deviation of the mean. Where the values scatter less than one step of the resolution
  /// averaging tells nothing about what lies between two steps: then not below
  /// resolution/sqrt(12).
  std::optional<double> u_mean;
};

/// How still a place can be, in its unit. 0: not known.
struct Calm {
  double step = 0.0;   // what its display counts by
  double quiet = 0.0;  // standard deviation of a value that stands still, as somebody stated it
};

class Stability {
 public:
  /// @param every_s  between two values
  explicit Stability(double every_s, Calm calm = {});

  /// @param resolution  in the unit of the value; 0: unknown
  /// @param own_motion  the instrument says that it moves
  /// A time that is not later than the last one: the value is left out.
  void add(std::int64_t time_ms, double value, double resolution, bool own_motion);
  /// Nothing that came before counts for the window; what was learned of the noise stays.
  void interrupt();
  /// As new: another unit, another instrument.
  void forget(Calm calm = {});

  [[nodiscard]] const Judgement& judgement() const { return judgement_; }

 private:
  struct Sample {
    std::int64_t time_ms = 0;
    double value = 0.0;
  };
  /// What one window looked like.
  struct Look {
    std::int64_t time_ms = 0;
    double scatter = 0.0;  // standard deviation about the line through it
    double drift = 0.0;    // along that line, over the window
  };

  void judge();
  [[nodiscard]] bool learned() const;
  [[nodiscard]] double widest(double scatter) const;
  [[nodiscard]] Look look() const;
  [[nodiscard]] bool enough() const;
  [[nodiscard]] double quiet_scatter() const;
  [[nodiscard]] double drift_scatter() const;
  void settle();

  double window_ms_;
  Calm calm_limits_;
  double resolution_ = 0.0;
  std::deque<Sample> window_;
  std::deque<Look> looks_;   // of the last minute
  std::deque<double> calm_;  // values since it became steady
  Judgement judgement_;
};

}  // namespace weighwright::link
