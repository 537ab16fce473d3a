#pragma once
/// What a place can show at all, and how far it moves when nothing does: plain numbers, for link
/// knows no deck. Whoever has one fills them in (job/live_limits.h). 0: not known.

#include "deck/instrument.h"

namespace weighwright::link {

struct PlaceLimits {
  deck::LiveUnit unit = deck::LiveUnit::kg;  // of all of these

  /// Least and greatest value that deck and cells can give: what lies beyond is no value.
  double least = 0.0;
  double most = 0.0;
  /// What loads on this deck explain: what lies beyond is shown and never called stable.
  double explained_least = 0.0;
  double explained_most = 0.0;

  /// What its display counts by, where that is more than the resolution that comes with a value.
  double step = 0.0;
  /// Standard deviation of a value that stands still, as far as somebody stated it.
  double quiet = 0.0;

  bool operator==(const PlaceLimits&) const = default;
};

}  // namespace weighwright::link
