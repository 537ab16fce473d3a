#include "diagnose/signatures.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>
#include <utility>

namespace weighwright::diagnose {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;
using Kind = Row::Kind;
using After = record::ZeroReading::After;

// Sizes that faults have, one standard deviation each (one-sided where a sign is known), and what
// comes with them. Hand estimates, no source; figures of FIELD practice lie within them.
constexpr double kSunk_mm = 5.0;
constexpr double kWorn_mm = 4.0;
constexpr double kHangs_kg = 8.0;
constexpr double kOtherRedundants = 0.06;
constexpr double kRubs_kg = 350.0;
constexpr double kPinches_kg = 150.0;
constexpr double kTakes = 0.5;
constexpr double kBeam = 0.03;
constexpr double kTakesDead_kg = 300.0;
constexpr double kTilted_kg = 120.0;
constexpr double kLeak_kg = 450.0;
constexpr double kLeakOther_kg = 60.0;
constexpr double kShock_of_capacity = 0.04;
constexpr double kLightning_of_capacity = 0.03;
constexpr std::array kLosses = {0.003, 0.006, 0.012, 0.024, 0.05};
constexpr double kContactWanders = 0.08;
constexpr double kForeign_kg = 450.0;
constexpr double kForeignArm_kgm = 250.0;
constexpr double kForeignSide_kgm = 80.0;
constexpr double kPanel_kg = 180.0;
constexpr double kPanelArm_kgm = 80.0;
constexpr double kPeople_kg = 180.0;
constexpr double kTrimmedOut = 0.03;
constexpr double kTrimsLost = 4e-3;
constexpr double kSpanLost = 4e-3;
constexpr double kOtherRating = 0.03;
constexpr double kToldTo = 0.02;  // of what a signal fault changes
constexpr double kTrimsExchanged = 5e-3;
constexpr double kFloats_kg = 20.0;
constexpr double kSharesTo = 4e-3;
constexpr double kHalfBridge = 0.05;  // of what one core of two still gives
constexpr std::array kRatings = {0.4,       0.5,  0.6,       2.0 / 3.0, 0.75, 0.8,
                                 1.0 / 1.2, 0.88, 1.0 / 1.1, 1.0 / 0.9, 1.2,  1.25,
                                 4.0 / 3.0, 1.5,  5.0 / 3.0, 2.0,       2.5};
constexpr std::array kResistances = {350.0, 700.0, 1000.0};  // usual bridges (common practice)

std::size_t at(Index i) {
  return static_cast<std::size_t>(i);
}

/// Writes predictions over the rows of now.
class Writer {
 public:
  Writer(const Scene& scene, const Rows& rows, const Suspect& suspect)
      : scene_(scene),
        rows_(rows),
        suspect_(suspect),
        n_(static_cast<Index>(rows.list.size())),
        stands_(scene.deck->stand_count()) {
    for (const Row& row : rows.list) {
      if (row.kind == Kind::cell && row.now) last_state_ = std::max(last_state_, row.state);
    }
  }

  Signature write() {
    const std::string_view code = suspect_.kind->code;
    if (code == "sound") {
      signature_.variants.emplace_back();
    } else if (code == "out_of_level") {
      out_of_level();
    } else if (code == "trims_open") {
      trims_open();
    } else if (code == "span_open") {
      span_open();
    } else if (code == "bearing_hangs") {
      bearing_hangs();
    } else if (code == "stand_sunk") {
      stand_sunk();
    } else if (code == "end_packed") {
      end_packed();
    } else if (code == "deck_touches") {
      deck_touches();
    } else if (code == "rocker_tilted") {
      rocker_tilted();
    } else if (code == "bolts_loose") {
      bolts_loose();
    } else if (code == "foreign_load" || code == "panel_missing") {
      laden(code == "foreign_load");
    } else if (code == "trimmed_out") {
      trimmed_out();
    } else {
      write_signal(code);
    }
    weigh_evenly();
    return std::move(signature_);
  }

 private:
  void write_signal(std::string_view code) {
    if (code == "moisture") {
      moisture();
    } else if (code == "signal_open") {
      dead_cell(true);
    } else if (code == "excitation_open" || code == "cell_silent") {
      dead_cell(false);
    } else if (code == "reversed") {
      reversed();
    } else if (code == "wrong_capacity") {
      wrong_capacity();
    } else if (code == "wrong_resistance") {
      wrong_resistance();
    } else if (code == "swapped") {
      swapped();
    } else if (code == "address_doubled") {
      address_doubled();
    } else if (code == "shocked") {
      shocked();
    } else if (code == "supply_loss") {
      supply_loss();
    } else if (code == "lightning") {
      lightning();
    } else if (code == "screen_grounded") {
      screen_grounded();
    } else if (code == "box_mean") {
      box_mean();
    } else if (code == "people_on_deck") {
      people_on_deck();
    } else if (code == "tracking_on") {
      tracking_on();
    } else if (code == "wrong_turn") {
      wrong_turn();
    }
  }

  // ---- parts

