#pragma once
/// What to do at each step, in the words of the trade, with the caution where it can hurt.

#include "job/steps.h"

namespace weighwright::job {

[[nodiscard]] Action tick_action(const std::string& step, const std::string& tick);
/// @param pairs  how far left and right are apart, pair by pair
[[nodiscard]] Action clearance_action(const std::vector<std::string>& pairs);
[[nodiscard]] Action release_action();
[[nodiscard]] Action no_load_action(bool digital);
[[nodiscard]] Action map_action(bool vehicle_may_come);
/// @param stands  "2L moved the reading of 3R, ..."
[[nodiscard]] Action exchanged_action(const std::string& stands);
[[nodiscard]] Action conditions_action(const std::vector<std::string>& missing);
[[nodiscard]] Action read_cells_action(const std::string& step, bool digital, bool again);
[[nodiscard]] Action corners_action(bool again);
[[nodiscard]] Action unread_action(const std::vector<std::string>& unread);
[[nodiscard]] Action supply_action();
/// The action `no_load` or `map`, of these stands alone, after a cell was put in there.
[[nodiscard]] Action new_cell_action(Action action, const std::vector<std::string>& stands);
/// @param stands  whose cell nobody knows
[[nodiscard]] Action describe_cell_action(const std::string& step,
                                          const std::vector<std::string>& stands);
/// What is offered when cells are received: to write down which stands where.
[[nodiscard]] std::string write_down_cells();
/// @param marks  of the modules that wait for their concrete
[[nodiscard]] Action pour_action(const std::vector<std::string>& marks);
[[nodiscard]] Action loads_action(bool again);

/// What was read at a visit before anything was moved.
struct AsFoundRead {
  bool zero = false;
  bool corners = false;  // a load over every stand, or every section
  bool cells = false;    // one by one
};
[[nodiscard]] Action as_found_action(bool digital, const AsFoundRead& read);

/// What it costs to open a sealed box for the cells alone, and when that is worth it.
/// @param reason  why it is now: "corners differ, and ..."; empty: nothing that was read says so
[[nodiscard]] std::string offer_to_open(const std::string& reason);

/// Where bodies, hands and grout can be hurt, by what is done.
[[nodiscard]] std::string jacking_caution();
[[nodiscard]] std::string load_caution();

}  // namespace weighwright::job
