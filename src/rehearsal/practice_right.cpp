// A practice site as a good technician leaves it.
#include <algorithm>
#include <cmath>

#include "rehearsal/practice.h"

namespace weighwright::rehearsal {
namespace {

using Eigen::VectorXd;

constexpr int kRounds = 8;
constexpr double kUsualLoad_kg = 10000.0;

record::LoadPlace over(int stand) {
  record::LoadPlace place;
  place.kind = record::LoadPlace::Kind::stand;
  place.stand = units::StandIndex{stand};
  return place;
}

}  // namespace

double PracticeSite::usual_load_kg() const {
  if (described_.capacity_kg <= 0.0) return kUsualLoad_kg;
  return std::min(kUsualLoad_kg, described_.capacity_kg / 3.0);
}

/// Trims and span so that a load shows the same over every stand, and rightly: what the display is
/// short by at a stand is made up there, again and again. A trim that only attenuates starts from
/// the lowest corner.
void PracticeSite::trim_true(double load_kg) {
  const auto stands = static_cast<std::size_t>(described_.stand_count());
  for (int round = 0; round < kRounds; ++round) {
    std::vector<double> short_by(stands);
    double mean = 0.0;
    for (std::size_t i = 0; i < stands; ++i) {
      const double shown_kg = true_indication_kg(over(static_cast<int>(i)), load_kg);
      // A dead or reversed cell is no matter of trims.
      short_by[i] = std::clamp(load_kg / std::max(shown_kg, 0.1 * load_kg), 0.5, 2.0);
      mean += short_by[i] / static_cast<double>(stands);
    }
    std::vector<double> passes(stands, 1.0);
    double most = 0.0;
    for (std::size_t i = 0; i < stands; ++i) {
      const TrueTrim& trim = trims_[i];
      const signal::WiredCell& cell = corners_.untrimmed().cells[i];
      const double source_ohm = trim.kind == "excitation" ? cell.input_ohm : cell.output_ohm;
      passes[i] = short_by[i] / (1.0 + trim.ohm / source_ohm);
      most = std::max(most, passes[i]);
    }
    for (std::size_t i = 0; i < stands; ++i) {
      TrueTrim& trim = trims_[i];
      const signal::WiredCell& cell = corners_.untrimmed().cells[i];
      if (trim.kind == "digital") trim.factor *= short_by[i] / mean;
      if (trim.kind != "signal" && trim.kind != "excitation") continue;
      const double source_ohm = trim.kind == "excitation" ? cell.input_ohm : cell.output_ohm;
      trim.ohm = std::clamp(source_ohm * (most / passes[i] - 1.0), 0.0, trim.range_ohm);
    }
    double shown_kg = 0.0;
    for (std::size_t i = 0; i < stands; ++i) {
      shown_kg += true_indication_kg(over(static_cast<int>(i)), load_kg);
    }
    if (shown_kg > 0.1 * load_kg * static_cast<double>(stands)) {
      kg_per_V_per_V_ *= load_kg * static_cast<double>(stands) / shown_kg;
    }
  }
}

void PracticeSite::leave_right() {
  for (Eigen::Index i = 0; i < heights_m_.size(); ++i) {
    heights_m_(i) = spread_.left_height_m * day_.normal();
  }
  grouted_ = true;
  slip_ends();
  trim_true(usual_load_kg());
  press_zero();
}

}  // namespace weighwright::rehearsal
