#include "report/paper/error_chart.h"

#include <gtest/gtest.h>

#include "report/paper/svg_pen.h"
#include "report/sample_document.h"

// outside check: steps of the limits in the chart | R 76-1:2006, 3.5.1, table 6, class III

namespace weighwright::report {
namespace {

/// Remembers lines and marks.
class Listener final : public Pen {
 public:
  void polyline(const std::vector<Point>& points, const Stroke& stroke) override {
    if (stroke.width > 1.2 && points.size() > 2) stairs.push_back(points);
    if (stroke.width == 0.7 && points.size() == 2 && points[0].x == points[1].x)
      bars.push_back(points);
  }
  void fill(const Box&, const Ink&) override {}
  void outline(const Box& box, const Stroke&) override { plot = box; }
  void disc(Point centre, double, const Ink&, const Stroke&) override { discs.push_back(centre); }
  void polygon(const std::vector<Point>& points, const Ink&, const Stroke&) override {
    diamonds.push_back(points.front());
  }
  void label(Point, const std::string&, const TextStyle&, Align) override {}
  double width_of(const std::string& text, const TextStyle&) override {
    return 4.0 * static_cast<double>(text.size());
  }

  std::vector<std::vector<Point>> stairs;
  std::vector<std::vector<Point>> bars;
  std::vector<Point> discs;
  std::vector<Point> diamonds;
  Box plot;
};

ProofView one_result(double load_kg, double error_kg, double U_kg) {
  ProofView view;
  view.capacity_kg = 60000.0;
  view.interval_kg = 20.0;
  // R 76-1:2006, Table 6, class III, e = 20 kg.
  view.staircase_kg = {{10000, 10}, {40000, 20}, {60000, 30}};
  ProofLineView line;
  line.load_kg = load_kg;
  line.error_kg = error_kg;
  line.U_kg = U_kg;
  view.lines = {line};
  return view;
}

TEST(ErrorChart, DrawsLimitsOnBothSides) {
  const ProofView view = one_result(20000, 0, 5);
  Listener pen;
  draw_chart(pen, {0, 0, 500, 300}, {.found = nullptr, .left = &view}, phrases("en"));
  ASSERT_EQ(pen.stairs.size(), 2U);
  const double middle = pen.plot.y + pen.plot.height / 2.0;
  for (std::size_t i = 0; i < pen.stairs[0].size(); ++i)
    EXPECT_NEAR(pen.stairs[0][i].y - middle, middle - pen.stairs[1][i].y, 1e-9);
  // Steps of 10, 20, 30 kg stand in that ratio.
  const double first = middle - pen.stairs[0].front().y;
  const double last = middle - pen.stairs[0].back().y;
  EXPECT_NEAR(last / first, 3.0, 1e-9);
}

TEST(ErrorChart, StepsUpAtTheEndOfAStep) {
  // R 76-1:2006, Table 6: 500 e still belongs to the lower step (edge case 1 of the facts).
  const ProofView view = one_result(20000, 0, 5);
  Listener pen;
  draw_chart(pen, {0, 0, 500, 300}, {.found = nullptr, .left = &view}, phrases("en"));
  const std::vector<Point>& stair = pen.stairs[0];
  const double left = stair.front().x;
  const double right = stair.back().x;
  // The vertical piece of the first step lies at 10 t of 60 t.
  EXPECT_NEAR((stair[1].x - left) / (right - left), 10000.0 / 60000.0, 1e-9);
  EXPECT_EQ(stair[1].x, stair[2].x);
}

TEST(ErrorChart, CentresTheBarOnItsMark) {
  const ProofView view = one_result(20000, 8, 5);
  Listener pen;
  draw_chart(pen, {0, 0, 500, 300}, {.found = nullptr, .left = &view}, phrases("en"));
  ASSERT_EQ(pen.bars.size(), 1U);
  EXPECT_NEAR((pen.bars[0][0].y + pen.bars[0][1].y) / 2.0, pen.discs[0].y, 1e-9);
  EXPECT_EQ(pen.bars[0][0].x, pen.discs[0].x);
}

TEST(ErrorChart, TellsFoundAndLeftByShape) {
  const ProofView found = one_result(20000, -12, 5);
  const ProofView left = one_result(20000, 3, 5);
  Listener pen;
  draw_chart(pen, {0, 0, 500, 300}, {.found = &found, .left = &left}, phrases("en"));
  EXPECT_EQ(pen.discs.size(), 2U);  // with the legend's
  EXPECT_EQ(pen.diamonds.size(), 2U);
}

TEST(ErrorChart, KeepsEverythingInsideItsFrame) {
  const ProofView view = one_result(70000, -400, 30);
  Listener pen;
  draw_chart(pen, {0, 0, 500, 300}, {.found = &view, .left = nullptr}, phrases("en"));
  for (const std::vector<Point>& bar : pen.bars) {
    for (const Point& end : bar) {
      EXPECT_GE(end.y, pen.plot.y);
      EXPECT_LE(end.y, pen.plot.y + pen.plot.height);
      EXPECT_LE(end.x, pen.plot.x + pen.plot.width);
    }
  }
}

}  // namespace
}  // namespace weighwright::report
