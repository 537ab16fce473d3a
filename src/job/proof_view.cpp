#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include "job/indication_words.h"
#include "job/proof_words.h"
#include "job/prove_case.h"
#include "job/rulebook_of.h"
#include "job/test_words.h"
#include "proof/scale_of.h"
#include "record/local_time.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

using proof::JudgedLine;

constexpr double kWorthAttack =
    3.0;  // U above limit / 3: the capability that JCGM 106 8.2.3 asks for

class ProofViewer {
 public:
  ProofViewer(const LoadedDeck& loaded,
              const rules::Rulebook& rulebook,
              const proof::ProofCase& what,
              const proof::Verdict& verdict,
              const RulesStanding& standing)
      : deck_(*loaded.deck),
        rulebook_(rulebook),
        case_(what),
        verdict_(verdict),
        standing_(standing),
        words_(deck_, rulebook) {
    for (const deck::Assumed& one : loaded.assumed) {
      // What dead-load balance and statics assumed has no part in a verdict.
      if (one.key.starts_with("site.") || one.key.starts_with("deck.")) {
        view_.assumed.push_back(one);
      }
    }
  }

  report::ProofView show(const std::optional<proof::Foreknown>& known) {
    show_head();
    for (const JudgedLine& line : verdict_.lines) show(line);
    for (const proof::JudgedRange& range : verdict_.ranges) show(range);
    show_zeros();
    for (const proof::JudgedStep& step : verdict_.steps) show(step);
    show_repeats();
    if (verdict_.net && !verdict_.net->within) show(*verdict_.net);
    for (const proof::Missing& missing : verdict_.missing) {
      view_.missing.push_back({.check = std::string(rules::code_of(missing.check)),
                               .code = missing.code,
                               .sentence = words_.missing(missing),
                               .clause = cite(missing.source),
                               .range = missing.range});
    }
    for (const proof::JudgedCheck& check : verdict_.checks) show(check);
    for (const proof::NotPart& one : verdict_.not_part) {
      view_.not_part.push_back({.check = std::string(rules::code_of(one.check)),
                                .name = test_name(rulebook_, one.check),
                                .why = std::string(not_part_code(one.why)),
                                .sentence = words_.not_part(one),
                                .clause = cite(one.source)});
    }
    for (const proof::ProofFinding& finding : verdict_.findings) {
      if (finding.code == "net_error") continue;  // told in the deck's units below
      view_.findings.push_back({.code = finding.code,
                                .blocks = finding.blocks,
                                .file = finding.file,
                                .line = finding.line,
                                .sentence = finding.code == "not_capable"
                                                ? words_.not_capable(verdict_)
                                                : words_.finding(finding),
                                .clause = cite(finding.source)});
    }
    for (const record::Weight& weight : case_.weights) {
      show(weight);
      if (!weight.certificate.empty() && !weight.expires_day) tell_no_expiry(weight);
    }
    show_uncertainty();
    show_staircase();
    if (known) {
      show_chances(*known);
      view_.uncertainty = words_.foreknown(*known);
    }
    note_sources();
    // A firm that compared the numbers with its print answers for them.
    if (!standing_.confirmed) view_.unverified.assign(memory_.begin(), memory_.end());
    view_.rules_hash = standing_.hash;
    view_.rules_confirmed = standing_.confirmed.has_value();
    view_.rules_says = standing_words(standing_);
    return std::move(view_);
  }

 private:
  std::string cite(const rules::Source& source) {
    if (source.clause.empty()) return "";
    const std::string text = rulebook_.cite(source);
    if (source.basis == rules::Basis::memory) memory_.insert(text);
    return text;
  }

  /// Everything that this verdict rests on, printed or not, so that what is from memory is named.
  void note_sources() {
    std::set<rules::Check> made;
    for (const JudgedLine& line : verdict_.lines) made.insert(line.check);
    for (const proof::JudgedRange& range : verdict_.ranges) made.insert(range.check);
    if (!verdict_.steps.empty()) made.insert(rules::Check::discrimination);
    for (const rules::Check check : made) {
      const rules::TestRule* const rule = rulebook_.find_test(check);
      if (rule == nullptr) continue;
      (void)cite(rule->source);
      if (rule->range_within != rules::RangeOf::none) (void)cite(rule->range_source);
    }
    if (const auto* const occasion = rulebook_.find_occasion(case_.occasion)) {
      (void)cite(occasion->source);
    }
    if (made.empty()) return;
    note_repeats();
    for (const rules::Source* const source :
         {&rulebook_.standards_share.source, &rulebook_.amounts_source,
          &rulebook_.substitution_source, &rulebook_.increasing_loads.source,
          &rulebook_.zero_setting_e.source, &rulebook_.zero_return_e.source,
          &rulebook_.discrimination_added_d.source, &rulebook_.discrimination_change_d.source}) {
      (void)cite(*source);
    }
  }

