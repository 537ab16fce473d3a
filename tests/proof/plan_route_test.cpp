// Order of placements against complete enumeration written out here. Weights and places are our own
// invention.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <numeric>
#include <random>

#include "plan_pieces.h"
#include "proof/plan_places.h"
#include "proof/route.h"
#include "proof/walk.h"
#include "statics/decks.h"

// outside check: shortest order of placements, of orders and loads together | all permutations,
//  written out in the test
// outside check: bound of a route by the least 1-tree | Held & Karp, *Operations Research* 18
//  (1970), section 1

namespace weighwright::proof {
namespace {

using namespace tests;  // NOLINT(google-build-using-namespace)

RouteQuestion random_route(std::mt19937& random, std::size_t n) {
  RouteQuestion question{.minutes = std::vector(n, std::vector<double>(n, 0.0)),
                         .begin = std::vector<double>(n),
                         .end = std::vector<double>(n)};
  for (std::size_t i = 0; i < n; ++i) {
    question.begin[i] = static_cast<double>(random() % 100);
    question.end[i] = static_cast<double>(random() % 100);
    for (std::size_t j = 0; j < i; ++j) {
      question.minutes[i][j] = question.minutes[j][i] = static_cast<double>(random() % 100);
    }
  }
  return question;
}

double cost_of(const RouteQuestion& question, const std::vector<int>& order) {
  double sum = question.begin[static_cast<std::size_t>(order.front())] +
               question.end[static_cast<std::size_t>(order.back())];
  for (std::size_t i = 1; i < order.size(); ++i) {
    sum += question
               .minutes[static_cast<std::size_t>(order[i - 1])][static_cast<std::size_t>(order[i])];
  }
  return sum;
}

// All permutations.
TEST(ShortestRoute, IsTheShortestOfAllOrders) {
  std::mt19937 random(6);
  for (std::size_t n = 1; n <= 7; ++n) {
    for (int round = 0; round < 10; ++round) {
      const RouteQuestion question = random_route(random, n);
      std::vector<int> order(n);
      std::iota(order.begin(), order.end(), 0);
      double least = INFINITY;
      do {
        least = std::min(least, cost_of(question, order));
      } while (std::next_permutation(order.begin(), order.end()));
      const Route route = shortest_route(question);
      EXPECT_DOUBLE_EQ(route.minutes, least);
      EXPECT_DOUBLE_EQ(route.bound, least);
      EXPECT_DOUBLE_EQ(cost_of(question, route.order), least);
    }
  }
}

TEST(ShortestRoute, OfManyStopsVisitsEachOnceAndKeepsItsBound) {
  std::mt19937 random(7);
  for (int round = 0; round < 10; ++round) {
    const RouteQuestion question = random_route(random, 20);
    const Route route = shortest_route(question);
    std::vector<int> sorted = route.order;
    std::sort(sorted.begin(), sorted.end());
    for (int i = 0; i < 20; ++i) EXPECT_EQ(sorted[static_cast<std::size_t>(i)], i);
    EXPECT_DOUBLE_EQ(route.minutes, cost_of(question, route.order));
    EXPECT_LE(route.bound, route.minutes);
    EXPECT_GT(route.bound, 0.0);
  }
}

// Held & Karp, Operations Research 18 (1970), sec. 1: a tour is a 1-tree, so the least 1-tree is no
// longer. On a line both ends of which are free the tree is the path itself.
TEST(ShortestRoute, OnALineIsTheLine) {
  const std::size_t n = 15;
  RouteQuestion question{.minutes = std::vector(n, std::vector<double>(n, 0.0)),
                         .begin = std::vector<double>(n, 0.0),
                         .end = std::vector<double>(n, 0.0)};
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j < n; ++j) {
      question.minutes[i][j] = std::abs(static_cast<double>(i) - static_cast<double>(j));
    }
  }
  const Route route = shortest_route(question);
  EXPECT_DOUBLE_EQ(route.minutes, 14.0);
  EXPECT_DOUBLE_EQ(route.bound, 14.0);
}

std::vector<Demand> sections_of(const deck::Deck& deck, const LoadRange& range) {
  std::vector<Demand> demands;
  for (int i = 0; i < static_cast<int>(deck.sections.size()); ++i) {
    Demand demand;
    demand.check = rules::Check::section;
    demand.place = at_section(i);
    demand.range = range;
    demands.push_back(demand);
  }
  return demands;
}

/// All orders and all loads at every stop.
double walk_by_hand(const Stock& stock, const std::vector<Demand>& demands) {
  std::vector<std::vector<Pieces>> loads(demands.size());
  for (std::size_t i = 0; i < demands.size(); ++i) {
    for_all(stock, [&](const Pieces& pieces) {
      const double kg = kg_of(stock, pieces);
      const LoadRange& range = demands[i].range;
      if (kg >= range.least_kg - 1e-6 && kg <= range.most_kg + 1e-6) loads[i].push_back(pieces);
    });
  }
  std::vector<std::size_t> order(demands.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  double best = INFINITY;
  const std::function<void(std::size_t, const Pieces&, double)> go =
      [&](std::size_t k, const Pieces& before, double minutes) {
        if (k == order.size()) {
          best = std::min(best, minutes + lift_minutes(stock, before));
          return;
        }
        for (const Pieces& load : loads[order[k]]) {
          go(k + 1, load, minutes + change_of(stock, before, load, k > 0).minutes);
        }
      };
  do {
    go(0, Pieces(stock.size(), 0), 0.0);
  } while (std::next_permutation(order.begin(), order.end()));
  return best;
}

TEST(Walk, FromSectionToSectionIsTheShortestOfAll) {
  const deck::Deck deck = statics::tests::deck_r2();
  std::mt19937 random(8);
  int made = 0;
  for (int round = 0; round < 150; ++round) {
    Stock stock = random_stock(random);
    if (stock.size() > 2) stock.resize(2);
    const double all = kg_of(stock, all_of(stock));
    std::vector<Demand> demands =
        sections_of(deck, {.want_kg = 0.8 * all, .least_kg = 0.7 * all, .most_kg = 0.9 * all});
    demands.back().range = {.want_kg = 0.4 * all, .least_kg = 0.3 * all, .most_kg = 0.45 * all};
    const double least = walk_by_hand(stock, demands);
    const Walked walked = walk(deck, stock, demands, ~0U);
    ASSERT_EQ(walked.order.empty(), std::isinf(least));
    if (walked.order.empty()) continue;
    ++made;
    // Equal pieces at equal loads are never worse: rolling or lifting them anew moves no more.
    EXPECT_NEAR(walked.minutes, least, 1e-3);
    EXPECT_LE(walked.bound, least + 1e-3);
  }
  EXPECT_GT(made, 20);
}

// A cart that stands on the deck is not lifted again: on and off once, and a placement each.
TEST(Walk, RollsACartWithoutUnloading) {
  const deck::Deck deck = statics::tests::deck_r3();
  const Stock stock{type(10000, 1, Handling::cart), type(1000, 10, Handling::fork)};
  const auto demands = sections_of(deck, {.want_kg = 10000, .least_kg = 10000, .most_kg = 10000});
  const Walked walked = walk(deck, stock, demands, bit(Handling::cart) | bit(Handling::fork));
  const HandlingCost cart = handling_cost(Handling::cart);
  EXPECT_NEAR(walked.minutes, 4.0 * cart.placement + 2.0 * cart.piece, 1e-9);
  EXPECT_EQ(walked.kinds, bit(Handling::cart));
}

}  // namespace
}  // namespace weighwright::proof
