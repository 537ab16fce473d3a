// What the tests are made with: zero, eccentric, rolling, section, increasing, ... .
#include <tuple>
#include <utility>

#include "rules/reading/parts.h"

namespace weighwright::rules::reading {

namespace {

constexpr units::Kind kNumber = units::Kind::fraction;

/// The table [KEY] at the root; empty when there is none.
std::optional<Table> part(Table& root, std::string_view key) {
  const Node* const node = root.table(key, "a table in square brackets");
  if (node == nullptr) return std::nullopt;
  return Table(*node, "[" + std::string(key) + "]", root.context());
}

void take(Table& table, std::string_view key, units::Kind kind, const Bounds& bounds, Cited& into) {
  if (auto cited = table.cited(key, kind, bounds)) into = std::move(*cited);
}

void read_zero(Table& root, Rulebook& rulebook) {
  std::optional<Table> zero = part(root, "zero");
  if (!zero) return;
  take(*zero, "setting", kNumber, kDivisionsOrNone, rulebook.zero_setting_e);
  take(*zero, "return", kNumber, kDivisionsOrNone, rulebook.zero_return_e);
  take(*zero, "range_share", kNumber, kShare, rulebook.zero_range_share);
  take(*zero, "tracking", kNumber, kDivisions, rulebook.tracking_e);
  zero->finish();
}

void read_eccentric(Table& root, Rulebook& rulebook) {
  if (std::optional<Table> eccentric = part(root, "eccentric")) {
    eccentric->require("share", "the share of Max + T+ on few supports, with its clause");
    eccentric->require("few_supports", "up to how many supports that holds, with its clause");
    take(*eccentric, "share", kNumber, kShare, rulebook.eccentric_share);
    take(*eccentric, "few_supports", kNumber, kCount, rulebook.eccentric_few_supports);
    eccentric->finish();
  }
  if (std::optional<Table> rolling = part(root, "rolling")) {
    take(*rolling, "share", kNumber, kShare, rulebook.rolling_share);
    rolling->finish();
  }
}

void read_section(Table& root, Rulebook& rulebook) {
  std::optional<Table> section = part(root, "section");
  if (!section) return;
  take(*section, "share", kNumber, kShare, rulebook.section_share);
  take(*section, "clc_share", kNumber, kShare, rulebook.section_clc_share);
  take(*section, "pattern_length", units::Kind::length, kLength, rulebook.pattern_length_m);
  take(*section, "pattern_width", units::Kind::length, kLength, rulebook.pattern_width_m);
  section->finish();
}

void read_series(Table& root, Rulebook& rulebook) {
  if (std::optional<Table> increasing = part(root, "increasing")) {
    take(*increasing, "loads", kNumber, kCount, rulebook.increasing_loads);
    increasing->finish();
  }
  if (std::optional<Table> decreasing = part(root, "decreasing")) {
    take(*decreasing, "share", kNumber, kShareOrNone, rulebook.decreasing_share);
    decreasing->finish();
  }
  if (std::optional<Table> repeatability = part(root, "repeatability")) {
    take(*repeatability, "count", kNumber, kCount, rulebook.repeatability_count);
    if (auto at = repeatability->shares("at"))
      std::tie(rulebook.repeatability_shares, rulebook.repeatability_source) = std::move(*at);
    repeatability->finish();
  }
}

void read_discrimination(Table& root, Rulebook& rulebook) {
  std::optional<Table> discrimination = part(root, "discrimination");
  if (!discrimination) return;
  take(*discrimination, "added", kNumber, kDivisions, rulebook.discrimination_added_d);
  take(*discrimination, "change", kNumber, kDivisions, rulebook.discrimination_change_d);
  if (auto at = discrimination->shares("at"))
    std::tie(rulebook.discrimination_shares, rulebook.discrimination_source) = std::move(*at);
  discrimination->finish();
}

}  // namespace

void read_loads(Table& root, Rulebook& rulebook) {
  read_zero(root, rulebook);
  read_eccentric(root, rulebook);
  read_section(root, rulebook);
  read_series(root, rulebook);
  read_discrimination(root, rulebook);
}

}  // namespace weighwright::rules::reading
