#include "diagnose/meter_memory.h"

#include <algorithm>

namespace weighwright::diagnose {
namespace {

constexpr std::size_t kMostKept = 8;

}  // namespace

signal::CircuitDiagnosis circuit_said(const deck::Deck& deck,
                                      const record::ElectricSet& readings,
                                      const std::vector<double>& dead_N,
                                      const signal::DiagnosisSettings& settings,
                                      MeterMemory* memory) {
  if (memory == nullptr) return signal::diagnose_circuit(deck, readings, dead_N, settings);
  std::vector<MeterMemory::Kept>& kept = memory->kept;
  const auto found = std::find_if(kept.begin(), kept.end(), [&](const MeterMemory::Kept& one) {
    return one.readings == readings && one.dead_N == dead_N &&
           one.force_share == settings.force_share;
  });
  if (found != kept.end()) return found->said;
  if (kept.size() >= kMostKept) kept.erase(kept.begin());
  kept.push_back({.readings = readings,
                  .dead_N = dead_N,
                  .force_share = settings.force_share,
                  .said = signal::diagnose_circuit(deck, readings, dead_N, settings)});
  return kept.back().said;
}

}  // namespace weighwright::diagnose
