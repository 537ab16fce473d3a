// [occasion.CODE] and [test.CODE].
#include <algorithm>
#include <utility>

#include "rules/reading/parts.h"
#include "units/diagnostic.h"
#include "units/suggestion.h"

namespace weighwright::rules::reading {

namespace {

constexpr std::array<std::string_view, 3> kWithin = {"none", "applicable", "table"};
constexpr std::array<std::string_view, 4> kStageCodes = {"type", "initial", "subsequent",
                                                         "in_service"};

template <typename Value>
std::string codes_of(const std::vector<Value>& values) {
  std::vector<std::string> codes;
  for (const Value value : values) codes.emplace_back(code_of(value));
  return "one of " + units::either(codes);
}

OccasionRule read_occasion(const Node& node, Occasion occasion, Context& context) {
  Table table(node, "occasion " + node.key, context);
  table.require("says", "what the user is asked, as says = \"placed in service\"");
  table.require("factor", "what the limits of the table are multiplied with");
  OccasionRule rule;
  rule.occasion = occasion;
  rule.says = table.text("says").value_or("");
  rule.factor = table.number("factor", kFactor).value_or(1.0);
  rule.remark = table.text("remark").value_or("");
  rule.stage = usual_stage(occasion);
  if (const auto stage = table.choice("stage", kStageCodes))
    rule.stage = find_stage(kStageCodes.at(*stage)).value_or(rule.stage);
  rule.source = table.source();
  table.finish();
  return rule;
}

/// { at = ["subsequent"], clause, ... }: an empty list exempts nothing.
void read_exempt(Table& table, TestRule& rule) {
  const Node* const node =
      table.table("digital_exempt", R"({ at = ["subsequent"], clause = "8.3.3", basis = "read" })");
  if (node == nullptr) return;
  Table exempt(*node, table.name() + " digital_exempt", table.context());
  exempt.require("at", "the stages, as [\"subsequent\", \"in_service\"]; [] for none");
  for (const std::size_t stage : exempt.choices("at", kStageCodes))
    rule.digital_exempt.push_back(*find_stage(kStageCodes.at(stage)));
  rule.digital_source = exempt.source();
  exempt.finish();
}

void read_range(Table& table, TestRule& rule) {
  const Node* const node =
      table.table("range", R"({ within = "applicable", clause = "3.6.1", basis = "read" })");
  if (node == nullptr) return;
  Table range(*node, table.name() + " range", table.context());
  range.require("within", R"("none", "applicable" or "table")");
  rule.range_within = static_cast<RangeOf>(range.choice("within", kWithin).value_or(0));
  rule.range_source = range.source();
  range.finish();
}

TestRule read_test(const Node& node, Check check, Context& context) {
  Table table(node, "test " + node.key, context);
  table.require("name", "what the test is called, as name = \"Section test\"");
  TestRule rule;
  rule.check = check;
  rule.name = table.text("name").value_or("");
  rule.required = table.boolean("required").value_or(true);
  rule.instead_of = table.text("instead_of").value_or("");
  rule.when = table.text("when").value_or("");
  rule.each_within = table.boolean("each_within").value_or(true);
  read_range(table, rule);
  read_exempt(table, rule);
  rule.source = table.source();
  table.finish();
  return rule;
}

bool weighs_loads(Check check) {
  return check != Check::zero && !is_of_indicator(check);
}

/// A rulebook under which nothing has to be weighed would call everything complete.
void check_any_required(const Node& tests, const Rulebook& rulebook, Context& context) {
  const auto required = [](const TestRule& rule) {
    return rule.required && weighs_loads(rule.check);
  };
  if (rulebook.tests.empty() ||
      std::any_of(rulebook.tests.begin(), rulebook.tests.end(), required)) {
    return;
  }
  const Node* place = &tests;
  for (const Node& test : tests.children) {
    const Node* const key = test.find("required");
    if (key != nullptr && key->origin == Origin::file) place = key;
  }
  context.faults.at_value(*place,
                          "no test in which loads are weighed is required any more: a test in "
                          "which nothing was weighed would be complete",
                          "required = true in one of them at least, as [test.increasing]");
}

void check_instead(const Node& tests, const Rulebook& rulebook, Context& context) {
  for (const TestRule& rule : rulebook.tests) {
    if (rule.instead_of.empty()) continue;
    const std::optional<Check> other = find_check(rule.instead_of);
    if (other && *other != rule.check && rulebook.find_test(*other) != nullptr) continue;
    const Node* const node = tests.find(code_of(rule.check));
    const Node* const key = node->find("instead_of");
    context.faults.at_value(*key,
                            "test " + node->key + ": it stands in for " +
                                units::quote(rule.instead_of) +
                                ", which is no other test of this rulebook",
                            "the code of another test here, as \"eccentric\"");
  }
}

}  // namespace

void read_occasions(Table& root, Rulebook& rulebook) {
  root.require("occasion", codes_of(all_occasions()) + ", as [occasion.new]");
  const Node* const occasions = root.table("occasion", "[occasion.new]");
  if (occasions == nullptr) return;
  for (const Node& node : occasions->children) {
    const std::optional<Occasion> occasion = find_occasion(node.key);
    if (occasion && code_of(*occasion) == node.key && node.type == Node::Type::table) {
      rulebook.occasions.push_back(read_occasion(node, *occasion, root.context()));
    } else {
      root.context().faults.at_key(node, "there is no occasion " + units::quote(node.key),
                                   codes_of(all_occasions()) + ", as [occasion.new]");
    }
  }
  for (const Occasion occasion : all_occasions()) {
    if (occasion == Occasion::type) continue;  // whoever tests on site may do without it
    if (occasions->find(code_of(occasion)) != nullptr) continue;
    root.fault("occasion", "has no factor for the occasion " + std::string(code_of(occasion)),
               "[occasion." + std::string(code_of(occasion)) + "] with says, factor and clause");
  }
}

void read_tests(Table& root, Rulebook& rulebook) {
  root.require("test", codes_of(all_checks()) + ", as [test.increasing]");
  const Node* const tests = root.table("test", "[test.increasing]");
  if (tests == nullptr) return;
  for (const Node& node : tests->children) {
    const std::optional<Check> check = find_check(node.key);
    if (check && node.type == Node::Type::table) {
      rulebook.tests.push_back(read_test(node, *check, root.context()));
    } else {
      root.context().faults.at_key(node, "there is no test " + units::quote(node.key),
                                   codes_of(all_checks()) + ", as [test.increasing]");
    }
  }
  check_instead(*tests, rulebook, root.context());
  check_any_required(*tests, rulebook, root.context());
}

}  // namespace weighwright::rules::reading
