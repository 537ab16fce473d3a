#pragma once
/// The answer of `signal`, ready to be shown.

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "deck/deck.h"
#include "report/answer_view.h"

namespace weighwright::report {

struct RangeSignalView {
  double capacity_kg = 0.0;
  double interval_kg = 0.0;
  double interval_V = 0.0;
};

struct CellSignalView {
  std::string stand;
  double force_N = 0.0;  // of the dead load, or as given
  double supply_V = 0.0;
  double signal_V = 0.0;  // alone at that supply, at that force
  double max_V = 0.0;     // with Max shared equally on top of the dead load
  double share = 0.0;     // of its capacity, at that force
  double max_share = 0.0;
  double weight = 0.0;  // its part in the whole over the mean of all
};

/// What the circuit gives; not there where cells are digital.
struct BudgetView {
  double output_V = 0.0;  // at the forces asked for: those of a file, else the dead load
  double supply_A = 0.0;
  double box_V = 0.0;
  double supply_V = 0.0;
  double supply_ohm = 0.0;
  bool sensed = false;
  double dead_load_V = 0.0;
  double max_V = 0.0;
  double dead_load_V_per_V = 0.0;
  double max_V_per_V = 0.0;
  std::vector<RangeSignalView> ranges;  // never empty
  std::optional<double> least_interval_V;
  double home_loss = 0.0;  // of the supply
  double cell_loss = 0.0;  // of the box's supply
  std::optional<double> per_home_metre;
  std::optional<double> per_cell_metre;
  std::optional<double> per_corner_metre;
  std::optional<double> per_kelvin;
  std::vector<CellSignalView> cells;
};

/// One row of the compatibility check.
struct InequalityView {
  std::string code;
  std::string clause;
  std::string what;
  std::string left_name;
  std::string relation;
  std::string right_name;
  std::string unit;            // SI
  std::optional<double> left;  // SI; empty: not known, or a text
  std::optional<double> right;
  std::string left_text;  // classes
  std::string right_text;
  std::string verdict;  // "holds" | "fails" | "not_judged"
  std::optional<double> margin;
  std::vector<std::string> missing;
  bool source_unverified = false;
  std::string sentence;  // figures in the units of the site
};

struct EvidenceView {
  std::string quantity;
  std::string unit;
  double measured = 0.0;   // may be infinite: over the meter's limit
  double if_sound = 0.0;   // what is expected of a sound one before it is measured
  double tolerance = 0.0;  // of that
  double if_cause = 0.0;
  double speaks = 0.0;
};

struct CauseView {
  std::string stand;  // "2L" or "box"
  std::string code;
  std::string detail;
  std::string cell;  // rows of the box: the cell that it is; empty: none of them
  double probability = 0.0;
  std::string sentence;
  std::vector<EvidenceView> evidence;
  std::string evidence_sentence;
  std::vector<std::pair<std::string, double>> fitted;
};

struct NextMeasurementView {
  std::string quantity;
  std::string first;
  std::string second;
  double if_first = 0.0;
  double if_second = 0.0;
};

/// What the readings of one cell, or of the box, say.
struct CircuitView {
  std::string stand;    // "2L" or "box"
  std::string verdict;  // "sound" | "open" | "fault" | "unexplained"
  std::string headline;
  std::vector<CauseView> causes;  // most probable first
  std::optional<NextMeasurementView> next;
  std::string next_sentence;
  std::vector<std::string> warnings;
};

struct SignalView {
  std::string deck_name;
  std::string headline;
  bool fine = true;      // no inequality fails and no circuit fault is likely
  std::string why_none;  // empty: there is a budget
  std::optional<BudgetView> budget;
  std::vector<std::string> budget_sentences;
  std::optional<Table> cell_table;
  std::string cell_note;
  std::string rules;  // which check it is
  std::vector<InequalityView> inequalities;
  std::vector<std::string> remarks;
  std::vector<CircuitView> circuits;
  std::vector<std::string> cautions;  // before leads are touched
  std::vector<deck::Assumed> assumed;
};

[[nodiscard]] std::string draw_text(const SignalView& view);

}  // namespace weighwright::report
