#include "proof/build_options.h"

#include <algorithm>
#include <cmath>
#include <string>

#include "proof/increasing_loads.h"
#include "rules/nominal_load.h"

namespace weighwright::proof {
namespace {

constexpr double kAtStep = 0.98;  // of a step of limits: a load from here to it is at it
constexpr double kAbout = 0.1;    // a load between, so far off
// For discrimination less: the greatest load, which it is a share of, may come out 2 % lower.
constexpr double kAboutShown = 0.07;
constexpr double kLeastGap = 0.05;  // of the top: two loads nearer than this are one
constexpr int kMostSubstitutions = 12;
constexpr double kSlack_kg = 1e-6;

std::string number(double kg) {
  return std::to_string(std::lround(kg)) + " kg";
}

class Options {
 public:
  Options(const rules::Rulebook& rulebook,
          const rules::Scale& scale,
          const PlanRequest& request,
          const Stock& stock,
          double near_max)
      : rulebook_(rulebook),
        scale_(scale),
        occasion_(request.occasion),
        stock_(stock),
        max_kg_(scale.capacity_kg),
        near_max_(near_max) {
    at_hand_kg_ = greatest_kg(stock, limits_of(stock, {}));
    options_.amount = rules::least_standards(rulebook, scale, request.repeatability_kg);
    cite_least();
    repeatability_known_ = request.repeatability_kg.has_value();
    lorries_ = request.lorries;
  }

  BuildOptions run() {
    if (at_hand_kg_ < options_.amount.weights_kg - kSlack_kg) {
      tell_too_few();
    } else if (at_hand_kg_ >= near_max_ * max_kg_) {
      options_.questions.push_back(question(to_max(), 0));
    } else if (options_.amount.load_kg > 0.0) {
      by_capacity();
    } else {
      substitute(kMostSubstitutions);
    }
    return std::move(options_);
  }

 private:
  [[nodiscard]] BuildTarget to_max() const {
    const double allowed_kg = rules::nominal_allowance_kg(rulebook_, scale_, occasion_, max_kg_);
    return {.kg = max_kg_, .least_kg = near_max_ * max_kg_, .most_kg = max_kg_ + allowed_kg};
  }

  /// The least amount may be another document's than the share: a variant's, say.
  void cite_least() {
    const rules::Cited& least = rulebook_.least_standards_kg;
    rules::Amount& amount = options_.amount;
    if (!rulebook_.amounts.empty() || !(least.value > 0.0)) return;
    if (least.source.document == amount.source.document) return;
    amount.because += "; the least amount by " + rulebook_.cite(least.source);
    if (amount.weights_kg <= least.value) amount.source = least.source;
  }

  void tell_too_few() {
    PlanFinding finding;
    finding.code = "too_few_standards";
    finding.value = at_hand_kg_;
    finding.limit = options_.amount.weights_kg;
    finding.blocks = true;
    finding.what = "standards at hand are " + number(at_hand_kg_) + ", needed are " +
                   number(options_.amount.weights_kg) + " (" + options_.amount.because + ")";
    if (!rulebook_.substitution.empty() && !repeatability_known_) {
      finding.what += "; measure repeatability first: where it is good fewer will do";
    }
    finding.source = options_.amount.source;
    options_.findings.push_back(std::move(finding));
  }

  /// Vehicles or refused weights that can lie on the deck in the place of weights.
  [[nodiscard]] bool has_substitutes() const {
    return std::any_of(stock_.begin(), stock_.end(),
                       [](const PieceType& type) { return !type.known && type.count > 0; });
  }

  [[nodiscard]] int substitutions_to_max() const {
    return std::max(1, static_cast<int>(std::ceil(near_max_ * max_kg_ / at_hand_kg_ - 1e-9)) - 1);
  }

  void by_capacity() {
    const int needed = substitutions_to_max();
    const int allowed = static_cast<int>(std::lround(rulebook_.most_substitutions.value));
    const bool within = allowed == 0 || needed <= allowed;
    if (has_substitutes() && within) {
      substitute(allowed == 0 ? kMostSubstitutions : allowed);
      return;
    }
    if (has_substitutes()) tell_many(needed, allowed);
    // Where the weights make the rulebook's test load they do so alone; else all of them are used.
    const double load = options_.amount.load_kg;
    const bool reached = at_hand_kg_ >= load;
    const double most = std::min(at_hand_kg_, max_kg_);
    const double least = std::max(options_.amount.weights_kg, kNearMax * most);
    options_.questions.push_back(question(
        {.kg = reached ? load : most, .least_kg = reached ? load : least, .most_kg = most}, 0));
    options_.strain = rulebook_.find_test(rules::Check::strain) != nullptr;
    options_.strain_required = options_.strain && !reached;
    if (options_.strain_required && !lorries_ && !has_substitutes()) tell_no_strain(load);
  }

  void tell_no_strain(double load_kg) {
    PlanFinding finding;
    finding.code = "load_not_made";
    finding.value = load_kg;
    finding.limit = at_hand_kg_;
    finding.blocks = true;
    finding.what = "the test goes to " + number(load_kg) + ", the weights make " +
                   number(at_hand_kg_) +
                   ", and no lorry can be had for a strain load: more weights, or a loaded lorry";
    finding.source = options_.amount.source;
    options_.findings.push_back(std::move(finding));
  }

  void tell_many(int needed, int allowed) {
    PlanFinding finding;
    finding.code = "substitution_many";
    finding.value = needed;
    finding.limit = allowed;
    finding.what = "to reach Max takes " + std::to_string(needed) + " substitutions, " +
                   std::to_string(allowed) + " are allowed: a strain load instead";
    finding.source = rulebook_.most_substitutions.source;
    options_.findings.push_back(std::move(finding));
  }

