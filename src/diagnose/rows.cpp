#include "diagnose/rows.h"

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <tuple>

#include "share/reduced.h"
#include "signal/cell.h"
#include "statics/contact.h"
#include "trim/placements.h"
#include "units/quantity.h"

namespace weighwright::diagnose {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

// One standard deviation each, of what a sound deck leaves open. Hand estimates, no source.
constexpr double kUnlevelShare = 0.6;        // of a stand's dead load, before sharing at most
constexpr double kSharedOfTolerance = 0.35;  // of a stand, of the tolerance of a pair
constexpr double kSettled_V = 0.03e-3;       // of a stand between two visits
constexpr double kDirt_kg = 12.0;            // of a module between two visits
constexpr double kDirtArm_m = 1.0;
constexpr double kZeroChange = 2e-4;     // of rated output, between two visits
constexpr double kSensitivity = 1e-3;    // of a cell's own reading
constexpr double kSupplyGuessed = 0.02;  // where nobody measured it
constexpr double kSupplyRead = 1e-3;
constexpr double kTrimsOpen = 4e-3;  // gain of a corner before trimming
constexpr double kTrimmed = 5e-4;
constexpr double kTrimDrift = 2e-4;  // between two visits
constexpr double kTrimMoved = 1e-2;
constexpr double kSpanOpen = 0.1;
constexpr double kSpanned = 5e-4;
constexpr double kSpanDrift = 2e-4;
constexpr double kUnknownLoad = 0.2;  // relative to the mean of what was indicated
constexpr double kZeroSet_of_Max = 0.02;
constexpr double kZeroKept_of_e = 0.5;  // setting of zero between two visits
constexpr double kZeroPerKelvin_of_e = 0.05;
constexpr double kZeroNoise_of_d = 0.3;
constexpr double kPlacing = 3e-4;     // of a load: where it stands, how it is put down
constexpr double kTurnSpread = 0.35;  // of what a turn does, relative
constexpr double kTurnMean = 0.85;    // some of it goes into contacts that hang
constexpr double kWildCell = 0.2;     // of capacity
constexpr double kWildLoad = 0.1;
constexpr double kWild_of_d = 20.0;
constexpr double kSameAgain = 5.0;  // of its noise
constexpr double kFarZero_of_d = 10.0;
constexpr double kPossibleOverRated = 1.5;
constexpr std::size_t kMostZeros = 60;

std::size_t at(Index i) {
  return static_cast<std::size_t>(i);
}

double rounding(double step) {
  return step / std::sqrt(12.0);
}

/// A root of a covariance: columns, most important first.
MatrixXd root_of(const MatrixXd& covariance) {
  const Eigen::SelfAdjointEigenSolver<MatrixXd> eigen((covariance + covariance.transpose()) / 2.0);
  return eigen.eigenvectors() * eigen.eigenvalues().cwiseMax(0.0).cwiseSqrt().asDiagonal();
}

double tolerance_kg(const deck::Deck& deck, double pair_mean_kg, const deck::Cell& cell) {
  double least = 1e9;
  const double V_per_kg =
      signal::sensitivity_V_per_N(cell, deck.excitation_V) * deck.site.gravity_m_per_s2;
  if (deck.sharing.tolerance_V) least = *deck.sharing.tolerance_V / V_per_kg;
  if (deck.sharing.tolerance_share) {
    least = std::min(least, *deck.sharing.tolerance_share * pair_mean_kg);
  }
  return least;
}

/// Columns scaled so that no stand moves by more than its own figure.
double greatest_ratio(const MatrixXd& columns, const VectorXd& most) {
  double ratio = 0.0;
  for (Index i = 0; i < columns.rows(); ++i)
    ratio = std::max(ratio, columns.row(i).norm() / most(i));
  return ratio;
}

}  // namespace

VectorXd Rows::values() const {
  VectorXd all(static_cast<Index>(list.size()));
  for (Index i = 0; i < all.size(); ++i) all(i) = list[at(i)].value_kg;
  return all;
}

