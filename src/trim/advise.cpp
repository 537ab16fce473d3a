#include "trim/advise.h"

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>

#include "chance/counter_random.h"
#include "statics/contact.h"
#include "trim/settings.h"

namespace weighwright::trim {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr double kSameLoad = 1e-3;     // relative
constexpr double kLeastMove = 0.05;    // of what is wanted: a smaller change is not worth a turn
constexpr double kTurnSize = 0.1;      // what a stated range over its turns may be off by
constexpr double kVisible_of_d = 3.0;  // a first turn should move the display by this
constexpr double kTurnPart = 0.2;  // of what is wanted: what an unsure turn may add to the spread
constexpr std::size_t kFinerMoves = 2;
constexpr double kTurnWell = 0.06;  // a turn known to this part of itself will do
constexpr double kSeveralTurns = 3.0;
constexpr double kLever = 0.9;       // of [trim] most: how far a trim is turned to learn
constexpr double kEnd = 1e-9;        // of an effect: rounding beyond an end
constexpr double kMostTurns = 20.0;  // to try, where the file does not say how many there are
constexpr double kUsualGain = 0.01;  // prior standard deviation of a gain
constexpr double kTold = 0.5e-2;     // half of it
constexpr int kDraws = 512;
constexpr double kUpper = 0.95;
constexpr int kMorePlacements = 4;
constexpr double kRoundingSlack = 1e-9;

std::size_t at(Index index) {
  return static_cast<std::size_t>(index);
}

/// A place with one load; the placements that read it.
struct Spot {
  std::size_t first = 0;         // placement that names it
  std::vector<std::size_t> now;  // placements of the present epoch
  double load_kg = 0.0;
  int group = 0;  // places with the same load
};

/// What the readings made so far say of the gains, for the choice of further ones.
DesignProblem problem_of(const TrimAdvice& advice, std::vector<Candidate> candidates, int stands) {
  DesignProblem problem;
  problem.candidates = std::move(candidates);
  problem.wanted = wanted_of(advice.elements, stands);
  problem.information = MatrixXd::Zero(stands, stands);
  problem.u_reading = 0.0;
  const std::size_t loads = advice.shifts.unknown.size();
  std::vector<VectorXd> with_load(loads, VectorXd::Zero(stands));
  std::vector<double> of_load(loads, 0.0);
  for (const Placed& placed : advice.shifts.placed) {
    const bool known = placed.unknown < 0;
    const auto j = static_cast<std::size_t>(std::max(placed.unknown, 0));
    const double load_kg = known ? *placed.load_kg : advice.fit.unknown_kg[j];
    const double u = placed.u_kg / load_kg * advice.fit.widened;
    problem.information += placed.share * placed.share.transpose() / (u * u);
    problem.u_reading = std::max(problem.u_reading, u);
    if (known) continue;
    with_load[j] += placed.share / (u * u);
    of_load[j] += 1.0 / (u * u);
  }
  // What the readings say of an unknown load they do not say of the gains (Schur complement).
  for (std::size_t j = 0; j < loads; ++j) {
    problem.information -= with_load[j] * with_load[j].transpose() / of_load[j];
  }
  return problem;
}

class Advisor {
 public:
  Advisor(const deck::Deck& deck, Shifts shifts) : deck_(deck) {
    advice_.shifts = std::move(shifts);
    advice_.elements = elements_of(deck);
    for (const Element& element : advice_.elements) {
      stated_.push_back(element.per_turn.has_value());
    }
  }

  TrimAdvice advise() {
    advice_.fit = fit_gains(advice_.shifts, advice_.elements);
    learn_turn();
    find_spots();
    advice_.wanted_kg =
        deck_.trimming.spread_kg.value_or(deck_.interval_at_kg(advice_.reference_kg));
    advice_.findings = judge(deck_, advice_.shifts, advice_.elements, advice_.fit);
    read_points();
    find_undetermined();
    decide();
    return std::move(advice_);
  }

 private:
  [[nodiscard]] const GainFit& fit() const { return advice_.fit; }
  [[nodiscard]] Index stands() const { return fit().log_gain.size(); }

  // --------------------------------------------------------------------- what a turn does

