#include "proof/nest.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace weighwright::proof {
namespace {

constexpr int kMostLoads = 200;     // of one step, for the exact way
constexpr double kPerKgOff = 1e-9;  // minutes: among equal plans the nearer loads
constexpr double kNever = std::numeric_limits<double>::infinity();

bool within(const Pieces& inner, const Pieces& outer) {
  bool fewer = false;
  for (std::size_t i = 0; i < inner.size(); ++i) {
    if (inner[i] > outer[i]) return false;
    fewer = fewer || inner[i] < outer[i];
  }
  return fewer;
}

Pieces less(const Pieces& outer, const Pieces& inner) {
  Pieces rest = outer;
  for (std::size_t i = 0; i < rest.size(); ++i) rest[i] -= inner[i];
  return rest;
}

class Nesting {
 public:
  Nesting(const Stock& stock, const NestQuestion& question) : stock_(stock), asked_(question) {}

  Nest run() {
    if (asked_.steps.empty()) return {};
    list();
    std::vector<std::size_t> all(asked_.steps.size());
    std::iota(all.begin(), all.end(), std::size_t{0});
    Nest best = dynamic(all);
    if (best.sets.empty()) best = without_one(all);
    if (!best.sets.empty() && complete_) return best;
    for (Nest other : {from_above(), from_below()}) {
      if (better(other, best)) best = std::move(other);
    }
    best.exact = false;
    best.bound = best.sets.empty() ? 0.0 : bound_of(best);
    return best;
  }

 private:
  void list() {
    loads_.resize(asked_.steps.size());
    for (std::size_t k = 0; k < loads_.size(); ++k) {
      if (asked_.last_is_limit && k + 1 == loads_.size()) {
        loads_[k] = {asked_.limit};
        continue;
      }
      Choices choices = all_choices(stock_, asked_.limit, asked_.steps[k], kMostLoads);
      complete_ = complete_ && choices.complete;
      loads_[k] = std::move(choices.pieces);
    }
  }

  [[nodiscard]] double step_minutes(std::size_t k, const Pieces& from, const Pieces& to) const {
    const double placement = placement_minutes(kinds_of(stock_, less(to, from)));
    const bool first = kg_of(stock_, from) <= 0.0;
    const double off = std::abs(kg_of(stock_, to) - asked_.steps[k].want_kg);
    return placement * (asked_.down_too && !first ? 2.0 : 1.0) + kPerKgOff * off;
  }

  /// The cheapest chain with one step left out; no sets where none is.
  [[nodiscard]] Nest without_one(const std::vector<std::size_t>& all) const {
    Nest best;
    for (std::size_t left_out = 0; left_out + 1 < all.size(); ++left_out) {
      std::vector<std::size_t> some = all;
      some.erase(some.begin() + static_cast<std::ptrdiff_t>(left_out));
      Nest one = dynamic(some);
      if (!one.sets.empty() && (best.sets.empty() || one.minutes < best.minutes)) {
        best = std::move(one);
      }
    }
    return best;
  }

  using Costs = std::vector<std::vector<double>>;
  using Froms = std::vector<std::vector<int>>;

  /// These steps; no sets where no chain of loads goes through all of them.
  [[nodiscard]] Nest dynamic(const std::vector<std::size_t>& steps) const {
    const Pieces none(stock_.size(), 0);
    Costs cost(steps.size());
    Froms before(steps.size());
    for (std::size_t i = 0; i < steps.size(); ++i) {
      const std::vector<Pieces>& loads = loads_[steps[i]];
      cost[i].assign(loads.size(), kNever);
      before[i].assign(loads.size(), -1);
      for (std::size_t c = 0; c < loads.size(); ++c) {
        if (i == 0) cost[i][c] = step_minutes(steps[i], none, loads[c]);
        if (i > 0) reach(steps, i, c, cost, before);
      }
    }
    return trace(steps, cost, before);
  }

  void reach(const std::vector<std::size_t>& steps,
             std::size_t i,
             std::size_t c,
             Costs& cost,
             Froms& before) const {
    const std::vector<Pieces>& lower = loads_[steps[i - 1]];
    const Pieces& load = loads_[steps[i]][c];
    for (std::size_t p = 0; p < lower.size(); ++p) {
      if (std::isinf(cost[i - 1][p]) || !within(lower[p], load)) continue;
      const double minutes = cost[i - 1][p] + step_minutes(steps[i], lower[p], load);
      if (minutes >= cost[i][c]) continue;
      cost[i][c] = minutes;
      before[i][c] = static_cast<int>(p);
    }
  }

