#include "proof/test_plan.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "proof/increasing_loads.h"
#include "proof/plan_checks.h"
#include "proof/plan_places.h"
#include "proof/scale_of.h"
#include "proof/write_plan.h"
#include "units/quantity.h"

namespace weighwright::proof {
namespace {

constexpr double kPiece_d = 0.1;     // small weights: usual, R 76-1:2006, A.4.4.3 (from memory)
constexpr double kFineEnough = 0.2;  // of e: a division so fine needs no changeover
constexpr double kSamePiece = 0.01;  // of a piece: pounds and kilograms are not the same one
constexpr double kMostSmallPieces = 50.0;  // carried by hand (common practice, no source)
constexpr double kMoreRepeated = 1.1;      // of the load that is to be repeated

/// As few digits as the value has, to a milligram: it may be one of pounds.
std::string exactly(double kg) {
  constexpr double kMilligrams = 1e6;
  return units::print_exact(std::round(kg * kMilligrams) / kMilligrams) + " kg";
}

std::string number(double kg) {
  return std::to_string(std::lround(kg)) + " kg";
}

void append(std::vector<PlanFinding>& to, std::vector<PlanFinding> from) {
  for (PlanFinding& finding : from) to.push_back(std::move(finding));
}

class Planner {
 public:
  Planner(const deck::Deck& deck,
          const statics::Model& model,
          const rules::Rulebook& rulebook,
          const PlanRequest& request)
      : deck_(deck),
        model_(model),
        rulebook_(rulebook),
        request_(request),
        scale_(scale_of(deck)) {}

  TestPlan run() {
    judge_class();
    take_stock();
    const BuildOptions options = build_options(rulebook_, scale_, request_, stock_);
    plan_.standards = options.amount;
    append(plan_.findings, options.findings);
    if (!options.questions.empty()) plan_with(options);
    plan_.possible = !plan_.placements.empty() &&
                     std::none_of(plan_.findings.begin(), plan_.findings.end(),
                                  [](const PlanFinding& one) { return one.blocks; });
    return std::move(plan_);
  }

 private:
  void judge_class() {
    for (const rules::ClassFault& fault : rules::class_faults(rulebook_, scale_)) {
      PlanFinding finding;
      finding.code = "class_fault";
      finding.what = fault.what + "; " + fault.expected;
      finding.blocks = fault.breaks;
      finding.source = fault.source;
      plan_.findings.push_back(std::move(finding));
    }
  }

  void take_stock() {
    Stocked stocked = stock_of(deck_, request_);
    stock_ = std::move(stocked.stock);
    stock_.push_back(substitute_type());
    plan_.standards_kg = stocked.standards_kg;
    append(plan_.findings, std::move(stocked.findings));
  }

  void plan_with(const BuildOptions& options) {
    Demands demands = demands_of(deck_, rulebook_, scale_, request_, stock_);
    append(plan_.findings, std::move(demands.findings));
    drop_impossible(demands);
    if (solve(demands, options)) return;
    const BuildOptions nearly = build_options(rulebook_, scale_, request_, stock_, kNearMax);
    if (nearly.questions.empty() || !solve(demands, nearly)) tell_no_top();
  }

  /// What can't be made with anything at hand is said, and left out.
  void drop_impossible(Demands& demands) {
    for (auto* groups : {&demands.places, &demands.repeatability, &demands.extras}) {
      for (DemandGroup& group : *groups) {
        std::erase_if(group.demands, [&](const Demand& one) {
          if (one.any_lorry || can_make(stock_, one)) return false;
          tell_impossible(one);
          return true;
        });
      }
      std::erase_if(*groups, [](const DemandGroup& group) { return group.demands.empty(); });
    }
  }

  /// A load at hand that is too much for the place, kg; 0: there is none.
  [[nodiscard]] double too_much_kg(const Demand& demand) const {
    LoadRange above = demand.range;
    above.want_kg = above.most_kg;
    above.least_kg = std::min(above.least_kg, above.most_kg);
    above.most_kg = rules::kNoEnd;
    const auto choice = cheapest(stock_, limits_of(stock_, demand.allowed), above);
    return choice ? choice->kg : 0.0;
  }