  /// What the readings taught of a turn goes to every trim of which the file did not say it.
  void learn_turn() {
    for (std::size_t k = 0; k < advice_.elements.size(); ++k) {
      Element& element = advice_.elements[k];
      if (element.per_turn || element.kind == TrimKind::digital) continue;
      const std::optional<TurnLearned>& turn = fit().turns[static_cast<std::size_t>(element.box)];
      if (!turn || !turn->sure) continue;
      element.per_turn = learned(*turn, element.size_per_turn);
      // A trim that was believed at its least attenuation and still rose does not only attenuate.
      const double now = fit().effects_now(static_cast<Index>(k));
      if (element.start_assumed && now > element.highest) open_upwards();
    }
  }

  static double learned(const TurnLearned& turn, const std::optional<double>& stated) {
    if (!stated) return turn.effect;
    const double size = std::copysign(*stated, turn.effect);
    const double u_stated = kTurnSize * std::abs(size);
    if (std::abs(size - turn.effect) > 3.0 * std::hypot(turn.u, u_stated)) return turn.effect;
    const double weight = turn.u * turn.u / (turn.u * turn.u + u_stated * u_stated);
    return turn.effect + weight * (size - turn.effect);
  }

  void open_upwards() {
    for (Element& element : advice_.elements) {
      element.highest =
          std::isfinite(element.lowest) ? -element.lowest : std::numeric_limits<double>::infinity();
    }
  }

  /// Set by its resistance alone: nobody said that it has turns.
  [[nodiscard]] bool by_ohm(const Element& element) const {
    return element.cell_ohm > 0.0 && deck_.trimming.range_ohm && !deck_.trimming.turns;
  }

  /// Whether a change of a trim can be told as something to set.
  [[nodiscard]] bool can_be_set(const Element& element) const {
    if (element.kind == TrimKind::digital || element.per_turn) return true;
    return by_ohm(element);
  }

  // ---------------------------------------------------------------------- places and loads

  [[nodiscard]] double load_of(const Placed& placed) const {
    return placed.unknown < 0 ? *placed.load_kg
                              : fit().unknown_kg[static_cast<std::size_t>(placed.unknown)];
  }

  void find_spots() {
    const std::vector<Placed>& placed = advice_.shifts.placed;
    const int now = advice_.shifts.epoch();
    for (std::size_t p = 0; p < placed.size(); ++p) {
      const double load_kg = load_of(placed[p]);
      auto spot = std::find_if(spots_.begin(), spots_.end(), [&](const Spot& known) {
        return placed[known.first].name == placed[p].name && same_load(known, placed[p], load_kg);
      });
      if (spot == spots_.end()) {
        spots_.push_back(
            {.first = p, .now = {}, .load_kg = load_kg, .group = group_of(p, load_kg)});
        spot = spots_.end() - 1;
      }
      if (placed[p].epoch == now) spot->now.push_back(p);
      advice_.reference_kg = std::max(advice_.reference_kg, load_kg);
    }
  }

  [[nodiscard]] bool same_load(const Spot& known, const Placed& placed, double load_kg) const {
    return advice_.shifts.placed[known.first].unknown == placed.unknown &&
           std::abs(known.load_kg - load_kg) <= kSameLoad * load_kg;
  }

  int group_of(std::size_t p, double load_kg) {
    for (const Spot& known : spots_) {
      if (same_load(known, advice_.shifts.placed[p], load_kg)) return known.group;
    }
    return groups_++;
  }

  [[nodiscard]] const VectorXd& share_of(const Spot& spot) const {
    return advice_.shifts.placed[spot.first].share;
  }

  /// Errors of all spots against the mean of their group, for one figure a spot.
  [[nodiscard]] VectorXd against_mean(VectorXd figures) const {
    for (int g = 0; g < groups_; ++g) {
      double sum = 0.0;
      int count = 0;
      for (std::size_t s = 0; s < spots_.size(); ++s) {
        if (spots_[s].group != g) continue;
        sum += figures(static_cast<Index>(s));
        ++count;
      }
      for (std::size_t s = 0; s < spots_.size(); ++s) {
        if (spots_[s].group == g) figures(static_cast<Index>(s)) -= sum / count;
      }
    }
    return figures;
  }

  /// Rows: what a log gain of every stand does to every spot's error, kg.
  [[nodiscard]] MatrixXd error_rows() const {
    MatrixXd rows(static_cast<Index>(spots_.size()), stands());
    for (std::size_t s = 0; s < spots_.size(); ++s) {
      rows.row(static_cast<Index>(s)) = spots_[s].load_kg * share_of(spots_[s]).transpose();
    }
    for (Index column = 0; column < rows.cols(); ++column) {
      rows.col(column) = against_mean(rows.col(column));
    }
    return rows;
  }

