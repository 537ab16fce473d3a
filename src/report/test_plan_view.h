#pragma once
/// The answer of `plan`, ready to be shown.

#include <optional>
#include <string>
#include <vector>

#include "deck/deck.h"
#include "report/answer_view.h"
#include "report/page_view.h"

namespace weighwright::report {

struct PatchView {   // what stands on the deck
  double x_m = 0.0;  // centre, from end 1
  double y_m = 0.0;  // left positive
  double along_m = 0.0;
  double across_m = 0.0;
};

struct PlacementView {
  int number = 0;
  std::string check;  // code: "increasing"
  std::string name;   // "Increasing load"
  int run = 1;
  int range = 0;          // from 1: of several ranges the one it is read in; 0: as the load has it
  std::string at;         // as a results table takes it: "2L", "2", "2-3", ""
  std::string where;      // in words
  std::string heading;    // "to end 2" ...; empty
  std::string weights;    // "W1*3+W2"; empty: nothing
  std::string materials;  // "S1+S2"; empty: none
  double weights_kg = 0.0;
  double load_kg = 0.0;
  std::optional<double> limit_kg;
  std::string clause;  // "R 76-1:2006, 3.6.2.2"
  bool required = true;
  bool read_zero_before = false;
  bool read_zero_after = false;
  std::optional<double> added_kg;  // discrimination
  std::string handling;            // code; empty: nothing is moved
  double minutes = 0.0;
  std::string sentence;  // what to do, in the user's units
  std::string because;   // where the load comes from
  std::vector<PatchView> patches;
};

struct PlanFindingView {
  std::string code;
  int placement = 0;  // 0: the plan as a whole
  bool blocks = false;
  std::string sentence;
  std::string clause;  // empty: none
};

struct TestPlanView {
  std::string deck_name;
  std::string rulebook;  // "OIML R 76-1:2006"
  std::string accuracy_class;
  std::string occasion;       // code
  std::string occasion_says;  // in words, with its clause
  bool possible = false;
  std::string headline;
  std::vector<PlacementView> placements;
  double minutes = 0.0;
  double least_minutes = 0.0;
  std::string standards;  // what is needed and what is at hand, a sentence with the clause
  std::vector<PlanFindingView> findings;
  std::vector<std::string> set_up;  // sentences, one a kind of handling
  std::vector<std::string> cautions;
  std::vector<std::string> notes;
  std::string table;  // results table to be filled in: check,at,... with blank indications
  std::vector<deck::Assumed> assumed;
  DrawnDeck plan;
};

[[nodiscard]] std::string draw_text(const TestPlanView& view);
[[nodiscard]] std::string print_json(const TestPlanView& view);

}  // namespace weighwright::report
