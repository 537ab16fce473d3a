#pragma once
/// What to do at each step, in the words of the trade, with the caution where it can hurt.

#include "job/steps.h"

namespace weighwright::job {

[[nodiscard]] Action tick_action(const std::string& step, const std::string& tick);
[[nodiscard]] Action no_load_action(bool digital);
[[nodiscard]] Action map_action(bool may_load);
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
[[nodiscard]] Action as_found_action(bool digital, bool cells, bool corners);

/// Where bodies, hands and grout can be hurt, by what is done.
[[nodiscard]] std::string jacking_caution();
[[nodiscard]] std::string load_caution();

}  // namespace weighwright::job