VectorXd Rows::noise() const {
  VectorXd all(static_cast<Index>(list.size()));
  for (Index i = 0; i < all.size(); ++i) all(i) = list[at(i)].noise_kg;
  return all;
}

VectorXd Rows::wild() const {
  VectorXd all(static_cast<Index>(list.size()));
  for (Index i = 0; i < all.size(); ++i) all(i) = list[at(i)].wild_kg;
  return all;
}

Scene scene_of(const deck::Deck& deck,
               const statics::Model& model,
               const Context& context,
               bool has_before) {
  const double g = deck.site.gravity_m_per_s2;
  const share::Reduced reduced = share::reduce(deck, model, {});
  Scene scene;
  scene.deck = &deck;
  scene.context = context;
  scene.has_before = has_before;
  scene.digital = deck.is_digital();
  scene.display_kg = deck.display_kg();
  scene.interval_kg = deck.interval_at_kg(0.0);
  scene.dead_kg = reduced.stand_of_contact * reduced.contact_dead_N / g;
  scene.per_load = reduced.stand_of_contact * reduced.contact_per_load;  // kg for kg and kg m
  scene.load_sd = reduced.load_sd / g;
  const std::vector<double> nominal(reduced.parameters.size(), 1.0);
  const Index r = reduced.redundants;
  const Index stands = deck.stand_count();
  MatrixXd stiff = MatrixXd::Zero(r, r);
  if (r > 0) stiff = share::flexibility(reduced, nominal).llt().solve(MatrixXd::Identity(r, r));
  scene.per_mm = reduced.stand_rows * stiff * reduced.stand_rows.transpose() * 1e-3 / g;
  const MatrixXd q_root = root_of(stiff * reduced.mismatch_cov_m2 * stiff) / g;
  VectorXd unlevel_most(stands);
  VectorXd shared_most(stands);
  VectorXd settled_most(stands);
  for (Index i = 0; i < stands; ++i) {
    const deck::Cell& cell = deck.stands[at(i)].cell;
    unlevel_most(i) = kUnlevelShare * std::max(scene.dead_kg(i), 50.0);
    shared_most(i) = kSharedOfTolerance * tolerance_kg(deck, scene.dead_kg(i), cell);
    settled_most(i) = kSettled_V / (signal::sensitivity_V_per_N(cell, deck.excitation_V) * g);
  }
  const auto limited = [&](const VectorXd& most) -> MatrixXd {
    const double ratio = greatest_ratio(reduced.stand_rows * q_root, most);
    return ratio > 0.0 ? MatrixXd(q_root / ratio) : q_root;
  };
  const MatrixXd unlevel_q =
      q_root / std::max(1.0, greatest_ratio(reduced.stand_rows * q_root, unlevel_most));
  const MatrixXd sharing_q = context.shared || has_before ? limited(shared_most) : unlevel_q;
  const MatrixXd settling_q = limited(settled_most);
  scene.sharing = reduced.stand_rows * sharing_q;
  scene.settling = reduced.stand_rows * settling_q;
  scene.unlevel = reduced.stand_rows * unlevel_q;
  for (int c = 0; c < model.contact_count(); ++c) {
    if (model.contacts[at(c)].is_bearing) scene.bearing_contact.push_back(c);
  }
  const auto bearings = static_cast<Index>(scene.bearing_contact.size());
  scene.bearing_per_load.resize(bearings, scene.per_load.cols());
  MatrixXd rows(bearings, r);
  scene.bearing_dead_kg.resize(bearings);
  for (Index b = 0; b < bearings; ++b) {
    const int c = scene.bearing_contact[at(b)];
    scene.bearing_per_load.row(b) = reduced.contact_per_load.row(c);
    scene.bearing_dead_kg(b) = reduced.contact_dead_N(c) / g;
    rows.row(b) = reduced.contact_rows.row(c);
  }
  scene.bearing_sharing = rows * sharing_q;
  scene.bearing_settling = rows * settling_q;
  scene.bearing_unlevel = rows * unlevel_q;
  scene.bearing_per_mm = rows * stiff * reduced.stand_rows.transpose() * 1e-3 / g;
  scene.bearing_own_mm = rows * stiff * rows.transpose() * 1e-3 / g;
  return scene;
}

