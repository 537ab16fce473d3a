#include "report/paper/svg_pen.h"

#include <fmt/format.h>

#include <cmath>

#include "report/drawable.h"
#include "report/paragraph.h"

namespace weighwright::report {
namespace {

/// Text that is safe between tags and in attributes.
std::string escaped(const std::string& text) {
  std::string safe;
  for (const char c : drawable(text)) {
    if (c == '&') {
      safe += "&amp;";
    } else if (c == '<') {
      safe += "&lt;";
    } else if (c == '>') {
      safe += "&gt;";
    } else if (c == '"') {
      safe += "&quot;";
    } else {
      safe += c;
    }
  }
  return safe;
}

std::string colour(const Ink& ink) {
  const auto byte = [](double part) { return static_cast<int>(std::lround(part * 255.0)); };
  return fmt::format("#{:02x}{:02x}{:02x}", byte(ink.red), byte(ink.green), byte(ink.blue));
}

std::string stroke_attributes(const Stroke& stroke) {
  std::string text =
      fmt::format("stroke=\"{}\" stroke-width=\"{:.2f}\"", colour(stroke.ink), stroke.width);
  if (stroke.dash > 0.0) text += fmt::format(" stroke-dasharray=\"{:.1f}\"", stroke.dash);
  return text;
}

std::string point_list(const std::vector<Point>& points) {
  std::string text;
  for (const Point& point : points)
    text += fmt::format("{}{:.2f},{:.2f}", text.empty() ? "" : " ", point.x, point.y);
  return text;
}

}  // namespace

void SvgPen::polyline(const std::vector<Point>& points, const Stroke& stroke) {
  shapes_ += fmt::format("<polyline points=\"{}\" fill=\"none\" {}/>\n", point_list(points),
                         stroke_attributes(stroke));
}

void SvgPen::fill(const Box& box, const Ink& ink) {
  shapes_ += fmt::format(
      "<rect x=\"{:.2f}\" y=\"{:.2f}\" width=\"{:.2f}\" height=\"{:.2f}\" fill=\"{}\"/>\n", box.x,
      box.y, box.width, box.height, colour(ink));
}

void SvgPen::outline(const Box& box, const Stroke& stroke) {
  shapes_ += fmt::format(
      "<rect x=\"{:.2f}\" y=\"{:.2f}\" width=\"{:.2f}\" height=\"{:.2f}\" fill=\"none\" {}/>\n",
      box.x, box.y, box.width, box.height, stroke_attributes(stroke));
}

void SvgPen::disc(Point centre, double radius, const Ink& fill, const Stroke& stroke) {
  shapes_ += fmt::format("<circle cx=\"{:.2f}\" cy=\"{:.2f}\" r=\"{:.2f}\" fill=\"{}\" {}/>\n",
                         centre.x, centre.y, radius, colour(fill), stroke_attributes(stroke));
}

void SvgPen::polygon(const std::vector<Point>& points, const Ink& fill, const Stroke& stroke) {
  shapes_ += fmt::format("<polygon points=\"{}\" fill=\"{}\" {}/>\n", point_list(points),
                         colour(fill), stroke_attributes(stroke));
}

void SvgPen::label(Point at, const std::string& text, const TextStyle& style, Align align) {
  const char* const anchor = align == Align::left     ? "start"
                             : align == Align::centre ? "middle"
                                                      : "end";
  shapes_ += fmt::format(
      "<text x=\"{:.2f}\" y=\"{:.2f}\" font-size=\"{:.1f}\"{} fill=\"{}\" text-anchor=\"{}\">{}"
      "</text>\n",
      at.x, at.y, style.size, style.bold ? " font-weight=\"bold\"" : "", colour(style.ink), anchor,
      escaped(text));
}

double SvgPen::width_of(const std::string& text, const TextStyle& style) {
  constexpr double kMeanAdvance = 0.60;  // of the size; a wide sans serif
  return kMeanAdvance * style.size * columns_of(text);
}

std::string SvgPen::image(const std::string& title, const std::string& description) const {
  return fmt::format(
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
      "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0:.2f} {1:.2f}\" "
      "width=\"{0:.2f}pt\" height=\"{1:.2f}pt\" role=\"img\" aria-labelledby=\"title desc\" "
      "font-family=\"DejaVu Sans, Liberation Sans, sans-serif\">\n"
      "<title id=\"title\">{2}</title>\n<desc id=\"desc\">{3}</desc>\n"
      "<rect width=\"100%\" height=\"100%\" fill=\"#ffffff\"/>\n{4}</svg>\n",
      width_, height_, escaped(title), escaped(description), shapes_);
}

}  // namespace weighwright::report
