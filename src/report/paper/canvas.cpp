#include "report/paper/canvas.h"

#include <cairo-pdf.h>
#include <fmt/format.h>
#include <pango/pangocairo.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <stdexcept>

#include "report/drawable.h"

#if defined(__SANITIZE_ADDRESS__)
// The font library keeps its patterns alive for the whole process and reaches them by offsets,
// which the leak checker does not follow. Every program that draws pages links this file.
extern "C" const char* __lsan_default_suppressions() {  // NOLINT: the checker's own name
  return "leak:libfontconfig\n";
}
#endif

namespace weighwright::report {
namespace {

constexpr const char* kSans = "DejaVu Sans,Sans";
constexpr const char* kMono = "DejaVu Sans Mono,Monospace";
constexpr float kLineSpacing = 1.05F;
constexpr char32_t kReplacement = 0xFFFD;
/// Bytes that the library breaks at a time: it lays out anew, for every line, all that follows.
constexpr std::size_t kWindow = 1500;

cairo_status_t append(void* closure, const unsigned char* data, unsigned int length) {
  static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

struct FreeFont {
  void operator()(PangoFontDescription* font) const { pango_font_description_free(font); }
};
using Font = std::unique_ptr<PangoFontDescription, FreeFont>;

Font make_font(const TextStyle& style) {
  Font font(pango_font_description_new());
  pango_font_description_set_family_static(font.get(), style.mono ? kMono : kSans);
  pango_font_description_set_weight(font.get(),
                                    style.bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  // Absolute: user units of the PDF surface are points already.
  pango_font_description_set_absolute_size(font.get(), style.size * PANGO_SCALE);
  return font;
}

void set_metadata(cairo_surface_t* surface, const PdfFacts& facts) {
  const std::array<std::pair<cairo_pdf_metadata_t, const std::string*>, 4> all = {
      {{CAIRO_PDF_METADATA_TITLE, &facts.title},
       {CAIRO_PDF_METADATA_SUBJECT, &facts.subject},
       {CAIRO_PDF_METADATA_CREATOR, &facts.made_by},
       // An empty date leaves the entry out; without the call Cairo would ask the clock.
       {CAIRO_PDF_METADATA_CREATE_DATE, &facts.date}}};
  for (const auto& [key, text] : all) {
    if (!text->empty() || key == CAIRO_PDF_METADATA_CREATE_DATE)
      cairo_pdf_surface_set_metadata(surface, key, drawable(*text).c_str());
  }
}

void set_ink(cairo_t* cairo, const Ink& ink) {
  cairo_set_source_rgb(cairo, ink.red, ink.green, ink.blue);
}

void stroke_path(cairo_t* cairo, const Stroke& stroke) {
  set_ink(cairo, stroke.ink);
  cairo_set_line_width(cairo, stroke.width);
  cairo_set_dash(cairo, &stroke.dash, stroke.dash > 0.0 ? 1 : 0, 0.0);
  cairo_stroke(cairo);
}

void trace(cairo_t* cairo, const std::vector<Point>& points) {
  for (const Point& point : points) cairo_line_to(cairo, point.x, point.y);
}

}  // namespace

struct Canvas::Library {
  std::string bytes;
  cairo_surface_t* surface = nullptr;
  cairo_t* cairo = nullptr;
  PangoLayout* layout = nullptr;
  PangoLayout* probe = nullptr;            // one sign at a time
  std::unordered_map<char32_t, bool> has;  // whether some font here has a sign
  std::set<char32_t> undrawn;

  Library() = default;
  Library(const Library&) = delete;
  Library& operator=(const Library&) = delete;
  ~Library() {
    if (probe != nullptr) g_object_unref(probe);
    if (layout != nullptr) g_object_unref(layout);
    if (cairo != nullptr) cairo_destroy(cairo);
    if (surface != nullptr) cairo_surface_destroy(surface);
  }

  /// Whether a font of this machine has the sign; of others the library draws a box with its
  /// number.
  bool has_sign(const char* at, std::size_t length) {
    const char32_t sign = g_utf8_get_char(at);
    const auto known = has.find(sign);
    if (known != has.end()) return known->second;
    pango_layout_set_text(probe, at, static_cast<int>(length));
    const bool there = pango_layout_get_unknown_glyphs_count(probe) == 0;
    has.emplace(sign, there);
    return there;
  }

  /// What can be drawn of a text: a sign that no font has is replaced, and kept in `undrawn`.
  std::string fit(const std::string& text) {
    std::string safe = drawable(text);
    std::string fitted;
    for (std::size_t at = 0; at < safe.size();) {
      const auto length = static_cast<std::size_t>(g_utf8_next_char(&safe[at]) - &safe[at]);
      if (length == 1 || has_sign(&safe[at], length)) {
        fitted.append(safe, at, length);
      } else {
        const char32_t sign = g_utf8_get_char(&safe[at]);
        if (sign != kReplacement) undrawn.insert(sign);
        fitted += sign != kReplacement && has_sign("\uFFFD", 3) ? "\uFFFD" : "?";
      }
      at += length;
    }
    return fitted;
  }

  /// Text and style into the layout; a negative width does not wrap.
  PangoLayout* lay(double width, const std::string& text, const TextStyle& style, Align align) {
    const std::string checked = fit(text);
    pango_layout_set_font_description(layout, make_font(style).get());
    pango_layout_set_width(layout,
                           width < 0.0 ? -1 : static_cast<int>(std::lround(width * PANGO_SCALE)));
    pango_layout_set_alignment(layout, align == Align::left     ? PANGO_ALIGN_LEFT
                                       : align == Align::centre ? PANGO_ALIGN_CENTER
                                                                : PANGO_ALIGN_RIGHT);
    pango_layout_set_text(layout, checked.data(), static_cast<int>(checked.size()));
    return layout;
  }

  /// Bytes of `text` at which its lines begin; the text is drawable.
  std::vector<std::size_t> line_starts(double width,
                                       const std::string& text,
                                       const TextStyle& style) {
    std::vector<std::size_t> starts;
    lay(width, text, style, Align::left);
    for (GSList* node = pango_layout_get_lines_readonly(layout); node != nullptr; node = node->next)
      starts.push_back(
          static_cast<std::size_t>(static_cast<PangoLayoutLine*>(node->data)->start_index));
    return starts;
  }
};

Canvas::Canvas(double width, double height, const PdfFacts& facts, TextSizes& sizes, bool dry)
    : width_(width),
      height_(height),
      sizes_(sizes),
      dry_(dry),
      library_(std::make_unique<Library>()) {
  Library& own = *library_;
  own.surface = cairo_pdf_surface_create_for_stream(append, &own.bytes, width, height);
  set_metadata(own.surface, facts);
  own.cairo = cairo_create(own.surface);
  own.layout = pango_cairo_create_layout(own.cairo);
  own.probe = pango_cairo_create_layout(own.cairo);
  pango_layout_set_font_description(own.probe, make_font({}).get());
  PangoContext* const context = pango_layout_get_context(own.layout);
  // Points are not pixels: widths must not be rounded to a screen's grid.
  pango_context_set_round_glyph_positions(context, FALSE);
  cairo_font_options_t* const options = cairo_font_options_create();
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  pango_cairo_context_set_font_options(context, options);
  cairo_font_options_destroy(options);
  pango_layout_set_wrap(own.layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_set_line_spacing(own.layout, kLineSpacing);
  // Commands and hashes are typed off the paper: a break must not put a hyphen into them.
  PangoAttrList* const attributes = pango_attr_list_new();
  pango_attr_list_insert(attributes, pango_attr_insert_hyphens_new(FALSE));
  pango_layout_set_attributes(own.layout, attributes);
  pango_attr_list_unref(attributes);
}

Canvas::~Canvas() = default;

void Canvas::polyline(const std::vector<Point>& points, const Stroke& stroke) {
  if (dry_) return;
  cairo_new_path(library_->cairo);
  trace(library_->cairo, points);
  stroke_path(library_->cairo, stroke);
}

void Canvas::fill(const Box& box, const Ink& ink) {
  if (dry_) return;
  set_ink(library_->cairo, ink);
  cairo_rectangle(library_->cairo, box.x, box.y, box.width, box.height);
  cairo_fill(library_->cairo);
}

void Canvas::outline(const Box& box, const Stroke& stroke) {
  if (dry_) return;
  cairo_rectangle(library_->cairo, box.x, box.y, box.width, box.height);
  stroke_path(library_->cairo, stroke);
}

void Canvas::disc(Point centre, double radius, const Ink& fill, const Stroke& stroke) {
  if (dry_) return;
  cairo_new_path(library_->cairo);
  cairo_arc(library_->cairo, centre.x, centre.y, radius, 0.0, 2.0 * M_PI);
  set_ink(library_->cairo, fill);
  cairo_fill_preserve(library_->cairo);
  stroke_path(library_->cairo, stroke);
}

void Canvas::polygon(const std::vector<Point>& points, const Ink& fill, const Stroke& stroke) {
  if (dry_) return;
  cairo_new_path(library_->cairo);
  trace(library_->cairo, points);
  cairo_close_path(library_->cairo);
  set_ink(library_->cairo, fill);
  cairo_fill_preserve(library_->cairo);
  stroke_path(library_->cairo, stroke);
}

void Canvas::label(Point at, const std::string& text, const TextStyle& style, Align align) {
  if (dry_) return;
  PangoLayout* const layout = library_->lay(-1.0, text, style, Align::left);
  PangoRectangle extents;
  pango_layout_get_extents(layout, nullptr, &extents);
  const double wide = static_cast<double>(extents.width) / PANGO_SCALE;
  const double shift = align == Align::left ? 0.0 : align == Align::centre ? wide / 2.0 : wide;
  const double base = static_cast<double>(pango_layout_get_baseline(layout)) / PANGO_SCALE;
  set_ink(library_->cairo, style.ink);
  cairo_move_to(library_->cairo, at.x - shift, at.y - base);
  pango_cairo_show_layout(library_->cairo, layout);
}

double Canvas::paragraph(
    Point at, double width, const std::string& text, const TextStyle& style, Align align) {
  if (text.size() > kWindow) {
    double height = 0.0;
    for (const std::string& line : lines(width, text, style))
      height += paragraph({at.x, at.y + height}, width, line, style, align);
    return height;
  }
  if (!dry_) {
    PangoLayout* const layout = library_->lay(width, text, style, align);
    set_ink(library_->cairo, style.ink);
    cairo_move_to(library_->cairo, at.x, at.y);
    pango_cairo_show_layout(library_->cairo, layout);
  }
  return size_of(width, text, style).height;
}

double Canvas::height_of(double width, const std::string& text, const TextStyle& style) {
  if (text.size() <= kWindow) return size_of(width, text, style).height;
  double height = 0.0;
  for (const std::string& line : lines(width, text, style))
    height += size_of(width, line, style).height;
  return height;
}

std::vector<std::string> Canvas::lines(double width,
                                       const std::string& text,
                                       const TextStyle& style) {
  const std::string safe = library_->fit(text);
  std::vector<std::string> broken;
  for (std::size_t at = 0; at < safe.size();) {
    const std::size_t end = character_start(safe, std::min(at + kWindow, safe.size()));
    const std::string window = safe.substr(at, end - at);
    const std::vector<std::size_t> starts = library_->line_starts(width, window, style);
    // The window's last line may go on behind it and is broken again, unless it is all there is.
    const bool last = end == safe.size();
    const std::size_t count = last || starts.size() == 1 ? starts.size() : starts.size() - 1;
    for (std::size_t i = 0; i < count; ++i) {
      const std::size_t next = i + 1 < starts.size() ? starts[i + 1] : window.size();
      std::string line = window.substr(starts[i], next - starts[i]);
      if (!line.empty() && line.back() == '\n') line.pop_back();
      broken.push_back(std::move(line));
    }
    at += count < starts.size() ? starts[count] : window.size();
  }
  return broken;
}

double Canvas::width_of(const std::string& text, const TextStyle& style) {
  return size_of(-1.0, text, style).width;
}

const TextSize& Canvas::size_of(double width, const std::string& text, const TextStyle& style) {
  const std::string key =
      fmt::format("{:.2f} {:.2f} {:d}{:d} {}", width, style.size, style.bold, style.mono, text);
  const auto known = sizes_.find(key);
  if (known != sizes_.end()) return known->second;
  int wide = 0;
  int high = 0;
  pango_layout_get_size(library_->lay(width, text, style, Align::left), &wide, &high);
  const TextSize size{.width = static_cast<double>(wide) / PANGO_SCALE,
                      .height = static_cast<double>(high) / PANGO_SCALE};
  return sizes_.emplace(key, size).first->second;
}

void Canvas::end_page() {
  ++page_;
  if (!dry_) cairo_show_page(library_->cairo);
}

std::vector<char32_t> Canvas::undrawn() const {
  return {library_->undrawn.begin(), library_->undrawn.end()};
}

void Canvas::bookmark(const std::string& text) {
  if (dry_) return;
  const std::string where = "page=" + std::to_string(page_);
  cairo_pdf_surface_add_outline(library_->surface, CAIRO_PDF_OUTLINE_ROOT, drawable(text).c_str(),
                                where.c_str(), static_cast<cairo_pdf_outline_flags_t>(0));
}

std::string Canvas::finish() {
  cairo_surface_finish(library_->surface);
  for (const cairo_status_t status :
       {cairo_status(library_->cairo), cairo_surface_status(library_->surface)}) {
    if (status != CAIRO_STATUS_SUCCESS && status != CAIRO_STATUS_SURFACE_FINISHED)
      throw std::runtime_error(std::string("PDF could not be drawn: ") +
                               cairo_status_to_string(status));
  }
  return std::move(library_->bytes);
}

}  // namespace weighwright::report
