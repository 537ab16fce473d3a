#include "job/proof_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstddef>

#include "job/indication_words.h"
#include "job/test_words.h"
#include "job/users_units.h"
#include "proof/air.h"
#include "report/proof_view.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

struct TermWords {
  std::string_view code;
  std::string_view name;
  std::string_view source;
  std::string_view attack;  // what makes it smaller
};

constexpr std::array kTerms = {
    TermWords{"resolution_load", "Rounding at the load", "JCGM 100:2008, F.2.2.1",
              "Add small weights until the display changes over (before rounding), or read a finer "
              "step."},
    TermWords{"resolution_zero", "Rounding at zero", "JCGM 100:2008, F.2.2.1",
              "Read zero with small weights too, or in a finer step."},
    TermWords{"zero_not_read", "Zero not read", "JCGM 100:2008, 4.3.7",
              "Read zero just before the load."},
    TermWords{"repeatability", "Repeatability", "JCGM 100:2008, 4.2.2, 4.2.4",
              "More weighings of one load; look for wind, friction, binding."},
    TermWords{"eccentricity", "Eccentricity",
              "cg-18 v4.0, 7.1.1.4 (from memory, unverified); JCGM 100:2008, 4.3.7",
              "Trim the corners closer, or stand the load in the middle of the deck."},
    TermWords{"weights", "Test weights", "JCGM 100:2008, 4.3.7, 5.2.2 Note 1",
              "Weights with certified values, or of a better class."},
    TermWords{"weights_drift", "Drift of the weights",
              "cg-18 v4.0, 7.1.2.3 (from memory, unverified)", "Weights calibrated more recently."},
    TermWords{"buoyancy", "Air buoyancy", "cg-18 v4.0, 7.1.2.2 (from memory, unverified)",
              "Give temperature, pressure and humidity; set the span in this air."},
    TermWords{"substitution", "Substitution", "cg-18 v4.0, 7.1.2.6 (from memory, unverified)",
              "More standard weights, so that fewer steps are needed; read before rounding."}};

const TermWords* find_term(std::string_view code) {
  const auto found = std::find_if(kTerms.begin(), kTerms.end(),
                                  [code](const TermWords& term) { return term.code == code; });
  return found == kTerms.end() ? nullptr : &*found;
}

/// Non-binary rules: what the lines came to, each word apart (ILAC-G8:09/2019, 4.2.3).
std::string counted(const proof::LineCounts& lines) {
  return fmt::format("of {} lines {} pass, {} conditional pass, {} conditional fail, {} fail",
                     lines.judged(), lines.pass, lines.conditional_pass, lines.conditional_fail,
                     lines.fail);
}

/// Behind the words of a pass: what the guard band had to do with it.
std::string within_words(proof::DecisionRule rule, const proof::LineCounts& lines) {
  switch (rule) {
    case proof::DecisionRule::simple:
      break;
    case proof::DecisionRule::guarded:
      return ": " + counted(lines);
    case proof::DecisionRule::guarded_binary:
      return ", the guard band taken off";
  }
  return "";
}

/// Behind the words of an outcome that is beyond a limit: how many lines are.
std::string beyond_words(proof::DecisionRule rule, const proof::LineCounts& lines) {
  const int inside = lines.conditional_pass + lines.conditional_fail + lines.not_accepted;
  if (lines.fail == 0 && inside == 0) return "";
  switch (rule) {
    case proof::DecisionRule::simple:
      break;
    case proof::DecisionRule::guarded:
      return ": " + counted(lines);
    case proof::DecisionRule::guarded_binary:
      if (inside == 0) break;
      return fmt::format(
          ": {} of {} lines are beyond the limit, {} not accepted (within the limit, inside the "
          "guard band)",
          lines.fail, lines.judged(), inside);
  }
  return fmt::format(": {} of {} lines", lines.fail, lines.judged());
}

/// Simple acceptance asks for U up to a third of the limit (JCGM 106:2012, 8.2.3); under NIST
/// Handbook 44 uncertainty is told on request only, and a guard band has it in already.
std::string doubt_words(const rules::Rulebook& rulebook,
                        proof::DecisionRule rule,
                        const proof::LineCounts& lines) {
  const bool on_request = rulebook.code == "H44" || rulebook.base == "H44";
  if (on_request || rule != proof::DecisionRule::simple || lines.incapable == 0) return "";
  return fmt::format("; U is above a third of the limit at {} of {} lines", lines.incapable,
                     lines.judged());
}

