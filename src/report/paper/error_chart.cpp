#include "report/paper/error_chart.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include "report/paper/paper_table.h"
#include "units/quantity.h"

namespace weighwright::report {
namespace {

constexpr double kLeftRoom = 46.0;
constexpr double kFootRoom = 30.0;
constexpr double kTopRoom = 18.0;
constexpr double kRightRoom = 8.0;
constexpr double kSideStep = 2.0;      // between results of one load
constexpr double kWidestCrowd = 14.0;  // that they may take together
constexpr double kFoundDash = 3.0;     // limits as found where they are not those as left
constexpr TextStyle kTick{.size = 7.0, .ink = kGrey};

struct Axes {
  Box plot;
  double most_load = 1.0;   // in the chart's unit
  double most_error = 1.0;  // either way
  double per_kg = 1.0;      // unit of the chart
  [[nodiscard]] Point at(double load_kg, double error_kg) const {
    return {plot.x + plot.width * load_kg * per_kg / most_load,
            plot.y + plot.height / 2.0 * (1.0 - error_kg * per_kg / most_error)};
  }
};

/// 1, 2 or 5 times a power of ten, so that about `count` steps make `whole`.
double round_step(double whole, int count) {
  const double raw = whole / count;
  const double power = std::pow(10.0, std::floor(std::log10(raw)));
  for (const double factor : {1.0, 2.0, 5.0}) {
    if (raw <= factor * power * (1.0 + 1e-9)) return factor * power;
  }
  return 10.0 * power;
}

void reach(Axes& axes, const ProofView& view) {
  axes.most_load = std::max(axes.most_load, view.capacity_kg * axes.per_kg);
  for (const auto& [load, limit] : view.staircase_kg)
    axes.most_error = std::max(axes.most_error, limit * axes.per_kg);
  for (const ProofLineView& line : view.lines) {
    axes.most_load = std::max(axes.most_load, line.load_kg * axes.per_kg);
    axes.most_error = std::max(axes.most_error,
                               (std::abs(line.error_kg) + line.U_kg.value_or(0.0)) * axes.per_kg);
  }
}

Axes make_axes(const Box& area, const ChartOf& what) {
  Axes axes;
  axes.per_kg = what.first().us ? 1.0 / units::kPound_kg : 1.0;
  axes.plot = {area.x + kLeftRoom, area.y + kTopRoom, area.width - kLeftRoom - kRightRoom,
               area.height - kTopRoom - kFootRoom};
  axes.most_error = 1e-6;
  axes.most_load = 1e-6;
  for (const ProofView* view : {what.found, what.left}) {
    if (view != nullptr) reach(axes, *view);
  }
  axes.most_error *= 1.12;
  axes.most_load *= 1.02;
  return axes;
}

std::string tick_text(double value, double step, bool us) {
  const int decimals = std::max(0, static_cast<int>(std::ceil(-std::log10(step) - 1e-9)));
  return typeset(units::print_fixed(value, decimals), us);
}

void draw_axes(Pen& pen, const Axes& axes, const ProofView& view, const Phrases& words) {
  const Box& plot = axes.plot;
  const Stroke grid{.width = 0.3, .ink = kHairline};
  const double error_step = round_step(2.0 * axes.most_error, 10);
  const double top = std::floor(axes.most_error / error_step) * error_step;
  for (double error = -top; error <= top + error_step / 2.0; error += error_step) {
    const double y = axes.at(0.0, error / axes.per_kg).y;
    pen.line({plot.x, y}, {plot.x + plot.width, y}, grid);
    pen.label({plot.x - 4.0, y + 2.5}, tick_text(error, error_step, view.us), kTick, Align::right);
  }
  const double load_step = round_step(axes.most_load, 7);
  for (double load = 0.0; load <= axes.most_load; load += load_step) {
    const double x = axes.at(load / axes.per_kg, 0.0).x;
    pen.line({x, plot.y + plot.height}, {x, plot.y + plot.height + 3.0}, {.width = 0.5});
    pen.label({x, plot.y + plot.height + 11.5}, tick_text(load, load_step, view.us), kTick,
              Align::centre);
  }
  pen.line({plot.x, axes.at(0, 0).y}, {plot.x + plot.width, axes.at(0, 0).y},
           {.width = 0.6, .ink = kGrey});
  pen.outline(plot, {.width = 0.5, .ink = kBlack});
  pen.label({plot.x + plot.width, plot.y + plot.height + 22.0},
            fmt::format(fmt::runtime(words.load_axis), mass_unit(view)), kTick, Align::right);
  pen.label({plot.x - kLeftRoom, plot.y - 6.0},
            fmt::format(fmt::runtime(words.error_axis), mass_unit(view)), kTick, Align::left);
}

/// Corners (load, limit); where two neighbours differ in both, the step is at the first's load
/// (limits hold up to and at a step's end). The last one is drawn on to capacity.
std::vector<Point> staircase(const Axes& axes, const ProofView& view, double side) {
  std::vector<Point> points;
  double last_load = 0.0;
  double last_limit = view.staircase_kg.front().second;
  points.push_back(axes.at(0.0, side * last_limit));
  for (const auto& [load, limit] : view.staircase_kg) {
    if (limit != last_limit) points.push_back(axes.at(last_load, side * limit));
    points.push_back(axes.at(load, side * limit));
    last_load = load;
    last_limit = limit;
  }
  if (last_load < view.capacity_kg) points.push_back(axes.at(view.capacity_kg, side * last_limit));
  return points;
}

void draw_limits(Pen& pen, const Axes& axes, const ProofView& view, double dash) {
  if (view.staircase_kg.empty()) return;
  for (const double side : {1.0, -1.0})
    pen.polyline(staircase(axes, view, side), {.width = 1.3, .ink = kAccent, .dash = dash});
}

void draw_mark(Pen& pen, Point at, bool found) {
  constexpr double kHalf = 2.9;
  const Stroke rim{.width = 0.9, .ink = kBlack};
  if (!found) {
    pen.disc(at, 2.2, kBlack, rim);
    return;
  }
  pen.polygon(
      {{at.x, at.y - kHalf}, {at.x + kHalf, at.y}, {at.x, at.y + kHalf}, {at.x - kHalf, at.y}},
      kWhite, rim);
}

/// Results of one load stand side by side, not on top of one another.
std::vector<double> side_steps(const ProofView& view) {
  std::vector<double> steps;
  for (std::size_t i = 0; i < view.lines.size(); ++i) {
    int before = 0;
    int alike = 0;
    for (std::size_t other = 0; other < view.lines.size(); ++other) {
      if (view.lines[other].load_kg != view.lines[i].load_kg) continue;
      ++alike;
      if (other < i) ++before;
    }
    const double step = std::min(kSideStep, kWidestCrowd / std::max(alike - 1, 1));
    steps.push_back(step * (before - (alike - 1) / 2.0));
  }
  return steps;
}

void draw_bar(Pen& pen, Point top, Point foot, const Stroke& stroke) {
  constexpr double kCap = 1.8;
  pen.line(top, foot, stroke);
  pen.line({top.x - kCap, top.y}, {top.x + kCap, top.y}, stroke);
  pen.line({foot.x - kCap, foot.y}, {foot.x + kCap, foot.y}, stroke);
}

void draw_results(Pen& pen, const Axes& axes, const ProofView& view, bool found, double shift) {
  const Stroke bar{.width = 0.7, .ink = found ? kGrey : kBlack};
  const std::vector<double> steps = side_steps(view);
  for (std::size_t i = 0; i < view.lines.size(); ++i) {
    const ProofLineView& line = view.lines[i];
    const double expanded = line.U_kg.value_or(0.0);
    const Point at = axes.at(line.load_kg, line.error_kg);
    const double x = at.x + shift + steps[i];
    if (expanded > 0.0)
      draw_bar(pen, {x, axes.at(0.0, line.error_kg + expanded).y},
               {x, axes.at(0.0, line.error_kg - expanded).y}, bar);
    draw_mark(pen, {x, at.y}, found);
  }
}

enum class Symbol { limit, limit_found, found, left };

/// Symbols with their words, from the right end of the line above the plot.
class Legend {
 public:
  Legend(Pen& pen, const Axes& axes)
      : pen_(pen), x_(axes.plot.x + axes.plot.width), y_(axes.plot.y - 8.5) {}

