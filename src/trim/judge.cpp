#include "trim/judge.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <optional>
#include <utility>

#include "chance/counter_random.h"
#include "units/quantity.h"

namespace weighwright::trim {
namespace {

using record::Going;

constexpr double kZeroReturn_of_e = 0.5;
constexpr double kUpDown_of_d = 1.0;
constexpr double kDisagree = 3.0;     // standard uncertainties of a difference
constexpr double kUnexplained = 3.5;  // one place among as many as are usual
constexpr std::size_t kUsualPlaces = 12;
constexpr double kWorthTelling_of_e = 0.5;
constexpr double kBlocks_of_e = 1.0;
constexpr double kSameLoad = 1e-3;      // relative
constexpr double kAnotherLoad = 0.1;    // relative: far enough apart to judge proportion
constexpr double kAlike = 0.8;          // of the greatest relief: as good an explanation
constexpr double kDetermined = 0.9999;  // leverage: the reading explains itself only
constexpr double kUnits_alike = 0.05;   // how near to 2.2046 looks like pounds
constexpr double kResponds = 0.2;       // part of a load that must be shown
constexpr double kCoarse = 0.5;         // of [trim] most: standard uncertainty of a trim
constexpr double kRoundingSlack = 1e-9;

bool same_place(const Placed& a, const Placed& b) {
  return a.name == b.name && a.epoch == b.epoch;
}

double median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  const double upper = *middle;
  if (values.size() % 2 == 1) return upper;
  return (upper + *std::max_element(values.begin(), middle)) / 2.0;
}

int nearest_stand(const Placed& placed) {
  Eigen::Index stand = 0;
  placed.share.maxCoeff(&stand);
  return static_cast<int>(stand);
}

class Judge {
 public:
  Judge(const deck::Deck& deck,
        const Shifts& shifts,
        const std::vector<Element>& elements,
        const GainFit& fit)
      : deck_(deck), shifts_(shifts), elements_(elements), fit_(fit), going_(goings()) {}

  std::vector<Finding> judge() {
    check_overload();
    check_response();
    check_units();
    check_zeros();
    std::vector<std::pair<std::size_t, std::size_t>> pairs;
    for (std::size_t i = 0; i < shifts_.placed.size(); ++i) {
      for (std::size_t j = i + 1; j < shifts_.placed.size(); ++j) {
        if (same_place(shifts_.placed[i], shifts_.placed[j])) pairs.emplace_back(i, j);
      }
    }
    disagree_ = among(kDisagree, pairs.size());
    unexplained_ = among(kUnexplained, shifts_.placed.size() / kUsualPlaces);
    for (const auto& [i, j] : pairs) compare(i, j);
    check_demands();
    check_fit();
    check_coarseness();
    check_contacts();
    return findings_;
  }

 private:
  [[nodiscard]] double load_of(const Placed& placed) const {
    return placed.unknown < 0 ? *placed.load_kg
                              : fit_.unknown_kg[static_cast<std::size_t>(placed.unknown)];
  }

  /// As many standard uncertainties as keep the chance of a false word what it is for one
  /// comparison, however many are made (Bonferroni; from memory, unverified).
  static double among(double sigmas, std::size_t comparisons) {
    if (comparisons < 2) return sigmas;
    const double tail = 0.5 * std::erfc(sigmas / std::sqrt(2.0));
    return chance::normal_quantile(1.0 - tail / static_cast<double>(comparisons));
  }

  /// Which way each load was reached: as told, else from loads that follow one another at a place.
  [[nodiscard]] std::vector<Going> goings() const {
    std::vector<Going> going;
    for (std::size_t i = 0; i < shifts_.placed.size(); ++i) {
      const Placed& now = shifts_.placed[i];
      Going way = now.going;
      if (way == Going::unknown && now.load_kg) way = i == 0 ? Going::up : from_before(i);
      going.push_back(way);
    }
    return going;
  }

  /// A load at another place, or on an empty deck, came up from nothing.
  [[nodiscard]] Going from_before(std::size_t i) const {
    const Placed& now = shifts_.placed[i];
    const Placed& before = shifts_.placed[i - 1];
    if (now.from_empty || !same_place(now, before) || before.file != now.file) return Going::up;
    if (!before.load_kg || *now.load_kg == *before.load_kg) return Going::unknown;
    return *now.load_kg > *before.load_kg ? Going::up : Going::down;
  }

  Finding& add(Cause cause, const Placed& placed, double found, double limit, bool blocks) {
    Finding finding;
    finding.cause = cause;
    finding.place = placed.name;
    finding.stand = nearest_stand(placed);
    finding.found = found;
    finding.limit = limit;
    finding.load_kg = load_of(placed);
    finding.between = placed.share.maxCoeff() < 0.9;
    finding.blocks = blocks;
    finding.file = placed.file;
    finding.line = placed.line;
    findings_.push_back(finding);
    return findings_.back();
  }

