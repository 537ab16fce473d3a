#pragma once
/// Which loads to put where, in which order, with what is at hand: the test plan.
///
/// Order   of a test on site: zero, exercise, repeatability first where substitution needs it,
/// section
///         or eccentric loads, increasing, substitution or strain, decreasing, discrimination, zero
///         after every unloading (common practice; rulebooks' clauses stand at each).
/// Cost    minutes by kind of handling: set up once a kind, then so much a placement and for each
///         piece that is moved onto or off the deck. The plan is near the least: `least_minutes` is
///         a bound that no plan with these standards can beat.
/// Checks  before anyone drives: axle and cart loads against what a stand's cells and the section
///         (CLC) bear, the load on the deck with nothing beyond its edge, Min, Max.
/// Errors  an impossible plan is `possible == false` with findings that say why.

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "deck/deck.h"
#include "proof/standards.h"
#include "record/measurement.h"
#include "rules/limits.h"
#include "statics/model.h"

namespace weighwright::proof {

/// Minutes by kind of handling; defaults are a common day's work, no source.
struct HandlingCost {
  double set_up = 0.0;     // once
  double placement = 0.0;  // every placement that is made with it
  double piece = 0.0;      // every piece brought on or taken off
};
[[nodiscard]] HandlingCost handling_cost(record::Handling handling);

struct PlanRequest {
  rules::Occasion occasion = rules::Occasion::as_new;
  std::int64_t day = 0;                    // of the test, since 1970-01-01
  std::vector<record::Weight> weights;     // and vehicles
  std::optional<double> repeatability_kg;  // greatest less least, found earlier
  bool rolling = true;  // where both will do: rolling loads instead of a load over every support
  std::optional<double> axle_kg;  // heaviest axle that the road allows; caps vehicles
  bool extras = true;             // midspan and other placements that no rulebook asks for
  bool lorries = true;    // loaded lorries of unknown mass can be had where an unknown load will do
  bool sides = false;     // sections also on the left and on the right alone, not required
  bool zero_each = true;  // read zero before and after every section; false: a load goes from one
                          // to the next and zero is read at both ends of the walk
};

/// What stands where, in the deck's coordinates.
struct Patch {
  double x_m = 0.0;  // centre
  double y_m = 0.0;  // left positive
  double along_m = 0.0;
  double across_m = 0.0;
};

struct Placement {
  int number = 0;  // from 1, in order
  rules::Check check = rules::Check::zero;
  int run = 1;
  record::LoadPlace place;
  record::Heading heading = record::Heading::none;
  std::vector<Taken> weights;            // known loads
  std::vector<std::string> substitutes;  // materials or vehicles of unknown mass: "S1"
  double weights_kg = 0.0;
  double load_kg = 0.0;               // with substitutes, as far as it can be told beforehand
  std::optional<rules::Limit> limit;  // of that load
  rules::Source source;               // of the test
  bool required = true;
  bool read_zero_before = true;
  bool read_zero_after = false;              // it is unloaded afterwards
  double added_d = 0.0;                      // discrimination: small load, in d
  std::optional<record::Handling> handling;  // empty: nothing is moved
  double minutes = 0.0;                      // without set-up
  std::vector<Patch> patches;
  std::string because;  // in words, short: "(Max + T+)/(6 - 1)"
  int range = 0;  // from 1: of several ranges the one that it is read in; 0: as the load has it
};

struct PlanFinding {
  std::string code;   // over_section, over_clc, over_cell, overhang, over_capacity, below_min,
                      // too_few_standards, no_clc, standards_too_coarse, substitution_many,
                      // standard_refused, vehicle_too_long, class_fault, axle_over_road,
                      // load_not_made, load_short, lorry_needed, lorry_changes, small_weights,
                      // discrimination_not_asked, ranges_apart, ...
  int placement = 0;  // number; 0: the plan as a whole
  std::string place;
  double value = 0.0;  // kg or m
  double limit = 0.0;
  bool blocks = false;
  std::string what;      // a sentence in SI (job may word it in the user's units)
  rules::Source source;  // of the rule, where there is one
};

struct TestPlan {
  bool possible = false;
  std::vector<Placement> placements;
  std::vector<PlanFinding> findings;
  std::vector<record::Handling> used;  // kinds of handling that are set up
  double minutes = 0.0;                // with set-up
  double least_minutes = 0.0;          // bound
  rules::Amount standards;             // what the rulebook asks
  double standards_kg = 0.0;           // at hand, usable
};

/// @pre model is of the deck
[[nodiscard]] TestPlan plan_test(const deck::Deck& deck,
                                 const statics::Model& model,
                                 const rules::Rulebook& rulebook,
                                 const PlanRequest& request);

}  // namespace weighwright::proof
