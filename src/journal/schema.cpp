#include "journal/schema.h"

#include <array>
#include <string>

namespace weighwright::journal {
namespace {

// Content stands last, so that the columns before it are read without its overflow pages. Each
// version adds to the one before; what was released is never changed.
constexpr std::array<const char*, kSchemaVersion> kSteps = {
    R"(CREATE TABLE entries (
         position INTEGER PRIMARY KEY,
         device TEXT NOT NULL,
         sequence INTEGER NOT NULL,
         lamport INTEGER NOT NULL,
         kind TEXT NOT NULL,
         previous BLOB NOT NULL CHECK (length(previous) = 32),
         hash BLOB NOT NULL CHECK (length(hash) = 32),
         content TEXT NOT NULL,
         UNIQUE (device, sequence, hash));
       CREATE TRIGGER entries_are_never_changed BEFORE UPDATE ON entries
         BEGIN SELECT RAISE(ABORT, 'entries are never changed'); END;
       CREATE TRIGGER entries_are_never_deleted BEFORE DELETE ON entries
         BEGIN SELECT RAISE(ABORT, 'entries are never deleted'); END;)",
    R"(CREATE TABLE attachments (
         hash BLOB PRIMARY KEY NOT NULL CHECK (length(hash) = 32),
         bytes BLOB NOT NULL);
       CREATE TRIGGER attachments_are_never_changed BEFORE UPDATE ON attachments
         BEGIN SELECT RAISE(ABORT, 'attachments are never changed'); END;
       CREATE TRIGGER attachments_are_never_deleted BEFORE DELETE ON attachments
         BEGIN SELECT RAISE(ABORT, 'attachments are never deleted'); END;)",
    R"(ALTER TABLE entries ADD COLUMN signature BLOB
         CHECK (signature IS NULL OR length(signature) = 64);)"};

constexpr int kGuardsPerTable = 2;

std::string number(std::int64_t value) {
  return std::to_string(value);
}

}  // namespace

std::int64_t schema_version(Database& database) {
  return database.whole("PRAGMA user_version");
}

bool has_signatures(Database& database) {
  // The table itself is asked: a flipped bit of the version would make every entry look forged.
  return database.whole(
             "SELECT count(*) FROM pragma_table_info('entries') WHERE name = "
             "'signature'") == 1;
}

void make_schema(Database& database) {
  database.run("PRAGMA page_size = " + number(kPage_bytes));
  database.run("PRAGMA encoding = 'UTF-8'");
  database.run("PRAGMA journal_mode = WAL");
  database.run("PRAGMA synchronous = FULL");
  Transaction transaction(database);
  database.run("PRAGMA application_id = " + number(kApplicationId));
  for (const char* const step : kSteps) database.run(step);
  database.run("PRAGMA user_version = " + number(kSchemaVersion));
  transaction.commit();
}

void migrate(Database& database) {
  if (schema_version(database) == kSchemaVersion) return;
  Transaction transaction(database);
  // Another process may have been faster.
  for (std::int64_t version = schema_version(database); version < kSchemaVersion; ++version) {
    database.run(kSteps.at(static_cast<std::size_t>(version)));
  }
  database.run("PRAGMA user_version = " + number(kSchemaVersion));
  transaction.commit();
}

int count_missing_guards(Database& database) {
  const auto found = database.whole("SELECT count(*) FROM sqlite_schema WHERE type = 'trigger'");
  const int tables = schema_version(database) >= kVersionWithAttachments ? 2 : 1;
  return tables * kGuardsPerTable - static_cast<int>(found);
}

std::string fault_of_durability(Database& database) {
  constexpr std::int64_t kFull = 2;
  database.run("PRAGMA synchronous = FULL");
  database.run("PRAGMA foreign_keys = ON");
  const std::string mode = database.text("PRAGMA journal_mode = WAL");
  if (mode != "wal") return "its log can not be kept as a write-ahead log (it is \"" + mode + "\")";
  const std::int64_t synchronous = database.whole("PRAGMA synchronous");
  if (synchronous != kFull) {
    return "the setting synchronous is " + number(synchronous) + " though 2 (FULL) was asked for";
  }
  if (database.whole("PRAGMA foreign_keys") != 1) return "foreign keys can not be switched on";
  return {};
}

}  // namespace weighwright::journal