namespace {

/// Walks through the visits and writes rows.
class Gatherer {
 public:
  Gatherer(const Scene& scene, const statics::Model& model)
      : scene_(scene), deck_(*scene.deck), model_(model), stands_(deck_.stand_count()) {}

  GatheredRows gather(const Case& evidence) {
    visit(evidence.before, false);
    visit(evidence.now, true);
    rows_.segments = segment_ + 1;
    settle_unknown();
    settle_temperature();
    settle_dead();
    return {.rows = std::move(rows_), .faults = std::move(faults_)};
  }

 private:
  void visit(const std::vector<record::Measurement>& events, bool now) {
    now_ = now;
    state_ = 0;
    epoch_at_start_ = epoch_;
    cells_.clear();
    for (const record::Measurement& event : events) {
      if (const auto* readings = std::get_if<record::ReadingSet>(&event)) take(*readings);
      if (const auto* turns = std::get_if<record::TurnSet>(&event)) take(*turns);
      if (const auto* zeros = std::get_if<record::ZeroSet>(&event)) take(*zeros);
    }
    write_cells();
    take_loads(events);
    if (!events.empty()) ++epoch_;
  }

  // ---- cells

  struct Sum {
    double total = 0.0;
    double variance = 0.0;
    int count = 0;
    std::string file;
    int line = 0;
  };

  void take(const record::ReadingSet& set) {
    for (const record::StandReading& reading : set.stands) {
      const int i = reading.stand.value;
      if (i < 0 || i >= stands_) continue;
      const deck::Cell& cell = deck_.stands[at(i)].cell;
      const double supply_V = reading.excitation_V.value_or(deck_.excitation_V);
      if (set.unit == record::ReadingUnit::mV && !reading.excitation_V && !deck_.excitation_given) {
        rows_.excitation_read = false;
      }
      const auto newtons =
          signal::newtons_per_unit(cell, set.unit, supply_V, deck_.site.gravity_m_per_s2);
      if (!newtons) {
        faults_.push_back({.file = set.source,
                           .line = reading.line,
                           .column = 0,
                           .what = "the deck does not say how many counts the cell of " +
                                   units::print(reading.stand) + " gives at capacity",
                           .expected = "counts = ... in [stand.cell] of the deck file"});
        return;
      }
      const double kg = *newtons / deck_.site.gravity_m_per_s2;
      const double sensitivity =
          signal::sensitivity_V_per_N(cell, supply_V) * deck_.site.gravity_m_per_s2;
      const double own_kg =
          reading.noise ? std::abs(*reading.noise * kg) : deck_.sharing.noise_V / sensitivity;
      const double noise_kg = std::hypot(own_kg, rounding(std::abs(reading.resolution * kg)));
      const double most_kg = kPossibleOverRated * cell.capacity_kg;
      if (std::abs(reading.value * kg) > most_kg) {
        rows_.notes.push_back("cell " + units::print(reading.stand) +
                              ": more than a cell can give; taken as " +
                              units::print_fixed(most_kg, 0) + " kg");
      }
      add(Row::Kind::cell, i, std::clamp(reading.value * kg, -most_kg, most_kg), noise_kg,
          set.source, reading.line);
      if (reading.no_load) {
        add(Row::Kind::no_load, i, std::clamp(*reading.no_load * kg, -most_kg, most_kg), noise_kg,
            set.source, reading.line);
      }
    }
  }

