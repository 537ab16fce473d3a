#include <gtest/gtest.h>

#include <sstream>

#include "report/paragraph.h"
#include "report/plan_view.h"

namespace weighwright::report {
namespace {

PlanView plan_of(int modules, double length_m) {
  PlanView plan;
  for (int i = 0; i < modules; ++i) {
    plan.modules.push_back({.mark = std::string(1, static_cast<char>('A' + i)),
                            .start_m = i * length_m,
                            .end_m = (i + 1) * length_m});
  }
  plan.joints.resize(static_cast<std::size_t>(modules - 1));
  PlanRow left{.label = "left", .cells = {}};
  PlanRow right{.label = "right", .cells = {}};
  for (int section = 0; section <= modules; ++section) {
    const double inward_m = section == 0 ? 0.3 : section == modules ? -0.3 : 0.3;
    plan.sections_m.push_back(section * length_m + inward_m);
    left.cells.push_back(std::to_string(section + 1) + "L");
    right.cells.push_back(std::to_string(section + 1) + "R");
  }
  plan.left.push_back(left);
  plan.right.push_back(right);
  return plan;
}

std::vector<std::string> lines_of(const std::string& text) {
  std::istringstream stream(text);
  std::vector<std::string> lines;
  for (std::string line; std::getline(stream, line);) lines.push_back(line);
  return lines;
}

TEST(PlanText, DrawsStandsUnderTheirLabels) {
  const auto lines = lines_of(draw_text(plan_of(3, 7.0)));
  ASSERT_EQ(lines.size(), 5U);
  for (const char* label : {"1L", "2L", "3L", "4L"}) {
    const std::size_t column = lines[0].find(label);
    ASSERT_NE(column, std::string::npos) << label;
    const std::string near = lines[1].substr(column - 1, 3);
    EXPECT_NE(near.find('o'), std::string::npos) << label << " over '" << near << "'";
  }
}

TEST(PlanText, DrawsEveryModuleAndAJointBetweenEachTwo) {
  const auto lines = lines_of(draw_text(plan_of(3, 7.0)));
  const std::string& middle = lines[2];
  EXPECT_LT(middle.find('A'), middle.find('B'));
  EXPECT_LT(middle.find('B'), middle.find(" C "));
  EXPECT_EQ(std::count(middle.begin(), middle.end(), ':'), 2);
}

TEST(PlanText, ShowsTheBearingThatHangsOnItsSide) {
  PlanView plan = plan_of(2, 7.0);
  plan.joints[0].right = JointMark::hangs;
  const auto lines = lines_of(draw_text(plan));
  EXPECT_EQ(lines[1].find('x'), std::string::npos);
  EXPECT_NE(lines[3].find('x'), std::string::npos);
}

TEST(PlanText, FitsEightyColumnsForAnyNumberOfSectionsAndShowsEachOnce) {
  for (int modules = 1; modules <= 12; ++modules) {
    const std::string text = draw_text(plan_of(modules, 6.0));
    for (const std::string& line : lines_of(text)) EXPECT_LE(columns_of(line), 80) << line;
    for (int section = 1; section <= modules + 1; ++section) {
      const std::string label = " " + std::to_string(section) + "L";
      EXPECT_NE(text.find(label), std::string::npos) << modules << ": " << label;
    }
    EXPECT_NE(text.find("end 1"), std::string::npos);
    EXPECT_NE(text.find("end 2"), std::string::npos);
  }
}

TEST(PlanText, KeepsItsColumnsWithMarksOfSeveralBytes) {
  PlanView plan = plan_of(2, 7.0);
  plan.modules[0].mark = "Ü";
  const auto lines = lines_of(draw_text(plan));
  EXPECT_EQ(columns_of(lines[1]), columns_of(lines[3]));
  EXPECT_EQ(columns_of(lines[2].substr(0, lines[2].find('|', 8))), columns_of(lines[1]) - 1);
}

}  // namespace
}  // namespace weighwright::report