  [[nodiscard]] double spread_of(const VectorXd& errors) const {
    double widest = 0.0;
    for (int g = 0; g < groups_; ++g) {
      double low = std::numeric_limits<double>::infinity();
      double high = -low;
      for (std::size_t s = 0; s < spots_.size(); ++s) {
        if (spots_[s].group != g) continue;
        low = std::min(low, errors(static_cast<Index>(s)));
        high = std::max(high, errors(static_cast<Index>(s)));
      }
      widest = std::max(widest, high - low);
    }
    return widest;
  }

  /// The spread when the gains are known with this covariance only.
  [[nodiscard]] Spread spread(const VectorXd& errors, const MatrixXd& covariance) const {
    const Eigen::SelfAdjointEigenSolver<MatrixXd> eigen(covariance);
    const MatrixXd root =
        rows_ * eigen.eigenvectors() * eigen.eigenvalues().cwiseMax(0.0).cwiseSqrt().asDiagonal();
    chance::CounterRandom random(0x7472696dULL);
    std::vector<double> drawn;
    drawn.reserve(kDraws);
    VectorXd z(root.cols());
    for (int i = 0; i < kDraws; ++i) {
      for (double& one : z) one = random.normal();
      drawn.push_back(spread_of(errors + root * z));
    }
    std::sort(drawn.begin(), drawn.end());
    Spread spread;
    spread.kg = spread_of(errors);
    for (const double one : drawn) {
      spread.expected_kg += one / kDraws;
      if (one <= advice_.wanted_kg) spread.chance_within += 1.0 / kDraws;
    }
    spread.upper_kg = drawn[static_cast<std::size_t>(kUpper * kDraws)];
    return spread;
  }

  void read_points() {
    rows_ = error_rows();
    const auto count = static_cast<Index>(spots_.size());
    VectorXd figures(count);
    const VectorXd computed = rows_ * fit().log_gain;
    for (Index s = 0; s < count; ++s) {
      const Spot& spot = spots_[at(s)];
      double sum = 0.0;
      for (const std::size_t p : spot.now) sum += advice_.shifts.placed[p].indication_kg;
      figures(s) = spot.now.empty() ? fit().common * spot.load_kg + computed(s)
                                    : sum / static_cast<double>(spot.now.size());
    }
    const VectorXd errors = against_mean(figures);
    const VectorXd variance = (rows_ * fit().covariance * rows_.transpose()).diagonal();
    for (Index s = 0; s < count; ++s) {
      const Spot& spot = spots_[at(s)];
      const Placed& placed = advice_.shifts.placed[spot.first];
      PointThen point;
      point.name = placed.name;
      point.load_kg = spot.load_kg;
      point.load_known = placed.unknown < 0;
      point.read_now = !spot.now.empty();
      point.error_kg = errors(s);
      const double u_read = spot.now.empty() ? 0.0 : advice_.shifts.placed[spot.now.back()].u_kg;
      point.u_error_kg =
          point.read_now ? fit().widened * u_read / std::sqrt(static_cast<double>(spot.now.size()))
                         : std::sqrt(std::max(0.0, variance(s)));
      advice_.points.push_back(point);
    }
    advice_.before = spread(computed, fit().covariance);
    advice_.before.kg = spread_of(errors);
    if (!one_load_tells_all()) {
      // Places with different loads are compared through the gains that explain them.
      const double apart = fit().log_gain.maxCoeff() - fit().log_gain.minCoeff();
      advice_.before.kg = std::max(advice_.before.kg, apart * advice_.reference_kg);
    }
    then(VectorXd::Zero(static_cast<Index>(advice_.elements.size())));
  }

  /// Whether the places of one load alone determine every trim.
  [[nodiscard]] bool one_load_tells_all() const {
    const MatrixXd wanted = wanted_of(advice_.elements, static_cast<int>(stands()));
    const Index needed = wanted.fullPivLu().rank();
    for (int g = 0; g < groups_; ++g) {
      // Against their own mean: the level of all is the span's, not the trims'.
      MatrixXd errors = MatrixXd::Zero(rows_.rows(), stands());
      for (std::size_t s = 0; s < spots_.size(); ++s) {
        const auto row = static_cast<Index>(s);
        if (spots_[s].group == g) errors.row(row) = rows_.row(row) / spots_[s].load_kg;
      }
      if ((errors * wanted.transpose()).fullPivLu().rank() >= needed) return true;
    }
    return false;
  }

