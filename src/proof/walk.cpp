#include "proof/walk.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "proof/plan_places.h"
#include "proof/route.h"

namespace weighwright::proof {
namespace {

constexpr int kMostLoads = 6;          // tried for each range
constexpr std::size_t kManyStops = 6;  // with more of them fewer loads are tried
constexpr std::size_t kFewLoads = 2;
constexpr double kPerMetre = 1e-6;  // minutes: among equal orders the one along the deck
constexpr double kNever = std::numeric_limits<double>::infinity();

class Walking {
 public:
  Walking(const deck::Deck& deck,
          const Stock& stock,
          const std::vector<Demand>& demands,
          Kinds kinds)
      : stock_(stock), demands_(demands), kinds_(kinds) {
    for (const Demand& demand : demands) {
      x_m_.push_back(middle_of(deck, demand.check, demand.place).x_m);
      y_m_.push_back(middle_of(deck, demand.check, demand.place).y_m);
      class_.push_back(class_of(demand, kinds));
    }
  }

  Walked run() {
    for (const Choices& loads : loads_) {
      if (loads.pieces.empty()) return {};
    }
    keep_cheap();
    std::vector<std::size_t> chosen(loads_.size(), 0);
    Walked best;
    best.minutes = kNever;
    do {
      Walked one = route_with(chosen);
      if (one.minutes < best.minutes - 1e-9) best = std::move(one);
    } while (next(chosen));
    best.bound = std::min(best.minutes, bound());
    return best;
  }

 private:
  /// Which of the ranges a demand has.
  std::size_t class_of(const Demand& demand, Kinds kinds) {
    for (std::size_t c = 0; c < ranges_.size(); ++c) {
      if (ranges_[c].least_kg == demand.range.least_kg &&
          ranges_[c].most_kg == demand.range.most_kg)
        return c;
    }
    Allowed allowed = demand.allowed;
    allowed.kinds = kinds;
    ranges_.push_back(demand.range);
    Choices loads = all_choices(stock_, limits_of(stock_, allowed), demand.range, kMostLoads);
    if (!loads.complete) {
      // The cheapest to bring on may not be among the first that were listed.
      const auto cheap = cheapest(stock_, limits_of(stock_, allowed), demand.range);
      if (cheap) loads.pieces.insert(loads.pieces.begin(), cheap->pieces);
    }
    loads_.push_back(std::move(loads));
    return loads_.size() - 1;
  }

  void keep_cheap() {
    for (Choices& loads : loads_) {
      const auto by_minutes = [&](const Pieces& a, const Pieces& b) {
        return minutes_alone(a) < minutes_alone(b);
      };
      std::stable_sort(loads.pieces.begin(), loads.pieces.end(), by_minutes);
      if (demands_.size() <= kManyStops || loads.pieces.size() <= kFewLoads) continue;
      loads.pieces.resize(kFewLoads);
      loads.complete = false;
    }
  }

  [[nodiscard]] double minutes_alone(const Pieces& pieces) const {
    return placement_minutes(kinds_of(stock_, pieces)) + 2.0 * lift_minutes(stock_, pieces);
  }

  [[nodiscard]] bool next(std::vector<std::size_t>& chosen) const {
    for (std::size_t c = 0; c < chosen.size(); ++c) {
      if (++chosen[c] < loads_[c].pieces.size()) return true;
      chosen[c] = 0;
    }
    return false;
  }

  [[nodiscard]] double between(std::size_t i,
                               std::size_t j,
                               const Pieces& a,
                               const Pieces& b) const {
    return change_of(stock_, a, b, true).minutes +
           kPerMetre * (std::abs(x_m_[i] - x_m_[j]) + std::abs(y_m_[i] - y_m_[j]));
  }

