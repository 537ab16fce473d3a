#include <gtest/gtest.h>

#include <limits>
#include <nlohmann/json.hpp>

#include "report/sample_document.h"

namespace weighwright::report {
namespace {

using Json = nlohmann::json;

TEST(ProofJson, GivesEveryFieldOfALine) {
  const ProofView view = sample_proof(true);
  const Json json = Json::parse(print_json(view));
  ASSERT_EQ(json["lines"].size(), view.lines.size());
  for (std::size_t i = 0; i < view.lines.size(); ++i) {
    const Json& line = json["lines"][i];
    EXPECT_EQ(line["check"], view.lines[i].check);
    EXPECT_EQ(line["load_kg"].get<double>(), view.lines[i].load_kg);
    EXPECT_EQ(line["error_kg"].get<double>(), view.lines[i].error_kg);
    EXPECT_EQ(line["limit_kg"].get<double>(), *view.lines[i].limit_kg);
    EXPECT_EQ(line["U_kg"].get<double>(), two_digits(*view.lines[i].U_kg));
    EXPECT_EQ(line["clause"], view.lines[i].clause);
    EXPECT_EQ(line["terms"].size(), view.lines[i].terms.size());
  }
  EXPECT_EQ(json["outcome"], "pass");
  EXPECT_EQ(json["ranges"].size(), 3U);
  EXPECT_EQ(json["standards"][2]["refused"], view.standards[2].refused);
  EXPECT_EQ(json["staircase"].size(), 6U);
  EXPECT_EQ(json["lines"][json["leading"].get<std::size_t>()]["load_kg"], 10000.0);
}

TEST(ProofJson, SaysNullAndWhyInsteadOfNaN) {
  ProofView view;
  ProofLineView line;
  line.error_kg = std::numeric_limits<double>::quiet_NaN();
  line.dof = std::numeric_limits<double>::infinity();
  view.lines.push_back(line);
  view.chances.push_back(
      {"increasing", 1.0, 1.0, std::numeric_limits<double>::quiet_NaN(), 1.0, 0.5});
  const Json json = Json::parse(print_json(view));
  for (const char* key : {"error_kg", "limit_kg", "U_kg", "k", "dof", "p_conforming", "p_false"}) {
    EXPECT_TRUE(json["lines"][0][key].is_null()) << key;
    EXPECT_TRUE(json["lines"][0][std::string(key) + "_reason"].is_string()) << key;
  }
  EXPECT_TRUE(json["chances"][0]["expected_error_kg"].is_null());
  EXPECT_TRUE(json["leading"].is_null());
}

/// JCGM 100:2008, 7.2.6; 1 lb = 0.453 592 37 kg (NIST SP 811, B.8).
TEST(ProofJson, GivesPoundsBesideKilogramsAndUWithTwoDigitsInEach) {
  ProofView view;
  view.us = true;
  ProofLineView line = sample_fine_line();
  line.load_kg = 4535.9237;
  line.U_kg = 3.2999;
  view.lines = {line};
  view.ranges = {sample_repeats()};
  const Json json = Json::parse(print_json(view));
  EXPECT_EQ(json["unit"], "lb");
  EXPECT_NEAR(json["lines"][0]["load_lb"].get<double>(), 10000.0, 1e-9);
  EXPECT_EQ(json["lines"][0]["U_kg"].get<double>(), 3.3);
  EXPECT_EQ(json["lines"][0]["U_lb"].get<double>(), 7.3);
  EXPECT_EQ(json["lines"][0]["added_kg"].get<double>(), 16.0);
  EXPECT_EQ(json["ranges"][0]["repeats"].size(), 3U);
  EXPECT_EQ(json["ranges"][0]["s_kg"].get<double>(), 2.0);
  view.us = false;
  EXPECT_FALSE(Json::parse(print_json(view))["lines"][0].contains("load_lb"));
}

TEST(ProofJson, HasNoChanceWhenNothingWasJudged) {
  const Json json = Json::parse(print_json(ProofView{}));
  EXPECT_TRUE(json["p_all"].is_null());
  EXPECT_TRUE(json["p_all_reason"].is_string());
}

}  // namespace
}  // namespace weighwright::report
