#include "trim/design.h"

#include <gtest/gtest.h>

#include <Eigen/LU>
#include <algorithm>
#include <cmath>

#include "shifts.h"

// outside check: which placements, and how few | enumeration of every choice on one module

namespace weighwright::trim {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;

DesignProblem problem_of(const deck::Deck& deck, double u_reading) {
  const statics::Model model = statics::tests::built(deck);
  DesignProblem problem;
  problem.candidates = candidates_of(deck, model, "");
  problem.wanted = wanted_of(elements_of(deck), deck.stand_count());
  problem.information = MatrixXd::Zero(deck.stand_count(), deck.stand_count());
  problem.u_reading = u_reading;
  return problem;
}

/// The criterion by its definition, with the same prior of 1 % on every gain: GUM 5.1.2, the
/// covariance of least squares with a prior.
double mean_variance(const DesignProblem& problem, const std::vector<int>& chosen) {
  const Index stands = problem.wanted.cols();
  MatrixXd information = problem.information + MatrixXd::Identity(stands, stands) * 1e4;
  for (const int c : chosen) {
    const Eigen::VectorXd& share = problem.candidates[static_cast<std::size_t>(c)].share;
    information += share * share.transpose() / (problem.u_reading * problem.u_reading);
  }
  return (problem.wanted * information.inverse() * problem.wanted.transpose()).trace() /
         static_cast<double>(problem.wanted.rows());
}

double worst_u(const DesignProblem& problem, const std::vector<int>& chosen) {
  const Index stands = problem.wanted.cols();
  MatrixXd information = problem.information + MatrixXd::Identity(stands, stands) * 1e4;
  for (const int c : chosen) {
    const Eigen::VectorXd& share = problem.candidates[static_cast<std::size_t>(c)].share;
    information += share * share.transpose() / (problem.u_reading * problem.u_reading);
  }
  return std::sqrt(
      (problem.wanted * information.inverse() * problem.wanted.transpose()).diagonal().maxCoeff());
}

/// Every multiset of `left` more candidates from `from` on.
template <class Visit>
void each_choice(int candidates, int from, int left, std::vector<int>& chosen, Visit visit) {
  if (left == 0) {
    visit(chosen);
    return;
  }
  for (int c = from; c < candidates; ++c) {
    chosen.push_back(c);
    each_choice(candidates, c, left - 1, chosen, visit);
    chosen.pop_back();
  }
}

deck::Deck one_module() {
  deck::Deck deck = statics::tests::deck_r1();
  deck.interval_kg = 20.0;
  for (deck::Section& section : deck.sections) section.at_m = section.at_m < 1.0 ? 0.3 : 6.7;
  deck.boxes = {{.stands = {}, .trims = "digital"}};
  return deck;
}

TEST(Placements, AreTheBestOfAllThatThereAre) {
  const DesignProblem problem = problem_of(one_module(), 1e-3);
  const int candidates = static_cast<int>(problem.candidates.size());
  ASSERT_EQ(candidates, 9);
  for (const int count : {4, 5, 6}) {
    double best = 1.0;
    std::vector<int> chosen;
    each_choice(candidates, 0, count, chosen, [&](const std::vector<int>& choice) {
      best = std::min(best, mean_variance(problem, choice));
    });
    const Design design = best_design(problem, count);
    EXPECT_NEAR(mean_variance(problem, design.chosen) / best, 1.0, 1e-6) << count;
    EXPECT_NEAR(design.u_mean * design.u_mean / best, 1.0, 1e-6) << count;
  }
}

TEST(Placements, AreNeverFewerThanProved) {
  const DesignProblem problem = problem_of(one_module(), 1e-3);
  const int candidates = static_cast<int>(problem.candidates.size());
  for (const double wanted : {2e-3, 1.2e-3, 0.9e-3, 0.75e-3}) {
    const FewestPlacements fewest = fewest_placements(problem, wanted, 16);
    ASSERT_TRUE(fewest.design);
    int truly = 0;
    for (bool found = false; !found && truly < 8;) {
      ++truly;
      std::vector<int> chosen;
      each_choice(candidates, 0, truly, chosen, [&](const std::vector<int>& choice) {
        found |= worst_u(problem, choice) <= wanted;
      });
    }
    const int count = static_cast<int>(fewest.design->chosen.size());
    EXPECT_LE(fewest.no_fewer_than, truly) << wanted;
    EXPECT_LE(count, truly + 1) << wanted;
    EXPECT_GE(count, truly) << wanted;
    EXPECT_LE(fewest.design->u_worst, wanted);
  }
}

// One a stand is what it takes: N gains less their mean are N - 1 numbers, and each reading adds
// the unknown level of all (by hand).
TEST(Placements, OverTheStandsAreChosenForTheReferenceDeck) {
  const DesignProblem problem = problem_of(tests::bridge(), 1e-3);
  const Design design = best_design(problem, 8);
  EXPECT_EQ(design.chosen, (std::vector<int>{0, 1, 2, 3, 4, 5, 6, 7}));
  EXPECT_TRUE(std::isinf(best_design(problem, 6).u_worst));
}

TEST(Placements, OnTheCentreLineNeverTellLeftFromRight) {
  DesignProblem problem = problem_of(tests::bridge(), 1e-5);
  std::erase_if(problem.candidates, [](const Candidate& candidate) {
    return candidate.place.kind == record::LoadPlace::Kind::stand ||
           candidate.place.kind == record::LoadPlace::Kind::point;
  });
  ASSERT_EQ(problem.candidates.size(), 7U);
  EXPECT_TRUE(std::isinf(best_design(problem, 30).u_worst));
  EXPECT_FALSE(fewest_placements(problem, 1e-3, 20).design);
}

TEST(Placements, OnTheCentreLineDoForTrimsOfSections) {
  DesignProblem problem = problem_of(tests::bridge("section"), 1e-3);
  std::erase_if(problem.candidates, [](const Candidate& candidate) {
    return candidate.place.kind != record::LoadPlace::Kind::section;
  });
  EXPECT_FALSE(std::isinf(best_design(problem, 4).u_worst));
}

// By hand: a deck 3 m wide, an axle of 1.8 m: its centre stays within 0.6 m of the middle.
TEST(Placements, AreMovedInUntilTheWholeFootprintIsOnTheDeck) {
  deck::Deck deck = tests::bridge();
  deck.footprints = {{.name = "axle", .points = {{0.0, 0.9, 0.5}, {0.0, -0.9, 0.5}}},
                     {.name = "road train", .points = {{-15.0, 0.0, 0.5}, {15.0, 0.0, 0.5}}}};
  const statics::Model model = statics::tests::built(deck);
  const std::vector<Candidate> candidates = candidates_of(deck, model, "axle");
  ASSERT_EQ(candidates.size(), candidates_of(deck, model, "").size());
  EXPECT_EQ(candidates[0].place.kind, record::LoadPlace::Kind::point);
  EXPECT_DOUBLE_EQ(candidates[0].place.x_m, 0.30);
  EXPECT_NEAR(candidates[0].place.y_m, 0.6, 1e-12);
  EXPECT_EQ(candidates[0].name, "1L, moved in: x 0.30 m, y 0.60 m");
  EXPECT_TRUE(candidates_of(deck, model, "road train").empty());
  EXPECT_TRUE(candidates_of(deck, model, "unknown").empty());
}

}  // namespace
}  // namespace weighwright::trim
