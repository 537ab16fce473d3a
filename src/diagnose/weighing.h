#pragma once
/// All suspects weighed by all evidence.

#include <optional>
#include <vector>

#include "diagnose/catalogue.h"
#include "diagnose/clues.h"
#include "diagnose/row_model.h"
#include "diagnose/rows.h"
#include "diagnose/signatures.h"

namespace weighwright::diagnose {

struct Weighted {
  Suspect suspect;
  Signature signature;
  std::size_t best = 0;   // variant
  Weighed weighed;        // of that variant
  double log_rows = 0.0;  // ln evidence of the rows, all variants
  double log_clues = 0.0;
  double probability = 0.0;
  [[nodiscard]] double log_evidence() const { return log_rows + log_clues; }
  [[nodiscard]] const Prediction& prediction() const { return signature.variants[best]; }
};

struct Weighing {
  Scene scene;
  Rows rows;
  Clues clues;
  RowModel model;
  std::vector<Weighted> suspects;  // most probable first
  double log_innocent = 0.0;       // ln evidence of the best innocent one
};

struct WeighingResult {
  std::optional<Weighing> weighing;  // empty when there are faults
  units::Diagnostics faults;
};

[[nodiscard]] WeighingResult weigh_all(const deck::Deck& deck,
                                       const statics::Model& model,
                                       const Case& evidence,
                                       MeterMemory* memory = nullptr);

}  // namespace weighwright::diagnose