  void put(const std::string& text, Symbol symbol) {
    const TextStyle style{.size = 7.0};
    pen_.label({x_, y_ + 2.5}, text, style, Align::right);
    x_ -= pen_.width_of(text, style) + 5.0;
    if (symbol == Symbol::found || symbol == Symbol::left) {
      draw_mark(pen_, {x_ - 2.0, y_}, symbol == Symbol::found);
      x_ -= 16.0;
      return;
    }
    const double dash = symbol == Symbol::limit_found ? kFoundDash : 0.0;
    pen_.line({x_ - 18.0, y_}, {x_, y_}, {.width = 1.3, .ink = kAccent, .dash = dash});
    x_ -= 30.0;
  }

 private:
  Pen& pen_;
  double x_;
  double y_;
};

void draw_legend(
    Pen& pen, const Axes& axes, const ChartOf& what, const Phrases& words, bool apart) {
  Legend legend(pen, axes);
  if (apart) {
    legend.put(words.limits_found, Symbol::limit_found);
    legend.put(words.limits_left, Symbol::limit);
  } else {
    legend.put(words.limits, Symbol::limit);
  }
  if (what.left != nullptr) legend.put(words.as_left, Symbol::left);
  if (what.found != nullptr) legend.put(words.as_found, Symbol::found);
}

}  // namespace

bool can_chart(const ChartOf& what) {
  for (const ProofView* view : {what.found, what.left}) {
    if (view != nullptr && !view->lines.empty()) return true;
  }
  return false;
}

void draw_chart(Pen& pen, const Box& area, const ChartOf& what, const Phrases& words) {
  const Axes axes = make_axes(area, what);
  draw_axes(pen, axes, what.first(), words);
  const bool both = what.found != nullptr && what.left != nullptr;
  const bool apart = both && what.found->staircase_kg != what.left->staircase_kg;
  if (what.found != nullptr && (apart || !both))
    draw_limits(pen, axes, *what.found, apart ? kFoundDash : 0.0);
  if (what.left != nullptr) draw_limits(pen, axes, *what.left, 0.0);
  if (what.found != nullptr) draw_results(pen, axes, *what.found, true, both ? -2.5 : 0.0);
  if (what.left != nullptr) draw_results(pen, axes, *what.left, false, both ? 2.5 : 0.0);
  draw_legend(pen, axes, what, words, apart);
}

}  // namespace weighwright::report
