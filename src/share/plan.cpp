#include "share/plan.h"

#include <Eigen/Cholesky>
#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <limits>
#include <numeric>
#include <set>

#include "chance/counter_random.h"
#include "share/fewest.h"

namespace weighwright::share {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

// What a second lowering costs, in stands touched: jacking, reading and an hour of the crew.
// Judgement; smaller values save a stand now and then and cost more third lowerings
// (bench/field_trial).
constexpr double kLowering = 10.0;
constexpr double kHanging = 6.0;
// What is left to do after this lowering: a pair that is still out will cost about one more stand;
// a place that still hangs hides how far it has to go.
constexpr double kPairOut = 1.0;
constexpr double kOpen = 2.0;
constexpr double kExcess = 0.3;
constexpr double kSteep = 1.0;
constexpr double kCounted_m = 1e-9;
constexpr std::size_t kQuick = 48;  // samples of a first look at a start plan
constexpr std::size_t kKeep = 5;    // start plans that are worked on
constexpr int kMostShims = 3;       // in one stack; common practice, no source

StandOptions screw_options(const deck::Stand& stand, double used_m) {
  const double step = stand.pitch_m / stand.division;
  const deck::ScrewWay way = deck::screw_way(stand);
  const int low = static_cast<int>(std::ceil((way.down_m - used_m) / step - 1e-9));
  const int high = static_cast<int>(std::floor((way.up_m - used_m) / step + 1e-9));
  StandOptions options;
  for (int k = std::min(low, 0); k <= std::max(high, 0); ++k) {
    if (k == 0) options.zero = static_cast<int>(options.raise_m.size());
    options.raise_m.push_back(k * step);
  }
  return options;
}

/// Sums of up to three shims of those on hand; shims placed earlier can be taken out again.
StandOptions shim_options(const deck::Stand& stand, double used_m) {
  std::set<long> sums_um{0};
  for (int n = 0; n < kMostShims; ++n) {
    std::set<long> more = sums_um;
    for (const long sum : sums_um) {
      for (const double shim : stand.shims_m) more.insert(sum + std::lround(shim * 1e6));
    }
    sums_um = more;
  }
  std::set<long> moves_um{0};
  const long used_um = std::lround(used_m * 1e6);
  for (const long sum : sums_um) {
    const double total_m = static_cast<double>(sum) * 1e-6;
    if (total_m > stand.travel_up_m + kCounted_m) continue;
    moves_um.insert(sum - std::max(0L, used_um));
  }
  StandOptions options;
  for (const long move : moves_um) {
    if (move == 0) options.zero = static_cast<int>(options.raise_m.size());
    options.raise_m.push_back(static_cast<double>(move) * 1e-6);
  }
  return options;
}

int nearest_option(const StandOptions& options, double raise_m) {
  const auto next = std::lower_bound(options.raise_m.begin(), options.raise_m.end(), raise_m);
  auto best = next == options.raise_m.end() ? std::prev(next) : next;
  if (best != options.raise_m.begin() &&
      std::abs(*std::prev(best) - raise_m) < std::abs(*best - raise_m)) {
    --best;
  }
  return static_cast<int>(best - options.raise_m.begin());
}

}  // namespace

std::vector<StandOptions> stand_options(const deck::Deck& deck, const Evidence& evidence) {
  std::vector<StandOptions> all;
  for (int i = 0; i < deck.stand_count(); ++i) {
    const deck::Stand& stand = deck.stands[at(i)];
    switch (stand.adjust) {
      case deck::Adjust::screws:
        all.push_back(screw_options(stand, evidence.used_m(i)));
        break;
      case deck::Adjust::shims:
        all.push_back(shim_options(stand, evidence.used_m(i)));
        break;
      case deck::Adjust::none:
        all.push_back({{0.0}, 0});
        break;
    }
  }
  return all;
}

