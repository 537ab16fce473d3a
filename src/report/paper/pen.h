#pragma once
/// Lines, shapes and short texts on a plane: what a plan or a chart is drawn with, on paper or as
/// SVG. Lengths in points (1/72 inch), x to the right, y down.

#include <string>
#include <vector>

namespace weighwright::report {

inline constexpr double kPerMm = 72.0 / 25.4;  // points a millimetre

struct Ink {
  double red = 0.0;
  double green = 0.0;
  double blue = 0.0;
};
inline constexpr Ink kBlack{0.10, 0.11, 0.12};
inline constexpr Ink kGrey{0.36, 0.38, 0.40};
inline constexpr Ink kHairline{0.72, 0.74, 0.76};
inline constexpr Ink kShade{0.945, 0.950, 0.955};
inline constexpr Ink kPatch{0.80, 0.83, 0.86};
inline constexpr Ink kAccent{0.10, 0.27, 0.36};
inline constexpr Ink kWhite{1.0, 1.0, 1.0};

struct Point {
  double x = 0.0;
  double y = 0.0;
};

struct Box {
  double x = 0.0;
  double y = 0.0;
  double width = 0.0;
  double height = 0.0;
};

struct Stroke {
  double width = 0.5;
  Ink ink = kBlack;
  double dash = 0.0;  // 0: solid
};

enum class Align { left, centre, right };

struct TextStyle {
  double size = 8.0;  // points
  bool bold = false;
  Ink ink = kBlack;
  bool mono = false;
};

class Pen {
 public:
  Pen() = default;
  Pen(const Pen&) = delete;
  Pen& operator=(const Pen&) = delete;
  virtual ~Pen() = default;

  virtual void polyline(const std::vector<Point>& points, const Stroke& stroke) = 0;
  virtual void fill(const Box& box, const Ink& ink) = 0;
  virtual void outline(const Box& box, const Stroke& stroke) = 0;
  virtual void disc(Point centre, double radius, const Ink& fill, const Stroke& stroke) = 0;
  virtual void polygon(const std::vector<Point>& points, const Ink& fill, const Stroke& stroke) = 0;
  /// One line; `at` is on the base line at its left end, middle or right end.
  virtual void label(Point at, const std::string& text, const TextStyle& style, Align align) = 0;

  /// Of one line of text.
  [[nodiscard]] virtual double width_of(const std::string& text, const TextStyle& style) = 0;

  void line(Point from, Point to, const Stroke& stroke) { polyline({from, to}, stroke); }
};

}  // namespace weighwright::report
