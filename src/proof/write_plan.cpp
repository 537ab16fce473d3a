#include "proof/write_plan.h"

#include <algorithm>

#include "proof/plan_places.h"
#include "rules/nominal_load.h"

namespace weighwright::proof {
namespace {

using rules::Check;

/// The kind of handling that takes longest for a piece; empty: nothing is moved.
std::optional<record::Handling> main_kind(Kinds kinds) {
  std::optional<record::Handling> main;
  for (int k = 0; k < kHandlings; ++k) {
    const auto handling = static_cast<record::Handling>(k);
    if ((kinds & bit(handling)) == 0) continue;
    if (!main || handling_cost(handling).piece > handling_cost(*main).piece) main = handling;
  }
  return main;
}

bool is_listed(const PlanRequest& request, const std::string& id) {
  return std::any_of(request.weights.begin(), request.weights.end(),
                     [&](const record::Weight& weight) { return weight.id == id; });
}

class Writer {
 public:
  Writer(const PlanContext& context, const Solution& solution)
      : context_(context), solution_(solution) {}

  std::vector<Placement> run() {
    write_zero();
    const bool first = solution_.substitutions > 0 && !context_.rulebook.substitution.empty();
    if (first) write(solution_.repeatability);
    write(solution_.places);
    for (std::size_t i = 0; i < solution_.lower.size(); ++i) {
      write_build(solution_.lower[i], static_cast<int>(i));
    }
    write_build(solution_.build, rules::range_count(context_.scale) - 1);
    if (context_.options.strain) write_strain();
    if (!first) write(solution_.repeatability);
    write(solution_.extras);
    for (std::size_t i = 0; i < placements_.size(); ++i) {
      placements_[i].number = static_cast<int>(i) + 1;
    }
    return std::move(placements_);
  }

 private:
  [[nodiscard]] rules::Source source_of(Check check) const {
    const rules::TestRule* rule = context_.rulebook.find_test(check);
    return rule == nullptr ? rules::Source{} : rule->source;
  }

  [[nodiscard]] std::optional<rules::Limit> limit_of(Check check, double kg, int range) const {
    const auto& [deck, rulebook, whole, request, stock, options] = context_;
    const rules::Scale scale = rules::in_range(whole, range);
    if (check == Check::discrimination) return std::nullopt;
    if (check == Check::zero) return rules::zero_setting_limit(rulebook, scale, request.occasion);
    const double at_kg = rules::judged_as_kg(rulebook, scale, request.occasion, kg);
    if (check == Check::repeatability) {
      return rules::range_limit_at(rulebook, scale, request.occasion, check, at_kg);
    }
    return rules::limit_at(rulebook, scale, request.occasion, at_kg);
  }

  void write_zero() {
    if (context_.rulebook.find_test(Check::zero) == nullptr) return;
    Placement zero;
    zero.check = Check::zero;
    zero.limit = limit_of(Check::zero, 0.0, 0);
    zero.source = source_of(Check::zero);
    zero.because = "the deck empty, after three to five loaded passes each way with braking";
    placements_.push_back(std::move(zero));
  }

  /// Known weights by their values, others as substitutes by their names.
  void load(Placement& placement, const Pieces& pieces) const {
    Pieces known = pieces;
    Pieces other = pieces;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
      (context_.stock[i].known ? other : known)[i] = 0;
    }
    placement.weights = taken_of(context_.stock, known);
    placement.weights_kg = load_of(placement.weights, context_.request.weights).kg;
    placement.load_kg = placement.weights_kg + kg_of(context_.stock, other);
    for (const Taken& one : taken_of(context_.stock, other)) {
      placement.substitutes.push_back(one.count == 1 ? one.id
                                                     : one.id + "*" + std::to_string(one.count));
    }
  }

  void finish(Placement& placement, const Pieces& pieces) const {
    const int range = placement.range > 0
                          ? placement.range - 1
                          : rules::smallest_range_for(context_.scale, placement.load_kg);
    placement.limit = limit_of(placement.check, placement.load_kg, range);
    placement.patches = {patch_at(context_.deck, context_.rulebook, context_.stock, pieces,
                                  placement.check, placement.place)};
  }

  [[nodiscard]] Placement placement_of(const Demand& demand) const {
    Placement placement;
    placement.check = demand.check;
    placement.run = demand.run;
    placement.place = demand.place;
    placement.heading = demand.heading;
    placement.source = demand.source;
    placement.required = demand.required;
    placement.because = demand.because;
    return placement;
  }

  void write(const std::vector<MadeGroup>& groups) {
    for (const MadeGroup& made : groups) {
      if (made.group->walks) {
        write_walk(made);
        continue;
      }
      const std::vector<std::string> lorries = next_names(made.lorries);
      for (std::size_t i = 0; i < made.group->demands.size(); ++i) {
        if (made.lorries > 0) {
          write_lorries(made.group->demands[i], lorries);
        } else {
          write_one(made.group->demands[i], made.choices[i]);
        }
      }
    }
  }

  std::vector<std::string> next_names(int count) {
    std::vector<std::string> names;
    for (int i = 0; i < count; ++i) names.push_back(name_of_lorry(++lorries_));
    return names;
  }

  /// "S1", "S2" ..., without those that the user's own weights are called.
  [[nodiscard]] std::string name_of_lorry(int index) const {
    int number = 0;
    std::string name;
    while (index > 0) {
      name = "S" + std::to_string(++number);
      if (!is_listed(context_.request, name)) --index;
    }
    return name;
  }

