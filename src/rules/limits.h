#pragma once
/// What a rulebook says about one scale: limits of error by load and occasion, loads of the tests,
/// amounts of standards, whether class, interval and capacity go together.
///
/// Loads are compared as whole numbers of 10 micrograms, so that a break point is met exactly
/// (0.453 592 37 kg is 45 359 237 of them): 500 e is still the first step, one count more the next.

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "rules/counts.h"
#include "rules/rulebook.h"

namespace weighwright::rules {

/// What the rules need to know of a scale.
struct Scale {
  std::string accuracy_class;
  double capacity_kg = 0.0;                       // Max
  double interval_kg = 0.0;                       // e; of the first range where there are several
  std::optional<double> display_interval_kg;      // d where it is not e
  std::vector<std::pair<double, double>> ranges;  // Max_i, e_i in kg; empty: one
  bool multiple_range = false;  // each of `ranges` begins at zero; else e changes with the load
  bool digital = true;          // the display counts in steps
  std::optional<double> clc_kg;
  double tare_kg = 0.0;  // additive tare T+
  int supports = 0;      // stands that carry
  int sections = 0;
  bool us = false;  // capacities are round in pounds: amounts are those of the pound column
};

/// e at a load; of several ranges that of the smallest which holds it.
[[nodiscard]] double interval_at_kg(const Scale& scale, double load_kg);

/// One range of a scale that has several (R 76-1, T.3.2.7), as a scale of its own: from zero to its
/// Max, with its e. Any other scale is returned as it is.
/// @param range  from 0; the last one where it is beyond it
[[nodiscard]] Scale in_range(const Scale& scale, int range);
/// How many ranges are tested apart: 1, or those of a scale with several.
[[nodiscard]] int range_count(const Scale& scale);
/// The smallest range that holds a load, from 0.
[[nodiscard]] int smallest_range_for(const Scale& scale, double load_kg);

struct Limit {
  double kg = 0.0;           // error at most plus or minus this
  double divisions = 0.0;    // the same in e of that load
  double interval_kg = 0.0;  // e there
  double factor = 1.0;       // of the occasion
  Source source;             // of the step
  Source factor_source;
};

/// Limit for a true load (never an indication). Strain test: the known load alone.
/// @return empty: the rulebook has no such class, or no limit for so many divisions
[[nodiscard]] std::optional<Limit> limit_at(const Rulebook& rulebook,
                                            const Scale& scale,
                                            Occasion occasion,
                                            double load_kg);

/// The same without the factor of an occasion: what the table itself says.
[[nodiscard]] std::optional<Limit> table_limit_at(const Rulebook& rulebook,
                                                  const Scale& scale,
                                                  double load_kg);

/// Greatest less least of results of one load by the test's rule; empty: it has none.
[[nodiscard]] std::optional<Limit> range_limit_at(
    const Rulebook& rulebook, const Scale& scale, Occasion occasion, Check check, double load_kg);

/// How far zero may be off after setting, and change after a load came off, kg.
[[nodiscard]] std::optional<Limit> zero_setting_limit(const Rulebook& rulebook,
                                                      const Scale& scale,
                                                      Occasion occasion);
[[nodiscard]] std::optional<Limit> zero_return_limit(const Rulebook& rulebook,
                                                     const Scale& scale,
                                                     Occasion occasion);

/// The greatest load at which something counts as "near zero": Min, or 20 divisions where the class
/// has none (as many as zero may be looked at under; common practice, no source).
[[nodiscard]] double near_zero_kg(const Rulebook& rulebook, const Scale& scale);

/// A load that is prescribed is made by weights of which no two are alike: it counts as made where
/// it is less by no more than a third of its limit of error, the share that standards may be wrong
/// by (R 76-1, 3.7.1; that it is used so is ours). More than what is prescribed is never too
/// little.
[[nodiscard]] double prescribed_allowance_kg(const Rulebook& rulebook,
                                             const Scale& scale,
                                             Occasion occasion,
                                             double load_kg);
[[nodiscard]] bool counts_as_made(const Rulebook& rulebook,
                                  const Scale& scale,
                                  Occasion occasion,
                                  double load_kg,
                                  double prescribed_kg);

/// Loads at which the limit steps, up to Max, kg; with Min and Max: where increasing loads belong.
[[nodiscard]] std::vector<double> break_loads_kg(const Rulebook& rulebook, const Scale& scale);
[[nodiscard]] double least_load_kg(const Rulebook& rulebook, const Scale& scale);  // Min

/// Loads at which results belong on the way down from the greatest increasing load, descending, kg:
/// the breaks where the class says so, else the rulebook's share of it. Empty: the same loads as
/// going up.
[[nodiscard]] std::vector<double> decreasing_loads_kg(const Rulebook& rulebook,
                                                      const Scale& scale,
                                                      double greatest_kg);

/// A rule that a scale does not meet, or can't be judged by.
struct ClassFault {
  std::string code;      // interval_too_small ... : stable, for tests
  std::string what;      // in words, kg or lb by scale.us
  std::string expected;  // what would be right
  bool breaks = true;    // false: can't be judged (CLC not stated, say)
  Source source;
};
/// Interval and class limits (n, e is 1, 2 or 5 times a power of ten), ranges, capacity against CLC
/// and sections.
[[nodiscard]] std::vector<ClassFault> class_faults(const Rulebook& rulebook, const Scale& scale);

struct TestLoad {
  double kg = 0.0;
  bool at_most = false;  // else: about this, or at least this
  Source source;
  std::string because;  // "(Max + T+)/(6 - 1)"
};
/// Load of the eccentric test (one support or quarter), of the rolling test, of a section, empty
/// where the rulebook has no such test.
[[nodiscard]] std::optional<TestLoad> eccentric_load(const Rulebook& rulebook, const Scale& scale);
[[nodiscard]] std::optional<TestLoad> rolling_load(const Rulebook& rulebook, const Scale& scale);
[[nodiscard]] std::optional<TestLoad> section_load(const Rulebook& rulebook, const Scale& scale);
/// The most that one pattern (`one_side`: one side of it) may carry by the CLC; empty: not stated.
[[nodiscard]] std::optional<TestLoad> most_on_pattern(const Rulebook& rulebook,
                                                      const Scale& scale,
                                                      bool one_side);

/// Standards that must be there: weights, and weights with substitutes.
struct Amount {
  double weights_kg = 0.0;
  double load_kg = 0.0;  // 0: no rule but Max
  Source source;
  std::string because;  // "12.5 % of Max, at least 5000 kg"
};
/// @param repeatability_kg  greatest less least, found; empty: not yet known
[[nodiscard]] Amount least_standards(const Rulebook& rulebook,
                                     const Scale& scale,
                                     std::optional<double> repeatability_kg);

/// The error that standards may have together at a load, kg.
[[nodiscard]] std::optional<Limit> standards_limit_at(const Rulebook& rulebook,
                                                      const Scale& scale,
                                                      Occasion occasion,
                                                      double load_kg);

/// Whether a test has to be made on this occasion. A digital display may be exempt at some stages.
[[nodiscard]] bool is_asked(const Rulebook& rulebook,
                            const Scale& scale,
                            Occasion occasion,
                            const TestRule& test);

/// What is weighed several times on this occasion.
struct RepeatsAsked {
  int count = 0;  // weighings of each load, at least; 0: not said
  Source count_source;
  std::vector<double> shares;  // of Max, one series each; empty: any load
  Source source;               // of the shares
};
[[nodiscard]] RepeatsAsked repeats_asked(const Rulebook& rulebook, Occasion occasion);

/// What the tare balance may be off by, and what zero setting may cover, kg.
[[nodiscard]] std::optional<Limit> tare_limit(const Rulebook& rulebook, const Scale& scale);
[[nodiscard]] std::optional<Limit> zero_range_limit(const Rulebook& rulebook, const Scale& scale);
/// What displays and printer of one scale may differ by at a load, kg.
[[nodiscard]] std::optional<Limit> indications_limit(const Rulebook& rulebook,
                                                     const Scale& scale,
                                                     double load_kg);

/// The greatest indication that may be shown, kg.
[[nodiscard]] std::optional<TestLoad> greatest_indication(const Rulebook& rulebook,
                                                          const Scale& scale);

}  // namespace weighwright::rules
