#include "journal/database.h"

#include "journal/journal.h"

namespace weighwright::journal {
namespace {

[[noreturn]] void fail(sqlite3* database, int code) {
  const bool open = database != nullptr;
  throw SqliteError(open ? sqlite3_extended_errcode(database) : code,
                    open ? sqlite3_errmsg(database) : sqlite3_errstr(code));
}

}  // namespace

Statement::Statement(sqlite3* database, std::string_view sql) : database_(database) {
  sqlite3_stmt* statement = nullptr;
  const int code =
      sqlite3_prepare_v2(database, sql.data(), static_cast<int>(sql.size()), &statement, nullptr);
  statement_.reset(statement);
  if (code != SQLITE_OK) fail(database, code);
}

Statement& Statement::bind(int index, std::int64_t value) {
  if (const int code = sqlite3_bind_int64(statement_.get(), index, value)) fail(database_, code);
  return *this;
}

Statement& Statement::bind_text(int index, std::string_view text) {
  const int code = sqlite3_bind_text64(statement_.get(), index, text.data(), text.size(),
                                       SQLITE_TRANSIENT, SQLITE_UTF8);
  if (code != SQLITE_OK) fail(database_, code);
  return *this;
}

Statement& Statement::bind_bytes(int index, std::string_view bytes) {
  const int code =
      sqlite3_bind_blob64(statement_.get(), index, bytes.data(), bytes.size(), SQLITE_TRANSIENT);
  if (code != SQLITE_OK) fail(database_, code);
  return *this;
}

Statement& Statement::bind_null(int index) {
  if (const int code = sqlite3_bind_null(statement_.get(), index)) fail(database_, code);
  return *this;
}

bool Statement::step() {
  const int code = sqlite3_step(statement_.get());
  if (code != SQLITE_ROW && code != SQLITE_DONE) fail(database_, code);
  return code == SQLITE_ROW;
}

void Statement::reset() {
  sqlite3_reset(statement_.get());
}

std::int64_t Statement::whole(int column) const {
  return sqlite3_column_int64(statement_.get(), column);
}

std::string_view Statement::bytes(int column) const {
  const void* const data = sqlite3_column_blob(statement_.get(), column);
  const int size = sqlite3_column_bytes(statement_.get(), column);
  if (data == nullptr) return {};
  return {static_cast<const char*>(data), static_cast<std::size_t>(size)};
}

int Statement::type(int column) const {
  return sqlite3_column_type(statement_.get(), column);
}

Database::Database(const std::string& path, int flags) {
  sqlite3* database = nullptr;
  const int code = sqlite3_open_v2(path.c_str(), &database, flags | SQLITE_OPEN_NOMUTEX, nullptr);
  database_.reset(database);
  if (code != SQLITE_OK) fail(database, code);
  sqlite3_extended_result_codes(database, 1);
  sqlite3_busy_timeout(database, kPatience_s * 1'000);
}

void Database::run(const std::string& sql) {
  const int code = sqlite3_exec(get(), sql.c_str(), nullptr, nullptr, nullptr);
  if (code != SQLITE_OK) fail(get(), code);
}

std::int64_t Database::whole(std::string_view sql) {
  Statement statement = prepare(sql);
  return statement.step() ? statement.whole(0) : 0;
}

std::string Database::text(std::string_view sql) {
  Statement statement = prepare(sql);
  return statement.step() ? std::string(statement.bytes(0)) : std::string();
}

Transaction::Transaction(Database& database) : database_(database) {
  database_.run("BEGIN IMMEDIATE");
}

Transaction::~Transaction() {
  // SQLite has rolled back by itself after some errors; then this one fails, which is as well.
  if (open_) sqlite3_exec(database_.get(), "ROLLBACK", nullptr, nullptr, nullptr);
}

void Transaction::commit() {
  database_.run("COMMIT");
  open_ = false;
}

}  // namespace weighwright::journal
