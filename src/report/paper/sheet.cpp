#include "report/paper/sheet.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>

#include "report/paper/excerpt.h"

namespace weighwright::report {
namespace {

constexpr std::size_t kMostNumber = 40;
constexpr double kHeadBase = 13.0 * kPerMm;
constexpr double kTop = 22.0 * kPerMm;
constexpr double kBottom = 18.0 * kPerMm;
constexpr double kBannerHeight = 8.0 * kPerMm;
constexpr double kBelowBanner = 2.0 * kPerMm;
constexpr double kKeptTogether = 0.25;  // of a page: a paragraph up to that is not broken
constexpr double kMarkLines = 2.0;      // that stand with an item's mark
constexpr double kGap = 5.0 * kPerMm;   // between columns
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
  running_.title = one_line(running_.title);
  running_.number = one_line(running_.number, kMostNumber);
  running_.foot = one_line(running_.foot);
  running_.practice = one_line(running_.practice);
  begin_page();
}

double Sheet::page_room() const {
  return bottom() - kTop - (running_.practice.empty() ? 0.0 : kBannerHeight + kBelowBanner);
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
  y_ += kBannerHeight + kBelowBanner;
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

void Sheet::flow(double indent, const std::string& text, const TextStyle& style) {
  const double wide = width() - indent;
  const double height = canvas_.height_of(wide, text, style);
  if (height <= kKeptTogether * page_room()) {
    need(height);
    y_ += canvas_.paragraph({left() + indent, y_}, wide, text, style);
    return;
  }
  for (const std::string& line : canvas_.lines(wide, text, style)) {
    need(canvas_.height_of(wide, line, style));
    y_ += canvas_.paragraph({left() + indent, y_}, wide, line, style);
  }
}

void Sheet::whole(const std::string& text, const TextStyle& style) {
  flow(0.0, text, style);
  y_ += kAfterParagraph;
}

void Sheet::paragraph(const std::string& text, const TextStyle& style) {
  whole(excerpt(text, kMostText, words_.more), style);
}

void Sheet::list(const std::vector<std::string>& items, const std::string& mark) {
  for (const std::string& item : items) {
    if (item.empty()) continue;
    // The mark stands on the page of the first line.
    need(kMarkLines * canvas_.height_of(kItemIndent, mark, kBody));
    const std::string text = excerpt(item, kMostText, words_.more);
    const double height = canvas_.height_of(width() - kItemIndent, text, kBody);
    if (height <= kKeptTogether * page_room()) need(height);
    canvas_.paragraph({left(), y_}, kItemIndent, mark, kBody);
    flow(kItemIndent, text, kBody);
    y_ += kAfterParagraph;
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

std::vector<std::vector<Fact>> Sheet::fact_rows(const std::vector<Fact>& facts, int columns) const {
  std::vector<std::vector<Fact>> rows;
  for (const Fact& fact : facts) {
    if (fact.second.empty()) continue;
    if (rows.empty() || rows.back().size() == static_cast<std::size_t>(columns))
      rows.emplace_back();
    rows.back().emplace_back(fact.first, excerpt(fact.second, kMostFact, words_.more));
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
