#include "field_trial/corner_players.h"

#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "trim/advise.h"

namespace weighwright::bench {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;
using record::LoadPlace;
using rehearsal::Corners;
using rehearsal::Look;

constexpr double kHandStep_turns = 0.125;  // by which a hand turns while it watches the display
constexpr int kMostHandSteps = 400;
constexpr int kMostFactorTries = 4;
constexpr int kMostLearning = 6;
constexpr double kSlack = 1e-6;

std::size_t at(Index index) {
  return static_cast<std::size_t>(index);
}

/// What is read at a place, zero and small weights taken into account.
double figure(const deck::Deck& deck, const record::LoadReading& reading) {
  double kg = reading.indication_kg;
  if (reading.added_kg) kg += deck.display_kg() / 2.0 - *reading.added_kg;
  return kg - (reading.zero_before_kg.value_or(0.0) + reading.zero_after_kg.value_or(0.0)) / 2.0;
}

double finest(const CornerGame& game) {
  return game.look == Look::display ? game.deck->display_kg() : 0.1 * game.deck->display_kg();
}

/// Knows the truth: where the places' loads stand, what they weigh everywhere.
class Referee {
 public:
  Referee(const CornerGame& game, const Corners& site)
      : game_(game), site_(site), shares_(game.places.size(), game.deck->stand_count()) {
    for (std::size_t p = 0; p < game.places.size(); ++p) {
      shares_.row(static_cast<Index>(p)) =
          site.true_share(game.places[p], game.load_kg).transpose();
    }
  }

  /// @param factor  what every gain is multiplied by beside the trims
  [[nodiscard]] double spread_kg(const VectorXd& factor) const {
    const VectorXd shown = game_.load_kg * shares_ * site_.true_gains().cwiseProduct(factor);
    return shown.maxCoeff() - shown.minCoeff();
  }
  [[nodiscard]] double spread_kg() const { return spread_kg(VectorXd::Ones(shares_.cols())); }
  [[nodiscard]] bool within() const { return spread_kg() <= game_.deck->interval_kg; }

 private:
  const CornerGame& game_;
  const Corners& site_;
  MatrixXd shares_;
};

/// Keeps the score of a player: to be called after every setting of trims.
void end_round(CornerScore& score, const Referee& referee) {
  const bool within = referee.within();
  ++score.rounds;
  if (score.rounds == 1) score.after_one = within;
  if (within && !score.reached) score.rounds_reached = score.rounds;
  score.reached |= within;
}

void stop(CornerScore& score, const Referee& referee, bool content) {
  score.spread_kg = referee.spread_kg();
  if (score.rounds == 0) score.after_one = referee.within();
  score.content = content;
  score.content_true = content && referee.within();
  score.reached |= referee.within();
}

double spread_of(const std::vector<double>& figures) {
  const auto [low, high] = std::minmax_element(figures.begin(), figures.end());
  return *high - *low;
}

record::TrimSet one(int stand) {
  record::TrimMove move;
  move.place.stand = units::StandIndex{stand};
  return {.moves = {move}, .source = "trims"};
}

std::string name_of(trim::Cause cause) {
  switch (cause) {
    case trim::Cause::zero_return:
      return "zero return";
    case trim::Cause::up_down:
      return "up and down";
    case trim::Cause::repeats:
      return "repeats";
    case trim::Cause::less_when_heavy:
      return "less when heavy";
    case trim::Cause::more_when_heavy:
      return "more when heavy";
    case trim::Cause::mixed_units:
      return "mixed units";
    case trim::Cause::beyond_limit:
      return "beyond limit";
    case trim::Cause::trims_apart:
      return "trims apart";
    case trim::Cause::unexplained:
      return "unexplained";
    case trim::Cause::contact_opens:
      return "contact opens";
    default:
      return "another cause";
  }
}

// ------------------------------------------------------------------------------------ the tool

class ToolPlayer {
 public:
  explicit ToolPlayer(const CornerGame& game)
      : game_(game), site_(*game.deck, game.spread, game.seed), referee_(game, site_) {}

  ToolScore play() {
    while (true) {
      read_all();
      trim::TrimAdvice advice = advised();
      for (int i = 0; advice.verdict == trim::Verdict::learn && i < kMostLearning; ++i) {
        learn(advice);
        advice = advised();
      }
      const bool sets = !advice.settings.empty() && (advice.verdict == trim::Verdict::adjust ||
                                                     advice.verdict == trim::Verdict::at_limit);
      if (!sets || score_.rounds == game_.most_rounds) {
        note_causes(advice);
        score_.stopped_moves = moves_;
        stop(score_, referee_, advice.verdict == trim::Verdict::within);
        if (score_.rounds == 0) score_.moves = moves_;
        return score_;
      }
      set(advice);
    }
  }

 private:
  void read_all() {
    record::ShiftSet shift;
    shift.source = "shift";
    for (const LoadPlace& place : game_.places) {
      shift.readings.push_back(site_.weigh(place, game_.load_kg, game_.look));
      count_move();
    }
    events_.emplace_back(std::move(shift));
  }