  void check_units() {
    const bool pounds = std::abs(fit_.common * units::kPound_kg - 1.0) < kUnits_alike;
    const bool kilograms = std::abs(fit_.common / units::kPound_kg - 1.0) < kUnits_alike;
    if (pounds || kilograms)
      add(Cause::mixed_units, shifts_.placed.front(), fit_.common, 1.0, true);
  }

  /// The heaviest such reading: a cell that was overloaded may not be what it was.
  void check_overload() {
    const auto worst = std::max_element(
        shifts_.placed.begin(), shifts_.placed.end(),
        [](const Placed& a, const Placed& b) { return a.overload_kg < b.overload_kg; });
    if (worst->overload_kg <= 0.0) return;
    Finding& finding = add(Cause::overload, *worst, worst->overload_kg, 0.0, true);
    finding.stand = worst->overloaded;
  }

  /// Too little of a load arrives for any question of trims.
  void check_response() {
    for (const Placed& placed : shifts_.placed) {
      const double load_kg = placed.load_kg.value_or(0.0);
      const double least = kResponds * load_kg;
      if (placed.indication_kg > least) continue;
      const bool falls = placed.indication_kg < -least && placed.indication_kg < 0.0;
      add(falls ? Cause::falls : Cause::no_response, placed, placed.indication_kg, least, true);
    }
  }

  void check_zeros() {
    const double limit = kZeroReturn_of_e * deck_.interval_at_kg(0.0);
    for (const Placed& placed : shifts_.placed) {
      if (!placed.zero_change_kg) continue;
      if (std::abs(*placed.zero_change_kg) <= limit + kRoundingSlack) continue;
      add(Cause::zero_return, placed, *placed.zero_change_kg, limit, true);
    }
  }

  void compare(std::size_t i, std::size_t j) {
    const Placed& a = shifts_.placed[i];
    const Placed& b = shifts_.placed[j];
    const double load_a = load_of(a);
    const double load_b = load_of(b);
    const bool same =
        std::abs(load_a - load_b) <= kSameLoad * std::max(load_a, load_b) && a.unknown == b.unknown;
    if (same) {
      compare_same(a, b, going_[i], going_[j]);
    } else if (std::abs(load_a - load_b) > kAnotherLoad * std::max(load_a, load_b)) {
      compare_loads(load_a > load_b ? a : b, load_a > load_b ? b : a);
    }
  }

  void compare_same(const Placed& a, const Placed& b, Going to_a, Going to_b) {
    const double apart = b.indication_kg - a.indication_kg;
    const bool ways = to_a != to_b && to_a != Going::unknown && to_b != Going::unknown;
    const double limit = ways ? kUpDown_of_d * deck_.display_at_kg(load_of(b))
                              : disagree_ * std::hypot(a.u_kg, b.u_kg);
    if (std::abs(apart) <= limit + kRoundingSlack) return;
    add(ways ? Cause::up_down : Cause::repeats, b, apart, limit, true).other_kg = a.indication_kg;
  }

  void compare_loads(const Placed& heavy, const Placed& light) {
    const double ratio = load_of(heavy) / load_of(light);
    const double apart = heavy.indication_kg - light.indication_kg * ratio;
    const double limit = std::max(disagree_ * std::hypot(heavy.u_kg, light.u_kg * ratio),
                                  kWorthTelling_of_e * deck_.interval_at_kg(load_of(heavy)));
    if (std::abs(apart) <= limit + kRoundingSlack) return;
    add(apart < 0.0 ? Cause::less_when_heavy : Cause::more_when_heavy, heavy, apart, limit, true)
        .other_kg = load_of(light);
  }

  /// What every path would weigh with its trims where they stood first: a trim that was turned away
  /// (to learn what a turn does, or by mistake) is no fault, one that hides a fault is.
  void check_demands() {
    const double most = deck_.trimming.most;
    Eigen::VectorXd standing = Eigen::VectorXd::Zero(fit_.log_gain.size());
    for (std::size_t k = 0; k < elements_.size(); ++k) {
      const double moved = fit_.effects_now(static_cast<Eigen::Index>(k)) - elements_[k].start;
      for (const int stand : elements_[k].stands) standing(stand) += moved;
    }
    const Eigen::VectorXd own = fit_.log_gain - standing;
    const double middle = median({own.begin(), own.end()});
    const double usual = median({standing.begin(), standing.end()});
    for (Eigen::Index i = 0; i < own.size(); ++i) {
      const double demand = std::expm1(own(i) - middle);
      const double u = std::sqrt(fit_.covariance(i, i));
      // Nobody is accused of what the display may have made up.
      if (std::abs(demand) - kDisagree * u <= most || !is_determined(fit_, contrast(i))) continue;
      const double stands = std::expm1(standing(i) - usual);
      if (std::abs(stands) > most) {
        add_demand(Cause::trims_apart, i, stands);
      } else {
        add_demand(Cause::beyond_limit, i, demand);
      }
    }
  }