  void tell_impossible(const Demand& demand) {
    PlanFinding finding;
    const double over_kg = demand.check == rules::Check::section ? too_much_kg(demand) : 0.0;
    finding.code = over_kg > 0.0 ? "over_clc" : "load_not_made";
    finding.place = name_of(demand.place);
    finding.value = over_kg > 0.0 ? over_kg : demand.range.want_kg;
    finding.limit = demand.range.most_kg;
    finding.blocks = demand.required;
    finding.what = std::string(rules::code_of(demand.check)) + " at " + finding.place +
                   ": nothing at hand makes " + number(demand.range.least_kg) + " to " +
                   number(demand.range.most_kg) + " there";
    if (over_kg > 0.0) finding.what += "; " + number(over_kg) + " is too much for one section";
    finding.source = demand.source;
    plan_.findings.push_back(std::move(finding));
  }

  void tell_no_top() {
    PlanFinding finding;
    finding.code = "load_not_made";
    finding.value = scale_.capacity_kg;
    finding.blocks = true;
    finding.what = "the pieces at hand do not add up to the greatest test load";
    plan_.findings.push_back(std::move(finding));
  }

  bool solve(const Demands& demands, const BuildOptions& options) {
    const Chosen chosen = choose_plan(deck_, stock_, demands, options);
    if (!chosen.best.possible) return false;
    plan_.placements =
        write_plan({deck_, rulebook_, scale_, request_, stock_, options}, chosen.best);
    plan_.minutes = chosen.best.minutes;
    plan_.least_minutes = chosen.bound;
    tell_kinds(chosen.best.kinds);
    for (std::size_t i = 0; i < chosen.best.lower.size(); ++i) {
      tell_missed(chosen.best.lower[i], static_cast<int>(i));
    }
    tell_missed(chosen.best.build, rules::range_count(scale_) - 1);
    tell_ranges();
    tell_not_asked();
    tell_lorries();
    tell_changes();
    tell_small_weights();
    append(plan_.findings,
           check_plan(deck_, model_, rulebook_, scale_, request_, plan_.placements));
    return true;
  }

  void tell_kinds(Kinds kinds) {
    for (int k = 0; k < kHandlings; ++k) {
      const auto handling = static_cast<record::Handling>(k);
      if ((kinds & bit(handling)) != 0) plan_.used.push_back(handling);
    }
  }

  /// Loads that nothing at hand makes: the plan goes on without, the verdict does not.
  void tell_missed(const BuildUp& build, int range) {
    const rules::TestRule* increasing = rulebook_.find_test(rules::Check::increasing);
    const rules::Scale scale = rules::in_range(scale_, range);
    const double top = build.steps.empty() ? 0.0 : greatest_known(build);
    const std::vector<IncreasingLoad> wanted = increasing_loads(rulebook_, scale, top);
    const std::vector<double> falling = rules::decreasing_loads_kg(rulebook_, scale, top);
    for (const double kg : build.missed_kg) {
      PlanFinding finding;
      finding.code = "load_not_made";
      finding.value = kg;
      finding.what = "no pieces at hand make an increasing load of about " + mass(kg);
      const auto own = std::find_if(wanted.begin(), wanted.end(),
                                    [&](const IncreasingLoad& load) { return load.is_met_by(kg); });
      const bool down = std::any_of(falling.begin(), falling.end(), [&](double load_kg) {
        return std::abs(load_kg - kg) <= kNearShare * load_kg;
      });
      if (own != wanted.end() || down) finding.what += "; " + to_bring(kg);
      if (increasing != nullptr) finding.source = increasing->source;
      plan_.findings.push_back(std::move(finding));
    }
  }

  /// What the table of results wants to know of a scale with several ranges.
  void tell_ranges() {
    if (rules::range_count(scale_) == 1) return;
    PlanFinding finding;
    finding.code = "ranges_apart";
    finding.what =
        "each weighing range is tested from zero to its Max; write in `range` which one the "
        "display "
        "showed (blank: going up the smallest that holds the load, coming down the one in use "
        "until zero)";
    plan_.findings.push_back(std::move(finding));
  }

