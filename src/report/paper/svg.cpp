#include <fmt/format.h>

#include <cmath>
#include <cstddef>

#include "report/paper/deck_drawing.h"
#include "report/paper/error_chart.h"
#include "report/paper/paper.h"
#include "report/paper/svg_pen.h"

namespace weighwright::report {
namespace {

constexpr double kPlanWidth = 640.0;
constexpr double kChartWidth = 640.0;
constexpr double kChartHeight = 320.0;
constexpr double kEdge = 6.0;

std::size_t outside(const ProofView& view) {
  std::size_t count = 0;
  for (const ProofLineView& line : view.lines) {
    if (line.limit_kg && std::abs(line.error_kg) > *line.limit_kg) ++count;
  }
  return count;
}

}  // namespace

std::string draw_plan_svg(const DrawnDeck& deck,
                          const std::vector<PatchView>& patches,
                          const std::string& title) {
  const Phrases& words = phrases("en");
  const DeckDrawing how{.most_height = 150.0, .stand_size = 11.0, .marked = {}};
  const double height = deck_height(deck, kPlanWidth, how) + 2.0 * kEdge;
  SvgPen pen(kPlanWidth, height);
  draw_deck(pen, {0.0, kEdge}, kPlanWidth, deck, patches, how, words);
  std::string described = fmt::format(fmt::runtime(words.plan_described), deck.stands.size(),
                                      deck.length_m, deck.width_m);
  if (!patches.empty())
    described += fmt::format(fmt::runtime(words.patches_described), patches.size());
  return pen.image(title.empty() ? words.plan_title : title, described);
}

std::string draw_errors_svg(const ProofView& view, const std::string& title) {
  const Phrases& words = phrases("en");
  const bool found = view.phase == "as_found";
  const ChartOf what{.found = found ? &view : nullptr, .left = found ? nullptr : &view};
  SvgPen pen(kChartWidth, kChartHeight);
  draw_chart(pen, {kEdge, kEdge, kChartWidth - 2.0 * kEdge, kChartHeight - 2.0 * kEdge}, what,
             words);
  return pen.image(
      title.empty() ? words.chart : title,
      fmt::format(fmt::runtime(words.chart_described), view.lines.size(), outside(view)));
}

}  // namespace weighwright::report
