#pragma once
/// Whose chains a journal holds, in words.

#include <vector>

#include "job/job_case.h"
#include "journal/chains.h"
#include "report/job_view.h"

namespace weighwright::job {

/// Of this machine's own file: who wrote, and what proves it.
[[nodiscard]] std::vector<report::ChainView> chain_views(
    const std::vector<journal::ChainSummary>& chains);

/// Of a file that comes from elsewhere: also how well this machine knows each device.
/// @param writer  this machine
[[nodiscard]] std::vector<report::ChainView> chain_views(
    const std::vector<journal::ChainSummary>& chains,
    const Writer& writer,
    const KnownDevices& known);

}  // namespace weighwright::job