  void add(
      Row::Kind kind, int stand, double kg, double noise_kg, const std::string& file, int line) {
    Sum& sum = cells_[{kind == Row::Kind::no_load, state_, stand}];
    sum.total += kg;
    sum.variance += noise_kg * noise_kg;
    sum.count += 1;
    sum.file = file;
    sum.line = line;
  }

  /// Repeats at one state are one figure.
  void write_cells() {
    for (const auto& [key, sum] : cells_) {
      const auto& [no_load, state, stand] = key;
      const deck::Cell& cell = deck_.stands[at(stand)].cell;
      Row row;
      row.kind = no_load ? Row::Kind::no_load : Row::Kind::cell;
      row.now = now_;
      row.stand = stand;
      row.state = state;
      row.value_kg = sum.total / sum.count;
      row.noise_kg = std::max(std::sqrt(sum.variance) / sum.count, 1e-6 * cell.capacity_kg);
      row.wild_kg = sum.count > 1 ? row.noise_kg : kWildCell * cell.capacity_kg;
      row.what = "cell " + units::print(units::StandIndex{stand}) + (no_load ? ", no load" : "");
      row.file = sum.file;
      row.line = sum.line;
      rows_.list.push_back(std::move(row));
    }
  }

  void take(const record::TurnSet& set) {
    ++state_;
    Turned turned{.now = now_,
                  .state = state_,
                  .effect_kg = VectorXd::Zero(stands_),
                  .by_stand_kg = MatrixXd::Zero(stands_, stands_),
                  .file = set.source};
    for (const record::StandTurn& turn : set.stands) {
      const deck::Stand& stand = deck_.stands[at(turn.stand.value)];
      const double raise_mm = turn.shim_mm.value_or(turn.turns.value_or(0.0) * stand.pitch_m * 1e3);
      turned.by_stand_kg.col(turn.stand.value) =
          kTurnMean * scene_.per_mm.col(turn.stand.value) * raise_mm;
    }
    turned.effect_kg = turned.by_stand_kg.rowwise().sum();
    rows_.turned.push_back(std::move(turned));
  }

  // ---- zeros

  void take(const record::ZeroSet& set) {
    // A long history is thinned evenly; passes and settings of zero are kept.
    std::size_t plain = 0;
    for (const record::ZeroReading& reading : set.readings) {
      plain += reading.after == record::ZeroReading::After::nothing ? 1U : 0U;
    }
    const std::size_t stride = 1 + plain / kMostZeros;
    if (stride > 1) {
      rows_.notes.push_back(set.source + ": of the plain zero readings one in " +
                            std::to_string(stride) + " was used");
    }
    std::size_t number = 0;
    for (const record::ZeroReading& reading : set.readings) {
      const bool is_plain = reading.after == record::ZeroReading::After::nothing;
      if (reading.after == record::ZeroReading::After::zeroed) ++segment_;
      if (is_plain && number++ % stride != 0) continue;
      Row row;
      row.kind = Row::Kind::zero;
      row.now = now_;
      row.segment = segment_;
      row.after = reading.after;
      row.time_s = reading.time_s;
      row.temp_degC = reading.temp_degC;
      row.rain = reading.rain;
      row.value_kg = reading.zero_kg;
      const double step = std::max(reading.last_digit_kg, 0.1 * scene_.display_kg);
      row.step_kg = step;
      row.noise_kg = std::hypot(rounding(step), kZeroNoise_of_d * scene_.display_kg);
      row.wild_kg = kWild_of_d * scene_.display_kg;
      row.what = "zero";
      row.file = set.source;
      row.line = reading.line;
      rows_.list.push_back(std::move(row));
    }
  }

  // ---- loads

