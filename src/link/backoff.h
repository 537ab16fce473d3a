#pragma once
/// How long to wait before the next try: 0.5 s, 1 s, 2 s, ... 30 s; from the start after a success.

namespace weighwright::link {

class Backoff {
 public:
  static constexpr double kFirst_s = 0.5;
  static constexpr double kLongest_s = 30.0;

  /// The wait after one more failure.
  double next_s();
  void succeeded() { next_ = kFirst_s; }

 private:
  double next_ = kFirst_s;
};

}  // namespace weighwright::link
