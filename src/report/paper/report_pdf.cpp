#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <stdexcept>

#include "report/paper/closing_part.h"
#include "report/paper/evidence_part.h"
#include "report/paper/front_page.h"
#include "report/paper/page_size.h"
#include "report/paper/paper.h"
#include "report/paper/placements_part.h"
#include "report/paper/results_part.h"
#include "report/paper/sheet.h"

namespace weighwright::report {
namespace {

/// "Calibration certificate" is the title of an accredited laboratory's paper only.
void check_title(const DocumentView& view) {
  std::string lower = view.title;
  std::transform(lower.begin(), lower.end(), lower.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  if (lower.find("certificate") != std::string::npos && !view.accreditation)
    throw std::invalid_argument(fmt::format(
        "title \"{}\": no accreditation is given; without one the paper is a test report",
        view.title));
}

std::string item_name(const DocumentView& view) {
  if (view.as_left) return view.as_left->deck_name;
  return view.as_found ? view.as_found->deck_name : view.serial;
}

/// The mark that nothing follows (ISO/IEC 17025:2017, 7.8.2.1 d).
void draw_end(Sheet& sheet) {
  sheet.need(24.0);
  sheet.skip(8.0);
  const double middle = sheet.left() + sheet.width() / 2.0;
  const double half = sheet.canvas().width_of(sheet.words().end_of_report, kStrong) / 2.0 + 8.0;
  const Stroke thin{.width = 0.6, .ink = kGrey};
  const double y = sheet.y() + 6.0;
  sheet.canvas().line({sheet.left(), y}, {middle - half, y}, thin);
  sheet.canvas().line({middle + half, y}, {sheet.left() + sheet.width(), y}, thin);
  sheet.canvas().label({middle, y + 3.0}, sheet.words().end_of_report, kStrong, Align::centre);
  sheet.skip(14.0);
}

/// @return pages drawn
int draw(Canvas& canvas, const DocumentView& view, int pages) {
  const Phrases& words = phrases(view.language);
  Sheet sheet(canvas,
              {.title = view.title,
               .number = view.number,
               .foot = item_name(view),
               .practice = view.practice,
               .pages = pages},
              words);
  draw_front(sheet, view);
  if (view.as_found) draw_results(sheet, *view.as_found, words.results_as_found);
  if (view.as_left) draw_results(sheet, *view.as_left, words.results_as_left);
  draw_errors(sheet, view);
  draw_evidence(sheet, view);
  draw_placements(sheet, view);
  draw_work(sheet, view);
  draw_signature(sheet, view);
  draw_journal(sheet, view);
  draw_record(sheet, view);
  draw_signs(sheet);
  draw_end(sheet);
  sheet.close();
  return sheet.page();
}

}  // namespace

std::string draw_pdf(const DocumentView& view, PaperSize size) {
  check_title(view);
  const PaperExtent extent = extent_of(size);
  const PdfFacts facts{.title = fmt::format("{} {}", view.title, view.number),
                       .subject = item_name(view),
                       .made_by = view.made_by,
                       .date = metadata_date(view.issued)};
  TextSizes sizes;
  Canvas dry(extent.width, extent.height, facts, sizes, true);
  const int pages = draw(dry, view, 1);
  Canvas paper(extent.width, extent.height, facts, sizes, false);
  draw(paper, view, pages);
  return paper.finish();
}

}  // namespace weighwright::report
