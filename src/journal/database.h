#pragma once
/// SQLite's C interface as values that close themselves. Errors are SqliteError, which the journal
/// turns into diagnostics, StorageFailure or a search of the file.

#include <sqlite3.h>

#include <cstdint>
#include <exception>
#include <memory>
#include <string>
#include <string_view>

namespace weighwright::journal {

class SqliteError : public std::exception {
 public:
  SqliteError(int code, std::string message) : code_(code), message_(std::move(message)) {}
  [[nodiscard]] const char* what() const noexcept override { return message_.c_str(); }
  [[nodiscard]] int primary() const { return code_ & 0xFF; }
  /// The file is damaged or no database at all, while the disk works.
  [[nodiscard]] bool damaged() const {
    return primary() == SQLITE_CORRUPT || primary() == SQLITE_NOTADB;
  }

 private:
  int code_;
  std::string message_;
};

class Statement {
 public:
  Statement(sqlite3* database, std::string_view sql);

  Statement& bind(int index, std::int64_t value);
  Statement& bind_text(int index, std::string_view text);
  Statement& bind_bytes(int index, std::string_view bytes);
  Statement& bind_null(int index);

  /// Whether there is a row.
  bool step();
  void reset();

  [[nodiscard]] std::int64_t whole(int column) const;
  /// Bytes of text or blob; valid until the next step.
  [[nodiscard]] std::string_view bytes(int column) const;
  [[nodiscard]] int type(int column) const;

 private:
  struct Finalize {
    void operator()(sqlite3_stmt* statement) const { sqlite3_finalize(statement); }
  };
  sqlite3* database_;
  std::unique_ptr<sqlite3_stmt, Finalize> statement_;
};

class Database {
 public:
  /// `flags` of sqlite3_open_v2.
  Database(const std::string& path, int flags);

  void run(const std::string& sql);
  [[nodiscard]] Statement prepare(std::string_view sql) { return {get(), sql}; }
  /// The first column of the first row; 0 when there is no row.
  [[nodiscard]] std::int64_t whole(std::string_view sql);
  [[nodiscard]] std::string text(std::string_view sql);
  [[nodiscard]] sqlite3* get() const { return database_.get(); }

 private:
  struct Close {
    void operator()(sqlite3* database) const { sqlite3_close_v2(database); }
  };
  std::unique_ptr<sqlite3, Close> database_;
};

/// BEGIN IMMEDIATE; rolled back unless committed.
class Transaction {
 public:
  explicit Transaction(Database& database);
  ~Transaction();
  Transaction(const Transaction&) = delete;
  Transaction& operator=(const Transaction&) = delete;
  void commit();

 private:
  Database& database_;
  bool open_ = true;
};

}  // namespace weighwright::journal
