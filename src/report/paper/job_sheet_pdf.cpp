#include <fmt/format.h>

#include <algorithm>
#include <cstddef>

#include "report/paper/closing_part.h"
#include "report/paper/deck_drawing.h"
#include "report/paper/excerpt.h"
#include "report/paper/page_size.h"
#include "report/paper/paper.h"
#include "report/paper/qr_code.h"
#include "report/paper/sheet.h"

namespace weighwright::report {
namespace {

constexpr double kMargin = 12.0 * kPerMm;
constexpr double kMostCode = 50.0 * kPerMm;
constexpr std::size_t kMostHeads = 5;
constexpr double kFirstScale = 1.3;
constexpr double kLeastScale = 0.42;
constexpr double kScaleStep = 0.93;

/// The sheet at one size of type; laid out dry until it fits on its page.
class Pit {
 public:
  Pit(Canvas& canvas, const JobSheetView& view, double scale)
      : canvas_(canvas), view_(view), words_(phrases(view.language)), scale_(scale) {}

  /// @return where it ends, points from the top
  double draw() {
    draw_head();
    draw_plan();
    draw_moves();
    draw_words(words_.cautions, view_.cautions, "!");
    draw_words(words_.how, view_.how, "\u2013");
    draw_words(words_.then, view_.then, "\u2610");
    draw_foot();
    return y_;
  }

 private:
  [[nodiscard]] double width() const { return canvas_.width() - 2.0 * kMargin; }
  [[nodiscard]] TextStyle style(double size, bool bold = false, Ink ink = kBlack) const {
    return {.size = size * scale_, .bold = bold, .ink = ink};
  }

  void put(const std::string& text, const TextStyle& as, double after) {
    if (text.empty()) return;
    y_ += canvas_.paragraph({kMargin, y_}, width(), text, as) + after * scale_;
  }

  void draw_head() {
    if (!view_.practice.empty()) {
      const TextStyle as{.size = 15.0, .bold = true};
      const double tall = canvas_.height_of(width(), view_.practice, as) + 8.0;
      canvas_.outline({kMargin, y_, width(), tall}, {.width = 2.0});
      canvas_.paragraph({kMargin, y_ + 4.0}, width(), view_.practice, as, Align::centre);
      y_ += tall + 6.0;
    }
    put(view_.title, style(22.0, true), 1.0);
    std::string line = view_.deck_name;
    if (!view_.made.empty())
      line += (line.empty() ? "" : "   ") + fmt::format(fmt::runtime(words_.made), view_.made);
    put(line, style(11.0, false, kGrey), 4.0);
    put(view_.headline, style(15.0, true), 6.0);
  }

  void draw_plan() {
    if (!(view_.plan.length_m > 0.0)) return;
    DeckDrawing how{.most_height = 40.0 * kPerMm * scale_, .stand_size = 13.0, .marked = {}};
    for (const JobSheetMoveView& move : view_.moves) how.marked.push_back(move.stand);
    draw_deck(canvas_, {kMargin, y_}, width(), view_.plan, {}, how, words_);
    y_ += deck_height(view_.plan, width(), how) + 6.0 * scale_;
  }

  /// Stand, what to do, a box to tick; read at arm's length.
  void draw_moves() {
    const double stand_room = 30.0 * kPerMm * std::max(scale_, 0.6);
    const double tick = 10.0 * kPerMm * scale_;
    const double says = width() - stand_room - tick - 10.0;
    for (const JobSheetMoveView& move : view_.moves) {
      canvas_.line({kMargin, y_}, {kMargin + width(), y_}, {.width = 0.8});
      const double top = y_ + 4.0 * scale_;
      double left = canvas_.paragraph({kMargin, top}, stand_room, move.stand, style(34.0, true));
      if (!move.tag.empty())
        left += canvas_.paragraph({kMargin, top + left}, stand_room,
                                  fmt::format(fmt::runtime(words_.box), move.tag),
                                  style(11.0, false, kGrey));
      const double x = kMargin + stand_room;
      double right = canvas_.paragraph({x, top}, says, move.headline, style(24.0, true));
      if (!move.detail.empty())
        right += canvas_.paragraph({x, top + right}, says, move.detail, style(13.0));
      canvas_.outline({kMargin + width() - tick, top + 3.0, tick, tick}, {.width = 1.2});
      y_ = top + std::max({left, right, tick + 4.0}) + 4.0 * scale_;
    }
    if (!view_.moves.empty()) {
      canvas_.line({kMargin, y_}, {kMargin + width(), y_}, {.width = 0.8});
      y_ += 6.0 * scale_;
    }
  }

