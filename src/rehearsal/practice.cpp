#include "rehearsal/practice.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "deck/concrete.h"

namespace weighwright::rehearsal {
namespace {

constexpr std::uint64_t kWeatherKey = 0xbf58476d1ce4e5b9ULL;
constexpr std::uint64_t kDayKey = 0x94d049bb133111ebULL;
constexpr double kApportionment = 0.7;   // p_LC: OIML R 60-1:2021, where a certificate is silent
constexpr double kUsualParts = 10000.0;  // E_max / v_min (hand estimate, no source)
constexpr double kStep_K = 5.0;          // OIML R 60-1:2021, 5.6.1, and R 76-1:2006, 3.9.2.3
constexpr double kThird = 1.0 / 3.0;     // one standard deviation of a limit (hand estimate)
constexpr double kTenth = 0.1;
constexpr double kSpan_per_K = 5e-6;      // hand estimate, no source
constexpr double kInsulation_ohm = 20e9;  // of a sound cell; hand estimate, no source
constexpr double kHardens_h = 168.0;      // of a slab in practice: a week
constexpr double kGrout_m = 1.6e-3;       // 4 % of 40 mm
constexpr double kSunWarms_K = 12.0;      // steel above air in the sun (hand estimate)
constexpr double kSteelTime_h = 1.5;      // and in what time it follows
constexpr double kSoakTime_h = 2.0;
constexpr double kDryTime_h = 12.0;
constexpr double kDrySunTime_h = 4.0;
constexpr double kWarmLift_per_K = 0.02;  // of friction: a growing deck climbs what is packed
constexpr double kLongestStep_h = 0.25;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

}  // namespace

PracticeSite::PracticeSite(const deck::Deck& deck, const PracticeSpread& spread, std::uint64_t seed)
    : described_(deck),
      spread_(spread),
      seed_(seed),
      corners_(deck, spread.corners, seed),
      statics_(corners_.site()),
      heights_m_(corners_.site().true_heights_m()),
      trims_(corners_.true_trims()),
      kg_per_V_per_V_(corners_.kg_per_V_per_V()),
      day_(seed ^ kDayKey) {
  const Eigen::Index stands = deck.stand_count();
  zero_V_per_V_.resize(stands);
  zero_per_K_.resize(stands);
  span_per_K_.resize(stands);
  insulation_ohm_.resize(stands);
  creep_N_ = Eigen::VectorXd::Zero(stands);
  chance::CounterRandom random(seed ^ kWeatherKey);
  for (int i = 0; i < deck.stand_count(); ++i) {
    const deck::Cell& cell = deck.stands[at(i)].cell;
    const double least_kg = cell.min_interval_kg.value_or(cell.capacity_kg / kUsualParts);
    const double limit = kApportionment * least_kg / cell.capacity_kg * cell.output_V_per_V;
    zero_V_per_V_(i) = corners_.site().true_zero_V()(i) / deck.excitation_V;
    zero_per_K_(i) = spread.zero_temperature * kThird * limit / kStep_K * random.normal();
    span_per_K_(i) = spread.span_temperature * kSpan_per_K * random.normal();
    insulation_ohm_(i) = kInsulation_ohm * std::exp(0.3 * random.normal());
  }
  indicator_kg_per_K_ =
      spread.zero_temperature * kTenth * deck.interval_kg / kStep_K * random.normal();
  slip_ends();
  press_zero();
}

std::string PracticeSite::refuses(const record::TurnSet& turns) const {
  for (const record::StandTurn& turn : turns.stands) {
    if (turn.stand.value < 0 || turn.stand.value >= described_.stand_count()) {
      return "there is no such stand";
    }
    const deck::Stand& stand = described_.stands[at(turn.stand.value)];
    const std::string name = units::print(turn.stand);
    if (turn.turns && grouted_) {
      return name + ": the stands are grouted, no screw turns any more; shims only";
    }
    if (turn.turns && stand.adjust != deck::Adjust::screws) {
      return name + " has no levelling screws; shims only";
    }
    if (turn.until_touch) return name + ": turning until it touches is not for a practice site";
  }
  return "";
}

void PracticeSite::turn(const record::TurnSet& turns) {
  const std::string no = refuses(turns);
  if (!no.empty()) throw std::invalid_argument("rehearsal: " + no);
  std::vector<std::string> wrong_way;
  for (const record::StandTurn& turn : turns.stands) {
    const deck::Stand& stand = described_.stands[at(turn.stand.value)];
    double raise_m = turn.turns ? *turn.turns * stand.pitch_m : turn.shim_mm.value_or(0.0) * 1e-3;
    const double error = turn.turns ? spread_.corners.deck.turn_error : 0.01;
    const std::string name = units::print(turn.stand);
    if (turn.turns && at_place("wrong_turn", name)) {
      raise_m = -raise_m;
      wrong_way.push_back(name);
    }
    heights_m_(turn.stand.value) += raise_m * (1.0 + error * day_.normal());
    elapse(0.25);
  }
  for (const std::string& name : wrong_way) (void)mend("wrong_turn", {name});
  (void)settle({});
}

std::string PracticeSite::refuses(const record::TrimSet& trims) const {
  for (const record::TrimMove& move : trims.moves) {
    const int stand = move.place.is_section ? 2 * move.place.section.value : move.place.stand.value;
    if (stand < 0 || stand >= described_.stand_count()) return "there is no such place";
    const TrueTrim& trim = trims_[at(stand)];
    const std::string name = move.place.is_section
                                 ? "section " + std::to_string(move.place.section.value + 1)
                                 : units::print(move.place.stand);
    if (trim.kind == "none") return name + ": the box has no trims";
    if ((trim.kind == "section") != move.place.is_section) {
      return name + ": the trims of this box act on " +
             (trim.kind == "section" ? "a section" : "a cell");
    }
    if ((trim.kind == "digital") != move.factor.has_value()) {
      return name + (trim.kind == "digital" ? ": a digital cell takes a factor"
                                            : ": a resistor takes turns or ohm");
    }
  }
  return "";
}

void PracticeSite::set(const record::TrimSet& trims) {
  const std::string no = refuses(trims);
  if (!no.empty()) throw std::invalid_argument("rehearsal: " + no);
  for (const record::TrimMove& move : trims.moves) {
    TrueTrim& trim =
        trims_[at(move.place.is_section ? 2 * move.place.section.value : move.place.stand.value)];
    if (move.factor) trim.factor = *move.factor;
    if (move.ohm) trim.ohm = std::clamp(*move.ohm, 0.0, trim.range_ohm);
    if (move.turns) {
      const double made = *move.turns + spread_.corners.turn_error * day_.normal();
      trim.ohm = std::clamp(trim.ohm + made * trim.ohm_per_turn, 0.0, trim.range_ohm);
    }
    elapse(1.0 / 60.0);
  }
}

void PracticeSite::pour(const std::vector<std::string>& marks) {
  for (deck::Module& module : described_.modules) {
    if (std::find(marks.begin(), marks.end(), module.mark) != marks.end()) deck::pour(module);
  }
  corners_ = Corners(described_, spread_.corners, seed_);
  statics_ = TrueStatics(corners_.site());
  alter();
  slip_ends();
  elapse(kHardens_h);
  (void)settle({});
}

void PracticeSite::grout() {
  if (grouted_) return;
  const double much = day_.uniform();
  for (Eigen::Index i = 0; i < heights_m_.size(); ++i) {
    heights_m_(i) += kGrout_m * much * day_.uniform();
  }
  grouted_ = true;
  (void)settle({});
}

void PracticeSite::weather(const Weather& weather) {
  weather_ = weather;
}

void PracticeSite::wait(double hours) {
  if (!(hours >= 0.0) || !std::isfinite(hours)) {
    throw std::invalid_argument("rehearsal: a time to wait is 0 hours or more");
  }
  elapse(hours);
}

/// Steel follows the air, damp follows the rain, friction the heat.
void PracticeSite::elapse(double hours) {
  const double goal_degC = weather_.temp_degC + (weather_.sun ? kSunWarms_K : 0.0);
  const double soak_h = weather_.rain ? kSoakTime_h : weather_.sun ? kDrySunTime_h : kDryTime_h;
  const double before_degC = steel_degC_;
  steel_degC_ += (goal_degC - steel_degC_) * (1.0 - std::exp(-hours / kSteelTime_h));
  wet_ += ((weather_.rain ? 1.0 : 0.0) - wet_) * (1.0 - std::exp(-hours / soak_h));
  hours_ += hours;
  if (hours > kLongestStep_h && has("shocked")) creep(still({}).stand_N, hours);
  for (int k = 0; k < 4; ++k) {
    const double limit_N = friction_limit_N(k / 2);
    double& friction_N = friction_N_[at(k)];
    friction_N = std::clamp(friction_N + kWarmLift_per_K * (steel_degC_ - before_degC) * limit_N,
                            -limit_N, limit_N);
  }
}

PracticeSite PracticeSite::without_faults() const {
  PracticeSite site = *this;
  while (!site.struck_.empty()) {
    const Fault fault = site.struck_.back().fault;
    (void)site.mend(fault.code, fault.places);
  }
  return site;
}

}  // namespace weighwright::rehearsal
