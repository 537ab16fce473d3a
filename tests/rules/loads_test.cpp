// Loads of the tests and amounts of standards.
#include <gtest/gtest.h>

#include <optional>

#include "rules/limits.h"
#include "scales.h"

// outside check: eccentric and rolling loads of 60 t on 4 to 10 supports | R 76-1:2006, 3.6.2.1,
//  3.6.2.2 and 3.6.2.4, by Northern Ireland SR 2006/5, Schedule 2, 18
// outside check: greatest indication, least load | R 76-1:2006, 3.2 table 3, by French decree
//  91-330, Annex I, 9; HB 44, 2.20, S.1.7, by an engineering forum that quotes it
// outside check: amounts of weights and test load | HB 44, 2.20, table 4, reprint of 2014; R
//  76-1:2006, 3.7.3, and HB 44, N.1.3.3.1 (from memory, unverified)

namespace weighwright::rules {
namespace {

using testing::h44;
using testing::in_pounds;
using testing::kLb;
using testing::metric;
using testing::r76;

// R 76-1:2006, 3.6.2.1, 3.6.2.2 and 3.6.2.4 for 60 t, T+ 0 (Northern Ireland SR 2006/5, Schedule 2,
// 18): printed to 0.1 kg.
TEST(TestLoads, OfTheEccentricTestGoBySupports) {
  for (const auto& [supports, kg] :
       {std::pair{4, 20'000.0}, {6, 12'000.0}, {8, 8'571.4}, {10, 6'666.7}}) {
    Scale scale = metric("III", 60'000, 20);
    scale.supports = supports;
    EXPECT_NEAR(eccentric_load(r76(), scale)->kg, kg, 0.05);
  }
  Scale scale = metric("III", 60'000, 20);
  EXPECT_NEAR(rolling_load(r76(), scale)->kg, 48'000.0, 1e-6);
  EXPECT_TRUE(rolling_load(r76(), scale)->at_most);
  scale.supports = 4;
  EXPECT_EQ(eccentric_load(r76(), scale)->because, "1/3 of Max + T+");
  EXPECT_EQ(r76().cite(eccentric_load(r76(), scale)->source), "R 76-1:2006, 3.6.2.1");
  scale.supports = 0;
  EXPECT_FALSE(eccentric_load(r76(), scale));
  EXPECT_FALSE(eccentric_load(h44(), metric("III L", 60'000, 10)));
  EXPECT_FALSE(rolling_load(h44(), metric("III L", 60'000, 10)));
  EXPECT_FALSE(section_load(r76(), metric("III", 60'000, 20)));
}

// Handbook 44, N.1.3.3.1 (from memory, unverified): at least 12.5 % of capacity, never more than
// the CLC on one pattern.
TEST(TestLoads, OfTheSectionTestStayWithinTheClc) {
  Scale scale = in_pounds("III L", 200'000, 20);
  EXPECT_FALSE(most_on_pattern(h44(), scale, false));
  EXPECT_NEAR(section_load(h44(), scale)->kg, 25'000 * kLb, 1e-6);
  scale.clc_kg = 20'000 * kLb;
  EXPECT_NEAR(section_load(h44(), scale)->kg, 20'000 * kLb, 1e-6);
}

// R 76-1:2006 (French decree 91-330, Annex I, 9): Max + 9 e; Handbook 44, S.1.7: 105 %.
TEST(TestLoads, EndAtTheGreatestIndication) {
  EXPECT_DOUBLE_EQ(greatest_indication(r76(), metric("III", 60'000, 20))->kg, 60'180.0);
  EXPECT_DOUBLE_EQ(greatest_indication(h44(), metric("III L", 60'000, 20))->kg, 63'000.0);
  // R 76-1:2006, 3.2, Table 3: Min 20 e; 4.5.1: zero setting within 4 % of Max in total.
  EXPECT_DOUBLE_EQ(least_load_kg(r76(), metric("III", 60'000, 20)), 400.0);
  EXPECT_DOUBLE_EQ(r76().zero_range_share.value * 60'000, 2'400.0);
}

// Handbook 44, Table 4 (reprint of 2014).
TEST(Amounts, OfHandbookTable4) {
  struct Row {
    Scale scale;
    double weights_kg;
    double load_kg;
  };
  for (const Row& row :
       {Row{metric("III L", 60'000, 10), 7'500, 15'000},
        Row{metric("III L", 36'000, 10), 5'000, 9'000},
        Row{metric("III L", 20'000, 10), 2'500, 10'000},
        Row{metric("III L", 20'001, 10), 5'000, 5'000.25}, Row{metric("III", 1'500, 1), 375, 1'125},
        Row{metric("III", 150, 0.1), 150, 0},
        Row{in_pounds("III L", 80'000, 20), 10'000 * kLb, 20'000 * kLb},
        Row{in_pounds("III L", 40'000, 20), 5'000 * kLb, 20'000 * kLb},
        Row{in_pounds("III L", 40'001, 20), 10'000 * kLb, 10'000.25 * kLb}}) {
    const Amount amount = least_standards(h44(), row.scale, std::nullopt);
    EXPECT_NEAR(amount.weights_kg, row.weights_kg, 1e-6);
    EXPECT_NEAR(amount.load_kg, row.load_kg, 1e-6);
    EXPECT_EQ(amount.source.clause, "Table 4");
  }
  EXPECT_EQ(least_standards(h44(), in_pounds("III L", 80'000, 20), {}).because,
            "12.5 % of Max, at least 10000 lb");
}

// R 76-1:2006, 3.7.3 (from memory, unverified): a half, a third up to 0.3 e, a fifth up to 0.2 e;
// never less than 1 t.
TEST(Amounts, OfR76GoByRepeatability) {
  const Scale scale = metric("III", 60'000, 20);
  EXPECT_NEAR(least_standards(r76(), scale, 7.0).weights_kg, 30'000, 1e-6);
  EXPECT_NEAR(least_standards(r76(), scale, 6.0).weights_kg, 20'000, 1e-6);
  EXPECT_NEAR(least_standards(r76(), scale, 4.0).weights_kg, 12'000, 1e-6);
  EXPECT_NEAR(least_standards(r76(), metric("III", 1'800, 1), 0.0).weights_kg, 1'000, 1e-6);
  EXPECT_NEAR(least_standards(r76(), metric("III", 600, 1), 0.0).weights_kg, 600, 1e-6);
  EXPECT_EQ(least_standards(r76(), scale, 6.0).because,
            "1/3 of Max, at least 1000 kg (repeatability at most 0.3 e)");
  EXPECT_EQ(least_standards(r76(), scale, 7.0).because,
            "50 % of Max, at least 1000 kg (repeatability above 0.3 e)");
  EXPECT_EQ(least_standards(r76(), scale, {}).because,
            "50 % of Max, at least 1000 kg (repeatability not yet known)");
}

}  // namespace
}  // namespace weighwright::rules
