#include "trim/design.h"

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <limits>

#include "statics/contact.h"
#include "statics/surface.h"
#include "trim/placements.h"
#include "units/quantity.h"

namespace weighwright::trim {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;
using record::LoadPlace;

constexpr double kUsualGain = 0.01;       // prior standard deviation of a gain, common practice
constexpr double kUndetermined = 0.9e-2;  // nearly all of that left: the placements tell nothing
constexpr double kBrings_more = 1e-9;     // relative
constexpr int kContinuousSteps = 400;

/// How far a load's wheels lie from its own centre.
struct Reach {
  double back_m = 0.0;   // towards end 1
  double ahead_m = 0.0;  // towards end 2
  double left_m = 0.0;
  double right_m = 0.0;
};

Reach reach_of(const deck::Deck& deck, const std::string& footprint) {
  Reach reach;
  for (const deck::Footprint& known : deck.footprints) {
    if (known.name != footprint) continue;
    for (const deck::Footprint::Point& point : known.points) {
      reach.back_m = std::max(reach.back_m, -point.along_m);
      reach.ahead_m = std::max(reach.ahead_m, point.along_m);
      reach.left_m = std::max(reach.left_m, point.left_m);
      reach.right_m = std::max(reach.right_m, -point.left_m);
    }
  }
  return reach;
}

std::string metres(double value) {
  return units::print_fixed(value, 2) + " m";
}

/// Places that a person would name, each moved in as far as the whole footprint needs.
class PlaceList {
 public:
  PlaceList(const deck::Deck& deck, const std::string& footprint)
      : deck_(deck), reach_(reach_of(deck, footprint)) {
    half_width_m_ = std::numeric_limits<double>::infinity();
    for (const deck::Module& module : deck.modules) {
      half_width_m_ = std::min(half_width_m_, module.width_m / 2.0);
    }
  }

  std::vector<std::pair<LoadPlace, std::string>> list() {
    const int sections = static_cast<int>(deck_.sections.size());
    for (int i = 0; i < deck_.stand_count(); ++i) {
      LoadPlace place;
      place.kind = LoadPlace::Kind::stand;
      place.stand = units::StandIndex{i};
      const auto& section = deck_.sections[static_cast<std::size_t>(i / 2)];
      add(place, units::print(place.stand), section.at_m, deck_.stand_y_m(place.stand));
    }
    for (int s = 0; s < sections; ++s) {
      LoadPlace place;
      place.kind = LoadPlace::Kind::section;
      place.section = units::SectionIndex{s};
      add(place, std::to_string(s + 1), deck_.sections[static_cast<std::size_t>(s)].at_m, 0.0);
    }
    for (int s = 0; s + 1 < sections; ++s) add_span(s);
    return std::move(places_);
  }

 private:
  void add_span(int s) {
    const auto& here = deck_.sections[static_cast<std::size_t>(s)];
    const auto& next = deck_.sections[static_cast<std::size_t>(s) + 1];
    const double x_m = (here.at_m + next.at_m) / 2.0;
    const double y_m = std::min(here.across_m, next.across_m) / 2.0;
    const std::string name = std::to_string(s + 1) + "-" + std::to_string(s + 2);
    LoadPlace place;
    place.kind = LoadPlace::Kind::span;
    place.section = units::SectionIndex{s};
    add(place, name, x_m, 0.0);
    place.kind = LoadPlace::Kind::deck;  // has no name of its own: a point
    add(place, name + " left", x_m, y_m);
    add(place, name + " right", x_m, -y_m);
  }

  void add(LoadPlace place, std::string name, double x_m, double y_m) {
    const double x_in =
        std::clamp(x_m, reach_.back_m, std::max(reach_.back_m, deck_.length_m() - reach_.ahead_m));
    const double right = -half_width_m_ + reach_.right_m;
    const double y_in = std::clamp(y_m, right, std::max(right, half_width_m_ - reach_.left_m));
    const bool moved = x_in != x_m || y_in != y_m;
    if (moved || place.kind == LoadPlace::Kind::deck) {
      place.kind = LoadPlace::Kind::point;
      place.x_m = x_in;
      place.y_m = y_in;
      name += (moved ? ", moved in: x " : ": x ") + metres(x_in) + ", y " + metres(y_in);
    } else {
      place.typed = name;
    }
    places_.emplace_back(std::move(place), std::move(name));
  }