  template <class Of>
  VectorXd column(Of of) const {
    VectorXd values = VectorXd::Zero(n_);
    for (Index i = 0; i < n_; ++i) {
      if (rows_.list[at(i)].now) values(i) = of(rows_.list[at(i)]);
    }
    return values;
  }

  static void add(Prediction& prediction, const VectorXd& column, double sd) {
    const Index k = prediction.columns.cols();
    MatrixXd columns(column.size(), k + 1);
    if (k > 0) columns.leftCols(k) = prediction.columns;
    columns.col(k) = column;
    VectorXd sds(k + 1);
    if (k > 0) sds.head(k) = prediction.sd;
    sds(k) = sd;
    prediction.columns = std::move(columns);
    prediction.sd = std::move(sds);
  }

  template <class Of>
  void noise(Prediction& prediction, Of of) const {
    prediction.added_sd = column(of);
  }

  static bool is_cell(const Row& row) {
    return row.kind == Kind::cell || row.kind == Kind::no_load;
  }

  void weigh_evenly() {
    const double even =
        -std::log(std::max<double>(1.0, static_cast<double>(signature_.variants.size())));
    for (Prediction& one : signature_.variants) one.log_weight += even;
  }

  /// Dead load of every stand, by what was read now put right, else as before.
  [[nodiscard]] VectorXd dead_by(const VectorXd& data) const {
    VectorXd dead = rows_.dead_kg;
    VectorXd no_load = VectorXd::Zero(stands_);
    for (Index i = 0; i < n_; ++i) {
      const Row& row = rows_.list[at(i)];
      if (row.kind == Kind::no_load && row.now) no_load(row.stand) = data(i);
    }
    if (scene_.has_before) return dead;
    for (Index i = 0; i < n_; ++i) {
      const Row& row = rows_.list[at(i)];
      if (row.kind == Kind::cell && row.now) dead(row.stand) = data(i) - no_load(row.stand);
    }
    return dead;
  }

  /// Parts in the box changed: loads and zero follow.
  [[nodiscard]] VectorXd box_shift(const VectorXd& part, const VectorXd& dead_kg) const {
    return column([&](const Row& row) {
      const VectorXd change = part.array() - 1.0;
      if (row.kind == Kind::load) return row.load_kg * row.share.dot(change);
      if (row.kind == Kind::zero) return dead_kg.dot(change);
      return 0.0;
    });
  }

  void shift_box(Prediction& prediction, const VectorXd& part, const VectorXd& dead_kg) const {
    prediction.shift = box_shift(part, dead_kg);
    // A change of this size is told to a few parts in a hundred: trims, leads, tolerances; and
    // what a stand takes of a load beside it, to a few parts in a thousand.
    const double most = (part.array() - 1.0).abs().maxCoeff();
    prediction.added_sd = kToldTo * prediction.shift.cwiseAbs() + column([&](const Row& row) {
                            return row.kind == Kind::load ? kSharesTo * most * row.load_kg : 0.0;
                          });
  }

  [[nodiscard]] Pinned pinned(Row row, const Prediction& prediction) const {
    row.now = true;
    row.state = last_state_;
    Rows alone = rows_;
    alone.list = {row};
    Pinned pinned;
    pinned.sd = kHangs_kg;
    pinned.mean = mean_of(scene_, alone)(0);
    pinned.open = open_of(scene_, alone).row(0);
    pinned.amounts = Eigen::RowVectorXd::Zero(prediction.columns.cols());
    return pinned;
  }

  // ---- innocent states

  template <class Is>
  [[nodiscard]] bool any(Is is) const {
    return std::any_of(rows_.list.begin(), rows_.list.end(),
                       [&](const Row& row) { return row.now && is(row); });
  }

  [[nodiscard]] bool any(Kind kind) const {
    return any([kind](const Row& row) { return row.kind == kind; });
  }

  /// Before sharing that is what a sound deck is like.
  void out_of_level() {
    if (!any(Kind::cell) || !(scene_.context.shared || scene_.has_before)) return;
    Prediction prediction;
    for (Index k = 0; k < scene_.unlevel.cols(); ++k) {
      add(prediction, column([&](const Row& row) {
            return row.kind == Kind::cell ? scene_.unlevel(row.stand, k) : 0.0;
          }),
          1.0);
    }
    signature_.variants.push_back(std::move(prediction));
  }

  void trims_open() {
    if (!any(Kind::load) || !(scene_.context.trimmed || scene_.has_before)) return;
    Prediction prediction;
    for (Index i = 0; i < stands_; ++i) {
      add(prediction, column([&](const Row& row) {
            return row.kind == Kind::load ? row.load_kg * row.share(i) : 0.0;
          }),
          kTrimsLost);
    }
    signature_.variants.push_back(std::move(prediction));
  }

  void span_open() {
    if (!any(Kind::load) || !(scene_.context.spanned || scene_.has_before)) return;
    Prediction prediction;
    add(prediction,
        column([](const Row& row) { return row.kind == Kind::load ? row.load_kg : 0.0; }),
        kSpanLost);
    signature_.unit = "ratio";
    signature_.variants.push_back(std::move(prediction));
  }

