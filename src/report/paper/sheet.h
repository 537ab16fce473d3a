#pragma once
/// Flow of a document over pages: margins, running heads, headings, paragraphs, lists, facts.

#include <string>
#include <utility>
#include <vector>

#include "report/paper/canvas.h"
#include "report/paper/phrases.h"

namespace weighwright::report {

inline constexpr double kSideMargin = 18.0 * kPerMm;
inline constexpr TextStyle kBody{.size = 8.5};
inline constexpr TextStyle kSmall{.size = 7.5, .ink = kGrey};
inline constexpr TextStyle kLabel{.size = 7.0, .ink = kGrey};
inline constexpr TextStyle kStrong{.size = 8.5, .bold = true};

/// What every page repeats.
struct Running {
  std::string title;
  std::string number;
  std::string foot;
  std::string practice;  // banner; empty: a real site
  int pages = 1;         // of the whole document; any number while it is laid out dry
};

using Fact = std::pair<std::string, std::string>;  // label, value

class Sheet {
 public:
  Sheet(Canvas& canvas, Running running, const Phrases& words);

  [[nodiscard]] Canvas& canvas() { return canvas_; }
  [[nodiscard]] const Phrases& words() const { return words_; }
  [[nodiscard]] double left() const { return kSideMargin; }
  [[nodiscard]] double width() const { return canvas_.width() - 2.0 * kSideMargin; }
  [[nodiscard]] double y() const { return y_; }
  [[nodiscard]] double room() const { return bottom() - y_; }
  /// Of a page on which nothing stands yet.
  [[nodiscard]] double page_room() const;
  [[nodiscard]] int page() const { return page_; }
  /// Whether nothing was put below the last heading's rule yet.
  [[nodiscard]] bool under_heading() const { return y_ == below_heading_; }

  void skip(double height) { y_ += height; }
  /// A new page unless `height` fits on this one (more than a page never fits and starts one).
  /// @return whether a page was begun
  bool need(double height);
  void hairline();

  /// @param with  what must stand on the same page below it, points
  void heading(const std::string& text, double with = 40.0);
  void subheading(const std::string& text, double with = 24.0);
  /// Kept together where it is short, else over pages line by line; at most kMostText characters.
  void paragraph(const std::string& text, const TextStyle& style = kBody);
  /// A paragraph of any length, never cut short: what is typed off the paper.
  void whole(const std::string& text, const TextStyle& style);
  /// One paragraph each behind a mark; empty ones are left out.
  void list(const std::vector<std::string>& items, const std::string& mark = "\u2013");
  /// Label above value, `columns` side by side; facts without a value are left out.
  void facts(const std::vector<Fact>& facts, int columns);
  [[nodiscard]] double facts_height(const std::vector<Fact>& facts, int columns);

  /// Ends the last page.
  void close();

 private:
  [[nodiscard]] double bottom() const;
  void flow(double indent, const std::string& text, const TextStyle& style);
  void begin_page();
  [[nodiscard]] std::vector<std::vector<Fact>> fact_rows(const std::vector<Fact>& facts,
                                                         int columns) const;
  [[nodiscard]] double fact_width(int columns) const;
  double facts_row(const std::vector<Fact>& row, double cell, bool draw);

  Canvas& canvas_;
  Running running_;
  const Phrases& words_;
  double y_ = 0.0;
  double below_heading_ = -1.0;
  int page_ = 0;
};

}  // namespace weighwright::report
