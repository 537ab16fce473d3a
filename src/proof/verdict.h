#pragma once
/// Results of the tests to a verdict by the rulebook: every line with error, limit, clause and how
/// sure, what is missing, and what speaks against the results.
///
/// Error     before rounding where the rulebook says so and small weights were added, else from the
///           indication; zero error E0 taken off (R 76-1:2006, A.4.4.3; HB 44: from the
///           indication).
/// Budget    EURAMET cg-18 (from memory, unverified) with its pieces sourced in JCGM 100:2008
///           (budget.h): resolution at load and zero, repeatability, eccentricity, standards,
///           drift, buoyancy, convection (told as irrelevant for these classes), substitution
///           chain.
/// Outcome   `refused` where what a verdict needs is older than the last span or trim, or the scale
///           is none that the rulebook knows (class, interval, capacity); else `fail` where a
///           result is beyond its limit; else `incomplete` where a required test or line is missing
///           or a finding blocks, never `pass`.
/// Strain    error = (I - start) - known load, limit of the known load alone; the same for loads
///           with more substitutions than the rulebook allows.
/// Near      a load counts for a wanted one within a tenth of it (common practice, no source).

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "deck/deck.h"
#include "proof/budget.h"
#include "proof/conformity.h"
#include "proof/monte_carlo.h"
#include "proof/standards.h"
#include "record/measurement.h"
#include "rules/limits.h"