  // ---- mechanics

  void bearing_hangs() {
    const int b = suspect_.bearing;
    Prediction prediction;
    add(prediction, column([&](const Row& row) {
          return row.kind == Kind::cell ? -scene_.bearing_per_mm(b, row.stand) : 0.0;
        }),
        kWorn_mm);
    leave_redundants(prediction);
    Row force;
    force.kind = Kind::bearing_force;
    force.bearing = b;
    Pinned pin = pinned(force, prediction);
    pin.amounts(0) = -scene_.bearing_own_mm(b, b);
    prediction.pinned = {pin};
    signature_.variants.push_back(std::move(prediction));
  }

  /// The stiffness is known within a factor: what the other redundants take of it is left open.
  void leave_redundants(Prediction& prediction) const {
    for (Index k = 0; k < scene_.unlevel.cols(); ++k) {
      add(prediction, column([&](const Row& row) {
            return row.kind == Kind::cell ? scene_.unlevel(row.stand, k) : 0.0;
          }),
          kOtherRedundants);
    }
  }

  void stand_sunk() {
    const int i = suspect_.stands.front();
    Prediction lowered;
    add(lowered, column([&](const Row& row) {
          return row.kind == Kind::cell ? -scene_.per_mm(row.stand, i) : 0.0;
        }),
        kSunk_mm);
    leave_redundants(lowered);
    lowered.positive = true;
    signature_.unit = "mm";
    signature_.variants.push_back(lowered);
    lowered.positive = false;
    lowered.size_fixed = true;  // it hangs: how far it sank does not show
    Row force;
    force.kind = Kind::stand_force;
    force.stand = i;
    Prediction hangs = lowered;
    Pinned pin = pinned(force, hangs);
    pin.amounts(0) = -scene_.per_mm(i, i);
    hangs.pinned = {pin};
    signature_.variants.push_back(hangs);
    // Another stand or a bearing may lose its load first.
    for (int other = 0; other < stands_; ++other) {
      if (other == i || scene_.per_mm(other, i) <= 0.2 * scene_.per_mm(i, i)) continue;
      force.stand = other;
      hangs = lowered;
      pin = pinned(force, hangs);
      pin.amounts(0) = -scene_.per_mm(other, i);
      hangs.pinned = {pin};
      signature_.variants.push_back(hangs);
    }
    force.kind = Kind::bearing_force;
    for (Index b = 0; b < scene_.bearing_per_mm.rows(); ++b) {
      if (scene_.bearing_per_mm(b, i) <= 0.2 * scene_.per_mm(i, i)) continue;
      force.bearing = static_cast<int>(b);
      hangs = lowered;
      pin = pinned(force, hangs);
      pin.amounts(0) = -scene_.bearing_per_mm(b, i);
      hangs.pinned = {pin};
      signature_.variants.push_back(hangs);
    }
  }

  [[nodiscard]] double end_share(const Row& row) const {
    const Index first = suspect_.end == 0 ? 0 : stands_ - 2;
    return row.share(first) + row.share(first + 1);
  }

  /// Each side of the end pair rubs with what it has, once the load there has made it slip.
  void end_packed() {
    const int first = suspect_.end == 0 ? 0 : stands_ - 2;
    signature_.unit = "kg";
    for (const double sharp : {1.0, 2.0, 5.0}) {
      for (const double loose_kg : {15.0, 60.0, 200.0}) {
        Prediction prediction;
        add(prediction, column([&](const Row& row) {
              if (row.kind != Kind::load) return 0.0;
              double rubs = 0.0;
              for (const int stand : {first, first + 1}) {
                rubs += std::clamp(sharp * row.share(stand), 0.0, 1.0);
              }
              return row.going == record::Going::down ? rubs : -rubs;
            }),
            kRubs_kg);
        for (const int stand : {first, first + 1}) {
          add(prediction, column([&](const Row& row) {
                if (row.kind == Kind::zero) return 1.0;
                return row.kind == Kind::cell && row.stand == stand ? 1.0 : 0.0;
              }),
              kPinches_kg);
        }
        noise(prediction, [&](const Row& row) {
          if (row.kind == Kind::zero) return loose_kg;
          if (row.kind != Kind::zero_change && row.kind != Kind::load) return 0.0;
          const double moved = std::min(1.0, 2.0 * end_share(row));
          return (row.kind == Kind::load ? 0.5 : 1.0) * loose_kg * moved;
        });
        prediction.positive = true;
        signature_.variants.push_back(std::move(prediction));
      }
    }
  }

  struct Spot {
    double x_m = 0.0;
    double y_m = 0.0;
  };

  /// Where a load stood: its centre, from what the stands take of it.
  [[nodiscard]] Spot spot_of(const Row& row) const {
    Spot spot;
    for (Index i = 0; i < stands_; ++i) {
      spot.x_m += row.share(i) * scene_.deck->sections[at(i / 2)].at_m;
      spot.y_m += row.share(i) * scene_.deck->stand_y_m(units::StandIndex{static_cast<int>(i)});
    }
    return spot;
  }

