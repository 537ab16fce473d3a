#pragma once
/// All that was measured as rows of figures in kg, and what a sound deck leaves open of them.
///
/// Rows     cell: what a cell carries by its own reading; no_load: the same with nothing on it;
///          load: indication with a load at a place, zero taken off; zero_change: zero after less
///          zero before that load; zero: one of the zero history.
/// Open     masses and centres of modules; sharing (the redundants q of share/reduced.h); zeros and
///          sensitivities of cells; supply where it was not measured; gains of corners; span; loads
///          of unknown mass; setting of zero and its drift with temperature. Of each the common
///          part, and the change since the visit before.
/// Spreads  by context (shared, trimmed, spanned); hand estimates, no source, in rows.cpp.

#include <Eigen/Core>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "deck/deck.h"
#include "diagnose/diagnose.h"
#include "record/measurement.h"
#include "statics/model.h"
#include "units/diagnostic.h"

namespace weighwright::diagnose {

struct Row {
  /// stand_force and bearing_force are never read; they are what a hanging contact is told by.
  enum class Kind { cell, no_load, load, zero_change, zero, stand_force, bearing_force };
  Kind kind = Kind::cell;
  bool now = true;        // else of the visit before
  int stand = -1;         // cell, no_load, stand_force
  int bearing = -1;       // bearing_force
  int state = 0;          // cell: number of times that stands were turned before it, this visit
  int segment = 0;        // zero: number of times that zero was set before it
  int epoch = 0;          // load: number of times that trims were moved before it
  int placing = -1;       // load and its zero_change: the same number
  int unknown = -1;       // load of unknown mass
  Eigen::VectorXd share;  // load, zero_change: N, part of the load on every stand
  double load_kg = 0.0;
  record::Going going = record::Going::unknown;
  bool from_empty = true;
  record::ZeroReading::After after = record::ZeroReading::After::nothing;
  std::optional<std::int64_t> time_s;
  std::optional<double> temp_degC;
  std::optional<bool> rain;
  double value_kg = 0.0;
  double step_kg = 1.0;  // of the display; loads and zeros
  double noise_kg = 1.0;
  double wild_kg = 1.0;
  std::string what;
  std::string place;  // load: as it was named
  std::string file;
  int line = 0;
};

/// Stands turned between two states.
struct Turned {
  bool now = true;
  int state = 0;                // the first state after it
  Eigen::VectorXd effect_kg;    // N: by the deck as described
  Eigen::MatrixXd by_stand_kg;  // N x N: column i, what the turn of stand i did
  std::string file;
};

/// The deck in kg, as rows need it. N stands, n modules, r redundants.
struct Scene {
  const deck::Deck* deck = nullptr;
  Context context;
  bool has_before = false;
  bool digital = false;
  Eigen::VectorXd dead_kg;   // N, shared evenly
  Eigen::MatrixXd per_load;  // N x 3n: kg a stand for kg, kg m, kg m of a module
  Eigen::VectorXd load_sd;   // 3n
  Eigen::MatrixXd sharing;   // N x r: kg for one standard deviation of what is believed of sharing
  Eigen::MatrixXd settling;  // N x r: kg for one standard deviation of change between visits
  Eigen::MatrixXd unlevel;   // N x r: kg as a deck that was never shared may have
  Eigen::MatrixXd per_mm;    // N x N: kg on every stand for 1 mm of rise of one, contacts pressing
  Eigen::MatrixXd bearing_per_load;  // bearings x 3n
  Eigen::MatrixXd bearing_sharing;   // bearings x r, as `sharing`
  Eigen::MatrixXd bearing_settling;
  Eigen::MatrixXd bearing_unlevel;
  Eigen::MatrixXd bearing_per_mm;  // bearings x N
  Eigen::MatrixXd bearing_own_mm;  // bearings x bearings: kg for 1 mm of rise of a bearing
  Eigen::VectorXd bearing_dead_kg;
  std::vector<int> bearing_contact;  // position in Model::contacts
  double display_kg = 1.0;
  double interval_kg = 1.0;
};

struct Rows {
  std::vector<Row> list;
  std::vector<Turned> turned;
  int unknown_loads = 0;
  std::vector<double> unknown_kg;  // mean of what was indicated
  int segments = 1;
  int epochs = 1;
  std::vector<bool> trims_moved;  // by epoch: began within a visit, when somebody moved trims
  bool excitation_read = true;    // at every cell reading in mV
  std::optional<double> mean_temp_degC;
  // As seen: dead load by the cells of the visit before, else of the deck as described.
  Eigen::VectorXd dead_kg;
  std::vector<std::string> notes;

  [[nodiscard]] Eigen::VectorXd values() const;
  [[nodiscard]] Eigen::VectorXd noise() const;
  [[nodiscard]] Eigen::VectorXd wild() const;
};

[[nodiscard]] Scene scene_of(const deck::Deck& deck,
                             const statics::Model& model,
                             const Context& context,
                             bool has_before);

struct GatheredRows {
  Rows rows;
  units::Diagnostics faults;
};
[[nodiscard]] GatheredRows gather_rows(const Scene& scene,
                                       const statics::Model& model,
                                       const Case& evidence);

/// n: what a sound deck shows on average.
[[nodiscard]] Eigen::VectorXd mean_of(const Scene& scene, const Rows& rows);
/// n x m: one standard deviation of everything that a sound deck leaves open. Rows that are added
/// to a copy of `rows` get the same columns, so that what is to be measured can be foreseen.
[[nodiscard]] Eigen::MatrixXd open_of(const Scene& scene, const Rows& rows);

}  // namespace weighwright::diagnose
