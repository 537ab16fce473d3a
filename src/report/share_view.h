#pragma once
/// The answer of `share`, ready to be shown: sentences in the user's units, and the numbers for
/// JSON.

#include <optional>
#include <string>
#include <vector>

#include "deck/deck.h"
#include "report/plan_view.h"

namespace weighwright::report {

/// Something that was judged of the readings: whether it holds, and what that means.
struct JudgementView {
  std::string code;     // "parity", "roll", "no_load", "map", "excitation", "grout", "conditions"
  std::string verdict;  // "holds" | "fails" | "cannot_judge"
  std::string sentence;
  std::optional<double> residual_N;
  std::optional<double> u_residual_N;
  std::optional<double> hidden_N;
};

struct CannotFixView {
  std::string code;            // closed list of the contract
  std::optional<int> section;  // from 1
  std::string stand;           // "2L" or empty
  std::optional<int> joint;    // from 1
  std::string reason;          // what is wrong
  std::string evidence;        // what shows it
  std::string look;            // where to look instead
};

struct MoveView {
  std::string stand;  // "2R"
  std::string tag;    // "terminal 4": the box's or the cell's own number; may be empty
  bool shim = false;
  double turns = 0.0;
  double raise_mm = 0.0;  // shim: thickness added (-: taken out)
  std::vector<double> shims_mm;
  bool jack_first = false;
  double load_N = 0.0;
  double torque_Nm = 0.0;
  double jack_N = 0.0;  // 0: not computed
  double section_N = 0.0;
  double lift_mm = 0.0;
  double most_lift_mm = 0.0;  // may be infinite: nothing else opens
  std::string lift_limited_by;
  std::optional<double> grout_mm = {};  // gap under the plate afterwards; empty: no window
  std::string short_form;               // "up 1 1/2" for the plan
  std::string instruction;              // what to do, in the words of the trade
  std::string jacking;                  // "Jack first: ..." or "No jack: ..."
  std::string why;
};

struct StandView {
  std::string stand;
  std::string tag;
  double signal_mV = 0.0;
  std::optional<double> net_mV;
  double load_N = 0.0;
  double u_load_N = 0.0;
  double expected_mV = 0.0;
  double expected_N = 0.0;
  double chance_free = 0.0;
  std::string shown;  // what it reads, in the unit of the readings ("1.09 mV")
};

struct PairView {
  int section = 0;  // from 1
  double difference_mV = 0.0;
  double tolerance_mV = 0.0;
  double difference_N = 0.0;
  double share_of_mean = 0.0;
  bool within = false;
};

struct ThenView {
  std::string stand;
  double signal_mV = 0.0;
  double standard_uncertainty_mV = 0.0;
  double load_N = 0.0;
  std::string shown;              // "1.05" in the unit of the readings
  std::string shown_uncertainty;  // "±0.08"
};

struct AskView {
  std::string support;   // "2L" or "bearing1R"; empty when it is of the whole deck
  std::string what;      // gap | touch | no_load | map | repeat
  std::string sentence;  // what to measure and how
  std::string why;       // what it brings
};

/// What is believed of the twisting stiffness of a body: quantiles of 5, 50 and 95 %; before any
/// reading those of 5 and 95 %.
struct BodyView {
  std::string name;  // "A", "A-C" (joined rigidly)
  double low_Nm2 = 0.0;
  double middle_Nm2 = 0.0;
  double high_Nm2 = 0.0;
  double before_low_Nm2 = 0.0;
  double before_high_Nm2 = 0.0;
};

/// A bearing that may hang.
struct OpenView {
  std::string place;  // "bearing1R"
  double chance = 0.0;
  double air_mm = 0.0;  // mean where open
};

struct ShareView {
  std::string deck_name;
  std::string outcome;  // in_tolerance | turn | measure_first | cannot_fix
  bool in_tolerance = false;
  bool done = false;     // in tolerance, and nothing wrong that screws can't mend
  std::string headline;  // the verdict, a few words
  std::string verdict;   // a sentence or two more
  std::string unit;      // of the plan's figures: "mV", "kg", "lb"
  PlanView plan;
  std::string because;  // what is believed of the deck, under the plan; may be empty
  std::vector<StandView> stands;
  std::vector<PairView> pairs;
  std::vector<JudgementView> judgements;
  std::vector<CannotFixView> cannot_fix;
  std::vector<MoveView> moves;
  std::vector<MoveView> gentler;
  std::string gentler_sentence;  // when the other plan is worth choosing; empty without one
  std::vector<ThenView> then;
  std::optional<double> probability_done;
  std::optional<double> probability_gentler;
  std::vector<AskView> asks;
  std::vector<std::string> cautions;  // before the moves: where it can hurt
  std::string after;                  // what to do after the moves
  std::vector<deck::Assumed> assumed;
  std::vector<std::string> walking_order;  // 1L ... nL, nR ... 1R
  std::vector<BodyView> bodies;            // whose stiffness readings can tell of
  std::vector<OpenView> open_bearings;
};

/// For the technician at the pit: verdict first, one plan, what to do, why, what then.
[[nodiscard]] std::string draw_text(const ShareView& view);

}  // namespace weighwright::report