  /// The longest free length of the module.
  [[nodiscard]] std::pair<double, double> free_span() const {
    const deck::Deck& deck = *scene_.deck;
    const double start = deck.start_m(units::ModuleIndex{suspect_.module});
    const double end = start + deck.modules[at(suspect_.module)].length_m;
    std::vector<double> marks = {start, end};
    for (const deck::Section& section : deck.sections) {
      if (section.at_m > start && section.at_m < end) marks.push_back(section.at_m);
    }
    std::sort(marks.begin(), marks.end());
    std::pair<double, double> longest{start, start};
    for (std::size_t i = 1; i < marks.size(); ++i) {
      if (marks[i] - marks[i - 1] > longest.second - longest.first) {
        longest = {marks[i - 1], marks[i]};
      }
    }
    return longest;
  }

  /// Sag at mid-span under a load at x, of that under a load at mid-span: a simple beam,
  /// 3 s - 4 s^3 with s the distance to the nearer support over the span (beam tables; from
  /// memory, unverified), and by the lever rule across.
  [[nodiscard]] double sags(const Row& row) const {
    const auto [from, to] = free_span();
    const Spot spot = spot_of(row);
    const double s = std::min(spot.x_m - from, to - spot.x_m) / (to - from);
    if (s <= 0.0) return 0.0;
    const std::vector<double>& girders = scene_.deck->modules[at(suspect_.module)].girders_m;
    const double left = girders.empty() ? 1.0 : *std::max_element(girders.begin(), girders.end());
    const double toward = suspect_.side == 0 ? spot.y_m / left : -spot.y_m / left;
    const double across = 0.15 + 0.85 * std::clamp(0.5 + 0.5 * toward, 0.0, 1.0);
    return (3.0 * s - 4.0 * s * s * s) * across;
  }

  void deck_touches() {
    signature_.unit = "ratio";
    const double pitch_m = (free_span().first + free_span().second) / 2.0 -
                           scene_.deck->start_m(units::ModuleIndex{suspect_.module}) -
                           scene_.deck->modules[at(suspect_.module)].length_m / 2.0;
    const std::vector<double>& girders = scene_.deck->modules[at(suspect_.module)].girders_m;
    double left = girders.empty() ? 1.0 : *std::max_element(girders.begin(), girders.end());
    if (suspect_.side == 1) left = -left;
    for (const double from_kg : {0.0, 1000.0, 2500.0, 4500.0, 7000.0, 10000.0, 15000.0}) {
      Prediction prediction;
      add(prediction, column([&](const Row& row) {
            if (row.kind != Kind::load) return 0.0;
            return -std::max(0.0, row.load_kg * sags(row) - from_kg);
          }),
          kTakes);
      prediction.positive = true;
      // Between two steps of `from_kg`; and a girder is no simple beam.
      const auto touches = [&](const Row& row) {
        return row.kind == Kind::load && row.load_kg * sags(row) > from_kg;
      };
      add(prediction, column([&](const Row& row) { return touches(row) ? -1.0 : 0.0; }),
          0.1 * from_kg + 50.0);
      noise(prediction, [&](const Row& row) {
        return touches(row) ? kBeam * (row.load_kg * sags(row) - from_kg) : 0.0;
      });
      if (from_kg == 0.0) {
        // It touches under the dead load already and takes part of that.
        const Index m = 3 * suspect_.module;
        add(prediction, column([&](const Row& row) {
              if (row.kind == Kind::zero) return -1.0;
              if (row.kind != Kind::cell) return 0.0;
              return -(scene_.per_load(row.stand, m) + pitch_m * scene_.per_load(row.stand, m + 1) +
                       left * scene_.per_load(row.stand, m + 2));
            }),
            kTakesDead_kg);
      }
      signature_.variants.push_back(std::move(prediction));
    }
  }

  void rocker_tilted() {
    const int stand = suspect_.stands.front();
    signature_.unit = "kg";
    VectorXd by_pass = VectorXd::Zero(n_);
    VectorXd first = VectorXd::Zero(n_);
    double way = 0.0;
    for (Index i = 0; i < n_; ++i) {
      const Row& row = rows_.list[at(i)];
      if (!row.now) continue;
      if (row.kind == Kind::cell && row.stand == stand) first(i) = 1.0;
      if (row.kind != Kind::zero) continue;
      if (row.after == After::pass_1_to_2) way = 1.0;
      if (row.after == After::pass_2_to_1) way = -1.0;
      if (way == 0.0) {
        first(i) = 1.0;
      } else {
        by_pass(i) = way;
      }
    }
    Prediction prediction;
    add(prediction, by_pass, kTilted_kg);
    add(prediction, first, kTilted_kg);
    signature_.variants.push_back(std::move(prediction));
  }

  [[nodiscard]] bool on_module(const Row& row) const {
    const double start = scene_.deck->start_m(units::ModuleIndex{suspect_.module});
    const double end = start + scene_.deck->modules[at(suspect_.module)].length_m;
    const double x =
        row.kind == Kind::load ? spot_of(row).x_m : scene_.deck->sections[at(row.stand / 2)].at_m;
    return x >= start - 0.5 && x <= end + 0.5;
  }

