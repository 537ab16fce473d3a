#include "rules/rulebook.h"

#include <algorithm>
#include <array>
#include <utility>

namespace weighwright::rules {

namespace {

constexpr std::array<std::pair<Check, std::string_view>, 14> kChecks = {{
    {Check::zero, "zero"},
    {Check::eccentric, "eccentric"},
    {Check::section, "section"},
    {Check::rolling, "rolling"},
    {Check::increasing, "increasing"},
    {Check::decreasing, "decreasing"},
    {Check::repeatability, "repeatability"},
    {Check::discrimination, "discrimination"},
    {Check::strain, "strain"},
    {Check::midspan, "midspan"},
    {Check::tare, "tare"},
    {Check::indications, "indications"},
    {Check::zero_range, "zero_range"},
    {Check::overload, "overload"},
}};

constexpr std::array<std::pair<Occasion, std::string_view>, 7> kOccasions = {{
    {Occasion::as_new, "new"},
    {Occasion::after_rejection, "after_rejection"},
    {Occasion::overhaul, "overhaul"},
    {Occasion::adjusted, "adjusted"},
    {Occasion::routine, "routine"},
    {Occasion::as_found, "as_found"},
    {Occasion::type, "type"},
}};

constexpr std::array<std::pair<Stage, std::string_view>, 4> kStages = {{
    {Stage::type, "type"},
    {Stage::initial, "initial"},
    {Stage::subsequent, "subsequent"},
    {Stage::in_service, "in_service"},
}};

template <typename Value, std::size_t kSize>
std::string_view code_in(const std::array<std::pair<Value, std::string_view>, kSize>& table,
                         Value value) {
  for (const auto& [candidate, code] : table) {
    if (candidate == value) return code;
  }
  return "";
}

template <typename Value, std::size_t kSize>
std::optional<Value> value_in(const std::array<std::pair<Value, std::string_view>, kSize>& table,
                              std::string_view code) {
  for (const auto& [value, candidate] : table) {
    if (candidate == code) return value;
  }
  return std::nullopt;
}

template <typename Value, std::size_t kSize>
std::vector<Value> values_of(const std::array<std::pair<Value, std::string_view>, kSize>& table) {
  std::vector<Value> values;
  for (const auto& [value, code] : table) values.push_back(value);
  return values;
}

template <typename Row, typename Matches>
const Row* first_of(const std::vector<Row>& rows, Matches matches) {
  const auto found = std::find_if(rows.begin(), rows.end(), matches);
  return found == rows.end() ? nullptr : &*found;
}

}  // namespace

const ClassRule* Rulebook::find_class(std::string_view name) const {
  return first_of(classes, [name](const ClassRule& rule) { return rule.name == name; });
}

const OccasionRule* Rulebook::find_occasion(Occasion occasion) const {
  return first_of(occasions,
                  [occasion](const OccasionRule& rule) { return rule.occasion == occasion; });
}

const TestRule* Rulebook::find_test(Check check) const {
  return first_of(tests, [check](const TestRule& rule) { return rule.check == check; });
}

std::string Rulebook::cite(const Source& source) const {
  if (source.clause.empty() || source.clause.starts_with(kCommonPractice)) return source.clause;
  const std::string& document = source.document.empty() ? cited_as : source.document;
  return document.empty() ? source.clause : document + ", " + source.clause;
}

std::string pedigree(const Source& source) {
  switch (source.basis) {
    case Basis::read:
      return "";
    case Basis::quoted:
      return "as quoted by " + source.carrier;
    case Basis::memory:
      break;
  }
  return "from memory, unverified";
}

std::string_view code_of(Check check) {
  return code_in(kChecks, check);
}
std::optional<Check> find_check(std::string_view code) {
  return value_in(kChecks, code);
}

std::string_view code_of(Occasion occasion) {
  return code_in(kOccasions, occasion);
}
std::optional<Occasion> find_occasion(std::string_view code) {
  if (code == "as_new") return Occasion::as_new;
  return value_in(kOccasions, code);
}

std::string_view code_of(Stage stage) {
  return code_in(kStages, stage);
}
std::optional<Stage> find_stage(std::string_view code) {
  return value_in(kStages, code);
}

Stage usual_stage(Occasion occasion) {
  switch (occasion) {
    case Occasion::type:
      return Stage::type;
    case Occasion::as_new:
      return Stage::initial;
    case Occasion::after_rejection:
    case Occasion::overhaul:
    case Occasion::adjusted:
      return Stage::subsequent;
    case Occasion::routine:
    case Occasion::as_found:
      break;
  }
  return Stage::in_service;
}

bool is_of_indicator(Check check) {
  return check == Check::tare || check == Check::indications || check == Check::zero_range ||
         check == Check::overload;
}

const std::vector<Check>& all_checks() {
  static const std::vector<Check> kAll = values_of(kChecks);
  return kAll;
}

const std::vector<Occasion>& all_occasions() {
  static const std::vector<Occasion> kAll = values_of(kOccasions);
  return kAll;
}

}  // namespace weighwright::rules
