#include "share/advise.h"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>

#include "chance/counter_random.h"
#include "share/belief.h"
#include "share/evidence.h"
#include "share/judge.h"
#include "share/pairs.h"
#include "share/plan.h"
#include "share/reduced.h"
#include "statics/surface.h"
#include "units/quantity.h"

namespace weighwright::share {
namespace {

using Eigen::VectorXd;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

constexpr double kWorthAsking = 0.3;  // chance that a place hangs from which its gap is asked for
constexpr double kWorthTelling = 0.05;

std::uint64_t seed_of(const deck::Deck& deck, const Evidence& evidence) {
  chance::SeedHash hash;
  hash.add(deck.name);
  for (const deck::Module& module : deck.modules) {
    hash.add(module.length_m);
    hash.add(module.mass_kg);
    hash.add(module.twisting_Nm2);
  }
  for (const deck::Section& section : deck.sections) hash.add(section.at_m);
  for (const State& state : evidence.states) {
    for (int i = 0; i < state.force_N.size(); ++i) {
      hash.add(state.raise_m(i));
      hash.add(state.force_N(i));
    }
    for (const GapSeen& gap : state.gaps) hash.add(gap.gap_m);
  }
  return hash.value();
}

void tell_now(const Evidence& evidence,
              const Judged& judged,
              const Planner& planner,
              const statics::Model& model,
              Advice& advice) {
  const State& state = evidence.states.back();
  const VectorXd open = planner.chance_open();
  for (int i = 0; i < static_cast<int>(evidence.last.size()); ++i) {
    const Display& display = evidence.last[at(i)];
    StandNow now;
    now.stand = units::StandIndex{i};
    now.signal_V = display.signal_V;
    if (evidence.no_load_known) now.net_V = state.force_N(i) * display.sensitivity_V_per_N;
    now.force_N = state.force_N(i);
    now.u_force_N = std::hypot(state.noise_N(i), evidence.zero_N(i));
    now.expected_N = judged.expected_N[at(i)];
    now.expected_V = now.expected_N * display.sensitivity_V_per_N;
    now.excitation_V = display.excitation_V;
    for (int c = 0; c < model.contact_count(); ++c) {
      const statics::Contact& contact = model.contacts[at(c)];
      if (!contact.is_bearing && contact.stand.value == i) {
        now.chance_free = std::max(now.chance_free, open(c));
      }
    }
    advice.now.push_back(now);
  }
}

void tell_sections(const Advice& told, std::vector<double>& sums, std::vector<double>& expected) {
  for (std::size_t i = 0; i + 1 < told.now.size(); i += 2) {
    sums.push_back(told.now[i].force_N + told.now[i + 1].force_N);
    expected.push_back(told.now[i].expected_N + told.now[i + 1].expected_N);
  }
}

/// Twist force of every body (force at one corner) per unit of q, b x r: what the sections before
/// the body carry beyond half of their torque, over the body's own section. Empty where screws
/// change more than one twist a body.
Eigen::MatrixXd twist_rows(const deck::Deck& deck,
                           const statics::Model& model,
                           const Reduced& reduced) {
  const int bodies = static_cast<int>(model.bodies.size());
  if (reduced.redundants != bodies) return {};
  Eigen::MatrixXd rows = Eigen::MatrixXd::Zero(bodies, reduced.redundants);
  for (int b = 0; b < bodies; ++b) {
    const double start = deck.start_m(units::ModuleIndex{model.bodies[at(b)].first_module});
    const double end = deck.start_m(units::ModuleIndex{model.bodies[at(b)].last_module + 1});
    double across = 0.0;
    for (Eigen::Index k = 0; 2 * k + 1 < reduced.stand_rows.rows(); ++k) {
      const deck::Section& section = deck.sections[static_cast<std::size_t>(k)];
      if (section.at_m > (start + end) / 2.0) continue;
      across = section.across_m;
      rows.row(b) +=
          across / 2.0 * (reduced.stand_rows.row(2 * k) - reduced.stand_rows.row(2 * k + 1));
    }
    if (across <= 0.0) return {};
    rows.row(b) /= across;
  }
  return rows;
}

/// Mean and standard deviation of how far a corner of every body is out of plane.
void tell_mismatch(const Eigen::MatrixXd& twist, const Belief& belief, Advice& advice) {
  const Eigen::FullPivLU<Eigen::MatrixXd> lu(twist.transpose());
  if (!lu.isInvertible() || belief.samples.empty()) return;
  VectorXd mean = VectorXd::Zero(twist.rows());
  VectorXd square = mean;
  for (const Sample& sample : belief.samples) {
    // q works on H as the twist forces on the twists: H = W' twist.
    const VectorXd out_m = lu.solve(sample.mismatch_m);
    mean += out_m;
    square += out_m.cwiseAbs2();
  }
  const auto count = static_cast<double>(belief.samples.size());
  for (int b = 0; b < twist.rows(); ++b) {
    const double m = mean(b) / count;
    advice.bodies[at(b)].twist_mismatch_m = m;
    advice.bodies[at(b)].u_twist_mismatch_m = std::sqrt(std::max(0.0, square(b) / count - m * m));
  }
}

/// Median and spread of what is believed of the stiffness and the mismatch of every body.
void tell_bodies(const deck::Deck& deck,
                 const statics::Model& model,
                 const Reduced& reduced,
                 const Belief& belief,
                 Advice& advice) {
  const Eigen::MatrixXd twist = twist_rows(deck, model, reduced);
  for (int b = 0; b < static_cast<int>(model.bodies.size()); ++b) {
    BodyBelief told;
    told.first_module = model.bodies[at(b)].first_module;
    told.last_module = model.bodies[at(b)].last_module;
    for (std::size_t k = 0; k < reduced.parameters.size(); ++k) {
      if (reduced.parameters[k].body != b || !reduced.parameters[k].is_twist) continue;
      double mean = 0.0;
      double square = 0.0;
      for (const Sample& sample : belief.samples) {
        const double log = std::log(sample.factor[k]);
        mean += log;
        square += log * log;
      }
      const auto count = static_cast<double>(belief.samples.size());
      mean /= count;
      told.twist_factor = std::exp(mean);
      told.twist_spread_before = std::exp(reduced.parameters[k].log_spread);
      told.twist_spread = std::exp(std::sqrt(std::max(0.0, square / count - mean * mean)));
      // A body that twists one way has the flexibility w w' / k_t, w its twist force per unit of q.
      const double trace = reduced.parameters[k].c.trace();
      if (twist.rows() > 0 && trace > 0.0) {
        told.twist_stiffness_N_per_m = twist.row(b).squaredNorm() * std::exp(mean) / trace;
      }
    }
    advice.bodies.push_back(told);
  }
  if (twist.rows() > 0) tell_mismatch(twist, belief, advice);
}

void tell_open(const Planner& planner,
               const statics::Model& model,
               const Belief& belief,
               const Evidence& evidence,
               Advice& advice) {
  const VectorXd open = planner.chance_open();
  for (int c = 0; c < model.contact_count(); ++c) {
    if (open(c) < kWorthTelling) continue;
    std::vector<double> gaps;
    for (const Sample& sample : belief.samples) {
      for (std::size_t k = 0; k < sample.active.size(); ++k) {
        if (sample.active[k] == c && sample.gap_m[k] > 1e-6) gaps.push_back(sample.gap_m[k]);
      }
    }
    std::sort(gaps.begin(), gaps.end());
    const statics::Contact& contact = model.contacts[at(c)];
    if (contact.is_bearing) {
      double mean = 0.0;
      for (const double gap : gaps) mean += gap / static_cast<double>(gaps.size());
      advice.open_bearings.push_back({contact.joint, contact.side, open(c), mean});
    }
    const std::vector<GapSeen>& seen = evidence.states.back().gaps;
    const bool measured =
        std::any_of(seen.begin(), seen.end(), [c](const GapSeen& gap) { return gap.contact == c; });
    if (open(c) < kWorthAsking || measured) continue;
    Ask ask;
    ask.place.is_bearing = contact.is_bearing;
    ask.place.stand = contact.stand;
    ask.place.joint = contact.joint;
    ask.place.side = contact.side;
    ask.what = Ask::What::gap;
    ask.chance = open(c);
    ask.gap_low_m = gaps[gaps.size() / 20];
    ask.gap_high_m = gaps[gaps.size() - 1 - gaps.size() / 20];
    advice.asks.push_back(ask);
  }
}

double screw_torque(const deck::Stand& stand, double load_N) {
  // Torque to turn a loaded screw, about 0.2 F d (common practice for plain threads, no source).
  return 0.2 * load_N / std::max(1, stand.screws) * stand.screw_diameter_m;
}

/// Fewest shims that make up a thickness, up to four; none where they can't.
void make_up(double thickness_m, const std::vector<double>& on_hand, std::vector<double>& stack) {
  constexpr double kSame_m = 1e-6;
  for (std::size_t most = 1; most <= 4; ++most) {
    const auto search = [&](const auto& self, double rest, std::size_t from) -> bool {
      if (std::abs(rest) < kSame_m) return true;
      if (stack.size() == most) return false;
      for (std::size_t k = from; k-- > 0;) {
        if (on_hand[k] > rest + kSame_m) continue;
        stack.push_back(on_hand[k]);
        if (self(self, rest - on_hand[k], k + 1)) return true;
        stack.pop_back();
      }
      return false;
    };
    if (search(search, thickness_m, on_hand.size())) return;
  }
}

/// The move of one stand with all that the hand needs to know.
Move make_move(const deck::Deck& deck, const Advice& advice, int i, double raise_m) {
  const deck::Stand& stand = deck.stands[at(i)];
  Move move;
  move.stand = units::StandIndex{i};
  move.raise_m = raise_m;
  move.shim = stand.adjust == deck::Adjust::shims;
  move.load_N = std::max(0.0, advice.now[at(i)].force_N);
  const int partner = i % 2 == 0 ? i + 1 : i - 1;
  move.section_N = move.load_N + std::max(0.0, advice.now[at(partner)].force_N);
  if (move.shim) {
    move.jack_first = true;
    make_up(std::abs(raise_m), stand.shims_m, move.shims_m);
  } else {
    move.turns = std::round(raise_m / stand.pitch_m * stand.division) / stand.division;
    move.torque_Nm = screw_torque(stand, move.load_N);
    move.jack_first = move.torque_Nm > deck.sharing.turn_torque_Nm;
  }
  const double partner_N = advice.now[at(partner)].force_N;
  if (advice.now[at(i)].chance_free > 0.5 && raise_m > 0.0) {
    move.why = Move::Why::land_hanging;
  } else if (raise_m > 0.0) {
    move.why = move.load_N <= partner_N ? Move::Why::raise_light : Move::Why::follow;
  } else {
    move.why = move.load_N >= partner_N ? Move::Why::lower_heavy : Move::Why::follow;
  }
  return move;
}

bool has_grout_window(const deck::Stand& stand) {
  return stand.adjust == deck::Adjust::screws && stand.grout_m &&
         (stand.grout_min_m || stand.grout_max_m);
}

std::vector<Move> make_moves(const deck::Deck& deck,
                             const Evidence& evidence,
                             const Advice& advice,
                             const Plan& plan) {
  std::vector<Move> moves;
  for (int i = 0; i < deck.stand_count(); ++i) {
    if (plan.raise_m(i) == 0.0) continue;
    moves.push_back(make_move(deck, advice, i, plan.raise_m(i)));
    const deck::Stand& stand = deck.stands[at(i)];
    if (has_grout_window(stand)) {
      moves.back().grout_m = *stand.grout_m + evidence.used_m(i) + plan.raise_m(i);
    }
  }
  return moves;
}

/// Turned beyond the window, or set down outside it.
void tell_grout(const deck::Deck& deck, const Evidence& evidence, Advice& advice) {
  constexpr double kSame_m = 1e-6;
  for (int i = 0; i < deck.stand_count(); ++i) {
    const deck::Stand& stand = deck.stands[at(i)];
    if (!has_grout_window(stand)) continue;
    const double gap_m = *stand.grout_m + evidence.used_m(i);
    const bool low = stand.grout_min_m && gap_m < *stand.grout_min_m - kSame_m;
    const bool high = stand.grout_max_m && gap_m > *stand.grout_max_m + kSame_m;
    if (low || high) advice.grout_out.push_back({.stand = units::StandIndex{i}, .gap_m = gap_m});
  }
}

/// Jack forces where a move needs one, at the middle of what is believed.
void add_jacks(const deck::Deck& deck,
               const statics::Model& model,
               const Reduced& reduced,
               const Belief& belief,
               Advice& advice) {
  const bool needed = std::any_of(advice.moves.begin(), advice.moves.end(),
                                  [](const Move& move) { return move.jack_first; });
  if (!needed || belief.samples.empty()) return;
  VectorXd mismatch = VectorXd::Zero(reduced.redundants);
  for (const Sample& sample : belief.samples) mismatch += sample.mismatch_m;
  mismatch /= static_cast<double>(belief.samples.size());
  const VectorXd heights = reduced.stand_rows * mismatch;
  for (Move& move : advice.moves) {
    if (!move.jack_first) continue;
    const statics::JackState state =
        statics::jack(model, model.dead, heights, statics::nominal(model), move.stand,
                      std::max(0.0, move.raise_m) + 1e-3);
    move.jack_N = state.force_N;
    move.lift_m = state.free_lift_m;
    move.most_lift_m = state.most_lift_m;
    move.lift_limited_by = state.limited_by;
  }
  static_cast<void>(deck);
}

bool any_pair_off(const Advice& advice) {
  return std::any_of(advice.pairs.begin(), advice.pairs.end(),
                     [](const Pair& pair) { return !pair.within; });
}

void tell_then(const Evidence& evidence, const Forecast& forecast, Advice& advice) {
  for (int i = 0; i < static_cast<int>(evidence.last.size()); ++i) {
    Then then;
    then.stand = units::StandIndex{i};
    then.signal_V = forecast.signal_V(i) + evidence.last[at(i)].no_load_V;
    then.u_signal_V = forecast.u_signal_V(i);
    then.force_N = forecast.force_N(i);
    advice.then.push_back(then);
  }
}

bool any_grout_window(const deck::Deck& deck) {
  return std::any_of(deck.stands.begin(), deck.stands.end(), has_grout_window);
}

deck::Deck without_grout(deck::Deck deck) {
  for (deck::Stand& stand : deck.stands) stand.grout_m.reset();
  return deck;
}

/// What stands against a plan that the screws alone would allow: the stand whose gap for grout it
/// leaves furthest. Empty: it leaves none.
std::optional<CannotFix> grout_against(const deck::Deck& deck,
                                       const Evidence& evidence,
                                       const Plan& plan) {
  std::optional<CannotFix> worst;
  double most_m = 0.0;
  for (int i = 0; i < deck.stand_count(); ++i) {
    const deck::Stand& stand = deck.stands[at(i)];
    const deck::ScrewWay way = deck::screw_way(stand);
    const double raise_m = plan.raise_m(i);
    const bool up = raise_m > 0.0;
    if (raise_m == 0.0 || !(up ? way.up_by_grout : way.down_by_grout)) continue;
    const double left_m = (up ? way.up_m : way.down_m) - evidence.used_m(i);
    const double beyond_m = up ? raise_m - left_m : left_m - raise_m;
    if (beyond_m <= most_m) continue;
    most_m = beyond_m;
    worst.emplace();
    worst->detail = CannotFix::Detail::grout;
    worst->stand = units::StandIndex{i};
    worst->section = worst->stand->section();
    worst->wanted_m = raise_m;
    worst->left_m = left_m;
  }
  return worst;
}

/// Not in tolerance and nothing to turn: say which limit stands in the way.
CannotFix why_no_plan(const deck::Deck& deck, const Evidence& evidence, const Advice& advice) {
  CannotFix reason;
  reason.detail = CannotFix::Detail::no_plan;
  const std::vector<StandOptions> options = stand_options(deck, evidence);
  const bool none = std::all_of(options.begin(), options.end(),
                                [](const StandOptions& o) { return o.raise_m.size() <= 1; });
  if (none) {
    const bool fixed =
        std::all_of(deck.stands.begin(), deck.stands.end(),
                    [](const deck::Stand& s) { return s.adjust == deck::Adjust::none; });
    reason.detail = fixed ? CannotFix::Detail::not_adjustable : CannotFix::Detail::travel_used;
  } else if (std::any_of(deck.stands.begin(), deck.stands.end(),
                         [](const deck::Stand& s) { return s.adjust == deck::Adjust::shims; })) {
    reason.detail = CannotFix::Detail::no_shim_fits;
  }
  double worst = 0.0;
  for (const Pair& pair : advice.pairs) {
    const double excess = std::abs(pair.difference_V) / std::max(pair.tolerance_V, 1e-9);
    if (pair.within || excess <= worst) continue;
    worst = excess;
    reason.section = pair.section;
    reason.amount_N = pair.difference_N;
  }
  for (const StandNow& now : advice.now) {
    if (now.chance_free > 0.5) {
      reason.code = Code::stand_free;
      reason.stand = now.stand;
    }
  }
  for (const OpenBelief& open : advice.open_bearings) {
    if (open.chance > 0.5) {
      reason.code = Code::bearing_open;
      reason.joint = open.joint;
      reason.side = open.side;
    }
  }
  return reason;
}

}  // namespace

Advised advise(const deck::Deck& deck,
               const statics::Model& model,
               const std::vector<record::Measurement>& events,
               const Effort& effort) {
  Advised advised;
  // What happened: readings in newton, turns in metres, state by state.
  GatheredEvidence gathered = gather(deck, model, events);
  advised.faults = gathered.faults;
  if (!gathered.evidence) return advised;
  const Evidence& evidence = *gathered.evidence;
  Advice advice;
  advice.map_proven = evidence.map_proven || effort.map_proven;
  advice.remapped = evidence.remapped;
  advice.no_load_known = evidence.no_load_known;
  advice.excitation_assumed = evidence.excitation_assumed;
  for (const State& state : evidence.states) advice.readings += state.readings;

  // Is it this deck that was read? Nothing below is worth anything before that.
  const Reduced reduced = reduce(deck, model, evidence.survey_m);
  const Judged judged = judge(deck, reduced, evidence);
  advice.parity = judged.parity;
  advice.roll = judged.roll;
  advice.cannot_fix = judged.faults;
  advice.pairs = judge_pairs(deck, evidence);

  // What is believed of the deck, from everything so far.
  const std::uint64_t seed = seed_of(deck, evidence);
  const bool usable = judged.faults.empty();
  const Belief belief = usable ? fit(reduced, evidence, effort.particles, seed) : Belief{};
  const Goal goal = goal_of(deck, evidence, advice.pairs);
  Planner planner(deck, reduced, evidence, belief, goal, seed + 1);
  tell_grout(deck, evidence, advice);
  tell_now(evidence, judged, planner, model, advice);
  tell_sections(advice, advice.section_N, advice.section_expected_N);
  if (!usable) {
    advice.outcome = Outcome::measure_first;
    advised.advice = advice;
    return advised;
  }
  tell_bodies(deck, model, reduced, belief, advice);
  tell_open(planner, model, belief, evidence, advice);
  const bool hangs = std::any_of(advice.open_bearings.begin(), advice.open_bearings.end(),
                                 [](const OpenBelief& open) { return open.chance > 0.5; });
  advice.in_tolerance = !any_pair_off(advice) && !hangs;
  if (advice.in_tolerance) {
    advice.outcome = Outcome::in_tolerance;
    advised.advice = advice;
    return advised;
  }

  // Which screws, how far, and what will then be read.
  Plan plan = planner.best();
  if (plan.touched == 0) {
    advice.outcome = Outcome::cannot_fix;
    std::optional<CannotFix> reason;
    if (any_grout_window(deck)) {
      const deck::Deck free = without_grout(deck);
      Planner freely(free, reduced, evidence, belief, goal, seed + 1);
      reason = grout_against(deck, evidence, freely.best());
    }
    advice.cannot_fix.push_back(reason ? *reason : why_no_plan(deck, evidence, advice));
    advised.advice = advice;
    return advised;
  }
  if (!advice.map_proven && plan.touched > 1) {
    // Two cells on each other's terminals would send both turns to the wrong stands.
    advice.one_at_a_time = true;
    advice.asks.push_back({.place = {}, .what = Ask::What::map});
    plan = planner.one_stand_of(plan);
    if (plan.touched == 0) {
      advice.outcome = Outcome::measure_first;
      advised.advice = advice;
      return advised;
    }
  }
  advice.outcome = Outcome::turn;
  advice.moves = make_moves(deck, evidence, advice, plan);
  advice.probability_done = plan.chance_done;
  add_jacks(deck, model, reduced, belief, advice);
  tell_then(evidence, planner.forecast(plan), advice);
  // A gentler plan moves more stands: not before the map is proven.
  if (advice.map_proven && plan.raise_m.cwiseAbs().maxCoeff() > deck.sharing.top_line_m + 1e-6) {
    const Plan gentle = planner.gentler(plan, deck.sharing.top_line_m);
    if (gentle.touched > plan.touched) {
      advice.gentler = make_moves(deck, evidence, advice, gentle);
      advice.probability_gentler = gentle.chance_done;
    }
  }
  advised.advice = advice;
  return advised;
}

}  // namespace weighwright::share
