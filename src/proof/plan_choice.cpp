#include "proof/plan_choice.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace weighwright::proof {
namespace {

constexpr double kHeaviestLorry_kg = 44'000.0;  // on roads; common practice, no source

/// Loads that these pieces can't make.
std::size_t missed_of(const Solution& solution) {
  std::size_t count = solution.build.missed_kg.size();
  for (const BuildUp& lower : solution.lower) count += lower.missed_kg.size();
  return count;
}

class Solver {
 public:
  Solver(const deck::Deck& deck,
         const Stock& stock,
         const Demands& demands,
         const BuildOptions& options,
         Kinds kinds,
         const Solution& best)
      : deck_(deck),
        stock_(stock),
        demands_(demands),
        options_(options),
        kinds_(kinds),
        best_(best) {}

  Solution run() {
    if (!build() || !make_all(demands_.repeatability, made_.repeatability) || hopeless() ||
        !make_all(demands_.extras, made_.extras) || hopeless() ||
        !make_all(demands_.places, made_.places)) {
      return {};
    }
    made_.possible = true;
    made_.minutes = minutes_ + set_up_minutes(made_.kinds);
    made_.bound = bound_ + set_up_minutes(kinds_ | made_.kinds);
    return std::move(made_);
  }

 private:
  /// Whether its bound is above the best so far already: then it moves neither plan nor bound.
  [[nodiscard]] bool hopeless() const {
    return best_.possible && missed_of(made_) >= missed_of(best_) &&
           bound_ + set_up_minutes(kinds_ | made_.kinds) >= best_.minutes;
  }

  bool make_all(const std::vector<DemandGroup>& groups, std::vector<MadeGroup>& made) {
    for (const DemandGroup& group : groups) {
      made.push_back({.group = &group, .choices = {}, .walked = {}, .lorries = 0});
      if (!make(made.back())) return false;
    }
    return true;
  }

  bool make(MadeGroup& made) {
    if (made.group->walks) return make_walk(made);
    double minutes = 0.0;
    double bound = 0.0;
    for (const Demand& demand : made.group->demands) {
      Allowed allowed = demand.allowed;
      allowed.kinds = kinds_;
      auto choice = cheapest(stock_, limits_of(stock_, allowed), demand.range);
      if (!choice) break;
      minutes += choice->minutes;
      bound += choice->bound;
      made.choices.push_back(std::move(*choice));
    }
    const bool made_all = made.choices.size() == made.group->demands.size();
    const int lorries = lorries_for(*made.group);
    if (!made_all && lorries == 0) return false;
    const double lorry = lorry_minutes(lorries) * static_cast<double>(made.group->demands.size());
    const bool take = lorries > 0 && (!made_all || lorry < minutes);
    minutes_ += take ? lorry : minutes;
    bound_ += lorries == 0 ? bound : made_all ? std::min(bound, lorry) : lorry;
    if (take) {
      made.lorries = lorries;
      made_.kinds |= bit(record::Handling::vehicle);
      return true;
    }
    for (const Choice& choice : made.choices) made_.kinds |= kinds_of(stock_, choice.pieces);
    return true;
  }

  /// How many lorries that are in no list make the load; 0: they may not.
  [[nodiscard]] int lorries_for(const DemandGroup& group) const {
    if ((kinds_ & bit(record::Handling::vehicle)) == 0) return 0;
    int most = 0;
    for (const Demand& demand : group.demands) {
      if (!demand.any_lorry) return 0;
      most = std::max(most, static_cast<int>(std::ceil(demand.range.least_kg / kHeaviestLorry_kg)));
    }
    return most;
  }

  bool make_walk(MadeGroup& made) {
    made.walked = walk(deck_, stock_, made.group->demands, kinds_);
    if (made.walked.order.empty()) return false;
    minutes_ += made.walked.minutes;
    bound_ += made.walked.bound;
    made_.kinds |= made.walked.kinds;
    return true;
  }

