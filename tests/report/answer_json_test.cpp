#include "report/answer_json.h"

#include <gtest/gtest.h>

#include <limits>
#include <nlohmann/json.hpp>

namespace weighwright::report {
namespace {

using Json = nlohmann::json;

constexpr double kNaN = std::numeric_limits<double>::quiet_NaN();
constexpr double kInfinity = std::numeric_limits<double>::infinity();

TEST(AnswerJson, SaysNullAndWhyInsteadOfNaN) {
  ShareView view;
  view.pairs.push_back({.section = 1,
                        .difference_mV = kNaN,
                        .tolerance_mV = kInfinity,
                        .difference_N = kNaN,
                        .share_of_mean = kNaN,
                        .within = false});
  view.stands.push_back({.stand = "1L",
                         .tag = "",
                         .signal_mV = kNaN,
                         .net_mV = {},
                         .load_N = kNaN,
                         .u_load_N = kNaN,
                         .expected_mV = kNaN,
                         .expected_N = kNaN,
                         .chance_free = 0.0,
                         .shown = ""});
  const Json json = Json::parse(print_json(view));
  const Json& pair = json["pairs"][0];
  for (const char* key : {"difference_mV", "tolerance_mV", "difference_N", "share_of_mean"}) {
    EXPECT_TRUE(pair[key].is_null()) << key;
    EXPECT_TRUE(pair[std::string(key) + "_reason"].is_string()) << key;
  }
  EXPECT_TRUE(json["stands"][0]["signal_mV"].is_null());
  EXPECT_TRUE(json["probability_done"].is_null());
  EXPECT_TRUE(json["probability_done_reason"].is_string());
}

TEST(AnswerJson, TellsAnEndlessLiftInWords) {
  PredictView view;
  view.jack = JackView{.stand = "1L",
                       .lift_mm = 1,
                       .force_N = 1,
                       .free_lift_mm = 1,
                       .most_lift_mm = kInfinity,
                       .limited_by = "",
                       .stand_N = {},
                       .open = {},
                       .sentences = {}};
  const Json json = Json::parse(print_json(view));
  EXPECT_TRUE(json["jack"]["most_lift_mm"].is_null());
  EXPECT_TRUE(json["jack"]["most_lift_mm_reason"].is_string());
}

TEST(AnswerJson, KeepsNumbersToTheLastBit) {
  PredictView view;
  view.stands.push_back({.stand = "1L", .load_N = 0.1 + 0.2, .signal_mV = {}});
  const Json json = Json::parse(print_json(view));
  EXPECT_EQ(json["stands"][0]["load_N"].get<double>(), 0.1 + 0.2);
}

TEST(AnswerJson, SurvivesBytesThatAreNoText) {
  CheckView view;
  view.deck_name = "\xff\xfe deck \"quoted\"\n";
  EXPECT_NO_THROW({
    const Json json = Json::parse(print_json(view));
    EXPECT_TRUE(json["deck"].is_string());
  });
}

TEST(AnswerJson, GivesFaultsWithAllFiveKeys) {
  const Json json = Json::parse(print_json(
      units::Diagnostics{{.file = "a.csv", .line = 2, .column = 3, .what = "w", .expected = "e"}}));
  EXPECT_EQ(json, Json::parse(R"({"faults":[{"file":"a.csv","line":2,"column":3,"what":"w",
                                  "expected":"e"}]})"));
}

TEST(AnswerJson, KeepsTurnsForScrewsAndThicknessForShims) {
  ShareView view;
  MoveView screws;
  screws.stand = "2R";
  screws.turns = 0.75;
  screws.raise_mm = 1.875;
  MoveView shims = screws;
  shims.shim = true;
  view.moves = {screws, shims};
  const Json json = Json::parse(print_json(view));
  EXPECT_EQ(json["moves"][0]["kind"], "screws");
  EXPECT_EQ(json["moves"][0]["turns"], 0.75);
  EXPECT_TRUE(json["moves"][0]["shim_mm"].is_null());
  EXPECT_EQ(json["moves"][1]["kind"], "shims");
  EXPECT_TRUE(json["moves"][1]["turns"].is_null());
  EXPECT_EQ(json["moves"][1]["shim_mm"], 1.875);
}

}  // namespace
}  // namespace weighwright::report
