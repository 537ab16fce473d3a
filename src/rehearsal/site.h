#pragma once
/// A simulated site that answers like a real one: the truth behind the readings, hidden from the
/// tool.
///
/// The truth is a deck of its own (other stiffness, masses, stands, crossbeams, positions than the
/// deck file says), solved with contact on every stand and bearing; nothing of the estimation is
/// used, so that a good result here is no echo of the model that made it.

#include <Eigen/Core>
#include <cstdint>
#include <vector>

#include "deck/deck.h"
#include "record/measurement.h"
#include "statics/contact.h"
#include "statics/model.h"

namespace weighwright::rehearsal {

/// How far the truth lies from the deck file. One standard deviation each; factors: times or
/// divided by.
struct Spread {
  double twist_factor = 1.6;
  double bend_factor = 1.2;
  double stand_factor = 1.3;  // stiffness of a stand
  double mass = 0.03;         // relative
  double side_m = 0.01;       // centre of gravity across
  double height_m = 4e-3;     // every stand top
  double place_m = 0.01;      // sections along
  double zero = 0.0;          // no-load signal, of rated output
  double noise_V = 0.01e-3;
  double resolution_V = 0.01e-3;  // of the meter
  double turn_error = 0.05;
  double gap_m = 0.1e-3;   // of a feeler gauge reading
  double survey_m = 1e-3;  // of a surveyed height
};

class Site {
 public:
  /// @pre deck can stand (build_model without faults)
  Site(const deck::Deck& deck, const Spread& spread, std::uint64_t seed);

  /// Every cell read once, no-load column included when `with_no_load`.
  [[nodiscard]] record::ReadingSet read(bool with_no_load);
  /// Turns made by hand: each with its own error.
  void turn(const std::vector<record::StandTurn>& turns);
  /// Feeler gauge at every place that hangs.
  [[nodiscard]] record::GapSet gaps();
  /// Stand tops surveyed.
  [[nodiscard]] record::HeightSet survey();

  // What only the referee may look at.
  [[nodiscard]] const deck::Deck& true_deck() const { return truth_; }
  [[nodiscard]] const statics::Model& true_model() const { return model_; }
  [[nodiscard]] const Eigen::VectorXd& true_heights_m() const { return heights_m_; }
  [[nodiscard]] const statics::LoadCase& true_load() const { return load_; }
  [[nodiscard]] const statics::ContactState& true_state() const { return state_; }
  [[nodiscard]] const Eigen::VectorXd& true_zero_V() const { return zero_V_; }
  /// Centres of gravity beside the middle, as couples of vertical loads.
  [[nodiscard]] const std::vector<statics::PointLoad>& couples() const { return couples_; }

 private:
  void settle();
  [[nodiscard]] double normal();
  [[nodiscard]] double factor(double spread);
  [[nodiscard]] double rounded_mV(double volts) const;

  deck::Deck described_;
  Spread spread_;
  std::uint64_t key_;
  std::uint64_t counter_ = 0;
  deck::Deck truth_;
  std::vector<statics::PointLoad> couples_;
  statics::Model model_;
  statics::LoadCase load_;
  Eigen::VectorXd heights_m_;
  Eigen::VectorXd zero_V_;
  statics::ContactState state_;
};

}  // namespace weighwright::rehearsal
