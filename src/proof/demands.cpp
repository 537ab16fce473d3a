#include "proof/demands.h"

#include <algorithm>
#include <cmath>

#include "proof/plan_choice.h"
#include "proof/plan_places.h"

namespace weighwright::proof {
namespace {

using rules::Check;

constexpr double kAbout = 0.05;            // a load that is to be about so much: this much off does
constexpr double kLeastRolling = 0.5;      // of the greatest rolling load, or it says little
constexpr double kMoreOverSupport = 0.25;  // of the load over a support: blocks may make no less
constexpr double kUsualLorry_kg = 40'000.0;  // loaded, on roads (common practice, no source)
constexpr double kRepeatedShare = 0.5;       // of Max, where a rulebook does not say (no source)
constexpr double kNearRepeated = 0.1;        // repeated loads may be so far from the share of Max
constexpr double kMoreOnSection = 1.5;  // where no CLC is stated, no section gets more than this
constexpr double kLeastHalf = 0.8;      // of half a section's load, on one side

class Asking {
 public:
  Asking(const deck::Deck& deck,
         const rules::Rulebook& rulebook,
         const rules::Scale& scale,
         const PlanRequest& request,
         const Stock& stock)
      : deck_(deck), rulebook_(rulebook), scale_(scale), request_(request), stock_(stock) {}

  Demands run() {
    ask_sections();
    ask_eccentric_or_rolling();
    ask_repeatability();
    if (request_.extras) ask_extras();
    return std::move(asked_);
  }

 private:
  [[nodiscard]] Demand demand(Check check, const record::LoadPlace& place) const {
    Demand one;
    one.check = check;
    one.place = place;
    if (const rules::TestRule* rule = rulebook_.find_test(check)) one.source = rule->source;
    return one;
  }

  void ask_sections() {
    const auto load = rules::section_load(rulebook_, scale_);
    if (!load || rulebook_.find_test(Check::section) == nullptr) return;
    const LoadRange range = section_range(*load);
    DemandGroup group{.demands = {}, .walks = !request_.zero_each};
    for (int section = 0; section < scale_.sections; ++section) {
      Demand whole = demand(Check::section, at_section(section));
      whole.range = range;
      whole.because = load->because;
      group.demands.push_back(whole);
      if (!request_.sides) continue;
      for (const units::Side side : {units::Side::left, units::Side::right}) {
        group.demands.push_back(half_of(whole, section, side));
      }
    }
    asked_.places.push_back(std::move(group));
  }

  [[nodiscard]] Demand half_of(const Demand& whole, int section, units::Side side) const {
    Demand half = whole;
    half.place = beside(deck_, section, side);
    half.required = false;
    const auto most = rules::most_on_pattern(rulebook_, scale_, true);
    const double want = std::min(whole.range.want_kg, most ? 2.0 * most->kg : rules::kNoEnd) / 2.0;
    half.range = {.want_kg = want,
                  .least_kg = kLeastHalf * want,
                  .most_kg = most ? most->kg : want * (1.0 + kAbout)};
    half.allowed.most_across_m = usable_width_m(deck_) / 2.0;
    half.because = most ? most->because : "half of the section's load on one side";
    return half;
  }

  LoadRange section_range(const rules::TestLoad& load) {
    LoadRange range{.want_kg = load.kg, .least_kg = load.kg, .most_kg = kMoreOnSection * load.kg};
    if (const auto most = rules::most_on_pattern(rulebook_, scale_, false)) {
      range.most_kg = most->kg;
    } else {
      tell_no_clc(load);
      if (request_.axle_kg) {
        range.most_kg = std::min(range.most_kg, *request_.axle_kg);
        range.least_kg = std::min(range.least_kg, range.most_kg);
        range.want_kg = range.least_kg;
      }
    }
    range.most_kg = std::min(range.most_kg, scale_.capacity_kg);
    return range;
  }

  void tell_no_clc(const rules::TestLoad& load) {
    PlanFinding finding;
    finding.code = "no_clc";
    finding.value = load.kg;
    finding.limit = request_.axle_kg.value_or(0.0);
    finding.what =
        request_.axle_kg
            ? "no CLC on the data plate: section loads are kept to the axle group that the road "
              "allows; the section test can't be judged without it, and the verdict will stay "
              "incomplete"
            : "no CLC on the data plate: nothing says how much one section may carry, and the "
              "verdict will stay incomplete; give it, or the axle group that the road allows";
    finding.source = load.source;
    asked_.findings.push_back(std::move(finding));
  }

