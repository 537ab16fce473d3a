// What the tests are made with: zero, eccentric, rolling, section, increasing, ... .
#include <array>
#include <tuple>
#include <utility>

#include "rules/reading/parts.h"

namespace weighwright::rules::reading {

namespace {

constexpr units::Kind kNumber = units::Kind::fraction;
constexpr std::array<Stage, 4> kStages = {Stage::type, Stage::initial, Stage::subsequent,
                                          Stage::in_service};
constexpr Bounds kMinutes{1.0, 1440.0, "minutes under load, from 1 to 1440"};
constexpr Bounds kWeighings{2.0, 1000.0,
                            "a whole number from 2: one weighing repeats nothing, so that nothing "
                            "is known of repeatability",
                            true};

/// The table [KEY] at the root; empty when there is none.
std::optional<Table> part(Table& root, std::string_view key) {
  const Node* const node = root.table(key, "a table in square brackets");
  if (node == nullptr) return std::nullopt;
  return Table(*node, "[" + std::string(key) + "]", root.context());
}

void take(Table& table, std::string_view key, units::Kind kind, const Bounds& bounds, Cited& into) {
  if (auto cited = table.cited(key, kind, bounds)) into = std::move(*cited);
}

/// { value = 0.5, clause, ... }, or { dropped = true, clause, ... }: no zero return is asked.
void read_return(Table& zero, Rulebook& rulebook) {
  const Node* const node =
      zero.table("return", "the number with its clause, or { dropped = true } with a clause");
  if (node == nullptr) return;
  Table inner(*node, "[zero] return", zero.context());
  const bool dropped = inner.boolean("dropped").value_or(false);
  if (!dropped) inner.require("value", "the number that the clause gives");
  const std::optional<double> value = inner.quantity("value", kNumber, kDivisionsOrNone);
  Source source = inner.source();
  inner.finish();
  if (dropped) {
    rulebook.zero_return_dropped = std::move(source);
  } else if (value) {
    rulebook.zero_return_e = {*value, std::move(source)};
  }
}

/// { asked = false, clause, ... }: no decreasing loads where material took the place of weights.
void read_with_substitution(Table& decreasing, Rulebook& rulebook) {
  const Node* const node = decreasing.table(
      "with_substitution", R"({ asked = false, clause = "art. 3", basis = "read" })");
  if (node == nullptr) return;
  Table inner(*node, "[decreasing] with_substitution", decreasing.context());
  inner.require("asked", "whether decreasing loads are asked there: true or false");
  const bool asked = inner.boolean("asked").value_or(true);
  rulebook.decreasing_with_substitution = {asked ? 1.0 : 0.0, inner.source()};
  inner.finish();
}

void read_zero(Table& root, Rulebook& rulebook) {
  std::optional<Table> zero = part(root, "zero");
  if (!zero) return;
  take(*zero, "setting", kNumber, kDivisionsOrNone, rulebook.zero_setting_e);
  read_return(*zero, rulebook);
  take(*zero, "return_minutes", kNumber, kMinutes, rulebook.zero_return_minutes);
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

/// [repeatability.type] and so on: what is asked at one stage alone.
void read_stages(Table& repeatability, Rulebook& rulebook) {
  for (const Stage stage : kStages) {
    const std::string_view code = code_of(stage);
    if (!repeatability.has(code)) continue;
    const Node* const node = repeatability.table(code, "count and at, each with its clause");
    if (node == nullptr) continue;
    Table table(*node, "[repeatability." + std::string(code) + "]", repeatability.context());
    StageRepeats own;
    own.stage = stage;
    take(table, "count", kNumber, kWeighings, own.count);
    if (auto at = table.shares("at")) std::tie(own.shares, own.source) = std::move(*at);
    table.finish();
    rulebook.repeatability_stages.push_back(std::move(own));
  }
}

void read_repeatability(Table& root, Rulebook& rulebook) {
  std::optional<Table> repeatability = part(root, "repeatability");
  if (!repeatability) return;
  take(*repeatability, "count", kNumber, kWeighings, rulebook.repeatability_count);
  if (auto at = repeatability->shares("at"))
    std::tie(rulebook.repeatability_shares, rulebook.repeatability_source) = std::move(*at);
  read_stages(*repeatability, rulebook);
  repeatability->finish();
}

/// [tare] and [indications]: what the indicator's own checks are held against.
void read_indicator(Table& root, Rulebook& rulebook) {
  if (std::optional<Table> tare = part(root, "tare")) {
    take(*tare, "setting", kNumber, kDivisions, rulebook.tare_setting_e);
    tare->finish();
  }
  if (std::optional<Table> indications = part(root, "indications")) {
    take(*indications, "apart", kNumber, kDivisionsOrNone, rulebook.indications_apart);
    indications->finish();
  }
}

void read_series(Table& root, Rulebook& rulebook) {
  if (std::optional<Table> increasing = part(root, "increasing")) {
    take(*increasing, "loads", kNumber, kCount, rulebook.increasing_loads);
    increasing->finish();
  }
  if (std::optional<Table> decreasing = part(root, "decreasing")) {
    take(*decreasing, "share", kNumber, kShareOrNone, rulebook.decreasing_share);
    read_with_substitution(*decreasing, rulebook);
    decreasing->finish();
  }
  read_repeatability(root, rulebook);
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
  read_indicator(root, rulebook);
}

}  // namespace weighwright::rules::reading
