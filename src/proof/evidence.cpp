#include "proof/evidence.h"

#include <cmath>

#include "rules/nominal_load.h"
#include "units/quantity.h"

namespace weighwright::proof {

double judged_as_kg(const Evidence& evidence, double load_kg) {
  return rules::judged_as_kg(evidence.rulebook, evidence.scale, evidence.what.occasion, load_kg);
}

bool is_at_most(const Evidence& evidence, double load_kg, double most_kg) {
  return rules::is_at_most(evidence.rulebook, evidence.scale, evidence.what.occasion, load_kg,
                           most_kg);
}

ProofFinding finding_at(const Row& row, std::string_view code, bool blocks, std::string what) {
  ProofFinding finding;
  finding.code = code;
  finding.blocks = blocks;
  finding.file = row.file;
  finding.line = row.reading == nullptr ? 0 : row.reading->reading.line;
  finding.what = std::move(what);
  return finding;
}

std::string in_kg(double kg) {
  constexpr double kGrams = 1000.0;
  return units::print_exact(std::round(kg * kGrams) / kGrams) + " kg";
}

double division_at_kg(const deck::Deck& deck, double load_kg) {
  return deck.display_at_kg(std::abs(load_kg));
}

}  // namespace weighwright::proof