  // --------------------------------------------------------------------------- what is open

  /// Covariance of the gains where each is believed within 1 % beforehand (common practice).
  [[nodiscard]] MatrixXd with_usual_gains() const {
    MatrixXd information = problem_of(advice_, {}, static_cast<int>(stands())).information;
    information.diagonal().array() += 1.0 / (kUsualGain * kUsualGain);
    return information.llt().solve(MatrixXd::Identity(stands(), stands()));
  }

  void find_undetermined() {
    const MatrixXd wanted = wanted_of(advice_.elements, static_cast<int>(stands()));
    bool all = true;
    for (Index k = 0; k < wanted.rows(); ++k)
      all &= is_determined(fit(), wanted.row(k).transpose());
    if (all) return;
    // Trims whose difference is told belong together; those outside the largest such group are
    // open. A stand that nobody loaded leaves a trace in all others: half of what a cell may
    // usually differ by counts as told.
    const MatrixXd covariance = with_usual_gains();
    const auto told = [&](const VectorXd& apart) {
      return is_determined(fit(), apart) || apart.dot(covariance * apart) < kTold * kTold;
    };
    std::vector<int> group(static_cast<std::size_t>(wanted.rows()), -1);
    int groups = 0;
    for (Index k = 0; k < wanted.rows(); ++k) {
      for (Index j = 0; j < k && group[at(k)] < 0; ++j) {
        const VectorXd apart = (wanted.row(k) - wanted.row(j)).transpose();
        if (told(apart)) group[at(k)] = group[at(j)];
      }
      if (group[at(k)] < 0) group[at(k)] = groups++;
    }
    if (groups < 2) return;
    const auto size_of = [&](int one) { return std::count(group.begin(), group.end(), one); };
    int largest = 0;
    for (int one = 1; one < groups; ++one) {
      if (size_of(one) > size_of(largest)) largest = one;
    }
    const bool none = size_of(largest) < 2;
    Undetermined open;
    for (Index k = 0; k < wanted.rows(); ++k) {
      if (!none && group[at(k)] == largest) continue;
      open.trims.push_back(advice_.elements.empty()
                               ? units::print(units::StandIndex{static_cast<int>(k)})
                               : print(advice_.elements[at(k)].place));
    }
    if (open.trims.empty()) return;
    open.left_right_only = sections_determined();
    advice_.undetermined = std::move(open);
  }

  [[nodiscard]] bool sections_determined() const {
    const Index sections = stands() / 2;
    for (Index s = 0; s < sections; ++s) {
      VectorXd row = VectorXd::Constant(stands(), -1.0 / static_cast<double>(stands()));
      row(2 * s) += 0.5;
      row(2 * s + 1) += 0.5;
      if (!is_determined(fit(), row)) return false;
    }
    return true;
  }

  // ---------------------------------------------------------------------------- the settings

  void decide() {
    const bool blocked =
        std::any_of(advice_.findings.begin(), advice_.findings.end(), [](const Finding& finding) {
          return finding.blocks && finding.cause != Cause::too_coarse;
        });
    const bool coarse =
        std::any_of(advice_.findings.begin(), advice_.findings.end(),
                    [](const Finding& finding) { return finding.cause == Cause::too_coarse; });
    const bool within = advice_.before.kg <= advice_.wanted_kg + kRoundingSlack;
    if (blocked) {
      advice_.verdict = Verdict::cause_first;
    } else if (advice_.undetermined) {
      advice_.verdict = Verdict::more_places;
    } else if (coarse) {
      advice_.verdict = Verdict::too_coarse;
    } else if (within) {
      advice_.verdict = Verdict::within;
    } else if (advice_.elements.empty()) {
      advice_.verdict = Verdict::no_trims;
    } else {
      find_settings();
    }
  }

