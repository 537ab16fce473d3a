#pragma once
/// The answer of `prove`, ready to be shown.

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "deck/deck.h"
#include "report/answer_view.h"

namespace weighwright::report {

struct ProofTermView {
  std::string code;
  std::string name;  // "Eccentricity"
  double u_kg = 0.0;
  double share = 0.0;  // of the variance
  std::string source;
};

struct ProofLineView {
  std::string check;  // code
  std::string name;   // "Increasing load"
  int run = 1;
  std::string where;    // "over 2L", "to end 2"; empty: as a whole
  std::string at;       // as a results table takes it: "2L", "2", "2-3"; empty
  std::string heading;  // "to_end_2", "to_end_1"; empty
  std::string material;
  int range = 0;  // from 1, of a scale with several that are tested apart; 0: it has one
  double load_kg = 0.0;
  double indication_kg = 0.0;
  double error_kg = 0.0;
  bool before_rounding = false;
  /// So that the error can be computed again: error = P - E0 - start - load; P is the indication,
  /// or indication + d/2 - added where the error is before rounding and small weights were added.
  std::optional<double> added_kg;
  double division_kg = 0.0;        // d of that reading
  std::optional<double> zero_kg;   // E0; empty: zero was not read, nothing is taken off
  std::optional<double> start_kg;  // before the known load came on; empty: the deck was empty
  std::optional<double> limit_kg;  // empty: not judged, or
  bool no_limit = false;           // the rulebook has none for this load
  std::string clause;
  /// "pass" | "fail" | "not_judged"; under a guard band also "conditional_pass" |
  /// "conditional_fail" (non-binary), "not_accepted" (binary: within the limit, inside the band).
  std::string verdict;
  std::string sure;  // of the error alone, whatever else speaks of the line; ""
  std::optional<double> U_kg;
  std::optional<double> k;
  std::optional<double> dof;  // empty: infinite or none
  std::optional<double> p_conforming;
  std::optional<double> p_false;
  std::vector<ProofTermView> terms;
  std::string attack;  // which term to attack, a sentence; empty: none needed
  std::string file;
  int line = 0;
};

/// One of several weighings of a load.
struct ProofRepeatView {
  double indication_kg = 0.0;
  std::optional<double> added_kg;
  double zero_kg = 0.0;    // E0 taken off
  double result_kg = 0.0;  // before rounding where it is known, less E0
};

struct ProofRangeView {  // agreement of results, zero, discrimination: one number against a limit
  std::string check;
  std::string name;  // "Repeatability", "Zero after load", ...
  std::string where;
  double load_kg = 0.0;
  double value_kg = 0.0;
  double limit_kg = 0.0;
  bool at_least = false;  // the value must reach the limit (discrimination)
  int count = 0;          // results compared; 0: does not apply
  std::string verdict;    // "pass" | "fail" | "not_judged"
  std::string clause;
  /// Of "not_judged": "rounding_decides", or "told_only" where the limit is none for this case.
  std::string why = {};
  std::vector<ProofRepeatView> repeats = {};  // what was compared, in order
  std::optional<double> s_kg = {};            // experimental standard deviation of them
};

/// Material that took the place of known loads.
struct ProofSubstituteView {
  std::string name;
  double mass_kg = 0.0;
  double u_kg = 0.0;  // standard uncertainty
};

/// A test of the rulebook that was no part of this one.
struct NotPartView {
  std::string check;
  std::string name;
  std::string why;  // no_result | rounding_decides | not_of_a_digital_display
  std::string sentence;
  std::string clause;
};

struct ProofMissingView {
  std::string check;
  std::string code;
  std::string sentence;
  std::string clause;
  int range = 0;  // from 1: of several the one that it is missing in; 0: none in particular
};

struct ProofFindingView {
  std::string code;
  bool blocks = false;
  std::string file;
  int line = 0;
  std::string sentence;
  std::string clause;
};

struct StandardView {
  std::string id;
  int count = 1;
  double nominal_kg = 0.0;
  std::string weight_class;
  std::optional<double> conventional_kg;
  std::optional<double> U_kg;
  std::string certificate;
  std::string expires;  // "2027-03-31"
  std::string traced_to;
  std::string refused;  // why it may not serve; empty: it may
};

struct ChanceView {
  std::string check;
  double load_kg = 0.0;
  double limit_kg = 0.0;
  double expected_error_kg = 0.0;
  double u_kg = 0.0;
  double p_pass = 0.0;
};

/// Lines by their verdict.
struct LineCountsView {
  int pass = 0;
  int conditional_pass = 0;
  int conditional_fail = 0;
  int fail = 0;
  int not_accepted = 0;
  int not_judged = 0;
  int U_above_third = 0;  // of the judged: U above a third of the limit (JCGM 106:2012, 8.2.3)
};

struct ProofView {
  std::string deck_name;
  std::string rulebook;         // "OIML R 76-1:2006"
  std::string rulebook_remark;  // of a variant; empty
  std::string accuracy_class;
  std::string division;  // "e" | "d"
  std::string occasion;
  std::string occasion_says;
  std::string phase;  // "as_found" | "as_left"
  /// "pass" | "fail" | "incomplete" | "refused" | "conditional_pass" | "conditional_fail" |
  /// "not_accepted"
  std::string outcome;
  std::string headline;
  std::string began;          // "2026-11-26": the day of the first result; empty: there are none
  std::string ended;          // of the last one
  std::string decision_rule;  // in words, with its source
  std::string decision;       // "simple" | "guarded" (non-binary) | "guarded_binary"
  std::optional<double> guard_U;  // guard band in expanded uncertainties; empty: none
  LineCountsView counts;
  std::vector<ProofLineView> lines;
  std::vector<ProofRangeView> ranges;
  std::vector<ProofMissingView> missing;
  std::vector<NotPartView> not_part;
  std::vector<ProofFindingView> findings;
  std::vector<StandardView> standards;
  std::vector<ChanceView> chances;  // before the test; empty afterwards
  std::string uncertainty;          // statement, sentences
  std::string sampled;              // Monte Carlo check, a sentence; empty: not done
  double p_all = 0.0;
  double capacity_kg = 0.0;
  double interval_kg = 0.0;
  std::string ranges_say;  // of several ranges or intervals, in words; empty: one
  /// Limit by load for the chart: corners of the staircase (load, limit).
  std::vector<std::pair<double, double>> staircase_kg;
  /// Clauses from memory that this verdict rests on; empty where the rulebook is confirmed.
  std::vector<std::string> unverified;
  std::string rules_hash;        // of the rulebook in force; empty: not told
  bool rules_confirmed = false;  // a firm compared it with its own print
  std::string rules_says;        // who did, or that nobody did; a sentence
  std::vector<deck::Assumed> assumed;
  bool us = false;
  std::optional<double> s_kg;  // pooled standard deviation of repeats; empty: nothing was repeated
  std::vector<ProofSubstituteView> substitutes;
  double coverage = 0.9545;  // probability that the expanded uncertainties are for
  /// Index into `lines` of the one nearest its limit, whose budget is shown; -1: found by
  /// leading_line.
  int leading = -1;
};

/// The line nearest its limit, |error| over limit, that has a budget; nullptr: none has.
[[nodiscard]] const ProofLineView* leading_line(const ProofView& view);

/// Figures of one column in the view's unit, kg or lb (NIST SP 811, B.8), all with as many decimals
/// as the column needs, at most a hundredth of the interval; "-" where a value is absent.
/// @param plus  positive figures get a sign
[[nodiscard]] std::vector<std::string> mass_figures(
    const ProofView& view, const std::vector<std::optional<double>>& column_kg, bool plus = false);
[[nodiscard]] std::string mass_figure(const ProofView& view, double value_kg, bool plus = false);
/// Rounded to two significant digits (JCGM 100:2008, 7.2.6); 0 and what is not finite as it is.
[[nodiscard]] double two_digits(double value);
/// A mass in the view's unit, kg or lb.
[[nodiscard]] double in_unit(const ProofView& view, double value_kg);
/// Expanded and standard uncertainties: two significant digits each (JCGM 100:2008, 7.2.6).
[[nodiscard]] std::vector<std::string> uncertainty_figures(
    const ProofView& view, const std::vector<std::optional<double>>& column_kg);
/// "kg" or "lb".
[[nodiscard]] const char* mass_unit(const ProofView& view);

[[nodiscard]] std::string draw_text(const ProofView& view);
[[nodiscard]] std::string print_json(const ProofView& view);

}  // namespace weighwright::report
