#pragma once
/// The code that lets a phone in. It is read from the screen of the machine that serves, so whoever
/// has it stood there.
///
/// 8 of 32 characters without look-alikes: 40 bits. Kept as a keyed hash, compared in constant
/// time. Valid for 15 minutes; a new one is made when it was used, when it ran out, and after 10
/// wrong tries. Tries are limited per address and overall, so that with 20 at once and one every
/// 3 s afterwards, a guess succeeds in a year with a chance of 10^7 / 2^40 = 1 in 100 000.

#include <cstdint>
#include <functional>
#include <mutex>
#include <string>

#include "web/limiter.h"

namespace weighwright::web {

class Pairing {
 public:
  static constexpr std::int64_t kValid_ms = 15LL * 60 * 1000;
  static constexpr int kWrongTries = 10;

  /// @param announce  shows a new code ("ABCD-EFGH") to who stands at the machine; called from any
  ///                  thread, never with a lock held
  explicit Pairing(std::function<void(const std::string& code)> announce);

  struct Tried {
    bool right = false;
    int wait_s = 0;  // too many tries: it was not looked at
  };
  /// @param code  as typed: small letters, blanks and hyphens do not matter
  [[nodiscard]] Tried attempt(const std::string& code,
                              const std::string& address,
                              std::int64_t now_ms);

  /// Makes and announces a new code when there is none or the last one ran out.
  void renew_when_due(std::int64_t now_ms);

 private:
  [[nodiscard]] std::string fresh(std::int64_t now_ms);

  std::function<void(const std::string&)> announce_;
  Limiter by_address_{{.per_second = 1.0 / 12.0, .burst = 5.0}};
  Limiter overall_{{.per_second = 1.0 / 3.0, .burst = 20.0}};
  std::mutex mutex_;
  std::string key_;
  std::string hash_;  // empty: no code yet
  std::int64_t made_ms_ = 0;
  int wrong_ = 0;
};

}  // namespace weighwright::web
