#include "proof/standards.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <map>

#include "proof/air.h"
#include "proof/budget.h"
#include "rules/weight_class.h"

namespace weighwright::proof {
namespace {

constexpr double kUnlikeShare =
    0.01;  // a certified value further off is a slip of the pen, no wear

std::optional<rules::WeightLimit> class_limit(const record::Weight& weight) {
  if (weight.weight_class.empty()) return std::nullopt;
  const auto name = rules::parse_weight_class(weight.weight_class);
  return name ? rules::weight_limit(*name, weight.nominal_kg) : std::nullopt;
}

/// An uncertainty of nothing is none: no certificate states one.
bool is_certified(const record::Weight& weight) {
  return weight.conventional_kg && weight.uncertainty_kg.value_or(0.0) > 0.0 &&
         weight.coverage > 0.0;
}

bool has_no_doubt(const record::Weight& weight) {
  return weight.conventional_kg && weight.uncertainty_kg == 0.0;
}

/// Weights of one key share what they may be wrong by, so that they add linearly.
std::string shares_with(const record::Weight& weight) {
  if (!is_certified(weight)) {
    return "class " + rules::parse_weight_class(weight.weight_class).value_or(weight.weight_class);
  }
  return "standard " + weight.traced_to;
}

struct Sums {
  std::map<std::string, double> u_kg;  // by what they share
};

void add_certified(const record::Weight& weight, double count, Load& load, Sums& sums) {
  sums.u_kg[shares_with(weight)] += count * *weight.uncertainty_kg / weight.coverage;
  load.certified = true;
  load.class_error_kg += count * *weight.uncertainty_kg;
  // Where no earlier certificate tells how a weight moves, drift is of the order of its
  // uncertainty.
  load.drift_kg += count * *weight.uncertainty_kg;
}

void add_density(const record::Weight& weight, Load& load) {
  const std::optional<double>& density = weight.density_kg_per_m3;
  if (!density || !(*density > 0.0)) {
    load.densities_stated = false;
    return;
  }
  load.volume_off_m3_per_kg =
      std::max(load.volume_off_m3_per_kg, std::abs(1.0 / *density - 1.0 / kConventionalDensity));
}

void add_weight(const record::Weight& weight, double count, Load& load, Sums& sums) {
  load.kg += count * weight.conventional_kg.value_or(weight.nominal_kg);
  add_density(weight, load);
  const auto limit = class_limit(weight);
  if (limit && weight.nominal_kg > 0.0) {
    load.class_share = std::max(load.class_share, limit->kg / weight.nominal_kg);
  }
  if (is_certified(weight)) {
    add_certified(weight, count, load, sums);
  } else if (limit) {
    sums.u_kg[shares_with(weight)] += u_of_limits(count * limit->kg);
    load.class_error_kg += count * limit->kg;
  } else {
    load.sure = false;
  }
}

StandardFinding finding(const char* code, const record::Weight& weight, bool refuses = true) {
  return {.code = code, .id = weight.id, .refuses = refuses, .line = weight.line};
}

bool is_unlike(const record::Weight& weight) {
  // What is written as nominal of a vehicle is only about what it weighs.
  if (!weight.conventional_kg || weight.handling == record::Handling::vehicle) return false;
  return std::abs(*weight.conventional_kg - weight.nominal_kg) > kUnlikeShare * weight.nominal_kg;
}

std::vector<StandardFinding> judge_one(const record::Weight& weight, std::int64_t day) {
  std::vector<StandardFinding> found;
  if (weight.certificate.empty()) found.push_back(finding("no_certificate", weight));
  if (weight.expires_day && *weight.expires_day < day) found.push_back(finding("expired", weight));
  if (has_no_doubt(weight)) {
    found.push_back(finding("uncertainty_zero", weight, !class_limit(weight)));
  } else if (!is_certified(weight) && !class_limit(weight)) {
    found.push_back(finding("no_class_value", weight));
  }
  if (is_unlike(weight)) found.push_back(finding("value_unlike_nominal", weight));
  return found;
}

}  // namespace

std::optional<Taken> parse_taken(const std::string& text) {
  const std::size_t star = text.find('*');
  Taken taken{.id = text.substr(0, star), .count = 1};
  if (taken.id.empty() || taken.id.front() == ' ' || taken.id.back() == ' ') return std::nullopt;
  if (star == std::string::npos) return taken;
  const char* end = text.data() + text.size();
  const auto read = std::from_chars(text.data() + star + 1, end, taken.count);
  if (read.ec != std::errc{} || read.ptr != end || taken.count < 1) return std::nullopt;
  return taken;
}

Load load_of(const std::vector<Taken>& taken, const std::vector<record::Weight>& weights) {
  Load load;
  load.densities_stated = !taken.empty();
  Sums sums;
  for (const Taken& one : taken) {
    const auto weight = std::find_if(weights.begin(), weights.end(),
                                     [&](const record::Weight& w) { return w.id == one.id; });
    if (weight == weights.end()) {
      load.unknown.push_back(one.id);
      load.densities_stated = false;
    } else {
      add_weight(*weight, static_cast<double>(one.count), load, sums);
    }
  }
  double square = 0.0;
  for (const auto& [shared, u_kg] : sums.u_kg) square += u_kg * u_kg;
  load.u_kg = std::sqrt(square);
  return load;
}

bool traces_to_nothing(const record::Weight& weight) {
  const bool has_papers = is_certified(weight) || !weight.certificate.empty();
  return has_papers && weight.traced_to.empty();
}

double above_nominal_kg(const std::vector<Taken>& taken,
                        const std::vector<record::Weight>& weights) {
  double above_kg = 0.0;
  for (const Taken& one : taken) {
    const auto weight = std::find_if(weights.begin(), weights.end(),
                                     [&](const record::Weight& w) { return w.id == one.id; });
    if (weight == weights.end() || weight->handling == record::Handling::vehicle) continue;
    above_kg +=
        one.count * (weight->conventional_kg.value_or(weight->nominal_kg) - weight->nominal_kg);
  }
  return std::max(above_kg, 0.0);
}

std::vector<StandardFinding> judge_standards(const std::vector<record::Weight>& weights,
                                             std::int64_t day) {
  std::vector<StandardFinding> found;
  for (std::size_t i = 0; i < weights.size(); ++i) {
    const auto own = judge_one(weights[i], day);
    found.insert(found.end(), own.begin(), own.end());
    const auto before =
        std::find_if(weights.begin(), weights.begin() + static_cast<std::ptrdiff_t>(i),
                     [&](const record::Weight& other) { return other.id == weights[i].id; });
    if (before != weights.begin() + static_cast<std::ptrdiff_t>(i)) {
      found.push_back(finding("doubled", weights[i]));
    }
  }
  return found;
}

bool usable(const record::Weight& weight, std::int64_t day) {
  const auto found = judge_one(weight, day);
  return std::none_of(found.begin(), found.end(),
                      [](const StandardFinding& one) { return one.refuses; });
}

}  // namespace weighwright::proof
