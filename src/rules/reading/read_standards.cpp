// [standards]: how much and how good.
#include <utility>

#include "rules/reading/parts.h"

namespace weighwright::rules::reading {

namespace {

constexpr Bounds kWeighings{2.0, 1000.0, "a whole number from 2: one weighing repeats nothing",
                            true};

AmountRow read_row(const Node& node, const std::string& name, Context& context) {
  Table table(node, name, context);
  table.require("weights_share", "the share of Max that has to be there in weights");
  AmountRow row;
  row.up_to_kg = table.quantity("up_to", units::Kind::mass, kMass).value_or(kNoEnd);
  row.up_to_lb = table.pounds("up_to_us").value_or(0.0);
  row.weights_share = table.number("weights_share", kShare).value_or(0.0);
  row.weights_kg = table.quantity("weights", units::Kind::mass, kMass).value_or(0.0);
  row.weights_lb = table.pounds("weights_us").value_or(0.0);
  row.load_share = table.number("load_share", kShare).value_or(0.0);
  table.finish();
  return row;
}

/// Rising ends, the last one open.
template <typename Row>
void check_order(const std::vector<Row>& rows,
                 double Row::* end,
                 std::string_view key,
                 const Node& list,
                 const std::string& name,
                 Context& context) {
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const bool last = i + 1 == rows.size();
    if (last == (rows[i].*end == kNoEnd) && (i == 0 || rows[i - 1].*end < rows[i].*end)) continue;
    context.faults.at_value(list.children[i],
                            name + ": the " + std::string(key) + " of this row is out of order",
                            "rising " + std::string(key) + ", and none in the last row");
  }
}

void read_amounts(Table& standards, Rulebook& rulebook) {
  const Node* const node = standards.table("amounts", "[standards.amounts]");
  if (node == nullptr) return;
  Table amounts(*node, "[standards.amounts]", standards.context());
  amounts.require("rows", "rows = [{ up_to = \"1500 kg\", weights_share = 0.25 }, ...]");
  if (const Node* const list = amounts.list("rows", "rows with up_to and weights_share")) {
    for (const Node& item : list->children)
      rulebook.amounts.push_back(read_row(item, "[standards.amounts] rows", standards.context()));
    check_order(rulebook.amounts, &AmountRow::up_to_kg, "up_to", *list, amounts.name(),
                standards.context());
  }
  rulebook.amounts_source = amounts.source();
  amounts.finish();
}

SubstitutionStep read_step(const Node& node, const std::string& name, Context& context) {
  Table table(node, name, context);
  table.require("weights_share", "the share of Max that has to be there in weights");
  SubstitutionStep step;
  step.repeatability_e = table.number("repeatability", kDivisions).value_or(kNoEnd);
  step.weights_share = table.number("weights_share", kShare).value_or(1.0);
  table.finish();
  return step;
}

void read_substitution(Table& standards, Rulebook& rulebook) {
  const Node* const node = standards.table("substitution", "[standards.substitution]");
  if (node == nullptr) return;
  Table substitution(*node, "[standards.substitution]", standards.context());
  substitution.require("steps", "steps = [{ repeatability = 0.3, weights_share = \"1/3\" }, ...]");
  if (const Node* const list =
          substitution.list("steps", "steps with repeatability and weights_share")) {
    for (const Node& item : list->children) {
      rulebook.substitution.push_back(
          read_step(item, "[standards.substitution] steps", standards.context()));
    }
    check_order(rulebook.substitution, &SubstitutionStep::repeatability_e, "repeatability", *list,
                substitution.name(), standards.context());
  }
  if (auto cited = substitution.cited("weighings", units::Kind::fraction, kWeighings))
    rulebook.substitution_weighings = std::move(*cited);
  rulebook.substitution_source = substitution.source();
  substitution.finish();
}

}  // namespace

void read_standards(Table& root, Rulebook& rulebook) {
  const Node* const node = root.table("standards", "[standards]");
  if (node == nullptr) return;
  Table standards(*node, "[standards]", root.context());
  if (auto cited = standards.cited("share", units::Kind::fraction, kShare))
    rulebook.standards_share = std::move(*cited);
  if (auto cited = standards.cited("least", units::Kind::mass, kMass))
    rulebook.least_standards_kg = std::move(*cited);
  if (auto cited = standards.cited("most_substitutions", units::Kind::fraction, kCount))
    rulebook.most_substitutions = std::move(*cited);
  read_amounts(standards, rulebook);
  read_substitution(standards, rulebook);
  standards.finish();
}

}  // namespace weighwright::rules::reading