  /// What rolls stands in for a load over each support, so it is no smaller.
  [[nodiscard]] double least_rolling_kg() const {
    const auto over_support = rules::eccentric_load(rulebook_, scale_);
    return over_support ? over_support->kg - allowance_kg(over_support->kg) : 0.0;
  }

  /// What weights may make a prescribed load less by, and it still counts as made.
  [[nodiscard]] double allowance_kg(double load_kg) const {
    return rules::prescribed_allowance_kg(rulebook_, scale_, request_.occasion, load_kg);
  }

  [[nodiscard]] double most_rolling_kg() const {
    const auto most = rules::rolling_load(rulebook_, scale_);
    return most ? std::min(most->kg, scale_.capacity_kg) : scale_.capacity_kg;
  }

  /// A vehicle or cart of certified mass; its own mass as a range.
  [[nodiscard]] std::optional<LoadRange> certified_rolling() const {
    const auto known = heaviest_rolling(most_rolling_kg(), true);
    return known && known->want_kg >= least_rolling_kg() ? known : std::nullopt;
  }

  void ask_eccentric_or_rolling() {
    const rules::TestRule* rolling = rulebook_.find_test(Check::rolling);
    if (rolling != nullptr && rolling->required) ask_required_rolling(*rolling);
    const rules::TestRule* eccentric = rulebook_.find_test(Check::eccentric);
    const auto load = rules::eccentric_load(rulebook_, scale_);
    if (!load || eccentric == nullptr) return;
    const bool instead = rolling != nullptr && !rolling->required &&
                         rolling->instead_of == rules::code_of(Check::eccentric) &&
                         scale_.supports > static_cast<int>(rulebook_.eccentric_few_supports.value);
    const auto known = certified_rolling();
    if (instead && request_.rolling && known) {
      asked_.places.push_back(rolling_group(*known, true));
      return;
    }
    if (instead && request_.rolling) tell_no_rolling(*rolling);
    ask_eccentric(*load);
  }

  void ask_eccentric(const rules::TestLoad& load) {
    DemandGroup group;
    const LoadRange range = over_support_range(load);
    for (int stand = 0; stand < scale_.supports; ++stand) {
      Demand one = demand(Check::eccentric, at_stand(stand));
      one.range = range;
      one.allowed.most_across_m = usable_width_m(deck_) / 2.0;
      one.because = load.because;
      group.demands.push_back(std::move(one));
    }
    asked_.places.push_back(std::move(group));
  }

  /// What is prescribed is the least: a little more where the weights make no less, and less only
  /// where they make nothing else; then the verdict stays incomplete, which is told.
  LoadRange over_support_range(const rules::TestLoad& load) {
    const double least = load.kg - allowance_kg(load.kg);
    Demand trial;
    trial.allowed.most_across_m = usable_width_m(deck_) / 2.0;
    for (const double more : {kAbout, kMoreOverSupport}) {
      trial.range = {.want_kg = load.kg, .least_kg = least, .most_kg = load.kg * (1.0 + more)};
      if (can_make(stock_, trial)) return trial.range;
    }
    const LoadRange asked = trial.range;
    trial.range = {.want_kg = load.kg, .least_kg = load.kg * (1.0 - kAbout), .most_kg = load.kg};
    if (!can_make(stock_, trial)) return asked;
    tell_short(load);
    return trial.range;
  }

  void tell_short(const rules::TestLoad& load) {
    PlanFinding finding;
    finding.code = "load_short";
    finding.value = load.kg;
    finding.what = "over each support belong " + std::to_string(std::lround(load.kg)) +
                   " kg at least (" + load.because +
                   ") and the weights at hand make less: the verdict will stay incomplete; bring "
                   "weights that make it";
    finding.source = load.source;
    asked_.findings.push_back(std::move(finding));
  }

