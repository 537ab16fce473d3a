#include "report/paper/closing_part.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>

#include "report/paper/excerpt.h"
#include "report/paper/paper_table.h"
#include "report/paper/qr_code.h"

namespace weighwright::report {
namespace {

constexpr const char* kNone = "\u2013";
constexpr double kHeadRoom = 30.0;  // of a head's name and hash
constexpr double kMostCode = 70.0 * kPerMm;
constexpr double kMostBeside = 110.0 * kPerMm;  // that heads take beside a code
constexpr std::size_t kMostSigned = 80;
constexpr TextStyle kHash{.size = 7.5, .mono = true};

std::string or_none(const std::string& text) {
  return text.empty() ? kNone : text;
}

void draw_list(Sheet& sheet, const char* title, const std::vector<std::string>& items) {
  if (std::all_of(items.begin(), items.end(), [](const auto& item) { return item.empty(); }))
    return;
  sheet.heading(title);
  sheet.list(items);
}

void draw_seals(Sheet& sheet, const DocumentView& view) {
  if (view.seals.empty()) return;
  const Phrases& words = sheet.words();
  PaperTable table;
  table.columns = {{.head = words.seal_when},
                   {.head = words.seal_what, .align = Align::left, .stretch = true},
                   {.head = words.seal_number},
                   {.head = words.seal_place, .align = Align::left, .stretch = true},
                   {.head = words.seal_authority, .align = Align::left, .stretch = true}};
  for (const SealView& seal : view.seals) {
    table.rows.push_back(
        {.kind = PaperRow::Kind::cells,
         .cells = {seal.when == "left" ? words.left : words.found, seal.what, or_none(seal.number),
                   or_none(seal.place), or_none(seal.authority)}});
  }
  sheet.heading(words.seals, 50.0);
  draw_table(sheet, table);
}

void draw_settings(Sheet& sheet, const DocumentView& view) {
  if (view.settings.empty()) return;
  const Phrases& words = sheet.words();
  PaperTable table;
  table.columns = {{.head = words.setting, .align = Align::left, .stretch = true},
                   {.head = words.setting_value, .align = Align::left, .stretch = true}};
  for (const auto& [name, value] : view.settings)
    table.rows.push_back({.kind = PaperRow::Kind::cells, .cells = {name, value}});
  sheet.heading(words.settings, 50.0);
  draw_table(sheet, table);
}

std::string journal_sentence(const Phrases& words, const DocumentView& view) {
  return fmt::format(fmt::runtime(words.journal_says), view.entry_count);
}

std::string head_name(const Phrases& words, const HeadView& head) {
  return fmt::format(fmt::runtime(words.head), one_line(head.device), head.sequence);
}

/// Heads at the left of the code; the height that they take.
double heads_height(Sheet& sheet, const DocumentView& view, double width, bool draw) {
  Canvas& canvas = sheet.canvas();
  double y = sheet.y();
  const auto put = [&](const std::string& text, const TextStyle& style, double after) {
    y += (draw ? canvas.paragraph({sheet.left(), y}, width, text, style)
               : canvas.height_of(width, text, style)) +
         after;
  };
  const Phrases& words = sheet.words();
  put(journal_sentence(words, view), kBody, 4.0);
  for (const HeadView& head : view.heads) {
    put(head_name(words, head), kSmall, 0.5);
    put(in_groups(head.hash), kHash, 4.0);
  }
  return y - sheet.y();
}

/// More heads than stand beside a code: they go over pages below it.
void draw_many_heads(Sheet& sheet, const DocumentView& view) {
  const Phrases& words = sheet.words();
  sheet.paragraph(journal_sentence(words, view));
  for (const HeadView& head : view.heads) {
    sheet.need(kHeadRoom);
    sheet.whole(head_name(words, head), kSmall);
    sheet.skip(-2.0);
    sheet.whole(in_groups(head.hash), kHash);
  }
}

void draw_command(Sheet& sheet, const DocumentView& view, const CodeText& code) {
  const Phrases& words = sheet.words();
  if (code.text.empty() && !view.qr.empty()) sheet.paragraph(words.no_code, kSmall);
  if (!code.text.empty() && code.heads < code.heads_of_whole)
    sheet.paragraph(fmt::format(fmt::runtime(words.code_holds), code.heads, code.heads_of_whole),
                    kSmall);
  if (view.verify_command.empty()) return;
  sheet.need(kHeadRoom);
  sheet.whole(words.verify_with, kSmall);
  sheet.skip(-2.0);
  sheet.whole(view.verify_command, kHash);
}

struct SignatureField {
  std::string label;
  std::string value;  // empty: a line to write on
  double width = 0.0;
};

}  // namespace

std::string in_groups(const std::string& hash) {
  constexpr std::size_t kGroup = 8;
  std::string text;
  for (std::size_t i = 0; i < hash.size(); i += kGroup)
    text += (i == 0 ? "" : " ") + hash.substr(i, kGroup);
  return text;
}

void draw_work(Sheet& sheet, const DocumentView& view) {
  const Phrases& words = sheet.words();
  draw_list(sheet, words.adjustments, view.adjustments);
  draw_seals(sheet, view);
  draw_settings(sheet, view);
  draw_list(sheet, words.deviations, view.deviations);
  draw_list(sheet, words.by_customer, view.by_customer);
  draw_list(sheet, words.by_others, view.by_others);
  draw_list(sheet, words.remarks, view.remarks);
  draw_list(sheet, words.opinions, view.opinions);
  draw_list(sheet, words.statements, view.statements);
}

void draw_signature(Sheet& sheet, const DocumentView& view) {
  const Phrases& words = sheet.words();
  constexpr double kGap = 6.0 * kPerMm;
  const double room = sheet.width() - 3.0 * kGap;
  const SignatureField fields[] = {
      {words.name, one_line(view.authorised, kMostSigned), room * 0.28},
      {words.role, one_line(view.role, kMostSigned), room * 0.24},
      {words.date, view.authorised.empty() ? "" : view.issued, room * 0.16},
      {words.signature, "", room * 0.32}};
  constexpr double kHeight = 16.0 * kPerMm;
  sheet.heading(words.authorised, kHeight + 14.0);
  Canvas& canvas = sheet.canvas();
  double x = sheet.left();
  const double line = sheet.y() + kHeight - 12.0;
  for (const SignatureField& field : fields) {
    const double tall = canvas.height_of(field.width, field.value, kBody);
    if (!field.value.empty())
      canvas.paragraph({x, line - tall - 2.0}, field.width, field.value, kBody);
    canvas.line({x, line}, {x + field.width, line}, {.width = 0.6});
    canvas.paragraph({x, line + 2.0}, field.width, field.label, kLabel);
    x += field.width + kGap;
  }
  sheet.skip(kHeight + 4.0);
}

void draw_journal(Sheet& sheet, const DocumentView& view) {
  if (view.heads.empty() && view.qr.empty()) return;
  const CodeText code = code_text(view.qr, kMostCode);
  const double width = sheet.width() - (code.side > 0.0 ? code.side + 5.0 * kPerMm : 0.0);
  const double heads = heads_height(sheet, view, width, false);
  const bool many = heads > kMostBeside;
  const double height = many ? code.side : std::max(code.side, heads);
  sheet.heading(sheet.words().journal, height);
  if (!code.text.empty())
    draw_qr(sheet.canvas(), {sheet.left() + sheet.width() - code.side, sheet.y()}, code);
  if (!many) heads_height(sheet, view, width, true);
  sheet.skip(height + 4.0);
  if (many) draw_many_heads(sheet, view);
  draw_command(sheet, view, code);
  if (!view.made_by.empty())
    sheet.paragraph(fmt::format(fmt::runtime(sheet.words().made_by), view.made_by), kSmall);
}

void draw_signs(Sheet& sheet) {
  constexpr std::size_t kMost = 40;
  const std::vector<char32_t> signs = sheet.canvas().undrawn();
  if (signs.empty()) return;
  std::string list;
  for (std::size_t i = 0; i < std::min(signs.size(), kMost); ++i)
    list += fmt::format("{}U+{:04X}", i == 0 ? "" : " ", static_cast<unsigned>(signs[i]));
  if (signs.size() > kMost) list += " \u2026";
  sheet.paragraph(fmt::format(fmt::runtime(sheet.words().no_font), list), kSmall);
}

void draw_record(Sheet& sheet, const DocumentView& view) {
  if (view.record.empty()) return;
  const Phrases& words = sheet.words();
  PaperTable table;
  table.columns = {{.head = words.entry, .align = Align::right},
                   {.head = words.when},
                   {.head = words.author},
                   {.head = words.what, .align = Align::left, .stretch = true}};
  for (const EntryView& entry : view.record) {
    const std::string says =
        entry.fate.empty() ? entry.says : fmt::format("{} \u2192 {}", entry.says, entry.fate);
    table.rows.push_back({.kind = PaperRow::Kind::cells,
                          .cells = {std::to_string(entry.number), entry.time, entry.author, says}});
  }
  sheet.heading(words.record, 60.0);
  draw_table(sheet, table);
}

}  // namespace weighwright::report
