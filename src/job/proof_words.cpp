#include "job/proof_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "job/indication_words.h"
#include "job/test_words.h"
#include "job/users_units.h"
#include "proof/air.h"

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
  }
  return "";
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
  if (code == "value_unlike_nominal") return "its certified value is far from its nominal mass";
  if (code == "doubled") return "its name stands twice among the weights";
  return std::string(code);
}

std::string ProofWords::headline(const proof::Verdict& verdict, bool as_left) const {
  const std::string phase = as_left ? "as left" : "as found";
  switch (verdict.outcome) {
    case proof::Outcome::pass: {
      const auto doubtful =
          std::count_if(verdict.lines.begin(), verdict.lines.end(),
                        [](auto& line) { return line.decision && !line.decision->capable; });
      const std::string doubt =
          doubtful == 0 ? ""
                        : fmt::format("; U is above a third of the limit at {} of {} lines",
                                      doubtful, verdict.lines.size());
      return fmt::format("WITHIN THE LIMITS, {}{}. Ready for the authority, whose word it is.",
                         phase, doubt);
    }
    case proof::Outcome::fail: {
      const auto failed = std::count_if(verdict.lines.begin(), verdict.lines.end(), [](auto& line) {
        return line.judged && line.limit && !line.passed;
      });
      const auto beyond = std::count_if(verdict.lines.begin(), verdict.lines.end(), [](auto& line) {
        return line.judged && line.limit && std::abs(line.error_kg) > line.limit->kg;
      });
      if (failed > 0 && beyond == 0) {
        return fmt::format(
            "NOT SHOWN TO BE WITHIN THE LIMITS, {}: the guard band refuses {} of {} lines.", phase,
            failed, verdict.lines.size());
      }
      return failed > 0 ? fmt::format("NOT WITHIN THE LIMITS, {}: {} of {} lines.", phase, failed,
                                      verdict.lines.size())
                        : fmt::format("NOT WITHIN THE LIMITS, {}.", phase);
    }
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
  if (rule == proof::DecisionRule::simple) {
    return "Decision rule: simple acceptance, the error itself is held against the limit "
           "(JCGM 106:2012, 8.2; the rulebook's own way); where U is above a third of the limit "
           "the "
           "chance of a wrong verdict is told.";
  }
  return fmt::format(
      "Decision rule: guarded acceptance, the limit less {:g} U (JCGM 106:2012, 8.3.2; words "
      "between "
      "pass and fail by ILAC-G8:09/2019, 4.2.3).",
      guard);
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
    text += "no reading near " + load;
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
  } else if (missing.code == "decreasing_loads") {
    text += "the loads that went up were not read coming down";
  } else {
    text += missing.code;
  }
  if (missing.code != "place" && !missing.where.empty()) text += " (" + missing.where + ")";
  return text + ".";
}

std::string ProofWords::finding(const proof::ProofFinding& finding) const {
  std::string text = in_users_units(deck_, finding.what);
  // What is said of all lines together stands nowhere in particular.
  const bool of_all = finding.code == "not_capable" || finding.code == "eccentricity_not_measured";
  if (!of_all && !finding.file.empty() && finding.line > 0) {
    text = fmt::format("{}, line {}: {}", finding.file, finding.line, text);
  }
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') {
    text[0] = static_cast<char>(text[0] - 'a' + 'A');
  }
  if (!text.empty() && text.back() != '.') text += '.';
  return text;
}

std::string ProofWords::attack(std::string_view code,
                               double share,
                               double U_kg,
                               double limit_kg) const {
  const TermWords* const term = find_term(code);
  if (term == nullptr) return "";
  const IndicationWords say(deck_);
  return fmt::format("U is {} of a limit of {}; {} makes {:.0f} % of it. {}", say.mass(U_kg),
                     say.mass(limit_kg), term->name, share * 100.0, term->attack);
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
  return fmt::format(
      "Air {:.3f} kg/m3: to a scale that was adjusted in it, its buoyancy is worth {:+.2f} kg of "
      "cast "
      "iron at Max; that is within the term named so, and not corrected.",
      air_kg_per_m3, kg);
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
