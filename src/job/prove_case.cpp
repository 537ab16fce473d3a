#include "job/prove_case.h"

#include <fmt/format.h>

#include <cmath>
#include <utility>
#include <variant>

#include "job/rulebook_of.h"
#include "job/span_case.h"
#include "job/trim_case.h"
#include "proof/air.h"
#include "record/csv.h"
#include "record/result_days.h"
#include "record/typed_number.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

bool is_move(const record::Measurement& event) {
  return std::holds_alternative<record::TurnSet>(event) ||
         std::holds_alternative<record::TrimSet>(event);
}

class ProveCase {
 public:
  explicit ProveCase(const ProveCaseRequest& request) : request_(request) {}

  ProveAnswer answer() {
    LoadedDeck loaded = load_deck(request_.deck);
    if (!loaded.ok()) return {.view = {}, .faults = std::move(loaded.faults)};
    RulebookAnswer book = rulebook_of(*loaded.deck, request_.rulebook);
    if (!book.rulebook) return {.view = {}, .faults = std::move(book.faults)};
    const OccasionAnswer occasion = occasion_of(*book.rulebook, request_.occasion);
    take(occasion.faults);
    read_files(*loaded.deck);
    read_air();
    check_guard();
    if (!faults_.empty()) return {.view = {}, .faults = std::move(faults_)};
    case_.occasion = *occasion.occasion;
    case_.day = request_.day;
    case_.as_left = !request_.as_found;
    std::optional<proof::Foreknown> known;
    if (case_.results.empty()) known = foreknown_of(loaded, others_);
    return {.view = proof_view(loaded, *book.rulebook, case_, known,
                               {.hash = book.hash, .confirmed = {}, .another = {}}),
            .faults = {}};
  }

 private:
  void take(const units::Diagnostics& faults) {
    faults_.insert(faults_.end(), faults.begin(), faults.end());
  }

  void fault(std::string what, std::string expected) {
    faults_.push_back({.file = "command line",
                       .line = 0,
                       .column = 0,
                       .what = std::move(what),
                       .expected = std::move(expected)});
  }

  void read_files(const deck::Deck& deck) {
    for (const InputFile& file : request_.files) {
      record::ParsedMeasurement parsed =
          record::parse_measurement(file.text, file.name, static_cast<int>(deck.sections.size()),
                                    static_cast<int>(deck.joints.size()));
      take(parsed.faults);
      if (!parsed.value) continue;
      if (auto* results = std::get_if<record::ProofSet>(&*parsed.value)) {
        record::give_days(*results, request_.day);
        case_.results.push_back(std::move(*results));
      } else if (auto* weights = std::get_if<record::WeightSet>(&*parsed.value)) {
        case_.weights.insert(case_.weights.end(), weights->weights.begin(), weights->weights.end());
      } else {
        if (is_move(*parsed.value)) case_.first_fresh = static_cast<int>(case_.results.size());
        others_.push_back(std::move(*parsed.value));
      }
    }
  }

  void read_air() {
    if (!request_.air) return;
    const TypedAir air = parse_air(*request_.air);
    if (!air.fault.empty()) {
      fault("--air: " + air.fault, "temperature, pressure, humidity: \"12 degC, 1003 hPa, 60 %\"");
      return;
    }
    case_.conditions.air_kg_per_m3 = air_density_of(air);
    case_.conditions.temperature_low_degC = air.temperature_degC;
    case_.conditions.temperature_high_degC = air.temperature_degC;
  }

  void check_guard() {
    if (!request_.guard) {
      if (request_.binary) fault("--binary without --guard", "--guard 1 as well, or neither");
      return;
    }
    constexpr double kMost = 3.0;
    if (!(*request_.guard > 0.0 && *request_.guard <= kMost)) {
      fault(fmt::format("--guard {:g}", *request_.guard),
            "above 0, at most 3 (expanded uncertainties); 1 as a rule");
    }
    case_.rule =
        request_.binary ? proof::DecisionRule::guarded_binary : proof::DecisionRule::guarded;
    case_.guard = *request_.guard;
  }

  const ProveCaseRequest& request_;
  proof::ProofCase case_;
  std::vector<record::Measurement> others_;
  units::Diagnostics faults_;
};