  /// Where repeatability had to be looked at.
  void note_repeats() {
    const rules::TestRule* const test = rulebook_.find_test(rules::Check::repeatability);
    const bool asked = test != nullptr &&
                       rules::is_asked(rulebook_, proof::scale_of(deck_), case_.occasion, *test);
    if (!asked) return;
    const rules::RepeatsAsked repeats = rules::repeats_asked(rulebook_, case_.occasion);
    (void)cite(repeats.count_source);
    (void)cite(repeats.source);
  }

  void show_head() {
    view_.deck_name = deck_.name;
    view_.rulebook = rulebook_title(rulebook_);
    view_.rulebook_remark = rulebook_.remark;
    view_.accuracy_class = deck_.accuracy_class;
    view_.division = rulebook_.division;
    view_.occasion = std::string(rules::code_of(case_.occasion));
    view_.occasion_says = occasion_words(rulebook_, case_.occasion);
    view_.phase = case_.as_left ? "as_left" : "as_found";
    view_.outcome = outcome_code(verdict_.outcome);
    view_.headline =
        words_.headline(verdict_, case_.rule, case_.as_left, standing_.confirmed.has_value());
    show_decision();
    if (!verdict_.days.empty()) {
      view_.began = record::print_date(verdict_.days.front());
      view_.ended = record::print_date(verdict_.days.back());
    }
    view_.capacity_kg = deck_.capacity_kg;
    view_.interval_kg = deck_.interval_kg;
    view_.ranges_say = IndicationWords(deck_).ranges();
    // Lines share zero, repeats and weights: a product of their chances would say nothing.
    view_.p_all = std::numeric_limits<double>::quiet_NaN();
    view_.coverage = case_.coverage;
    view_.leading = verdict_.sampled_line;
    view_.us = deck_.units == deck::UnitSystem::us;
  }

  void show_decision() {
    view_.decision_rule = words_.decision_rule(case_.rule, case_.guard);
    view_.decision = decision_code(case_.rule);
    if (case_.rule != proof::DecisionRule::simple) view_.guard_U = case_.guard;
    const proof::LineCounts lines = proof::counts_of(verdict_.lines);
    view_.counts = {.pass = lines.pass,
                    .conditional_pass = lines.conditional_pass,
                    .conditional_fail = lines.conditional_fail,
                    .fail = lines.fail,
                    .not_accepted = lines.not_accepted,
                    .not_judged = lines.not_judged,
                    .U_above_third = lines.incapable};
  }

  void show(const JudgedLine& line) {
    report::ProofLineView view;
    view.check = std::string(rules::code_of(line.check));
    view.name = test_name(rulebook_, line.check);
    view.run = line.run;
    view.where = where_of(line);
    view.at = place_text(line.place);
    view.heading = std::string(heading_code(line.heading));
    view.material = line.material;
    view.range = deck_.ranges_kind == deck::RangesKind::ranges ? line.range + 1 : 0;
    view.load_kg = line.load_kg;
    view.indication_kg = line.indication_kg;
    view.error_kg = line.error_kg;
    view.before_rounding = line.before_rounding;
    show_terms(line, view);
    if (line.limit) view.limit_kg = line.limit->kg;
    view.no_limit = line.no_limit;
    view.clause = clause_of(line);
    view.verdict = standing_code(proof::standing_of(line));
    if (line.decision) {
      view.sure = conformity_code(line.decision->conformity);
      view.p_conforming = line.decision->p_conforming;
      view.p_false = line.decision->p_false;
    }
    if (line.budget) show(*line.budget, view);
    view.attack = attack_of(line);
    view.file = line.file;
    view.line = line.line;
    view_.lines.push_back(std::move(view));
  }

