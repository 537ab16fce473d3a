#pragma once
/// Which stands to move and how far: the plan that is worth most over all that is believed.
///
/// Worth   stands touched + 10 (1 - chance of being in tolerance) + 6 (chance that something still
///         hangs) is made least over the samples of the belief, turn error included; the chance
///         that is told comes from samples that the search never saw (choosing the best of many on
///         the same samples flatters itself).
/// Search  start plans: for every group of sections that stay (all groups up to six sections, else
///         windows of the roll that each section wants; a common roll moves no load), least-squares
///         amounts rounded to what can be set, and the exact fewest-sections plan for the mean
///         belief; then coordinate search. Not proven optimal over the samples; the deterministic
///         kernel is (share/fewest.h).

#include <Eigen/Core>
#include <cstdint>
#include <optional>
#include <vector>

#include "deck/deck.h"
#include "share/belief.h"
#include "share/evidence.h"
#include "share/reduced.h"

namespace weighwright::share {

/// No stand under a quarter of its pair (common practice, no source).
inline constexpr double kLeastShareOfPair = 0.25;

/// What a stand may be moved by, m, ascending, with 0 among it.
struct StandOptions {
  std::vector<double> raise_m;
  int zero = 0;  // position of 0
};

/// Options of every stand: divisions of a turn within what is left of its way (travel, and the gap
/// for grout: deck::screw_way), or sums of shims on hand.
[[nodiscard]] std::vector<StandOptions> stand_options(const deck::Deck& deck,
                                                      const Evidence& evidence);

/// What a plan is judged by.
struct Goal {
  Eigen::VectorXd tolerance_V;  // pairs; of the last reading's means (they do not change by turns
                                // on a hinged chain)
  Eigen::VectorXd least_V;      // s: signal below which a stand carries too little
};

struct Plan {
  Eigen::VectorXd raise_m;  // s
  int touched = 0;
  double chance_done = 0.0;  // on samples the search never saw
  double chance_hangs = 0.0;
  double worth = 0.0;  // the lower the better (search samples)
};

struct Forecast {
  Eigen::VectorXd signal_V;    // s: as it will be read, no-load taken off where known
  Eigen::VectorXd u_signal_V;  // s: standard deviation
  Eigen::VectorXd force_N;     // s
};

class Planner {
 public:
  Planner(const deck::Deck& deck,
          const Reduced& reduced,
          const Evidence& evidence,
          const Belief& belief,
          const Goal& goal,
          std::uint64_t seed);

  /// The best plan found; touched == 0 when nothing that can be set is worth doing.
  [[nodiscard]] Plan best();
  /// The one stand of a plan that is worth most by itself, its amount chosen anew; touched == 0:
  /// none of them leaves less to do than there is now.
  [[nodiscard]] Plan one_stand_of(const Plan& plan);
  /// Every move above `largest_m` shared between left (up) and right (down) of its section.
  [[nodiscard]] Plan gentler(const Plan& plan, double largest_m);
  /// Chances of a given plan on the held-out samples.
  void judge(Plan& plan);
  [[nodiscard]] Forecast forecast(const Plan& plan);
  /// Chance that each contact carries nothing as things are, m.
  [[nodiscard]] Eigen::VectorXd chance_open() const;

 private:
  struct Outcome {
    double within = 0.0;
    double hangs = 0.0;
    double out = 0.0;     // pairs out of tolerance
    double open = 0.0;    // places that hang
    double excess = 0.0;  // sum over pairs of what is beyond tolerance, in tolerances
  };
  struct View {                // one sample, ready for many what-ifs
    Eigen::VectorXd q0_N;      // r: inverse * (H + dead)
    Eigen::MatrixXd response;  // r x s: inverse * columns, N per m
    Eigen::VectorXd base_V;    // s: signal of the determinate part and the zeros
    Eigen::VectorXd turn_z;    // s: errors of the turns to come
    std::vector<int> active;
    std::vector<double> inverse;  // r x r, row after row
  };
  struct Amounts {  // per section: position among the options of left and right
    std::vector<int> left;
    std::vector<int> right;
  };

  void make_views();
  [[nodiscard]] bool solve_view(std::size_t view, const Eigen::VectorXd& raise_m);
  [[nodiscard]] Outcome try_plan(const Eigen::VectorXd& raise_m,
                                 std::size_t first,
                                 std::size_t last);
  [[nodiscard]] double worth(const Amounts& amounts, std::size_t samples);
  [[nodiscard]] double steep(const Eigen::VectorXd& raise_m) const;
  [[nodiscard]] Eigen::VectorXd raises(const Amounts& amounts) const;
  [[nodiscard]] int touched(const Amounts& amounts) const;
  [[nodiscard]] bool allowed(const Amounts& amounts) const;
  [[nodiscard]] Amounts none() const;
  void realise(Amounts& amounts, int section, double raise_left_m) const;
  [[nodiscard]] std::vector<Amounts> start_plans();
  [[nodiscard]] std::vector<std::vector<int>> groups_to_touch(const Eigen::VectorXd& wanted) const;
  [[nodiscard]] std::optional<Amounts> fewest_plan();
  void descend(Amounts& amounts, double& value);
  void try_step(Amounts& amounts, double& value, int section, int left, int right);

  const deck::Deck& deck_;
  const Reduced& reduced_;
  const Evidence& evidence_;
  const Belief& belief_;
  Goal goal_;
  int sections_;
  std::vector<StandOptions> options_;
  std::vector<View> views_;
  std::size_t search_ = 0;       // views_[0 .. search_) are searched on, the rest is held out
  Eigen::MatrixXd columns_;      // r x s: change of H per metre of a stand
  Eigen::MatrixXd signal_rows_;  // s x r: V per N of q
  Eigen::MatrixXd pair_rows_;    // sections x r: difference, V per N of q
  Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor> normals_;
  statics::DualActiveSet solver_;
  Eigen::VectorXd free_;
  Eigen::VectorXd signal_;
  std::uint64_t seed_;
};

}  // namespace weighwright::share
