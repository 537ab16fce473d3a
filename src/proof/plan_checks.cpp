#include "proof/plan_checks.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <tuple>

#include "proof/plan_places.h"
#include "rules/nominal_load.h"
#include "statics/contact.h"
#include "units/quantity.h"

namespace weighwright::proof {
namespace {

constexpr double kCell_m = 1.0;   // a patch is loaded by points no further apart than this
constexpr double kEdge_m = 1e-6;  // rounding of metres
constexpr double kShare = 1e-9;   // rounding of sums of kg
constexpr double kAxle_m = 0.2;   // a wheel's print along the deck; anything short will do
constexpr double kTrack_m = 1.8;  // between the wheels of an axle (common practice, no source)

std::string number(double kg) {
  return std::to_string(std::lround(kg)) + " kg";
}

class Checker {
 public:
  Checker(const deck::Deck& deck,
          const statics::Model& model,
          const rules::Rulebook& rulebook,
          const rules::Scale& scale,
          const PlanRequest& request)
      : deck_(deck), model_(model), rulebook_(rulebook), scale_(scale), request_(request) {}

  std::vector<PlanFinding> run(const std::vector<Placement>& placements) {
    for (const Placement& placement : placements) {
      if (placement.check == rules::Check::zero) continue;
      check_amount(placement);
      check_edges(placement);
      check_pattern(placement);
      check_axles(placement);
      check_standards(placement);
      check_cells(placement, placement.patches, on_deck_kg(placement));
    }
    return std::move(findings_);
  }

 private:
  PlanFinding& tell(const Placement& placement,
                    const char* code,
                    double value,
                    double limit,
                    std::string what,
                    const rules::Source& source = {}) {
    PlanFinding finding;
    finding.code = code;
    finding.placement = placement.number;
    finding.place = name_of(placement.place);
    finding.value = value;
    finding.limit = limit;
    finding.blocks = placement.required;
    finding.what = std::move(what);
    finding.source = source;
    findings_.push_back(std::move(finding));
    return findings_.back();
  }

  /// A strain load stands on a lorry that is not in `load_kg`: up to Max at most.
  [[nodiscard]] double on_deck_kg(const Placement& placement) const {
    return placement.check == rules::Check::strain ? scale_.capacity_kg : placement.load_kg;
  }

  /// Certified values stand around their nominal ones: what counts as the greatest is no overload.
  [[nodiscard]] bool is_at_most(double kg, double most_kg) const {
    return rules::is_at_most(rulebook_, scale_, request_.occasion, kg, most_kg);
  }

  void check_amount(const Placement& placement) {
    const double kg = on_deck_kg(placement);
    if (kg <= 0.0) return;
    if (!is_at_most(kg, scale_.capacity_kg)) {
      tell(placement, "over_capacity", kg, scale_.capacity_kg, number(kg) + " is more than Max");
    }
    const double least = rules::least_load_kg(rulebook_, scale_);
    if (kg < least * (1.0 - kShare)) {
      tell(placement, "below_min", kg, least, number(kg) + " is less than Min");
    }
  }

  void check_edges(const Placement& placement) {
    const double half_width = usable_width_m(deck_) / 2.0;
    for (const Patch& patch : placement.patches) {
      const double along = std::max(-(patch.x_m - patch.along_m / 2.0),
                                    patch.x_m + patch.along_m / 2.0 - deck_.length_m());
      const double across = std::abs(patch.y_m) + patch.across_m / 2.0 - half_width;
      if (std::max(along, across) <= kEdge_m) continue;
      tell(placement, "overhang", std::max(along, across), 0.0,
           "the load would stand over the edge of the deck");
    }
  }

  void check_pattern(const Placement& placement) {
    if (placement.check != rules::Check::section && placement.check != rules::Check::midspan)
      return;
    const bool side = placement.place.kind == record::LoadPlace::Kind::point;
    const auto most = rules::most_on_pattern(rulebook_, scale_, side);
    const double above_kg = above_nominal_kg(placement.weights, request_.weights);
    const bool within = most && placement.load_kg - above_kg <= most->kg * (1.0 + kShare) &&
                        is_at_most(placement.load_kg, most->kg);
    if (!most || within) return;
    tell(placement, "over_clc", placement.load_kg, most->kg,
         number(placement.load_kg) + " on one pattern is more than " + most->because, most->source);
  }

  [[nodiscard]] const record::Weight* weight_of(const std::string& id) const {
    for (const record::Weight& weight : request_.weights) {
      if (weight.id == id) return &weight;
    }
    return nullptr;
  }

  void check_axles(const Placement& placement) {
    std::vector<std::string> ids = placement.substitutes;
    for (const Taken& taken : placement.weights) ids.push_back(taken.id);
    for (const std::string& id : ids) {
      const record::Weight* weight = weight_of(id);
      if (weight == nullptr || !weight->axle_load_kg || !axles_.insert(id).second) continue;
      check_axle(placement, *weight);
    }
  }

  /// The heaviest axle passes over every section on its way.
  void check_axle(const Placement& placement, const record::Weight& weight) {
    const double axle = *weight.axle_load_kg;
    if (const auto most = rules::most_on_pattern(rulebook_, scale_, false); most) {
      if (axle > most->kg) {
        tell(placement, "over_section", axle, most->kg,
             weight.id + ": one axle is more than " + most->because, most->source);
      }
    }
    for (const deck::Section& section : deck_.sections) {
      const double half = kAxle_m / 2.0;
      const Patch print{.x_m = std::clamp(section.at_m, half, deck_.length_m() - half),
                        .y_m = 0.0,
                        .along_m = kAxle_m,
                        .across_m = std::min(kTrack_m, usable_width_m(deck_))};
      check_cells(placement, {print}, axle);
    }
  }