  void take_loads(const std::vector<record::Measurement>& events) {
    std::vector<record::Measurement> shifts;
    int epoch = epoch_at_start_;
    for (const record::Measurement& event : events) {
      if (std::holds_alternative<record::TrimSet>(event) && !shifts.empty()) {
        write_loads(shifts, epoch);
        shifts.clear();
        epoch = ++epoch_;
      }
      const auto* set = std::get_if<record::ShiftSet>(&event);
      if (set != nullptr && holds_load(*set)) shifts.emplace_back(from_own_zero(*set));
    }
    if (!shifts.empty()) write_loads(shifts, epoch);
    rows_.epochs = epoch_ + 1;
    rows_.trims_moved.resize(at(rows_.epochs), false);
    for (int inside = epoch_at_start_ + 1; inside <= epoch_; ++inside) {
      rows_.trims_moved[at(inside)] = true;
    }
  }

  /// A zero far off is evidence, no slip: the loads are told from it. What it was is in the zeros.
  [[nodiscard]] record::ShiftSet from_own_zero(record::ShiftSet set) const {
    for (record::LoadReading& reading : set.readings) {
      const double zero_kg = reading.zero_before_kg.value_or(reading.zero_after_kg.value_or(0.0));
      if (std::abs(zero_kg) < kFarZero_of_d * scene_.display_kg) continue;
      const double off_kg = std::round(zero_kg / scene_.display_kg) * scene_.display_kg;
      reading.indication_kg -= off_kg;
      if (reading.zero_before_kg) *reading.zero_before_kg -= off_kg;
      if (reading.zero_after_kg) *reading.zero_after_kg -= off_kg;
    }
    return set;
  }

  static bool holds_load(const record::ShiftSet& set) {
    return std::any_of(set.readings.begin(), set.readings.end(),
                       [](const record::LoadReading& reading) {
                         return !reading.load_kg || *reading.load_kg != 0.0;
                       });
  }

  void write_loads(const std::vector<record::Measurement>& shifts, int epoch) {
    const trim::PlacedShifts placed = trim::place_loads(deck_, model_, shifts);
    faults_.insert(faults_.end(), placed.faults.begin(), placed.faults.end());
    if (!placed.shifts) return;
    std::map<std::tuple<std::string, long, int, int>, std::pair<std::size_t, int>> known;
    for (const trim::Placed& one : placed.shifts->placed) {
      int unknown = -1;
      if (one.unknown >= 0) unknown = unknown_of(placed.shifts->unknown[at(one.unknown)]);
      const double load_kg = one.load_kg.value_or(std::max(one.indication_kg, 1.0));
      const auto key = std::tuple(one.name, std::lround(std::log(load_kg) * 100.0),
                                  static_cast<int>(one.going), unknown);
      const auto found = one.load_kg ? known.find(key) : known.end();
      if (found != known.end()) {
        Row& row = rows_.list[found->second.first];
        const int count = ++found->second.second;
        // A slip of the pen does not come twice.
        const bool again = std::abs(one.indication_kg - row.value_kg) < kSameAgain * row.noise_kg;
        if (again) row.wild_kg = row.noise_kg;
        row.value_kg += (one.indication_kg - row.value_kg) / count;
        row.noise_kg *= std::sqrt((count - 1.0) / count);
        write_zero_change(one, row);
        continue;
      }
      Row row;
      row.kind = Row::Kind::load;
      row.now = now_;
      row.epoch = epoch;
      row.placing = placing_++;
      row.unknown = unknown;
      row.share = one.share;
      row.load_kg = load_kg;
      row.going = one.going;
      row.from_empty = one.from_empty;
      row.value_kg = one.indication_kg;
      row.noise_kg = std::hypot(one.u_kg, kPlacing * load_kg);
      row.wild_kg = kWildLoad * load_kg + kWild_of_d * scene_.display_kg;
      row.place = one.name;
      row.what = units::print_fixed(load_kg, 0) + " kg at " + one.name +
                 (one.going == record::Going::up     ? ", going up"
                  : one.going == record::Going::down ? ", going down"
                                                     : "");
      row.file = one.file;
      row.line = one.line;
      known[key] = {rows_.list.size(), 1};
      rows_.list.push_back(row);
      write_zero_change(one, row);
    }
  }

