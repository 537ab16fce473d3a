#pragma once
/// A Pen that writes SVG 1.1: shapes and real text, a title and a description, no script.

#include "report/paper/pen.h"

namespace weighwright::report {

class SvgPen final : public Pen {
 public:
  SvgPen(double width, double height) : width_(width), height_(height) {}

  void polyline(const std::vector<Point>& points, const Stroke& stroke) override;
  void fill(const Box& box, const Ink& ink) override;
  void outline(const Box& box, const Stroke& stroke) override;
  void disc(Point centre, double radius, const Ink& fill, const Stroke& stroke) override;
  void polygon(const std::vector<Point>& points, const Ink& fill, const Stroke& stroke) override;
  void label(Point at, const std::string& text, const TextStyle& style, Align align) override;

  /// An estimate: nothing here knows the viewer's font.
  [[nodiscard]] double width_of(const std::string& text, const TextStyle& style) override;

  /// The whole image, on white.
  [[nodiscard]] std::string image(const std::string& title, const std::string& description) const;

 private:
  double width_;
  double height_;
  std::string shapes_;
};

}  // namespace weighwright::report