Planner::Planner(const deck::Deck& deck,
                 const Reduced& reduced,
                 const Evidence& evidence,
                 const Belief& belief,
                 const Goal& goal,
                 std::uint64_t seed)
    : deck_(deck),
      reduced_(reduced),
      evidence_(evidence),
      belief_(belief),
      goal_(goal),
      sections_(static_cast<int>(deck.sections.size())),
      options_(stand_options(deck, evidence)),
      normals_(reduced.contact_rows),
      solver_(reduced.redundants, reduced.contacts),
      seed_(seed) {
  VectorXd sensitivity(reduced.stands);
  for (int i = 0; i < reduced.stands; ++i)
    sensitivity(i) = evidence.last[at(i)].sensitivity_V_per_N;
  columns_ = reduced.stand_rows.transpose();
  signal_rows_ = sensitivity.asDiagonal() * reduced.stand_rows;
  pair_rows_.resize(sections_, reduced.redundants);
  for (int k = 0; k < sections_; ++k) {
    pair_rows_.row(k) = signal_rows_.row(2 * k) - signal_rows_.row(2 * k + 1);
  }
  make_views();
}

void Planner::make_views() {
  chance::CounterRandom random(seed_);
  const VectorXd& read = evidence_.states.back().force_N;
  const VectorXd determinate =
      read - reduced_.stand_rows * (reduced_.stand_rows.transpose() * read);
  VectorXd sensitivity(reduced_.stands);
  for (int i = 0; i < reduced_.stands; ++i)
    sensitivity(i) = evidence_.last[at(i)].sensitivity_V_per_N;
  for (const Sample& sample : belief_.samples) {
    View view;
    view.q0_N = sample.inverse * (sample.mismatch_m + sample.dead_m);
    view.response = sample.inverse * columns_;
    view.base_V = sensitivity.cwiseProduct(determinate + reduced_.stand_rows * sample.bias_N);
    view.turn_z.resize(reduced_.stands);
    for (int i = 0; i < reduced_.stands; ++i) view.turn_z(i) = random.normal();
    view.active = sample.active;
    for (int i = 0; i < reduced_.redundants; ++i) {
      for (int j = 0; j < reduced_.redundants; ++j) view.inverse.push_back(sample.inverse(i, j));
    }
    views_.push_back(std::move(view));
  }
  search_ = std::max<std::size_t>(1, std::min<std::size_t>(160, views_.size() * 2 / 5));
}

bool Planner::solve_view(std::size_t index, const VectorXd& raise_m) {
  View& view = views_[index];
  free_ = view.q0_N;
  for (int i = 0; i < reduced_.stands; ++i) {
    if (raise_m(i) == 0.0) continue;
    const double error =
        deck_.stands[at(i)].adjust == deck::Adjust::shims ? kShimError : deck_.sharing.turn_error;
    free_ += view.response.col(i) * (raise_m(i) * (1.0 + error * view.turn_z(i)));
  }
  if (solver_.solve(view.inverse.data(), normals_.data(), belief_.samples[index].offset_N.data(),
                    free_.data(), view.active) != statics::DualStatus::solved) {
    return false;
  }
  signal_ = view.base_V;
  signal_.noalias() +=
      signal_rows_ * Eigen::Map<const VectorXd>(solver_.q().data(), reduced_.redundants);
  return true;
}

Planner::Outcome Planner::try_plan(const VectorXd& raise_m, std::size_t first, std::size_t last) {
  Outcome outcome;
  for (std::size_t index = first; index < last; ++index) {
    if (!solve_view(index, raise_m)) {
      outcome.excess += 5.0;
      continue;
    }
    double excess = 0.0;
    int out = 0;
    for (int k = 0; k < sections_; ++k) {
      const double left = signal_(2 * k);
      const double right = signal_(2 * k + 1);
      const double off = std::abs(left - right) / goal_.tolerance_V(k);
      const bool carries = std::min(left, right) >= kLeastShareOfPair * (left + right) &&
                           left >= goal_.least_V(2 * k) && right >= goal_.least_V(2 * k + 1);
      out += off <= 1.0 && carries ? 0 : 1;
      excess += std::min(5.0, std::max(0.0, off - 0.7));
    }
    int open = 0;
    for (const double gap : solver_.multipliers()) open += gap > 1e-6 ? 1 : 0;
    if (out == 0 && open == 0) outcome.within += 1.0;
    if (open > 0) outcome.hangs += 1.0;
    outcome.out += out;
    outcome.open += open;
    outcome.excess += excess;
  }
  const auto count = static_cast<double>(last - first);
  outcome.within /= count;
  outcome.hangs /= count;
  outcome.out /= count;
  outcome.open /= count;
  outcome.excess /= count;
  return outcome;
}