  void find_settings() {
    const double variance = fit().covariance.diagonal().mean();
    std::vector<bool> free(advice_.elements.size(), true);
    Settings best =
        best_settings(advice_.elements, fit().log_gain, variance, fit().effects_now, free);
    advice_.attainable_kg = spread_of(rows_ * best.log_gain);
    const double least = kLeastMove * advice_.wanted_kg / advice_.reference_kg;
    for (std::size_t k = 0; k < free.size(); ++k) {
      free[k] = std::abs(best.change(static_cast<Index>(k))) >= least;
    }
    best = best_settings(advice_.elements, fit().log_gain, variance, fit().effects_now, free);
    const bool settable =
        std::all_of(advice_.elements.begin(), advice_.elements.end(),
                    [this](const Element& element) { return can_be_set(element); });
    if (!settable) {
      choose_learning(best);
      return;
    }
    if (const std::optional<Learning> finer = learn_finer(best)) {
      advice_.learning = finer;
      advice_.verdict = Verdict::learn;
      return;
    }
    VectorXd change = VectorXd::Zero(best.change.size());
    for (Index k = 0; k < change.size(); ++k) {
      if (!free[at(k)]) continue;
      const TrimSetting setting = set(k, best);
      change(k) = setting.change;
      if (setting.change != 0.0) advice_.settings.push_back(setting);
    }
    then(change);
    advice_.verdict = advice_.then.kg > advice_.wanted_kg ? Verdict::at_limit : Verdict::adjust;
    advice_.order = guided_order(advice_.elements, change, least);
    advice_.costs = move_costs(static_cast<int>(stands()) / 2, places_of_full_reading());
  }

  /// Steps of a turn, one less where rounding would run against the trim's end.
  [[nodiscard]] double inside(const Element& element, double now, double steps) const {
    const double after = now + steps * deck_.trimming.step_turns * *element.per_turn;
    const bool beyond = after > std::max(now, element.highest) + kEnd ||
                        after < std::min(now, element.lowest) - kEnd;
    return beyond ? steps - std::copysign(1.0, steps) : steps;
  }

  [[nodiscard]] TrimSetting set(Index k, const Settings& best) const {
    const Element& element = advice_.elements[at(k)];
    TrimSetting setting;
    setting.element = static_cast<int>(k);
    setting.change = best.change(k);
    setting.at_end = best.at_end[at(k)];
    double variance = 0.0;
    for (const int stand : element.stands) variance += fit().covariance(stand, stand);
    setting.u_change = std::sqrt(variance / static_cast<double>(element.stands.size()));
    if (element.per_turn) {
      const double step = deck_.trimming.step_turns;
      const double steps = std::round(setting.change / *element.per_turn / step);
      setting.turns = inside(element, fit().effects_now(k), steps) * step;
      setting.change = *setting.turns * *element.per_turn;
    }
    setting.effect_after = fit().effects_now(k) + setting.change;
    const bool scale_known = !element.start_assumed && element.cell_ohm > 0.0;
    if ((scale_known && deck_.trimming.range_ohm) || by_ohm(element)) {
      setting.ohm = std::max(0.0, ohm_of_effect(element, setting.effect_after));
    }
    if (element.kind == TrimKind::digital) setting.factor = std::exp(setting.effect_after);
    return setting;
  }

  /// One trim is turned to see what a turn does: the one that has to move most.
  void choose_learning(const Settings& best) {
    Index most = -1;
    for (Index k = 0; k < best.change.size(); ++k) {
      if (can_be_set(advice_.elements[at(k)])) continue;
      if (most < 0 || std::abs(best.change(k)) > std::abs(best.change(most))) most = k;
    }
    Learning learning{.element = static_cast<int>(most), .turns = 1.0};
    const Element& element = advice_.elements[at(most)];
    if (element.size_per_turn) {
      const double visible = kVisible_of_d * deck_.display_kg() / advice_.reference_kg;
      learning.turns = std::clamp(std::ceil(visible / *element.size_per_turn), 1.0,
                                  std::max(1.0, std::floor(*deck_.trimming.turns / 2.0)));
    }
    const std::optional<TurnLearned>& turn = fit().turns[static_cast<std::size_t>(element.box)];
    if (turn) learn_on(learning, *turn);
    learning.turns = first_way(element, learning.turns);
    if (std::abs(learning.turns) > deck_.trimming.turns.value_or(kMostTurns)) {
      say_idle(learning);
      return;
    }
    advice_.learning = learning;
    advice_.verdict = Verdict::learn;
  }

