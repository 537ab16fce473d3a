// [rounding], [interval_series], [capacity], [errors].
#include <utility>

#include "rules/reading/parts.h"

namespace weighwright::rules::reading {

namespace {

constexpr Bounds kOverload{1.0, 2.0, "from 1 to 2: a share of Max"};
constexpr Bounds kSectionsLess{1e-3, 10.0, "more than 0, at most 10"};

void read_rounding(Table& root, Rulebook& rulebook) {
  root.require("rounding", "[rounding] with before = true or false, and its clause");
  const Node* const node = root.table("rounding", "[rounding]");
  if (node == nullptr) return;
  Table rounding(*node, "[rounding]", root.context());
  rounding.require("before", "true: errors are judged before rounding");
  rulebook.before_rounding = rounding.boolean("before").value_or(true);
  rulebook.rounding = rounding.source();
  rounding.finish();
}

void read_series_rule(Table& root, Rulebook& rulebook) {
  const Node* const node = root.table("interval_series", "[interval_series] with its clause");
  if (node == nullptr) return;
  Table series(*node, "[interval_series]", root.context());
  rulebook.interval_series = series.source();
  series.finish();
}

void read_errors(Table& root, Rulebook& rulebook) {
  const Node* const node = root.table("errors", "[errors]");
  if (node == nullptr) return;
  Table errors(*node, "[errors]", root.context());
  if (auto cited = errors.cited("lean_share", units::Kind::fraction, kShare))
    rulebook.lean_share = std::move(*cited);
  errors.finish();
}

}  // namespace

void read_capacity(Table& root, Rulebook& rulebook) {
  read_rounding(root, rulebook);
  read_series_rule(root, rulebook);
  read_errors(root, rulebook);
  const Node* const node = root.table("capacity", "[capacity]");
  if (node == nullptr) return;
  Table capacity(*node, "[capacity]", root.context());
  if (auto cited = capacity.cited("overload_e", units::Kind::fraction, kDivisions))
    rulebook.overload_e = std::move(*cited);
  if (auto cited = capacity.cited("overload_share", units::Kind::fraction, kOverload))
    rulebook.overload_share = std::move(*cited);
  if (auto cited = capacity.cited("clc_sections_less", units::Kind::fraction, kSectionsLess))
    rulebook.clc_sections_less = std::move(*cited);
  capacity.finish();
}

}  // namespace weighwright::rules::reading
