#include "web/limiter.h"

#include <algorithm>
#include <cmath>

namespace weighwright::web {

double Limiter::filled(const Bucket& bucket, std::int64_t now_ms) const {
  const double passed_s = static_cast<double>(now_ms - bucket.at_ms) / 1000.0;
  return std::min(pace_.burst, bucket.tokens + passed_s * pace_.per_second);
}

void Limiter::forget(std::int64_t now_ms) {
  std::erase_if(buckets_,
                [&](const auto& kept) { return filled(kept.second, now_ms) >= pace_.burst; });
  if (buckets_.size() < kMostKeys) return;
  buckets_.erase(std::min_element(
      buckets_.begin(), buckets_.end(),
      [](const auto& a, const auto& b) { return a.second.at_ms < b.second.at_ms; }));
}

std::optional<int> Limiter::take(const std::string& key, std::int64_t now_ms) {
  const std::scoped_lock lock(mutex_);
  auto found = buckets_.find(key);
  if (found == buckets_.end()) {
    if (buckets_.size() >= kMostKeys) forget(now_ms);
    found = buckets_.emplace(key, Bucket{.tokens = pace_.burst, .at_ms = now_ms}).first;
  }
  Bucket& bucket = found->second;
  bucket = {.tokens = filled(bucket, now_ms), .at_ms = now_ms};
  if (bucket.tokens >= 1.0) {
    bucket.tokens -= 1.0;
    return {};
  }
  return std::max(1, static_cast<int>(std::ceil((1.0 - bucket.tokens) / pace_.per_second)));
}

}  // namespace weighwright::web
