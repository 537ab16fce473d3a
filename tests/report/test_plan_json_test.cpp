#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "report/sample_plan.h"

namespace weighwright::report {
namespace {

using Json = nlohmann::json;

TEST(TestPlanJson, GivesPlacementsInOrderWithTheirPatches) {
  const Json json = Json::parse(print_json(sample_plan()));
  ASSERT_EQ(json["placements"].size(), 3U);
  const Json& one = json["placements"][0];
  EXPECT_EQ(one["number"], 1);
  EXPECT_EQ(one["at"], "2L");
  EXPECT_EQ(one["load_kg"], 7000.0);
  EXPECT_EQ(one["limit_kg"], 10.0);
  EXPECT_EQ(one["patches"][0]["y_m"], 1.2);
  EXPECT_TRUE(one["read_zero_before"].get<bool>());
  EXPECT_TRUE(json["placements"][1]["limit_kg"].is_null());
  EXPECT_TRUE(json["placements"][1]["limit_kg_reason"].is_string());
  EXPECT_FALSE(json["placements"][1]["required"].get<bool>());
  EXPECT_EQ(json["plan"]["stands"].size(), 8U);
  EXPECT_EQ(json["findings"][0]["placement"], 2);
  EXPECT_TRUE(json["findings"][1]["placement"].is_null());
  EXPECT_EQ(json["table"], "check,at,load\neccentric,2L,7000\n");
}

TEST(TestPlanJson, IsWholeWhenNothingCanBePlanned) {
  const Json json = Json::parse(print_json(TestPlanView{}));
  EXPECT_FALSE(json["possible"].get<bool>());
  EXPECT_TRUE(json["placements"].empty());
  EXPECT_TRUE(json["table"].is_null());
}

}  // namespace
}  // namespace weighwright::report
