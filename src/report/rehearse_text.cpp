#include "report/rehearse_view.h"

namespace weighwright::report {
namespace {

std::string joined(const std::vector<RehearseField>& row) {
  std::string line;
  for (const RehearseField& field : row) line += (&field == &row.front() ? "" : ",") + field.text;
  return line + "\n";
}

}  // namespace

std::string draw_text(const RehearseView& view) {
  const std::string mark = view.columns.empty() ? "" : "# ";
  std::string text;
  for (const std::string& caution : view.cautions) text += mark + "CAUTION: " + caution + "\n";
  for (const std::string& sentence : view.sentences) text += mark + sentence + "\n";
  if (view.columns.empty()) return text;
  for (const std::string& column : view.columns) {
    text += (&column == &view.columns.front() ? "" : ",") + column;
  }
  text += "\n";
  for (const std::vector<RehearseField>& row : view.rows) text += joined(row);
  return text;
}

std::string draw_refusal(const units::Diagnostic& fault) {
  return "refused: " + fault.what + "; " + fault.expected + "\n";
}

}  // namespace weighwright::report