  /// What moves makes noise, near it and, through the deck, everywhere.
  void bolts_loose() {
    for (const bool everywhere : {true, false}) {
      for (const double times : {1.5, 3.0}) {
        Prediction prediction;
        noise(prediction, [&](const Row& row) {
          const bool read = row.kind == Kind::cell || row.kind == Kind::load;
          if (!read || !(everywhere || on_module(row))) {
            return everywhere && is_cell(row) ? times * row.noise_kg : 0.0;
          }
          return times *
                 (row.kind == Kind::load ? 0.35 * scene_.display_kg : std::max(row.noise_kg, 10.0));
        });
        signature_.variants.push_back(std::move(prediction));
      }
    }
  }

  VectorXd of_module(int module, int which, bool on_cells, bool on_zero) const {
    const Index k = 3 * static_cast<Index>(module) + which;
    return column([&](const Row& row) {
      if (row.kind == Kind::cell && on_cells) return scene_.per_load(row.stand, k);
      if (row.kind == Kind::zero && on_zero && which == 0) return 1.0;
      return 0.0;
    });
  }

  /// Spread evenly (snow, mud), or somewhere on it; a panel lies at an end more often than not.
  void laden(bool more) {
    signature_.unit = "kg";
    const double sign = more ? 1.0 : -1.0;
    const double length_m = scene_.deck->modules[at(suspect_.module)].length_m;
    const std::vector<double> places =
        more ? std::vector<double>{0.0, -0.25, 0.25} : std::vector<double>{0.0, -0.43, 0.43};
    for (const double along : places) {
      Prediction prediction;
      add(prediction, sign * at_point(suspect_.module, along * length_m, 0.0, true),
          more ? kForeign_kg : kPanel_kg);
      prediction.positive = true;
      const double arm = along == 0.0 && more ? 0.3 : 1.0;
      add(prediction, of_module(suspect_.module, 1, true, false),
          arm * (more ? kForeignArm_kgm : kPanelArm_kgm));
      add(prediction, of_module(suspect_.module, 2, true, false), arm * kForeignSide_kgm);
      signature_.variants.push_back(std::move(prediction));
    }
  }

  /// Trims raise a stand that something beside it takes load from: right at one load over it only,
  /// too high where nothing touches, too low at mid-span, where the deck sags more.
  void trimmed_out() {
    const int stand = suspect_.stands.front();
    std::vector<double> loads;
    for (const Row& row : rows_.list) {
      if (row.kind == Kind::load && row.now) loads.push_back(row.load_kg);
    }
    if (loads.empty()) return;
    std::sort(loads.begin(), loads.end());
    const double usual = loads[loads.size() / 2];
    signature_.unit = "ratio";
    Suspect beside = suspect_;
    beside.module = scene_.deck->sections[at(stand / 2)].module.value;
    beside.side = stand % 2;
    const Writer girder(scene_, rows_, beside);
    for (const double from : {0.2, 0.4, 0.7}) {
      for (const double from_sag : {0.0, 0.3}) {
        Prediction prediction;
        add(prediction, column([&](const Row& row) {
              return row.kind == Kind::load ? row.load_kg * row.share(stand) : 0.0;
            }),
            kTrimmedOut);
        prediction.positive = true;
        add(prediction, column([&](const Row& row) {
              if (row.kind != Kind::load) return 0.0;
              return -std::max(0.0, row.load_kg * row.share(stand) - from * usual);
            }),
            kTrimmedOut / (1.0 - from));
        add(prediction, column([&](const Row& row) {
              if (row.kind != Kind::load) return 0.0;
              return -std::max(0.0, row.load_kg * girder.sags(row) - from_sag * usual);
            }),
            6.0 * kTrimmedOut);
        // Whoever did it set the span after.
        add(prediction,
            column([](const Row& row) { return row.kind == Kind::load ? row.load_kg : 0.0; }),
            0.2 * kTrimmedOut);
        signature_.variants.push_back(std::move(prediction));
      }
    }
  }

  // ---- cells, leads, box

  VectorXd at_cell(int stand) const {
    return column([&](const Row& row) { return is_cell(row) && row.stand == stand ? 1.0 : 0.0; });
  }

  VectorXd at_zero() const {
    return column([](const Row& row) { return row.kind == Kind::zero ? 1.0 : 0.0; });
  }

  void moisture() {
    signature_.unit = "kg";
    for (const double wanders_kg : {0.0, 20.0, 90.0}) {
      Prediction prediction;
      if (suspect_.box) {
        add(prediction, at_zero(), kLeak_kg);
      } else {
        add(prediction, at_cell(suspect_.stands.front()) + at_zero(), kLeak_kg);
        add(prediction, at_cell(suspect_.stands.front()), kLeakOther_kg);
      }
      if (wanders_kg > 0.0) {
        noise(prediction, [&](const Row& row) {
          if (row.kind == Kind::zero) return wanders_kg;
          return row.kind == Kind::zero_change ? 0.1 * wanders_kg : 0.0;
        });
      }
      signature_.variants.push_back(std::move(prediction));
    }
  }