bool has_finding(const proof::Verdict& verdict, std::string_view code) {
  return std::any_of(verdict.findings.begin(), verdict.findings.end(),
                     [code](const proof::ProofFinding& one) { return one.code == code; });
}

}  // namespace

std::string_view outcome_code(proof::Outcome outcome) {
  switch (outcome) {
    case proof::Outcome::pass:
      return "pass";
    case proof::Outcome::fail:
      return "fail";
    case proof::Outcome::incomplete:
      return "incomplete";
    case proof::Outcome::refused:
      return "refused";
    case proof::Outcome::conditional_pass:
      return "conditional_pass";
    case proof::Outcome::conditional_fail:
      return "conditional_fail";
    case proof::Outcome::not_accepted:
      return "not_accepted";
  }
  return "";
}

std::string_view conformity_code(proof::Conformity conformity) {
  switch (conformity) {
    case proof::Conformity::pass:
      return "pass";
    case proof::Conformity::conditional_pass:
      return "conditional_pass";
    case proof::Conformity::conditional_fail:
      return "conditional_fail";
    case proof::Conformity::fail:
      return "fail";
    case proof::Conformity::not_accepted:
      return "not_accepted";
  }
  return "";
}

std::string_view standing_code(proof::Standing standing) {
  switch (standing) {
    case proof::Standing::pass:
      return "pass";
    case proof::Standing::conditional_pass:
      return "conditional_pass";
    case proof::Standing::conditional_fail:
      return "conditional_fail";
    case proof::Standing::fail:
      return "fail";
    case proof::Standing::not_accepted:
      return "not_accepted";
    case proof::Standing::not_judged:
      return "not_judged";
  }
  return "";
}

std::string_view decision_code(proof::DecisionRule rule) {
  switch (rule) {
    case proof::DecisionRule::simple:
      return "simple";
    case proof::DecisionRule::guarded:
      return "guarded";
    case proof::DecisionRule::guarded_binary:
      return "guarded_binary";
  }
  return "";
}

std::optional<proof::DecisionRule> find_decision(std::string_view code) {
  for (const auto rule : {proof::DecisionRule::simple, proof::DecisionRule::guarded,
                          proof::DecisionRule::guarded_binary}) {
    if (decision_code(rule) == code) return rule;
  }
  return std::nullopt;
}

std::string term_name(std::string_view code) {
  const TermWords* const term = find_term(code);
  return std::string(term != nullptr ? term->name : code);
}

std::string term_source(std::string_view code) {
  const TermWords* const term = find_term(code);
  return term != nullptr ? std::string(term->source) : "";
}

std::string standard_words(std::string_view code) {
  if (code == "no_certificate") return "it has no certificate";
  if (code == "expired") return "its certificate ran out before the day of the test";
  if (code == "no_class_value" || code == "no_value") {
    return "no class that has a value for this nominal mass, and no certified value";
  }
  if (code == "uncertainty_zero") return "its certified value has an uncertainty of 0";
  if (code == "value_unlike_nominal") return "its certified value is far from its nominal mass";
  if (code == "doubled") return "its name stands twice among the weights";
  return std::string(code);
}

std::string readiness_words(bool confirmed) {
  return confirmed ? "Ready for the authority, whose word it is."
                   : "The rulebook's numbers were not compared with print.";
}

std::string ProofWords::headline(const proof::Verdict& verdict,
                                 proof::DecisionRule rule,
                                 bool as_left,
                                 bool confirmed) const {
  const std::string phase = as_left ? "as left" : "as found";
  const proof::LineCounts lines = proof::counts_of(verdict.lines);
  const std::string doubt = doubt_words(rulebook_, rule, lines);
  switch (verdict.outcome) {
    case proof::Outcome::pass:
      return fmt::format("WITHIN THE LIMITS, {}{}{}. {}", phase, within_words(rule, lines), doubt,
                         readiness_words(confirmed));
    case proof::Outcome::conditional_pass:
      return fmt::format("CONDITIONAL PASS, {}: {}.", phase, counted(lines));
    case proof::Outcome::conditional_fail:
      return fmt::format("CONDITIONAL FAIL, {}: {}.", phase, counted(lines));
    case proof::Outcome::not_accepted:
      return fmt::format(
          "NOT ACCEPTED, {}: {} of {} lines are within the limit, inside the guard band; none is "
          "beyond its limit.",
          phase, lines.not_accepted, lines.judged());
    case proof::Outcome::fail:
      return fmt::format("NOT WITHIN THE LIMITS, {}{}{}.", phase, beyond_words(rule, lines), doubt);
    case proof::Outcome::incomplete:
      if (verdict.missing.empty() && has_finding(verdict, "order_unknown")) {
        return fmt::format(
            "INCOMPLETE, {}: nobody knows whether the results came before an adjustment.", phase);
      }
      return fmt::format("INCOMPLETE, {}: no verdict until what is missing is done.", phase);
    case proof::Outcome::refused: {
      return has_finding(verdict, "stale")
                 ? "REFUSED: the results are older than the last span or trim. Test again."
                 : "REFUSED: the rulebook allows no such scale; see what is wrong with class, "
                   "interval or capacity.";
    }
  }
  return "";
}

