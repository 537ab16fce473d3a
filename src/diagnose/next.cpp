#include "diagnose/next.h"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <optional>
#include <set>
#include <string_view>
#include <utility>

#include "record/looks.h"
#include "statics/contact.h"
#include "trim/placements.h"
#include "units/place.h"
#include "units/quantity.h"

namespace weighwright::diagnose {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr std::size_t kMostSuspects = 10;  // that are told apart
constexpr double kLeastProbability = 0.01;
constexpr double kLeastGain = 0.02;
constexpr double kStartMinutes = 4.0;  // of anything
constexpr std::size_t kMostNext = 3;
constexpr int kGrid = 161;

struct Candidate {
  Next next;
  std::vector<double> chance;  // per suspect, of a yes; or
  std::vector<double> mean;    // figure and its standard deviation
  std::vector<double> sd;
  [[nodiscard]] bool is_figure() const { return !mean.empty(); }
};

double entropy(double p) {
  if (p <= 0.0 || p >= 1.0) return 0.0;
  return -p * std::log(p) - (1.0 - p) * std::log(1.0 - p);
}

double normal(double x, double mean, double sd) {
  const double z = (x - mean) / sd;
  return std::exp(-0.5 * z * z) / (sd * 2.5066282746310002);
}

class Chooser {
 public:
  Chooser(const Weighing& weighing, const statics::Model& model)
      : weighing_(weighing),
        model_(model),
        deck_(*weighing.scene.deck),
        dead_(statics::solve_contact(
            model, model.dead, VectorXd::Zero(deck_.stand_count()), statics::nominal(model))) {
    for (const Weighted& one : weighing.suspects) {
      if (pool_.size() >= kMostSuspects || one.probability < kLeastProbability) break;
      pool_.push_back(&one);
      weight_.push_back(one.probability);
    }
    // What is innocent stays in: to know that nothing is wrong is worth something, too.
    double sum = 0.0;
    for (const double weight : weight_) sum += weight;
    for (double& weight : weight_) weight /= sum;
  }

  std::vector<Next> choose() {
    if (pool_.empty()) return {};
    if (pool_.size() < 2) {
      // Kept as the other side of what is read again.
      for (const Weighted& one : weighing_.suspects) {
        if (&one != pool_.front()) {
          pool_.push_back(&one);
          weight_.push_back(one.probability);
          break;
        }
      }
      if (pool_.size() < 2) return {};
    }
    add_looks();
    add_meters();
    add_map();
    add_readings();
    std::vector<Next> list;
    for (Candidate& candidate : candidates_) {
      candidate.next.gain = gain_of(candidate);
      if (candidate.next.gain < kLeastGain || !tell_pair(candidate)) continue;
      list.push_back(candidate.next);
    }
    std::stable_sort(list.begin(), list.end(),
                     [](const Next& a, const Next& b) { return worth(a) > worth(b); });
    if (const auto again = read_again()) list.insert(list.begin(), *again);
    if (list.size() > kMostNext) list.resize(kMostNext);
    return list;
  }

 private:
  static double worth(const Next& next) { return next.gain / (kStartMinutes + next.minutes); }

  /// The reading that only a slip explains under the leading cause: before all else, that again.
  [[nodiscard]] std::optional<Next> read_again() const {
    const Weighted& top = *pool_.front();
    const Index wild = top.weighed.wild;
    if (wild < 0) return std::nullopt;
    const Row& row = weighing_.rows.list[static_cast<std::size_t>(wild)];
    if (!row.now || row.kind != Row::Kind::load || row.unknown >= 0) return std::nullopt;
    Next next;
    next.kind = row.going == record::Going::down ? Next::Kind::up_down : Next::Kind::load_at;
    next.code = next.kind == Next::Kind::up_down ? "up_down" : "load_at";
    next.where = row.place;
    next.load_kg = row.load_kg;
    next.first = top.suspect.kind->code;
    next.first_where = top.suspect.where;
    next.second = pool_[1]->suspect.kind->code;
    next.second_where = pool_[1]->suspect.where;
    const LeftOut left = weighing_.model.leave_out(top.prediction());
    next.if_first = left.mean(wild);
    next.if_second = row.value_kg;
    next.unit = "kg";
    next.separation = std::abs(next.if_first - next.if_second) / left.sd(wild);
    next.gain = std::log(2.0);  // a slip or none: at most one bit
    next.minutes = 12.0;
    return next;
  }

  // ---- yes or no