  void shocked() {
    signature_.unit = "kg";
    const int stand = suspect_.stands.front();
    const double capacity_kg = scene_.deck->stands[at(stand)].cell.capacity_kg;
    for (const double creeps_of_load : {0.0, 1e-3}) {
      Prediction prediction;
      add(prediction, at_cell(stand) + at_zero(), kShock_of_capacity * capacity_kg);
      if (creeps_of_load > 0.0) {
        noise(prediction, [&](const Row& row) {
          const bool loaded = row.kind == Kind::load || row.kind == Kind::zero_change;
          return loaded ? creeps_of_load * row.load_kg * std::max(0.0, row.share(stand)) : 0.0;
        });
      }
      signature_.variants.push_back(std::move(prediction));
    }
  }

  void lightning() {
    Prediction prediction;
    for (int i = 0; i < stands_; ++i) {
      add(prediction, at_cell(i) + at_zero(),
          kLightning_of_capacity * scene_.deck->stands[at(i)].cell.capacity_kg);
    }
    signature_.variants.push_back(std::move(prediction));
  }

  /// Both cores of a pair, or one: then half of the bridge still drives its own bus.
  /// @param open_signal  its conductance is gone too: the others count for more
  void dead_cell(bool open_signal) {
    const int stand = suspect_.stands.front();
    const double n = static_cast<double>(stands_);
    for (const bool one_core : {true, false}) {
      if (one_core && scene_.digital) continue;
      const double more = n / (n - 1.0);
      double others = 1.0;
      if (open_signal) others = one_core ? (more + 1.0) / 2.0 : more;
      VectorXd part = VectorXd::Constant(stands_, others);
      part(stand) = one_core ? 0.5 : 0.0;
      for (const double floats_kg : {40.0, 3000.0}) {
        Prediction prediction;
        prediction.log_weight = floats_kg > 100.0 ? std::log(0.6) : std::log(1.4);
        shift_box(prediction, part, dead_by(rows_.values()));
        if (one_core) add(prediction, own_part(stand), kHalfBridge);
        for (Index i = 0; i < n_; ++i) {
          const Row& row = rows_.list[at(i)];
          if (!row.now || !is_cell(row) || row.stand != stand) continue;
          prediction.replaced.push_back({.row = i, .mean = 0.0, .sd = floats_kg});
        }
        signature_.variants.push_back(std::move(prediction));
      }
    }
  }

  /// What a stand's own part in the box does to loads and zero.
  [[nodiscard]] VectorXd own_part(int stand) const {
    const VectorXd dead = dead_by(rows_.values());
    return column([&](const Row& row) {
      if (row.kind == Kind::zero) return dead(stand);
      return row.kind == Kind::load ? row.load_kg * row.share(stand) : 0.0;
    });
  }

  /// Cell rows of now divided by what the cell's own reading was multiplied by.
  void put_right(Prediction& prediction, int stand, double factor) const {
    prediction.data = rows_.values();
    for (Index i = 0; i < n_; ++i) {
      const Row& row = rows_.list[at(i)];
      if (!row.now || !is_cell(row) || row.stand != stand) continue;
      prediction.data(i) /= factor;
      prediction.log_weight -= std::log(std::abs(factor));
    }
  }

  void reversed() {
    const int stand = suspect_.stands.front();
    Prediction prediction;
    put_right(prediction, stand, -1.0);
    VectorXd part = VectorXd::Ones(stands_);
    part(stand) = -1.0;
    shift_box(prediction, part, dead_by(prediction.data));
    signature_.variants.push_back(std::move(prediction));
  }

  void wrong_capacity() {
    const int stand = suspect_.stands.front();
    signature_.unit = "ratio";
    for (const double rating : kRatings) {
      Prediction prediction;
      put_right(prediction, stand, rating);
      VectorXd part = VectorXd::Ones(stands_);
      part(stand) = rating;
      const VectorXd dead = dead_by(prediction.data);
      shift_box(prediction, part, dead);
      add(prediction, column([&](const Row& row) {
            if (row.kind == Kind::cell && row.stand == stand) return dead(stand);
            if (row.kind == Kind::zero) return rating * dead(stand);
            return row.kind == Kind::load ? rating * row.load_kg * row.share(stand) : 0.0;
          }),
          kOtherRating);
      prediction.size = 1.0 / rating;
      prediction.size_fixed = true;
      signature_.variants.push_back(std::move(prediction));
    }
  }

