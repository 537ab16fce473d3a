#pragma once
/// Every word that paper adds to a view, by language. To translate: one more table in phrases.cpp.
///
/// What a view says itself (headlines, findings, names of tests) is chosen by job.
/// "{}" stands where a figure or a name is put in, in this order.

#include <string>
#include <string_view>
#include <vector>

namespace weighwright::report {

struct Phrases {
  // every page
  const char* page_of;  // page, pages
  const char* end_of_report;
  const char* contents_record;
  const char* more;  // characters left out
  // front page
  const char* number;
  const char* replaces;
  const char* laboratory;
  const char* accreditation;
  const char* customer;
  const char* item;
  const char* cells;
  const char* work;
  const char* place;
  const char* performed;
  const char* received;
  const char* issued;
  const char* method;
  const char* maker;
  const char* model;
  const char* serial;
  const char* approval;
  const char* condition;
  const char* rules;           // label of the rulebook
  const char* accuracy_class;  // label
  const char* range;           // label of Max and interval
  const char* to;              // between two dates
  const char* outcome;
  const char* as_found;
  const char* as_left;
  const char* outcome_pass;
  const char* outcome_fail;
  const char* outcome_incomplete;
  const char* outcome_refused;
  const char* outcome_conditional_pass;
  const char* outcome_conditional_fail;
  const char* outcome_not_accepted;
  const char* not_tested;
  const char* not_adjusted;  // as found is as left
  const char* rules_line;    // rulebook, class
  const char* max_line;      // Max, division, interval
  // deck plan
  const char* deck_plan;
  const char* plan_caption;  // length, width
  const char* end_1;
  const char* end_2;
  const char* metre;
  const char* plan_title;
  const char* plan_described;  // stands, length, width
  const char* patches_described;
  // results
  const char* results_as_found;
  const char* results_as_left;
  const char* run;  // number
  const char* continued;
  const char* where;
  const char* load;
  const char* indication;
  const char* error;
  const char* limit;
  const char* expanded;
  const char* factor;
  const char* within;
  const char* zero;   // E0
  const char* added;  // small weights
  const char* start;  // before the known load
  const char* division;
  const char* error_is;       // how it is computed: terms that follow E0
  const char* before_is;      // division, unit
  const char* before_is_any;  // where divisions differ
  const char* columns_say;    // unit
  const char* columns_say_within;
  const char* verdict;
  const char* pass;
  const char* fail;
  const char* not_judged;
  const char* conditional_pass;
  const char* conditional_fail;
  const char* not_accepted;
  const char* inside_band;  // what "not accepted" means
  const char* before_rounding;
  const char* agreement;
  const char* result;
  const char* value;
  const char* at_most;
  const char* at_least;
  const char* clause;
  const char* results_compared;  // count, behind what was compared
  const char* weighings;         // their results, s
  const char* weighing;          // number, indication, added, E0, result
  const char* s_line;            // s with its unit
  const char* substitutes;
  const char* substitute;  // name, mass, u
  const char* pooled;      // s
  const char* missing;
  const char* findings;
  const char* not_part;
  const char* blocks;
  // chart
  const char* chart;
  const char* chart_caption;
  const char* chart_described;  // lines, limits
  const char* limits;
  const char* limits_found;
  const char* limits_left;
  const char* load_axis;  // unit
  const char* error_axis;
  const char* all_conform;  // percent
  // evidence
  const char* standards;
  const char* standard;
  const char* nominal;
  const char* weight_class;
  const char* conventional;
  const char* certificate;
  const char* valid_to;
  const char* traced_to;
  const char* not_used;
  const char* traceability;
  const char* environment;
  const char* temperature;
  const char* humidity;
  const char* pressure;
  const char* air_density;
  const char* gravity;
  const char* weather;
  const char* uncertainty;
  const char* budget_of;  // test, load
  const char* contribution;
  const char* standard_u;
  const char* share;
  const char* source;
  const char* expanded_line;  // U, k
  const char* dof_line;
  const char* dof_infinite;
  const char* decision_rule;
  const char* rulebook;
  const char* rules_hash;
  const char* unverified;
  const char* rule_value;
  const char* rule_numbers;
  const char* rule_says;
  const char* rule_known;
  const char* rule_page;
  const char* rules_list;  // title of the check list
  const char* rules_how;
  const char* assumed;
  // what was found, done, left
  const char* seals;
  const char* seal_when;
  const char* seal_what;
  const char* seal_number;
  const char* seal_place;
  const char* seal_authority;
  const char* found;
  const char* left;
  const char* settings;
  const char* setting;
  const char* setting_value;
  const char* adjustments;
  const char* deviations;
  const char* by_customer;
  const char* by_others;
  const char* opinions;
  const char* remarks;
  const char* statements;
  // where the loads stood
  const char* placements;
  const char* placements_says;
  const char* test;
  const char* load_of;
  const char* stood_when;
  const char* stood_by;
  const char* of_entry;
  const char* placed_found;
  const char* placed_left;
  const char* placed_stale;
  const char* unknown_load;
  const char* drawing_of;  // numbers of placements
  // signature, journal
  const char* authorised;
  const char* name;
  const char* role;
  const char* date;
  const char* signature;
  const char* journal;
  const char* journal_says;  // entries
  const char* head;          // device, sequence
  const char* verify_with;
  const char* code_holds;  // heads in the code, of all
  const char* no_code;
  const char* more_heads;  // number
  const char* made_by;
  const char* no_font;  // characters
  const char* record;
  const char* entry;
  const char* when;
  const char* author;
  const char* what;
  // job sheet
  const char* moves;
  const char* how;
  const char* then;
  const char* cautions;
  const char* box;  // tag
  const char* done;
  const char* made;
};

/// @throws std::invalid_argument  naming the languages that there are
[[nodiscard]] const Phrases& phrases(std::string_view language);
[[nodiscard]] std::vector<std::string_view> languages();

}  // namespace weighwright::report