namespace weighwright::proof {

struct Conditions {
  std::optional<double> air_kg_per_m3;
  std::optional<double> temperature_low_degC;  // during the test
  std::optional<double> temperature_high_degC;
  bool adjusted_now = false;  // span was set at this visit, in this air
};

struct ProofCase {
  rules::Occasion occasion = rules::Occasion::as_new;
  std::vector<record::ProofSet> results;  // in order
  std::vector<record::Weight> weights;
  std::int64_t day = 0;
  /// Index of the first result set that is younger than the last span or trim; those before are
  /// stale. 0: none is.
  int first_fresh = 0;
  bool as_left = true;   // false: as found, nothing is stale
  bool complete = true;  // what the rulebook requires must be there; false: a part of a test
  Conditions conditions;
  DecisionRule rule = DecisionRule::simple;
  double guard = 1.0;  // w = guard * U
  double coverage = 0.9545;
  bool sample = true;  // check the budget of the leading line by Monte Carlo
};

enum class Outcome { pass, fail, incomplete, refused };

struct JudgedLine {
  rules::Check check = rules::Check::increasing;
  int run = 1;
  record::LoadPlace place;
  record::Heading heading = record::Heading::none;
  std::string material;
  double load_kg = 0.0;         // true load that the limit is looked up with
  double indication_kg = 0.0;   // as shown
  double rounded_off_kg = 0.0;  // before rounding less indication; 0 where it was not measured
  bool before_rounding = false;
  double zero_kg = 0.0;  // E0 taken off
  bool zero_read = false;
  double error_kg = 0.0;
  std::optional<rules::Limit> limit;
  std::optional<Budget> budget;
  std::optional<Decision> decision;  // empty: not judged (with a finding)
  bool judged = true;
  bool passed = false;
  rules::Source source;  // of the test
  std::string file;
  int line = 0;
  double standards_kg = 0.0;  // that the load rests on, repeats counted: n times 10 t for n steps
  int substitutions = 0;      // materials of the load
  bool by_strain = false;     // error and limit are those of the known load alone
  bool rounding_decides = false;  // as shown, half a division more or less changes the verdict
  int range = 0;                  // from 0, of a scale with several ranges that are tested apart
};

/// Material that took the place of known loads.
struct SubstituteWorth {
  std::string name;
  double kg = 0.0;
  double u_kg = 0.0;  // standard
  std::string file;
  int line = 0;
};

/// The difference of two weighings of increasing loads, the worst against the limit of the net
/// load. Limits at two loads do not bound it.
struct NetError {
  double full_kg = 0.0;  // the greater load
  double empty_kg = 0.0;
  double error_kg = 0.0;  // of the difference
  rules::Limit limit;     // of the net load
  bool within = true;
};

/// Results of one load against one another.
struct JudgedRange {
  rules::Check check = rules::Check::repeatability;
  double load_kg = 0.0;
  double range_kg = 0.0;
  int count = 0;
  rules::Limit limit;
  bool passed = false;
  bool rounding_decides = false;  // as shown it may be either; not counted as failed
};

struct JudgedZero {
  bool after_load = false;  // change after a load came off; else accuracy of setting
  double load_kg = 0.0;
  double change_kg = 0.0;
  rules::Limit limit;
  bool passed = false;
  std::string file;
  int line = 0;
  bool rounding_decides = false;  // as shown it may be either; not counted as failed
  /// The rulebook's limit is for a load that lay longer: told, never failed.
  bool told_only = false;
  std::optional<double> minutes = {};  // under load, where the results say so
};

struct JudgedStep {  // discrimination
  double load_kg = 0.0;
  double added_kg = 0.0;
  double change_kg = 0.0;
  double wanted_kg = 0.0;
  bool passed = false;
  rules::Source source;
  std::string file;
  int line = 0;
};

/// A check of the indicator: one figure against one limit (indicator_checks.h).
struct JudgedCheck {
  rules::Check check = rules::Check::tare;
  double load_kg = 0.0;  // that it was looked at with; 0: none
  double value_kg = 0.0;
  rules::Limit limit;
  bool passed = false;
  bool rounding_decides = false;  // as shown it may be either: not answered
  std::string by = {};            // overload: "setting" | "simulator"
  std::string file = {};
  int line = 0;
};

/// A test of the rulebook that was no part of this one.
struct NotPart {
  enum class Why {
    no_result,                // nobody looked
    rounding_decides,         // looked at too coarsely
    not_of_a_digital_display  // not asked of one on this occasion
  };
  rules::Check check = rules::Check::tare;
  Why why = Why::no_result;
  rules::Source source;
};

struct Missing {
  rules::Check check = rules::Check::increasing;
  std::string code;      // test, place, load, repeats, zero, zero_after, weights, standards,
                         // decreasing_loads, clc
  std::string where;     // "2R", "to end 2"
  double load_kg = 0.0;  // 0: none in particular
  rules::Source source;
  int range = 0;  // from 1: of several ranges the one that it is missing in; 0: none in particular
};

struct ProofFinding {
  /// Of the scale: class_fault, no_limit. Of a reading: unknown_check, not_a_number, load_unknown,
  /// load_unlike_weights, added_out_of_range, step_unread, strain_start, substitute_unknown,
  /// substitution_many, over_capacity, over_section, out_of_order, labelled_wrong_way,
  /// rounding_decides, no_such_range, check_unread. Of zero: zero_not_read, zero_under_load,
  /// zero_off, zero_moved, zero_after_unread. Of the standards:
  /// unknown_weight, too_many_weights,
  /// no_certificate, expired, no_class_value, value_unlike_nominal, doubled, standards_too_coarse.
  /// Of the whole: stale, not_enough_repeats, repeatability_hidden, repeatability_assumed, lean,
  /// net_error, span_off, outlier, not_capable, eccentricity_not_measured.
  std::string code;
  bool blocks = false;  // the verdict can't be pass while it stands
  std::string file;
  int line = 0;
  std::string what;  // SI, short
  rules::Source source;
};

struct Verdict {
  Outcome outcome = Outcome::incomplete;
  std::vector<JudgedLine> lines;
  std::vector<JudgedRange> ranges;
  std::vector<JudgedZero> zeros;
  std::vector<JudgedStep> steps;
  std::vector<JudgedCheck> checks;
  std::vector<NotPart> not_part;  // of a complete test
  std::vector<Missing> missing;
  std::vector<ProofFinding> findings;
  int leans = 0;  // +1 / -1: all errors of that sign and one beyond lean_share; 0: not
  std::optional<double> repeatability_kg;  // greatest less least, the worst load
  std::optional<double> s_kg;              // pooled standard deviation
  std::optional<Sampled> sampled;          // of the line that is nearest its limit
  std::optional<Validation> validation;
  int sampled_line = -1;
  std::vector<SubstituteWorth> substitutes;
  std::optional<NetError> net;
  double p_all = 0.0;  // chance that every error is truly within its limit (lines as independent)
};

[[nodiscard]] Verdict prove(const deck::Deck& deck,
                            const rules::Rulebook& rulebook,
                            const ProofCase& what);

/// Before the test: the chance to pass each line, given what is known of span, corners and noise.
struct Foreknown {
  double slope = 1.0;  // indicated over true
  double u_slope = 0.0;
  double spread_kg = 0.0;  // standard deviation of corners at the reference load
  double reference_kg = 0.0;
  double repeatability_kg = 0.0;  // standard deviation
};
struct LineChance {
  double load_kg = 0.0;
  rules::Check check = rules::Check::increasing;
  rules::Limit limit;
  double expected_error_kg = 0.0;
  double u_kg = 0.0;
  double p_pass = 0.0;
};
[[nodiscard]] std::vector<LineChance> chances_before(
    const deck::Deck& deck,
    const rules::Rulebook& rulebook,
    rules::Occasion occasion,
    const std::vector<std::pair<rules::Check, double>>& lines,
    const Foreknown& known);

}  // namespace weighwright::proof
