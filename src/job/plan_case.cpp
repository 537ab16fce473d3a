#include "job/plan_case.h"

#include <utility>

#include "job/rulebook_of.h"
#include "record/csv.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

class PlanCase {
 public:
  explicit PlanCase(const PlanCaseRequest& request) : request_(request) {}

  PlanAnswer answer() {
    LoadedDeck loaded = load_deck(request_.deck);
    if (!loaded.ok()) return {.view = {}, .faults = std::move(loaded.faults)};
    RulebookAnswer book = rulebook_of(*loaded.deck, request_.rulebook);
    if (!book.rulebook) return {.view = {}, .faults = std::move(book.faults)};
    const OccasionAnswer occasion = occasion_of(*book.rulebook, request_.occasion);
    take(occasion.faults);
    plan_.day = request_.day;
    plan_.rolling = request_.rolling;
    plan_.extras = request_.extras;
    plan_.axle_kg = mass_of("--axle", request_.axle);
    plan_.repeatability_kg = mass_of("--repeatability", request_.repeatability);
    read_weights(*loaded.deck);
    if (!faults_.empty()) return {.view = {}, .faults = std::move(faults_)};
    plan_.occasion = *occasion.occasion;
    return {.view = test_plan_view(loaded, *book.rulebook, plan_), .faults = {}};
  }

 private:
  void take(const units::Diagnostics& faults) {
    faults_.insert(faults_.end(), faults.begin(), faults.end());
  }

  std::optional<double> mass_of(const char* name, const std::optional<std::string>& text) {
    if (!text) return {};
    const units::Parsed parsed = units::parse(*text, units::Kind::mass);
    if (parsed.ok() && parsed.value > 0.0) return parsed.value;
    faults_.push_back(
        {.file = "command line",
         .line = 0,
         .column = 0,
         .what = std::string(name) + ": " +
                 (parsed.ok() ? units::quote(*text) + " is not above 0" : parsed.what),
         .expected = parsed.ok() ? "a mass with its unit" : parsed.expected});
    return {};
  }

  void read_weights(const deck::Deck& deck) {
    if (!request_.weights) return;
    record::ParsedMeasurement parsed = record::parse_measurement(
        request_.weights->text, request_.weights->name, static_cast<int>(deck.sections.size()),
        static_cast<int>(deck.joints.size()));
    take(parsed.faults);
    if (!parsed.value) return;
    if (auto* set = std::get_if<record::WeightSet>(&*parsed.value)) {
      plan_.weights = std::move(set->weights);
      return;
    }
    faults_.push_back(
        {.file = request_.weights->name,
         .line = 1,
         .column = 0,
         .what = "this table holds no weights",
         .expected = "id,nominal_kg with class, certificate, expires, handling, ..."});
  }

  const PlanCaseRequest& request_;
  proof::PlanRequest plan_;
  units::Diagnostics faults_;
};

}  // namespace

PlanAnswer plan_case(const PlanCaseRequest& request) {
  return PlanCase(request).answer();
}

}  // namespace weighwright::job
