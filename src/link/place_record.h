#pragma once
/// What is known of one place that is read live. Pure: time is passed in.

#include <cstdint>
#include <string>

#include "link/place_limits.h"
#include "link/reader.h"
#include "link/stability.h"
#include "link/station.h"

namespace weighwright::link {

class PlaceRecord {
 public:
  PlaceRecord(std::string place,
              deck::LiveUnit unit,
              double every_s,
              double stale_s,
              const PlaceLimits& limits = {});

  /// A value, or the news that there is none.
  void take(std::int64_t now_ms, const Reading& reading);
  [[nodiscard]] LiveValue show(std::int64_t now_ms) const;

 private:
  [[nodiscard]] Quality quality_at(std::int64_t now_ms) const;
  [[nodiscard]] bool explained() const;

  std::string place_;
  deck::LiveUnit unit_;
  std::int64_t stale_ms_;
  PlaceLimits limits_;
  Stability stability_;
  Reading last_;                  // the last news
  bool any_ = false;              // any news
  bool valued_ = false;           // any value ever
  std::int64_t news_at_ms_ = 0;   // of the last news
  std::int64_t value_at_ms_ = 0;  // of the last value
};

}  // namespace weighwright::link