  bool build() {
    for (const std::vector<BuildQuestion>& range : options_.lower_ranges) {
      int substitutions = 0;
      made_.lower.emplace_back();
      if (!build_best(range, made_.lower.back(), substitutions)) return false;
    }
    if (!build_best(options_.questions, made_.build, made_.substitutions)) return false;
    if (options_.strain) strain();
    return true;
  }

  /// The best of all ways to build up; fewest loads left out, then minutes.
  bool build_best(const std::vector<BuildQuestion>& questions, BuildUp& best, int& substitutions) {
    const Pieces limit = limits_of(stock_, {.kinds = kinds_});
    double bound = std::numeric_limits<double>::infinity();
    for (const BuildQuestion& question : questions) {
      BuildUp built = build_up(stock_, limit, question);
      if (!built.possible) continue;
      const bool fewer = built.missed_kg.size() < best.missed_kg.size();
      const bool same = built.missed_kg.size() == best.missed_kg.size();
      bound = std::min(bound, built.bound);
      if (best.possible && !fewer && !(same && built.minutes < best.minutes)) continue;
      best = std::move(built);
      substitutions = question.substitutions;
    }
    if (!best.possible) return false;
    minutes_ += best.minutes;
    bound_ += bound;
    made_.kinds |= best.kinds;
    return true;
  }

  /// A lorry, and the weights of the greatest increasing load on top of it.
  void strain() {
    Pieces loaded(stock_.size(), 0);
    for (const BuildStep& step : made_.build.steps) {
      if (step.check == rules::Check::increasing) loaded = step.pieces;
    }
    loaded.back() = 1;
    made_.strain = change_of(stock_, Pieces(stock_.size(), 0), loaded, false);
    made_.strain.minutes += lift_minutes(stock_, loaded);
    minutes_ += made_.strain.minutes;
    made_.kinds |= made_.strain.kinds;
    const Pieces limit = limits_of(stock_, {.kinds = kinds_});
    bound_ += least_placement_minutes(stock_, limit) +
              2.0 * least_lift_minutes(stock_, limit, options_.amount.weights_kg);
    bound_ += lorry_minutes(1);
  }

  const deck::Deck& deck_;
  const Stock& stock_;
  const Demands& demands_;
  const BuildOptions& options_;
  Kinds kinds_;
  const Solution& best_;
  Solution made_;
  double minutes_ = 0.0;
  double bound_ = 0.0;
};

}  // namespace

double lorry_minutes(int lorries) {
  const HandlingCost cost = handling_cost(record::Handling::vehicle);
  return cost.placement + 2.0 * cost.piece * lorries;
}

bool can_make(const Stock& stock, const Demand& demand) {
  return cheapest(stock, limits_of(stock, demand.allowed), demand.range).has_value();
}

Chosen choose_plan(const deck::Deck& deck,
                   const Stock& stock,
                   const Demands& demands,
                   const BuildOptions& options) {
  Kinds all = 0;
  for (const PieceType& type : stock) {
    if (type.count > 0) all |= bit(type.handling);
  }
  for (const DemandGroup& group : demands.repeatability) {
    if (group.demands.front().any_lorry) all |= bit(record::Handling::vehicle);
  }
  Chosen chosen;
  for (Kinds kinds = all; kinds != 0; kinds = (kinds - 1) & all) {
    Solution one = Solver(deck, stock, demands, options, kinds, chosen.best).run();
    if (!one.possible) continue;
    const std::size_t missed = missed_of(one);
    const std::size_t before = missed_of(chosen.best);
    if (chosen.best.possible && missed > before) continue;
    // Plans that leave out more loads say nothing of the least minutes for all of them.
    if (!chosen.best.possible || missed < before) chosen = {.best = {}, .bound = one.bound};
    chosen.bound = std::min(chosen.bound, one.bound);
    if (!chosen.best.possible || one.minutes < chosen.best.minutes) chosen.best = std::move(one);
  }
  if (!chosen.best.possible) chosen.bound = 0.0;
  chosen.bound = std::min(chosen.bound, chosen.best.minutes);
  return chosen;
}

}  // namespace weighwright::proof