  void wrong_resistance() {
    const int stand = suspect_.stands.front();
    const double own_ohm = scene_.deck->stands[at(stand)].cell.output_ohm;
    const double n = static_cast<double>(stands_);
    signature_.unit = "ratio";
    std::vector<double> ratios;
    for (const double other_ohm : kResistances) {
      if (own_ohm <= 0.0 || std::abs(other_ohm / own_ohm - 1.0) > 0.1) {
        for (const double from_ohm : kResistances) {
          if (own_ohm <= 0.0 && from_ohm != other_ohm) ratios.push_back(other_ohm / from_ohm);
        }
        if (own_ohm > 0.0) ratios.push_back(other_ohm / own_ohm);
      }
    }
    for (const double ratio : ratios) {
      const double other = n / (n - 1.0 + 1.0 / ratio);
      VectorXd part = VectorXd::Constant(stands_, other);
      part(stand) = other / ratio;
      Prediction prediction;
      const VectorXd dead = dead_by(rows_.values());
      shift_box(prediction, part, dead);
      // What the others lose goes with the resistances as they really are.
      add(prediction,
          box_shift((part.array() - 1.0).matrix() * 0.05 + VectorXd::Ones(stands_), dead), 1.0);
      prediction.size = ratio;
      prediction.size_fixed = true;
      signature_.variants.push_back(std::move(prediction));
    }
  }

  [[nodiscard]] Index row_of(const Row& like, int stand) const {
    for (Index i = 0; i < n_; ++i) {
      const Row& row = rows_.list[at(i)];
      if (row.now && row.kind == like.kind && row.state == like.state && row.stand == stand) {
        return i;
      }
    }
    return -1;
  }

  void swapped() {
    Prediction prediction;
    const VectorXd values = rows_.values();
    prediction.data = values;
    const int a = suspect_.stands[0];
    const int b = suspect_.stands[1];
    for (Index i = 0; i < n_; ++i) {
      const Row& row = rows_.list[at(i)];
      if (!row.now || !is_cell(row) || row.stand != a) continue;
      const Index other = row_of(row, b);
      if (other < 0) continue;
      std::swap(prediction.data(i), prediction.data(other));
    }
    // The trims stay with the terminals.
    for (const int stand : suspect_.stands) add(prediction, own_part(stand), kTrimsExchanged);
    signature_.variants.push_back(std::move(prediction));
  }

  /// Both answer at the address of one; now this one is heard, now that, and the other address is
  /// empty.
  void address_doubled() {
    const VectorXd values = rows_.values();
    for (int first = 0; first < 2; ++first) {
      const int heard = suspect_.stands[at(first)];
      const int lost = suspect_.stands[at(1 - first)];
      const VectorXd dead = dead_by_before(heard, lost, values);
      const double apart_kg = std::abs(dead(heard) - dead(lost));
      Prediction prediction;
      prediction.shift = column([&](const Row& row) {
        if (row.kind == Kind::zero) return -0.5 * (dead(heard) + dead(lost));
        if (row.kind != Kind::load) return 0.0;
        return -0.5 * row.load_kg * (row.share(heard) + row.share(lost));
      });
      noise(prediction, [&](const Row& row) {
        if (row.kind == Kind::zero) return 0.5 * apart_kg + kFloats_kg;
        if (row.kind == Kind::zero_change) return 0.7 * apart_kg;
        if (row.kind != Kind::load) return 0.0;
        return 0.5 * row.load_kg * std::abs(row.share(heard) - row.share(lost)) + 0.7 * apart_kg +
               kFloats_kg;
      });
      for (Index i = 0; i < n_; ++i) {
        const Row& row = rows_.list[at(i)];
        if (!row.now || !is_cell(row)) continue;
        if (row.stand == lost) {
          prediction.replaced.push_back({.row = i, .mean = 0.0, .sd = kFloats_kg});
        } else if (row.stand == heard && row.kind == Kind::cell) {
          prediction.replaced.push_back({.row = i,
                                         .mean = 0.5 * (dead(heard) + dead(lost)),
                                         .sd = 0.5 * apart_kg + 0.1 * dead(heard)});
        }
      }
      signature_.variants.push_back(std::move(prediction));
    }
  }

  /// Dead load where the readings of two stands can't be trusted.
  [[nodiscard]] VectorXd dead_by_before(int a, int b, const VectorXd& values) const {
    VectorXd dead = dead_by(values);
    for (const int stand : {a, b}) dead(stand) = rows_.dead_kg(stand);
    return dead;
  }

  void supply_loss() {
    signature_.unit = "ratio";
    const VectorXd dead = dead_by(rows_.values());
    const VectorXd lost = column([&](const Row& row) {
      if (row.kind == Kind::cell) return -dead(row.stand);
      if (row.kind == Kind::load) return -row.load_kg;
      return row.kind == Kind::zero ? -dead.sum() : 0.0;
    });
    // A contact changes with the temperature: by so much of its loss, from reading to reading.
    for (const double loss : kLosses) {
      Prediction prediction;
      prediction.shift = loss * lost;
      add(prediction, lost, 0.35 * loss);
      prediction.added_sd = kContactWanders * loss * lost.cwiseAbs();
      prediction.size = loss;
      prediction.size_fixed = true;
      signature_.variants.push_back(std::move(prediction));
    }
  }