  const deck::Deck& deck_;
  Reach reach_;
  double half_width_m_ = 0.0;
  std::vector<std::pair<LoadPlace, std::string>> places_;
};

/// Gains' information with a prior, and the criterion on top of it.
class Criterion {
 public:
  explicit Criterion(const DesignProblem& problem)
      : problem_(problem), per_reading_(1.0 / (problem.u_reading * problem.u_reading)) {
    base_ = problem.information;
    base_.diagonal().array() += 1.0 / (kUsualGain * kUsualGain);
    wanted_ = problem.wanted;
  }

  [[nodiscard]] const MatrixXd& base() const { return base_; }
  [[nodiscard]] MatrixXd with(const MatrixXd& information, int candidate, double times) const {
    const VectorXd& share = problem_.candidates[static_cast<std::size_t>(candidate)].share;
    return information + times * per_reading_ * share * share.transpose();
  }
  /// K x K covariance of what is wanted.
  [[nodiscard]] MatrixXd covariance(const MatrixXd& information) const {
    return wanted_ * information.llt().solve(wanted_.transpose());
  }
  [[nodiscard]] double value(const MatrixXd& information) const {
    return covariance(information).trace() / static_cast<double>(wanted_.rows());
  }
  /// The value after one reading more at each candidate, by the rank-one formula of Sherman and
  /// Morrison.
  [[nodiscard]] VectorXd values_with_one_more(const MatrixXd& information) const {
    const MatrixXd inverse =
        information.llt().solve(MatrixXd::Identity(information.rows(), information.cols()));
    const MatrixXd spread = wanted_ * inverse;
    const double now = (spread * wanted_.transpose()).trace();
    VectorXd values(static_cast<Index>(problem_.candidates.size()));
    for (Index c = 0; c < values.size(); ++c) {
      const VectorXd& share = problem_.candidates[static_cast<std::size_t>(c)].share;
      const double gain = per_reading_ * (spread * share).squaredNorm() /
                          (1.0 + per_reading_ * share.dot(inverse * share));
      values(c) = (now - gain) / static_cast<double>(wanted_.rows());
    }
    return values;
  }
  [[nodiscard]] int count() const { return static_cast<int>(problem_.candidates.size()); }
  [[nodiscard]] double per_reading() const { return per_reading_; }
  [[nodiscard]] const VectorXd& share(int c) const {
    return problem_.candidates[static_cast<std::size_t>(c)].share;
  }
  [[nodiscard]] const MatrixXd& wanted() const { return wanted_; }

 private:
  const DesignProblem& problem_;
  double per_reading_;
  MatrixXd base_;
  MatrixXd wanted_;
};

int best_of(const VectorXd& values) {
  Index best = 0;
  // The first of equals, so that the answer is the same on every machine.
  for (Index c = 1; c < values.size(); ++c) {
    if (values(c) < values(best) * (1.0 - kBrings_more)) best = c;
  }
  return static_cast<int>(best);
}

/// Replaces a placement by a better one until none is better.
void exchange(const Criterion& criterion, std::vector<int>& chosen, MatrixXd& information) {
  bool better = true;
  while (better) {
    better = false;
    for (int& one : chosen) {
      const double now = criterion.value(information);
      const MatrixXd without = criterion.with(information, one, -1.0);
      const VectorXd values = criterion.values_with_one_more(without);
      const int best = best_of(values);
      if (values(best) >= now * (1.0 - 1e-7)) continue;
      information = criterion.with(without, best, 1.0);
      one = best;
      better = true;
    }
  }
}

/// Lower bound of the criterion for any `placements` readings more, from a continuous design.
double bound(const Criterion& criterion, int placements) {
  const int count = criterion.count();
  VectorXd weights = VectorXd::Constant(count, 1.0 / count);
  double best = 0.0;
  for (int step = 0; step < kContinuousSteps; ++step) {
    MatrixXd information = criterion.base();
    for (int c = 0; c < count; ++c) {
      information = criterion.with(information, c, placements * weights(c));
    }
    const MatrixXd spread = criterion.wanted() * information.llt().solve(MatrixXd::Identity(
                                                     information.rows(), information.cols()));
    const double rows = static_cast<double>(criterion.wanted().rows());
    const double value = (spread * criterion.wanted().transpose()).trace() / rows;
    VectorXd derivative(count);
    for (int c = 0; c < count; ++c) {
      derivative(c) =
          placements * criterion.per_reading() * (spread * criterion.share(c)).squaredNorm() / rows;
    }
    // phi(eta) >= phi(xi) + derivative of going from xi to eta, for phi is convex.
    const double here = weights.dot(derivative);
    best = std::max(best, value + here - derivative.maxCoeff());
    weights = weights.cwiseProduct(derivative.cwiseMax(1e-300).cwiseSqrt());
    weights /= weights.sum();
  }
  return best;
}

/// Every placement's shares sum to 1, so the combinations that sum to 0 and are seen by n of them
/// have rank n - 1 at most.
int fewest_by_rank(const DesignProblem& problem) {
  if (!problem.information.isZero(0.0)) return 0;
  return static_cast<int>(problem.wanted.fullPivLu().rank()) + 1;
}

Design describe(const Criterion& criterion, std::vector<int> chosen, const MatrixXd& information) {
  Design design;
  design.chosen = std::move(chosen);
  std::sort(design.chosen.begin(), design.chosen.end());
  const VectorXd variance = criterion.covariance(information).diagonal();
  design.u_worst = std::sqrt(variance.maxCoeff());
  design.u_mean = std::sqrt(variance.mean());
  if (design.u_worst > kUndetermined * std::sqrt(0.5)) {
    design.u_worst = std::numeric_limits<double>::infinity();
  }
  return design;
}

}  // namespace

