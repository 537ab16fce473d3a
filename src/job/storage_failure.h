#pragma once
/// What a face catches when the machine fails while a journal is written: a message and what became
/// of the entries.

#include "journal/storage_failure.h"

namespace weighwright::job {

using journal::StorageFailure;

}  // namespace weighwright::job
