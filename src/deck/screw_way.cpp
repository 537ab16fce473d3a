#include <algorithm>

#include "deck/deck.h"

namespace weighwright::deck {

ScrewWay screw_way(const Stand& stand) {
  ScrewWay way{.down_m = stand.travel_down_m,
               .up_m = stand.travel_up_m,
               .down_by_grout = false,
               .up_by_grout = false};
  if (!stand.grout_m) return way;
  if (stand.grout_min_m && *stand.grout_min_m - *stand.grout_m > way.down_m) {
    way.down_m = *stand.grout_min_m - *stand.grout_m;
    way.down_by_grout = true;
  }
  if (stand.grout_max_m && *stand.grout_max_m - *stand.grout_m < way.up_m) {
    way.up_m = *stand.grout_max_m - *stand.grout_m;
    way.up_by_grout = true;
  }
  return way;
}

}  // namespace weighwright::deck