  /// What the error is computed from. Small weights that the rulebook does not count with are not
  /// among it.
  static void show_terms(const JudgedLine& line, report::ProofLineView& view) {
    if (line.before_rounding) view.added_kg = line.added_kg;
    view.division_kg = line.division_kg;
    if (line.zero_read) view.zero_kg = line.zero_kg;
    if (line.by_strain) view.start_kg = line.start_kg;
  }

  /// Pooled standard deviation, and what took the place of known loads.
  void show_repeats() {
    view_.s_kg = verdict_.s_kg;
    for (const proof::SubstituteWorth& one : verdict_.substitutes) {
      view_.substitutes.push_back({.name = one.name, .mass_kg = one.kg, .u_kg = one.u_kg});
    }
  }

  /// Of the limit, of the occasion where it changes the limit, and of a test that has a place.
  std::string clause_of(const JudgedLine& line) {
    if (!line.limit) return cite(line.source);
    std::string text = cite(line.limit->source);
    if (line.limit->factor != 1.0) text += "; " + cite(line.limit->factor_source);
    const bool placed = line.place.kind != record::LoadPlace::Kind::deck;
    const std::string test = cite(line.source);
    return placed && !test.empty() ? test + "; " + text : text;
  }

  static std::string where_of(const JudgedLine& line) {
    std::string where = place_words(line.place);
    const std::string heading = heading_words(line.heading);
    if (!heading.empty()) where += (where.empty() ? "" : ", ") + heading;
    return where;
  }

  void show(const proof::Budget& budget, report::ProofLineView& view) {
    view.U_kg = budget.U_kg;
    view.k = budget.k;
    if (std::isfinite(budget.dof)) view.dof = budget.dof;
    const double variance = budget.u_kg * budget.u_kg;
    for (const proof::Term& term : budget.terms) {
      view.terms.push_back({.code = term.code,
                            .name = term_name(term.code),
                            .u_kg = term.u_kg,
                            .share = variance > 0.0 ? term.u_kg * term.u_kg / variance : 0.0,
                            .source = term_source(term.code)});
    }
  }

  std::string attack_of(const JudgedLine& line) const {
    if (!line.budget || !line.limit || line.budget->leads < 0) return "";
    if (kWorthAttack * line.budget->U_kg <= line.limit->kg) return "";
    const proof::Term& term = line.budget->terms[static_cast<std::size_t>(line.budget->leads)];
    return words_.attack(term.code, line.budget->leads_share, line.budget->U_kg, line.limit->kg);
  }

  /// Where half a division more or less changes the answer there is none.
  static const char* judged(bool passed, bool rounding_decides) {
    if (passed) return "pass";
    return rounding_decides ? "not_judged" : "fail";
  }

  static std::string why_not(bool rounding_decides) {
    return rounding_decides ? "rounding_decides" : "";
  }

  void show(const proof::JudgedRange& range) {
    std::vector<report::ProofRepeatView> repeats;
    for (const proof::Repeat& one : range.repeats) {
      repeats.push_back(
          {.indication_kg = one.indication_kg,
           .added_kg = rulebook_.before_rounding ? one.added_kg : std::optional<double>(),
           .zero_kg = one.zero_kg,
           .result_kg = one.result_kg});
    }
    view_.ranges.push_back({.check = std::string(rules::code_of(range.check)),
                            .name = test_name(rulebook_, range.check) + ", greatest less least",
                            .where = "",
                            .load_kg = range.load_kg,
                            .value_kg = range.range_kg,
                            .limit_kg = range.limit.kg,
                            .at_least = false,
                            .count = range.count,
                            .verdict = judged(range.passed, range.rounding_decides),
                            .clause = cite(range.limit.source),
                            .why = why_not(range.rounding_decides),
                            .repeats = std::move(repeats),
                            .s_kg = range.s_kg});
  }

  void show(const proof::JudgedZero& zero, int count) {
    // A limit for half an hour under load is none for a load that came off sooner.
    const char* const name = !zero.after_load ? "Zero"
                             : zero.told_only ? "Zero after the load came off, told only"
                                              : "Zero after the load came off";
    view_.ranges.push_back(
        {.check = "zero",
         .name = name,
         .where = count > 1 ? "the greatest change" : "",
         .load_kg = zero.load_kg,
         .value_kg = std::abs(zero.change_kg),
         .limit_kg = zero.limit.kg,
         .at_least = false,
         .count = count > 1 ? count : 0,
         .verdict = zero.told_only ? "not_judged" : judged(zero.passed, zero.rounding_decides),
         .clause = cite(zero.limit.source)});
  }

