#pragma once
/// The answer of `check` for a deck file without faults.

#include <string>
#include <vector>

#include "deck/deck.h"
#include "report/plan_view.h"

namespace weighwright::report {

struct CheckView {
  std::string deck_name;
  std::string headline;
  PlanView plan;
  std::vector<std::string> notes;
  std::vector<deck::Assumed> assumed;
};

[[nodiscard]] std::string draw_text(const CheckView& view);

}  // namespace weighwright::report