  void tell_not_asked() {
    const rules::TestRule* const test = rulebook_.find_test(rules::Check::discrimination);
    if (test == nullptr || !test->required || asks_discrimination()) return;
    PlanFinding finding;
    finding.code = "discrimination_not_asked";
    finding.what = "discrimination is not asked of a digital display on this occasion";
    finding.source = test->digital_source;
    plan_.findings.push_back(std::move(finding));
  }

  [[nodiscard]] bool asks_discrimination() const {
    const rules::TestRule* const test = rulebook_.find_test(rules::Check::discrimination);
    return test != nullptr && rules::is_asked(rulebook_, scale_, request_.occasion, *test);
  }

  [[nodiscard]] static double greatest_known(const BuildUp& build) {
    double most = 0.0;
    for (const BuildStep& step : build.steps) {
      if (step.check == rules::Check::increasing) most = std::max(most, step.load_kg);
    }
    return most;
  }

  /// A figure that is whole in the user's units.
  [[nodiscard]] std::string mass(double kg) const { return scale_.us ? exactly(kg) : number(kg); }

  /// Small pieces for a small load, blocks for a great one (common practice, no source).
  [[nodiscard]] std::string to_bring(double load_kg) const {
    const double unit_kg = scale_.us ? units::kPound_kg : 1.0;
    const double small_kg = (scale_.us ? 50.0 : 20.0) * unit_kg;
    const double block_kg = (scale_.us ? 1000.0 : 500.0) * unit_kg;
    const bool few = load_kg <= kMostSmallPieces * small_kg;
    return "the verdict will stay incomplete without it: bring " + mass(few ? small_kg : block_kg) +
           " weights to " + mass(load_kg);
  }

  /// Pieces for the changeover of the display and for discrimination, a tenth of d each.
  void tell_small_weights() {
    const double d_kg = deck_.display_at_kg(0.0);
    const bool discrimination = asks_discrimination();
    const bool changeover = rulebook_.before_rounding &&
                            d_kg > rules::interval_at_kg(scale_, 0.0) * kFineEnough * (1.0 + 1e-9);
    const double added_d = discrimination ? rulebook_.discrimination_added_d.value : 0.0;
    if (!(d_kg > 0.0) || (added_d <= 0.0 && !changeover)) return;
    const double piece_kg = kPiece_d * d_kg;
    const double most_kg =
        std::max(added_d * deck_.display_at_kg(scale_.capacity_kg), changeover ? d_kg : 0.0);
    const auto count = static_cast<int>(std::ceil(most_kg / piece_kg - 1e-6));
    if (has_pieces(piece_kg, count)) return;
    PlanFinding finding;
    finding.code = "small_weights";
    finding.value = piece_kg;
    finding.limit = most_kg;
    finding.what = "small weights to bring: " + std::to_string(count) + " x " + exactly(piece_kg);
    if (added_d > 0.0) finding.what += "; " + exactly(most_kg) + " at once for discrimination";
    if (changeover) {
      finding.what += "; one after the other until the display changes over, at every reading";
      finding.source = rulebook_.rounding;
    } else {
      finding.source = rulebook_.discrimination_added_d.source;
    }
    plan_.findings.push_back(std::move(finding));
  }

  [[nodiscard]] bool has_pieces(double kg, int count) const {
    return std::any_of(
        request_.weights.begin(), request_.weights.end(), [&](const record::Weight& weight) {
          return std::abs(weight.nominal_kg - kg) <= kSamePiece * kg && weight.count >= count;
        });
  }