  template <class Chance>
  void add_question(Next::Kind kind,
                    std::string_view code,
                    const std::string& where,
                    double minutes,
                    Chance chance) {
    if (weighing_.clues.asked(code, where)) return;
    for (const Candidate& known : candidates_) {
      if (known.next.code == code && known.next.where == where) return;
    }
    Candidate candidate;
    candidate.next.kind = kind;
    candidate.next.code = code;
    candidate.next.where = where;
    candidate.next.minutes = minutes;
    for (const Weighted* one : pool_) candidate.chance.push_back(chance(one->suspect));
    candidates_.push_back(std::move(candidate));
  }

  static double minutes_of(std::string_view look) {
    if (look == "follows_cell") return 15.0;
    if (look == "answers_elsewhere") return 8.0;
    if (look == "creeps") return 12.0;
    if (look == "tracking_on" || look == "people_on_deck" || look == "box_connected") return 1.0;
    if (look == "lightning" || look == "deck_laden" || look == "panel_missing") return 2.0;
    return 5.0;
  }

  void add_looks() {
    for (const Weighted* one : pool_) {
      for (const Sign& sign : one->suspect.kind->signs) {
        for (const std::string& where : places_to_look(one->suspect, sign.look)) {
          add_question(
              Next::Kind::look, sign.look, where, minutes_of(sign.look),
              [&](const Suspect& suspect) { return chance_of_look(suspect, sign.look, where); });
        }
      }
    }
  }

  void add_meters() {
    if (weighing_.scene.digital) return;
    for (const Weighted* one : pool_) {
      for (const int stand : one->suspect.stands) {
        const std::string where = units::print(units::StandIndex{stand});
        const auto here = [stand](const Suspect& suspect) {
          return std::find(suspect.stands.begin(), suspect.stands.end(), stand) !=
                 suspect.stands.end();
        };
        add_question(Next::Kind::meter, "meter", where, 10.0, [&](const Suspect& suspect) {
          return here(suspect) ? suspect.kind->meter : 0.03;
        });
        if (has_no_load(stand)) continue;
        add_question(Next::Kind::no_load, "no_load", where, 25.0, [&](const Suspect& suspect) {
          return here(suspect) ? suspect.kind->no_load : 0.03;
        });
      }
    }
  }

  [[nodiscard]] bool has_no_load(int stand) const {
    return std::any_of(weighing_.rows.list.begin(), weighing_.rows.list.end(),
                       [stand](const Row& row) {
                         return row.now && row.kind == Row::Kind::no_load && row.stand == stand;
                       });
  }

  void add_map() {
    if (weighing_.clues.map_complete || weighing_.scene.context.map_proven) return;
    add_question(Next::Kind::map, "map", "", 12.0, [](const Suspect& suspect) {
      if (suspect.kind->code == "swapped") return 0.99;
      return suspect.kind->code == "address_doubled" ? 0.6 : 0.01;
    });
  }

  // ---- figures

  /// A figure of new rows: the direction that tells the leading cause from one after it.
  void add_figure(Next next, const std::vector<Row>& fresh) {
    Rows all = weighing_.rows;
    all.list.insert(all.list.end(), fresh.begin(), fresh.end());
    const auto count = static_cast<Index>(fresh.size());
    Rows only = weighing_.rows;
    only.list = fresh;
    const VectorXd mean = mean_of(weighing_.scene, only);
    const VectorXd noise = only.noise();
    const MatrixXd open = open_of(weighing_.scene, only);
    std::vector<RowModel::Foreseen> seen;
    for (const Weighted* one : pool_) {
      const Signature signature = signature_of(weighing_.scene, all, one->suspect);
      const std::size_t best = std::min(one->best, signature.variants.size() - 1);
      seen.push_back(weighing_.model.foresee(
          one->prediction(), tail_of(signature.variants[best], count), mean, noise, open));
    }
    VectorXd direction = VectorXd::Zero(count);
    double most = 0.0;
    for (std::size_t other = 1; other < seen.size(); ++other) {
      const MatrixXd both = seen[0].covariance + seen[other].covariance;
      const VectorXd apart = both.llt().solve(seen[other].mean - seen[0].mean);
      const double separation = weight_[other] * apart.dot(seen[other].mean - seen[0].mean);
      if (separation > most) {
        most = separation;
        direction = apart;
      }
    }
    if (most <= 0.0) return;
    direction /= direction.cwiseAbs().maxCoeff();
    // Said of the row that counts most.
    Index main = 0;
    direction.cwiseAbs().maxCoeff(&main);
    direction /= direction(main);
    Candidate candidate;
    candidate.next = std::move(next);
    candidate.next.unit = "kg";
    for (const RowModel::Foreseen& one : seen) {
      candidate.mean.push_back(direction.dot(one.mean));
      candidate.sd.push_back(std::sqrt(std::max(direction.dot(one.covariance * direction), 1e-12)));
      told_.push_back(one.mean(main));
    }
    candidate.next.if_first = 0.0;
    shown_.push_back({candidates_.size(), std::exchange(told_, {})});
    candidates_.push_back(std::move(candidate));
  }