  void write_zero_change(const trim::Placed& one, const Row& load) {
    if (!one.zero_change_kg) return;
    Row row = load;
    row.kind = Row::Kind::zero_change;
    row.value_kg = *one.zero_change_kg;
    const double step = std::min(one.resolution_kg, scene_.display_kg);
    row.step_kg = step;
    row.noise_kg = std::hypot(std::sqrt(2.0) * rounding(std::max(step, 0.1 * scene_.display_kg)),
                              0.15 * scene_.display_kg);
    row.wild_kg = kWild_of_d * scene_.display_kg;
    row.what = "zero after " + load.what;
    row.file = one.file;
    row.line = one.line;
    rows_.list.push_back(std::move(row));
  }

  int unknown_of(const std::string& id) {
    const auto [found, fresh] = unknown_.emplace(id, static_cast<int>(unknown_.size()));
    if (fresh) ++rows_.unknown_loads;
    return found->second;
  }

  // ---- what all rows together say

  void settle_unknown() {
    rows_.unknown_kg.assign(at(rows_.unknown_loads), 0.0);
    std::vector<int> count(at(rows_.unknown_loads), 0);
    for (const Row& row : rows_.list) {
      if (row.kind != Row::Kind::load || row.unknown < 0) continue;
      rows_.unknown_kg[at(row.unknown)] += row.value_kg;
      ++count[at(row.unknown)];
    }
    for (std::size_t i = 0; i < count.size(); ++i) rows_.unknown_kg[i] /= std::max(count[i], 1);
    for (Row& row : rows_.list) {
      if (row.unknown >= 0) row.load_kg = std::max(rows_.unknown_kg[at(row.unknown)], 1.0);
    }
  }

  void settle_temperature() {
    double sum = 0.0;
    int count = 0;
    for (const Row& row : rows_.list) {
      if (!row.temp_degC) continue;
      sum += *row.temp_degC;
      ++count;
    }
    if (count > 0) rows_.mean_temp_degC = sum / count;
  }

  void settle_dead() {
    rows_.dead_kg = scene_.dead_kg;
    VectorXd zero = VectorXd::Zero(stands_);
    for (const Row& row : rows_.list) {
      if (row.kind == Row::Kind::no_load && !row.now) zero(row.stand) = row.value_kg;
    }
    for (const Row& row : rows_.list) {
      if (row.kind != Row::Kind::cell || row.now) continue;
      rows_.dead_kg(row.stand) = row.value_kg - zero(row.stand);
    }
  }

  const Scene& scene_;
  const deck::Deck& deck_;
  const statics::Model& model_;
  int stands_;
  Rows rows_;
  units::Diagnostics faults_;
  bool now_ = true;
  int state_ = 0;
  int segment_ = 0;
  int epoch_ = 0;
  int epoch_at_start_ = 0;
  int placing_ = 0;
  std::map<std::tuple<bool, int, int>, Sum> cells_;
  std::map<std::string, int> unknown_;
};

/// Hands out columns, one group after the other.
class Columns {
 public:
  explicit Columns(const Rows& rows) : rows_(rows) {}

  /// `of`: a row's part in a group (size `count`), one standard deviation each.
  template <class Of>
  void group(Index count, Of of) {
    MatrixXd block = MatrixXd::Zero(static_cast<Index>(rows_.list.size()), count);
    for (Index i = 0; i < block.rows(); ++i) of(rows_.list[at(i)], block.row(i));
    blocks_.push_back(std::move(block));
  }

  MatrixXd all() const {
    Index count = 0;
    for (const MatrixXd& block : blocks_) count += block.cols();
    MatrixXd columns(static_cast<Index>(rows_.list.size()), count);
    Index next = 0;
    for (const MatrixXd& block : blocks_) {
      columns.middleCols(next, block.cols()) = block;
      next += block.cols();
    }
    return columns;
  }

