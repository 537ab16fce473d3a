#pragma once
/// A practice site: a weighbridge that answers like a real one, with weather, time, a crew and
/// whatever is wrong with it. The truth is hidden from the tool.
///
/// Truth    The deck and its screws are a Site's, cells, trims and span those of Corners with the
///          same seed. What is wrong is added as physics: contacts that touch, sag or hang
///          (true_statics.h), friction at packed ends (a stick of finite stiffness, then Coulomb's
///          slip; its state is the history of what was done to the deck), cells and box as the
///          whole circuit with its leaks, opens and bad contacts (true_circuit.h). Nothing here
///          names a reading by the fault: readings follow.
/// Weather  Zero of a cell drifts with the steel's temperature within p_LC v_min per 5 degC
///          (OIML R 60-1:2021, 5.6.1; p_LC 0.7; v_min from the deck file, else E_max/10000): a
///          third of that is one standard deviation (hand estimate, no source). Span: 5e-6 per
///          degC, one standard deviation, well within table 4 of R 60 (hand estimate, no source).
///          Indicator: a tenth of the limit 1 e per 5 degC (OIML R 76-1:2006, 3.9.2.3; the tenth is
///          a hand estimate, no source).
/// Seeded   What a site answers depends on deck, spread, seed and what was done and asked before,
///          and on nothing else.

#include <Eigen/Core>
#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "chance/counter_random.h"
#include "deck/deck.h"
#include "record/measurement.h"
#include "rehearsal/corners.h"
#include "rehearsal/fault.h"
#include "rehearsal/true_circuit.h"
#include "rehearsal/true_statics.h"

namespace weighwright::rehearsal {

/// How far the truth lies from the deck file, and how the crew works.
struct PracticeSpread {
  CornerSpread corners = {.deck = {.zero = 0.01},  // stand tops 4 mm off, as on a new site
                          .start_share = 0.0};  // the crew put them to their least, as the habit is
  double zero_temperature = 1.0;  // times what the header says of cells and indicator; 0: none
  double span_temperature = 1.0;
  double left_height_m = 0.2e-3;  // what leave_right leaves of a stand's height error
  double meter = 0.0005;          // of resistances, relative standard deviation
  double miss = 0.03;             // chance that somebody who looks does not see what is there
};

struct Weather {
  double temp_degC = 20.0;  // of the air
  bool rain = false;
  bool sun = false;
};

class PracticeSite {
 public:
  /// @pre deck can stand (build_model without faults)
  /// @throws std::invalid_argument when it can not
  PracticeSite(const deck::Deck& deck, const PracticeSpread& spread, std::uint64_t seed);

  // What goes wrong.
  /// @pre check_fault(deck, fault) finds nothing
  /// @throws std::runtime_error when the deck could not stand with it; the site is unchanged
  /// @return the fault with its places and size filled in
  Fault strike(const Fault& fault);
  /// Mends what was struck with this code at these places (empty: wherever); trims that hid a bind
  /// go back to where they stood. False: there was none.
  bool mend(const std::string& code, const std::vector<std::string>& places = {});
  [[nodiscard]] std::vector<Fault> faults() const;

  // What is done.
  /// Empty, or why these turns and shims can't be made.
  [[nodiscard]] std::string refuses(const record::TurnSet& turns) const;
  /// Screws and shims, each with its own error. @throws std::invalid_argument when refused
  void turn(const record::TurnSet& turns);
  /// Empty, or why these trims can't be set.
  [[nodiscard]] std::string refuses(const record::TrimSet& trims) const;
  void set(const record::TrimSet& trims);
  /// The indicator's span: everything it shows is multiplied.
  void set_span(double factor) { kg_per_V_per_V_ *= factor; }
  /// Concrete into these modules of those that wait for it, and time until it is hard. The truth is
  /// that of the poured deck with the same seed; where stands are turned to, cells, trims and span
  /// stay. A mark of a module that does not wait for concrete says nothing.
  void pour(const std::vector<std::string>& marks);
  /// Grout under every plate: it lifts stands by up to 1.6 mm (4 % early expansion of 40 mm; from
  /// memory, unverified) and the screws are gone.
  void grout();
  [[nodiscard]] bool grouted() const { return grouted_; }
  /// The stands level, corners and span set, grouted, zero set: as a good technician leaves a deck.
  /// What is wrong with it stays wrong.
  void leave_right();
  /// The zero key.
  void press_zero();

  // Time and weather.
  void wait(double hours);
  void weather(const Weather& weather);
  [[nodiscard]] const Weather& weather() const { return weather_; }
  [[nodiscard]] double steel_degC() const { return steel_degC_; }
  [[nodiscard]] double hours() const { return hours_; }

