#include "span/results.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string_view>

#include "trim/indications.h"
#include "units/quantity.h"

namespace weighwright::span {
namespace {

using record::LoadReading;
using units::quote;

constexpr double kZeroRange_of_Max = 0.04;  // zero setting range (R 76-1:2006, 4.5.1; from memory)
constexpr double kRepeats = 0.1;  // a substitute repeats an indication within this part of it

std::vector<std::string> names_in(const std::string& material) {
  std::vector<std::string> names;
  std::size_t begin = 0;
  while (begin <= material.size() && !material.empty()) {
    const std::size_t end = std::min(material.find('+', begin), material.size());
    const std::string_view name = std::string_view(material).substr(begin, end - begin);
    const std::size_t first = name.find_first_not_of(' ');
    const std::size_t last = name.find_last_not_of(' ');
    names.emplace_back(first == std::string_view::npos ? name
                                                       : name.substr(first, last - first + 1));
    begin = end + 1;
  }
  return names;
}

class Reader {
 public:
  explicit Reader(const deck::Deck& deck) : deck_(deck) {}

  ReadResults read(const std::vector<record::LoadSet>& sets) {
    for (const record::LoadSet& set : sets) {
      for (const LoadReading& reading : set.readings) check(set, reading);
      for (const trim::Indication& indication : trim::indications(deck_, set.readings)) {
        add(set, set.readings[indication.reading], indication);
      }
    }
    if (faults_.empty() && results_.results.empty()) {
      fault("", 0, "no load stood on the deck in any of these files",
            "rows with a load and an indication");
    }
    ReadResults answer{.results = {}, .faults = faults_};
    if (faults_.empty()) answer.results = std::move(results_);
    return answer;
  }

 private:
  void fault(const std::string& file, int line, std::string what, std::string expected) {
    faults_.push_back({.file = file,
                       .line = line,
                       .column = 0,
                       .what = std::move(what),
                       .expected = std::move(expected)});
  }

  /// What can be no deck: an empty one that shows a load, more than Max on it.
  void check(const record::LoadSet& set, const LoadReading& reading) {
    const bool empty = reading.load_kg && *reading.load_kg == 0.0 && reading.material.empty();
    if (empty && std::abs(reading.indication_kg) > kZeroRange_of_Max * deck_.capacity_kg) {
      fault(set.source, reading.line,
            "the load is 0, and the display shows " + units::print_fixed(reading.indication_kg, 0) +
                " kg",
            "0 for the empty deck only; material = NAME for a load of unknown mass");
    }
    if (reading.load_kg.value_or(0.0) > deck_.capacity_kg) {
      fault(set.source, reading.line,
            "a load of " + units::print_fixed(*reading.load_kg, 0) + " kg is above Max, " +
                units::print_fixed(deck_.capacity_kg, 0) + " kg",
            "a load that the weighbridge is made for");
    }
  }

  [[nodiscard]] const Material* find(const std::string& name) const {
    const auto found = std::find_if(results_.materials.begin(), results_.materials.end(),
                                    [&](const Material& known) { return known.name == name; });
    return found == results_.materials.end() ? nullptr : &*found;
  }

  void add(const record::LoadSet& set,
           const LoadReading& reading,
           const trim::Indication& indication) {
    Result result;
    result.weights_kg = reading.load_kg.value_or(0.0);
    result.material = reading.material;
    result.indicated_kg = indication.kg;
    result.u_kg = indication.u_kg;
    result.zero_change_kg = indication.zero_change_kg;
    result.going = reading.going;
    result.from_empty = indication.from_empty;
    result.file = set.source;
    result.line = reading.line;
    if (!reading.load_kg && reading.material.empty()) {
      fault(set.source, reading.line, "a load of unknown mass says nothing of the span",
            "known weights; or material = NAME for a substitute that repeats their indication");
      return;
    }
    if (weigh_materials(result)) results_.results.push_back(std::move(result));
  }

  /// Total with the materials that are known; one that is new gets its worth from this reading.
  bool weigh_materials(Result& result) {
    result.total_kg = result.weights_kg;
    double u = 0.0;  // materials fixed one on the other go the same way: added, not squared
    std::vector<std::string> fresh;
    const std::vector<std::string> names = names_in(result.material);
    for (std::size_t i = 0; i < names.size(); ++i) {
      const std::string& name = names[i];
      if (std::find(names.begin(), names.begin() + static_cast<std::ptrdiff_t>(i), name) !=
          names.begin() + static_cast<std::ptrdiff_t>(i)) {
        fault(result.file, result.line,
              "the material " + quote(name) + " stands twice in one reading",
              "each material once; a second heap is another material");
        return false;
      }
      const Material* const known = find(name);
      if (known == nullptr) {
        fresh.push_back(name);
        continue;
      }
      result.total_kg += known->kg;
      u += known->u_kg;
    }
    result.u_total_kg = u;
    if (fresh.empty()) return true;
    if (fresh.size() > 1) {
      fault(result.file, result.line,
            "the materials " + quote(fresh[0]) + " and " + quote(fresh[1]) +
                " are both new in one reading",
            "a reading with each new material alone, where it repeats a known load's indication");
      return false;
    }
    return fix(result, fresh.front());
  }

  bool fix(Result& result, const std::string& name) {
    const Result* nearest = nullptr;
    for (const Result& known : results_.results) {
      if (known.indicated_kg <= 0.0 || known.total_kg <= 0.0) continue;
      if (nearest == nullptr || std::abs(known.indicated_kg - result.indicated_kg) <
                                    std::abs(nearest->indicated_kg - result.indicated_kg)) {
        nearest = &known;
      }
    }
    if (nearest == nullptr ||
        std::abs(nearest->indicated_kg - result.indicated_kg) > kRepeats * nearest->indicated_kg) {
      fault(result.file, result.line,
            "nothing known was indicated near " + units::print_fixed(result.indicated_kg, 0) +
                " kg, so " + quote(name) + " has no worth",
            "weights first; then the substitute until the display shows about the same");
      return false;
    }
    // The error found at the known load is taken to be the error here, in proportion: the span is
    // not set yet.
    const double slope = nearest->indicated_kg / nearest->total_kg;
    const double total = nearest->total_kg + (result.indicated_kg - nearest->indicated_kg) / slope;
    const double u = std::hypot(nearest->u_total_kg, std::hypot(nearest->u_kg, result.u_kg));
    Material material{.name = name, .kg = total - result.total_kg, .u_kg = u, .line = result.line};
    results_.materials.push_back(material);
    result.total_kg = total;
    result.u_total_kg = u;
    result.fixes_material = true;
    return true;
  }

  const deck::Deck& deck_;
  Results results_;
  units::Diagnostics faults_;
};

}  // namespace

ReadResults read_results(const deck::Deck& deck, const std::vector<record::LoadSet>& sets) {
  return Reader(deck).read(sets);
}

}  // namespace weighwright::span
