#include "trim/order.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace weighwright::trim {
namespace {

constexpr double kNothing = 1e-12;

void keep(std::vector<OrderStep>& steps, OrderStep step, double least) {
  std::erase_if(step.changes,
                [](const auto& change) { return std::abs(change.second) < kNothing; });
  const bool worth = std::any_of(step.changes.begin(), step.changes.end(), [&](const auto& change) {
    return std::abs(change.second) >= least;
  });
  if (worth) steps.push_back(std::move(step));
}

}  // namespace

std::vector<OrderStep> guided_order(const std::vector<Element>& elements,
                                    const Eigen::VectorXd& change,
                                    double least) {
  std::map<int, std::vector<int>> of_section;
  for (std::size_t k = 0; k < elements.size(); ++k) {
    of_section[elements[k].stands.front() / 2].push_back(static_cast<int>(k));
  }
  std::vector<OrderStep> steps;
  std::vector<OrderStep> sections;
  for (const auto& [section, trims] : of_section) {
    OrderStep whole{.is_pair = false, .section = section, .changes = {}};
    if (trims.size() == 2) {
      // The trim that comes down further goes to the other first; the rest is both alike.
      const double first = change(trims[0]);
      const double second = change(trims[1]);
      const double common = std::max(first, second);
      OrderStep pair{.is_pair = true, .section = section, .changes = {}};
      pair.changes.emplace_back(first < second ? trims[0] : trims[1],
                                std::min(first, second) - common);
      keep(steps, std::move(pair), least);
      for (const int trim : trims) whole.changes.emplace_back(trim, common);
    } else {
      for (const int trim : trims) whole.changes.emplace_back(trim, change(trim));
    }
    keep(sections, std::move(whole), least);
  }
  steps.insert(steps.end(), sections.begin(), sections.end());
  return steps;
}

MoveCosts move_costs(int sections, int places) {
  MoveCosts costs;
  costs.places = places;
  costs.at_once = 2 * places;
  // A pair: left, right, turn while it stands there, left again. A section: its middle, and again
  // after its turn, the first being the reference. Then every place once.
  costs.guided = 3 * sections + (2 * sections - 1) + places;
  return costs;
}

}  // namespace weighwright::trim
