// Limits of test weights by class and nominal value.
#include "rules/weight_class.h"

#include <gtest/gtest.h>

#include <string>
#include <tuple>
#include <vector>

#include "scales.h"

// outside check: limits of test weights by class and nominal value | OIML R 111-1:2004, table 1,
//  as reprinted on the web; a Greek government page; some values from memory, unverified, marked
//  as such
// outside check: limits of weights marked with n | OIML R 47 (1979), as quoted by OIML Bulletins
//  2001/04 and 2003/04
// outside check: limits of class F in kilograms and pounds | NIST Handbook 105-1 (1990) (from
//  memory, unverified); about 0.01 % of nominal is quoted
// outside check: which classes do for 60 t at a third of the limit | R 76-1:2006, 3.7.1, as
//  quoted by OIML Bulletin 1994/02

namespace weighwright::rules {
namespace {

using testing::kLb;
using testing::metric;
using testing::r76;

double grams(std::string_view weight_class, double nominal_kg) {
  const auto limit = weight_limit(weight_class, nominal_kg);
  return limit ? limit->kg * 1e3 : -1.0;
}

// OIML R 111-1:2004, Table 1, in g (as reprinted on the web); -1: the class has no such value.
TEST(WeightLimit, OfR111IsThatOfTable1) {
  const std::vector<std::string> classes = {"M1", "M1-2", "M2", "M2-3", "M3"};
  const std::vector<std::pair<double, std::vector<double>>> table = {
      {50, {2.5, 5, 8, 16, 25}},
      {100, {5, 10, 16, 30, 50}},
      {200, {10, 20, 30, 60, 100}},
      {500, {25, 50, 80, 160, 250}},
      {1'000, {50, 100, 160, 300, 500}},
      {2'000, {100, 200, 300, 600, 1'000}},
      {5'000, {250, 500, 800, 1'600, 2'500}},
      {20, {1.0, -1, 3.0, -1, 10}},
  };
  for (const auto& [nominal_kg, row] : table) {
    for (std::size_t i = 0; i < classes.size(); ++i)
      EXPECT_NEAR(grams(classes[i], nominal_kg), row[i], 1e-9) << classes[i] << " " << nominal_kg;
  }
  EXPECT_NEAR(grams("M1", 10), 0.5, 1e-9);
  EXPECT_NEAR(grams("F2", 20), 0.30, 1e-9);
  EXPECT_NEAR(grams("F2", 50), 0.8, 1e-9);
  EXPECT_NEAR(grams("F2", 1'000), 16, 1e-9);
  EXPECT_NEAR(grams("F2", 2'000), 30, 1e-9);
  EXPECT_NEAR(grams("F2", 5'000), 80, 1e-9);
  // 10 kg: Greek ministry's page on weights for trade (R 111, classes M1, M2, M3)
  EXPECT_NEAR(grams("M2", 10), 1.6, 1e-9);
  EXPECT_NEAR(grams("M3", 10), 5, 1e-9);
  EXPECT_EQ(weight_limit("M1", 1'000)->source.clause, "Table 1");
  EXPECT_EQ(weight_limit("M1", 1'000)->source.basis, Basis::quoted);
}

// The same table, from memory, unverified; each is in step with its neighbours, which are quoted:
// F2 is 1.6 parts in 10^5, rounded to 1, 1.6, 3, 5, 8.
TEST(WeightLimit, OfR111FromMemoryIsMarked) {
  for (const auto& [nominal_kg, limit_g] :
       {std::pair{10.0, 0.16}, {100.0, 1.6}, {200.0, 3.0}, {500.0, 8.0}}) {
    EXPECT_NEAR(grams("F2", nominal_kg), limit_g, 1e-9) << nominal_kg;
    EXPECT_EQ(weight_limit("F2", nominal_kg)->source.basis, Basis::memory);
  }
}

// OIML R 47 (1979) as quoted by OIML Bulletin 2001/04 and 2003/04: n = 3000.
TEST(WeightLimit, OfR47IsByItsMark) {
  EXPECT_NEAR(grams("n=3000", 2'000), 340, 1e-9);
  EXPECT_NEAR(grams("n=3000", 1'000), 170, 1e-9);
  EXPECT_NEAR(grams("n=3000", 500), 85, 1e-9);
  EXPECT_EQ(weight_limit("n=3000", 500)->source.basis, Basis::quoted);
  // From memory, unverified: 3.3e-4, 1e-4, 0.5e-4 of nominal.
  EXPECT_NEAR(grams("n=1000", 1'000), 330, 1e-9);
  EXPECT_NEAR(grams("n=5000", 1'000), 100, 1e-9);
  EXPECT_NEAR(grams("n=10000", 1'000), 50, 1e-9);
  EXPECT_EQ(weight_limit("n=5000", 1'000)->source.basis, Basis::memory);
}

// NIST Handbook 105-1 (1990), class F, from memory, unverified; all of it is about 0.01 % of
// nominal (quoted): within a tenth of that for what is printed with two digits.
TEST(WeightLimit, OfClassFIsAboutAHundredthOfAPercent) {
  for (const auto& [nominal_kg, limit_g] : {std::pair{20.0, 2.0},
                                            {25.0, 2.5},
                                            {50.0, 5.0},
                                            {100.0, 10.0},
                                            {500.0, 50.0},
                                            {1'000.0, 100.0},
                                            {5'000.0, 500.0},
                                            {50 * kLb, 2.3},
                                            {500 * kLb, 23.0},
                                            {1'000 * kLb, 45.0}}) {
    EXPECT_NEAR(grams("F", nominal_kg), limit_g, 1e-9);
  }
  for (const WeightRow& row : weight_rows()) {
    if (row.weight_class != "F") continue;
    const double nominal_g = row.nominal * (row.pounds ? kLb : 1.0) * 1e3;
    EXPECT_NEAR(row.limit_g / nominal_g, 1e-4, 0.1e-4) << row.nominal;
    EXPECT_EQ(row.basis, Basis::memory);
  }
}

TEST(WeightLimit, FindsThePoundRowHoweverManyDigits) {
  EXPECT_GT(grams("F", 5'000 * kLb), 0.0);
  EXPECT_GT(grams("F", 2'267.96), 0.0);
  EXPECT_GT(grams("F", 22.68), 0.0);
  EXPECT_FALSE(weight_limit("F", 2'270));
  EXPECT_FALSE(weight_limit("M1", 1'000 * kLb));
  EXPECT_FALSE(weight_limit("M9", 1'000));
}

// R 76-1:2006, 3.7.1 (OIML Bulletin 1994/02): a third of the limit. 60 weights of 1 t at Max of
// 60 t by 20 kg: M1 3.0 kg, M1-2 6.0, M2 9.6 do, M2-3 18 and M3 30 do not; 10 of them at 10 t: M3
// alone does not.
TEST(WeightLimit, TellsWhichClassesDo) {
  const Scale scale = metric("III", 60'000, 20);
  const auto does = [&](std::string_view weight_class, int count) {
    const double most_kg = standards_limit_at(r76(), scale, Occasion::as_new, count * 1e3)->kg;
    return within(count * weight_limit(weight_class, 1'000)->kg, most_kg);
  };
  for (const auto& [name, at_max, at_10_t] : {std::tuple{"M1", true, true},
                                              {"M1-2", true, true},
                                              {"M2", true, true},
                                              {"M2-3", false, true},
                                              {"M3", false, false}}) {
    EXPECT_EQ(does(name, 60), at_max) << name;
    EXPECT_EQ(does(name, 10), at_10_t) << name;
  }
}

TEST(WeightClass, IsReadAsPeopleWriteIt) {
  for (const auto& [typed, name] : {std::pair{"M1", "M1"},
                                    {"m1", "M1"},
                                    {"OIML M1", "M1"},
                                    {"class F", "F"},
                                    {"NIST class F", "F"},
                                    {"n 3000", "n=3000"},
                                    {"n=3000", "n=3000"},
                                    {"M1\xE2\x80\x93"
                                     "2",
                                     "M1-2"},
                                    {"F2", "F2"}}) {
    EXPECT_EQ(parse_weight_class(typed), name) << typed;
  }
  for (const char* const typed : {"", "M4", "class", "n=", "n=2000", "M1-3"})
    EXPECT_FALSE(parse_weight_class(typed)) << typed;
  for (const std::string& name : weight_classes()) EXPECT_EQ(parse_weight_class(name), name);
}

}  // namespace
}  // namespace weighwright::rules
