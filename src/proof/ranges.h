#pragma once
/// Results of one load against one another: repeatability, and agreement of places.
///
/// s       pooled over the loads (JCGM 100:2008, 4.2.4). Where all repeats show the same and the
///         display is coarse, the range is taken as one step, not as 0 (published for a 20 t
///         vehicle scale, OIML Bulletin 2001/04), and s = range / d2(n), d2 the mean range of n
///         normal values (control-chart constants, ISO 7870-2; from memory, unverified).
/// Where nobody repeated anything: 0.3 d, or what the deck file states (common practice, no
/// source).

#include <vector>

#include "proof/evidence.h"

namespace weighwright::proof {

/// Rows of one check and one load (unknown loads: of one id), in order. Fresh and usable only.
struct SameLoad {
  double load_kg = 0.0;  // unknown: the mean indication
  bool known = false;
  std::vector<const Row*> rows;
  double least_kg = 0.0;  // of the results: errors where the load is known, else indications
  double greatest_kg = 0.0;
  [[nodiscard]] double range_kg() const { return greatest_kg - least_kg; }
};
[[nodiscard]] std::vector<SameLoad> same_loads(const Evidence& evidence, rules::Check check);

/// Range of one load; where the display hid it, one step of the display.
[[nodiscard]] double sure_range_kg(const SameLoad& group);

[[nodiscard]] Repeats repeats_of(const Evidence& evidence, std::vector<ProofFinding>& findings);

/// w so that w times the indication is the standard uncertainty by where a load stands:
/// greatest |E - mean E| over (2 sqrt 3 L) of the loads over supports or sections, else rolling
/// loads (EURAMET cg-18 v4.0, 7.1.1.4; from memory, unverified). 0: nothing was measured.
[[nodiscard]] double eccentric_share_of(const Evidence& evidence);

/// By the rulebook's rules for ranges; passes of a vehicle of unknown mass, where the rulebook
/// requires passes, by the limit of error of its load (common practice, no source).
/// Ranges that rounding decides are told of: two results as shown may be a division nearer or
/// further apart.
[[nodiscard]] std::vector<JudgedRange> judge_ranges(const Evidence& evidence,
                                                    std::vector<ProofFinding>& findings);

/// d2(n), n from 2 to 10; more: that of 10.
[[nodiscard]] double mean_range_factor(int count);

}  // namespace weighwright::proof
