/// A module before and after its concrete is poured.
///
/// Outside  2500 kg/m3: EN 1991-1-1:2002, table A.1 (25 kN/m3). GJ of a wide solid rectangle, G b
///          t^3 / 3: Roark's Formulas for Stress and Strain, from memory, unverified. Figures by
///          hand.

#include "deck/concrete.h"

#include <gtest/gtest.h>

#include <cmath>

// outside check: mass and twisting of a slab that is poured into a pan | 2500 kg/m3 of EN
//  1991-1-1:2002, table A.1; G b t^3 / 3 by hand (Roark, from memory, unverified)

namespace weighwright::deck {
namespace {

Module pan() {
  Module module;
  module.mark = "A";
  module.length_m = 7.0;
  module.width_m = 3.0;
  module.mass_kg = 3150.0;  // 150 kg/m2
  module.mass_spread = 0.15;
  module.construction = Construction::concrete;
  module.slab_m = 0.3;
  module.twisting_Nm2 = 0.25e6;
  return module;
}

TEST(Concrete, MakesTheModuleHeavierBySlabAndStiffAsItsSlab) {
  Module module = pan();
  pour(module);
  // 7 m * 3 m * 0.3 m * 2500 kg/m3 = 15 750 kg; 12.5 GPa * 3 m * (0.3 m)^3 / 3 = 337.5 MN m2
  EXPECT_NEAR(module.mass_kg, 3150.0 + 15750.0, 1e-6);
  EXPECT_NEAR(module.twisting_Nm2, 337.5e6, 1.0);
  EXPECT_EQ(module.mass_spread, 0.15) << "both are estimates";
  EXPECT_TRUE(module.poured);
}

TEST(Concrete, IsPouredOnce) {
  Module once = pan();
  pour(once);
  Module twice = once;
  pour(twice);
  EXPECT_EQ(twice.mass_kg, once.mass_kg);
  EXPECT_EQ(twice.twisting_Nm2, once.twisting_Nm2);
}

TEST(Concrete, ComesOnTopOfAMassThatWasGiven) {
  Module module = pan();
  module.mass_kg = 5200.0;
  module.mass_given = true;
  module.mass_spread = 0.03;
  module.twisting_given = true;
  module.twisting_Nm2 = 20e6;
  pour(module);
  EXPECT_NEAR(module.mass_kg, 20950.0, 1e-6);
  // hypot(3 % of 5200 kg, 15 % of 15 750 kg) = 2367.6 kg of 20 950 kg
  EXPECT_NEAR(module.mass_spread, 0.11301, 5e-6);
  EXPECT_NEAR(module.twisting_Nm2, 357.5e6, 1.0) << "frame and slab";
}

TEST(Concrete, IsNotPouredIntoSteel) {
  Module module = pan();
  module.construction = Construction::cells;
  pour(module);
  EXPECT_EQ(module.mass_kg, 3150.0);
  EXPECT_FALSE(module.poured);
}

}  // namespace
}  // namespace weighwright::deck
