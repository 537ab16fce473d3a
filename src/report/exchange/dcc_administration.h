#pragma once
/// dcc:administrativeData: program, identity, item with its cells, laboratory, customer,
/// statements.

#include <pugixml.hpp>
#include <string>
#include <vector>

#include "report/document_view.h"

namespace weighwright::report {

/// What the schema demands and the view does not have, in words; empty: nothing.
[[nodiscard]] std::vector<std::string> missing_administration(const DocumentView& view);
void add_administration(pugi::xml_node certificate, const DocumentView& view);

}  // namespace weighwright::report