  /// Vehicles that serve as standards.
  void tell_changes() {
    std::vector<std::string> told;
    for (const Placement& placement : plan_.placements) {
      for (const Taken& taken : placement.weights) {
        const auto own =
            std::find_if(request_.weights.begin(), request_.weights.end(),
                         [&](const record::Weight& one) { return one.id == taken.id; });
        if (own == request_.weights.end() || own->handling != record::Handling::vehicle) continue;
        if (std::find(told.begin(), told.end(), taken.id) != told.end()) continue;
        told.push_back(taken.id);
        PlanFinding finding;
        finding.code = "lorry_changes";
        finding.placement = placement.number;
        finding.place = taken.id;
        finding.what = taken.id +
                       " is a vehicle: its mass changes with fuel, driver and rain; weigh it again "
                       "the same day, where it was certified or on a scale as good";
        plan_.findings.push_back(std::move(finding));
      }
    }
  }

  /// "L" and "L*2" of a weight "L".
  [[nodiscard]] bool is_listed(const std::string& name) const {
    const auto taken = parse_taken(name);
    return std::any_of(request_.weights.begin(), request_.weights.end(),
                       [&](const record::Weight& weight) {
                         return weight.id == name || (taken && weight.id == taken->id);
                       });
  }

  /// Lorries and material that are in no list must be ordered: each once, with how much of it.
  void tell_lorries() {
    const SectionRoom room = least_room(deck_, model_, rulebook_, scale_);
    std::vector<std::string> told;
    for (const Placement& placement : plan_.placements) {
      std::vector<std::string> fresh;
      for (const std::string& name : placement.substitutes) {
        const bool known =
            is_listed(name) || std::find(told.begin(), told.end(), name) != told.end();
        if (!known) fresh.push_back(name);
      }
      if (fresh.empty()) continue;
      told.insert(told.end(), fresh.begin(), fresh.end());
      tell_lorry(placement, fresh, room);
    }
  }

  void tell_lorry(const Placement& placement,
                  const std::vector<std::string>& fresh,
                  const SectionRoom& room) {
    const bool build = placement.check == rules::Check::increasing;
    const double all =
        placement.check == rules::Check::strain ? scale_.capacity_kg : placement.load_kg;
    double wanted = std::max(all - placement.weights_kg, 0.0);
    // What took the place of weights before lies there already.
    if (build) wanted /= static_cast<double>(placement.substitutes.size());
    const double most = most_of(placement, wanted);
    PlanFinding finding;
    finding.code = "lorry_needed";
    finding.placement = placement.number;
    finding.value = wanted;
    finding.limit = most;
    finding.what = joined(fresh) + ": " +
                   (build ? "material or a loaded lorry" : "one loaded lorry or several") +
                   " of unknown mass, " + (fresh.size() > 1 ? "together about " : "about ") +
                   mass(wanted) + ", at most " + mass(most);
    if (room.kg > 0.0 && room.kg < most) {
      finding.what += "; stay within " + mass(room.kg) + " on one section (" + room.because + ")";
    }
    finding.source = placement.source;
    plan_.findings.push_back(std::move(finding));
  }

  [[nodiscard]] double most_of(const Placement& placement, double wanted_kg) const {
    switch (placement.check) {
      case rules::Check::rolling: {
        const auto most = rules::rolling_load(rulebook_, scale_);
        return most ? std::min(most->kg, scale_.capacity_kg) : scale_.capacity_kg;
      }
      case rules::Check::repeatability:
        return std::min(kMoreRepeated * wanted_kg, scale_.capacity_kg);
      default:
        return wanted_kg;
    }
  }

  [[nodiscard]] static std::string joined(const std::vector<std::string>& names) {
    std::string all;
    for (const std::string& name : names) all += (all.empty() ? "" : ", ") + name;
    return all;
  }

  const deck::Deck& deck_;
  const statics::Model& model_;
  const rules::Rulebook& rulebook_;
  const PlanRequest& request_;
  rules::Scale scale_;
  Stock stock_;
  TestPlan plan_;
};

}  // namespace

TestPlan plan_test(const deck::Deck& deck,
                   const statics::Model& model,
                   const rules::Rulebook& rulebook,
                   const PlanRequest& request) {
  return Planner(deck, model, rulebook, request).run();
}

}  // namespace weighwright::proof
