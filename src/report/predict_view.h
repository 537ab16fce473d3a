#pragma once
/// The answer of `predict`, ready to be shown.

#include <optional>
#include <string>
#include <vector>

#include "deck/deck.h"
#include "report/answer_view.h"
#include "report/plan_view.h"

namespace weighwright::report {

struct PredictedStand {
  std::string stand;
  double load_N = 0.0;
  std::optional<double> signal_mV;  // empty: the cell gives no millivolts
};

struct LiftedStand {
  std::string stand;
  double gap_mm = 0.0;
};

struct OpenBearing {
  int joint = 0;        // from 1
  std::string side;     // "L" | "R"
  std::string bearing;  // "A-B right"
  double gap_mm = 0.0;
};

struct JackView {
  std::string stand;
  double lift_mm = 0.0;
  double force_N = 0.0;
  double free_lift_mm = 0.0;
  double most_lift_mm = 0.0;  // may be infinite: nothing else opens
  std::string limited_by;
  std::vector<double> stand_N;
  std::vector<std::string> open;  // "2R", "A-B right"
  std::vector<std::string> sentences;
};

struct PredictView {
  std::string deck_name;
  std::string headline;
  PlanView plan;
  std::vector<PredictedStand> stands;
  std::vector<double> section_N;
  std::vector<LiftedStand> lifted;
  std::vector<OpenBearing> open_bearings;
  std::vector<std::vector<double>> influence_N_per_m;
  Table stand_table;
  std::string stand_note;            // what the table's columns mean
  std::vector<std::string> remarks;  // what hangs, what is lifted
  std::optional<JackView> jack;
  std::vector<deck::Assumed> assumed;
};

/// @param brief  the plan and the remarks only
[[nodiscard]] std::string draw_text(const PredictView& view, bool brief);

}  // namespace weighwright::report
