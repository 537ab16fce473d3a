#include "report/share_sheet.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <sstream>

#include "report/paragraph.h"

namespace weighwright::report {
namespace {

/// More than fits a page: thirteen sections, ten moves, long words.
ShareView crowded() {
  ShareView view;
  view.deck_name = "Crowded";
  view.headline = "NOT YET.";
  view.unit = "mV";
  PlanRow row{.label = "left", .cells = {}};
  for (int section = 0; section < 13; ++section) {
    view.plan.modules.push_back({.mark = "M" + std::to_string(section),
                                 .start_m = section * 6.0,
                                 .end_m = section * 6.0 + 6.0});
    view.plan.sections_m.push_back(section * 6.0 + 0.3);
    row.cells.emplace_back("12.34 ±0.12");
    view.walking_order.push_back(std::to_string(section + 1) + "L");
  }
  for (int section = 13; section > 0; --section) {
    view.walking_order.push_back(std::to_string(section) + "R");
  }
  view.plan.joints.resize(12);
  view.plan.left = {row, row, row};
  view.plan.right = {row, row, row};
  view.plan.pairs = {row};
  MoveView move;
  move.stand = "1L";
  for (int i = 0; i < 30; ++i) move.instruction += "clockwise seen from above, ";
  view.moves.assign(10, move);
  return view;
}

TEST(PitSheet, IsOnePageHoweverMuchThereIsToSay) {
  const std::string text = draw_sheet_text(crowded());
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);)
    EXPECT_LE(columns_of(line), kSheetColumns) << line;
  EXPECT_LE(std::count(text.begin(), text.end(), '\n'), kSheetLines);
  EXPECT_NE(text.find("does not fit"), std::string::npos);
}

TEST(PitSheet, AlwaysHasABoxForEveryStand) {
  const std::string text = draw_sheet_text(crowded());
  const std::string html = draw_sheet_html(crowded());
  for (const std::string& stand : crowded().walking_order) {
    EXPECT_NE(text.find(" " + stand + " |_"), std::string::npos) << stand;
    EXPECT_NE(html.find("<div>" + stand), std::string::npos) << stand;
  }
}

TEST(PitSheet, EscapesEverythingThatComesFromOutside) {
  ShareView view = crowded();
  view.deck_name = view.headline = view.moves[0].instruction = view.plan.modules[0].mark =
      "<i>&\"'";
  const std::string html = draw_sheet_html(view);
  EXPECT_EQ(html.find("<i>"), std::string::npos);
  EXPECT_NE(html.find("&lt;i&gt;&amp;&quot;&#39;"), std::string::npos);
}

}  // namespace
}  // namespace weighwright::report
