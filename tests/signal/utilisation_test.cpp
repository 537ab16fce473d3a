#include "signal/utilisation.h"

#include <gtest/gtest.h>

#include <stdexcept>

// outside check: edge case 10: force ratio R, utilisation and intervals of three designs of a 60 t
//  truck scale | Engler, OIML Bulletin 80 (1980/03), table of the worked case (R 3 era, before
//  R 76)

namespace weighwright::signal {
namespace {

// Engler, OIML Bulletin 80 (1980/03): three designs of a 60 t truck scale that needs 3000 intervals
// of 20 kg. Zero 0.1, span 0.3, creep 0.4, zero return 0.1, pressure 0.2 (500 kg cell) or 0.1.
TEST(UtilisationLimits, AreThoseOfThePublishedTruckScale) {
  const struct {
    double utilisation, pressure, zero, by_pressure, least;
  } rows[] = {
      {0.6, 0.2, 4200, 3000, 3000}, {0.3, 0.1, 2100, 3000, 2100}, {0.5, 0.1, 3500, 5000, 3500}};
  for (const auto& row : rows) {
    const UtilisationLimits limits =
        utilisation_limits({0.1, 0.3, 0.4, 0.1, row.pressure}, row.utilisation);
    EXPECT_NEAR(limits.zero, row.zero, 1e-9);
    EXPECT_NEAR(limits.span, 3500, 1e-9);
    EXPECT_NEAR(limits.creep, 3750, 1e-9);
    EXPECT_NEAR(limits.zero_return, 5000, 1e-9);
    EXPECT_NEAR(limits.pressure, row.by_pressure, 1e-9);
    EXPECT_NEAR(limits.least(), row.least, 1e-9);
  }
}

// The two formulas of the same article meet where they change over.
TEST(UtilisationLimits, HaveNoStep) {
  const auto with = [](double span, double creep) {
    return utilisation_limits({0.1, span, creep, 0.1, 0.1}, 0.5);
  };
  EXPECT_NEAR(with(0.35, 0.5).span, with(0.35 + 1e-9, 0.5).span, 1e-4);
  EXPECT_NEAR(with(0.3, 0.5).creep, with(0.3, 0.5 + 1e-9).creep, 1e-4);
}

// The same table, from the forces on: R 1/200 (papers say "1:200") with one cell of 500 kg, R 1
// with four cells of 50 t and of 30 t. R is the force on the cells over that on the receptor, so at
// most 1; the reduction itself, 200, taken for R would make the utilisation 40 000 times as great.
TEST(UtilisationLimits, EdgeCase10TakesTheForceOnTheCellsOverThatOnTheReceptor) {
  const struct {
    double force_ratio;
    int cells;
    double cell_kg, utilisation, pressure, least;
  } rows[] = {{1.0 / 200.0, 1, 500, 0.6, 0.2, 3000},
              {1.0, 4, 50000, 0.3, 0.1, 2100},
              {1.0, 4, 30000, 0.5, 0.1, 3500}};
  for (const auto& row : rows) {
    const double found = utilisation(row.force_ratio, 60000, row.cells, row.cell_kg);
    EXPECT_NEAR(found, row.utilisation, 1e-12);
    EXPECT_NEAR(utilisation_limits({0.1, 0.3, 0.4, 0.1, row.pressure}, found).least(), row.least,
                1e-9);
  }
  EXPECT_THROW((void)utilisation(200.0, 60000, 1, 500), std::invalid_argument);
  EXPECT_THROW((void)utilisation(0.0, 60000, 1, 500), std::invalid_argument);
  EXPECT_THROW((void)utilisation(1.0, 60000, 0, 500), std::invalid_argument);
  EXPECT_THROW((void)utilisation(1.0, 0.0, 4, 500), std::invalid_argument);
}

TEST(UtilisationLimits, RefuseNothing) {
  EXPECT_THROW((void)utilisation_limits({0.1, 0.3, 0.4, 0.1, 0.2}, 0.0), std::invalid_argument);
  EXPECT_THROW((void)utilisation_limits({0.0, 0.3, 0.4, 0.1, 0.2}, 0.5), std::invalid_argument);
}

}  // namespace
}  // namespace weighwright::signal