std::string ProofWords::decision_rule(proof::DecisionRule rule, double guard) const {
  switch (rule) {
    case proof::DecisionRule::simple:
      return "Decision rule: simple acceptance, the error itself is held against the limit "
             "(JCGM 106:2012, 8.2; ILAC-G8:09/2019, 4.2.1; the rulebook's own way); where U is "
             "above a third of the limit the chance of a wrong verdict is told.";
    case proof::DecisionRule::guarded:
      return fmt::format(
          "Decision rule: non-binary with a guard band of {:g} U (ILAC-G8:09/2019, 4.2.3; JCGM "
          "106:2012, 8.3.2): pass up to the limit less the guard band, conditional pass up to the "
          "limit, conditional fail up to the limit plus the guard band, fail beyond it.",
          guard);
    case proof::DecisionRule::guarded_binary:
      return fmt::format(
          "Decision rule: binary with a guard band of {:g} U (ILAC-G8:09/2019, 4.2.2; JCGM "
          "106:2012, 8.3.2): accepted up to the limit less the guard band; what lies within the "
          "limit but inside the guard band is not accepted.",
          guard);
  }
  return "";
}

std::string ProofWords::not_part(const proof::NotPart& one) const {
  std::string name = test_name(rulebook_, one.check);
  switch (one.why) {
    case proof::NotPart::Why::no_result:
      return name + ": nobody looked at it.";
    case proof::NotPart::Why::rounding_decides:
      return name + ": looked at too coarsely to be judged; small weights, or a finer step.";
    case proof::NotPart::Why::not_of_a_digital_display:
      return name + ": not asked of a digital display on this occasion.";
  }
  return name;
}

std::string_view not_part_code(proof::NotPart::Why why) {
  switch (why) {
    case proof::NotPart::Why::no_result:
      return "no_result";
    case proof::NotPart::Why::rounding_decides:
      return "rounding_decides";
    case proof::NotPart::Why::not_of_a_digital_display:
      return "not_of_a_digital_display";
  }
  return "";
}

std::string ProofWords::missing(const proof::Missing& missing) const {
  const IndicationWords say(deck_);
  std::string text = test_name(rulebook_, missing.check) + ": ";
  const std::string load = missing.load_kg > 0.0 ? say.load(missing.load_kg) : "";
  if (missing.code == "test") {
    text += "not done";
  } else if (missing.code == "place") {
    text += "not read " + missing.where;
  } else if (missing.code == "load") {
    text += load.empty() ? "not read on the empty deck, or near zero" : "no reading near " + load;
  } else if (missing.code == "repeats") {
    text += "too few weighings";
    if (!load.empty()) text += " of " + load;
  } else if (missing.code == "zero_after") {
    text += "zero was not read after the last load came off";
  } else if (missing.code == "zero") {
    text += "zero was not read";
  } else if (missing.code == "weights") {
    text += "nobody says which weights stood there";
  } else if (missing.code == "standards") {
    text += "less than the standards that are needed (" + load + ")";
  } else if (missing.code == "clc") {
    text += "can't be judged, the concentrated load capacity (CLC) is not marked";
  } else if (missing.code == "decreasing_loads") {
    text += "the loads that went up were not read coming down";
  } else {
    text += missing.code;
  }
  if (missing.range > 0) text += fmt::format(", range {}", missing.range);
  if (missing.code != "place" && !missing.where.empty()) text += " (" + missing.where + ")";
  return text + ".";
}