  void substitute(int most) {
    const double least = options_.amount.weights_kg;
    const int fewest = substitutions_to_max();
    const int sensible = static_cast<int>(std::ceil(max_kg_ / least - 1e-9)) - 1;
    for (int count = fewest; count <= std::min(most, std::max(fewest, sensible)); ++count) {
      options_.questions.push_back(question(to_max(), count));
    }
    if (options_.questions.empty()) tell_too_little(fewest, most);
  }

  void tell_too_little(int needed, int most) {
    tell_many(needed, most);
    options_.findings.back().blocks = true;
    options_.findings.back().what =
        "to reach Max takes " + std::to_string(needed) + " substitutions: more standards";
  }

  [[nodiscard]] bool asks(rules::Check check) const {
    const rules::TestRule* const test = rulebook_.find_test(check);
    return test != nullptr && rules::is_asked(rulebook_, scale_, occasion_, *test);
  }

  /// A rulebook may ask for no decreasing loads where material takes the place of weights.
  [[nodiscard]] bool goes_down(int substitutions) const {
    const rules::Cited& rule = rulebook_.decreasing_with_substitution;
    const bool dropped = !rule.source.clause.empty() && rule.value == 0.0;
    return asks(rules::Check::decreasing) && !(dropped && substitutions > 0);
  }

  [[nodiscard]] BuildQuestion question(const BuildTarget& top, int substitutions) const {
    BuildQuestion asked;
    asked.goes_down = goes_down(substitutions);
    asked.top = top;
    asked.substitutions = substitutions;
    asked.least_weights_kg = options_.amount.weights_kg;
    if (asked.goes_down) {
      asked.decreasing_at_kg = rules::decreasing_loads_kg(rulebook_, scale_, top.kg);
    }
    if (asks(rules::Check::discrimination)) {
      for (const double share : rulebook_.discrimination_shares) {
        asked.discrimination_at_kg.push_back(share * top.kg);
      }
      asked.added_d = rulebook_.discrimination_added_d.value;
      asked.small_kg = rules::near_zero_kg(rulebook_, scale_);
    }
    add_targets(asked);
    return asked;
  }

  void add_targets(BuildQuestion& asked) const {
    const double top = asked.top.kg;
    std::vector<BuildTarget>& targets = asked.targets;
    for (const IncreasingLoad& load : increasing_loads(rulebook_, scale_, occasion_, top)) {
      if (load.kind == IncreasingLoad::Kind::greatest) continue;
      // No load below Min is weighed; at a step the lower limit still holds, so not above it
      // unless nothing else can be made.
      const bool least = load.kind == IncreasingLoad::Kind::least;
      targets.push_back({.kg = load.kg,
                         .least_kg = least ? load.kg : load.least_kg,
                         .most_kg = std::min(load.most_kg, top),
                         .best_least_kg = least ? 0.0 : kAtStep * load.kg,
                         .best_most_kg = least ? 0.0 : load.kg});
    }
    for (const double load : asked.decreasing_at_kg) add_between(asked, load, kNearShare);
    for (const double load : asked.discrimination_at_kg) {
      if (load > 0.0 && load < top) add_between(asked, load, kAboutShown);
    }
    const auto wanted = static_cast<std::size_t>(std::lround(rulebook_.increasing_loads.value));
    while (targets.size() + 1 < wanted) add_between(asked, widest_gap(asked));
  }

  /// A load of no special place, unless one is there already.
  void add_between(BuildQuestion& asked, double load, double about = kAbout) const {
    auto at = asked.targets.begin();
    while (at != asked.targets.end() && at->kg < load) ++at;
    const double near = kLeastGap * asked.top.kg;
    if (at != asked.targets.end() && at->kg - load < near) return;
    if (at != asked.targets.begin() && load - std::prev(at)->kg < near) return;
    asked.targets.insert(at, {.kg = load,
                              .least_kg = (1.0 - about) * load,
                              .most_kg = std::min((1.0 + about) * load, asked.top.kg)});
  }

  [[nodiscard]] static double widest_gap(const BuildQuestion& asked) {
    double below = 0.0;
    double widest = 0.0;
    double middle = 0.0;
    for (std::size_t i = 0; i <= asked.targets.size(); ++i) {
      const double here = i < asked.targets.size() ? asked.targets[i].kg : asked.top.kg;
      if (here - below > widest) {
        widest = here - below;
        middle = (here + below) / 2.0;
      }
      below = here;
    }
    return middle;
  }

  const rules::Rulebook& rulebook_;
  const rules::Scale& scale_;
  rules::Occasion occasion_;
  const Stock& stock_;
  double max_kg_;
  double near_max_;
  double at_hand_kg_ = 0.0;
  bool repeatability_known_ = false;
  bool lorries_ = true;
  BuildOptions options_;
};

}  // namespace

BuildOptions build_options(const rules::Rulebook& rulebook,
                           const rules::Scale& scale,
                           const PlanRequest& request,
                           const Stock& stock,
                           double near_max) {
  const int ranges = rules::range_count(scale);
  if (ranges == 1) return Options(rulebook, scale, request, stock, near_max).run();
  const rules::Scale last = rules::in_range(scale, ranges - 1);
  BuildOptions options = Options(rulebook, last, request, stock, near_max).run();
  for (int i = 0; i + 1 < ranges; ++i) {
    const rules::Scale range = rules::in_range(scale, i);
    BuildOptions own = Options(rulebook, range, request, stock, near_max).run();
    for (BuildQuestion& question : own.questions) {
      question.discrimination_at_kg.clear();  // looked at in the last range
    }
    options.lower_ranges.push_back(std::move(own.questions));
  }
  return options;
}

}  // namespace weighwright::proof
