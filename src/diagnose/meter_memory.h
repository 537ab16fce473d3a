#pragma once
/// What the circuit said of a table of resistances, kept by whoever asks again and again: fitting a
/// circuit to it takes longer than all the rest of a diagnosis, and a table does not change.

#include <string>
#include <vector>

#include "record/measurement.h"
#include "signal/electrics.h"

namespace weighwright::diagnose {

struct MeterMemory {
  struct Kept {
    record::ElectricSet readings;
    std::vector<double> dead_N;
    double force_share = 0.0;
    signal::CircuitDiagnosis said;
  };
  /// Names the deck that all of this was said of; the caller empties `kept` when it is another.
  std::string deck;
  std::vector<Kept> kept;
};

/// signal::diagnose_circuit, from memory where it was asked before. @param memory  null: none
[[nodiscard]] signal::CircuitDiagnosis circuit_said(const deck::Deck& deck,
                                                    const record::ElectricSet& readings,
                                                    const std::vector<double>& dead_N,
                                                    const signal::DiagnosisSettings& settings,
                                                    MeterMemory* memory);

}  // namespace weighwright::diagnose
