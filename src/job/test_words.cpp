#include "job/test_words.h"

#include <fmt/format.h>

#include <cmath>

#include "units/place.h"

namespace weighwright::job {
namespace {

std::string own_name(rules::Check check) {
  switch (check) {
    case rules::Check::zero:
      return "Zero";
    case rules::Check::eccentric:
      return "Load over each support";
    case rules::Check::section:
      return "Section test";
    case rules::Check::rolling:
      return "Rolling load";
    case rules::Check::increasing:
      return "Increasing load";
    case rules::Check::decreasing:
      return "Decreasing load";
    case rules::Check::repeatability:
      return "Repeatability";
    case rules::Check::discrimination:
      return "Discrimination";
    case rules::Check::strain:
      return "Strain load";
    case rules::Check::midspan:
      return "Load between stands";
    case rules::Check::tare:
      return "Accuracy of tare";
    case rules::Check::indications:
      return "Displays and printer agree";
    case rules::Check::zero_range:
      return "Range of zero setting";
    case rules::Check::overload:
      return "Greatest indication";
  }
  return "";
}

}  // namespace

std::string test_name(const rules::Rulebook& rulebook, rules::Check check) {
  const rules::TestRule* const rule = rulebook.find_test(check);
  return rule != nullptr && !rule->name.empty() ? rule->name : own_name(check);
}

std::string place_words(const record::LoadPlace& place) {
  using Kind = record::LoadPlace::Kind;
  switch (place.kind) {
    case Kind::stand:
      return "over " + units::print(place.stand);
    case Kind::section:
      return fmt::format("over section {}", place.section.value + 1);
    case Kind::span:
      return fmt::format("between sections {} and {}", place.section.value + 1,
                         place.section.value + 2);
    case Kind::point: {
      constexpr double kCentre_m = 0.005;
      if (std::abs(place.y_m) < kCentre_m) return fmt::format("at {:.2f} m", place.x_m);
      return fmt::format("at {:.2f} m, {:.2f} m {}", place.x_m, std::abs(place.y_m),
                         place.y_m > 0.0 ? "left" : "right");
    }
    case Kind::deck:
      break;
  }
  return "";
}

std::string place_text(const record::LoadPlace& place) {
  using Kind = record::LoadPlace::Kind;
  switch (place.kind) {
    case Kind::stand:
      return units::print(place.stand);
    case Kind::section:
      return std::to_string(place.section.value + 1);
    case Kind::span:
      return fmt::format("{}-{}", place.section.value + 1, place.section.value + 2);
    case Kind::point:
    case Kind::deck:
      break;
  }
  return "";
}

std::string heading_words(record::Heading heading) {
  if (heading == record::Heading::to_end_2) return "going to end 2";
  return heading == record::Heading::to_end_1 ? "going to end 1" : "";
}

std::string_view heading_code(record::Heading heading) {
  if (heading == record::Heading::to_end_2) return "to_end_2";
  return heading == record::Heading::to_end_1 ? "to_end_1" : "";
}

std::string_view handling_code(record::Handling handling) {
  switch (handling) {
    case record::Handling::hand:
      return "hand";
    case record::Handling::cart:
      return "cart";
    case record::Handling::crane:
      return "crane";
    case record::Handling::fork:
      return "fork";
    case record::Handling::vehicle:
      return "vehicle";
  }
  return "";
}

std::string handling_words(record::Handling handling) {
  switch (handling) {
    case record::Handling::hand:
      return "weights by hand";
    case record::Handling::cart:
      return "test weight cart";
    case record::Handling::crane:
      return "crane truck";
    case record::Handling::fork:
      return "forklift";
    case record::Handling::vehicle:
      return "loaded vehicle";
  }
  return "";
}

std::string taken_text(const std::vector<proof::Taken>& taken) {
  std::string text;
  for (const proof::Taken& one : taken) {
    text += (text.empty() ? "" : "+") + one.id;
    if (one.count != 1) text += "*" + std::to_string(one.count);
  }
  return text;
}

}  // namespace weighwright::job
