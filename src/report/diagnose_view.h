#pragma once
/// The answer of `diagnose`, ready to be shown.

#include <optional>
#include <string>
#include <vector>

#include "deck/deck.h"

namespace weighwright::report {

/// One reading or look, and what it says of a cause.
struct SpokeView {
  std::string what;
  std::optional<double> measured_kg;  // empty: it has no figure
  std::optional<double> expected_kg;
  std::optional<double> if_sound_kg;
  double speaks = 0.0;  // natural log of the likelihood ratio, positive for the cause
  std::string file;
  int line = 0;
  std::string sentence;
};

struct FaultView {
  std::string code;
  std::string where;
  double probability = 0.0;
  std::optional<double> size;
  std::optional<double> u_size;
  std::string size_unit;
  bool innocent = false;
  bool mends_by_sharing = false;
  int alike = 0;         // causes with the same number can't be told apart by what was measured
  std::string name;      // "moisture in the cell of 2L, its lead or gland"
  std::string sentence;  // with its chance
  std::string remedy;    // what mends it
  std::vector<SpokeView> evidence;
};

struct NextView {
  std::string code;
  std::string where;
  std::optional<double> load_kg;
  std::string first;  // the two causes it tells apart
  std::string first_where;
  std::string second;
  std::string second_where;
  double if_first = 0.0;  // chance of yes, or kg
  double if_second = 0.0;
  std::string unit;  // "kg"; empty: a chance
  double separation = 0.0;
  double gain_nat = 0.0;
  double minutes = 0.0;
  std::string instruction;  // how to do it
  std::string shows;        // what each cause would show
  std::vector<std::string> cautions;
};

struct DoNotTouchView {
  std::string what;
  std::string because;
  std::string sentence;
};

struct DiagnoseView {
  std::string deck_name;
  std::string code;  // "sound", "open" (undecided), "fault", "unknown"
  bool fine = false;
  std::string headline;
  std::string verdict;
  bool hold = false;
  std::string hold_reason;
  std::vector<std::string> do_not_adjust;  // "screws", "shims", "trims", "span"
  double probability_of_fault = 0.0;
  bool explained = true;
  std::vector<FaultView> causes;
  std::vector<NextView> next;
  std::vector<DoNotTouchView> do_not_touch;
  std::vector<std::string> notes;
  std::vector<deck::Assumed> assumed;
};

[[nodiscard]] std::string draw_text(const DiagnoseView& view);
[[nodiscard]] std::string print_json(const DiagnoseView& view);

}  // namespace weighwright::report
