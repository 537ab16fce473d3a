#include "report/paper/sheet.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>

namespace weighwright::report {
namespace {

constexpr double kHeadBase = 13.0 * kPerMm;
constexpr double kTop = 22.0 * kPerMm;
constexpr double kBottom = 18.0 * kPerMm;
constexpr double kBannerHeight = 8.0 * kPerMm;
constexpr double kGap = 5.0 * kPerMm;  // between columns
constexpr double kItemIndent = 4.0 * kPerMm;
constexpr double kAfterParagraph = 2.5;
constexpr double kAfterFacts = 4.0;
constexpr TextStyle kRunningStyle{.size = 7.5, .ink = kGrey};
constexpr TextStyle kRunningStrong{.size = 7.5, .bold = true, .ink = kGrey};
constexpr TextStyle kHeadingStyle{.size = 10.5, .bold = true, .ink = kAccent};
constexpr TextStyle kBannerStyle{.size = 10.0, .bold = true};

}  // namespace

Sheet::Sheet(Canvas& canvas, Running running, const Phrases& words)
    : canvas_(canvas), running_(std::move(running)), words_(words) {
  begin_page();
}

double Sheet::bottom() const {
  return canvas_.height() - kBottom;
}

void Sheet::begin_page() {
  ++page_;
  const double right = left() + width();
  canvas_.label({left(), kHeadBase}, running_.title, kRunningStrong, Align::left);
  const std::string page = fmt::format(fmt::runtime(words_.page_of), page_, running_.pages);
  canvas_.label({left() + width() / 2.0, kHeadBase}, running_.number, kRunningStyle, Align::centre);
  canvas_.label({right, kHeadBase}, page, kRunningStyle, Align::right);
  const Stroke thin{.width = 0.4, .ink = kHairline};
  canvas_.line({left(), kHeadBase + 5.0}, {right, kHeadBase + 5.0}, thin);
  const double foot = canvas_.height() - 11.0 * kPerMm;
  canvas_.line({left(), foot - 9.0}, {right, foot - 9.0}, thin);
  canvas_.label({left(), foot}, running_.foot, kRunningStyle, Align::left);
  y_ = kTop;
  if (running_.practice.empty()) return;
  const Box banner{left(), y_ - 4.0, width(), kBannerHeight};
  canvas_.outline(banner, {.width = 1.4, .ink = kBlack});
  canvas_.label({left() + width() / 2.0, y_ + kBannerHeight / 2.0 - 0.5}, running_.practice,
                kBannerStyle, Align::centre);
  y_ += kBannerHeight + 2.0 * kPerMm;
}

bool Sheet::need(double height) {
  if (height <= room()) return false;
  canvas_.end_page();
  begin_page();
  return true;
}

void Sheet::hairline() {
  canvas_.line({left(), y_}, {left() + width(), y_}, {.width = 0.4, .ink = kHairline});
}

void Sheet::heading(const std::string& text, double with) {
  if (!need(30.0 + with)) y_ += 12.0;
  canvas_.bookmark(text);
  y_ += canvas_.paragraph({left(), y_}, width(), text, kHeadingStyle) + 2.0;
  canvas_.line({left(), y_}, {left() + width(), y_}, {.width = 0.8, .ink = kAccent});
  y_ += 5.0;
  below_heading_ = y_;
}

void Sheet::subheading(const std::string& text, double with) {
  if (!need(18.0 + with)) y_ += 5.0;
  y_ += canvas_.paragraph({left(), y_}, width(), text, kStrong) + 2.0;
}

void Sheet::paragraph(const std::string& text, const TextStyle& style) {
  for (std::size_t at = 0; at <= text.size();) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    const std::string line = text.substr(at, end - at);
    need(canvas_.height_of(width(), line, style));
    y_ += canvas_.paragraph({left(), y_}, width(), line, style) + kAfterParagraph;
    at = end + 1;
  }
}

void Sheet::list(const std::vector<std::string>& items, const std::string& mark) {
  const double wide = width() - kItemIndent;
  for (const std::string& item : items) {
    need(canvas_.height_of(wide, item, kBody));
    canvas_.paragraph({left(), y_}, kItemIndent, mark, kBody);
    y_ += canvas_.paragraph({left() + kItemIndent, y_}, wide, item, kBody) + kAfterParagraph;
  }
}

double Sheet::facts_row(const std::vector<Fact>& row, double cell, bool draw) {
  double tallest = 0.0;
  for (std::size_t i = 0; i < row.size(); ++i) {
    const Point at{left() + static_cast<double>(i) * (cell + kGap), y_};
    double height = canvas_.height_of(cell, row[i].first, kLabel) + 0.5;
    if (draw) {
      canvas_.paragraph(at, cell, row[i].first, kLabel);
      height += canvas_.paragraph({at.x, at.y + height}, cell, row[i].second, kBody);
    } else {
      height += canvas_.height_of(cell, row[i].second, kBody);
    }
    tallest = std::max(tallest, height);
  }
  return tallest;
}

std::vector<std::vector<Fact>> Sheet::fact_rows(const std::vector<Fact>& facts, int columns) {
  std::vector<std::vector<Fact>> rows;
  for (const Fact& fact : facts) {
    if (fact.second.empty()) continue;
    if (rows.empty() || rows.back().size() == static_cast<std::size_t>(columns))
      rows.emplace_back();
    rows.back().push_back(fact);
  }
  return rows;
}

double Sheet::fact_width(int columns) const {
  return (width() - (columns - 1) * kGap) / columns;
}

void Sheet::facts(const std::vector<Fact>& facts, int columns) {
  for (const std::vector<Fact>& row : fact_rows(facts, columns)) {
    need(facts_row(row, fact_width(columns), false));
    y_ += facts_row(row, fact_width(columns), true) + kAfterFacts;
  }
}

double Sheet::facts_height(const std::vector<Fact>& facts, int columns) {
  double height = 0.0;
  for (const std::vector<Fact>& row : fact_rows(facts, columns))
    height += facts_row(row, fact_width(columns), false) + kAfterFacts;
  return height;
}

void Sheet::close() {
  canvas_.end_page();
}

}  // namespace weighwright::report
