#pragma once
/// From loads as typed to known totals and what was indicated: substitution worked out.
///
/// Substitution  material of unknown mass takes the place of weights: it is worth the known total
///         whose indication it repeats, corrected by the difference of the two indications, both
///         before rounding: L_sub = P_sub - E, E the error found at the known load, in proportion
///         (OIML R 76-1:2006, 3.7.3 for the method; from memory, unverified). Every substitution
///         adds the uncertainty of both indications to all totals that contain the material.

#include <optional>
#include <string>
#include <vector>

#include "deck/deck.h"
#include "record/measurement.h"
#include "units/diagnostic.h"

namespace weighwright::span {

struct Result {
  double weights_kg = 0.0;  // test weights on the deck
  std::string material;     // and what else; empty: nothing
  double total_kg = 0.0;
  double u_total_kg = 0.0;  // by substitution; 0 for weights alone (their certificates come later)
  double indicated_kg = 0.0;  // zero taken off
  double u_kg = 0.0;          // of the indication
  std::optional<double> zero_change_kg;
  record::Going going = record::Going::unknown;
  bool from_empty = false;      // the deck was empty just before
  bool fixes_material = false;  // this reading says what a material weighs: no error of its own
  std::string file;
  int line = 0;
};

struct Material {
  std::string name;
  double kg = 0.0;
  double u_kg = 0.0;
  int line = 0;  // of the reading that fixed it
};

struct Results {
  std::vector<Result> results;
  std::vector<Material> materials;  // in the order in which they were fixed
};

struct ReadResults {
  std::optional<Results> results;  // empty when there are faults
  units::Diagnostics faults;
};

/// @param sets  in the order in which they were taken
[[nodiscard]] ReadResults read_results(const deck::Deck& deck,
                                       const std::vector<record::LoadSet>& sets);

}  // namespace weighwright::span