  /// Every zero that is beyond its limit by itself; of the others the setting, and the worst
  /// return.
  void show_zeros() {
    Worst judged;
    Worst told;
    for (const proof::JudgedZero& zero : verdict_.zeros) {
      if (zero.told_only) {
        told.add(zero);
      } else if (!zero.after_load || !zero.passed) {
        show(zero, 1);
      } else {
        judged.add(zero);
      }
    }
    for (const Worst& one : {judged, told}) {
      if (one.zero != nullptr) show(*one.zero, one.count);
    }
  }

  /// The greatest change of several.
  struct Worst {
    const proof::JudgedZero* zero = nullptr;
    int count = 0;
    void add(const proof::JudgedZero& one) {
      ++count;
      if (zero == nullptr || std::abs(one.change_kg) > std::abs(zero->change_kg)) zero = &one;
    }
  };

  static std::string how_found(const proof::JudgedCheck& check) {
    if (check.by == "setting") return "from the set-up";
    return check.by == "simulator" ? "with a signal simulator" : "";
  }

  void show(const proof::JudgedCheck& check) {
    view_.ranges.push_back({.check = std::string(rules::code_of(check.check)),
                            .name = test_name(rulebook_, check.check),
                            .where = how_found(check),
                            .load_kg = check.load_kg,
                            .value_kg = check.value_kg,
                            .limit_kg = check.limit.kg,
                            .at_least = false,
                            .count = 0,
                            .verdict = judged(check.passed, check.rounding_decides),
                            .clause = cite(check.limit.source),
                            .why = why_not(check.rounding_decides)});
  }

  void show(const proof::JudgedStep& step) {
    view_.ranges.push_back({.check = "discrimination",
                            .name = test_name(rulebook_, rules::Check::discrimination) + ", " +
                                    IndicationWords(deck_).mass(step.added_kg) + " added",
                            .where = "",
                            .load_kg = step.load_kg,
                            .value_kg = step.change_kg,
                            .limit_kg = step.wanted_kg,
                            .at_least = true,
                            .count = 0,
                            .verdict = step.passed ? "pass" : "fail",
                            .clause = cite(step.source)});
  }

  /// What a customer weighs is a difference: it is told where it is beyond its limit.
  void show(const proof::NetError& net) {
    const IndicationWords say(deck_);
    view_.findings.push_back(
        {.code = "net_error",
         .blocks = false,
         .file = "",
         .line = 0,
         .sentence = fmt::format(
             "Between {} and {} the errors make {} {} on a net load of {}; its limit "
             "is {}. {}",
             say.load(net.empty_kg), say.load(net.full_kg), say.error(net.error_kg), say.unit(),
             say.load(net.full_kg - net.empty_kg), say.mass(net.limit.kg),
             net.each_passes ? "The loads pass each by itself; what is weighed net is beyond."
                             : "What is weighed net is beyond it."),
         .clause = cite(net.limit.source)});
  }

  void show(const record::Weight& weight) {
    report::StandardView view;
    view.id = weight.id;
    view.count = weight.count;
    view.nominal_kg = weight.nominal_kg;
    view.weight_class = weight.weight_class;
    view.conventional_kg = weight.conventional_kg;
    view.U_kg = weight.uncertainty_kg;
    view.certificate = weight.certificate;
    if (weight.expires_day) view.expires = record::print_date(*weight.expires_day);
    view.traced_to = weight.traced_to;
    const auto used = verdict_.last_use.find(weight.id);
    const std::int64_t day = used != verdict_.last_use.end() ? used->second
                             : verdict_.days.empty()         ? case_.day
                                                             : verdict_.days.back();
    for (const proof::StandardFinding& one : proof::judge_standards({weight}, day)) {
      if (one.refuses) view.refused = standard_words(one.code);
    }
    view_.standards.push_back(std::move(view));
  }

  void tell_no_expiry(const record::Weight& weight) {
    view_.findings.push_back(
        {.code = "no_expiry",
         .blocks = false,
         .file = "",
         .line = 0,
         .sentence = fmt::format("{}: no date is on record until which certificate {} holds; ask.",
                                 weight.id, weight.certificate),
         .clause = ""});
  }

