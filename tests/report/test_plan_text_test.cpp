#include <gtest/gtest.h>

#include <sstream>

#include "report/paragraph.h"
#include "report/sample_plan.h"

namespace weighwright::report {
namespace {

bool has(const std::string& text, const std::string& what) {
  return text.find(what) != std::string::npos;
}

TEST(TestPlanText, StaysWithinEightyColumns) {
  std::istringstream lines(draw_text(sample_plan()));
  for (std::string line; std::getline(lines, line);) EXPECT_LE(columns_of(line), 80) << line;
}

TEST(TestPlanText, TellsPlacementsUnderTheirTests) {
  const std::string text = draw_text(sample_plan());
  EXPECT_TRUE(has(text, "\nEccentric load\n  1. Put seven weights"));
  EXPECT_TRUE(has(text, "\nIncreasing load, run 2\n  3. "));
  EXPECT_TRUE(has(text, "Read zero before and after. A seventh of 60 t"));
  EXPECT_TRUE(has(text, "Not required. Read zero"));
  EXPECT_TRUE(has(text, "About 42 min; no order can take less than 38 min."));
}

TEST(TestPlanText, WarnsBeforeAnyoneDrives) {
  const std::string text = draw_text(sample_plan());
  const auto wrong = text.find("  WRONG: Placement 2: The cart's axle exceeds");
  ASSERT_NE(wrong, std::string::npos) << text;
  EXPECT_LT(wrong, text.find("  1. Put seven"));
  EXPECT_TRUE(has(text, "  ? The weights reach 7 t only. (R 76-1:2006, 3.7.3)"));
  EXPECT_TRUE(has(text, "  ! Nobody stands between"));
}

TEST(TestPlanText, ReadsZeroOnlyWhereAsked) {
  TestPlanView view = sample_plan();
  for (PlacementView& placement : view.placements)
    placement.read_zero_before = placement.read_zero_after = false;
  EXPECT_FALSE(has(draw_text(view), "Read zero"));
  view.placements[0].read_zero_after = true;
  EXPECT_TRUE(has(draw_text(view), "Read zero after."));
}

}  // namespace
}  // namespace weighwright::report
