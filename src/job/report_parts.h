#pragma once
/// Parts of a report that are read off the journal: seals, settings, adjustments, how to verify it.

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "job/site_state.h"
#include "report/document_view.h"

namespace weighwright::job {

[[nodiscard]] std::vector<report::SealView> seals_of(const SiteState& state);
/// Name, "found 7, left 8".
[[nodiscard]] std::vector<std::pair<std::string, std::string>> settings_of(const SiteState& state);
/// What was turned, trimmed, replaced, mended, set in the present visit; a line each.
[[nodiscard]] std::vector<std::string> adjustments_of(const SiteState& state);
/// "8 cells of 25 t", "6 cells of 25 t, 1 of 30 t, 1 of unknown capacity".
[[nodiscard]] std::string cells_words(const LoadedDeck& loaded);
/// Stand, and which cell stands there: "S-77, certificate C-1"; empty: nobody wrote it down.
[[nodiscard]] std::vector<std::pair<std::string, std::string>> cells_of(const SiteState& state);
/// "weighwright job verify JOB --head DEVICE:SEQUENCE:HASH ...": leads to the same record.
[[nodiscard]] std::string verify_command(const std::vector<report::HeadView>& heads);
/// "60.5" to a number; empty: it is none.
[[nodiscard]] std::optional<double> plain_figure(const std::string& text);

}  // namespace weighwright::job