  void count_move() {
    ++moves_;
    if (!score_.reached) score_.moves = moves_;
  }

  [[nodiscard]] trim::TrimAdvice advised() const {
    trim::PlacedShifts placed = trim::place_loads(*game_.deck, *game_.model, events_);
    if (!placed.shifts) throw std::runtime_error(placed.faults.front().what);
    // The whole advice also lists further placements; what it decides is this.
    return trim::solve_trims(*game_.deck, std::move(*placed.shifts));
  }

  void make(const record::TrimSet& moves) {
    site_.set(moves);
    events_.emplace_back(moves);
  }

  void learn(const trim::TrimAdvice& advice) {
    const trim::Element& element = advice.elements[at(advice.learning->element)];
    record::TrimSet set = one(element.stands.front());
    set.moves.front().turns = advice.learning->turns;
    make(set);
    record::ShiftSet shift;
    shift.source = "learning";
    shift.readings.push_back(
        site_.weigh(game_.places[at(element.stands.front())], game_.load_kg, game_.look));
    count_move();
    ++score_.learnt;
    events_.emplace_back(std::move(shift));
  }

  void set(const trim::TrimAdvice& advice) {
    record::TrimSet set{.moves = {}, .source = "trims"};
    for (const trim::TrimSetting& setting : advice.settings) {
      record::TrimMove move;
      move.place = advice.elements[at(setting.element)].place;
      if (setting.turns) {
        move.turns = setting.turns;
      } else if (setting.factor) {
        move.factor = setting.factor;
      } else {
        move.ohm = setting.ohm;
      }
      set.moves.push_back(move);
    }
    make(set);
    score_.adjusts = true;
    end_round(score_, referee_);
    score_.told.push_back(advice.then.chance_within);
    score_.came.push_back(referee_.within());
  }

  void note_causes(const trim::TrimAdvice& advice) {
    if (advice.verdict == trim::Verdict::within || score_.rounds == game_.most_rounds) return;
    if (advice.verdict == trim::Verdict::learn) score_.held_back.emplace_back("turn not learnt");
    if (advice.verdict == trim::Verdict::more_places) score_.held_back.emplace_back("more places");
    if (advice.verdict == trim::Verdict::at_limit) score_.held_back.emplace_back("at limit");
    if (advice.verdict == trim::Verdict::adjust) score_.held_back.emplace_back("nothing to move");
    for (const trim::Finding& finding : advice.findings) {
      if (finding.blocks) score_.held_back.push_back(name_of(finding.cause));
    }
  }

  const CornerGame& game_;
  Corners site_;
  Referee referee_;
  ToolScore score_;
  int moves_ = 0;
  std::vector<record::Measurement> events_;
};

// ---------------------------------------------------------------------------------- the habits

/// What both habits do with their hands.
class Hand {
 public:
  explicit Hand(const CornerGame& game)
      : game_(game), site_(*game.deck, game.spread, game.seed), referee_(game, site_) {
    for (const deck::Box& box : game.deck->boxes) digital_ |= box.trims == "digital";
    factor_.assign(game.places.size(), 1.0);
  }

 protected:
  double weigh(const LoadPlace& place) {
    ++moves_;
    if (!score_.reached) score_.moves = moves_;
    return figure(*game_.deck, site_.weigh(place, game_.load_kg, game_.look));
  }
  [[nodiscard]] double look() const { return figure(*game_.deck, site_.look(game_.look)); }

  /// The trims of these stands alike, until the load that stands there shows the target.
  void turn_until(const std::vector<int>& stands, double target_kg) {
    if (digital_) {
      for (int i = 0; i < kMostFactorTries && off(target_kg); ++i) {
        for (const int stand : stands) set_factor(stand, factor_[at(stand)] * target_kg / look());
      }
      return;
    }
    const double first = look() - target_kg;
    if (!off(target_kg)) return;
    const double step =
        (first > 0.0) == site_.clockwise_raises() ? -kHandStep_turns : kHandStep_turns;
    for (int i = 0; i < kMostHandSteps; ++i) {
      double moved = 0.0;
      for (const int stand : stands) moved += turn(stand, step);
      const double now = look() - target_kg;
      if (moved == 0.0 || (now > 0.0) != (first > 0.0) || !off(target_kg)) return;
    }
  }

  [[nodiscard]] bool off(double target_kg) const {
    return std::abs(look() - target_kg) > 0.5 * finest(game_);
  }

  /// One round over: true when all agree as read.
  [[nodiscard]] bool agree(const std::vector<double>& figures) const {
    return spread_of(figures) <= game_.deck->interval_kg + kSlack;
  }

  CornerScore finish(bool content) {
    score_.stopped_moves = moves_;
    stop(score_, referee_, content);
    if (score_.rounds == 0) score_.moves = moves_;
    return score_;
  }

  [[nodiscard]] int stands() const { return game_.deck->stand_count(); }

  const CornerGame& game_;
  Corners site_;
  Referee referee_;
  CornerScore score_;
  int moves_ = 0;
  bool digital_ = false;

