#include "field_trial/players.h"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <map>

#include "share/advise.h"
#include "share/belief.h"
#include "share/evidence.h"
#include "share/pairs.h"
#include "share/plan.h"
#include "share/reduced.h"

namespace weighwright::bench {
namespace {

constexpr int kMostHabitLowerings = 80;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

record::StandTurn turn_of(units::StandIndex stand, double turns) {
  record::StandTurn turn;
  turn.stand = stand;
  turn.turns = turns;
  return turn;
}

/// The pair that is furthest off, and whether all are within: what everybody sees on the meter.
struct Look {
  bool done = true;
  share::Pair worst;
};

Look look(const Game& game, const record::ReadingSet& reading) {
  const share::GatheredEvidence gathered = share::gather(*game.deck, *game.model, {reading});
  Look seen;
  double most = -1.0;
  for (const share::Pair& pair : share::judge_pairs(*game.deck, *gathered.evidence)) {
    seen.done &= pair.within;
    const double off = std::abs(pair.difference_V) / pair.tolerance_V + (pair.within ? 0.0 : 10.0);
    if (off <= most) continue;
    most = off;
    seen.worst = pair;
  }
  return seen;
}

units::StandIndex light_stand(const share::Pair& pair) {
  return units::StandIndex::of(pair.section,
                               pair.difference_V < 0.0 ? units::Side::left : units::Side::right);
}

/// A belief that is the truth: every sample is the site itself, only the turns to come are
/// uncertain.
share::Belief omniscient(const share::Reduced& reduced, const rehearsal::Site& site, int samples) {
  const std::vector<double> factor(reduced.parameters.size(), 1.0);
  const Eigen::MatrixXd c = share::flexibility(reduced, factor);
  const statics::ContactState& state = site.true_state();
  share::Sample truth;
  truth.factor = factor;
  truth.inverse = c.llt().solve(Eigen::MatrixXd::Identity(c.rows(), c.cols()));
  truth.dead_m = share::dead_mismatch(reduced, factor);
  truth.q_N = reduced.stand_rows.transpose() * state.stand_N;
  truth.offset_N = state.contact_N - reduced.contact_rows * truth.q_N;
  truth.bias_N = Eigen::VectorXd::Zero(c.rows());
  truth.mismatch_m = c * truth.q_N - truth.dead_m;
  for (const int contact : state.open) {
    truth.active.push_back(contact);
    truth.gap_m.push_back(state.gap_m(contact));
    truth.mismatch_m -= reduced.contact_rows.row(contact).transpose() * state.gap_m(contact);
  }
  share::Belief belief;
  belief.samples.assign(at(samples), truth);
  return belief;
}

}  // namespace

Score play_tool(const Game& game, Knowledge knowledge) {
  rehearsal::Site site(*game.deck, game.spread, game.seed);
  std::vector<record::Measurement> events;
  if (knowledge == Knowledge::survey) events.emplace_back(site.survey());
  Score score;
  while (true) {
    const record::ReadingSet reading = site.read(game.no_load);
    events.emplace_back(reading);
    const bool done = look(game, reading).done;
    if (!score.told.empty() && score.came.size() < score.told.size()) score.came.push_back(done);
    if (done || score.lowerings == game.most_lowerings) {
      score.done = done;
      return score;
    }
    if (knowledge == Knowledge::gaps) {
      const record::GapSet gaps = site.gaps();
      if (!gaps.gaps.empty()) events.emplace_back(gaps);
    }
    const share::Advised advised =
        share::advise(*game.deck, *game.model, events, {.map_proven = true});
    if (!advised.advice || advised.advice->moves.empty()) return score;
    record::TurnSet turns;
    for (const share::Move& move : advised.advice->moves) {
      turns.stands.push_back(turn_of(move.stand, move.turns));
      ++score.touched;
    }
    site.turn(turns.stands);
    events.emplace_back(turns);
    score.told.push_back(*advised.advice->probability_done);
    ++score.lowerings;
  }
}

Score play_perfect(const Game& game) {
  rehearsal::Site site(*game.deck, game.spread, game.seed);
  const share::Reduced reduced = share::reduce(site.true_deck(), site.true_model(), {});
  Score score;
  while (true) {
    const record::ReadingSet reading = site.read(true);
    if (look(game, reading).done || score.lowerings == game.most_lowerings) {
      score.done = look(game, reading).done;
      return score;
    }
    const share::GatheredEvidence gathered = share::gather(*game.deck, *game.model, {reading});
    const share::Belief belief = omniscient(reduced, site, 250);
    const std::vector<share::Pair> pairs = share::judge_pairs(*game.deck, *gathered.evidence);
    share::Planner planner(*game.deck, reduced, *gathered.evidence, belief,
                           share::goal_of(*game.deck, *gathered.evidence, pairs),
                           game.seed + static_cast<std::uint64_t>(score.lowerings));
    const share::Plan plan = planner.best();
    std::vector<record::StandTurn> turns;
    for (int i = 0; i < game.deck->stand_count(); ++i) {
      if (plan.raise_m(i) == 0.0) continue;
      turns.push_back(
          turn_of(units::StandIndex{i}, plan.raise_m(i) / game.deck->stands[at(i)].pitch_m));
      ++score.touched;
    }
    if (turns.empty()) return score;
    site.turn(turns);
    ++score.lowerings;
  }
}

Score play_habit(const Game& game) {
  rehearsal::Site site(*game.deck, game.spread, game.seed);
  Score score;
  while (true) {
    const Look seen = look(game, site.read(true));
    if (seen.done || score.lowerings == kMostHabitLowerings) {
      score.done = seen.done;
      return score;
    }
    site.turn({turn_of(light_stand(seen.worst), 0.5)});
    ++score.touched;
    ++score.lowerings;
  }
}

Score play_hand(const Game& game) {
  rehearsal::Site site(*game.deck, game.spread, game.seed);
  Score score;
  std::map<int, double> answer_V_per_turn;  // of a section's difference to its left stand
  int last_section = -1;
  double last_turn = 0.0;
  double last_difference = 0.0;
  while (true) {
    const record::ReadingSet reading = site.read(true);
    const Look seen = look(game, reading);
    if (seen.done || score.lowerings == kMostHabitLowerings) {
      score.done = seen.done;
      return score;
    }
    const share::GatheredEvidence gathered = share::gather(*game.deck, *game.model, {reading});
    if (last_section >= 0) {
      const Eigen::VectorXd& force = gathered.evidence->states.back().force_N;
      const double now = (force(2 * last_section) - force(2 * last_section + 1)) *
                         gathered.evidence->last[at(2 * last_section)].sensitivity_V_per_N;
      answer_V_per_turn[last_section] = (now - last_difference) / last_turn;
    }
    const int section = seen.worst.section.value;
    double size = 0.5;
    const auto known = answer_V_per_turn.find(section);
    if (known != answer_V_per_turn.end()) {
      const double full = std::abs(seen.worst.difference_V) / std::max(known->second, 1e-6);
      size = std::clamp(std::round(full * 8.0) / 8.0, 0.125, 2.0);
    }
    const units::StandIndex stand = light_stand(seen.worst);
    last_section = section;
    last_turn = stand.side() == units::Side::left ? size : -size;
    last_difference = seen.worst.difference_V;
    site.turn({turn_of(stand, size)});
    ++score.touched;
    ++score.lowerings;
  }
}

}  // namespace weighwright::bench
