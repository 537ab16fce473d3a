#pragma once
/// The answer of `span`, ready to be shown.

#include <optional>
#include <string>
#include <vector>

#include "deck/deck.h"
#include "report/answer_view.h"

namespace weighwright::report {

struct SpanPointView {
  double load_kg = 0.0;
  double u_load_kg = 0.0;
  double indicated_kg = 0.0;
  double error_kg = 0.0;
  double deviation_kg = 0.0;
  double then_kg = 0.0;
  double then_error_kg = 0.0;
  double u_then_error_kg = 0.0;
  std::string material;
  bool fixes_material = false;
};

struct SpanLaterView {
  double load_kg = 0.0;
  double now_kg = 0.0;
  double then_kg = 0.0;
  double u_kg = 0.0;
};

struct SpanFindingView {
  std::string code;
  std::string file;
  int line = 0;
  bool blocks = false;
  std::string sentence;
  std::string look;
};

struct SpanTheoryView {
  double dead_mV_per_V = 0.0;
  double span_mV_per_V = 0.0;  // at Max, over the dead load
  double full_mV_per_V = 0.0;  // both
  double uV_per_V_per_kg = 0.0;
  double excitation_V = 0.0;
  double gravity_ratio = 1.0;
  std::vector<std::string> sentences;
};

struct SpanView {
  std::string deck_name;
  std::string code;  // "leave" | "set" | "cause_first" | "open" | "theory"
  bool done = false;
  std::string headline;
  std::string verdict;
  std::vector<std::string> open;         // what is not shown to be done: share, trim
  std::optional<SpanTheoryView> theory;  // empty: digital, no signal in mV
  std::string no_theory;                 // why
  // With results:
  bool has_results = false;
  double slope = 1.0;
  double u_slope = 0.0;
  double correction = 1.0;
  double set_at_kg = 0.0;
  double shows_now_kg = 0.0;
  double set_to_kg = 0.0;
  std::vector<SpanPointView> points;
  Table point_table;
  std::vector<SpanLaterView> later;
  Table later_table;
  std::vector<std::pair<double, double>> linearity_kg;  // load, shows
  std::vector<SpanFindingView> findings;
  std::vector<std::string> steps;  // what to do now
  std::vector<std::string> notes;
  std::vector<std::string> cautions;
  std::vector<deck::Assumed> assumed;
};

[[nodiscard]] std::string draw_text(const SpanView& view);

}  // namespace weighwright::report
