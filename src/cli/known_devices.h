#pragma once
/// The devices that this machine has met, with their public keys: kept in the file known-devices
/// beside the device number, a line each.

#include <string>
#include <vector>

#include "job/job_case.h"
#include "report/job_view.h"

namespace weighwright::cli {

/// Nothing where there is no such file; lines that are none are passed over.
[[nodiscard]] job::KnownDevices known_devices();

/// Adds the signed chains that were not known. What can't be kept is met anew next time.
void remember_devices(const std::vector<report::ChainView>& chains);

}  // namespace weighwright::cli