  void draw_words(const char* title, const std::vector<std::string>& items, const char* mark) {
    if (items.empty()) return;
    put(title, style(12.0, true), 1.0);
    const double indent = 6.0 * kPerMm * scale_;
    for (const std::string& item : items) {
      canvas_.paragraph({kMargin, y_}, indent, mark, style(12.0, true));
      y_ += canvas_.paragraph({kMargin + indent, y_}, width() - indent, item, style(12.0)) +
            2.0 * scale_;
    }
    y_ += 4.0 * scale_;
  }

  /// Heads of the journal beside the code, at the foot of the page where there is room.
  void draw_foot() {
    const CodeText code = code_text(view_.qr, kMostCode);
    const double room = width() - code.side - (code.side > 0.0 ? 10.0 : 0.0);
    const double tall = draw_heads(room, 0.0, code, false);
    const double height = std::max(tall, code.side);
    const double top = std::max(y_, canvas_.height() - kMargin - height - 1.0);
    draw_heads(room, top + height - tall, code, true);
    if (code.side > 0.0) draw_qr(canvas_, {kMargin + width() - code.side, top}, code);
    y_ = top + height;
  }

  /// @return their height
  double draw_heads(double room, double top, const CodeText& code, bool draw) {
    constexpr TextStyle kHead{.size = 7.0, .ink = kGrey};
    constexpr TextStyle kHash{.size = 6.5, .mono = true};
    double y = top;
    const auto put_line = [&](const std::string& text, const TextStyle& as) {
      y += draw ? canvas_.paragraph({kMargin, y}, room, text, as)
                : canvas_.height_of(room, text, as);
    };
    const std::size_t count = std::min(view_.heads.size(), kMostHeads);
    for (std::size_t i = 0; i < count; ++i) {
      put_line(head_line(view_.heads[i]), kHead);
      put_line(in_groups(view_.heads[i].hash), kHash);
      y += 2.0;
    }
    if (count < view_.heads.size())
      put_line(fmt::format(fmt::runtime(words_.more_heads), view_.heads.size() - count), kHead);
    if (code.text.empty() && !view_.qr.empty()) put_line(words_.no_code, kHead);
    return y - top;
  }

  [[nodiscard]] std::string head_line(const HeadView& head) const {
    return fmt::format(fmt::runtime(words_.head), one_line(head.device), head.sequence);
  }

  Canvas& canvas_;
  const JobSheetView& view_;
  const Phrases& words_;
  double scale_;
  double y_ = kMargin;
};

}  // namespace

std::string draw_pdf(const JobSheetView& view, PaperSize size) {
  const PaperExtent extent = extent_of(size);
  const PdfFacts facts{.title = view.title,
                       .subject = view.deck_name,
                       .made_by = "",
                       .date = metadata_date(view.made)};
  TextSizes sizes;
  Canvas dry(extent.width, extent.height, facts, sizes, true);
  double scale = kFirstScale;
  while (scale > kLeastScale && Pit(dry, view, scale).draw() > extent.height - kMargin)
    scale *= kScaleStep;
  Canvas paper(extent.width, extent.height, facts, sizes, false);
  Pit(paper, view, scale).draw();
  paper.end_page();
  return paper.finish();
}

}  // namespace weighwright::report