Planner::Amounts Planner::none() const {
  Amounts amounts;
  for (int k = 0; k < sections_; ++k) {
    amounts.left.push_back(options_[at(2 * k)].zero);
    amounts.right.push_back(options_[at(2 * k + 1)].zero);
  }
  return amounts;
}

VectorXd Planner::raises(const Amounts& amounts) const {
  VectorXd raise_m(reduced_.stands);
  for (int k = 0; k < sections_; ++k) {
    raise_m(2 * k) = options_[at(2 * k)].raise_m[at(amounts.left[at(k)])];
    raise_m(2 * k + 1) = options_[at(2 * k + 1)].raise_m[at(amounts.right[at(k)])];
  }
  return raise_m;
}

int Planner::touched(const Amounts& amounts) const {
  int count = 0;
  for (int k = 0; k < sections_; ++k) {
    count += amounts.left[at(k)] != options_[at(2 * k)].zero ? 1 : 0;
    count += amounts.right[at(k)] != options_[at(2 * k + 1)].zero ? 1 : 0;
  }
  return count;
}

/// Options exist and no section is rolled more than the deck file allows.
bool Planner::allowed(const Amounts& amounts) const {
  for (int k = 0; k < sections_; ++k) {
    const StandOptions& left = options_[at(2 * k)];
    const StandOptions& right = options_[at(2 * k + 1)];
    const int l = amounts.left[at(k)];
    const int r = amounts.right[at(k)];
    if (l < 0 || r < 0 || l >= static_cast<int>(left.raise_m.size()) ||
        r >= static_cast<int>(right.raise_m.size())) {
      return false;
    }
    if (l == left.zero && r == right.zero) continue;
    const double rolled = left.raise_m[at(l)] + evidence_.used_m(2 * k) - right.raise_m[at(r)] -
                          evidence_.used_m(2 * k + 1);
    if (std::abs(rolled) > deck_.sharing.roll * deck_.sections[at(k)].across_m) return false;
  }
  return true;
}

double Planner::worth(const Amounts& amounts, std::size_t samples) {
  const VectorXd raise_m = raises(amounts);
  const Outcome outcome = try_plan(raise_m, 0, samples);
  return touched(amounts) + kLowering * (1.0 - outcome.within) + kHanging * outcome.hangs +
         kPairOut * outcome.out + kOpen * outcome.open + kExcess * outcome.excess +
         5.0 * raise_m.cwiseAbs().sum() + steep(raise_m);
}

/// A change of cross level above half of what the deck file allows costs: the top shall stay in
/// line.
double Planner::steep(const VectorXd& raise_m) const {
  double cost = 0.0;
  for (int k = 0; k < sections_; ++k) {
    const double rolled =
        std::abs(raise_m(2 * k) - raise_m(2 * k + 1)) / deck_.sections[at(k)].across_m;
    cost += kSteep * std::max(0.0, rolled / deck_.sharing.roll - 0.5);
  }
  return cost;
}

/// Rolls a section by raising its left stand against the right one by `raise_left_m`: the side that
/// has to come up is raised; where its travel ends, the other side is lowered.
void Planner::realise(Amounts& amounts, int section, double raise_left_m) const {
  const bool left_up = raise_left_m >= 0.0;
  const StandOptions& up = options_[at(2 * section + (left_up ? 0 : 1))];
  const StandOptions& down = options_[at(2 * section + (left_up ? 1 : 0))];
  const int raised = nearest_option(up, std::abs(raise_left_m));
  const double rest = std::abs(raise_left_m) - up.raise_m[at(raised)];
  const double finest = up.raise_m.size() > 1 ? std::abs(up.raise_m[1] - up.raise_m[0]) : 0.0;
  const int lowered = rest > std::max(finest, 1e-6) ? nearest_option(down, -rest) : down.zero;
  (left_up ? amounts.left : amounts.right)[at(section)] = raised;
  (left_up ? amounts.right : amounts.left)[at(section)] = lowered;
}