  void write_one(const Demand& demand, const Choice& choice) {
    Placement placement = placement_of(demand);
    load(placement, choice.pieces);
    placement.read_zero_after = true;
    placement.minutes = choice.minutes;
    placement.handling = main_kind(kinds_of(context_.stock, choice.pieces));
    finish(placement, choice.pieces);
    placements_.push_back(std::move(placement));
  }

  void write_lorries(const Demand& demand, const std::vector<std::string>& names) {
    Placement placement = placement_of(demand);
    placement.substitutes = names;
    placement.load_kg = demand.range.want_kg;
    placement.read_zero_after = true;
    placement.minutes = lorry_minutes(static_cast<int>(names.size()));
    placement.handling = record::Handling::vehicle;
    // A lorry that rolls has an outline of its own, wherever it stops.
    Pieces outline(context_.stock.size(), 0);
    if (demand.check == Check::rolling) outline.back() = 1;
    finish(placement, outline);
    placements_.push_back(std::move(placement));
  }

  void write_walk(const MadeGroup& made) {
    const Walked& walked = made.walked;
    for (std::size_t k = 0; k < walked.order.size(); ++k) {
      const auto index = static_cast<std::size_t>(walked.order[k]);
      Placement placement = placement_of(made.group->demands[index]);
      load(placement, walked.pieces[index]);
      placement.read_zero_before = k == 0;
      placement.read_zero_after = k + 1 == walked.order.size();
      placement.minutes = walked.changes[k].minutes;
      placement.handling = main_kind(walked.changes[k].kinds);
      finish(placement, walked.pieces[index]);
      placements_.push_back(std::move(placement));
    }
  }

  [[nodiscard]] std::string reason_of(const BuildStep& step) const {
    if (step.swap) return "material in the place of the weights, until the display shows the same";
    if (step.check == Check::decreasing) return "a load of the way up, going down";
    if (step.exchange) return "other pieces in the place of those that lie there";
    if (step.check == Check::discrimination) return "a small load must move the display";
    return "";
  }

  /// A display that changes by itself shows a small range going up until its Max, and the great one
  /// all the way down: only there the range is known beforehand.
  [[nodiscard]] int range_of(const BuildStep& step, int range) const {
    if (rules::range_count(context_.scale) == 1) return 0;
    const bool down = step.check == Check::decreasing;
    const int from_load = rules::smallest_range_for(context_.scale, step.load_kg);
    return down || from_load == range ? range + 1 : 0;
  }

  void write_build(const BuildUp& build, int range) {
    const int named = lorries_;
    for (const BuildStep& step : build.steps) {
      Placement placement;
      placement.range = range_of(step, range);
      placement.check = step.check;
      placement.source = source_of(step.check);
      load(placement, step.pieces);
      const int substitutes = step.pieces.back();
      placement.substitutes.clear();
      for (int i = 1; i <= substitutes; ++i) {
        placement.substitutes.push_back(name_of_lorry(named + i));
      }
      lorries_ = std::max(lorries_, named + substitutes);
      placement.load_kg = placement.weights_kg + substitutes * build.weights_kg;
      placement.read_zero_before = step.from_empty;
      placement.read_zero_after = step.then_empty;
      placement.added_d = step.added_d;
      placement.minutes = step.minutes;
      placement.handling = main_kind(step.kinds);
      placement.because = reason_of(step);
      finish(placement, step.pieces);
      placements_.push_back(std::move(placement));
    }
  }

  void write_strain() {
    Pieces pieces(context_.stock.size(), 0);
    for (const BuildStep& step : solution_.build.steps) {
      if (step.check == Check::increasing) pieces = step.pieces;
    }
    Placement placement;
    placement.check = Check::strain;
    placement.source = source_of(Check::strain);
    placement.required = context_.options.strain_required;
    load(placement, pieces);
    // The lorry is no known load: the error is that of the weights (HB 44, App. D).
    placement.load_kg = placement.weights_kg;
    placement.substitutes = next_names(1);
    placement.read_zero_after = true;
    placement.minutes = solution_.strain.minutes;
    placement.handling = main_kind(solution_.strain.kinds);
    placement.because = "known weights on top of a lorry, together as near to Max as is used";
    finish(placement, pieces);
    placements_.push_back(std::move(placement));
    write_discrimination_on_strain(pieces);
  }

  /// The greatest load of all is that of the strain test: the small load is tried there as well.
  void write_discrimination_on_strain(const Pieces& pieces) {
    const std::vector<double>& shares = context_.rulebook.discrimination_shares;
    const rules::TestRule* const test = context_.rulebook.find_test(Check::discrimination);
    const bool asked = test != nullptr && rules::is_asked(context_.rulebook, context_.scale,
                                                          context_.request.occasion, *test);
    if (!asked ||
        std::none_of(shares.begin(), shares.end(), [](double share) { return share >= 1.0; })) {
      return;
    }
    Placement& strain = placements_.back();
    Placement step = strain;
    strain.read_zero_after = false;
    step.check = Check::discrimination;
    step.source = source_of(Check::discrimination);
    step.load_kg = context_.scale.capacity_kg;
    step.added_d = context_.rulebook.discrimination_added_d.value;
    step.read_zero_before = false;
    step.handling = std::nullopt;
    step.minutes = 0.0;
    step.because = "a small load must move the display";
    finish(step, pieces);
    placements_.push_back(std::move(step));
  }

  const PlanContext& context_;
  const Solution& solution_;
  std::vector<Placement> placements_;
  int lorries_ = 0;
};

}  // namespace

std::vector<Placement> write_plan(const PlanContext& context, const Solution& solution) {
  return Writer(context, solution).run();
}

}  // namespace weighwright::proof