  /// The part of a prediction that speaks of the last rows.
  static Prediction tail_of(const Prediction& all, Index count) {
    Prediction tail;
    if (all.shift.size() > 0) tail.shift = all.shift.tail(count);
    if (all.columns.cols() > 0) tail.columns = all.columns.bottomRows(count);
    tail.sd = all.sd;
    if (all.added_sd.size() > 0) tail.added_sd = all.added_sd.tail(count);
    const Index rows =
        std::max({all.shift.size(), all.columns.rows(), all.added_sd.size(), all.data.size()});
    for (Replaced one : all.replaced) {
      one.row -= rows - count;
      if (rows > 0 && one.row >= 0) tail.replaced.push_back(one);
    }
    return tail;
  }

  [[nodiscard]] double usual_load_kg() const {
    std::vector<double> loads;
    for (const Row& row : weighing_.rows.list) {
      if (row.kind == Row::Kind::load) loads.push_back(row.load_kg);
    }
    if (loads.empty()) return std::min(0.2 * deck_.capacity_kg, 10000.0);
    std::sort(loads.begin(), loads.end());
    return loads[loads.size() / 2];
  }

  [[nodiscard]] std::vector<Row> load_rows(const record::LoadPlace& place,
                                           double load_kg,
                                           bool up_and_down) const {
    const auto points = trim::unit_load(deck_, place, "");
    if (!points) return {};
    std::vector<statics::PointLoad> loads = *points;
    const double force_N = load_kg * deck_.site.gravity_m_per_s2;
    for (statics::PointLoad& load : loads) load.force_N *= force_N;
    const statics::BuiltLoad live = statics::point_loads(model_, loads);
    if (!live.load) return {};
    const VectorXd level = VectorXd::Zero(deck_.stand_count());
    const statics::Scales scales = statics::nominal(model_);
    const statics::ContactState laden =
        statics::solve_contact(model_, statics::add(model_.dead, *live.load), level, scales);
    if (laden.status != statics::ContactStatus::solved) return {};
    if (trim::overload_of(deck_, laden.stand_N).kg > 0.0) return {};
    Row row;
    row.kind = Row::Kind::load;
    row.share = (laden.stand_N - dead_.stand_N) / force_N;
    row.load_kg = load_kg;
    row.noise_kg = std::hypot(0.6 * weighing_.scene.display_kg, 3e-4 * load_kg);
    row.epoch = std::max(0, weighing_.rows.epochs - 1);
    row.going = record::Going::up;
    std::vector<Row> rows = {row};
    if (up_and_down) {
      row.going = record::Going::down;
      rows.push_back(row);
    }
    return rows;
  }

  [[nodiscard]] bool loaded(const std::string& place, double load_kg, bool down) const {
    return std::any_of(weighing_.rows.list.begin(), weighing_.rows.list.end(), [&](const Row& row) {
      if (!row.now || row.kind != Row::Kind::load || row.place != place) return false;
      if (down) return row.going == record::Going::down;
      return std::abs(row.load_kg - load_kg) < 0.15 * load_kg;
    });
  }

  void add_load(Next::Kind kind, const record::LoadPlace& place, double load_kg, double minutes) {
    const bool down = kind == Next::Kind::up_down;
    if (load_kg > 0.8 * deck_.capacity_kg || loaded(place.typed, load_kg, down)) return;
    const std::vector<Row> rows = load_rows(place, load_kg, down);
    if (rows.empty()) return;
    Next next;
    next.kind = kind;
    next.code = kind == Next::Kind::up_down     ? "up_down"
                : kind == Next::Kind::two_loads ? "two_loads"
                                                : "load_at";
    next.where = place.typed;
    next.load_kg = load_kg;
    next.minutes = minutes;
    add_figure(std::move(next), rows);
  }