 private:
  void set_factor(int stand, double factor) {
    factor_[at(stand)] = factor;
    record::TrimSet set = one(stand);
    set.moves.front().factor = factor;
    site_.set(set);
  }

  double turn(int stand, double turns) {
    const double before = site_.true_trim_ohm(units::StandIndex{stand});
    record::TrimSet set = one(stand);
    set.moves.front().turns = turns;
    site_.set(set);
    return std::abs(site_.true_trim_ohm(units::StandIndex{stand}) - before);
  }

  std::vector<double> factor_;
};

class OneCorner : public Hand {
 public:
  using Hand::Hand;

  CornerScore play() {
    std::size_t reference = 0;
    if (!digital_) {
      // A box that only attenuates: the lowest corner must be found first.
      std::vector<double> figures;
      for (const LoadPlace& place : game_.places) figures.push_back(weigh(place));
      if (agree(figures)) return finish(true);
      reference = static_cast<std::size_t>(std::min_element(figures.begin(), figures.end()) -
                                           figures.begin());
    }
    while (score_.rounds < game_.most_rounds) {
      const std::vector<double> arrived = round(reference);
      end_round(score_, referee_);
      if (agree(arrived)) return finish(true);
    }
    return finish(false);
  }

 private:
  /// Once round the deck; what every corner showed before it was turned.
  std::vector<double> round(std::size_t reference) {
    std::vector<double> arrived{weigh(game_.places[reference])};
    for (std::size_t i = 1; i < game_.places.size(); ++i) {
      const std::size_t corner = (reference + i) % game_.places.size();
      arrived.push_back(weigh(game_.places[corner]));
      turn_until({static_cast<int>(corner)}, arrived.front());
    }
    return arrived;
  }
};

class PairsThenSections : public Hand {
 public:
  using Hand::Hand;

  CornerScore play() {
    while (true) {
      pairs();
      sections();
      end_round(score_, referee_);
      std::vector<double> figures;
      for (const LoadPlace& place : game_.places) figures.push_back(weigh(place));
      if (agree(figures)) return finish(true);
      if (score_.rounds == game_.most_rounds) return finish(false);
    }
  }

 private:
  void pairs() {
    for (int left = 0; left < stands(); left += 2) {
      const double shown_left = weigh(game_.places[at(left)]);
      const double shown_right = weigh(game_.places[at(left + 1)]);
      if (digital_ || shown_right > shown_left) {
        turn_until({left + 1}, shown_left);  // it stands there
        continue;
      }
      weigh(game_.places[at(left)]);
      turn_until({left}, shown_right);
    }
  }

  void sections() {
    std::vector<double> figures;
    for (int s = 0; 2 * s < stands(); ++s) figures.push_back(weigh(middle(s)));
    const auto lowest = std::min_element(figures.begin(), figures.end()) - figures.begin();
    const Index reference = digital_ ? 0 : lowest;
    for (Index s = 0; s < static_cast<Index>(figures.size()); ++s) {
      if (s == reference) continue;
      weigh(middle(static_cast<int>(s)));
      turn_until({static_cast<int>(2 * s), static_cast<int>(2 * s + 1)}, figures[at(reference)]);
    }
  }

  [[nodiscard]] static LoadPlace middle(int section) {
    LoadPlace place;
    place.kind = LoadPlace::Kind::section;
    place.section = units::SectionIndex{section};
    place.typed = std::to_string(section + 1);
    return place;
  }
};

}  // namespace

ToolScore play_corner_tool(const CornerGame& game) {
  return ToolPlayer(game).play();
}

CornerScore play_one_corner_at_a_time(const CornerGame& game) {
  return OneCorner(game).play();
}

CornerScore play_pairs_then_sections(const CornerGame& game) {
  return PairsThenSections(game).play();
}

CornerScore play_corner_knowing(const CornerGame& game) {
  const Corners site(*game.deck, game.spread, game.seed);
  const Referee referee(game, site);
  const VectorXd gains = site.true_gains();
  CornerScore score;
  score.rounds = score.rounds_reached = 1;
  score.moves = score.stopped_moves = static_cast<int>(game.places.size());
  score.spread_kg = referee.spread_kg(gains.minCoeff() * gains.cwiseInverse());
  score.after_one = score.reached = score.content = score.content_true =
      score.spread_kg <= game.deck->interval_kg;
  return score;
}

bool ideal_least_squares_within(const CornerGame& game) {
  Corners site(*game.deck, game.spread, game.seed);
  const auto places = static_cast<Index>(game.places.size());
  MatrixXd shares(places, game.deck->stand_count());
  VectorXd shown(places);
  for (Index p = 0; p < places; ++p) {
    shown(p) = figure(*game.deck, site.weigh(game.places[at(p)], game.load_kg, game.look));
    shares.row(p) = site.true_share(game.places[at(p)], game.load_kg).transpose();
  }
  const VectorXd gains = (game.load_kg * shares).colPivHouseholderQr().solve(shown);
  const Referee referee(game, site);
  return referee.spread_kg(gains.cwiseInverse()) <= game.deck->interval_kg;
}

}  // namespace weighwright::bench