  [[nodiscard]] Walked route_with(const std::vector<std::size_t>& chosen) const {
    const std::size_t n = demands_.size();
    Walked result;
    for (std::size_t i = 0; i < n; ++i) {
      result.pieces.push_back(loads_[class_[i]].pieces[chosen[class_[i]]]);
    }
    RouteQuestion question{.minutes = std::vector(n, std::vector<double>(n, 0.0)),
                           .begin = std::vector<double>(n),
                           .end = std::vector<double>(n)};
    const Pieces none(stock_.size(), 0);
    for (std::size_t i = 0; i < n; ++i) {
      question.begin[i] =
          change_of(stock_, none, result.pieces[i], false).minutes + kPerMetre * x_m_[i];
      question.end[i] = lift_minutes(stock_, result.pieces[i]);
      for (std::size_t j = 0; j < n; ++j) {
        question.minutes[i][j] = between(i, j, result.pieces[i], result.pieces[j]);
      }
    }
    result.order = shortest_route(question).order;
    charge(result);
    return result;
  }

  void charge(Walked& result) const {
    Pieces before(stock_.size(), 0);
    for (std::size_t k = 0; k < result.order.size(); ++k) {
      const Pieces& now = result.pieces[static_cast<std::size_t>(result.order[k])];
      Change change = change_of(stock_, before, now, k > 0);
      if (k + 1 == result.order.size()) change.minutes += lift_minutes(stock_, now);
      result.minutes += change.minutes;
      result.kinds |= change.kinds;
      result.changes.push_back(change);
      before = now;
    }
  }

  /// Every stop needs a placement, and the heaviest load must come on and off once.
  [[nodiscard]] double rough_bound() const {
    double placement = kNever;
    double per_kg = kNever;
    for (std::size_t i = 0; i < stock_.size(); ++i) {
      if ((kinds_ & bit(stock_[i].handling)) == 0 || stock_[i].count == 0) continue;
      const HandlingCost cost = handling_cost(stock_[i].handling);
      placement = std::min(placement, cost.placement);
      per_kg = std::min(per_kg, cost.piece / stock_[i].kg);
    }
    double heaviest = 0.0;
    for (const LoadRange& range : ranges_) heaviest = std::max(heaviest, range.least_kg);
    return placement * static_cast<double>(demands_.size()) + 2.0 * per_kg * heaviest;
  }

  /// The same route with the cheapest loads for each single change: no walk is cheaper.
  [[nodiscard]] double bound() const {
    for (const Choices& loads : loads_) {
      if (!loads.complete) return rough_bound();
    }
    const std::size_t n = demands_.size();
    RouteQuestion question{.minutes = std::vector(n, std::vector<double>(n, kNever)),
                           .begin = std::vector<double>(n, kNever),
                           .end = std::vector<double>(n, kNever)};
    const Pieces none(stock_.size(), 0);
    for (std::size_t i = 0; i < n; ++i) {
      for (const Pieces& a : loads_[class_[i]].pieces) {
        question.begin[i] = std::min(question.begin[i], change_of(stock_, none, a, false).minutes);
        question.end[i] = std::min(question.end[i], lift_minutes(stock_, a));
        for (std::size_t j = 0; j < n; ++j) {
          for (const Pieces& b : loads_[class_[j]].pieces) {
            question.minutes[i][j] =
                std::min(question.minutes[i][j], change_of(stock_, a, b, true).minutes);
          }
        }
      }
    }
    return shortest_route(question).bound;
  }

  const Stock& stock_;
  const std::vector<Demand>& demands_;
  Kinds kinds_;
  std::vector<double> x_m_;
  std::vector<double> y_m_;
  std::vector<std::size_t> class_;
  std::vector<LoadRange> ranges_;
  std::vector<Choices> loads_;
};

}  // namespace

Walked walk(const deck::Deck& deck,
            const Stock& stock,
            const std::vector<Demand>& demands,
            Kinds kinds) {
  return Walking(deck, stock, demands, kinds).run();
}

}  // namespace weighwright::proof
