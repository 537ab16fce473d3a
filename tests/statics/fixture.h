#pragma once
/// What the tests of statics share: build or fail, forces at dead load, comparison to the largest
/// entry.

#include <gtest/gtest.h>

#include <Eigen/Core>
#include <stdexcept>

#include "statics/contact.h"
#include "statics/decks.h"
#include "statics/model.h"
#include "units/diagnostic.h"

namespace weighwright::statics::tests {

inline Model built(const deck::Deck& deck) {
  const BuiltModel result = build_model(deck);
  for (const units::Diagnostic& fault : result.faults) ADD_FAILURE() << fault.what;
  if (!result.model) throw std::runtime_error("the deck of this test does not stand");
  return *result.model;
}

inline Eigen::VectorXd level(const Model& model) {
  return Eigen::VectorXd::Zero(model.stand_of_contact.rows());
}

inline ContactState at_heights(const Model& model, const Eigen::VectorXd& heights_m) {
  return solve_contact(model, model.dead, heights_m, nominal(model));
}

inline Eigen::MatrixXd influence_at_rest(const Model& model) {
  return influence(model, at_heights(model, level(model)), nominal(model));
}

/// Left plus right.
inline Eigen::VectorXd section_sums(const Eigen::VectorXd& stands) {
  Eigen::VectorXd sums(stands.size() / 2);
  for (Eigen::Index k = 0; k < sums.size(); ++k) sums(k) = stands(2 * k) + stands(2 * k + 1);
  return sums;
}

/// Relative to the largest entry, as a small entry is a difference of large ones.
inline void expect_near(const Eigen::MatrixXd& got,
                        const Eigen::MatrixXd& expected,
                        double relative) {
  ASSERT_EQ(got.rows(), expected.rows());
  ASSERT_EQ(got.cols(), expected.cols());
  const double tolerance = relative * expected.cwiseAbs().maxCoeff();
  EXPECT_LE((got - expected).cwiseAbs().maxCoeff(), tolerance) << "got\n"
                                                               << got << "\nexpected\n"
                                                               << expected;
}

}  // namespace weighwright::statics::tests
