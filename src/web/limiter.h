#pragma once
/// How often somebody may ask: a token bucket for each key (J. S. Turner, "New directions in
/// communications", IEEE Communications Magazine 24 (1986) 10: the leaky bucket as a meter).

#include <cstddef>
#include <cstdint>
#include <mutex>
#include <optional>
#include <string>
#include <unordered_map>

namespace weighwright::web {

struct Pace {
  double per_second = 0.0;
  double burst = 0.0;
};

/// Thread-safe. Memory is bounded: beyond `kMostKeys` those that are full again are forgotten, then
/// the one that asked longest ago.
class Limiter {
 public:
  static constexpr std::size_t kMostKeys = 1024;
  explicit Limiter(Pace pace) : pace_(pace) {}

  /// Takes one token. @return seconds to wait (at least 1) when there is none; nothing: go on
  [[nodiscard]] std::optional<int> take(const std::string& key, std::int64_t now_ms);

 private:
  struct Bucket {
    double tokens = 0.0;
    std::int64_t at_ms = 0;
  };
  void forget(std::int64_t now_ms);
  [[nodiscard]] double filled(const Bucket& bucket, std::int64_t now_ms) const;

  Pace pace_;
  std::mutex mutex_;
  std::unordered_map<std::string, Bucket> buckets_;
};

}  // namespace weighwright::web