  static record::LoadPlace over(int stand) {
    record::LoadPlace place;
    place.kind = record::LoadPlace::Kind::stand;
    place.stand = units::StandIndex{stand};
    place.typed = units::print(place.stand);
    return place;
  }

  static record::LoadPlace between(int section) {
    record::LoadPlace place;
    place.kind = record::LoadPlace::Kind::span;
    place.section = units::SectionIndex{section};
    place.typed = std::to_string(section + 1) + "-" + std::to_string(section + 2);
    return place;
  }

  void add_readings() {
    const double usual_kg = usual_load_kg();
    std::set<int> stands;
    std::set<int> spans;
    bool passes = false;
    bool cells = false;
    bool zero = false;
    const int sections = static_cast<int>(deck_.sections.size());
    for (const Weighted* one : pool_) {
      const Suspect& suspect = one->suspect;
      for (const int stand : suspect.stands) stands.insert(stand);
      if (suspect.end >= 0) {
        const int first = suspect.end == 0 ? 0 : deck_.stand_count() - 2;
        stands.insert({first, first + 1});
      }
      if (suspect.module >= 0) {
        const double start = deck_.start_m(units::ModuleIndex{suspect.module});
        const double end = start + deck_.modules[static_cast<std::size_t>(suspect.module)].length_m;
        for (int s = 0; s + 1 < sections; ++s) {
          const double middle = (deck_.sections[static_cast<std::size_t>(s)].at_m +
                                 deck_.sections[static_cast<std::size_t>(s) + 1].at_m) /
                                2.0;
          if (middle > start && middle < end) spans.insert(s);
        }
      }
      passes |= suspect.kind->code == "rocker_tilted";
      cells |= !suspect.stands.empty() || suspect.bearing >= 0 || suspect.module >= 0;
      zero |= suspect.kind->code == "moisture" || suspect.kind->code == "screen_grounded" ||
              suspect.kind->code == "end_packed";
    }
    for (const int stand : stands) {
      add_load(Next::Kind::load_at, over(stand), usual_kg, 12.0);
      add_load(Next::Kind::two_loads, over(stand), 2.0 * usual_kg, 20.0);
      add_load(Next::Kind::up_down, over(stand), usual_kg, 20.0);
    }
    for (const int span : spans) {
      add_load(Next::Kind::load_at, between(span), usual_kg, 12.0);
      add_load(Next::Kind::two_loads, between(span), 2.0 * usual_kg, 20.0);
    }
    if (passes && !has_passes()) add_passes();
    if (zero) add_zero_later();
    if (cells && !has_cells()) add_cells();
  }

  [[nodiscard]] bool has_passes() const {
    using After = record::ZeroReading::After;
    return std::any_of(weighing_.rows.list.begin(), weighing_.rows.list.end(), [](const Row& row) {
      return row.now && row.kind == Row::Kind::zero &&
             (row.after == After::pass_1_to_2 || row.after == After::pass_2_to_1);
    });
  }

  [[nodiscard]] bool has_cells() const {
    return std::any_of(weighing_.rows.list.begin(), weighing_.rows.list.end(),
                       [](const Row& row) { return row.now && row.kind == Row::Kind::cell; });
  }

  [[nodiscard]] Row zero_row() const {
    Row row;
    row.kind = Row::Kind::zero;
    row.segment = weighing_.rows.segments - 1;
    row.noise_kg = 0.5 * weighing_.scene.display_kg;
    row.temp_degC = weighing_.rows.mean_temp_degC;
    return row;
  }

  void add_passes() {
    Row one = zero_row();
    one.after = record::ZeroReading::After::pass_1_to_2;
    Row two = one;
    two.after = record::ZeroReading::After::pass_2_to_1;
    Next next;
    next.kind = Next::Kind::passes;
    next.code = "passes";
    next.minutes = 12.0;
    add_figure(std::move(next), {one, two, one, two});
  }

  void add_zero_later() {
    Next next;
    next.kind = Next::Kind::zero_later;
    next.code = "zero_later";
    next.minutes = 30.0;
    add_figure(std::move(next), {zero_row(), zero_row(), zero_row()});
  }

  void add_cells() {
    std::vector<Row> rows;
    for (int i = 0; i < deck_.stand_count(); ++i) {
      Row row;
      row.kind = Row::Kind::cell;
      row.stand = i;
      row.noise_kg = 15.0;
      rows.push_back(row);
    }
    Next next;
    next.kind = Next::Kind::cells;
    next.code = "cells";
    next.minutes = 20.0;
    add_figure(std::move(next), rows);
  }

