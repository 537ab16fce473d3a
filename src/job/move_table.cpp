#include "job/move_table.h"

#include <fmt/format.h>

#include <optional>

#include "units/quantity.h"

namespace weighwright::job {
namespace {

/// What one trim is set by, and the column's name.
struct Setting {
  const char* column = "";
  std::optional<double> value;
};

Setting setting_of(const report::TrimSettingView& trim) {
  if (trim.turns) return {.column = "turns", .value = trim.turns};
  if (trim.factor) return {.column = "factor", .value = trim.factor};
  return {.column = "ohm", .value = trim.ohm};
}

}  // namespace

std::string move_table(const report::ShareView& view) {
  if (view.moves.empty()) return "";
  const bool shims = view.moves.front().shim;
  std::string table = shims ? "stand,shim_mm\n" : "stand,turns\n";
  for (const report::MoveView& move : view.moves) {
    table +=
        fmt::format("{},{}\n", move.stand, units::print_exact(shims ? move.raise_mm : move.turns));
  }
  return table;
}

std::string move_table(const report::TrimView& view) {
  if (view.learn) {
    return fmt::format("trim,turns\n{},{}\n", view.learn_trim,
                       units::print_exact(view.learn_turns));
  }
  if (view.trims.empty()) return "";
  const Setting first = setting_of(view.trims.front());
  std::string table = fmt::format("trim,{}\n", first.column);
  for (const report::TrimSettingView& trim : view.trims) {
    const Setting one = setting_of(trim);
    if (one.value) table += fmt::format("{},{}\n", trim.trim, units::print_exact(*one.value));
  }
  return table;
}

}  // namespace weighwright::job
