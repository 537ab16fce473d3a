#pragma once
/// Faults on simulated sites: does the tool name what was struck, ask for the right measurement and
/// hold back what would chase the fault?
///
/// Site     rehearsal/practice.h: physics and crew of its own, nothing of src/diagnose.
/// Service  the site is left right, its as-left measurements are kept as `before`; the fault
///          strikes, a night passes, the standard visit is measured (cells; the corners with one
///          load up, the ends also down; one mid-span place of every span, one of them with another
///          load; passes both ways with zeros).
/// Sharing  a new deck, nobody knows it: cells with no-load, map.
/// Trimming a new deck, levelled and grouted: cells, map, corners, as above, no `before`.
/// Then     up to three of the tool's own next measurements are answered by the site.
/// Named    the struck fault is the most probable cause, or in the class of causes that the tool
///          says what was measured can't tell apart.
/// Harmful  no hold on a kind of adjustment whose readings the fault changed: screws and shims, a
///          stand's reading by more than 0.4 of the pair tolerance (unless sharing mends it);
///          trims, a corner against the mean of the corners by more than e; span, that mean by more
///          than e.

#include <cstdint>
#include <string>
#include <vector>

#include "deck/deck.h"
#include "diagnose/diagnose.h"
#include "rehearsal/fault.h"
#include "rehearsal/practice.h"
#include "statics/model.h"

namespace weighwright::bench {

enum class Stage { service, sharing, trimming };

struct FaultTrial {
  bool struck = false;  // the fault fits the deck and the deck stands with it
  rehearsal::Fault fault;
  bool first = false;  // after the standard visit
  bool among_three = false;
  bool first_after = false;  // after the measurements that were asked for
  bool asked_right = false;  // the first one asked for speaks of the struck fault
  bool asked = false;
  bool hold = false;
  bool hold_after = false;
  bool harmful = false;  // after the standard visit
  bool harmful_after = false;
  bool changes = false;       // the fault changes a reading that an adjustment would answer to
  int alike = 0;              // causes in the struck fault's class
  double milliseconds = 0.0;  // of the processor, for one diagnosis
  diagnose::Diagnosis visit;
  diagnose::Diagnosis after;
};

/// Which kinds of adjustment would answer to what the faults of a site changed (see Harmful).
[[nodiscard]] std::vector<diagnose::Adjustment> answers_to(const rehearsal::PracticeSite& struck,
                                                           const deck::Deck& deck,
                                                           Stage stage);

/// @param code  of the catalogue; empty: nothing is wrong
[[nodiscard]] FaultTrial try_fault(const deck::Deck& deck,
                                   const statics::Model& model,
                                   const std::string& code,
                                   Stage stage,
                                   std::uint64_t seed);

}  // namespace weighwright::bench
