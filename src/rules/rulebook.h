#pragma once
/// A rulebook as data: limits of error, required tests and their acceptance rules, standards
/// needed, limits of class and capacity. Every number carries the clause that it comes from.
///
/// Nothing here computes; what follows from a rulebook for one scale is in limits.h, amounts.h and
/// eligibility.h. Rulebooks are read from text by rules/reading (two are built in; a user's file
/// may change one of them).
///
/// Divisions  e (the recommendation) or d (the handbook): `Rulebook::division` says which word is
///            printed. Limits are always in verification intervals e.
/// Occasions  what the limits of a class are multiplied with. The steps of a class are those of the
///            rulebook's own table: initial verification (R 76-1, Table 6), maintenance (HB 44,
///            Table 6).

#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace weighwright::rules {

inline constexpr double kNoEnd = std::numeric_limits<double>::infinity();

/// How well a number is known.
enum class Basis {
  read,    // in the document itself
  quoted,  // by another document, which is named
  memory   // unverified: listed as such in the docs, and said where it decides
};

struct Source {
  std::string clause;  // "3.5.1, Table 6"
  Basis basis = Basis::memory;
  std::string carrier;        // quoted: where it was read
  std::string document = {};  // that the clause stands in, "R 76-1:2006"; empty: the rulebook's own
};

struct Cited {
  double value = 0.0;
  Source source;
};

/// Up to a load (inclusive, in divisions) the limit is `limit_d` divisions.
struct LimitStep {
  double up_to_d = kNoEnd;
  double limit_d = 0.0;
};

/// For an interval e from `least_e_kg` to `most_e_kg`: how many of them a scale may have. A scale
/// in pounds goes by the pound columns where the handbook prints them.
struct IntervalBand {
  double least_e_kg = 0.0;
  double most_e_kg = kNoEnd;
  double n_min = 0.0;
  double n_max = kNoEnd;
  double least_load_e = 0.0;  // Min
  Source source;
  double least_e_lb = 0.0;  // 0 (and most_e_lb 0): not printed, the kilograms hold
  double most_e_lb = 0.0;
};

struct ClassRule {
  std::string name;  // "III", "III L"
  std::vector<LimitStep> steps;
  /// Beyond the last step: `further_limit_d` more for each further `further_each_d` divisions or
  /// fraction of them. 0: the last step holds for ever (its up_to_d is then kNoEnd) or there is
  /// nothing beyond.
  double further_each_d = 0.0;
  double further_limit_d = 0.0;
  Source limits;
  std::vector<IntervalBand> bands;
  double least_range_n = 0.0;  // several ranges: Max_i / e_(i+1) at least; 0: no such rule
  Source ranges;
  /// A scale with at least so many intervals is tested with decreasing loads at every break; 0:
  /// with `Rulebook::decreasing_share` only.
  double breaks_down_from_n = 0.0;
  Source breaks_down;
};

enum class Occasion { as_new, after_rejection, overhaul, adjusted, routine, as_found, type };

/// What an occasion is to the law: it decides which tests are asked, and with how many series.
enum class Stage {
  type,        // type examination: one instrument for many
  initial,     // initial verification
  subsequent,  // verified anew: after a repair, an adjustment, a rejection, at the end of its time
  in_service   // inspection; nothing is verified
};

struct OccasionRule {
  Occasion occasion = Occasion::routine;
  std::string says;  // "placed in service" ...: what the user is asked
  double factor = 1.0;
  Source source;
  std::string remark = {};  // "national law may ..."; empty: none
  Stage stage = Stage::in_service;
};

/// What is done on the deck. Codes in files: code_of.
enum class Check {
  zero,            // accuracy of zero setting, the deck empty
  eccentric,       // a load over each support, or on the quarters
  section,         // a load over each pair of stands, and left and right of it
  rolling,         // a vehicle at both ends and the middle, in both directions
  increasing,      // loads going up
  decreasing,      // and down again
  repeatability,   // one load several times
  discrimination,  // a small load must move the display
  strain,          // known loads on top of an unknown one
  midspan,         // a heavy load between the stands: what touches there; no rulebook asks for it
  // Of the indicator, no load test: answered in one line, or told to be no part of the test.
  tare,         // accuracy of the tare balance
  indications,  // two displays, or a display and what the printer prints
  zero_range,   // what zero setting covers
  overload      // the greatest indication that is shown
};

enum class RangeOf { none, applicable, table };  // limit of the occasion, or of the table itself

struct TestRule {
  Check check = Check::zero;
  std::string name;                      // "Section test"
  bool required = true;                  // false: may be done instead of another, or is offered
  std::string instead_of;                // code of the test that it may stand in for; empty: none
  std::string when;                      // a condition in words; empty: always
  bool each_within = true;               // every result within the limit of its load
  RangeOf range_within = RangeOf::none;  // greatest less least of results of one load
  Source source;
  Source range_source;
  /// At these stages it is not asked of a digital display.
  std::vector<Stage> digital_exempt;
  Source digital_source;
};

/// Least amounts by capacity: the row whose `up_to_kg` is the first that is not less.
struct AmountRow {
  double up_to_kg = kNoEnd;
  double weights_share = 0.0;  // of Max
  double weights_kg = 0.0;     // or this, the greater
  double load_share = 0.0;     // of Max: test load, weights and substitutes together; 0: no rule
  double weights_lb = 0.0;     // the same row as the handbook prints it in pounds; 0: not printed
  double up_to_lb = 0.0;
};