  /// A rulebook that asks for rolling loads as such: any vehicle does, since one of unknown mass is
  /// compared with itself between the places.
  void ask_required_rolling(const rules::TestRule& rolling) {
    if (const auto known = certified_rolling()) {
      asked_.places.push_back(rolling_group(*known, true));
      return;
    }
    const auto at_hand = heaviest_rolling(most_rolling_kg(), false);
    const bool enough = at_hand && at_hand->want_kg >= least_rolling_kg();
    if (!enough && !request_.lorries) return tell_rolling_impossible(rolling);
    const double most = most_rolling_kg();
    const double usual = std::min(most, std::max(kUsualLorry_kg, least_rolling_kg()));
    asked_.places.push_back(rolling_group(
        enough ? *at_hand
               : LoadRange{.want_kg = usual, .least_kg = least_rolling_kg(), .most_kg = most},
        false));
    tell_unknown_rolling(rolling);
  }

  void tell_unknown_rolling(const rules::TestRule& rolling) {
    PlanFinding finding;
    finding.code = "rolling_unknown";
    finding.what =
        "the rolling load is a vehicle of unknown mass: it is compared with itself between the "
        "places; let nobody get on or off and burn no fuel between them";
    finding.source = rolling.source;
    asked_.findings.push_back(std::move(finding));
  }

  void tell_rolling_impossible(const rules::TestRule& rolling) {
    PlanFinding finding;
    finding.code = "no_rolling_load";
    finding.value = least_rolling_kg();
    finding.limit = most_rolling_kg();
    finding.blocks = true;
    finding.what = "rolling loads are required and no vehicle or cart of " +
                   std::to_string(std::lround(least_rolling_kg())) + " kg to " +
                   std::to_string(std::lround(most_rolling_kg())) +
                   " kg is at hand: bring one, its mass need not be known";
    finding.source = rolling.source;
    asked_.findings.push_back(std::move(finding));
  }

  void tell_no_rolling(const rules::TestRule& rolling) {
    PlanFinding finding;
    finding.code = "no_rolling_load";
    finding.what =
        "no vehicle or cart of certified mass within the rolling load is at hand: a load "
        "over every support instead";
    finding.source = rolling.source;
    asked_.findings.push_back(std::move(finding));
  }

  /// The heaviest that rolls within a limit: its own mass as a range.
  [[nodiscard]] std::optional<LoadRange> heaviest_rolling(double most_kg, bool known) const {
    double best = 0.0;
    for (const PieceType& type : stock_) {
      if (!type.rolls() || type.count == 0 || (known && !type.known)) continue;
      if (type.kg <= most_kg) best = std::max(best, type.kg);
    }
    if (best == 0.0) return std::nullopt;
    return LoadRange{.want_kg = best, .least_kg = kLeastRolling * best, .most_kg = best};
  }

  [[nodiscard]] record::LoadPlace middle() const {
    const int sections = scale_.sections;
    return sections % 2 == 1 ? at_section(sections / 2) : at_span(sections / 2 - 1);
  }

  [[nodiscard]] DemandGroup rolling_group(const LoadRange& range, bool known) const {
    const auto most = rules::rolling_load(rulebook_, scale_);
    DemandGroup group;
    for (const record::Heading heading : {record::Heading::to_end_2, record::Heading::to_end_1}) {
      std::vector<record::LoadPlace> stops{at_section(0), middle(),
                                           at_section(scale_.sections - 1)};
      if (heading == record::Heading::to_end_1) std::reverse(stops.begin(), stops.end());
      for (const record::LoadPlace& stop : stops) {
        Demand one = demand(Check::rolling, stop);
        one.heading = heading;
        one.range = range;
        if (known) one.range.least_kg = one.range.most_kg;  // the heaviest is asked for
        one.allowed.rolls_only = true;
        one.allowed.known_only = known;
        one.any_lorry = !known && request_.lorries;
        one.because = most ? most->because : "a vehicle that rolls over";
        group.demands.push_back(std::move(one));
      }
    }
    return group;
  }

  void ask_repeatability() {
    ask_substitution_repeats();
    const rules::TestRule* rule = rulebook_.find_test(Check::repeatability);
    if (rule == nullptr || !rules::is_asked(rulebook_, scale_, request_.occasion, *rule)) return;
    const rules::RepeatsAsked asked = rules::repeats_asked(rulebook_, request_.occasion);
    const int count = std::max(2, asked.count);
    std::vector<double> shares = asked.shares;
    if (shares.empty()) shares.push_back(kRepeatedShare);
    for (const double share : shares) {
      ask_series(share * scale_.capacity_kg, count, rule->source,
                 "the same load " + std::to_string(count) + " times");
    }
  }

