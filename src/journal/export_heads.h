#pragma once
/// The ends of the chains as an export holds them, to check a journal against it.

#include <string>
#include <vector>

#include "journal/founding.h"
#include "record/entry.h"
#include "units/diagnostic.h"

namespace weighwright::journal {

struct ExportHeads {
  std::vector<record::Head> heads;
  Belonging belonging;        // which journal it is an export of
  units::Diagnostics faults;  // no such file, no export, lines whose hashes do not fit
};

/// Throws StorageFailure when the file is there and can not be read.
[[nodiscard]] ExportHeads heads_of_export(const std::string& path);

}  // namespace weighwright::journal