 private:
  const Rows& rows_;
  std::vector<MatrixXd> blocks_;
};

using RowOut = Eigen::Ref<Eigen::RowVectorXd, 0, Eigen::InnerStride<>>;

/// Whether the dead load on a contact is in the row: as a cell reads it, or the force itself.
bool is_dead(const Row& row) {
  return row.kind == Row::Kind::cell || row.kind == Row::Kind::stand_force ||
         row.kind == Row::Kind::bearing_force;
}

void open_dead_load(const Scene& scene, const Rows& rows, Columns& columns) {
  const Index loads = scene.load_sd.size();
  const auto of = [](const Row& row, const MatrixXd& stands, const MatrixXd& bearings) {
    return row.kind == Row::Kind::bearing_force ? bearings.row(row.bearing) : stands.row(row.stand);
  };
  columns.group(loads, [&](const Row& row, RowOut out) {
    if (!is_dead(row)) return;
    out = of(row, scene.per_load, scene.bearing_per_load).cwiseProduct(scene.load_sd.transpose());
  });
  columns.group(scene.sharing.cols(), [&](const Row& row, RowOut out) {
    if (is_dead(row)) out = of(row, scene.sharing, scene.bearing_sharing);
  });
  for (const Turned& turned : rows.turned) {
    columns.group(1, [&](const Row& row, RowOut out) {
      if (!is_dead(row) || row.kind == Row::Kind::bearing_force) return;
      if (row.now != turned.now || row.state < turned.state) return;
      out(0) = kTurnSpread / kTurnMean * turned.effect_kg(row.stand);
    });
  }
  if (!scene.has_before) return;
  columns.group(scene.settling.cols(), [&](const Row& row, RowOut out) {
    if (is_dead(row) && row.now) out = of(row, scene.settling, scene.bearing_settling);
  });
  Eigen::RowVectorXd dirt(loads);
  for (Index i = 0; i < loads; ++i) dirt(i) = i % 3 == 0 ? kDirt_kg : kDirt_kg * kDirtArm_m;
  const Eigen::RowVectorXd on_all = scene.per_load.colwise().sum();
  columns.group(loads, [&](const Row& row, RowOut out) {
    if (!row.now) return;
    if (is_dead(row)) {
      out = of(row, scene.per_load, scene.bearing_per_load).cwiseProduct(dirt);
    }
    if (row.kind == Row::Kind::zero) out = on_all.cwiseProduct(dirt);
  });
}

void open_cells(const Scene& scene, const Rows& rows, Columns& columns) {
  const deck::Deck& deck = *scene.deck;
  const Index stands = deck.stand_count();
  const auto is_cell = [](const Row& row) {
    return row.kind == Row::Kind::cell || row.kind == Row::Kind::no_load;
  };
  columns.group(stands, [&](const Row& row, RowOut out) {
    if (is_cell(row)) {
      out(row.stand) = deck.sharing.zero_spread * deck.stands[at(row.stand)].cell.capacity_kg;
    }
  });
  columns.group(stands, [&](const Row& row, RowOut out) {
    if (row.kind == Row::Kind::cell) out(row.stand) = kSensitivity * rows.dead_kg(row.stand);
  });
  const double supply = rows.excitation_read ? kSupplyRead : kSupplyGuessed;
  columns.group(1, [&](const Row& row, RowOut out) {
    if (row.kind == Row::Kind::cell) out(0) = supply * rows.dead_kg(row.stand);
  });
  if (!scene.has_before) return;
  columns.group(stands, [&](const Row& row, RowOut out) {
    if (!row.now) return;
    const double change = kZeroChange;
    if (is_cell(row)) out(row.stand) = change * deck.stands[at(row.stand)].cell.capacity_kg;
    if (row.kind != Row::Kind::zero) return;
    for (Index i = 0; i < stands; ++i) out(i) = change * deck.stands[at(i)].cell.capacity_kg;
  });
  columns.group(1, [&](const Row& row, RowOut out) {
    if (row.kind == Row::Kind::cell && row.now) out(0) = kSupplyRead * rows.dead_kg(row.stand);
  });
}

void open_loads(const Scene& scene, const Rows& rows, Columns& columns) {
  const Index stands = scene.deck->stand_count();
  const bool trimmed = scene.context.trimmed || scene.has_before;
  const bool spanned = scene.context.spanned || scene.has_before;
  const auto gains = [&](double sd, auto applies) {
    columns.group(stands, [&](const Row& row, RowOut out) {
      if (row.kind == Row::Kind::load && applies(row)) {
        out = sd * row.load_kg * row.share.transpose();
      }
    });
  };
  gains(trimmed ? kTrimmed : kTrimsOpen, [](const Row&) { return true; });
  const auto span = [&](double sd, auto applies) {
    columns.group(1, [&](const Row& row, RowOut out) {
      if (row.kind == Row::Kind::load && applies(row)) out(0) = sd * row.load_kg;
    });
  };
  span(spanned ? kSpanned : kSpanOpen, [](const Row&) { return true; });
  for (int epoch = 1; epoch < rows.epochs; ++epoch) {
    const bool moved = rows.trims_moved[at(epoch)];
    if (moved) gains(kTrimMoved, [epoch](const Row& row) { return row.epoch >= epoch; });
  }
  columns.group(rows.unknown_loads, [&](const Row& row, RowOut out) {
    if (row.kind == Row::Kind::load && row.unknown >= 0) {
      out(row.unknown) = kUnknownLoad * row.load_kg;
    }
  });
  if (!scene.has_before) return;
  gains(kTrimDrift, [](const Row& row) { return row.now; });
  span(kSpanDrift, [](const Row& row) { return row.now; });
}

void open_zeros(const Scene& scene, const Rows& rows, Columns& columns) {
  const double set_kg = kZeroSet_of_Max * scene.deck->capacity_kg;
  columns.group(rows.segments, [&](const Row& row, RowOut out) {
    if (row.kind == Row::Kind::zero) out(row.segment) = set_kg;
  });
  columns.group(1, [&](const Row& row, RowOut out) {
    if (row.kind == Row::Kind::zero && row.now) out(0) = kZeroKept_of_e * scene.interval_kg;
  });
  columns.group(1, [&](const Row& row, RowOut out) {
    if (row.kind != Row::Kind::zero || !row.temp_degC || !rows.mean_temp_degC) return;
    out(0) = kZeroPerKelvin_of_e * scene.interval_kg * (*row.temp_degC - *rows.mean_temp_degC);
  });
}

}  // namespace