/// Sections that are touched in each start plan. `wanted`: the rise of left against right that each
/// section wants (a common roll added is free).
std::vector<std::vector<int>> Planner::groups_to_touch(const VectorXd& wanted) const {
  std::vector<std::vector<int>> groups;
  if (sections_ <= 6) {
    const unsigned all = (1U << static_cast<unsigned>(sections_)) - 1U;
    for (unsigned mask = 1; mask < all; ++mask) {
      std::vector<int> group;
      for (int k = 0; k < sections_; ++k) {
        if ((mask >> static_cast<unsigned>(k) & 1U) != 0U) group.push_back(k);
      }
      groups.push_back(group);
    }
    return groups;
  }
  std::vector<int> order(at(sections_));
  std::iota(order.begin(), order.end(), 0);
  std::sort(order.begin(), order.end(), [&](int a, int b) { return wanted(a) < wanted(b); });
  for (int first = 0; first < sections_; ++first) {
    for (int last = first; last < sections_; ++last) {
      if (first == 0 && last == sections_ - 1) continue;
      std::vector<int> group;
      for (int i = 0; i < sections_; ++i) {
        if (i < first || i > last) group.push_back(order[at(i)]);
      }
      std::sort(group.begin(), group.end());
      groups.push_back(group);
    }
  }
  return groups;
}

std::vector<Planner::Amounts> Planner::start_plans() {
  const int r = reduced_.redundants;
  const MatrixXd to_even = pair_rows_.completeOrthogonalDecomposition().pseudoInverse();
  MatrixXd weight = MatrixXd::Zero(r, r);
  VectorXd pull = VectorXd::Zero(r);
  VectorXd base_difference(sections_);
  for (std::size_t index = 0; index < search_; ++index) {
    const Sample& sample = belief_.samples[index];
    for (int k = 0; k < sections_; ++k) {
      base_difference(k) = views_[index].base_V(2 * k) - views_[index].base_V(2 * k + 1);
    }
    const VectorXd difference = base_difference + pair_rows_ * sample.q_N;
    const VectorXd q_wanted = sample.q_N - to_even * difference;
    const MatrixXd c = sample.inverse.llt().solve(MatrixXd::Identity(r, r));
    const VectorXd change_m = c * q_wanted - sample.dead_m - sample.mismatch_m;
    const MatrixXd effect = pair_rows_ * sample.inverse;
    const MatrixXd w = effect.transpose() * effect;
    weight += w;
    pull += w * change_m;
  }
  MatrixXd roll(r, sections_);
  for (int k = 0; k < sections_; ++k) {
    roll.col(k) = 0.5 * (columns_.col(2 * k) - columns_.col(2 * k + 1));
  }
  const auto amounts_of = [&](const std::vector<int>& group) {
    MatrixXd b(r, static_cast<int>(group.size()));
    for (std::size_t i = 0; i < group.size(); ++i) b.col(static_cast<int>(i)) = roll.col(group[i]);
    const MatrixXd normal = b.transpose() * weight * b;
    return VectorXd(normal.completeOrthogonalDecomposition().solve(b.transpose() * pull));
  };
  std::vector<int> every(at(sections_));
  std::iota(every.begin(), every.end(), 0);
  const VectorXd wanted = amounts_of(every);
  std::vector<Amounts> plans;
  for (const std::vector<int>& group : groups_to_touch(wanted)) {
    const VectorXd rises = amounts_of(group);
    Amounts amounts = none();
    for (std::size_t i = 0; i < group.size(); ++i) {
      realise(amounts, group[i], rises(static_cast<int>(i)));
    }
    plans.push_back(amounts);
  }
  return plans;
}