/// With a repeatability error (greatest less least) not above this, weights of this share of Max
/// do.
struct SubstitutionStep {
  double repeatability_e = kNoEnd;
  double weights_share = 0.0;
};

/// How often which loads are weighed again at one stage, where it is not what `Rulebook` says for
/// all of them.
struct StageRepeats {
  Stage stage = Stage::type;
  Cited count;                 // no clause: that of the rulebook
  std::vector<double> shares;  // of Max; empty: those of the rulebook
  Source source;
};

struct Rulebook {
  std::string code;             // "R76", "H44"; a variant: its own
  std::string base;             // of a variant: what it changes; else empty
  std::string title;            // "OIML R 76-1"
  std::string edition;          // "2006"
  std::string division;         // "e" | "d"
  std::string remark;           // of a variant: who says so
  std::string cited_as;         // in front of a clause: "R 76-1:2006"
  bool before_rounding = true;  // errors are judged before rounding
  Source rounding;

  Source interval_series;  // e and d are 1, 2 or 5 times a power of ten; no clause: no such rule
  std::vector<ClassRule> classes;
  std::vector<OccasionRule> occasions;
  std::vector<TestRule> tests;

  // zero
  Cited zero_setting_e;  // accuracy of zero setting; 0: the smallest limit
  Cited zero_return_e;   // change of zero after a load came off; 0: the smallest limit
  /// The return is judged after so long under load, min, and told after any other; 0: after any.
  Cited zero_return_minutes;
  Source zero_return_dropped;  // a clause that drops the return altogether; empty: none does
  Cited zero_range_share;      // of Max that zero setting may cover; 0: no rule
  Cited tracking_e;            // automatic zero tracking may follow at most, a second or a step

  // loads of the tests
  Cited eccentric_share;         // few supports: of Max + T+
  Cited eccentric_few_supports;  // up to this many; above: (Max + T+)/(supports - 1)
  Cited rolling_share;           // of Max + T+, at most
  Cited section_share;           // of Max, at least; 0: no section test
  Cited section_clc_share;       // of CLC, at most, on one pattern; one side: half of it
  Cited pattern_length_m;        // of the prescribed test pattern; 0: none
  Cited pattern_width_m;
  Cited increasing_loads;  // at least so many
  Cited decreasing_share;  // of the greatest increasing load; 0: the same loads going down
  /// 0: no decreasing loads are asked where material took the place of weights; no clause: they
  /// are.
  Cited decreasing_with_substitution;
  Cited repeatability_count;                 // weighings, at least
  std::vector<double> repeatability_shares;  // of Max, where
  Source repeatability_source;
  std::vector<StageRepeats> repeatability_stages;
  Cited discrimination_added_d;               // small load
  Cited discrimination_change_d;              // by which the display must change, at least
  std::vector<double> discrimination_shares;  // of Max, where; 0 is near zero (or Min)
  Source discrimination_source;

  // standards
  Cited standards_share;  // their error at most this share of the limit at every load
  std::vector<AmountRow> amounts;
  Source amounts_source;
  std::vector<SubstitutionStep> substitution;  // by rising repeatability; empty: not by share
  Source substitution_source;
  /// The repeatability that fewer weights rest on: so many weighings of a load near the one at
  /// which material takes the weights' place. No clause: any repeated load does.
  Cited substitution_weighings;
  Cited most_substitutions;  // 0: as many as it takes
  Cited least_standards_kg;  // whatever Max is; 0: no rule

  // capacity
  Cited overload_e;         // indication at most Max + this many e; 0: by share
  Cited overload_share;     // or this share of Max
  Cited tare_setting_e;     // accuracy of the tare balance; no clause: no rule
  Cited indications_apart;  // displays and printer of one scale may differ by, in d; the same
  Cited clc_sections_less;  // Max at most CLC * (sections - this); 0: no rule
  Cited lean_share;         // all errors of one sign and one beyond this share: said

  [[nodiscard]] const ClassRule* find_class(std::string_view name) const;
  [[nodiscard]] const OccasionRule* find_occasion(Occasion occasion) const;
  [[nodiscard]] const TestRule* find_test(Check check) const;
  /// "R 76-1:2006, 3.5.1, Table 6"; a rule that is in no document: its clause alone ("common
  /// practice, no source"). Empty where the source is.
  [[nodiscard]] std::string cite(const Source& source) const;
};

/// What a reader has to know of how the number was come by: "" (read), "as quoted by ...", "from
/// memory, unverified".
[[nodiscard]] std::string pedigree(const Source& source);

/// "increasing" <-> Check::increasing; "new" (read also: "as_new") <-> Occasion::as_new
[[nodiscard]] std::string_view code_of(Check check);
[[nodiscard]] std::optional<Check> find_check(std::string_view code);
[[nodiscard]] std::string_view code_of(Occasion occasion);
[[nodiscard]] std::optional<Occasion> find_occasion(std::string_view code);

/// "type", "initial", "subsequent", "in_service"
[[nodiscard]] std::string_view code_of(Stage stage);
[[nodiscard]] std::optional<Stage> find_stage(std::string_view code);
/// What an occasion is where a rulebook does not say.
[[nodiscard]] Stage usual_stage(Occasion occasion);

/// Of the indicator, with no load that could be judged by the table of limits.
[[nodiscard]] bool is_of_indicator(Check check);

/// All of them, in the order in which they are declared.
[[nodiscard]] const std::vector<Check>& all_checks();
[[nodiscard]] const std::vector<Occasion>& all_occasions();

/// What the clause of a rule begins with that no document holds.
inline constexpr std::string_view kCommonPractice = "common practice";

}  // namespace weighwright::rules
