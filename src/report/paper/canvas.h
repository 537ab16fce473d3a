#pragma once
/// PDF pages by Cairo and Pango: the only file that knows the two libraries.
///
/// The same pages are laid out twice: once dry, to learn how many there are, then on paper. Nothing
/// but the number of pages differs, so both passes break alike.

#include <memory>
#include <string>
#include <unordered_map>
#include <vector>

#include "report/paper/pen.h"

namespace weighwright::report {

/// What the file says of itself.
struct PdfFacts {
  std::string title;
  std::string subject;
  std::string made_by;
  std::string date;  // ISO; empty: none is written, never the clock's
};

/// Sizes of texts that were laid out: most are asked for several times, and by both passes.
struct TextSize {
  double width = 0.0;
  double height = 0.0;
};
using TextSizes = std::unordered_map<std::string, TextSize>;

class Canvas final : public Pen {
 public:
  /// @param sizes  kept by the caller for all passes over the same pages
  /// @param dry    lays out and measures, draws nothing
  Canvas(double width, double height, const PdfFacts& facts, TextSizes& sizes, bool dry);
  ~Canvas() override;

  [[nodiscard]] double width() const { return width_; }
  [[nodiscard]] double height() const { return height_; }

  void polyline(const std::vector<Point>& points, const Stroke& stroke) override;
  void fill(const Box& box, const Ink& ink) override;
  void outline(const Box& box, const Stroke& stroke) override;
  void disc(Point centre, double radius, const Ink& fill, const Stroke& stroke) override;
  void polygon(const std::vector<Point>& points, const Ink& fill, const Stroke& stroke) override;
  void label(Point at, const std::string& text, const TextStyle& style, Align align) override;

  /// Wrapped text, `at` its upper left corner. What can't be drawn is replaced (report/drawable.h).
  /// @return its height
  double paragraph(Point at,
                   double width,
                   const std::string& text,
                   const TextStyle& style,
                   Align align = Align::left);
  [[nodiscard]] double height_of(double width, const std::string& text, const TextStyle& style);
  /// The wrapped text's lines, each as it can be drawn by itself, without line feeds; the time that
  /// it takes grows with the text's length, not with its square.
  [[nodiscard]] std::vector<std::string> lines(double width,
                                               const std::string& text,
                                               const TextStyle& style);
  /// Of its longest line, not wrapped.
  [[nodiscard]] double width_of(const std::string& text, const TextStyle& style) override;

  /// Signs met so far that no font of this machine has: U+FFFD was drawn in their place, never the
  /// font's own box. In order, each once.
  [[nodiscard]] std::vector<char32_t> undrawn() const;

  void end_page();
  /// A line of the reader's list of contents, leading to the page that is being drawn.
  void bookmark(const std::string& text);
  /// The file. Nothing can be drawn afterwards.
  /// @throws std::runtime_error  when Cairo failed
  [[nodiscard]] std::string finish();

 private:
  struct Library;
  const TextSize& size_of(double width, const std::string& text, const TextStyle& style);

  double width_;
  double height_;
  TextSizes& sizes_;
  bool dry_;
  int page_ = 1;
  std::unique_ptr<Library> library_;
};

}  // namespace weighwright::report
