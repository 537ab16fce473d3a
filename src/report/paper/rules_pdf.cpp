// The check list of a rulebook, to be ticked beside the printed edition and signed.
#include <fmt/format.h>

#include "report/paper/closing_part.h"
#include "report/paper/page_size.h"
#include "report/paper/paper.h"
#include "report/paper/rules_part.h"

namespace weighwright::report {
namespace {

/// @return pages drawn
int draw(Canvas& canvas, const RulesView& view, int pages) {
  const Phrases& words = phrases("en");
  Sheet sheet(canvas,
              {.title = words.rules_list,
               .number = view.title,
               .foot = view.deck_name,
               .practice = view.practice,
               .pages = pages},
              words);
  constexpr TextStyle kTitle{.size = 17.0, .bold = true, .ink = kAccent};
  sheet.skip(canvas.paragraph({sheet.left(), sheet.y()}, sheet.width(), words.rules_list, kTitle) +
             2.0);
  sheet.paragraph(view.title, kStrong);
  if (!view.remark.empty()) sheet.paragraph(view.remark);
  if (!view.says.empty()) sheet.paragraph(view.says);
  if (!view.known.empty()) sheet.paragraph(view.known);
  sheet.paragraph(fmt::format(fmt::runtime(words.rules_hash), in_groups(view.hash)), kSmall);
  if (!view.made.empty()) sheet.paragraph(fmt::format(fmt::runtime(words.made), view.made), kSmall);
  sheet.skip(4.0);
  draw_rule_numbers(sheet, view);
  sheet.subheading(words.rules_how);
  sheet.list(view.how);
  draw_signature(sheet, DocumentView{});
  draw_signs(sheet);
  sheet.close();
  return sheet.page();
}

}  // namespace

std::string draw_pdf(const RulesView& view, PaperSize size) {
  const PaperExtent extent = extent_of(size);
  const PdfFacts facts{.title = fmt::format("{} {}", phrases("en").rules_list, view.title),
                       .subject = view.deck_name,
                       .made_by = "",
                       .date = ""};
  TextSizes sizes;
  Canvas dry(extent.width, extent.height, facts, sizes, true);
  const int pages = draw(dry, view, 1);
  Canvas paper(extent.width, extent.height, facts, sizes, false);
  draw(paper, view, pages);
  return paper.finish();
}

}  // namespace weighwright::report
