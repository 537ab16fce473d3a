#include "link/backoff.h"

#include <algorithm>

namespace weighwright::link {

double Backoff::next_s() {
  const double now = next_;
  next_ = std::min(2.0 * next_, kLongest_s);
  return now;
}

}  // namespace weighwright::link
