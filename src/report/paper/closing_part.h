#pragma once
/// What was found, done and left; statements, signature, journal; the job record.

#include "report/document_view.h"
#include "report/paper/sheet.h"

namespace weighwright::report {

void draw_work(Sheet& sheet, const DocumentView& view);
void draw_signature(Sheet& sheet, const DocumentView& view);
void draw_journal(Sheet& sheet, const DocumentView& view);
void draw_record(Sheet& sheet, const DocumentView& view);
/// Which signs could not be drawn; nothing where all could.
void draw_signs(Sheet& sheet);
/// A hash in groups of eight digits.
[[nodiscard]] std::string in_groups(const std::string& hash);

}  // namespace weighwright::report
