#pragma once
/// What instruments show at this moment, ready to be shown and sent.

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace weighwright::report {

struct LiveValueView {
  std::string place;            // "2L", "indication"
  std::string unit;             // "mV", "mV_per_V", "counts", "kg", "lb"
  std::optional<double> value;  // the last one; empty: none ever came
  std::string shown;            // with the digits that it came with, "1.087"
  double resolution = 0.0;      // same unit; 0: unknown
  /// stable: within noise for the last seconds; moving: a load comes, goes or swings; stale: too
  /// old; bad: out of range, over, under, or what can not be; unexplained: no load on this deck
  /// does that; silent: no answer ever.
  std::string quality;
  std::string says;  // what is wrong, in words; empty: nothing
  std::int64_t age_ms = 0;
  std::optional<double> mean;    // over the stable window; only when stable
  std::optional<double> noise;   // standard deviation of one value in that window
  std::optional<double> u_mean;  // standard deviation of the mean, correlation included
  int samples = 0;               // in that window
  std::string shown_mean;        // as it goes into a table
};

struct LiveInstrumentView {
  std::string name;
  std::string address;  // "modbus-tcp 192.0.2.7:502, unit 1"
  std::string state;    // connected | connecting | waiting (next try in ...) | refused |
                        // not_allowed (nobody at this machine said yes to it)
  std::string says;     // last trouble, in words; empty: none
  std::int64_t next_try_ms = 0;
};

struct LiveView {
  std::string journal;  // of the site that they stand on; empty: not known yet
  std::vector<LiveInstrumentView> instruments;
  std::vector<LiveValueView> values;
};

/// One line.
[[nodiscard]] std::string print_json(const LiveView& view);

}  // namespace weighwright::report
