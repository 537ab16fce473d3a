#pragma once
/// dcc:measurementResults: as found and as left, with methods, standards, conditions and tables.

#include <pugixml.hpp>
#include <string>
#include <vector>

#include "report/document_view.h"

namespace weighwright::report {

/// What keeps the results out of the format, in words; empty: nothing.
[[nodiscard]] std::vector<std::string> result_faults(const DocumentView& view);
void add_results(pugi::xml_node certificate, const DocumentView& view);

}  // namespace weighwright::report
