#include "rehearsal/corners.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "statics/contact.h"
#include "statics/model.h"

namespace weighwright::rehearsal {
namespace {

using Eigen::VectorXd;
using record::LoadPlace;
using record::LoadReading;

constexpr double kFine_of_d = 0.1;        // an indicator's extended display; step of small weights
constexpr double kUsualTemperature = 20;  // degC of copper, where the file has none
constexpr int kMostSmallWeights = 20;
constexpr std::uint64_t kTruthKey = 0xd1342543de82ef95ULL;
constexpr std::uint64_t kDayKey = 0x9e3779b97f4a7c15ULL;

std::size_t at(Eigen::Index i) {
  return static_cast<std::size_t>(i);
}

double rounded(double value, double step) {
  return std::round(value / step) * step;
}

/// What the display would show of `kg`, before rounding, found with small weights: the display's
/// figure, half an interval more, less what had to be added (OIML R 76-1:2006, A.4.4.3).
struct ChangedOver {
  double shown_kg = 0.0;
  double added_kg = 0.0;
};

ChangedOver change_over(double kg, double d_kg) {
  ChangedOver found{.shown_kg = rounded(kg, d_kg), .added_kg = 0.0};
  const double step = kFine_of_d * d_kg;
  for (int i = 1; i <= kMostSmallWeights; ++i) {
    found.added_kg = i * step;
    if (rounded(kg + found.added_kg, d_kg) > found.shown_kg + d_kg / 2.0) break;
  }
  return found;
}

}  // namespace

Corners::Corners(const deck::Deck& deck, const CornerSpread& spread, std::uint64_t seed)
    : described_(deck),
      spread_(spread),
      site_(deck, spread.deck, seed),
      truth_(seed ^ kTruthKey),
      day_(seed ^ kDayKey),
      trims_(deck.stands.size()) {
  wire_truth(spread);
  set_trims(spread);
}

void Corners::wire_truth(const CornerSpread& spread) {
  wiring_ =
      signal::wire(described_, described_.cable_temperature_degC.value_or(kUsualTemperature), {});
  digital_ = kind_of(0) == "digital";
  // The indicator is set as the cells' papers say, and not quite.
  const double nominal = weights_per_N().mean();
  kg_per_V_per_V_ =
      (1.0 + spread.span * truth_.normal()) / (nominal * described_.site.gravity_m_per_s2);
  for (signal::WiredCell& cell : wiring_.cells) {
    cell.signal_trim_ohm = cell.supply_trim_ohm = 0.0;
    cell.output_V_per_V *= 1.0 + spread.gain * truth_.normal();
    const double resistance = 1.0 + spread.resistance * truth_.normal();
    cell.input_ohm *= resistance;
    cell.output_ohm *= resistance;
  }
}

void Corners::set_trims(const CornerSpread& spread) {
  const deck::Trimming& trimming = described_.trimming;
  const double turns = trimming.turns.value_or(
      spread.least_turns + (spread.most_turns - spread.least_turns) * truth_.uniform());
  const double range_ohm = trimming.range_ohm.value_or(spread.trim_ohm);
  const bool raises = truth_.uniform() < 0.5;
  clockwise_raises_ = trimming.clockwise_raises.value_or(raises);
  const double start = spread.start_share * truth_.uniform();
  for (int i = 0; i < described_.stand_count(); ++i) {
    TrueTrim& trim = trims_[at(i)];
    const double own = 1.0 + spread.trim_spread * truth_.normal();
    const std::string kind = kind_of(i);
    trim.kind = kind;
    if (kind == "none" || kind == "digital") continue;
    trim.range_ohm = range_ohm * own;
    // More resistance attenuates.
    trim.ohm_per_turn = trim.range_ohm / turns * (clockwise_raises_ ? -1.0 : 1.0);
    trim.ohm = trimming.start_ohm.value_or(start * trim.range_ohm);
    if (!trimming.start_ohm && trimming.start == deck::Trimming::Start::middle) {
      trim.ohm = trim.range_ohm / 2.0;
    }
  }
}

/// As the boxes say; a deck that names no box has one with a trim in every signal lead, or factors
/// where the cells are digital.
std::string Corners::kind_of(int stand) const {
  for (const deck::Box& box : described_.boxes) {
    const bool has = std::find(box.stands.begin(), box.stands.end(), units::StandIndex{stand}) !=
                     box.stands.end();
    if (box.stands.empty() || has) return box.trims;
  }
  if (!described_.boxes.empty()) return "none";
  return described_.stands[at(stand)].cell.counts ? "digital" : "signal";
}

signal::Wiring Corners::trimmed() const {
  signal::Wiring wiring = wiring_;
  for (int i = 0; i < described_.stand_count(); ++i) {
    const std::string kind = kind_of(i);
    if (kind == "signal") wiring.cells[at(i)].signal_trim_ohm = trims_[at(i)].ohm;
    if (kind == "excitation") wiring.cells[at(i)].supply_trim_ohm = trims_[at(i)].ohm;
    // A section's pair behind one resistor loses about what each cell behind twice of it would.
    if (kind == "section") wiring.cells[at(i)].signal_trim_ohm = 2.0 * trims_[at(i - i % 2)].ohm;
  }
  return wiring;
}

/// Digital cells are read one by one and added up.
double Corners::reading(const VectorXd& force_N) const {
  if (digital_) return weights_per_N().dot(force_N);
  return signal::solve(trimmed(), force_N).reading_V_per_V;
}

VectorXd Corners::weights_per_N() const {
  if (!digital_) return signal::gains_per_N(trimmed(), site_.true_state().stand_N);
  VectorXd weights(described_.stand_count());
  for (Eigen::Index i = 0; i < weights.size(); ++i) {
    const signal::WiredCell& cell = wiring_.cells[at(i)];
    weights(i) = trims_[at(i)].factor * cell.output_V_per_V / cell.rated_N;
  }
  return weights;
}

Corners::Spot Corners::spot_of(const LoadPlace& place) const {
  // Whoever stands on the site sees the stands where they are, not where the drawing has them.
  const deck::Deck& truth = site_.true_deck();
  const auto at_m = [&](int section) { return truth.sections.at(at(section)).at_m; };
  switch (place.kind) {
    case LoadPlace::Kind::stand:
      return {at_m(place.stand.section().value), truth.stand_y_m(place.stand)};
    case LoadPlace::Kind::section:
      return {at_m(place.section.value), 0.0};
    case LoadPlace::Kind::span:
      return {(at_m(place.section.value) + at_m(place.section.value + 1)) / 2.0, 0.0};
    case LoadPlace::Kind::point:
      return {place.x_m, place.y_m};
    case LoadPlace::Kind::deck:
      break;
  }
  return {truth.length_m() / 2.0, 0.0};
}

VectorXd Corners::share_at(Spot spot, double load_kg, const std::string& footprint) const {
  const double force_N = load_kg * described_.site.gravity_m_per_s2;
  std::vector<statics::PointLoad> points;
  if (footprint.empty()) points.push_back({spot.x_m, spot.y_m, force_N});
  for (const deck::Footprint& known : described_.footprints) {
    if (footprint.empty() || known.name != footprint) continue;
    for (const deck::Footprint::Point& point : known.points) {
      points.push_back({spot.x_m + point.along_m, spot.y_m + point.left_m, point.share * force_N});
    }
  }
  if (points.empty()) throw std::invalid_argument("rehearsal::Corners: no footprint " + footprint);
  const statics::Model& model = site_.true_model();
  const statics::BuiltLoad live = statics::point_loads(model, points);
  if (!live.load) throw std::invalid_argument("rehearsal::Corners: " + live.what);
  const statics::ContactState state =
      statics::solve_contact(model, statics::add(site_.true_load(), *live.load),
                             site_.true_heights_m(), statics::nominal(model));
  if (state.status != statics::ContactStatus::solved) {
    throw std::invalid_argument("rehearsal::Corners: " + state.what);
  }
  return (state.stand_N - site_.true_state().stand_N) / force_N;
}

void Corners::put(const LoadPlace& place, double load_kg, const std::string& footprint) {
  const double d = described_.display_kg();
  Spot spot = spot_of(place);
  spot.x_m += spread_.load_place_m * day_.normal();
  spot.y_m += spread_.load_place_m * day_.normal();
  Standing standing;
  standing.place = place;
  standing.footprint = footprint;
  standing.load_kg = load_kg;
  standing.share = share_at(spot, load_kg, footprint);
  standing.zero_V_per_V = reading(site_.true_state().stand_N);
  standing.zero_kg = spread_.zero_set_of_d * d * (2.0 * day_.uniform() - 1.0);
  standing.drift_kg = spread_.zero_drift_of_d * d * day_.normal();
  standing.noise_kg = spread_.repeatability_of_d * d * day_.normal();
  standing_ = std::move(standing);
}

LoadReading Corners::look(Look look) const {
  if (!standing_) throw std::logic_error("rehearsal::Corners: nothing stands on the deck");
  const double d = described_.display_kg();
  const double force_N = standing_->load_kg * described_.site.gravity_m_per_s2;
  const VectorXd forces_N = site_.true_state().stand_N + force_N * standing_->share;
  const double kg = kg_per_V_per_V_ * (reading(forces_N) - standing_->zero_V_per_V) +
                    standing_->zero_kg + standing_->noise_kg;
  const double after_kg = standing_->zero_kg + standing_->drift_kg;
  LoadReading shown;
  shown.place = standing_->place;
  shown.footprint = standing_->footprint;
  shown.load_kg = standing_->load_kg;
  shown.last_digit_kg = look == Look::display ? d : kFine_of_d * d;
  if (look == Look::changeover) {
    const ChangedOver before = change_over(standing_->zero_kg, d);
    const ChangedOver after = change_over(after_kg, d);
    const ChangedOver loaded = change_over(kg, d);
    shown.zero_before_kg = before.shown_kg + d / 2.0 - before.added_kg;
    shown.zero_after_kg = after.shown_kg + d / 2.0 - after.added_kg;
    shown.indication_kg = loaded.shown_kg;
    shown.added_kg = loaded.added_kg;
    shown.resolution_kg = d;
    return shown;
  }
  shown.indication_kg = rounded(kg, shown.last_digit_kg);
  shown.zero_before_kg = rounded(standing_->zero_kg, shown.last_digit_kg);
  shown.zero_after_kg = rounded(after_kg, shown.last_digit_kg);
  shown.resolution_kg = shown.last_digit_kg;
  return shown;
}

LoadReading Corners::weigh(const LoadPlace& place,
                           double load_kg,
                           Look how,
                           const std::string& footprint) {
  put(place, load_kg, footprint);
  return look(how);
}

void Corners::set(const record::TrimSet& moves) {
  for (const record::TrimMove& one : moves.moves) {
    const int stand = one.place.is_section ? 2 * one.place.section.value : one.place.stand.value;
    const std::string kind = stand < described_.stand_count() ? kind_of(stand) : "none";
    if (kind == "none" || (kind == "section") != one.place.is_section) {
      throw std::invalid_argument("rehearsal::Corners: the boxes have no such trim");
    }
    move(one, trims_[at(stand)]);
  }
}

void Corners::move(const record::TrimMove& move, TrueTrim& trim) {
  if (move.factor) trim.factor = *move.factor;
  if (move.ohm) trim.ohm = std::clamp(*move.ohm, 0.0, trim.range_ohm);
  if (move.turns) {
    const double made = *move.turns + spread_.turn_error * day_.normal();
    trim.ohm = std::clamp(trim.ohm + made * trim.ohm_per_turn, 0.0, trim.range_ohm);
  }
}

VectorXd Corners::true_gains() const {
  return kg_per_V_per_V_ * described_.site.gravity_m_per_s2 * weights_per_N();
}

VectorXd Corners::true_share(const LoadPlace& place, double load_kg) const {
  return share_at(spot_of(place), load_kg, "");
}

double Corners::true_indication_kg(const LoadPlace& place, double load_kg) const {
  const double force_N = load_kg * described_.site.gravity_m_per_s2;
  const VectorXd& dead_N = site_.true_state().stand_N;
  const VectorXd loaded_N = dead_N + force_N * true_share(place, load_kg);
  return kg_per_V_per_V_ * (reading(loaded_N) - reading(dead_N));
}

double Corners::true_trim_ohm(units::StandIndex stand) const {
  return trims_.at(at(stand.value)).ohm;
}

}  // namespace weighwright::rehearsal
