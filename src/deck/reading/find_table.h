#pragma once
/// Tables of a deck file by name; something else under that name is told.

#include <string_view>
#include <vector>

#include "deck/reading/document.h"
#include "deck/reading/fault_sink.h"

namespace weighwright::deck::reading {

/// The table [key]; null when it is not there, null and a fault when something else stands there.
[[nodiscard]] const Node* find_table(const Node& root, std::string_view key, FaultSink& sink);

/// The tables [[key]], in the order of the file; empty and a fault when something else stands
/// there.
[[nodiscard]] std::vector<const Node*> find_list_of_tables(const Node& root,
                                                           std::string_view key,
                                                           FaultSink& sink);

}  // namespace weighwright::deck::reading
