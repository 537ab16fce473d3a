// What each number of a rulebook is, in words, by its name in the file.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstddef>
#include <string_view>
#include <vector>

#include "job/rules_list.h"

namespace weighwright::job {
namespace {

/// A `*` in the name stands for a class, an occasion or a test, `#` for a row's number; both are
/// put into the words in this order, as "{}".
struct NumberWords {
  std::string_view name;
  const char* says;
};

constexpr std::array kWords = {
    NumberWords{"rounding.before", "errors are judged before rounding (1) or as indicated (0)"},
    NumberWords{"interval_series", "intervals are 1, 2 or 5 times a power of ten (1: so it is)"},
    NumberWords{"class.*.steps[#].up_to",
                "class {}, step {} of the limits: up to so many divisions"},
    NumberWords{"class.*.steps[#].limit",
                "class {}, step {} of the limits: limit of error, divisions"},
    NumberWords{"class.*.further.each",
                "class {}, above the last step: one more limit for each so many divisions"},
    NumberWords{"class.*.further.limit", "class {}, above the last step: so much more, divisions"},
    NumberWords{"class.*.band[#].least_kg", "class {}, row {} of intervals: least interval, kg"},
    NumberWords{"class.*.band[#].most_kg", "class {}, row {} of intervals: greatest interval, kg"},
    NumberWords{"class.*.band[#].least_lb", "class {}, row {} of intervals: least interval, lb"},
    NumberWords{"class.*.band[#].most_lb", "class {}, row {} of intervals: greatest interval, lb"},
    NumberWords{"class.*.band[#].n_min", "class {}, row {} of intervals: fewest intervals"},
    NumberWords{"class.*.band[#].n_max", "class {}, row {} of intervals: most intervals"},
    NumberWords{"class.*.band[#].least_load",
                "class {}, row {} of intervals: least load, divisions"},
    NumberWords{
        "class.*.ranges.least_n",
        "class {}, several ranges: greatest load of one in intervals of the next, at least"},
    NumberWords{"class.*.breaks_down.from_n",
                "class {}: from so many intervals loads coming down are read at every step"},
    NumberWords{"occasion.*.factor", "occasion \"{}\": limits of the table times this"},
    NumberWords{"test.*.required", "test \"{}\": required (1) or not (0)"},
    NumberWords{"test.*.range",
                "test \"{}\": results of one load within the limit of the occasion (1) or of the "
                "table (2)"},
    NumberWords{"zero.setting",
                "zero after setting: off by at most, divisions (0: smallest limit)"},
    NumberWords{"zero.return_minutes",
                "zero after a load: minutes under load for which its limit holds"},
    NumberWords{"zero.return",
                "zero after a load: changed by at most, divisions (0: smallest limit)"},
    NumberWords{"zero.range_share", "zero setting covers at most this share of Max"},
    NumberWords{"zero.tracking", "zero tracking follows at most, divisions"},
    NumberWords{"eccentric.share", "eccentric load, few supports: share of Max and additive tare"},
    NumberWords{"eccentric.few_supports", "eccentric load: up to so many supports are few"},
    NumberWords{"rolling.share", "rolling load: at most this share of Max and additive tare"},
    NumberWords{"section.share", "section test: at least this share of Max"},
    NumberWords{"section.clc_share", "section test: at most this share of the CLC on one pattern"},
    NumberWords{"section.pattern_length_m", "section test: length of the pattern, m"},
    NumberWords{"section.pattern_width_m", "section test: width of the pattern, m"},
    NumberWords{"increasing.loads", "increasing loads: at least so many"},
    NumberWords{"decreasing.share",
                "decreasing load: share of the greatest load (0: the same loads)"},
    NumberWords{"repeatability.count", "repeatability: weighings, at least"},
    NumberWords{"repeatability.at[#]", "repeatability, load {}: share of Max"},
    NumberWords{"discrimination.added", "discrimination: small load, divisions"},
    NumberWords{"discrimination.change",
                "discrimination: the display changes by at least, divisions"},
    NumberWords{"discrimination.at[#]", "discrimination, load {}: share of Max (0: near zero)"},
    NumberWords{"standards.share", "standards: their error at most this share of the limit"},
    NumberWords{"standards.least_kg", "standards: at least, kg"},
    NumberWords{"tare.setting", "accuracy of tare: off by at most, divisions"},
    NumberWords{"indications.apart", "displays and printer: apart by at most, divisions"},
    NumberWords{"repeatability.type.at[#]",
                "type examination: repeatability, series {}: share of Max"},
    NumberWords{"test.discrimination.digital_exempt.subsequent",
                "discrimination of a digital display at subsequent verification: not asked (1)"},
    NumberWords{"test.discrimination.digital_exempt.in_service",
                "discrimination of a digital display in service: not asked (1)"},
    NumberWords{"standards.substitution.weighings",
                "substitution: weighings of a load near the one at which material takes the place "
                "of weights"},
    NumberWords{"standards.most_substitutions", "substitutions, at most"},
    NumberWords{"standards.amounts[#].up_to_kg",
                "amounts of standards, row {}: capacity up to, kg"},
    NumberWords{"standards.amounts[#].up_to_lb",
                "amounts of standards, row {}: capacity up to, lb"},
    NumberWords{"standards.amounts[#].weights_share",
                "amounts of standards, row {}: weights, share of capacity"},
    NumberWords{"standards.amounts[#].weights_kg", "amounts of standards, row {}: weights, kg"},
    NumberWords{"standards.amounts[#].weights_lb", "amounts of standards, row {}: weights, lb"},
    NumberWords{"standards.amounts[#].load_share",
                "amounts of standards, row {}: test load, share of capacity"},
    NumberWords{"standards.substitution[#].repeatability",
                "substitution, row {}: repeatability up to, divisions"},
    NumberWords{"standards.substitution[#].weights_share",
                "substitution, row {}: weights, share of Max"},
    NumberWords{"capacity.overload_e", "greatest indication: above Max by at most, divisions"},
    NumberWords{"capacity.overload_share", "greatest indication: share of Max"},
    NumberWords{"capacity.clc_sections_less", "capacity: at most CLC times sections less this"},
    NumberWords{"errors.lean_share",
                "errors of one sign are told where one is beyond this share of its limit"}};

/// What stands where the pattern has `*` and `#`; empty: the name is another.
std::optional<std::vector<std::string>> matched(std::string_view pattern, std::string_view name) {
  std::vector<std::string> found;
  while (!pattern.empty()) {
    if (pattern.front() != '*' && pattern.front() != '#') {
      if (name.empty() || name.front() != pattern.front()) return {};
      name.remove_prefix(1);
      pattern.remove_prefix(1);
      continue;
    }
    const char after = pattern.front() == '*' ? '.' : ']';
    const std::size_t end = name.find(after);
    if (end == std::string_view::npos || end == 0) return {};
    found.emplace_back(name.substr(0, end));
    name.remove_prefix(end);
    pattern.remove_prefix(1);
  }
  if (!name.empty()) return {};
  return found;
}

/// As the rulebook calls a test or an occasion, where it does.
std::string called(const rules::Rulebook& rulebook,
                   std::string_view pattern,
                   const std::string& code) {
  if (pattern.starts_with("occasion.")) {
    const auto occasion = rules::find_occasion(code);
    const auto* const rule = occasion ? rulebook.find_occasion(*occasion) : nullptr;
    if (rule != nullptr) return rule->says;
  }
  if (pattern.starts_with("test.")) {
    const auto check = rules::find_check(code);
    const auto* const rule = check ? rulebook.find_test(*check) : nullptr;
    if (rule != nullptr && !rule->name.empty()) return rule->name;
  }
  return code;
}

}  // namespace

std::string number_says(const rules::Rulebook& rulebook, const std::string& name) {
  for (const NumberWords& words : kWords) {
    const auto found = matched(words.name, name);
    if (!found) continue;
    if (found->empty()) return words.says;
    const std::string first = called(rulebook, words.name, found->front());
    return found->size() == 1 ? fmt::format(fmt::runtime(words.says), first)
                              : fmt::format(fmt::runtime(words.says), first, found->at(1));
  }
  return "";
}

}  // namespace weighwright::job