  /// Any load that stays the same does, known or not.
  void ask_series(double want_kg, int count, const rules::Source& source, std::string because) {
    DemandGroup group;
    for (int run = 1; run <= count; ++run) {
      Demand one = demand(Check::repeatability, {});
      one.run = run;
      one.range = {.want_kg = want_kg,
                   .least_kg = want_kg * (1.0 - kNearRepeated),
                   .most_kg = std::min(scale_.capacity_kg, want_kg * (1.0 + kNearRepeated))};
      one.allowed.known_only = false;
      one.any_lorry = request_.lorries;
      one.source = source;
      one.because = because;
      group.demands.push_back(std::move(one));
    }
    asked_.repeatability.push_back(std::move(group));
  }

  /// Where fewer weights do because the scale repeats well, that is shown with a load near the one
  /// at which material takes their place, whatever the test of repeatability asks.
  void ask_substitution_repeats() {
    const rules::Cited& weighings = rulebook_.substitution_weighings;
    if (weighings.source.clause.empty()) return;
    const double at_hand = greatest_kg(stock_, limits_of(stock_, {}));
    const double without = rules::least_standards(rulebook_, scale_, std::nullopt).weights_kg;
    if (at_hand <= 0.0 || at_hand >= without) return;
    const int count = static_cast<int>(std::lround(weighings.value));
    ask_series(at_hand, count, weighings.source,
               "what fewer weights rest on: about as much as the weights, " +
                   std::to_string(count) + " times");
  }

  /// What no rulebook asks for: a centred or spread load never tests what touches between stands.
  void ask_extras() {
    if (scale_.sections < 2) return;
    const auto pattern = rules::most_on_pattern(rulebook_, scale_, false);
    const auto rolling = rules::rolling_load(rulebook_, scale_);
    const double most = std::min({pattern ? pattern->kg : rules::kNoEnd,
                                  rolling ? rolling->kg : rules::kNoEnd, scale_.capacity_kg});
    const auto vehicle = heaviest_rolling(most, false);
    ask_midspan(most, vehicle);
    if (!vehicle || !asks_no_rolling()) return;
    DemandGroup group;
    for (const record::Heading heading : {record::Heading::to_end_2, record::Heading::to_end_1}) {
      Demand pass = extra(Check::rolling, {}, *vehicle);
      pass.heading = heading;
      pass.allowed.rolls_only = true;
      pass.because = "one pass each way: the error must not turn with the way of driving on";
      group.demands.push_back(std::move(pass));
    }
    asked_.extras.push_back(std::move(group));
  }

  [[nodiscard]] bool asks_no_rolling() const {
    return std::none_of(asked_.places.begin(), asked_.places.end(), [](const DemandGroup& group) {
      return group.demands.front().check == Check::rolling;
    });
  }

  void ask_midspan(double most, const std::optional<LoadRange>& vehicle) {
    auto load = rules::section_load(rulebook_, scale_);
    if (!load) load = rules::eccentric_load(rulebook_, scale_);
    if (!vehicle && !load) return;
    const LoadRange range = vehicle
                                ? *vehicle
                                : LoadRange{.want_kg = std::min(load->kg, most),
                                            .least_kg = (1.0 - kAbout) * std::min(load->kg, most),
                                            .most_kg = std::min(most, (1.0 + kAbout) * load->kg)};
    Demand one = extra(Check::midspan, at_span(longest_span(deck_).value), range);
    one.because = "a heavy load between the stands: what touches there no other test sees";
    asked_.extras.push_back({.demands = {std::move(one)}, .walks = false});
  }

  [[nodiscard]] Demand extra(Check check,
                             const record::LoadPlace& place,
                             const LoadRange& range) const {
    Demand one = demand(check, place);
    one.range = range;
    one.allowed.known_only = false;
    one.required = false;
    one.source = {
        .clause = "common practice, no source", .basis = rules::Basis::memory, .carrier = {}};
    return one;
  }

  const deck::Deck& deck_;
  const rules::Rulebook& rulebook_;
  const rules::Scale& scale_;
  const PlanRequest& request_;
  const Stock& stock_;
  Demands asked_;
};

}  // namespace

Demands demands_of(const deck::Deck& deck,
                   const rules::Rulebook& rulebook,
                   const rules::Scale& scale,
                   const PlanRequest& request,
                   const Stock& stock) {
  return Asking(deck, rulebook, scale, request, stock).run();
}

}  // namespace weighwright::proof
