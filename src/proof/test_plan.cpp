#include "proof/test_plan.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "proof/plan_checks.h"
#include "proof/plan_places.h"
#include "proof/scale_of.h"
#include "proof/write_plan.h"

namespace weighwright::proof {
namespace {

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
    tell_missed(chosen.best.build);
    tell_lorry();
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

  void tell_missed(const BuildUp& build) {
    for (const double kg : build.missed_kg) {
      PlanFinding finding;
      finding.code = "load_not_made";
      finding.value = kg;
      finding.what = "no pieces at hand make an increasing load of about " + number(kg);
      plan_.findings.push_back(std::move(finding));
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

  /// Lorries that are in no list must be ordered.
  void tell_lorry() {
    for (const Placement& placement : plan_.placements) {
      const auto unlisted =
          std::find_if_not(placement.substitutes.begin(), placement.substitutes.end(),
                           [&](const std::string& name) { return is_listed(name); });
      if (unlisted == placement.substitutes.end()) continue;
      PlanFinding finding;
      finding.code = "lorry_needed";
      finding.placement = placement.number;
      const double all =
          placement.check == rules::Check::strain ? scale_.capacity_kg : placement.load_kg;
      finding.value = std::max(all - placement.weights_kg, 0.0);
      finding.what =
          "loaded lorries or material of unknown mass are needed as well: " + *unlisted + " and on";
      plan_.findings.push_back(std::move(finding));
      return;
    }
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