  void check_standards(const Placement& placement) {
    if (placement.weights.empty() || placement.check == rules::Check::repeatability ||
        placement.check == rules::Check::discrimination) {
      return;
    }
    const double kg =
        placement.check == rules::Check::strain ? placement.weights_kg : placement.load_kg;
    const double at_kg = rules::judged_as_kg(rulebook_, scale_, request_.occasion, kg);
    const auto limit = rules::standards_limit_at(rulebook_, scale_, request_.occasion, at_kg);
    const Load load = load_of(placement.weights, request_.weights);
    // Substitutes were measured with the same weights: what these may be wrong by counts again.
    const double times = placement.weights_kg > 0.0 ? kg / placement.weights_kg : 1.0;
    const double wrong = load.class_error_kg * std::max(1.0, times);
    if (!limit || wrong <= limit->kg * (1.0 + kShare)) return;
    tell(placement, "standards_too_coarse", wrong, limit->kg,
         "the standards may be wrong by more than their share of the limit", limit->source);
  }

  void check_cells(const Placement& placement, const std::vector<Patch>& patches, double kg) {
    if (patches.empty() || kg <= 0.0) return;
    const Patch& patch = patches.front();
    const auto key = std::tuple(patch.x_m, patch.y_m, patch.along_m, patch.across_m, kg);
    const auto known = stands_.find(key);
    const Worst worst = known != stands_.end() ? known->second : solve(patch, kg);
    stands_.emplace(key, worst);
    if (worst.stand < 0) return;
    const auto place = units::StandIndex{worst.stand};
    const double rated = deck_.stands[static_cast<std::size_t>(worst.stand)].cell.capacity_kg;
    tell(placement, "over_cell", worst.kg, rated,
         "the cell at " + units::print(place) + " would carry " + number(worst.kg) +
             ", it is rated for " + number(rated))
        .place = units::print(place);
  }

  /// The cell that carries most beyond its capacity; stand -1: none.
  struct Worst {
    int stand = -1;
    double kg = 0.0;
  };

  [[nodiscard]] Worst solve(const Patch& patch, double kg) const {
    const auto built = statics::point_loads(model_, points_of(patch, kg));
    if (!built.load) return {};
    const Eigen::VectorXd level = Eigen::VectorXd::Zero(deck_.stand_count());
    const auto state = statics::solve_contact(model_, statics::add(model_.dead, *built.load), level,
                                              statics::nominal(model_));
    Worst worst;
    double over = 0.0;
    if (state.status != statics::ContactStatus::solved) return worst;
    for (int i = 0; i < deck_.stand_count(); ++i) {
      // Cells are rated in kg under standard gravity.
      const double carried = state.stand_N(i) / units::kStandardGravity_m_per_s2;
      const double excess = carried - deck_.stands[static_cast<std::size_t>(i)].cell.capacity_kg;
      if (excess > over) worst = {.stand = i, .kg = carried};
      over = std::max(over, excess);
    }
    return worst;
  }

  [[nodiscard]] std::vector<statics::PointLoad> points_of(const Patch& patch, double kg) const {
    const int along = std::max(2, static_cast<int>(std::ceil(patch.along_m / kCell_m)));
    const int across = 2;
    const double each = kg * deck_.site.gravity_m_per_s2 / (along * across);
    std::vector<statics::PointLoad> points;
    for (int i = 0; i < along; ++i) {
      for (int j = 0; j < across; ++j) {
        const double x = patch.x_m + patch.along_m * ((i + 0.5) / along - 0.5);
        const double y = patch.y_m + patch.across_m * ((j + 0.5) / across - 0.5);
        points.push_back({.x_m = x, .y_m = y, .force_N = each});
      }
    }
    return points;
  }

  const deck::Deck& deck_;
  const statics::Model& model_;
  const rules::Rulebook& rulebook_;
  const rules::Scale& scale_;
  const PlanRequest& request_;
  std::map<std::tuple<double, double, double, double, double>, Worst> stands_;
  std::set<std::string> axles_;  // looked at already
  std::vector<PlanFinding> findings_;
};

}  // namespace

std::vector<PlanFinding> check_plan(const deck::Deck& deck,
                                    const statics::Model& model,
                                    const rules::Rulebook& rulebook,
                                    const rules::Scale& scale,
                                    const PlanRequest& request,
                                    const std::vector<Placement>& placements) {
  return Checker(deck, model, rulebook, scale, request).run(placements);
}

SectionRoom least_room(const deck::Deck& deck,
                       const statics::Model& model,
                       const rules::Rulebook& rulebook,
                       const rules::Scale& scale) {
  if (const auto most = rules::most_on_pattern(rulebook, scale, false)) {
    return {.kg = most->kg, .because = most->because};
  }
  const Eigen::VectorXd level = Eigen::VectorXd::Zero(deck.stand_count());
  const auto state = statics::solve_contact(model, model.dead, level, statics::nominal(model));
  SectionRoom room{.kg = 0.0, .because = "the cells' rating"};
  if (state.status != statics::ContactStatus::solved) return room;
  for (int i = 0; i + 1 < deck.stand_count(); i += 2) {
    double kg = 0.0;
    for (const int stand : {i, i + 1}) {
      kg += deck.stands[static_cast<std::size_t>(stand)].cell.capacity_kg -
            state.stand_N(stand) / units::kStandardGravity_m_per_s2;
    }
    if (i == 0 || kg < room.kg) room.kg = kg;
  }
  room.kg = std::max(room.kg, 0.0);
  return room;
}

}  // namespace weighwright::proof