  // What is measured. Each takes its time (minutes), and is noisy.
  /// Every cell: alone, its signal cores off the box (or, where the crew reads the box, not).
  /// Analog: mV. Digital: counts where the deck file has them, else kg.
  [[nodiscard]] record::ReadingSet read(bool with_no_load);
  /// The same with all cells connected, on an analog box: its mean at every terminal.
  [[nodiscard]] record::ReadingSet read_at_box(bool with_no_load);
  /// Feeler gauge at every stand and bearing that hangs.
  [[nodiscard]] record::GapSet gaps();
  [[nodiscard]] record::HeightSet survey();
  /// Each stand lifted or loaded in turn: which reading moved. A stand whose load moves no reading,
  /// or that nothing loads, is left out.
  [[nodiscard]] record::MapSet map();
  /// Empty, or why the load can't be put there.
  [[nodiscard]] std::string refuses_load(const record::LoadPlace& place, double load_kg) const;
  /// Set down gently and taken off again; going down: half as much more first.
  /// @throws std::invalid_argument when refused
  [[nodiscard]] record::LoadReading place(const record::LoadPlace& place,
                                          double load_kg,
                                          record::Going going = record::Going::unknown,
                                          Look look = Look::display);
  /// The load over every stand in turn.
  [[nodiscard]] record::ShiftSet corners(double load_kg,
                                         record::Going going = record::Going::unknown,
                                         Look look = Look::display);
  /// Up through the loads and down again at one place, without unloading between.
  [[nodiscard]] record::ShiftSet steps(const record::LoadPlace& place,
                                       const std::vector<double>& loads_kg,
                                       Look look = Look::display);
  /// Known loads as a whole (middle of the deck), for the span.
  [[nodiscard]] record::LoadSet loads(const std::vector<double>& loads_kg,
                                      Look look = Look::display);
  /// A loaded vehicle rolls on from end 1 (or 2), brakes and stands there: `test` says which way.
  [[nodiscard]] record::LoadReading drive_on(const record::LoadPlace& place,
                                             double load_kg,
                                             bool from_end_1,
                                             Look look = Look::display);
  /// The display of the empty deck.
  [[nodiscard]] record::ZeroReading zero(Look look = Look::display);
  /// A loaded vehicle passes, braking on the deck; then the zero.
  [[nodiscard]] record::ZeroReading pass(bool from_end_1,
                                         double load_kg,
                                         Look look = Look::display);
  /// The empty deck is pushed to and fro; then the zero.
  [[nodiscard]] record::ZeroReading rock(Look look = Look::display);
  /// Ohmmeter, insulation tester (50 V) and millivoltmeter at terminals and box.
  /// @pre not digital
  [[nodiscard]] record::ElectricSet meter(const std::vector<units::StandIndex>& terminals,
                                          bool box);
  /// Whether somebody who looks finds it. @param where as looks.h says
  [[nodiscard]] record::Look look(const std::string& code, const std::string& where);

  /// What instruments that are wired to the site show at this moment; no time goes by.
  struct Wired {
    record::ReadingUnit unit = record::ReadingUnit::mV;
    Eigen::VectorXd cells;       // by stand, in that unit, without noise and rounding
    Eigen::VectorXd cell_noise;  // standard deviation
    double cell_step = 0.0;      // what they are read to
    double indication_kg = 0.0;  // zero taken off, without noise and rounding
    double indication_noise_kg = 0.0;
    double indication_step_kg = 0.0;  // d
  };
  /// @param load_kg  0: nothing stands there
  [[nodiscard]] Wired wired(const record::LoadPlace& place, double load_kg) const;

  // What only the referee may look at.
  /// Force on every stand, nothing on the deck but what should not be there. N.
  [[nodiscard]] Eigen::VectorXd true_forces_N() const;
  /// With a load, friction as it is now.
  [[nodiscard]] Eigen::VectorXd true_forces_N(const record::LoadPlace& place, double load_kg) const;
  /// What a kilogram on a stand adds to the display now. kg/kg.
  [[nodiscard]] Eigen::VectorXd true_gains() const;
  /// Display without noise, rounding and zero; friction as it is now.
  [[nodiscard]] double true_indication_kg(const record::LoadPlace& place, double load_kg) const;
  [[nodiscard]] Standing true_standing() const;
  [[nodiscard]] Eigen::VectorXd true_heights_m() const { return tops_m(); }
  [[nodiscard]] const std::vector<TrueTrim>& true_trims() const { return trims_; }
  /// Friction at the end pairs, upward on the deck: end 1 left, right, end 2 left, right. N.
  [[nodiscard]] const std::array<double, 4>& true_friction_N() const { return friction_N_; }
  /// No-load output of the cell of every stand now, V/V.
  [[nodiscard]] Eigen::VectorXd true_zero_V_per_V() const;
  /// The same site with nothing wrong.
  [[nodiscard]] PracticeSite without_faults() const;
  [[nodiscard]] const deck::Deck& described() const { return described_; }
  [[nodiscard]] const Corners& truth() const { return corners_; }

