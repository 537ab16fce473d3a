#include "job/site_proof.h"

#include <algorithm>
#include <cmath>
#include <utility>
#include <variant>

#include "job/proof_words.h"
#include "job/prove_case.h"
#include "job/rulebook_of.h"
#include "job/test_words.h"
#include "record/result_days.h"

namespace weighwright::job {
namespace {

using record::field;

/// A result belongs to a planned placement when the load is near: weights are combined as they
/// come.
constexpr double kNearLoad = 0.05;
/// A repeated load is near the weights within a quarter, as for the verdict (common practice, no
/// source).
constexpr double kNearWeights = 0.25;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

class SiteProver {
 public:
  SiteProver(const SiteState& state, bool sampled) : state_(state), sampled_(sampled) {}

  SiteProof gather() {
    find_rulebook();
    find_occasion();
    find_weights();
    find_results();
    find_air();
    std::sort(proof_.lines.begin(), proof_.lines.end());
    return std::move(proof_);
  }

  static void judge(const SiteState& state, SiteProof& proof) {
    if (!proof.rulebook || !proof.occasion) return;
    if (!proof.left.results.empty()) {
      proof.verdict =
          proof_view(judged_deck(state), *proof.rulebook, proof.left, std::nullopt, proof.standing);
    }
    plan(state, proof);
    match(proof);
  }

 private:
  const record::Fields& fields(int line) const { return state_.history.words(line).fields; }

  void find_rulebook() {
    std::optional<InputFile> variant;
    if (state_.rulebook_line >= 0) {
      const record::Fields& said = fields(state_.rulebook_line);
      variant = InputFile{.name = source_name(state_.rulebook_line + 1, field(said, "file")),
                          .text = std::string(field(said, "text"))};
      proof_.lines.push_back(state_.rulebook_line);
    }
    RulebookAnswer answer = rulebook_of(*state_.deck->deck, variant);
    proof_.rulebook = std::move(answer.rulebook);
    proof_.faults = std::move(answer.faults);
    proof_.standing = rules_standing_of(state_, std::move(answer.hash));
  }

  void find_occasion() {
    if (state_.occasion_line < 0 || !proof_.rulebook) return;
    const record::Fields& said = fields(state_.occasion_line);
    const OccasionAnswer answer =
        occasion_of(*proof_.rulebook, std::string(field(said, "occasion")));
    proof_.occasion = answer.occasion;
    proof_.decision = find_decision(field(said, "decision")).value_or(proof::DecisionRule::simple);
    proof_.lines.push_back(state_.occasion_line);
  }

  void find_weights() {
    for (const Event& event : state_.events) {
      const auto* const set = std::get_if<record::WeightSet>(&event.what);
      if (set == nullptr) continue;
      proof_.lines.push_back(event.line);
      for (const record::Weight& weight : set->weights) {
        const auto same =
            std::find_if(proof_.weights.begin(), proof_.weights.end(),
                         [&](const record::Weight& known) { return known.id == weight.id; });
        if (same == proof_.weights.end()) {
          proof_.weights.push_back(weight);
        } else {
          *same = weight;
        }
      }
    }
  }

  void find_results() {
    const int last = state_.last_adjustment();
    proof_.left = base_case();
    proof_.found = base_case();
    proof_.found.conditions.adjusted_now = false;
    proof_.found.as_left = false;
    proof_.found.occasion = rules::Occasion::as_found;
    if (proof_.occasion) proof_.left.occasion = *proof_.occasion;
    for (const Event& event : state_.events) {
      const auto* const typed = std::get_if<record::ProofSet>(&event.what);
      if (typed == nullptr || event.line < state_.visit_line) continue;
      record::ProofSet set = *typed;
      record::give_days(set, day_of(state_, event.line));
      proof_.lines.push_back(event.line);
      const bool found = state_.first_adjustment && event.line < *state_.first_adjustment;
      const bool apart = made_apart_from_a_move(event.line);
      if (found) {
        join(set, 0, proof_.found.results);
        if (apart) doubt_last(proof_.found);
        proof_.found.day = day_of(state_, event.line);
        // A seal that was broken since changes no result: they are as left too.
        if (event.line < last) continue;
      }
      join(set, proof_.left.first_fresh, proof_.left.results);
      if (apart) doubt_last(proof_.left);
      if (event.line < last) proof_.left.first_fresh = static_cast<int>(proof_.left.results.size());
      proof_.left.day = day_of(state_, event.line);
    }
  }

  /// Something was moved on one copy of the journal while these results were read on another, and
  /// nobody has settled which came first.
  [[nodiscard]] bool made_apart_from_a_move(int line) const {
    const std::vector<Conflict>& conflicts = state_.history.conflicts;
    return std::any_of(conflicts.begin(), conflicts.end(), [line](const Conflict& one) {
      return one.kind == Conflict::Kind::order && !one.settled &&
             (one.first == line || one.second == line);
    });
  }

  static void doubt_last(proof::ProofCase& what) {
    what.order_unknown.push_back(static_cast<int>(what.results.size()) - 1);
  }

  /// Lines come one by one on a phone; a load that goes on without a look at zero between belongs
  /// to the lines before. @param first  sets before it are not added to
  static void join(const record::ProofSet& set, int first, std::vector<record::ProofSet>& results) {
    if (set.readings.empty()) return;
    const record::ProofReading& one = set.readings.front();
    const bool begins = one.check == "zero" || one.reading.zero_before_kg.has_value();
    if (begins || static_cast<int>(results.size()) <= first) {
      results.push_back(set);
      return;
    }
    for (record::ProofReading reading : set.readings) {
      reading.source = set.source;
      results.back().readings.push_back(std::move(reading));
    }
  }