  /// Turned from end to end and nothing moved: that is no question of how far.
  void say_idle(const Learning& learning) {
    Finding finding;
    finding.cause = Cause::trim_idle;
    const Element& element = advice_.elements[static_cast<std::size_t>(learning.element)];
    finding.place = print(element.place);
    finding.stand = element.stands.front();
    finding.blocks = true;
    advice_.findings.push_back(finding);
    advice_.verdict = Verdict::cause_first;
  }

  [[nodiscard]] bool same_box(const record::TrimMove& move, int element) const {
    const int box = advice_.elements[static_cast<std::size_t>(element)].box;
    return std::any_of(advice_.elements.begin(), advice_.elements.end(), [&](const Element& known) {
      return known.box == box && print(known.place) == print(move.place);
    });
  }

  /// Where the file says which way raises, never against the end that the trim stands at, and never
  /// the other way round again.
  [[nodiscard]] double first_way(const Element& element, double turns) const {
    if (!deck_.trimming.clockwise_raises) return turns;
    const bool at_least = element.start >= element.highest - kEnd;
    if (!at_least) return turns;
    return *deck_.trimming.clockwise_raises ? -std::abs(turns) : std::abs(turns);
  }

  /// The first try told too little. Where it moved something, further the same way at the same
  /// trim, for the load still stands there; where it moved nothing it was against its end, or far
  /// too small: the other way, and further.
  void learn_on(Learning& learning, const TurnLearned& turn) const {
    // Where the file states how much a turn does, half of that tells a move from an end.
    const std::optional<double>& stated =
        advice_.elements[at(static_cast<Index>(learning.element))].size_per_turn;
    // After several turns one way noise alone is no longer taken for an answer.
    const double turned = std::abs(fit().turned_now(static_cast<Index>(learning.element)));
    const double noise = turned < kSeveralTurns ? turn.u : 2.0 * turn.u;
    const bool moved = std::abs(turn.effect) > (stated ? *stated / 2.0 : noise);
    for (auto set = advice_.shifts.moves.rbegin(); set != advice_.shifts.moves.rend(); ++set) {
      for (const record::TrimMove& move : set->moves) {
        if (!move.turns || *move.turns == 0.0 || !same_box(move, learning.element)) continue;
        learning.turns = (moved ? 2.0 : -2.0) * *move.turns;
        for (std::size_t k = 0; moved && k < advice_.elements.size(); ++k) {
          if (print(advice_.elements[k].place) == print(move.place)) {
            learning.element = static_cast<int>(k);
          }
        }
        return;
      }
    }
  }

  /// While the load still stands where a trim was tried, turning that trim further costs one weight
  /// move, and all trims are set better for it: empty where what is unsure of a turn hardly shows,
  /// or the trim has been turned far enough.
  [[nodiscard]] std::optional<Learning> learn_finer(const Settings& best) const {
    const std::optional<TurnLearned>& turn = fit().turn;
    if (!turn || advice_.shifts.moves.empty()) return std::nullopt;
    const std::vector<record::TrimMove>& last = advice_.shifts.moves.back().moves;
    if (last.size() != 1 || !last.front().turns) return std::nullopt;
    // Twice more pays; more often a round of settings with what is known teaches as much.
    if (advice_.shifts.moves.size() > kFinerMoves || turn->u < kTurnWell * std::abs(turn->effect)) {
      return std::nullopt;
    }
    const double unsure_kg =
        best.change.cwiseAbs().maxCoeff() * advice_.reference_kg * turn->u / std::abs(turn->effect);
    if (unsure_kg <= kTurnPart * advice_.wanted_kg) return std::nullopt;
    for (std::size_t k = 0; k < advice_.elements.size(); ++k) {
      const Element& element = advice_.elements[k];
      if (element.size_per_turn || print(element.place) != print(last.front().place)) continue;
      const double lever = fit().effects_now(static_cast<Index>(k)) - element.start;
      const double room = kLever * deck_.trimming.most - std::abs(lever);
      const double turns = std::floor(room / std::abs(turn->effect));
      if (turns < 1.0) return std::nullopt;
      const double away = (lever < 0.0) == (turn->effect < 0.0) ? 1.0 : -1.0;
      return Learning{.element = static_cast<int>(k), .turns = away * turns};
    }
    return std::nullopt;
  }