std::string ProofWords::finding(const proof::ProofFinding& finding) const {
  std::string text = in_users_units(deck_, finding.what);
  if (!text.empty() && text.back() != '.') text += '.';
  // What is said of all lines together stands nowhere in particular.
  const bool of_all = finding.code == "not_capable" || finding.code == "eccentricity_not_measured";
  // The name of a file stays as its owner wrote it.
  if (!of_all && !finding.file.empty() && finding.line > 0) {
    return fmt::format("{}, line {}: {}", finding.file, finding.line, text);
  }
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') {
    text[0] = static_cast<char>(text[0] - 'a' + 'A');
  }
  return text;
}

std::string ProofWords::not_capable(const proof::Verdict& verdict) const {
  int decided = 0;
  int incapable = 0;
  const proof::JudgedLine* worst = nullptr;
  const auto share = [](const proof::JudgedLine& line) {
    return line.budget->U_kg / line.limit->kg;
  };
  for (const proof::JudgedLine& line : verdict.lines) {
    if (!line.judged || !line.limit || !line.budget || !line.decision) continue;
    ++decided;
    if (line.decision->capable || !(line.limit->kg > 0.0)) continue;
    ++incapable;
    if (worst == nullptr || share(line) > share(*worst)) worst = &line;
  }
  if (worst == nullptr) return "";
  const IndicationWords say(deck_);
  const int leads = worst->budget->leads;
  const std::string by =
      leads < 0 ? "" : term_name(worst->budget->terms[static_cast<std::size_t>(leads)].code);
  return fmt::format("U is above a third of the limit at {} of {} lines; at worst {} of {}{}.",
                     incapable, decided, uncertainty_words(worst->budget->U_kg),
                     say.mass(worst->limit->kg), by.empty() ? "" : ", most of it from: " + by);
}

std::string ProofWords::attack(std::string_view code,
                               double share,
                               double U_kg,
                               double limit_kg) const {
  const TermWords* const term = find_term(code);
  if (term == nullptr) return "";
  const IndicationWords say(deck_);
  return fmt::format("U is {} of a limit of {}; {} makes {:.0f} % of it. {}",
                     uncertainty_words(U_kg), say.mass(limit_kg), term->name, share * 100.0,
                     term->attack);
}

std::string ProofWords::uncertainty_words(double kg) const {
  report::ProofView unit;
  unit.us = deck_.units == deck::UnitSystem::us;
  return report::uncertainty_figures(unit, {kg}).front() + " " + report::mass_unit(unit);
}

std::string ProofWords::foreknown(const proof::Foreknown& known) const {
  const IndicationWords say(deck_);
  return fmt::format(
      "The chances rest on a span of {:+.3f} % (\u00b1 {:.3f} %), corners that spread by {} at {}, "
      "and a "
      "repeatability of {}: from what was read, else from habit (cells' papers are good to about "
      "0.1 %, "
      "corners within an interval, 0.3 d; common practice, no source).",
      (known.slope - 1.0) * 100.0, known.u_slope * 100.0, say.mass(known.spread_kg),
      say.load(known.reference_kg), say.mass(known.repeatability_kg));
}

std::string ProofWords::buoyancy(double air_kg_per_m3) const {
  constexpr double kCastIron = 7100.0;  // kg/m3
  const double kg =
      proof::buoyancy_correction(deck_.capacity_kg, kCastIron, air_kg_per_m3, air_kg_per_m3);
  const bool us = deck_.units == deck::UnitSystem::us;
  return fmt::format(
      "Air {:.3f} kg/m3: to a scale that was adjusted in it, its buoyancy is worth {:+.2f} {} of "
      "cast "
      "iron at Max; that is within the term named so, and not corrected.",
      air_kg_per_m3, us ? kg / units::kPound_kg : kg, us ? "lb" : "kg");
}

std::string ProofWords::uncertainty(double coverage, const proof::Verdict& verdict) const {
  if (verdict.lines.empty()) return "";
  return fmt::format(
      "U is the expanded uncertainty of the error: the standard uncertainty times k, for a "
      "coverage "
      "of about {:g} %, k from Student's t with the effective degrees of freedom (JCGM 100:2008, "
      "G.4.1), 1.65 where one rectangular term leads. Model: EURAMET cg-18 v4.0 (from memory, "
      "unverified), its pieces by JCGM 100. It holds for the time, place and air of the test.",
      coverage * 100.0);
}

}  // namespace weighwright::job