 private:
  /// A fault with what was drawn for it.
  struct Struck {
    Fault fault;
    std::optional<Touch> touch;
    std::optional<WornBearing> worn;
    std::vector<double> draws;    // uniform, for signs and places
    std::vector<TrueTrim> trims;  // before an earlier technician trimmed it out
    double kg_per_V_per_V = 0.0;
    double since_h = 0.0;
  };

  // practice_faults.cpp
  void alter();
  void lay(Struck& struck);
  [[nodiscard]] Touch bind_at(units::StandIndex stand, double percent) const;
  [[nodiscard]] Eigen::VectorXd tops_m() const;
  [[nodiscard]] bool has(std::string_view code) const;
  [[nodiscard]] const Struck* find(std::string_view code) const;
  [[nodiscard]] bool at_place(std::string_view code, const std::string& place) const;
  void slip_ends();

  // practice_circuit.cpp
  [[nodiscard]] TrueCircuit circuit() const;
  [[nodiscard]] std::vector<int> cell_of_terminal() const;
  [[nodiscard]] TrueCell true_cell(int stand, int terminal) const;
  void add_faults(int stand, TrueCell& cell) const;
  [[nodiscard]] double wetness(const Struck& struck) const;
  [[nodiscard]] Eigen::VectorXd by_terminal(const Eigen::VectorXd& stand_N) const;
  [[nodiscard]] std::vector<double> slots_V_per_V(const Eigen::VectorXd& stand_N) const;
  [[nodiscard]] double raw_kg(const Eigen::VectorXd& stand_N) const;
  [[nodiscard]] double drift_kg() const;

  // practice_loads.cpp
  [[nodiscard]] Laden laden(const std::vector<statics::PointLoad>& live) const;
  [[nodiscard]] std::vector<statics::PointLoad> live(const record::LoadPlace& place,
                                                     double load_kg,
                                                     double off_x_m,
                                                     double off_y_m) const;
  Standing settle(const std::vector<statics::PointLoad>& live);
  [[nodiscard]] Standing still(const std::vector<statics::PointLoad>& live) const;
  [[nodiscard]] double friction_limit_N(int end) const;
  [[nodiscard]] double step_kg(Look look) const;
  double shown_zero_kg(double step_kg);
  double shown_load_kg(const std::vector<statics::PointLoad>& live, double step_kg, bool& small);
  void creep(const Eigen::VectorXd& stand_N, double hours);
  [[nodiscard]] record::ZeroReading zero_row(record::ZeroReading::After after, Look look);
  [[nodiscard]] std::optional<statics::PointLoad> crew() const;

  // practice_right.cpp
  void trim_true(double load_kg);
  [[nodiscard]] double usual_load_kg() const;

  [[nodiscard]] bool is_so(const std::string& code, const std::string& where) const;
  void elapse(double hours);
  [[nodiscard]] double noise_factor() const;
  [[nodiscard]] record::ReadingSet read_set(bool with_no_load, bool at_box);

  deck::Deck described_;
  PracticeSpread spread_;
  std::uint64_t seed_;
  Corners corners_;
  TrueStatics statics_;
  Eigen::VectorXd heights_m_;
  // By stand: what the weather does to its cell.
  Eigen::VectorXd zero_V_per_V_;
  Eigen::VectorXd zero_per_K_;  // V/V
  Eigen::VectorXd span_per_K_;  // relative
  Eigen::VectorXd insulation_ohm_;
  double indicator_kg_per_K_ = 0.0;
  std::vector<TrueTrim> trims_;  // by terminal
  double kg_per_V_per_V_ = 0.0;
  double zero_kg_ = 0.0;  // raw indication that is shown as nothing
  std::vector<Struck> struck_;
  Weather weather_;
  double steel_degC_ = 20.0;
  double hours_ = 0.0;
  double wet_ = 0.5;  // 0 dry, 1 soaked
  bool grouted_ = false;
  std::array<double, 4> friction_N_{};  // upward on the deck, two an end
  std::array<double, 4> rub_top_m_{};   // where the deck was then
  int way_ = 1;                         // last braking towards end 2: 1, towards end 1: -1
  Eigen::VectorXd creep_N_;             // by stand
  bool other_answers_ = false;          // which of two cells with one address is heard
  int looks_made_ = 0;
  chance::CounterRandom day_;
};

}  // namespace weighwright::rehearsal