/// The exact fewest-sections plan for the mean of what is believed, as if nothing could lift.
std::optional<Planner::Amounts> Planner::fewest_plan() {
  FewestProblem problem;
  problem.difference = VectorXd::Zero(sections_);
  problem.effect = MatrixXd::Zero(sections_, sections_);
  problem.tolerance = 0.6 * goal_.tolerance_V;
  VectorXd step_m(sections_);
  for (int k = 0; k < sections_; ++k) {
    const deck::Stand& stand = deck_.stands[at(2 * k)];
    if (stand.adjust != deck::Adjust::screws) return std::nullopt;
    step_m(k) = stand.pitch_m / stand.division;
    const StandOptions& left = options_[at(2 * k)];
    const StandOptions& right = options_[at(2 * k + 1)];
    problem.low.push_back(-(static_cast<int>(right.raise_m.size()) - 1 - right.zero));
    problem.high.push_back(static_cast<int>(left.raise_m.size()) - 1 - left.zero);
  }
  for (std::size_t index = 0; index < search_; ++index) {
    const View& view = views_[index];
    for (int k = 0; k < sections_; ++k) {
      problem.difference(k) += view.base_V(2 * k) - view.base_V(2 * k + 1);
    }
    problem.difference += pair_rows_ * view.q0_N;
    for (int k = 0; k < sections_; ++k) {
      problem.effect.col(k) +=
          0.5 * step_m(k) *
          (pair_rows_ * (view.response.col(2 * k) - view.response.col(2 * k + 1)));
    }
  }
  problem.difference /= static_cast<double>(search_);
  problem.effect /= static_cast<double>(search_);
  if (sections_ > 6) return std::nullopt;  // the subsets would take longer than all the rest
  const FewestPlan found = find_fewest(problem, sections_ - 1);
  if (!found.found || found.touched == 0) return std::nullopt;
  Amounts amounts = none();
  for (int k = 0; k < sections_; ++k) {
    if (found.steps[at(k)] != 0) realise(amounts, k, found.steps[at(k)] * step_m(k));
  }
  return amounts;
}

void Planner::try_step(Amounts& amounts, double& value, int section, int left, int right) {
  Amounts next = amounts;
  next.left[at(section)] += left;
  next.right[at(section)] += right;
  if (!allowed(next)) return;
  const double next_value = worth(next, search_);
  if (next_value < value) {
    amounts = next;
    value = next_value;
  }
}

/// Coordinate search on the sections that a plan touches, and dropping each of them.
void Planner::descend(Amounts& amounts, double& value) {
  for (int round = 0; round < 12; ++round) {
    const double before = value;
    for (int k = 0; k < sections_; ++k) {
      const int zero_left = options_[at(2 * k)].zero;
      const int zero_right = options_[at(2 * k + 1)].zero;
      const int l = amounts.left[at(k)] - zero_left;
      const int r = amounts.right[at(k)] - zero_right;
      if (l == 0 && r == 0) continue;
      for (const int step : {1, -1, 3, -3}) {
        if (l != 0) try_step(amounts, value, k, step, 0);
        if (r != 0) try_step(amounts, value, k, 0, step);
        if (l != 0 && r != 0) try_step(amounts, value, k, step, step);
      }
      try_step(amounts, value, k, zero_left - amounts.left[at(k)],
               zero_right - amounts.right[at(k)]);
    }
    if (value > before - 1e-3) break;
  }
}

Plan Planner::best() {
  std::vector<Amounts> plans = start_plans();
  if (const std::optional<Amounts> fewest = fewest_plan()) plans.push_back(*fewest);
  std::vector<std::pair<double, std::size_t>> order;
  const std::size_t quick = std::min(kQuick, search_);
  for (std::size_t i = 0; i < plans.size(); ++i) {
    if (touched(plans[i]) == 0 || !allowed(plans[i])) continue;
    order.emplace_back(worth(plans[i], quick), i);
  }
  std::sort(order.begin(), order.end());
  Plan best;
  best.raise_m = VectorXd::Zero(reduced_.stands);
  // Leaving it is no answer to a pair that is out: the best plan that does anything is told, with
  // its chance, as long as it leaves less to do than there is now.
  const Outcome now = try_plan(best.raise_m, 0, search_);
  best.worth = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < std::min(kKeep, order.size()); ++i) {
    Amounts amounts = plans[order[i].second];
    double value = worth(amounts, search_);
    descend(amounts, value);
    if (touched(amounts) == 0 || value >= best.worth) continue;
    const Outcome then = try_plan(raises(amounts), 0, search_);
    if (then.excess + then.open < 0.98 * (now.excess + now.open)) {
      best.worth = value;
      best.raise_m = raises(amounts);
      best.touched = touched(amounts);
    }
  }
  judge(best);
  return best;
}