  // ---- what it teaches

  [[nodiscard]] double gain_of(const Candidate& candidate) const {
    if (candidate.is_figure()) return gain_of_figure(candidate);
    double yes = 0.0;
    double known = 0.0;
    for (std::size_t i = 0; i < weight_.size(); ++i) {
      yes += weight_[i] * candidate.chance[i];
      known += weight_[i] * entropy(candidate.chance[i]);
    }
    return entropy(yes) - known;
  }

  [[nodiscard]] double gain_of_figure(const Candidate& candidate) const {
    double low = 1e300;
    double high = -1e300;
    for (std::size_t i = 0; i < weight_.size(); ++i) {
      low = std::min(low, candidate.mean[i] - 5.0 * candidate.sd[i]);
      high = std::max(high, candidate.mean[i] + 5.0 * candidate.sd[i]);
    }
    // Points in each component's own scale, so that narrow ones are not stepped over.
    std::vector<double> points;
    for (std::size_t i = 0; i < weight_.size(); ++i) {
      for (int k = 0; k < kGrid; ++k) {
        points.push_back(candidate.mean[i] + candidate.sd[i] * (-5.0 + 10.0 * k / (kGrid - 1.0)));
      }
    }
    std::sort(points.begin(), points.end());
    double gain = 0.0;
    double last = 0.0;
    for (std::size_t p = 0; p < points.size(); ++p) {
      double density = 0.0;
      double own = 0.0;
      for (std::size_t i = 0; i < weight_.size(); ++i) {
        const double one = normal(points[p], candidate.mean[i], candidate.sd[i]);
        density += weight_[i] * one;
        if (one > 1e-300) own += weight_[i] * one * std::log(one);
      }
      const double value = density > 1e-300 ? own - density * std::log(density) : 0.0;
      if (p > 0) gain += 0.5 * (value + last) * (points[p] - points[p - 1]);
      last = value;
    }
    return std::max(gain, 0.0);
  }

  [[nodiscard]] double separation(const Candidate& candidate, std::size_t i, std::size_t j) const {
    if (candidate.is_figure()) {
      return std::abs(candidate.mean[i] - candidate.mean[j]) /
             std::hypot(candidate.sd[i], candidate.sd[j]);
    }
    const auto logit = [](double p) { return std::log(p / (1.0 - p)); };
    // Two normal readings d apart have a log odds of d^2 / 2 on average.
    return std::sqrt(std::abs(logit(candidate.chance[i]) - logit(candidate.chance[j])));
  }

  /// The likely pair that it tells apart best; none where it tells nothing apart.
  bool tell_pair(Candidate& candidate) const {
    double most = 0.0;
    for (std::size_t i = 0; i < pool_.size(); ++i) {
      for (std::size_t j = i + 1; j < pool_.size(); ++j) {
        const double apart = separation(candidate, i, j);
        const double worth = weight_[i] * weight_[j] * std::min(apart, 4.0);
        if (worth <= most) continue;
        most = worth;
        const bool swap = !candidate.is_figure() && candidate.chance[j] > candidate.chance[i];
        set_pair(candidate, swap ? j : i, swap ? i : j, apart);
      }
    }
    return most > 0.0;
  }

  void set_pair(Candidate& candidate, std::size_t i, std::size_t j, double apart) const {
    Next& next = candidate.next;
    next.first = pool_[i]->suspect.kind->code;
    next.first_where = pool_[i]->suspect.where;
    next.second = pool_[j]->suspect.kind->code;
    next.second_where = pool_[j]->suspect.where;
    next.separation = apart;
    if (!candidate.is_figure()) {
      next.if_first = candidate.chance[i];
      next.if_second = candidate.chance[j];
      return;
    }
    const auto index = static_cast<std::size_t>(&candidate - candidates_.data());
    for (const auto& [which, told] : shown_) {
      if (which != index) continue;
      next.if_first = told[i];
      next.if_second = told[j];
    }
  }

  const Weighing& weighing_;
  const statics::Model& model_;
  const deck::Deck& deck_;
  statics::ContactState dead_;
  std::vector<const Weighted*> pool_;
  std::vector<double> weight_;
  std::vector<Candidate> candidates_;
  std::vector<double> told_;
  std::vector<std::pair<std::size_t, std::vector<double>>> shown_;
};

}  // namespace

std::vector<Next> what_next(const Weighing& weighing, const statics::Model& model) {
  return Chooser(weighing, model).choose();
}

}  // namespace weighwright::diagnose
