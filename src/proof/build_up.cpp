#include "proof/build_up.h"

#include <algorithm>
#include <cmath>

namespace weighwright::proof {
namespace {

constexpr double kLittle_kg = 1e-6;
constexpr double kHardlyAbove = 1.02;  // the next best to what is best (common practice, no source)

class Builder {
 public:
  Builder(const Stock& stock, const Pieces& limit, const BuildQuestion& question)
      : stock_(stock), limit_(limit), asked_(question), none_(stock.size(), 0) {}

  BuildUp run() {
    if (!weigh_in()) return {};
    for (int stage = 0; stage <= asked_.substitutions; ++stage) {
      if (!climb(stage)) return {};
    }
    go_down();
    discriminate();
    charge();
    return std::move(built_);
  }

 private:
  /// Which weights go on and off in every step of a substitution; all of them without.
  bool weigh_in() {
    if (asked_.substitutions == 0) {
      weights_ = limit_;
      return true;
    }
    const double least =
        std::max(asked_.least_weights_kg, asked_.top.least_kg / (asked_.substitutions + 1.0));
    const LoadRange range{.want_kg = least, .least_kg = least, .most_kg = asked_.top.most_kg};
    const auto chosen = cheapest(stock_, limit_, range, 2.0 * (asked_.substitutions + 1.0));
    if (!chosen) return false;
    weights_ = chosen->pieces;
    built_.weights_kg = chosen->kg;
    least_weights_kg_ = least;
    return true;
  }

  /// What these weights are to make on top of what lies there: as it is best, where they can.
  [[nodiscard]] LoadRange range_of(const BuildTarget& target, double base, double end) const {
    const auto above = [&](double least_kg, double most_kg) {
      return LoadRange{.want_kg = target.kg - base,
                       .least_kg = std::max(least_kg - base, kLittle_kg * 10.0),
                       .most_kg = std::min(most_kg, end) - base};
    };
    for (const double most_kg : {target.best_most_kg, kHardlyAbove * target.best_most_kg}) {
      if (target.best_most_kg <= 0.0) break;
      const LoadRange best = above(target.best_least_kg, most_kg);
      if (cheapest(stock_, weights_, best)) return best;
    }
    return above(target.least_kg, target.most_kg);
  }

  /// Loads of one step of the build-up: above what lies there already, within the weights.
  [[nodiscard]] NestQuestion question_of(int stage, std::vector<double>& wanted) const {
    const double base = stage * built_.weights_kg;
    const bool last = stage == asked_.substitutions;
    NestQuestion question{.steps = {},
                          .limit = weights_,
                          .last_is_limit = !last,
                          .down_too = last && asked_.goes_down && asked_.decreasing_at_kg.empty()};
    const double end = last ? asked_.top.kg : base + built_.weights_kg;
    for (const BuildTarget& target : asked_.targets) {
      if (target.kg <= base + kLittle_kg || target.kg >= end - kLittle_kg) continue;
      question.steps.push_back(range_of(target, base, end));
      wanted.push_back(target.kg);
    }
    const BuildTarget& top = asked_.top;
    question.steps.push_back(
        last ? LoadRange{.want_kg = top.kg - base,
                         .least_kg = std::max(top.least_kg - base, 0.0),
                         .most_kg = top.most_kg - base}
             : LoadRange{.want_kg = built_.weights_kg, .most_kg = built_.weights_kg});
    return question;
  }

  bool climb(int stage) {
    std::vector<double> wanted;
    const NestQuestion question = question_of(stage, wanted);
    const Nest made = nest(stock_, question);
    if (made.sets.empty()) return false;
    const double base = stage * built_.weights_kg;
    if (stage > 0) add_swap(stage, base);
    for (std::size_t k = 0, next = 0; k < question.steps.size(); ++k) {
      if (next < made.steps.size() && made.steps[next] == static_cast<int>(k)) {
        add_up(made.sets[next++], stage, base, false);
      } else if (const auto other = exchanged(question.steps[k], made, next, base)) {
        add_up(*other, stage, base, true);
      } else {
        built_.missed_kg.push_back(wanted[k]);
      }
    }
    bound_ += stage_bound(made, stage);
    if (asked_.substitutions == 0) built_.weights_kg = kg_of(stock_, made.sets.back());
    return true;
  }

  /// Other pieces for a load between the one before and the next; empty: none make it.
  [[nodiscard]] std::optional<Pieces> exchanged(const LoadRange& range,
                                                const Nest& made,
                                                std::size_t next,
                                                double base) const {
    const double before = built_.steps.empty() ? 0.0 : built_.steps.back().load_kg - base;
    const double after = next < made.sets.size() ? kg_of(stock_, made.sets[next]) : range.most_kg;
    const LoadRange between{.want_kg = range.want_kg,
                            .least_kg = std::max(range.least_kg, before + 1.0),
                            .most_kg = std::min(range.most_kg, after - 1.0)};
    const auto choice = cheapest(stock_, limit_, between);
    if (!choice) return std::nullopt;
    return choice->pieces;
  }

  /// Other weights may do for a substitution: what holds then is the least mass of them.
  [[nodiscard]] double stage_bound(const Nest& made, int stage) const {
    if (asked_.substitutions == 0) return made.bound;
    const bool last = stage == asked_.substitutions;
    const double left_kg = asked_.top.least_kg - asked_.substitutions * greatest_kg(stock_, limit_);
    const double least_kg = last ? std::max(0.0, left_kg) : least_weights_kg_;
    const HandlingCost substitute = handling_cost(substitute_type().handling);
    double bound = static_cast<double>(made.sets.size()) * least_placement_minutes(stock_, limit_) +
                   2.0 * least_lift_minutes(stock_, limit_, least_kg);
    if (stage > 0) bound += substitute.placement + 2.0 * substitute.piece;
    return bound;
  }