  [[nodiscard]] proof::ProofCase base_case() const {
    proof::ProofCase base;
    base.weights = proof_.weights;
    base.sample = sampled_;
    base.rule = proof_.decision;
    base.conditions.adjusted_now = state_.span_line > state_.visit_line;
    const int lines = static_cast<int>(state_.history.lines.size());
    if (lines > 0) base.day = day_of(state_, lines - 1);
    return base;
  }

  void find_air() {
    TypedAir air;
    for (const int line : state_.weather) {
      const record::Draft& said = state_.history.words(line);
      const auto degrees = record::figure_of(said, "temp_degC");
      if (const auto value = record::figure_of(said, "pressure_hPa")) air.pressure_hPa = value;
      if (const auto value = record::figure_of(said, "humidity_percent")) {
        air.humidity_percent = value;
      }
      proof_.lines.push_back(line);
      if (!degrees) continue;
      air.temperature_degC = degrees;
      for (proof::ProofCase* one : {&proof_.found, &proof_.left}) {
        auto& low = one->conditions.temperature_low_degC;
        auto& high = one->conditions.temperature_high_degC;
        low = std::min(low.value_or(*degrees), *degrees);
        high = std::max(high.value_or(*degrees), *degrees);
      }
    }
    proof_.left.conditions.air_kg_per_m3 = air_density_of(air);
    proof_.found.conditions.air_kg_per_m3 = proof_.left.conditions.air_kg_per_m3;
  }

  static void plan(const SiteState& state, SiteProof& proof) {
    if (proof.weights.empty()) return;
    proof::PlanRequest request;
    request.occasion = *proof.occasion;
    request.day = proof.left.day;
    request.weights = proof.weights;
    request.rolling =
        field(state.history.words(state.occasion_line).fields, "load_over") != "supports";
    request.repeatability_kg = found_repeatability(proof);
    proof.plan = test_plan_view(judged_deck(state), *proof.rulebook, request);
  }

  /// What fewer weights rest on: the range of a load near all of them, as the verdict takes it,
  /// else the worst of any load.
  static std::optional<double> found_repeatability(const SiteProof& proof) {
    if (!proof.verdict) return std::nullopt;
    double weights_kg = 0.0;
    for (const record::Weight& weight : proof.weights) {
      if (proof::usable(weight, proof.left.day)) weights_kg += weight.count * weight.nominal_kg;
    }
    std::optional<double> near;
    std::optional<double> any;
    for (const report::ProofRangeView& range : proof.verdict->ranges) {
      if (range.check != "repeatability" || range.count == 0) continue;
      any = std::max(any.value_or(0.0), range.value_kg);
      if (std::abs(range.load_kg - weights_kg) > kNearWeights * weights_kg) continue;
      near = std::max(near.value_or(0.0), range.value_kg);
    }
    return near ? near : any;
  }

  /// Which placements have a fresh result, each result for one placement.
  static void match(SiteProof& proof) {
    if (!proof.plan) return;
    std::vector<const record::ProofReading*> results;
    for (std::size_t i = at(proof.left.first_fresh); i < proof.left.results.size(); ++i) {
      for (const record::ProofReading& one : proof.left.results[i].readings) {
        results.push_back(&one);
      }
    }
    proof.done_by.assign(proof.plan->placements.size(), 0);
    for (std::size_t i = 0; i < proof.plan->placements.size(); ++i) {
      const report::PlacementView& placement = proof.plan->placements[i];
      for (std::size_t r = 0; r < results.size(); ++r) {
        if (results[r] == nullptr || !belongs(*results[r], placement)) continue;
        results[r] = nullptr;
        proof.done_by[i] = static_cast<int>(r) + 1;
        break;
      }
      if (proof.done_by[i] == 0 && placement.required && proof.next < 0) {
        proof.next = static_cast<int>(i);
      }
    }
  }

  static bool belongs(const record::ProofReading& result, const report::PlacementView& placement) {
    if (result.check != placement.check || result.run != placement.run) return false;
    if (place_text(result.reading.place) != placement.at) return false;
    if (heading_code(result.heading) != placement.heading) return false;
    if (placement.range > 0 && result.range && *result.range != placement.range) return false;
    if (result.reading.material.empty() != placement.materials.empty()) return false;
    if (!placement.materials.empty() && result.reading.material != placement.materials)
      return false;
    const double planned_kg =
        placement.materials.empty() ? placement.load_kg : placement.weights_kg;
    const double load_kg = result.reading.load_kg.value_or(planned_kg);
    return std::abs(load_kg - planned_kg) <= kNearLoad * std::max(planned_kg, 1.0);
  }

  const SiteState& state_;
  bool sampled_;
  SiteProof proof_;
};

}  // namespace

LoadedDeck judged_deck(const SiteState& state) {
  constexpr double kOutOfReach_kg = 1e6;
  LoadedDeck loaded = *state.deck;
  for (const NotKnown& lacks : loaded.not_known) {
    if (!lacks.capacity) continue;
    loaded.deck->stands[at(lacks.stand.value)].cell.capacity_kg = kOutOfReach_kg;
  }
  return loaded;
}

SiteProof site_proof_of(const SiteState& state, bool with_plan, bool sampled) {
  SiteProof proof = SiteProver(state, sampled).gather();
  if (with_plan) SiteProver::judge(state, proof);
  return proof;
}

std::int64_t day_of(const SiteState& state, int line) {
  constexpr std::int64_t kDay_ms = 86'400'000;
  const record::Stamp& stamp = state.history.lines[at(line)].entry.stamp;
  return (stamp.time_ms + stamp.offset_min * 60'000LL) / kDay_ms;
}

}  // namespace weighwright::job
