#include <fmt/format.h>

#include <algorithm>

#include "report/share_sheet.h"

namespace weighwright::report {
namespace {

std::string escaped(const std::string& text) {
  std::string safe;
  for (const char c : text) {
    switch (c) {
      case '&':
        safe += "&amp;";
        break;
      case '<':
        safe += "&lt;";
        break;
      case '>':
        safe += "&gt;";
        break;
      case '"':
        safe += "&quot;";
        break;
      case '\'':
        safe += "&#39;";
        break;
      default:
        safe += c;
    }
  }
  return safe;
}

constexpr const char* kStyle = R"(
@page { size: A4; margin: 10mm 12mm; }
* { box-sizing: border-box; }
body { font: 13pt/1.3 "DejaVu Sans", "Liberation Sans", sans-serif; color: #000; margin: 0 auto;
       max-width: 190mm; padding: 2mm; }
h1 { font-size: 17pt; margin: 0 0 1mm; }
h2 { font-size: 14pt; margin: 3mm 0 1mm; border-bottom: 0.4mm solid #000; }
p { margin: 1mm 0; }
.verdict { border: 0.6mm solid #000; padding: 1.5mm 2.5mm; }
.verdict b { font-size: 15pt; }
.form { display: flex; gap: 4mm; margin: 1.5mm 0; }
.form span { flex: 1; border-bottom: 0.3mm solid #000; min-height: 7mm; padding-top: 2.5mm; font-size: 9pt; }
.ticks { font-size: 11pt; }
.ticks span { white-space: nowrap; margin-right: 4mm; }
svg { width: 100%; display: block; margin: 1mm 0; }
ul { list-style: none; margin: 0; padding: 0; }
li { margin: 1.2mm 0; padding-left: 7mm; position: relative; break-inside: avoid; }
li::before { content: ""; position: absolute; left: 0.5mm; top: 0.8mm; width: 4mm; height: 4mm;
             border: 0.4mm solid #000; }
.caution li::before { content: "!"; border: 0; font-weight: bold; top: 0; }
.why { font-size: 11pt; }
.boxes { display: grid; gap: 2mm; margin-top: 1.5mm; }
.boxes div { border: 0.5mm solid #000; height: 18mm; padding: 1mm 1.5mm; font-weight: bold; }
.boxes small { font-weight: normal; float: right; }
.dense { font-size: 9.5pt; }
.dense .boxes { gap: 1.2mm; }
.dense .boxes div { height: 10mm; }
.dense h1, .dense .verdict b { font-size: 12pt; }
.dense li { margin: 0.5mm 0; }
)";

/// Where things lie on the drawing, in its own units.
struct Drawing {
  double left = 84.0;
  double width = 670.0;
  double top = 62.0;
  double height = 56.0;
  double start_m = 0.0;
  double per_m = 1.0;
  [[nodiscard]] double x(double at_m) const { return left + (at_m - start_m) * per_m; }
  [[nodiscard]] double bottom() const { return top + height; }
};

Drawing make_drawing(const PlanView& plan) {
  Drawing drawing;
  drawing.start_m = plan.modules.front().start_m;
  drawing.per_m = drawing.width / (plan.modules.back().end_m - drawing.start_m);
  return drawing;
}

/// A row of words at the sections; its label stands at the left edge. What is to be done is bold.
std::string row_svg(const PlanRow& row, const std::vector<double>& places, double y, double size) {
  const bool bold = row.label == "left" || row.label == "right" || row.label == "do";
  const char* weight = bold ? "bold" : "normal";
  std::string svg = fmt::format(R"(<text x="2" y="{:.1f}" font-size="{}">{}</text>)", y,
                                size * 0.85, escaped(row.label));
  for (std::size_t section = 0; section < places.size(); ++section) {
    if (row.cells[section].empty()) continue;
    svg += fmt::format(
        R"(<text x="{:.1f}" y="{:.1f}" text-anchor="middle" font-size="{}" font-weight="{}">{}</text>)",
        places[section], y, size, weight, escaped(row.cells[section]));
  }
  return svg;
}

bool says_nothing(const PlanRow& row) {
  return std::all_of(row.cells.begin(), row.cells.end(),
                     [](const std::string& cell) { return cell.empty(); });
}

/// Rows one under the other from `y` on, which moves on; a row that says nothing takes no room.
std::string rows_svg(const std::vector<PlanRow>& rows,
                     const std::vector<double>& places,
                     double& y,
                     double size) {
  std::string svg;
  for (const PlanRow& row : rows) {
    if (says_nothing(row)) continue;
    svg += row_svg(row, places, y, size);
    y += size * 1.2;
  }
  return svg;
}

/// Where the words of each section stand: over it, or moved aside so that neighbours do not touch.
std::vector<double> word_places(const PlanView& plan, const Drawing& drawing, double least) {
  std::vector<double> places;
  for (const double at_m : plan.sections_m) {
    const double wanted = drawing.x(at_m);
    places.push_back(places.empty() ? wanted : std::max(wanted, places.back() + least));
  }
  double limit = 798.0 - least / 2.0;
  for (auto place = places.rbegin(); place != places.rend(); ++place) {
    *place = std::min(*place, limit);
    limit = *place - least;
  }
  return places;
}

std::string modules_svg(const PlanView& plan, const Drawing& drawing) {
  std::string svg;
  for (const PlanView::Piece& piece : plan.modules) {
    const double x = drawing.x(piece.start_m);
    const double width = drawing.x(piece.end_m) - x;
    svg += fmt::format(
        R"(<rect x="{:.1f}" y="{:.1f}" width="{:.1f}" height="{:.1f}" fill="none" stroke="#000" stroke-width="1.5"/>)",
        x, drawing.top, width, drawing.height);
    svg +=
        fmt::format(R"(<text x="{:.1f}" y="{:.1f}" text-anchor="middle" font-size="18">{}</text>)",
                    x + width / 2.0, drawing.top + drawing.height / 2.0 + 6.0, escaped(piece.mark));
  }
  return svg;
}

/// A dot for every stand, a cross for every bearing believed to hang.
std::string supports_svg(const PlanView& plan, const Drawing& drawing) {
  std::string svg;
  for (const double at_m : plan.sections_m) {
    for (const double y : {drawing.top, drawing.bottom()}) {
      svg +=
          fmt::format(R"(<circle cx="{:.1f}" cy="{:.1f}" r="5" fill="#000"/>)", drawing.x(at_m), y);
    }
  }
  const char* cross =
      R"(<text x="{:.1f}" y="{:.1f}" text-anchor="middle" font-size="16" font-weight="bold">&#215;</text>)";
  for (std::size_t joint = 0; joint < plan.joints.size(); ++joint) {
    const double x = drawing.x(plan.modules[joint].end_m);
    if (plan.joints[joint].left == JointMark::hangs) {
      svg += fmt::format(fmt::runtime(cross), x, drawing.top + 15.0);
    }
    if (plan.joints[joint].right == JointMark::hangs) {
      svg += fmt::format(fmt::runtime(cross), x, drawing.bottom() - 5.0);
    }
  }
  return svg;
}

std::string plan_svg(const PlanView& plan) {
  Drawing drawing = make_drawing(plan);
  const double size = plan.sections_m.size() > 7 ? 10.0 : 15.0;
  const std::vector<double> places = word_places(plan, drawing, size * 5.4);
  double y = size;
  std::string svg = rows_svg(plan.left, places, y, size);
  drawing.top = y - size * 0.4;
  svg += modules_svg(plan, drawing) + supports_svg(plan, drawing);
  const double middle = drawing.top + drawing.height / 2.0 + 4.0;
  svg += fmt::format(R"(<text x="44" y="{:.1f}" font-size="12">end 1</text>)", middle);
  svg +=
      fmt::format(R"(<text x="798" y="{:.1f}" font-size="12" text-anchor="end">2</text>)", middle);
  y = drawing.bottom() + 8.0 + size;
  svg += rows_svg(plan.right, places, y, size);
  y += size * 0.3;
  svg += rows_svg(plan.pairs, places, y, size);
  return fmt::format(
             R"(<svg viewBox="0 0 800 {:.0f}" role="img" aria-label="plan of the deck" font-family="sans-serif">)",
             y) +
         svg + "</svg>\n";
}

std::string list(const std::vector<std::string>& items, const char* kind) {
  if (items.empty()) return "";
  std::string html = fmt::format("<ul class=\"{}\">\n", kind);
  for (const std::string& item : items) html += "<li>" + item + "</li>\n";
  return html + "</ul>\n";
}

std::string todo(const ShareView& view) {
  std::vector<std::string> cautions;
  for (const std::string& caution : view.cautions) cautions.push_back(escaped(caution));
  std::vector<std::string> tasks;
  for (const AskView& ask : view.asks) tasks.push_back(escaped(ask.sentence));
  for (const MoveView& move : view.moves) {
    tasks.push_back("<b>" + escaped(move.instruction) + "</b> <span class=\"why\">" +
                    escaped(move.jacking + " Why: " + move.why) + "</span>");
  }
  for (const CannotFixView& item : view.cannot_fix) {
    tasks.push_back("<b>" + escaped(item.reason) + "</b> Look: " + escaped(item.look));
  }
  if (tasks.empty()) return "";
  return "<h2>Do</h2>\n" + list(cautions, "caution") + list(tasks, "tasks");
}

/// What fails or can't be judged: the sheet must not look surer than the answer.
std::string doubts(const ShareView& view) {
  std::string html;
  for (const JudgementView& judgement : view.judgements) {
    if (judgement.verdict == "holds" || judgement.sentence.empty()) continue;
    html += "<p class=\"why\">? " + escaped(judgement.sentence) + "</p>\n";
  }
  if (!view.because.empty()) html += "<p class=\"why\">" + escaped(view.because) + "</p>\n";
  return html;
}

std::string boxes(const ShareView& view) {
  std::string html = "<h2>Next readings (" + escaped(view.unit) + "), in walking order</h2>\n";
  const std::size_t sections = view.plan.sections_m.size();
  const std::size_t columns = sections <= 7 ? sections : (sections + 1) / 2;
  html += fmt::format("<div class=\"boxes\" style=\"grid-template-columns: repeat({}, 1fr)\">\n",
                      columns);
  for (const std::string& stand : view.walking_order) {
    std::string tag;
    for (const StandView& shown : view.stands) {
      if (shown.stand == stand && !shown.tag.empty())
        tag = "<small>" + escaped(shown.tag) + "</small>";
    }
    html += "<div>" + escaped(stand) + tag + "</div>\n";
  }
  return html + "</div>\n";
}

}  // namespace

std::string draw_sheet_html(const ShareView& view) {
  const bool dense = view.stands.size() > 14 || view.moves.size() + view.cannot_fix.size() > 4;
  std::string html =
      "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta name=\"viewport\" content=\"width=device-width\">\n<title>Pit sheet: " +
      escaped(view.deck_name) + "</title>\n<style>" + kStyle + "</style>\n</head>\n<body" +
      (dense ? " class=\"dense\"" : "") + ">\n";
  html += "<h1>Pit sheet: " + escaped(view.deck_name) + "</h1>\n";
  html +=
      "<div class=\"form\"><span>Date</span><span>Read by</span><span>Meter</span><span>Supply, V"
      "</span></div>\n";
  html += "<p class=\"ticks\">";
  for (const char* tick : {"traffic locked out", "rods slack", "panels on", "nothing touches",
                           "nobody on deck", "warm 30 min"}) {
    html += std::string("<span>&#9744; ") + tick + "</span> ";
  }
  html += "</p>\n<div class=\"verdict\"><b>" + escaped(view.headline) + "</b> " +
          escaped(view.verdict) + "</div>\n";
  html += plan_svg(view.plan) + doubts(view) + todo(view) + boxes(view);
  return html + "</body>\n</html>\n";
}

}  // namespace weighwright::report