  void add_swap(int stage, double base) {
    BuildStep step;
    step.pieces = none_;
    step.pieces.back() = stage;
    step.load_kg = base;
    step.swap = true;
    built_.steps.push_back(std::move(step));
  }

  void add_up(const Pieces& set, int stage, double base, bool exchange) {
    const double kg = kg_of(stock_, set);
    if (kg < kLittle_kg) return;
    BuildStep step;
    step.pieces = set;
    step.pieces.back() = stage;
    step.weights_kg = kg;
    step.load_kg = base + kg;
    step.exchange = exchange;
    built_.steps.push_back(std::move(step));
  }

  /// The way up from the top down. A load made twice, by weights and then by what took their place,
  /// is made once.
  [[nodiscard]] std::vector<BuildStep> below_top() const {
    std::vector<BuildStep> down;
    for (std::size_t i = built_.steps.size() - 1; i-- > 0;) {
      if (!built_.steps[i + 1].swap) down.push_back(built_.steps[i]);
    }
    return down;
  }

  /// Those of a falling row that are nearest to what is asked, each once.
  [[nodiscard]] std::vector<BuildStep> only_asked(const std::vector<BuildStep>& down) const {
    std::vector<bool> wanted(down.size(), false);
    for (const double kg : asked_.decreasing_at_kg) {
      std::size_t best = 0;
      for (std::size_t i = 1; i < down.size(); ++i) {
        if (std::abs(down[i].load_kg - kg) < std::abs(down[best].load_kg - kg)) best = i;
      }
      wanted[best] = true;
    }
    std::vector<BuildStep> kept;
    for (std::size_t i = 0; i < down.size(); ++i) {
      if (wanted[i]) kept.push_back(down[i]);
    }
    return kept;
  }

  void go_down() {
    tops_ = built_.steps.size();
    if (built_.steps.empty() || !asked_.goes_down) return;
    std::vector<BuildStep> down = below_top();
    if (!asked_.decreasing_at_kg.empty() && !down.empty()) {
      down = only_asked(down);
      bound_ += static_cast<double>(down.size()) * least_placement_minutes(stock_, limit_);
    } else if (asked_.substitutions > 0) {
      // Every load going down needs a placement of something at least.
      const double least = std::min(least_placement_minutes(stock_, limit_),
                                    handling_cost(substitute_type().handling).placement);
      bound_ += static_cast<double>(down.size()) * least;
    }
    for (BuildStep& step : down) {
      step.check = rules::Check::decreasing;
      step.swap = false;
      built_.steps.push_back(std::move(step));
    }
  }

  /// The step of the way up that is nearest to a load.
  [[nodiscard]] std::size_t nearest(double wanted) const {
    std::size_t best = 0;
    for (std::size_t i = 0; i < tops_; ++i) {
      const double off = std::abs(built_.steps[i].load_kg - wanted);
      if (off < std::abs(built_.steps[best].load_kg - wanted) - kLittle_kg) best = i;
    }
    return best;
  }

  void discriminate() {
    std::vector<std::size_t> at;
    bool on_empty = false;
    for (const double wanted : asked_.discrimination_at_kg) {
      const std::size_t best = nearest(wanted);
      const bool small = wanted <= 0.0 && built_.steps[best].load_kg > asked_.small_kg;
      on_empty = on_empty || small;
      if (!small) at.push_back(best);
    }
    std::sort(at.begin(), at.end());
    at.erase(std::unique(at.begin(), at.end()), at.end());
    for (std::size_t k = at.size(); k-- > 0;) insert_discrimination(at[k] + 1, built_.steps[at[k]]);
    if (!on_empty) return;
    BuildStep empty;
    empty.pieces = none_;
    insert_discrimination(0, std::move(empty));
  }

  void insert_discrimination(std::size_t before, BuildStep step) {
    step.check = rules::Check::discrimination;
    step.added_d = asked_.added_d;
    step.swap = false;
    built_.steps.insert(built_.steps.begin() + static_cast<std::ptrdiff_t>(before),
                        std::move(step));
  }

  void charge() {
    const Pieces* before = &none_;
    for (BuildStep& step : built_.steps) {
      const Change change = change_of(stock_, *before, step.pieces, false);
      step.minutes = change.minutes;
      step.kinds = change.kinds;
      built_.kinds |= change.kinds;
      before = &step.pieces;
    }
    if (built_.steps.empty()) return;
    built_.steps.front().from_empty = true;
    built_.steps.back().then_empty = true;
    built_.steps.back().minutes += lift_minutes(stock_, *before);
    for (const BuildStep& step : built_.steps) built_.minutes += step.minutes;
    built_.bound = std::min(bound_, built_.minutes);
    built_.possible = true;
  }

  const Stock& stock_;
  const Pieces& limit_;
  const BuildQuestion& asked_;
  Pieces none_;
  Pieces weights_;
  double least_weights_kg_ = 0.0;
  double bound_ = 0.0;
  std::size_t tops_ = 0;
  BuildUp built_;
};

}  // namespace

PieceType substitute_type() {
  PieceType type;
  type.handling = record::Handling::vehicle;
  type.known = false;
  return type;
}

BuildUp build_up(const Stock& stock, const Pieces& limit, const BuildQuestion& question) {
  return Builder(stock, limit, question).run();
}

}  // namespace weighwright::proof