/// One part of an air text, "1003 hPa". False: it is none.
bool take_part(std::string text, TypedAir& air) {
  while (!text.empty() && text.front() == ' ') text.erase(0, 1);
  while (!text.empty() && text.back() == ' ') text.pop_back();
  const auto plain = [&](std::string_view unit) -> std::optional<double> {
    if (!text.ends_with(unit)) return {};
    std::string figure = text.substr(0, text.size() - unit.size());
    while (!figure.empty() && figure.back() == ' ') figure.pop_back();
    const record::TypedNumber number = record::read_number(figure);
    if (number.fault != record::TypedNumber::Fault::none) return {};
    return number.value;
  };
  if (const auto hPa = plain("hPa")) {
    air.pressure_hPa = hPa;
  } else if (const auto percent = plain("%")) {
    air.humidity_percent = percent;
  } else {
    const units::Parsed degrees = units::parse(text, units::Kind::temperature);
    if (!degrees.ok()) return false;
    air.temperature_degC = degrees.value;
  }
  return true;
}

bool within(const std::optional<double>& value, double low, double high) {
  return !value || (*value >= low && *value <= high);
}

}  // namespace

ProveAnswer prove_case(const ProveCaseRequest& request) {
  return ProveCase(request).answer();
}

TypedAir parse_air(const std::string& text) {
  TypedAir air;
  std::string_view rest = text;
  while (true) {
    const std::size_t comma = rest.find(',');
    if (!take_part(std::string(rest.substr(0, comma)), air)) {
      air.fault = units::quote(rest.substr(0, comma)) +
                  " is no temperature, no pressure in hPa and no humidity in %";
      return air;
    }
    if (comma == std::string_view::npos) break;
    rest.remove_prefix(comma + 1);
  }
  if (!within(air.temperature_degC, -60.0, 60.0) || !within(air.pressure_hPa, 500.0, 1100.0) ||
      !within(air.humidity_percent, 0.0, 100.0)) {
    air.fault =
        units::quote(text) + " is out of range (-60 to 60 degC, 500 to 1100 hPa, 0 to 100 %)";
  }
  return air;
}

std::optional<double> air_density_of(const TypedAir& air) {
  if (!air.temperature_degC || !air.pressure_hPa || !air.humidity_percent) return {};
  return proof::cipm_2007({.temperature_degC = *air.temperature_degC,
                           .pressure_Pa = *air.pressure_hPa * 100.0,
                           .humidity = *air.humidity_percent / 100.0})
      .kg_per_m3;
}

proof::Foreknown foreknown_of(const LoadedDeck& loaded,
                              const std::vector<record::Measurement>& events) {
  const deck::Deck& deck = *loaded.deck;
  // Nothing read yet: the span of a deck that is set by its papers is good to about 0.1 % (common
  // practice, no source), its corners to an interval.
  constexpr double kPapers = 0.001;
  const double e_kg = deck.interval_at_kg(deck.capacity_kg);
  proof::Foreknown known{.slope = 1.0,
                         .u_slope = kPapers,
                         .spread_kg = e_kg / std::sqrt(12.0),
                         .reference_kg = deck.capacity_kg / 2.0,
                         .repeatability_kg = 0.3 * deck.display_at_kg(deck.capacity_kg)};
  if (deck.trimming.repeatability_kg) known.repeatability_kg = *deck.trimming.repeatability_kg;
  std::vector<record::Measurement> shifts;
  std::vector<record::Measurement> loads;
  for (const record::Measurement& event : events) {
    if (std::holds_alternative<record::LoadSet>(event)) loads.push_back(event);
    const bool corner = std::holds_alternative<record::ShiftSet>(event) ||
                        std::holds_alternative<record::TrimSet>(event);
    if (corner) shifts.push_back(event);
  }
  if (!loads.empty()) {
    const SpanAnswer span = span_events(loaded, loads, true, true);
    if (span.view && span.view->has_results) {
      known.slope = span.view->slope;
      known.u_slope = span.view->u_slope;
    }
  }
  if (!shifts.empty()) {
    const TrimAnswer trim = trim_events(loaded, shifts);
    if (trim.view && trim.view->reference_load_kg > 0.0) {
      known.spread_kg = trim.view->before.kg / std::sqrt(12.0);
      known.reference_kg = trim.view->reference_load_kg;
    }
  }
  return known;
}

}  // namespace weighwright::job