  [[nodiscard]] bool named() const {
    return std::any_of(findings_.begin(), findings_.end(),
                       [](const Finding& finding) { return finding.blocks; });
  }

  /// A load so light that a step of the display is worth more than a trim should do.
  void check_coarseness() {
    if (named()) return;
    Eigen::Index worst = 0;
    const double u = std::sqrt(fit_.covariance.diagonal().maxCoeff(&worst));
    if (u <= kCoarse * deck_.trimming.most || !is_determined(fit_, contrast(worst))) return;
    add_demand(Cause::too_coarse, worst, u);
    findings_.back().limit = kCoarse * deck_.trimming.most;
  }

  void add_demand(Cause cause, Eigen::Index stand, double found) {
    Finding finding;
    finding.cause = cause;
    finding.place = units::print(units::StandIndex{static_cast<int>(stand)});
    finding.stand = static_cast<int>(stand);
    finding.found = found;
    finding.limit = deck_.trimming.most;
    finding.blocks = true;
    findings_.push_back(finding);
  }

  [[nodiscard]] Eigen::VectorXd contrast(Eigen::Index stand) const {
    const Eigen::Index stands = fit_.log_gain.size();
    Eigen::VectorXd row = Eigen::VectorXd::Constant(stands, -1.0 / static_cast<double>(stands));
    row(stand) += 1.0;
    return row;
  }

  /// One place that the others do not explain; only where nothing else was found, for a fault that
  /// has a name already must not be told again as something else.
  void check_fit() {
    if (fit_.freedoms < 1 || named()) return;
    const std::optional<std::size_t> which = most_doubtful();
    if (!which) return;
    const Placed& placed = shifts_.placed[*which];
    const double off = off_by(*which);
    const double e = deck_.interval_at_kg(load_of(placed));
    if (std::abs(off) < kWorthTelling_of_e * e) return;
    Finding& finding = add(Cause::unexplained, placed, off, kWorthTelling_of_e * e,
                           std::abs(off) > kBlocks_of_e * e);
    finding.other_kg = placed.indication_kg - off;
  }

  /// What a place is off by when the others alone say what it should read.
  [[nodiscard]] double off_by(std::size_t i) const {
    const auto p = static_cast<Eigen::Index>(i);
    return fit_.residual_kg(p) / (1.0 - fit_.leverage(p));
  }

  /// Where few readings are left over, several places would each explain a misfit; then the one
  /// that needs the least to be wrong, for cells are alike to a few parts in a thousand.
  [[nodiscard]] std::optional<std::size_t> most_doubtful() const {
    std::vector<double> relief(shifts_.placed.size(), 0.0);  // of chi-square, without that place
    for (std::size_t i = 0; i < relief.size(); ++i) {
      const auto p = static_cast<Eigen::Index>(i);
      if (fit_.leverage(p) > kDetermined) continue;
      const double size = fit_.residual_kg(p) / shifts_.placed[i].u_kg;
      relief[i] = size * size / (1.0 - fit_.leverage(p));
    }
    const double best = *std::max_element(relief.begin(), relief.end());
    if (best < unexplained_ * unexplained_) return std::nullopt;
    std::optional<std::size_t> which;
    for (std::size_t i = 0; i < relief.size(); ++i) {
      if (relief[i] < kAlike * best) continue;
      if (!which || std::abs(off_by(i)) < std::abs(off_by(*which))) which = i;
    }
    return which;
  }

  void check_contacts() {
    for (const Placed& placed : shifts_.placed) {
      if (placed.opens_contact) add(Cause::contact_opens, placed, 0.0, 0.0, false);
    }
  }

  const deck::Deck& deck_;
  const Shifts& shifts_;
  const std::vector<Element>& elements_;
  const GainFit& fit_;
  std::vector<Going> going_;
  double disagree_ = kDisagree;  // standard uncertainties, for as many pairs as there are
  double unexplained_ = kUnexplained;
  std::vector<Finding> findings_;
};

}  // namespace

std::vector<Finding> judge(const deck::Deck& deck,
                           const Shifts& shifts,
                           const std::vector<Element>& elements,
                           const GainFit& fit) {
  return Judge(deck, shifts, elements, fit).judge();
}

}  // namespace weighwright::trim