  /// Currents of others in the screen: zero wanders within minutes and hours, readings are noisy.
  void screen_grounded() {
    for (const double wanders_kg : {25.0, 50.0, 100.0, 180.0}) {
      Prediction prediction;
      noise(prediction, [&](const Row& row) {
        if (is_cell(row)) return 3.0 * row.noise_kg;
        if (row.kind == Kind::zero) return 0.6 * wanders_kg;
        return (row.kind == Kind::zero_change ? 0.2 : 0.1) * wanders_kg;
      });
      signature_.variants.push_back(std::move(prediction));
    }
  }

  // ---- how it was read or done

  /// Every reading is the mean of all of them, as the box has it.
  void box_mean() {
    for (const bool no_load_too : {false, true}) {
      Prediction prediction;
      double sum = 0.0;
      int count = 0;
      double no_load_sum = 0.0;
      int no_load_count = 0;
      for (const Row& row : rows_.list) {
        if (!row.now) continue;
        if (row.kind == Kind::cell) {
          sum += row.value_kg;
          ++count;
        } else if (row.kind == Kind::no_load) {
          no_load_sum += row.value_kg;
          ++no_load_count;
        }
      }
      if (count < 3) return;
      for (Index i = 0; i < n_; ++i) {
        const Row& row = rows_.list[at(i)];
        if (!row.now) continue;
        if (row.kind == Kind::cell) {
          prediction.replaced.push_back(
              {.row = i, .mean = sum / count, .sd = std::max(2.0 * row.noise_kg, 10.0)});
        } else if (row.kind == Kind::no_load && no_load_too) {
          prediction.replaced.push_back({.row = i,
                                         .mean = no_load_sum / no_load_count,
                                         .sd = std::max(2.0 * row.noise_kg, 10.0)});
        }
      }
      signature_.variants.push_back(std::move(prediction));
      if (no_load_count < 3) return;
    }
  }

  /// A mass at a point of a module, from its middle.
  [[nodiscard]] VectorXd at_point(int module, double along_m, double left_m, bool on_zero) const {
    return of_module(module, 0, true, on_zero) + along_m * of_module(module, 1, true, false) +
           left_m * of_module(module, 2, true, false);
  }

  void people_on_deck() {
    signature_.unit = "kg";
    if (!any(Kind::cell)) return;
    for (int module = 0; module < static_cast<int>(scene_.deck->modules.size()); ++module) {
      const double length_m = scene_.deck->modules[at(module)].length_m;
      const double width_m = scene_.deck->modules[at(module)].width_m;
      for (const double along : {-0.35, 0.0, 0.35}) {
        for (const double left : {-0.2, 0.2}) {
          Prediction prediction;
          add(prediction, at_point(module, along * length_m, left * width_m, false), kPeople_kg);
          prediction.positive = true;
          add(prediction, of_module(module, 1, true, false), 0.15 * length_m * kPeople_kg);
          add(prediction, of_module(module, 2, true, false), 0.15 * width_m * kPeople_kg);
          // They come to see each load, now one, now several.
          prediction.shift = column(
              [](const Row& row) { return row.kind == Kind::load ? 0.3 * kPeople_kg : 0.0; });
          noise(prediction,
                [](const Row& row) { return row.kind == Kind::load ? 0.4 * kPeople_kg : 0.0; });
          signature_.variants.push_back(std::move(prediction));
        }
      }
    }
  }

  /// Zero is always exactly 0. A quiet deck shows that, too, now and then: most rows at a display
  /// that shows tenths, nearly all at a coarse one.
  void tracking_on() {
    constexpr double kAlways = 0.97;
    constexpr double kQuietFine = 0.85;
    constexpr double kQuietCoarse = 0.95;
    constexpr double kMost = 1.0;
    double log_ratio = 0.0;
    for (const Row& row : rows_.list) {
      if (!row.now || (row.kind != Kind::zero && row.kind != Kind::zero_change)) continue;
      const bool fine = row.step_kg < 0.5 * scene_.display_kg;
      const double quiet = fine ? kQuietFine : kQuietCoarse;
      const bool none = std::abs(row.value_kg) < 0.5 * row.step_kg;
      log_ratio += std::log(none ? kAlways / quiet : (1.0 - kAlways) / (1.0 - quiet));
    }
    Prediction prediction;
    prediction.log_weight = std::min(log_ratio, kMost);
    signature_.variants.push_back(std::move(prediction));
  }

  void wrong_turn() {
    const int stand = suspect_.stands.front();
    for (const Turned& turned : rows_.turned) {
      if (!turned.now || turned.by_stand_kg.col(stand).isZero()) continue;
      Prediction prediction;
      prediction.shift = column([&](const Row& row) {
        if (row.kind != Kind::cell || row.state < turned.state) return 0.0;
        return -2.0 * turned.by_stand_kg(row.stand, stand);
      });
      signature_.variants.push_back(std::move(prediction));
    }
  }

  const Scene& scene_;
  const Rows& rows_;
  const Suspect& suspect_;
  Index n_;
  int stands_;
  int last_state_ = 0;
  Signature signature_;
};

}  // namespace

Signature signature_of(const Scene& scene, const Rows& rows, const Suspect& suspect) {
  return Writer(scene, rows, suspect).write();
}

}  // namespace weighwright::diagnose
