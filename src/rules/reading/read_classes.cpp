// [class.NAME]: limits, bands of intervals, ranges.
#include <tuple>
#include <utility>

#include "rules/reading/parts.h"

namespace weighwright::rules::reading {

namespace {

constexpr std::string_view kSteps =
    "steps = [{ up_to = 500, limit = 0.5 }, { up_to = 2000, limit = 1 }]";

std::optional<LimitStep> read_step(const Node& node, const std::string& name, Context& context) {
  Table table(node, name, context);
  table.require("limit", "the limit up to there, in divisions");
  const std::optional<double> up_to = table.number("up_to", kCount);
  const std::optional<double> limit = table.number("limit", kDivisions);
  table.finish();
  if (!limit || (table.has("up_to") && !up_to)) return std::nullopt;
  return LimitStep{up_to.value_or(kNoEnd), *limit};
}

void check_rising(const Node& node,
                  const std::string& name,
                  const LimitStep& before,
                  const LimitStep& step,
                  Context& context) {
  if (before.up_to_d < step.up_to_d && before.limit_d < step.limit_d) return;
  const bool open = before.up_to_d == kNoEnd;
  context.faults.at_value(
      node, name + (open ? ": a step follows one that has no end" : ": the steps do not rise"),
      open ? "up_to in every step but the last" : "up_to and limit above those of the step before");
}

void read_steps(Table& limits, ClassRule& rule) {
  limits.require("steps", std::string(kSteps));
  const Node* const list = limits.list("steps", kSteps);
  if (list == nullptr) return;
  const std::string name = limits.name() + " steps";
  for (const Node& item : list->children) {
    const std::optional<LimitStep> step = read_step(item, name, limits.context());
    if (!step) continue;
    if (!rule.steps.empty()) check_rising(item, name, rule.steps.back(), *step, limits.context());
    rule.steps.push_back(*step);
  }
}

/// One limit for all loads is too wide for small ones or can't be kept at Max: no class has it.
void check_steps(Table& limits, const ClassRule& rule) {
  if (rule.steps.size() != 1 || limits.has("further")) return;
  limits.fault("steps", "one limit of error is given for all loads; limits rise with the load",
               "two steps or more, as " + std::string(kSteps) + ", or further = { ... }");
}

void read_further(Table& limits, ClassRule& rule) {
  const Node* const node = limits.table(
      "further", "what is added for each further divisions: { each = 500, limit = 1 }");
  if (node == nullptr) return;
  Table further(*node, limits.name() + " further", limits.context());
  further.require("each", "so many divisions, or fraction of them");
  further.require("limit", "so much more, in divisions");
  rule.further_each_d = further.number("each", kCount).value_or(0.0);
  rule.further_limit_d = further.number("limit", kDivisions).value_or(0.0);
  further.finish();
  if (!rule.steps.empty() && rule.steps.back().up_to_d == kNoEnd)
    limits.fault("further", "nothing is further than a step without an end", "up_to in every step");
}

void read_limits(Table& table, ClassRule& rule) {
  const Node* const node = table.table("limits", kSteps);
  if (node == nullptr) return;
  Table limits(*node, table.name() + " limits", table.context());
  read_steps(limits, rule);
  check_steps(limits, rule);
  read_further(limits, rule);
  rule.limits = limits.source();
  limits.finish();
}

IntervalBand read_band(const Node& node, const std::string& name, Context& context) {
  Table table(node, name, context);
  table.require("least", "the least interval of this band, as \"5 g\"");
  table.require("n_max", "the most intervals that a scale of this band may have");
  IntervalBand band;
  band.least_e_kg = table.quantity("least", units::Kind::mass, kMass).value_or(0.0);
  band.most_e_kg = table.quantity("most", units::Kind::mass, kMass).value_or(kNoEnd);
  band.least_e_lb = table.pounds("least_us").value_or(0.0);
  band.most_e_lb = table.pounds("most_us").value_or(0.0);
  band.n_min = table.number("n_min", kCountOrNone).value_or(0.0);
  band.n_max = table.number("n_max", kCount).value_or(kNoEnd);
  band.least_load_e = table.number("least_load", kCountOrNone).value_or(0.0);
  band.source = table.source();
  table.finish();
  if (band.most_e_kg < band.least_e_kg)
    table.fault("most", "most is less than least", "the greatest interval of this band");
  if (band.most_e_lb > 0.0 && band.most_e_lb < band.least_e_lb)
    table.fault("most_us", "most_us is less than least_us", "the greatest interval of this band");
  if (band.n_max < band.n_min)
    table.fault("n_max", "n_max is less than n_min", "the most intervals of this band");
  return band;
}

void read_bands(Table& table, ClassRule& rule) {
  const Node* const list =
      table.list("band", "one [[class.NAME.band]] for each range of intervals");
  if (list == nullptr) return;
  for (const Node& item : list->children)
    rule.bands.push_back(read_band(item, table.name() + " band", table.context()));
}

/// A number of intervals with its clause: [class.III.ranges], [class.III.breaks_down].
std::pair<double, Source> read_number(Table& table, std::string_view key, std::string_view number) {
  const Node* const node = table.table(key, "a number of intervals with its clause");
  if (node == nullptr) return {};
  Table inner(*node, table.name() + " " + std::string(key), table.context());
  inner.require(number, "a number of intervals");
  const double value = inner.number(number, kCount).value_or(0.0);
  Source source = inner.source();
  inner.finish();
  return {value, std::move(source)};
}

ClassRule read_class(const Node& node, Context& context) {
  Table table(node, "class " + node.key, context);
  ClassRule rule;
  rule.name = node.key;
  table.require("limits", "a class that the base does not have needs its limits");
  table.require("band", "a class that the base does not have needs its bands of intervals");
  read_limits(table, rule);
  read_bands(table, rule);
  std::tie(rule.least_range_n, rule.ranges) = read_number(table, "ranges", "least_n");
  std::tie(rule.breaks_down_from_n, rule.breaks_down) = read_number(table, "breaks_down", "from_n");
  table.finish();
  return rule;
}

}  // namespace

void read_classes(Table& root, Rulebook& rulebook) {
  root.require("class", "the limits of at least one class: [class.III.limits]");
  const Node* const classes = root.table("class", "[class.III.limits]");
  if (classes == nullptr) return;
  for (const Node& node : classes->children) {
    if (node.type == Node::Type::table) {
      rulebook.classes.push_back(read_class(node, root.context()));
    } else {
      root.context().faults.at_key(node, "class " + node.key + " is no table",
                                   "[class." + node.key + ".limits]");
    }
  }
}

}  // namespace weighwright::rules::reading
