#include "job/assumed_of.h"

#include <algorithm>

namespace weighwright::job {

void drop_sharing(std::vector<deck::Assumed>& assumed) {
  std::erase_if(assumed, [](const deck::Assumed& item) {
    return item.key.starts_with("share.") || item.key.starts_with("stand.") ||
           item.key == "deck.pair_tolerance";
  });
}

void add_assumed(std::vector<deck::Assumed>& assumed, const std::vector<deck::Assumed>& more) {
  for (const deck::Assumed& item : more) {
    const bool there = std::any_of(assumed.begin(), assumed.end(), [&](const deck::Assumed& known) {
      return known.key == item.key;
    });
    if (!there) assumed.push_back(item);
  }
}

}  // namespace weighwright::job