  [[nodiscard]] Nest trace(const std::vector<std::size_t>& steps,
                           const Costs& cost,
                           const Froms& before) const {
    const std::vector<Pieces>& tops = loads_[steps.back()];
    int at = -1;
    double least = kNever;
    for (std::size_t c = 0; c < tops.size(); ++c) {
      const double minutes = cost.back()[c] + asked_.lifts * lift_minutes(stock_, tops[c]);
      if (minutes >= least) continue;
      least = minutes;
      at = static_cast<int>(c);
    }
    Nest result;
    for (std::size_t i = steps.size(); at >= 0 && i-- > 0;) {
      result.sets.push_back(loads_[steps[i]][static_cast<std::size_t>(at)]);
      result.steps.push_back(static_cast<int>(steps[i]));
      at = before[i][static_cast<std::size_t>(at)];
    }
    std::reverse(result.sets.begin(), result.sets.end());
    std::reverse(result.steps.begin(), result.steps.end());
    result.exact = true;
    finish(result);
    return result;
  }

  /// More loads made, then fewer minutes.
  static bool better(const Nest& one, const Nest& than) {
    if (one.sets.size() != than.sets.size()) return one.sets.size() > than.sets.size();
    return one.minutes < than.minutes;
  }

  /// Every load from the one below it, by the pieces that come cheapest.
  [[nodiscard]] Nest from_below() const {
    Nest result;
    Pieces now(stock_.size(), 0);
    for (std::size_t k = 0; k < asked_.steps.size(); ++k) {
      const bool last = k + 1 == asked_.steps.size();
      Pieces grown = asked_.limit;
      if (!last || !asked_.last_is_limit) {
        const double base = kg_of(stock_, now);
        const LoadRange more{.want_kg = asked_.steps[k].want_kg - base,
                             .least_kg = std::max(asked_.steps[k].least_kg - base, kPerKgOff),
                             .most_kg = asked_.steps[k].most_kg - base};
        const auto choice = cheapest(stock_, less(asked_.limit, now), more, asked_.lifts);
        if (!choice && last) return {};
        if (!choice) continue;
        grown = now;
        for (std::size_t i = 0; i < grown.size(); ++i) grown[i] += choice->pieces[i];
      }
      now = grown;
      result.sets.push_back(now);
      result.steps.push_back(static_cast<int>(k));
    }
    finish(result);
    return result;
  }

  /// From the top down.
  [[nodiscard]] Nest from_above() const {
    Nest result;
    Pieces now = asked_.limit;
    if (!asked_.last_is_limit) {
      const auto top = cheapest(stock_, asked_.limit, asked_.steps.back(), asked_.lifts);
      if (!top) return result;
      now = top->pieces;
    }
    result.sets = {now};
    result.steps = {static_cast<int>(asked_.steps.size()) - 1};
    for (std::size_t k = asked_.steps.size() - 1; k-- > 0;) {
      const Choices smaller = all_choices(stock_, now, asked_.steps[k], kMostLoads);
      const Pieces* best = nullptr;
      double least = kNever;
      for (const Pieces& one : smaller.pieces) {
        if (!within(one, now)) continue;
        const double minutes = step_minutes(k, one, now);
        if (minutes < least) best = &one;
        least = std::min(least, minutes);
      }
      if (best == nullptr) continue;
      now = *best;
      result.sets.insert(result.sets.begin(), now);
      result.steps.insert(result.steps.begin(), static_cast<int>(k));
    }
    finish(result);
    return result;
  }

  void finish(Nest& result) const {
    if (result.sets.empty()) return;
    Pieces before(stock_.size(), 0);
    for (std::size_t k = 0; k < result.sets.size(); ++k) {
      const double placement = placement_minutes(kinds_of(stock_, less(result.sets[k], before)));
      result.minutes += placement * (asked_.down_too && k > 0 ? 2.0 : 1.0);
      before = result.sets[k];
    }
    result.minutes += asked_.lifts * lift_minutes(stock_, before);
    result.bound = result.minutes;
  }

  /// Every step needs the cheapest placement at least, the top its cheapest pieces.
  [[nodiscard]] double bound_of(const Nest& result) const {
    const auto steps = static_cast<double>(result.sets.size());
    const double placements = asked_.down_too ? 2.0 * steps - 1.0 : steps;
    const double least = least_placement_minutes(stock_, asked_.limit);
    const double top_kg =
        asked_.last_is_limit ? kg_of(stock_, asked_.limit) : asked_.steps.back().least_kg;
    const double lifts = asked_.lifts * least_lift_minutes(stock_, asked_.limit, top_kg);
    return placements * least + lifts;
  }

  const Stock& stock_;
  const NestQuestion& asked_;
  std::vector<std::vector<Pieces>> loads_;
  bool complete_ = true;
};

}  // namespace

Nest nest(const Stock& stock, const NestQuestion& question) {
  return Nesting(stock, question).run();
}

}  // namespace weighwright::proof