Plan Planner::one_stand_of(const Plan& plan) {
  Plan best;
  best.raise_m = VectorXd::Zero(reduced_.stands);
  best.worth = std::numeric_limits<double>::infinity();
  const Outcome now = try_plan(best.raise_m, 0, search_);
  for (int i = 0; i < reduced_.stands; ++i) {
    if (plan.raise_m(i) == 0.0) continue;
    Amounts amounts = none();
    int& amount = (i % 2 == 0 ? amounts.left : amounts.right)[at(i / 2)];
    amount = nearest_option(options_[at(i)], plan.raise_m(i));
    if (!allowed(amounts)) continue;
    const Amounts start = amounts;
    double value = worth(amounts, search_);
    descend(amounts, value);
    if (touched(amounts) != 1) {  // the search would rather leave it: that is no answer here
      amounts = start;
      value = worth(amounts, search_);
    }
    if (value >= best.worth) continue;
    const Outcome then = try_plan(raises(amounts), 0, search_);
    if (then.excess + then.open >= now.excess + now.open) continue;
    best.worth = value;
    best.raise_m = raises(amounts);
    best.touched = 1;
  }
  judge(best);
  return best;
}

void Planner::judge(Plan& plan) {
  const std::size_t first = search_ < views_.size() ? search_ : 0;
  const Outcome outcome = try_plan(plan.raise_m, first, views_.size());
  plan.chance_done = outcome.within;
  plan.chance_hangs = outcome.hangs;
}

Plan Planner::gentler(const Plan& plan, double largest_m) {
  Plan gentle = plan;
  for (int k = 0; k < sections_; ++k) {
    const double left = plan.raise_m(2 * k);
    const double right = plan.raise_m(2 * k + 1);
    if (std::max(std::abs(left), std::abs(right)) <= largest_m + kCounted_m) continue;
    const double rise = left - right;
    const StandOptions& l = options_[at(2 * k)];
    const StandOptions& r = options_[at(2 * k + 1)];
    gentle.raise_m(2 * k) = l.raise_m[at(nearest_option(l, rise / 2.0))];
    const double rest = rise - gentle.raise_m(2 * k);
    gentle.raise_m(2 * k + 1) = r.raise_m[at(nearest_option(r, -rest))];
  }
  gentle.touched = static_cast<int>((gentle.raise_m.array() != 0.0).count());
  judge(gentle);
  return gentle;
}

Forecast Planner::forecast(const Plan& plan) {
  VectorXd sum = VectorXd::Zero(reduced_.stands);
  VectorXd squares = VectorXd::Zero(reduced_.stands);
  double count = 0.0;
  for (std::size_t index = 0; index < views_.size(); ++index) {
    if (!solve_view(index, plan.raise_m)) continue;
    sum += signal_;
    squares += signal_.cwiseProduct(signal_);
    count += 1.0;
  }
  Forecast forecast;
  count = std::max(count, 1.0);
  forecast.signal_V = sum / count;
  forecast.u_signal_V = (squares / count - forecast.signal_V.cwiseProduct(forecast.signal_V))
                            .cwiseMax(0.0)
                            .cwiseSqrt();
  forecast.force_N.resize(reduced_.stands);
  for (int i = 0; i < reduced_.stands; ++i) {
    const Display& display = evidence_.last[at(i)];
    // A meter and a deck as they were: the next reading is no surer than the last one was.
    const double last = evidence_.states.back().noise_N(i) * display.sensitivity_V_per_N;
    const double reading = std::max(
        last, std::sqrt(std::pow(display.step_V, 2) / 12.0 + std::pow(deck_.sharing.noise_V, 2)));
    forecast.u_signal_V(i) = std::hypot(forecast.u_signal_V(i), reading);
    forecast.force_N(i) = forecast.signal_V(i) / display.sensitivity_V_per_N;
  }
  return forecast;
}

VectorXd Planner::chance_open() const {
  VectorXd chance = VectorXd::Zero(reduced_.contacts);
  for (const Sample& sample : belief_.samples) {
    for (std::size_t k = 0; k < sample.active.size(); ++k) {
      if (sample.gap_m[k] > 1e-6) chance(sample.active[k]) += 1.0;
    }
  }
  return chance / static_cast<double>(belief_.samples.size());
}

}  // namespace weighwright::share
