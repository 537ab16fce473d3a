#pragma once
/// Which fault of a cell or of the box explains what a meter read, and what to measure next.
///
/// Model   Every cause is a circuit: the four arms, pads and leads of the measured cell with that
///         fault in it (an arm open or shorted, cores exchanged or broken, a leak between cores or
///         to the body, another kind of cell, a zero that has moved, hum). Free quantities
///         (resistances within their tolerance, zero, force, supply, size of the leak) are fitted
///         to the readings with the meter's uncertainty; what the fit has to stretch counts against
///         the cause. Ranked by posterior probability: prior times the likelihood integrated over
///         the free quantities (Laplace's approximation about the best fit). The next measurement
///         is the unmeasured one for which the two leading causes differ most, in units of what
///         meter and free quantities leave open. Nothing here is a list of rules; the faults'
///         circuits are in bench_fault.h.
/// Priors  how often a cause is met, and spreads: hand estimates, no source.
/// Source  Laplace's approximation to the evidence: D. MacKay, Information Theory, Inference, and
///         Learning Algorithms (2003), ch. 27 (from memory, unverified).
/// Papers  Resistances that the deck file does not give are unknown, within a wide prior; where two
///         other cells agree within 3 %, they stand in for the papers.
/// Box     excitation_V of the box's row is measured at the box's supply terminals, sense_V at the
///         indicator's sense terminals. An excitation_V that is the indicator's own supply, where
///         the cable must have lost more, is taken as measured at the indicator: a warning says so.
/// Limits  One fault a cell. Steady DC. Cores are named as the cell's papers name them. Cells are
///         measured alone, off box and indicator (mV: supply left on, signal cores off the box).
///         Analog cells only.

#include <optional>
#include <string>
#include <vector>

#include "deck/deck.h"
#include "record/measurement.h"
#include "units/diagnostic.h"

namespace weighwright::signal {

/// Standard uncertainties of what reads the values: a good hand multimeter and an insulation tester
/// (common practice, no source).
struct Meter {
  double ohm_share = 0.003;
  double ohm_least = 0.2;     // its leads and contacts
  double overload_ohm = 2e7;  // what it shows as open; readings above, and infinity, mean that
  double volt_share = 0.001;
  double volt_least = 0.01e-3;
  double input_ohm = 10e6;
  double insulation_factor = 0.3;     // natural logarithm
  double insulation_most_ohm = 2e10;  // what the tester shows as its greatest
};

struct DiagnosisSettings {
  Meter meter;
  // Standard deviation of a cell's expected dead force, relative. Before a deck is shared only a
  // section's sum is firm: twist moves load across (+ - - +). On a shared deck 0.1.
  double force_share = 0.6;
  double total_share = 0.03;  // of all of them together: sharing moves load between cells only
};

enum class Quantity {
  input,
  output,
  e_plus_s_plus,
  e_plus_s_minus,
  e_minus_s_plus,
  e_minus_s_minus,
  insulation,
  zero,
  signal,
  excitation,
  sense
};
inline constexpr int kQuantities = 11;

/// "input_ohm": the name as in the readings' file, without its unit where that differs.
[[nodiscard]] std::string code_of(Quantity quantity);
/// "ohm" or "V": unit of every value of this quantity here.
[[nodiscard]] std::string unit_of(Quantity quantity);

/// One reading and what each explanation makes of it. Infinite: the meter's overload.
struct Evidence {
  Quantity quantity = Quantity::input;
  double measured = 0.0;
  double if_sound = 0.0;     // best fit of a sound cell to all of its readings
  double expected = 0.0;     // of a sound cell before it was measured; infinite: open
  double tolerance = 0.0;    // two standard deviations of that, meter included; insulation: how far
                             // down it may be
  double departs = 0.0;      // of what was measured from what was expected, standard deviations
  std::string basis;         // of what was expected: "papers", "cells" (the others), "" (none)
  double if_cause = 0.0;     // best fit of this cause
  double uncertainty = 0.0;  // standard, of the meter
  double speaks = 0.0;       // for this cause against sound (for sound: against the next cause), in
                             // units of half a squared deviation; negative speaks against
};

/// A quantity that the fit of a cause determined.
struct Fitted {
  std::string name;  // "leak_ohm", "zero_V_per_V", "output_factor", "output_ohm"
  double value = 0.0;
};

struct Cause {
  std::string code;    // "sound", "open_arm", ... : fault_kinds.cpp; "no_load": a sound cell under
                       // a stand that hangs free
  std::string detail;  // which arm, core or type: "E+ S+", "S-", "700 ohm"; empty where none
  std::optional<units::StandIndex> at;  // rows of the box: the cell that it is; empty: none of them
  double probability = 0.0;
  int look_alike = 0;  // causes with the same number predict the same of all that was measured
  std::vector<Evidence> evidence;  // what speaks most first
  std::vector<Fitted> fitted;
};

/// What would tell the leading cause from the next one of another kind (from the one after it where
/// no measurement tells those two apart; at last which arm or core it is).
struct NextMeasurement {
  Quantity quantity = Quantity::input;
  std::string first;  // code of the leading cause
  std::string first_detail;
  std::string second;
  std::string second_detail;
  double if_first = 0.0;
  double if_second = 0.0;
  double separation = 0.0;  // in standard deviations
};

struct Diagnosis {
  std::optional<units::StandIndex> stand;  // empty: the box
  std::vector<Cause> causes;               // most probable first; those under 1e-4 are left out
  std::optional<NextMeasurement> next;     // empty: nothing left to measure separates the leading
                                           // cause from another of at least 1 % of its probability
                                           // by 2 standard deviations
  std::optional<NextMeasurement> which;    // between the variants of the leading cause
  bool unexplained = false;                // no circuit reproduces the readings
  std::vector<std::string> warnings;
};

struct CircuitDiagnosis {
  std::vector<Diagnosis> stands;  // as in the readings
  std::optional<Diagnosis> box;
  units::Diagnostics faults;  // readings that can't be used: then there is no diagnosis at all
  std::vector<deck::Assumed> assumed;
  std::vector<std::string> remarks;
};

/// @param readings  infinite mV: over the meter's range of mV, either sign
/// @param dead_N  what is expected on every stand while "mV" was read
/// @throws std::invalid_argument when dead_N does not have one finite force a stand
[[nodiscard]] CircuitDiagnosis diagnose_circuit(const deck::Deck& deck,
                                                const record::ElectricSet& readings,
                                                const std::vector<double>& dead_N,
                                                const DiagnosisSettings& settings = {});

}  // namespace weighwright::signal
