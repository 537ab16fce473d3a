#include "signal/cell.h"

#include <gtest/gtest.h>

#include <optional>

namespace weighwright::signal {
namespace {

using record::ReadingUnit;

constexpr double kGravity = 9.80665;  // m/s2, exact by convention (3rd CGPM, 1901)

deck::Cell cell_25t() {
  deck::Cell cell;
  cell.capacity_kg = 25000.0;
  cell.output_V_per_V = 2e-3;
  return cell;
}

// By hand: 2 mV/V x 10 V = 20 mV over 25 000 kg x 9.80665 m/s2 = 245.16625 kN.
TEST(CellSignal, IsRatedOutputTimesSupplyOverRatedForce) {
  EXPECT_NEAR(sensitivity_V_per_N(cell_25t(), 10.0) * 1e6, 0.0815773, 5e-8);  // mV/kN
  EXPECT_NEAR(sensitivity_V_per_N(cell_25t(), 10.0), 20e-3 / 245166.25, 1e-21);
  EXPECT_NEAR(signal_V(cell_25t(), 10.0, 245166.25), 20e-3, 1e-16);
}

TEST(CellSignal, GoesWithTheSupply) {
  EXPECT_NEAR(signal_V(cell_25t(), 5.0, 245166.25), 10e-3, 1e-16);
  EXPECT_EQ(signal_V(cell_25t(), 10.0, 0.0), 0.0);
  EXPECT_NEAR(signal_V(cell_25t(), 10.0, -245166.25), -20e-3, 1e-16);
}

// Half the capacity in every unit a meter shows, by the definition of the unit.
TEST(CellSignal, IsReadBackFromEveryUnit) {
  deck::Cell cell = cell_25t();
  cell.counts = 200000.0;
  const double half_N = 12500.0 * kGravity;
  const struct {
    ReadingUnit unit;
    double reading;
  } rows[] = {
      {ReadingUnit::mV, 10.0},
      {ReadingUnit::mV_per_V, 1.0},
      {ReadingUnit::counts, 100000.0},
      {ReadingUnit::kg, 12500.0},
      // 1 lb = 0.45359237 kg exactly (international yard and pound agreement, 1959)
      {ReadingUnit::lb, 12500.0 / 0.45359237},
  };
  for (const auto& row : rows) {
    const std::optional<double> factor = newtons_per_unit(cell, row.unit, 10.0, kGravity);
    ASSERT_TRUE(factor);
    EXPECT_NEAR(row.reading * *factor, half_N, 1e-12 * half_N);
    EXPECT_NEAR(signal_V(cell, 10.0, row.reading * *factor), 10e-3, 1e-15);
  }
}

TEST(CellSignal, OfKilogramsIsMassUnderLocalGravity) {
  // 9.780327 m/s2: normal gravity at the equator (GRS 80, Moritz, J. Geodesy 74 (2000)).
  EXPECT_NEAR(*newtons_per_unit(cell_25t(), ReadingUnit::kg, 10.0, 9.780327), 9.780327, 1e-15);
  // Volts are volts: where the cell stands does not change its rated force.
  EXPECT_EQ(*newtons_per_unit(cell_25t(), ReadingUnit::mV, 10.0, 9.780327),
            *newtons_per_unit(cell_25t(), ReadingUnit::mV, 10.0, kGravity));
}

TEST(CellSignal, OfCountsNeedsTheirNumberAtCapacity) {
  EXPECT_FALSE(newtons_per_unit(cell_25t(), ReadingUnit::counts, 10.0, kGravity));
}

}  // namespace
}  // namespace weighwright::signal
