#include "job/as_found.h"

#include <algorithm>
#include <set>
#include <variant>

namespace weighwright::job {
namespace {

using record::LoadPlace;
using record::LoadReading;

bool shows_zero(const LoadReading& reading) {
  return reading.zero_before_kg.has_value() || reading.zero_after_kg.has_value() ||
         (reading.load_kg && *reading.load_kg == 0.0);
}

template <class Readings>
bool any_zero(const Readings& readings) {
  return std::any_of(readings.begin(), readings.end(), shows_zero);
}

bool shows_zero(const record::Measurement& what) {
  if (std::holds_alternative<record::ZeroSet>(what)) return true;
  if (const auto* set = std::get_if<record::ShiftSet>(&what)) return any_zero(set->readings);
  if (const auto* set = std::get_if<record::LoadSet>(&what)) return any_zero(set->readings);
  const auto* const proof = std::get_if<record::ProofSet>(&what);
  return proof != nullptr &&
         std::any_of(proof->readings.begin(), proof->readings.end(), [](const auto& one) {
           return one.check == "zero" || shows_zero(one.reading);
         });
}

/// Where a load stood.
class Places {
 public:
  void add(const record::ShiftSet& set) {
    for (const LoadReading& reading : set.readings) {
      if (reading.load_kg && *reading.load_kg == 0.0) continue;
      if (reading.place.kind == LoadPlace::Kind::stand) stands_.insert(reading.place.stand.value);
      if (reading.place.kind == LoadPlace::Kind::section)
        sections_.insert(reading.place.section.value);
    }
  }
  [[nodiscard]] bool all(const deck::Deck& deck) const {
    return stands_.size() == deck.stands.size() || sections_.size() == deck.sections.size();
  }

 private:
  std::set<int> stands_;
  std::set<int> sections_;
};

/// Every demand of the rulebook was answered, whatever the answer.
bool tested_whole(const SiteAdvice& advice) {
  if (!advice.proof.verdict) return false;
  const report::ProofView& verdict = *advice.proof.verdict;
  return verdict.missing.empty() && verdict.outcome != "incomplete" && verdict.outcome != "refused";
}

}  // namespace

AsFoundRead as_found_read(const SiteState& state) {
  AsFoundRead read;
  Places places;
  for (const Event& event : state.events) {
    if (event.line <= state.visit_line) continue;
    read.zero |= shows_zero(event.what);
    read.cells |= std::holds_alternative<record::ReadingSet>(event.what);
    if (const auto* set = std::get_if<record::ShiftSet>(&event.what)) places.add(*set);
  }
  read.corners = places.all(*state.deck->deck);
  return read;
}

bool as_found_complete(const SiteState& state, const SiteAdvice& advice) {
  const AsFoundRead read = as_found_read(state);
  if (state.deck->deck->is_digital() && !read.cells) return false;
  return (read.zero && read.corners) || tested_whole(advice);
}

std::string why_open(const SiteAdvice& advice) {
  if (advice.diagnosis && advice.diagnosis->hold) {
    return "a fault is open, and they tell at which cell";
  }
  if (advice.trim_evidence.anything && advice.trim.view && !advice.trim.view->done) {
    return "corners differ, and they tell a cell or a stand from a trim";
  }
  return "";
}

}  // namespace weighwright::job
