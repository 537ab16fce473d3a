#pragma once
/// What stands in the file, and how an older file is brought to this version.

#include "journal/database.h"

namespace weighwright::journal {

/// "WWJ1" in ASCII, in the header's field for the kind of file (SQLite's "Database File Format",
/// section 1.3.16).
inline constexpr std::int64_t kApplicationId = 0x57574A31;
inline constexpr std::int64_t kSchemaVersion = 3;
inline constexpr int kPage_bytes = 4096;
inline constexpr std::int64_t kVersionWithAttachments = 2;

/// Whether entries have a column for signatures (from version 3 on).
[[nodiscard]] bool has_signatures(Database& database);

/// An empty database becomes a journal of this version, in WAL mode.
void make_schema(Database& database);

/// From the version that it has to this one, in one transaction.
void migrate(Database& database);

[[nodiscard]] std::int64_t schema_version(Database& database);

/// How many of the triggers that refuse changes are gone.
[[nodiscard]] int count_missing_guards(Database& database);

/// Sets what writing relies on and reads it back; a sentence why it does not hold, or nothing.
[[nodiscard]] std::string fault_of_durability(Database& database);

}  // namespace weighwright::journal
