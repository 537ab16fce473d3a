#pragma once
/// Sentences about a verdict: outcome, what is missing, what speaks against it, which term leads.

#include <optional>
#include <string>
#include <string_view>

#include "deck/deck.h"
#include "proof/verdict.h"

namespace weighwright::job {

[[nodiscard]] std::string_view outcome_code(proof::Outcome outcome);
/// "no_result", ...
[[nodiscard]] std::string_view not_part_code(proof::NotPart::Why why);
[[nodiscard]] std::string_view conformity_code(proof::Conformity conformity);
[[nodiscard]] std::string_view standing_code(proof::Standing standing);
/// "simple" | "guarded" | "guarded_binary", as the journal has it.
[[nodiscard]] std::string_view decision_code(proof::DecisionRule rule);
/// The rule that a code means; empty: it means none.
[[nodiscard]] std::optional<proof::DecisionRule> find_decision(std::string_view code);
/// "Eccentricity"; the code itself where there is no name.
[[nodiscard]] std::string term_name(std::string_view code);
[[nodiscard]] std::string term_source(std::string_view code);
/// Why a standard may not serve.
[[nodiscard]] std::string standard_words(std::string_view code);

/// What a pass is ready for. Nothing is ready for the authority by numbers that nobody compared
/// with print.
[[nodiscard]] std::string readiness_words(bool confirmed);

class ProofWords {
 public:
  ProofWords(const deck::Deck& deck, const rules::Rulebook& rulebook)
      : deck_(deck), rulebook_(rulebook) {}

  [[nodiscard]] std::string headline(const proof::Verdict& verdict,
                                     proof::DecisionRule rule,
                                     bool as_left,
                                     bool confirmed) const;
  [[nodiscard]] std::string decision_rule(proof::DecisionRule rule, double guard) const;
  /// Why a test was no part of this one.
  [[nodiscard]] std::string not_part(const proof::NotPart& one) const;
  [[nodiscard]] std::string missing(const proof::Missing& missing) const;
  [[nodiscard]] std::string finding(const proof::ProofFinding& finding) const;
  /// At how many lines U is above a third of the limit, and the worst of them.
  [[nodiscard]] std::string not_capable(const proof::Verdict& verdict) const;
  [[nodiscard]] std::string attack(std::string_view code,
                                   double share,
                                   double U_kg,
                                   double limit_kg) const;
  /// What the air of the test does to the standards; told, not corrected.
  [[nodiscard]] std::string buoyancy(double air_kg_per_m3) const;
  /// What the chances before a test rest on.
  [[nodiscard]] std::string foreknown(const proof::Foreknown& known) const;
  [[nodiscard]] std::string uncertainty(double coverage, const proof::Verdict& verdict) const;

 private:
  /// "8.4 kg": two significant digits (JCGM 100:2008, 7.2.6).
  [[nodiscard]] std::string uncertainty_words(double kg) const;

  const deck::Deck& deck_;
  const rules::Rulebook& rulebook_;
};

}  // namespace weighwright::job
