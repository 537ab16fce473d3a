#pragma once
/// The deck as it really stands: what touches, sags, yields or hangs included.
///
/// Model   The deck of a Site (its own stiffness, places, masses), to which is added: things under
/// a
///         girder as further contacts (a gap, then a spring: a pair of stands of which the other
///         one lies so low that nothing ever reaches it), soft stands, softer twist, worn seats of
///         bearings (air that must close before the bearing carries). Everything presses only.
/// Limits  As statics/contact.h: small displacements, no friction (see friction.h).

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "deck/deck.h"
#include "rehearsal/site.h"
#include "statics/contact.h"
#include "statics/model.h"

namespace weighwright::rehearsal {

/// Something under a girder.
struct Touch {
  int module = 0;
  double x_m = 0.0;
  units::Side side = units::Side::left;
  double air_m = 0.0;    // under the girder at dead load, when this came there
  double level_m = 0.0;  // height of its top
  double stiffness_N_per_m = 0.0;
};

struct WornBearing {
  int joint = 0;
  units::Side side = units::Side::left;
  double worn_m = 0.0;
};

/// What differs from the deck that the Site holds.
struct Alterations {
  std::vector<Touch> touches;
  std::vector<WornBearing> worn;
  std::vector<double> stand_softer;   // factor of stiffness, per stand; empty: all 1
  std::vector<double> twist_factors;  // per module; empty: all 1
};

/// Vertical loads beside the deck's own weight.
struct Laden {
  std::vector<statics::PointLoad> points;
  std::vector<double> module_N;  // spread over the module, per module; empty: none
};

/// How the deck stands under a load.
struct Standing {
  Eigen::VectorXd stand_N;
  Eigen::VectorXd stand_gap_m;    // air over a stand that carries nothing
  Eigen::VectorXd top_m;          // height of the deck over every stand
  Eigen::VectorXd bearing_gap_m;  // left and right of every joint that has bearings; else 0
  std::vector<bool> bearing_open;
};

class TrueStatics {
 public:
  explicit TrueStatics(const Site& site);

  /// @throws std::runtime_error when the altered deck can not stand
  void alter(Alterations alterations);
  /// Free middle of a module, where nothing stands: where debris is laid.
  [[nodiscard]] double free_middle_m(int module) const;
  /// Moves a place off any stand.
  [[nodiscard]] double off_stands_m(double x_m) const;
  /// Height of the girder where something would lie under it.
  [[nodiscard]] double girder_m(const Touch& touch,
                                const Laden& laden,
                                const Eigen::VectorXd& heights_m) const;
  /// How far a seat must be worn for this much air under its bearing, at most `most_m`.
  [[nodiscard]] double worn_for_air(const WornBearing& bearing,
                                    double air_m,
                                    double most_m,
                                    const Eigen::VectorXd& heights_m) const;
  /// @throws std::invalid_argument when a load is off the deck, std::runtime_error when it tips
  [[nodiscard]] Standing stand(const Laden& laden, const Eigen::VectorXd& heights_m) const;
  /// Empty, or why the load can not be placed.
  [[nodiscard]] std::string refuses(const Laden& laden, const Eigen::VectorXd& heights_m) const;

  [[nodiscard]] const deck::Deck& deck() const { return deck_; }
  [[nodiscard]] const Eigen::VectorXd& stiffness_N_per_m() const { return stiffness_N_per_m_; }
  [[nodiscard]] const Alterations& alterations() const { return alterations_; }

 private:
  void build();
  [[nodiscard]] deck::Deck altered_deck();
  [[nodiscard]] statics::LoadCase load_of(const Laden& laden, std::string& what) const;
  [[nodiscard]] Eigen::VectorXd all_heights(const Eigen::VectorXd& heights_m) const;
  [[nodiscard]] Standing seen(const statics::ContactState& state,
                              const Eigen::VectorXd& heights_m) const;

  deck::Deck deck_;  // as built, without alterations
  std::vector<statics::PointLoad> couples_;
  Alterations alterations_;
  statics::Model model_;
  std::vector<int> place_of_stand_;  // in the altered deck, by stand
  std::vector<int> place_of_touch_;
  Eigen::VectorXd stiffness_N_per_m_;
};

}  // namespace weighwright::rehearsal
