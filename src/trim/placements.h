#pragma once
/// From shift readings as typed to loaded placements: which stand takes what, and how sure the
/// figure is.
///
/// Shares  what every stand takes more than under the dead load alone, over the load; the contact
///         problem is solved with the load on the deck, so that a bearing that lifts under it is in
///         the shares.
/// Figures themselves: indications.h.

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "deck/deck.h"
#include "record/measurement.h"
#include "statics/model.h"
#include "units/diagnostic.h"

namespace weighwright::trim {

struct Placed {
  std::string name;  // "2L", "2-3", "3.50 m, 0.80 m left"; with the footprint's name
  record::LoadPlace place;
  std::string footprint;
  Eigen::VectorXd share;          // N, of the load; sums to 1
  double overload_kg = 0.0;       // what a cell carries beyond its capacity, the greatest; 0: none
  int overloaded = -1;            // its stand
  bool opens_contact = false;     // a stand or bearing that presses under dead load alone hangs now
  std::optional<double> load_kg;  // known
  int unknown = -1;               // index of the unknown load; -1: known
  double indication_kg = 0.0;     // zero taken off, before rounding where that was measured
  double resolution_kg = 0.0;
  double u_kg = 0.0;  // standard uncertainty
  bool zero_read = false;
  std::optional<double> zero_change_kg;  // after - before
  record::Going going = record::Going::unknown;
  bool from_empty = false;  // the deck was empty just before
  int epoch = 0;            // number of trim moves files before it
  std::string file;
  int line = 0;
};

struct Shifts {
  std::vector<Placed> placed;          // in order
  std::vector<std::string> unknown;    // names of unknown loads
  std::vector<record::TrimSet> moves;  // moves[e] were made between epoch e and e + 1
  [[nodiscard]] int epoch() const { return static_cast<int>(moves.size()); }
};

struct PlacedShifts {
  std::optional<Shifts> shifts;  // empty when there are faults
  units::Diagnostics faults;  // off the deck, unknown footprint, nothing loaded, no such trim, ...
};

/// @param events  shift readings and trims made, in the order in which they happened; others fault
[[nodiscard]] PlacedShifts place_loads(const deck::Deck& deck,
                                       const statics::Model& model,
                                       const std::vector<record::Measurement>& events);

/// What the most loaded cell carries beyond its capacity (kg at standard gravity, as cells are
/// rated), and its stand; 0 and -1 where none does.
struct Overload {
  double kg = 0.0;
  int stand = -1;
};
[[nodiscard]] Overload overload_of(const deck::Deck& deck, const Eigen::VectorXd& stand_N);

/// Point loads of 1 N in all of a load at a place; empty when the footprint is unknown.
[[nodiscard]] std::optional<std::vector<statics::PointLoad>> unit_load(
    const deck::Deck& deck, const record::LoadPlace& place, const std::string& footprint);

}  // namespace weighwright::trim