  void show_uncertainty() {
    view_.uncertainty = words_.uncertainty(case_.coverage, verdict_);
    if (const auto& air = case_.conditions.air_kg_per_m3) {
      view_.uncertainty += " " + words_.buoyancy(*air);
    }
    if (!verdict_.sampled || !verdict_.validation) return;
    const IndicationWords say(deck_);
    view_.sampled = fmt::format(
        "Checked by {} draws of the whole model (JCGM 101:2008, 7.9, 8.1): the ends of the "
        "interval ({} to {} {}) differ by {} and {} from the analytic ones, tolerance {}: {}.",
        verdict_.sampled->trials, say.error(verdict_.sampled->low),
        say.error(verdict_.sampled->high), say.unit(), in_unit(verdict_.validation->d_low),
        in_unit(verdict_.validation->d_high), in_unit(verdict_.validation->delta),
        verdict_.validation->holds ? "the analytic result holds"
                                   : "the analytic result does not hold to that tolerance (few "
                                     "repeats, or one rectangular "
                                     "term leads); the sampled interval is the better one, more "
                                     "repeats bring them together");
  }

  /// "1.16 kg", "2.6 lb".
  std::string in_unit(double kg) const {
    const double value = deck_.units == deck::UnitSystem::us ? kg / units::kPound_kg : kg;
    return units::print_fixed(value, 2) + " " + IndicationWords(deck_).unit();
  }

  void show_staircase() {
    const rules::Scale scale = proof::scale_of(deck_);
    double from_kg = 0.0;
    std::vector<double> breaks = rules::break_loads_kg(rulebook_, scale);
    breaks.push_back(deck_.capacity_kg);
    for (const double up_to : breaks) {
      const auto limit = rules::limit_at(rulebook_, scale, case_.occasion, up_to);
      if (!limit || up_to <= from_kg) continue;
      view_.staircase_kg.emplace_back(from_kg, limit->kg);
      view_.staircase_kg.emplace_back(up_to, limit->kg);
      from_kg = up_to;
    }
  }

  /// Lines that the rulebook asks for, whoever the weights belong to.
  [[nodiscard]] std::vector<std::pair<rules::Check, double>> likely_lines() const {
    const rules::Scale scale = proof::scale_of(deck_);
    std::vector<std::pair<rules::Check, double>> lines;
    std::set<double> loads = {rules::least_load_kg(rulebook_, scale), deck_.capacity_kg};
    for (const double load : rules::break_loads_kg(rulebook_, scale)) loads.insert(load);
    for (const double load : loads) {
      if (load > 0.0) lines.emplace_back(rules::Check::increasing, load);
    }
    if (const auto load = rules::section_load(rulebook_, scale)) {
      lines.emplace_back(rules::Check::section, load->kg);
    }
    if (const auto load = rules::eccentric_load(rulebook_, scale)) {
      lines.emplace_back(rules::Check::eccentric, load->kg);
    }
    return lines;
  }

  void show_chances(const proof::Foreknown& known) {
    for (const proof::LineChance& one :
         proof::chances_before(deck_, rulebook_, case_.occasion, likely_lines(), known)) {
      view_.chances.push_back({.check = std::string(rules::code_of(one.check)),
                               .load_kg = one.load_kg,
                               .limit_kg = one.limit.kg,
                               .expected_error_kg = one.expected_error_kg,
                               .u_kg = one.u_kg,
                               .p_pass = one.p_pass});
    }
  }

  const deck::Deck& deck_;
  const rules::Rulebook& rulebook_;
  const proof::ProofCase& case_;
  const proof::Verdict& verdict_;
  const RulesStanding& standing_;
  ProofWords words_;
  report::ProofView view_;
  std::set<std::string> memory_;
};

}  // namespace

report::ProofView proof_view(const LoadedDeck& loaded,
                             const rules::Rulebook& rulebook,
                             const proof::ProofCase& what,
                             const std::optional<proof::Foreknown>& known,
                             const RulesStanding& standing) {
  const proof::Verdict verdict = proof::prove(*loaded.deck, rulebook, what);
  return ProofViewer(loaded, rulebook, what, verdict, standing).show(known);
}

}  // namespace weighwright::job
