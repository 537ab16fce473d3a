#pragma once
/// Results of the tests to a verdict by the rulebook, in words.

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "job/load_deck.h"
#include "job/rules_standing.h"
#include "proof/verdict.h"
#include "report/proof_view.h"
#include "units/diagnostic.h"

namespace weighwright::job {

struct ProveCaseRequest {
  InputFile deck;
  /// Results (check,load_kg,indication_kg), test weights (id,nominal_kg), and what was trimmed,
  /// turned or read before, in the order in which it happened.
  std::vector<InputFile> files;
  std::optional<InputFile> rulebook;  // a variant
  std::string occasion;
  bool as_found = false;
  std::int64_t day = 0;            // of the test, since 1970-01-01
  std::optional<std::string> air;  // "12 degC, 1003 hPa, 60 %"
  std::optional<double> guard;     // guard band in expanded uncertainties; empty: simple acceptance
  bool binary = false;             // with a guard band: accepted or not, no words between
};

struct ProveAnswer {
  std::optional<report::ProofView> view;  // empty when there are faults
  units::Diagnostics faults;
};

[[nodiscard]] ProveAnswer prove_case(const ProveCaseRequest& request);

/// Air as typed: temperature, pressure, humidity in any order; pressure and humidity may be left
/// out.
struct TypedAir {
  std::optional<double> temperature_degC;
  std::optional<double> pressure_hPa;
  std::optional<double> humidity_percent;
  std::string fault;  // empty: understood
};
[[nodiscard]] TypedAir parse_air(const std::string& text);
/// Density by CIPM-2007 where all three are known, kg/m3; else empty.
[[nodiscard]] std::optional<double> air_density_of(const TypedAir& air);

/// What is known of the deck before its test: span and corners as read last.
[[nodiscard]] proof::Foreknown foreknown_of(const LoadedDeck& loaded,
                                            const std::vector<record::Measurement>& events);

/// The verdict in words. @pre loaded.ok()
/// @param known  before a test: what its lines' chances are computed from; empty: no chances
/// @param standing  whether somebody compared the rulebook with print
[[nodiscard]] report::ProofView proof_view(const LoadedDeck& loaded,
                                           const rules::Rulebook& rulebook,
                                           const proof::ProofCase& what,
                                           const std::optional<proof::Foreknown>& known,
                                           const RulesStanding& standing);

}  // namespace weighwright::job
