#pragma once
/// The plan of a deck without figures: modules, joints, sections, stands by name.

#include <functional>
#include <string>
#include <vector>

#include "deck/deck.h"
#include "report/plan_view.h"

namespace weighwright::job {

/// Modules, joints and section places, with the rows that name the stands (and, where the deck has
/// them, the numbers of their cells at the box) in the first row of each side.
[[nodiscard]] report::PlanView plan_of(const deck::Deck& deck);

/// Adds one row of figures on each side, under the rows that are there.
/// @param label  of the row, both sides
/// @param cell   what to write at a stand
void add_row(report::PlanView& plan,
             const std::string& label,
             const std::function<std::string(units::StandIndex)>& cell);

/// The order in which somebody walks round the deck: 1L ... nL, nR ... 1R.
[[nodiscard]] std::vector<std::string> walking_order(const deck::Deck& deck);

/// Marks a bearing that hangs.
void mark_hanging(report::PlanView& plan, int joint, units::Side side);

}  // namespace weighwright::job
