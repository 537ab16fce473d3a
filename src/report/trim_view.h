#pragma once
/// The answer of `trim`, ready to be shown.

#include <optional>
#include <string>
#include <vector>

#include "deck/deck.h"
#include "report/answer_view.h"
#include "report/plan_view.h"

namespace weighwright::report {

/// One trim to set.
struct TrimSettingView {
  std::string trim;   // "2L", or "2" where it acts on a section
  std::string tag;    // "terminal 4"
  double gain = 1.0;  // what its own reading is multiplied by
  double u_gain = 0.0;
  std::optional<double> turns;   // clockwise positive
  std::optional<double> ohm;     // afterwards
  std::optional<double> factor;  // afterwards
  bool at_end = false;
  std::string setting;      // "1 1/4 turns counter-clockwise"
  std::string instruction;  // the sentence
};

struct TrimPointView {
  std::string at;
  double load_kg = 0.0;
  bool load_known = false;
  bool read_now = false;
  double error_kg = 0.0;
  double u_error_kg = 0.0;
  double then_error_kg = 0.0;
  double u_then_error_kg = 0.0;
  double then_indication_kg = 0.0;
};

struct SpreadView {
  double kg = 0.0;
  double expected_kg = 0.0;
  double upper_kg = 0.0;
  double chance_within = 0.0;
};

/// Something that no trim should hide.
struct TrimFindingView {
  std::string code;  // "zero_return"
  std::string at;    // place or trim
  std::string file;
  int line = 0;
  bool blocks = false;
  double found = 0.0;  // kg, or a fraction (`is_fraction`)
  double limit = 0.0;
  bool is_fraction = false;
  std::string sentence;
  std::string look;  // where the cause may lie
};

struct TrimStepView {
  std::string kind;  // "pair" | "section"
  int section = 0;   // from 1
  std::string sentence;
};

struct MorePlacementsView {
  int count = 0;
  std::optional<double> u_trim_kg;  // empty: something stays open
  std::vector<std::string> places;
};

struct TrimView {
  std::string deck_name;
  std::string code;  // "within", "adjust", "learn", "more_places", "cause_first", ...
  bool done = false;
  std::string headline;
  std::string verdict;
  PlanView plan;
  std::vector<TrimSettingView> trims;
  std::vector<TrimPointView> points;
  Table point_table;
  std::string point_note;
  double wanted_kg = 0.0;
  double reference_load_kg = 0.0;
  SpreadView before;
  std::optional<SpreadView> then;  // empty: nothing is to be set
  double attainable_kg = 0.0;
  std::vector<TrimFindingView> findings;
  std::vector<std::string> undetermined;  // trims
  std::string undetermined_sentence;
  std::string settle_by;
  std::optional<std::string> learn;  // the move to make first
  std::string learn_trim;
  double learn_turns = 0.0;
  std::vector<TrimStepView> order;
  std::string order_note;  // what each way costs
  int moves_at_once = 0;
  int moves_guided = 0;
  std::vector<MorePlacementsView> more;
  Table more_table;
  std::string learned;             // what a turn does, where the readings told
  std::optional<double> per_turn;  // relative, clockwise
  std::string after;               // what to do when it is done
  double whole_deck = 0.0;         // relative change of every reading
  std::vector<std::string> cautions;
  std::vector<deck::Assumed> assumed;
};

[[nodiscard]] std::string draw_text(const TrimView& view);

/// Which placements are worth making, before anything was read.
struct PlacementsView {
  std::string deck_name;
  std::string headline;
  bool possible = false;
  std::vector<std::string> places;  // to load, in walking order
  std::optional<double> u_trim_kg;
  double wanted_kg = 0.0;
  double load_kg = 0.0;
  int no_fewer_than = 0;
  Table table;  // accuracy by number of placements
  std::vector<MorePlacementsView> by_count;
  std::vector<std::string> notes;
  std::vector<std::string> cautions;
  std::vector<deck::Assumed> assumed;
};

[[nodiscard]] std::string draw_text(const PlacementsView& view);

}  // namespace weighwright::report