GatheredRows gather_rows(const Scene& scene, const statics::Model& model, const Case& evidence) {
  return Gatherer(scene, model).gather(evidence);
}

VectorXd mean_of(const Scene& scene, const Rows& rows) {
  VectorXd mean = VectorXd::Zero(static_cast<Index>(rows.list.size()));
  for (Index i = 0; i < mean.size(); ++i) {
    const Row& row = rows.list[at(i)];
    const bool on_stand = row.kind == Row::Kind::cell || row.kind == Row::Kind::stand_force;
    if (on_stand) mean(i) = scene.dead_kg(row.stand);
    if (row.kind == Row::Kind::bearing_force) mean(i) = scene.bearing_dead_kg(row.bearing);
    if (row.kind == Row::Kind::load) mean(i) = row.load_kg;
    for (const Turned& turned : rows.turned) {
      const bool after = on_stand && row.now == turned.now;
      if (after && row.state >= turned.state) mean(i) += turned.effect_kg(row.stand);
    }
  }
  return mean;
}

MatrixXd open_of(const Scene& scene, const Rows& rows) {
  Columns columns(rows);
  open_dead_load(scene, rows, columns);
  open_cells(scene, rows, columns);
  open_loads(scene, rows, columns);
  open_zeros(scene, rows, columns);
  return columns.all();
}

}  // namespace weighwright::diagnose
