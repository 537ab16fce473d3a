#include "proof/route.h"

#include <algorithm>
#include <limits>

namespace weighwright::proof {
namespace {

constexpr double kNever = std::numeric_limits<double>::infinity();
constexpr double kGain = 1e-9;  // minutes: less is no gain but rounding
constexpr int kMostRounds = 100;

double minutes_of(const RouteQuestion& asked, const std::vector<int>& order) {
  double sum = asked.begin[static_cast<std::size_t>(order.front())] +
               asked.end[static_cast<std::size_t>(order.back())];
  for (std::size_t i = 1; i < order.size(); ++i) {
    sum +=
        asked.minutes[static_cast<std::size_t>(order[i - 1])][static_cast<std::size_t>(order[i])];
  }
  return sum;
}

struct Subsets {
  std::vector<std::vector<double>> cost;  // of set and last
  std::vector<std::vector<int>> before;
};

Subsets all_subsets(const RouteQuestion& asked) {
  const std::size_t n = asked.begin.size();
  const std::size_t sets = std::size_t{1} << n;
  Subsets all{.cost = std::vector(sets, std::vector<double>(n, kNever)),
              .before = std::vector(sets, std::vector<int>(n, -1))};
  for (std::size_t i = 0; i < n; ++i) all.cost[std::size_t{1} << i][i] = asked.begin[i];
  for (std::size_t set = 1; set < sets; ++set) {
    for (std::size_t last = 0; last < n; ++last) {
      if (all.cost[set][last] == kNever) continue;
      for (std::size_t next = 0; next < n; ++next) {
        if ((set >> next & 1U) != 0) continue;
        const std::size_t grown = set | std::size_t{1} << next;
        const double minutes = all.cost[set][last] + asked.minutes[last][next];
        if (minutes >= all.cost[grown][next]) continue;
        all.cost[grown][next] = minutes;
        all.before[grown][next] = static_cast<int>(last);
      }
    }
  }
  return all;
}

Route exact(const RouteQuestion& asked) {
  const std::size_t n = asked.begin.size();
  const Subsets all = all_subsets(asked);
  std::size_t set = (std::size_t{1} << n) - 1;
  std::size_t last = 0;
  for (std::size_t i = 1; i < n; ++i) {
    if (all.cost[set][i] + asked.end[i] < all.cost[set][last] + asked.end[last]) last = i;
  }
  Route route;
  route.minutes = all.cost[set][last] + asked.end[last];
  route.bound = route.minutes;
  for (int at = static_cast<int>(last); at >= 0;) {
    route.order.push_back(at);
    const auto here = static_cast<std::size_t>(at);
    at = all.before[set][here];
    set &= ~(std::size_t{1} << here);
  }
  std::reverse(route.order.begin(), route.order.end());
  return route;
}

std::vector<int> nearest_neighbours(const RouteQuestion& asked, std::size_t first) {
  std::vector<int> order{static_cast<int>(first)};
  std::vector<bool> used(asked.begin.size(), false);
  used[first] = true;
  while (order.size() < used.size()) {
    const auto last = static_cast<std::size_t>(order.back());
    std::size_t best = used.size();
    for (std::size_t i = 0; i < used.size(); ++i) {
      if (used[i]) continue;
      if (best == used.size() || asked.minutes[last][i] < asked.minutes[last][best]) best = i;
    }
    used[best] = true;
    order.push_back(static_cast<int>(best));
  }
  return order;
}

/// One better order by turning a part round or moving one stop; false: there is none.
bool improve(const RouteQuestion& asked, std::vector<int>& order, double& minutes) {
  const auto n = static_cast<std::ptrdiff_t>(order.size());
  for (std::ptrdiff_t i = 0; i < n; ++i) {
    for (std::ptrdiff_t j = i + 1; j < n; ++j) {
      for (int way = 0; way < 3; ++way) {
        std::vector<int> tried = order;
        if (way == 0) std::reverse(tried.begin() + i, tried.begin() + j + 1);
        if (way == 1) std::rotate(tried.begin() + i, tried.begin() + i + 1, tried.begin() + j + 1);
        if (way == 2) std::rotate(tried.begin() + i, tried.begin() + j, tried.begin() + j + 1);
        const double now = minutes_of(asked, tried);
        if (now >= minutes - kGain) continue;
        order = std::move(tried);
        minutes = now;
        return true;
      }
    }
  }
  return false;
}

/// Least spanning tree of the stops, and the two cheapest ways from outside to different stops.
double one_tree(const RouteQuestion& asked) {
  const std::size_t n = asked.begin.size();
  std::vector<double> nearest(n, kNever);
  std::vector<bool> in(n, false);
  nearest[0] = 0.0;
  double sum = 0.0;
  for (std::size_t k = 0; k < n; ++k) {
    std::size_t next = n;
    for (std::size_t i = 0; i < n; ++i) {
      if (!in[i] && (next == n || nearest[i] < nearest[next])) next = i;
    }
    in[next] = true;
    sum += nearest[next];
    for (std::size_t i = 0; i < n; ++i) nearest[i] = std::min(nearest[i], asked.minutes[next][i]);
  }
  double ends = kNever;
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j < n; ++j) {
      if (i != j) ends = std::min(ends, asked.begin[i] + asked.end[j]);
    }
  }
  return sum + ends;
}

Route rough(const RouteQuestion& asked) {
  Route best;
  best.minutes = kNever;
  for (std::size_t first = 0; first < asked.begin.size(); first += 3) {
    std::vector<int> order = nearest_neighbours(asked, first);
    double minutes = minutes_of(asked, order);
    for (int round = 0; round < kMostRounds && improve(asked, order, minutes); ++round) {
    }
    if (minutes >= best.minutes) continue;
    best.order = std::move(order);
    best.minutes = minutes;
  }
  best.bound = one_tree(asked);
  return best;
}

}  // namespace

Route shortest_route(const RouteQuestion& question) {
  if (question.begin.empty()) return {};
  const bool small = static_cast<int>(question.begin.size()) <= kMostExactStops;
  return small ? exact(question) : rough(question);
}

}  // namespace weighwright::proof