std::vector<Candidate> candidates_of(const deck::Deck& deck,
                                     const statics::Model& model,
                                     const std::string& footprint) {
  const statics::Scales scales = statics::nominal(model);
  const statics::ContactState state =
      statics::solve_contact(model, model.dead, Eigen::VectorXd::Zero(deck.stand_count()), scales);
  std::vector<Candidate> candidates;
  for (const auto& [place, name] : PlaceList(deck, footprint).list()) {
    const auto points = unit_load(deck, place, footprint);
    if (!points || !statics::point_loads(model, *points).load) continue;
    const MatrixXd shares = statics::influence_surface(model, state, scales, *points);
    VectorXd share = VectorXd::Zero(deck.stand_count());
    for (std::size_t i = 0; i < points->size(); ++i) {
      share += (*points)[i].force_N * shares.row(static_cast<Index>(i)).transpose();
    }
    candidates.push_back({.place = place, .name = name, .share = share});
  }
  return candidates;
}

std::vector<Candidate> within_capacity(const deck::Deck& deck,
                                       std::vector<Candidate> candidates,
                                       const VectorXd& dead_N,
                                       double load_kg) {
  std::erase_if(candidates, [&](const Candidate& candidate) {
    const VectorXd loaded = dead_N + load_kg * deck.site.gravity_m_per_s2 * candidate.share;
    return overload_of(deck, loaded).kg > 0.0;
  });
  return candidates;
}

MatrixXd wanted_of(const std::vector<Element>& elements, int stands) {
  MatrixXd acts;
  if (elements.empty()) {
    acts = MatrixXd::Identity(stands, stands);
  } else {
    acts = MatrixXd::Zero(static_cast<Index>(elements.size()), stands);
    for (std::size_t k = 0; k < elements.size(); ++k) {
      for (const int stand : elements[k].stands) {
        acts(static_cast<Index>(k), stand) = 1.0 / static_cast<double>(elements[k].stands.size());
      }
    }
  }
  const VectorXd mean = acts.colwise().mean().transpose();
  acts.rowwise() -= mean.transpose();
  return acts;
}

Design best_design(const DesignProblem& problem, int placements) {
  const Criterion criterion(problem);
  MatrixXd information = criterion.base();
  std::vector<int> chosen;
  for (int i = 0; i < placements; ++i) {
    chosen.push_back(best_of(criterion.values_with_one_more(information)));
    information = criterion.with(information, chosen.back(), 1.0);
  }
  exchange(criterion, chosen, information);
  return describe(criterion, std::move(chosen), information);
}

FewestPlacements fewest_placements(const DesignProblem& problem, double u_wanted, int most) {
  const Criterion criterion(problem);
  FewestPlacements answer;
  answer.no_fewer_than = fewest_by_rank(problem);
  for (int n = answer.no_fewer_than; n <= most; ++n) {
    // The worst trim is never better than the mean of all, and that never better than the bound.
    if (bound(criterion, n) > u_wanted * u_wanted) {
      answer.no_fewer_than = n + 1;
      continue;
    }
    const Design design = best_design(problem, n);
    if (design.u_worst > u_wanted) continue;
    answer.design = design;
    return answer;
  }
  return answer;
}

int next_placement(const DesignProblem& problem) {
  const Criterion criterion(problem);
  return best_of(criterion.values_with_one_more(criterion.base()));
}

}  // namespace weighwright::trim
