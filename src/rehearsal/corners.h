#pragma once
/// A simulated site whose deck weighs: shift readings and trims as on a real one, the truth hidden.
///
/// Forces   The deck is a Site of its own (other stiffness, stands, places than the deck file
/// says),
///          levelled; the contact problem is solved with dead and live load together, every stand
///          and bearing only pressing.
/// Signal   Cells of their own sensitivity and resistance through the whole circuit
///          (signal/circuit.h), trims as resistances in it; digital cells as a weighted sum. What
///          the estimation believes of trims (closed forms) is not used.
/// Display  The indicator was set to zero on the empty deck before the load came, within a quarter
///          of an interval (OIML R 76-1:2006, 4.5.2, accuracy of zero setting). A trim that is
///          turned while the load stands moves the part of the dead load too, as it does on site.

#include <Eigen/Core>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "chance/counter_random.h"
#include "deck/deck.h"
#include "record/measurement.h"
#include "rehearsal/site.h"
#include "signal/circuit.h"

namespace weighwright::rehearsal {

/// How far the truth lies from the deck file. One standard deviation each unless said.
struct CornerSpread {
  Spread deck = {.height_m =
                     0.2e-3};       // stiffness, places, masses; pads as a levelled deck has them
  double gain = 0.003;              // sensitivity of a cell, relative
  double resistance = 0.0005;       // of a cell, relative
  double span = 0.002;              // of the indicator's setting, relative
  double load_place_m = 0.03;       // where the load stands, along and across
  double repeatability_of_d = 0.3;  // of the reading before rounding, every time it is put down
  double zero_set_of_d = 0.25;      // half width within which zero was set (rectangular)
  double zero_drift_of_d = 0.02;    // between putting the load down and taking it off
  double trim_ohm = 20.0;           // from end to end, where the deck file does not say
  double least_turns = 15.0;        // from end to end, where the deck file does not say:
  double most_turns = 25.0;         //   one figure a site, rectangular
  double start_share = 0.0;         // all trims start up to here of their way (rectangular)
  double trim_spread = 0.03;        // of a trim's ohm a turn against the others, relative
  double turn_error = 0.02;         // of a turn made, turns
};

/// How the indication is looked at.
enum class Look {
  display,    // to d
  fine,       // the indicator shows tenths of d
  changeover  // small weights of d/10 until the display changes over, at zero and with the load
};

/// A trim as it is.
struct TrueTrim {
  std::string kind;  // signal | excitation | section | digital | none
  double ohm = 0.0;  // both leads of one cell together; of a section's one for both cells
  double range_ohm = 0.0;
  double ohm_per_turn = 0.0;  // clockwise positive, signed
  double factor = 1.0;        // digital
};

class Corners {
 public:
  /// @pre deck can stand (build_model without faults)
  /// @throws std::invalid_argument when it can not
  Corners(const deck::Deck& deck, const CornerSpread& spread, std::uint64_t seed);

  /// Sets the indicator to zero and puts a load down: near the place, not quite on it.
  /// @throws std::invalid_argument when the place is off the deck or the footprint unknown
  void put(const record::LoadPlace& place, double load_kg, const std::string& footprint = "");
  /// What a person reads with the load that stands there. Looking again shows the same.
  /// @pre a load stands on the deck
  [[nodiscard]] record::LoadReading look(Look look = Look::display) const;
  /// put and look.
  [[nodiscard]] record::LoadReading weigh(const record::LoadPlace& place,
                                          double load_kg,
                                          Look look = Look::display,
                                          const std::string& footprint = "");
  /// Turns made by hand (each with its own error; a trim at its end turns on without effect),
  /// resistances and factors set as they are told.
  /// @throws std::invalid_argument for a trim that the boxes do not have
  void set(const record::TrimSet& moves);

  // What only the referee may look at.
  /// What a stand's part of the load is multiplied by on its way to the display, now: kg/kg, N.
  [[nodiscard]] Eigen::VectorXd true_gains() const;
  /// Part of the load that every stand takes, exactly at the place, N.
  [[nodiscard]] Eigen::VectorXd true_share(const record::LoadPlace& place, double load_kg) const;
  /// Part of the load that now stands there, where it really stands, N.
  [[nodiscard]] const Eigen::VectorXd& standing_share() const { return standing_->share; }
  /// Before rounding, without noise, zero exact, the load exactly at the place.
  [[nodiscard]] double true_indication_kg(const record::LoadPlace& place, double load_kg) const;
  [[nodiscard]] const deck::Deck& true_deck() const { return site_.true_deck(); }
  /// Ohm of a stand's trim, both leads together. 0 where there is none.
  [[nodiscard]] double true_trim_ohm(units::StandIndex stand) const;
  [[nodiscard]] const Site& site() const { return site_; }
  /// Cells as they are, without trims.
  [[nodiscard]] const signal::Wiring& untrimmed() const { return wiring_; }
  [[nodiscard]] const std::vector<TrueTrim>& true_trims() const { return trims_; }
  /// What the indicator multiplies the ratio reading by.
  [[nodiscard]] double kg_per_V_per_V() const { return kg_per_V_per_V_; }
  struct Spot {
    double x_m = 0.0;
    double y_m = 0.0;
  };
  /// Where a named place is on the site (stands where they are, not where the drawing has them).
  [[nodiscard]] Spot spot_of(const record::LoadPlace& place) const;
  /// Whether a turn clockwise raises the reading.
  [[nodiscard]] bool clockwise_raises() const { return clockwise_raises_; }

 private:
  struct Standing {
    record::LoadPlace place;
    std::string footprint;
    double load_kg = 0.0;
    Eigen::VectorXd share;
    double zero_V_per_V = 0.0;  // reading that shows as zero_kg
    double zero_kg = 0.0;
    double noise_kg = 0.0;
    double drift_kg = 0.0;  // of zero, by the time the load is taken off
  };

  void wire_truth(const CornerSpread& spread);
  void set_trims(const CornerSpread& spread);
  void move(const record::TrimMove& move, TrueTrim& trim);
  [[nodiscard]] std::string kind_of(int stand) const;
  [[nodiscard]] Eigen::VectorXd share_at(Spot spot,
                                         double load_kg,
                                         const std::string& footprint) const;
  [[nodiscard]] double reading(const Eigen::VectorXd& force_N) const;
  [[nodiscard]] signal::Wiring trimmed() const;
  [[nodiscard]] Eigen::VectorXd weights_per_N() const;

  deck::Deck described_;
  CornerSpread spread_;
  Site site_;
  chance::CounterRandom truth_;  // what the site is
  chance::CounterRandom day_;    // what happens while it is weighed
  signal::Wiring wiring_;        // cells as they are, without trims
  bool digital_ = false;
  bool clockwise_raises_ = true;
  std::vector<TrueTrim> trims_;  // one a stand
  double kg_per_V_per_V_ = 0.0;
  std::optional<Standing> standing_;
};

}  // namespace weighwright::rehearsal
