#pragma once
/// What a practice site answers to one command, ready to be shown.

#include <string>
#include <vector>

#include "units/diagnostic.h"

namespace weighwright::report {

struct RehearseField {
  std::string text;
  bool number = false;
};

struct RehearseView {
  std::string command;  // as it was given
  std::string kind;     // of what was measured: "readings", "shift", ...; empty: nothing was
  std::vector<std::string> columns;
  std::vector<std::vector<RehearseField>> rows;
  std::vector<std::string> sentences;
  std::vector<std::string> cautions;
};

/// Measurements are a file as share, trim, span and job take it; what is said beside them stands in
/// its comments. Without a table: sentences.
[[nodiscard]] std::string draw_text(const RehearseView& view);
/// One object on one line: command, kind, rows by column, sentences, cautions.
[[nodiscard]] std::string print_json(const RehearseView& view);
/// A command that was refused, for whoever talks to the site.
[[nodiscard]] std::string draw_refusal(const units::Diagnostic& fault);
[[nodiscard]] std::string print_refusal_json(const units::Diagnostic& fault);

}  // namespace weighwright::report
