#pragma once
/// Everything that a page shows of a site, in one answer (docs/page-api.md).

#include <optional>
#include <string>
#include <vector>

#include "deck/deck.h"
#include "report/job_view.h"
#include "report/rehearse_view.h"
#include "units/diagnostic.h"

namespace weighwright::report {

struct DrawnModule {
  std::string mark;
  double start_m = 0.0;  // from end 1
  double end_m = 0.0;
  double width_m = 0.0;
  std::string construction;  // open | cells | box | concrete | unknown
};

struct DrawnJoint {
  double at_m = 0.0;
  std::string kind;  // hinge | rigid | shared_stand
  double across_m = 0.0;
  std::string left;   // rests | hangs | rigid | none
  std::string right;  // the same
  std::string rests;  // "A on B"; empty: not said
};

struct DrawnStand {
  std::string stand;
  int section = 0;  // from 1
  double x_m = 0.0;
  double y_m = 0.0;  // left positive
  std::string tag;
  std::string adjust;  // screws | shims | none
  std::optional<double> load_N;
  std::optional<double> u_load_N;
  std::optional<double> expected_N;
  std::string shown;  // "1.09 mV"; empty: not read
  double chance_free = 0.0;
  bool no_load = false;    // its cell was read with nothing on it
  std::string then_shown;  // after the moves; empty: none are given
  std::optional<double> then_load_N;
};

struct DrawnPair {
  int section = 0;  // from 1
  double at_m = 0.0;
  double difference_mV = 0.0;
  double tolerance_mV = 0.0;
  double difference_N = 0.0;
  bool within = false;
};

struct DrawnDeck {
  double gravity_m_per_s2 = 9.80665;  // of the site: what a newton is in kilograms there
  double length_m = 0.0;
  double width_m = 0.0;
  std::vector<DrawnModule> modules;
  std::vector<DrawnJoint> joints;
  std::vector<DrawnStand> stands;  // 1L, 1R, 2L, ...
  std::vector<DrawnPair> pairs;    // empty: cells were not read
};

struct BeliefView {
  std::string sentence;
  std::vector<BodyView> bodies;
  std::vector<OpenView> open;
  std::vector<JudgementView> judgements;
  std::vector<deck::Assumed> assumed;
};

struct TickView {
  std::string name;
  std::string says;
  std::string todo;
  bool condition = false;
  bool on = false;
};

/// What stands on the deck, in its coordinates.
struct DrawnPatch {
  double x_m = 0.0;  // centre, from end 1
  double y_m = 0.0;  // left positive
  double along_m = 0.0;
  double across_m = 0.0;
};

/// A placement of the test plan, and what came of it.
struct PageTestLineView {
  int number = 0;       // in the plan; 0: a reading that no placement asked for
  std::string check;    // code
  std::string name;     // "Section test"
  std::string where;    // in words
  std::string at;       // as a results table takes it: "2L", "2", "2-3"; empty
  std::string heading;  // "to_end_2", "to_end_1"; empty
  std::string sentence;
  std::string clause;
  bool required = true;
  std::optional<double> load_kg;
  std::optional<double> limit_kg;
  std::string state;    // "open" | "next" | "done"
  std::string verdict;  // "" | "pass" | "fail" | "not_judged"
  std::optional<double> error_kg;
  std::optional<double> U_kg;
  std::vector<DrawnPatch> patches;
};

/// The test by the rulebook, as far as it is.
struct PageTestView {
  std::string rulebook;
  std::string occasion_says;
  std::string headline;  // of the verdict; empty: nothing was read
  std::string outcome;   // pass | fail | incomplete | refused | conditional_pass | conditional_fail
                         // | not_accepted; empty
  double minutes = 0.0;
  std::vector<PageTestLineView> lines;
  std::vector<std::string> missing;
  std::vector<std::string> findings;
};

struct PageView {
  JobView job;
  std::string revision;
  bool practice = false;
  bool us = false;           // people here read lb and ft
  std::string reading_unit;  // of cells; empty: no deck
  double step_kg = 0.0;      // d; 0: no deck
  double max_kg = 0.0;
  std::optional<DrawnDeck> plan;  // empty: no deck
  BeliefView belief;
  std::optional<PageTestView> test;  // empty: the job is not there yet
  std::vector<std::string> papers;   // that can be had: "report", "sheet", ...
  std::vector<std::string> order;    // walking order
  std::vector<TickView> ticks;
};

struct QuestionView {
  int number = 0;  // from 1
  int of = 0;
  std::string name;
  std::string text;
  std::string help;
  std::string default_answer;
  std::string example;
};
/// `{"questions":[...]}`
[[nodiscard]] std::string print_questions_json(const std::vector<QuestionView>& questions);
/// `{"faults":[...],"question":3}`: an answer that was not taken.
[[nodiscard]] std::string print_question_fault_json(const units::Diagnostic& fault, int number);
/// `{"faults":[...],"confirm":true}`: recorded when it is sent once more as confirmed.
[[nodiscard]] std::string print_confirm_json(const units::Diagnostics& faults);
/// `{"file":"deck.toml","text":"..."}`
[[nodiscard]] std::string print_draft_json(const std::string& file, const std::string& text);
/// `{"answers":[...]}`: what a practice site answered, each with its table as text.
[[nodiscard]] std::string print_practice_json(const std::vector<RehearseView>& answers);

[[nodiscard]] std::string print_page_json(const PageView& view);
/// `{"journal":"...","entries":[...]}`; @param journal  which one it is
[[nodiscard]] std::string print_entries_json(const std::string& journal,
                                             const std::vector<EntryView>& entries);
/// `{"recorded":...,"site":...}`; @param site  as print_page_json gives it
[[nodiscard]] std::string print_recorded_json(const RecordedView& recorded,
                                              const std::string& site);

}  // namespace weighwright::report