  /// Of the log gains after a change: doubt about a turn acts on all turns, made and to be made.
  [[nodiscard]] MatrixXd covariance_after(const VectorXd& change) const {
    if (fit().turn_root.isZero(0.0)) return fit().covariance;
    VectorXd turned = fit().turned_now;
    for (std::size_t k = 0; k < advice_.elements.size(); ++k) {
      const Element& element = advice_.elements[k];
      if (!element.per_turn || stated_[k]) continue;
      turned(static_cast<Index>(k)) += change(static_cast<Index>(k)) / *element.per_turn;
    }
    MatrixXd root = fit().gain_root;
    for (Index box = 0; box < fit().turn_root.cols(); ++box) {
      root +=
          turn_slope(advice_.elements, turned, static_cast<int>(box), static_cast<int>(stands())) *
          fit().turn_root.col(box).transpose();
    }
    return root * root.transpose();
  }

  /// What every place will read after the change, and the spread.
  void then(const VectorXd& change) {
    const int count = static_cast<int>(stands());
    const VectorXd after = fit().effects_now + change;
    const VectorXd factor = log_factors(advice_.elements, after, count) -
                            log_factors(advice_.elements, fit().effects_now, count);
    const MatrixXd covariance = covariance_after(change);
    const VectorXd log_gain = fit().log_gain + factor;
    const VectorXd errors = rows_ * log_gain;
    const VectorXd variance = (rows_ * covariance * rows_.transpose()).diagonal();
    advice_.whole_deck = std::expm1(factor.mean());
    for (Index s = 0; s < errors.size(); ++s) {
      PointThen& point = advice_.points[at(s)];
      point.then_error_kg = errors(s);
      point.u_then_error_kg = std::sqrt(std::max(0.0, variance(s)));
      point.then_indication_kg =
          fit().common * point.load_kg * (1.0 + share_of(spots_[at(s)]).dot(log_gain));
    }
    advice_.then = spread(errors, covariance);
    if (change.isZero(0.0)) advice_.attainable_kg = advice_.then.kg;
  }

  [[nodiscard]] int places_of_full_reading() const {
    int most = 0;
    for (int g = 0; g < groups_; ++g) {
      most = std::max(
          most, static_cast<int>(std::count_if(spots_.begin(), spots_.end(),
                                               [&](const Spot& spot) { return spot.group == g; })));
    }
    return most;
  }

  const deck::Deck& deck_;
  TrimAdvice advice_;
  std::vector<bool> stated_;  // K: the file says what a turn does, direction and size
  std::vector<Spot> spots_;
  int groups_ = 0;
  MatrixXd rows_;
};

/// The footprint of the last reading: the next ones will be made with the same load.
std::string usual_footprint(const Shifts& shifts) {
  return shifts.placed.back().footprint;
}

void advise_placements(const deck::Deck& deck, const statics::Model& model, TrimAdvice& advice) {
  const VectorXd dead_N =
      statics::solve_contact(model, model.dead, VectorXd::Zero(deck.stand_count()),
                             statics::nominal(model))
          .stand_N;
  std::vector<Candidate> candidates =
      within_capacity(deck, candidates_of(deck, model, usual_footprint(advice.shifts)), dead_N,
                      advice.reference_kg);
  if (candidates.empty()) return;
  const DesignProblem problem = problem_of(advice, std::move(candidates), deck.stand_count());
  if (advice.undetermined) {
    advice.undetermined->settle_by =
        problem.candidates[static_cast<std::size_t>(next_placement(problem))].name;
  }
  for (int n = 1; n <= kMorePlacements; ++n) {
    const Design design = best_design(problem, n);
    MorePlacements more{
        .count = n, .u_trim_kg = design.u_worst * advice.reference_kg, .places = {}};
    for (const int c : design.chosen) {
      more.places.push_back(problem.candidates[static_cast<std::size_t>(c)].name);
    }
    advice.more.push_back(std::move(more));
  }
}

}  // namespace

TrimAdvice solve_trims(const deck::Deck& deck, Shifts shifts) {
  return Advisor(deck, std::move(shifts)).advise();
}

Advised advise(const deck::Deck& deck,
               const statics::Model& model,
               const std::vector<record::Measurement>& events) {
  PlacedShifts placed = place_loads(deck, model, events);
  if (!placed.shifts) return {.advice = {}, .faults = std::move(placed.faults)};
  TrimAdvice advice = solve_trims(deck, std::move(*placed.shifts));
  advise_placements(deck, model, advice);
  return {.advice = std::move(advice), .faults = {}};
}

}  // namespace weighwright::trim
