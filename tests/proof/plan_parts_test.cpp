// Choice of pieces against complete enumeration written out here, and against published results of
// the methods that it uses. Weights are our own invention.
#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <random>

#include "plan_pieces.h"
#include "proof/nest.h"

// outside check: cheapest pieces for a load, cheapest chain of growing loads | complete
//  enumeration, written out in the test
// outside check: bound of a load in parts | Dantzig, *Operations Research* 5 (1957) 266

namespace weighwright::proof {
namespace {

using namespace tests;  // NOLINT(google-build-using-namespace)

double minutes_by_hand(const Stock& stock, const Pieces& pieces, double lifts) {
  double minutes = 0.0;
  for (int k = 0; k < kHandlings; ++k) {
    const auto handling = static_cast<Handling>(k);
    int moved = 0;
    for (std::size_t i = 0; i < stock.size(); ++i) {
      if (stock[i].handling == handling) moved += pieces[i];
    }
    if (moved == 0) continue;
    minutes += handling_cost(handling).placement + lifts * handling_cost(handling).piece * moved;
  }
  return minutes;
}

// Complete enumeration.
TEST(CheapestLoad, IsTheCheapestOfAllThatThereAre) {
  std::mt19937 random(1);
  int made = 0;
  for (int round = 0; round < 800; ++round) {
    const Stock stock = random_stock(random);
    const double want = 20.0 * static_cast<double>(1 + random() % 400);
    const LoadRange range{.want_kg = want, .least_kg = 0.9 * want, .most_kg = 1.1 * want};
    double least = INFINITY;
    for_all(stock, [&](const Pieces& pieces) {
      const double kg = kg_of(stock, pieces);
      if (kg < range.least_kg - 1e-6 || kg > range.most_kg + 1e-6) return;
      least = std::min(least, minutes_by_hand(stock, pieces, 2.0));
    });
    const auto choice = cheapest(stock, all_of(stock), range);
    ASSERT_EQ(choice.has_value(), std::isfinite(least));
    if (!choice) continue;
    ++made;
    EXPECT_TRUE(choice->exact);
    EXPECT_NEAR(choice->minutes, least, 1e-9);
    EXPECT_NEAR(choice->bound, least, 1e-9);
    EXPECT_NEAR(choice->kg, kg_of(stock, choice->pieces), 1e-9);
  }
  EXPECT_GT(made, 100);
}

// Dantzig, Operations Research 5 (1957) 266-277: the fractional knapsack bounds the whole one.
TEST(CheapestLoad, IsNeverCheaperThanTheBoundInParts) {
  std::mt19937 random(2);
  for (int round = 0; round < 400; ++round) {
    const Stock stock = random_stock(random);
    for_all(stock, [&](const Pieces& pieces) {
      const double kg = kg_of(stock, pieces);
      EXPECT_LE(least_lift_minutes(stock, all_of(stock), kg), lift_minutes(stock, pieces) + 1e-9);
    });
  }
}

TEST(CheapestLoad, UsesOnlyWhatIsAllowed) {
  Stock stock{type(1000, 5, Handling::fork), type(10000, 1, Handling::cart)};
  stock[0].known = false;
  const LoadRange range{.want_kg = 5000, .least_kg = 4000, .most_kg = 12000};
  EXPECT_EQ(cheapest(stock, limits_of(stock, {}), range)->pieces, (Pieces{0, 1}));
  const Allowed wide{.known_only = false, .most_across_m = 1.5};
  stock[1].across_m = 2.5;
  EXPECT_EQ(cheapest(stock, limits_of(stock, wide), range)->pieces, (Pieces{4, 0}));
  EXPECT_FALSE(
      cheapest(stock, limits_of(stock, {.known_only = true, .most_across_m = 1.5}), range));
}

/// The cheapest growing chain through all steps, by complete enumeration; infinite: none.
double chain_by_hand(const Stock& stock, const NestQuestion& question) {
  double best = INFINITY;
  const std::function<void(std::size_t, const Pieces&, double)> go =
      [&](std::size_t step, const Pieces& below, double minutes) {
        if (step == question.steps.size()) {
          best = std::min(best, minutes + question.lifts * lift_minutes(stock, below));
          return;
        }
        for_all(stock, [&](const Pieces& pieces) {
          const double kg = kg_of(stock, pieces);
          const LoadRange& range = question.steps[step];
          if (kg < range.least_kg - 1e-6 || kg > range.most_kg + 1e-6) return;
          Pieces more = pieces;
          bool any = false;
          for (std::size_t i = 0; i < more.size(); ++i) {
            more[i] -= below[i];
            if (more[i] < 0) return;
            any = any || more[i] > 0;
          }
          if (!any) return;
          const double placing = minutes_by_hand(stock, more, 0.0);
          go(step + 1, pieces, minutes + placing * (question.down_too && step > 0 ? 2.0 : 1.0));
        });
      };
  go(0, Pieces(stock.size(), 0), 0.0);
  return best;
}

NestQuestion random_chain(std::mt19937& random, const Stock& stock) {
  NestQuestion question;
  question.limit = all_of(stock);
  question.down_too = random() % 2 == 0;
  const double all = kg_of(stock, question.limit);
  for (const double share : {0.2, 0.5, 0.9}) {
    const double want = share * all;
    question.steps.push_back({.want_kg = want, .least_kg = 0.75 * want, .most_kg = 1.15 * want});
  }
  return question;
}

TEST(GrowingLoads, AreTheCheapestChainOfAllThatThereAre) {
  std::mt19937 random(3);
  int made = 0;
  for (int round = 0; round < 200; ++round) {
    const Stock stock = random_stock(random);
    const NestQuestion question = random_chain(random, stock);
    const double least = chain_by_hand(stock, question);
    const Nest found = nest(stock, question);
    if (std::isinf(least)) {
      EXPECT_LT(found.sets.size(), 3U);
      continue;
    }
    ++made;
    ASSERT_EQ(found.sets.size(), 3U);
    EXPECT_TRUE(found.exact);
    EXPECT_NEAR(found.minutes, least, 1e-9);
    EXPECT_NEAR(found.bound, least, 1e-9);
  }
  EXPECT_GT(made, 50);
}

TEST(GrowingLoads, OnlyGrow) {
  std::mt19937 random(4);
  for (int round = 0; round < 200; ++round) {
    const Stock stock = random_stock(random);
    const Nest found = nest(stock, random_chain(random, stock));
    for (std::size_t k = 1; k < found.sets.size(); ++k) {
      for (std::size_t i = 0; i < stock.size(); ++i) {
        EXPECT_LE(found.sets[k - 1][i], found.sets[k][i]);
      }
      EXPECT_GT(kg_of(stock, found.sets[k]), kg_of(stock, found.sets[k - 1]));
    }
  }
}

/// A stock of so many kinds of pieces that not every load can be listed.
TEST(GrowingLoads, OfManyPiecesKeepTheirBound) {
  std::mt19937 random(5);
  for (int round = 0; round < 20; ++round) {
    Stock stock;
    for (const double kg : {20.0, 50.0, 100.0, 200.0, 500.0, 1000.0}) {
      stock.push_back(
          type(kg + static_cast<double>(random() % 5), 10, static_cast<Handling>(random() % 4)));
    }
    const Nest found = nest(stock, random_chain(random, stock));
    ASSERT_EQ(found.sets.size(), 3U);
    EXPECT_FALSE(found.exact);
    EXPECT_LE(found.bound, found.minutes + 1e-9);
    EXPECT_GT(found.bound, 0.0);
  }
}

}  // namespace
}  // namespace weighwright::proof
