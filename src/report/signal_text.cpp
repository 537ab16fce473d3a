#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include "report/paragraph.h"
#include "report/signal_view.h"

namespace weighwright::report {
namespace {

constexpr int kWidth = 80;

std::string budget_text(const SignalView& view) {
  if (!view.budget) return wrap(view.why_none, kWidth, "  ", "  ");
  std::string text = "\nMillivolts\n";
  for (const std::string& sentence : view.budget_sentences) {
    text += wrap(sentence, kWidth, "  ", "    ");
  }
  if (view.cell_table) {
    text += '\n' + draw_text(*view.cell_table, "") + wrap(view.cell_note, kWidth);
  }
  return text;
}

/// "Not judged, 2 conditions: the deck file lacks site.temperature, cell.class."
std::string not_judged_text(const std::vector<InequalityView>& rows) {
  std::vector<std::string> missing;
  int count = 0;
  for (const InequalityView& row : rows) {
    if (row.verdict != "not_judged") continue;
    ++count;
    for (const std::string& key : row.missing) {
      if (std::find(missing.begin(), missing.end(), key) == missing.end()) missing.push_back(key);
    }
  }
  if (count == 0) return "";
  std::string keys;
  for (const std::string& key : missing) keys += (keys.empty() ? "" : ", ") + key;
  return wrap(fmt::format("Not judged, {} condition{}: the deck file lacks {}.", count,
                          count == 1 ? "" : "s", keys),
              kWidth, "  ? ", "    ");
}

/// Those that fail first, then those that hold; what can't be judged in one breath at the end.
std::string rows_text(const SignalView& view) {
  if (view.inequalities.empty()) return "";
  std::string text = "\n" + wrap(view.rules, kWidth);
  for (const char* const verdict : {"fails", "holds"}) {
    for (const InequalityView& row : view.inequalities) {
      if (row.verdict != verdict) continue;
      text += wrap(row.sentence, kWidth, row.verdict == "fails" ? "  WRONG: " : "  ok: ", "    ");
    }
  }
  text += not_judged_text(view.inequalities);
  for (const std::string& remark : view.remarks) text += wrap(remark, kWidth, "  ", "    ");
  return text;
}

std::string cause_text(const CauseView& cause, int number) {
  std::string text = wrap(cause.sentence, kWidth, fmt::format("  {}. ", number), "     ");
  if (!cause.evidence_sentence.empty()) {
    text += wrap(cause.evidence_sentence, kWidth, "     ", "     ");
  }
  return text;
}

std::string circuit_text(const CircuitView& circuit) {
  std::string text = wrap(circuit.headline, kWidth, "", "  ");
  int number = 0;
  for (const CauseView& cause : circuit.causes) {
    if (circuit.verdict == "fault" || circuit.verdict == "open")
      text += cause_text(cause, ++number);
  }
  if (!circuit.next_sentence.empty()) text += wrap(circuit.next_sentence, kWidth, "  -> ", "     ");
  for (const std::string& warning : circuit.warnings) text += wrap(warning, kWidth, "  ! ", "    ");
  return text;
}

std::string circuits_text(const SignalView& view) {
  if (view.circuits.empty()) return "";
  std::string text = "\nCircuit, from what the meter says\n";
  for (const CircuitView& circuit : view.circuits) text += circuit_text(circuit);
  return text;
}

std::string cautions_text(const SignalView& view) {
  if (view.cautions.empty()) return "";
  std::string text = "\n";
  for (const std::string& caution : view.cautions) text += wrap(caution, kWidth, "  ! ", "    ");
  return text;
}

}  // namespace

std::string draw_text(const SignalView& view) {
  std::string text = wrap("Signal: " + view.deck_name, kWidth, "", "  ");
  text += wrap(view.headline, kWidth, "", "  ");
  text += circuits_text(view);
  text += budget_text(view);
  text += rows_text(view);
  text += cautions_text(view);
  const std::string assumed = assumed_text(view.assumed, static_cast<int>(view.assumed.size()));
  if (!assumed.empty()) text += '\n' + assumed;
  return text;
}

}  // namespace weighwright::report
