#pragma once
/// What a Journal is inside: a connection, how it fails, what was found when it was opened.

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "journal/chains.h"
#include "journal/database.h"
#include "journal/journal.h"
#include "journal/log_inspection.h"
#include "journal/rows.h"

namespace weighwright::journal {

struct Attachment {
  HashBytes hash{};
  std::string bytes;
};

class Journal::Store {
 public:
  Store(std::string path, Access access) : path_(std::move(path)), access_(access) {}

  /// Connects; diagnostics when it is no journal or can not be written. Throws StorageFailure.
  [[nodiscard]] units::Diagnostics open();

  /// Everything in total order; searched for where SQLite fails.
  [[nodiscard]] std::vector<LoadedEntry> load(bool with_content, bool with_unconfirmed = false);

  /// What the file's pages, guards, attachments and log show.
  void check_file(std::vector<Problem>& problems);

  /// Runs a change in one transaction that is on the disk afterwards. `hashes`: of entries that
  /// tell, after an error, whether it was recorded.
  void change(const std::function<void(Database&)>& work, const std::vector<HashBytes>& hashes);
  /// Like it, with hashes known only once the work is done.
  void change(const std::function<void(Database&, std::vector<HashBytes>&)>& work);

  /// Runs a question; errors become StorageFailure.
  void ask(const std::function<void(Database&)>& work);

  /// Heads and the largest lamport count, as the columns say; only what came since is read.
  struct State {
    Heads heads;
    std::int64_t lamport = 0;
    std::int64_t position = 0;
  };
  [[nodiscard]] const State& state(Database& database);

  /// As found when it was opened.
  [[nodiscard]] bool has_attachments() const;
  [[nodiscard]] const std::string& path() const { return path_; }
  [[nodiscard]] Access access() const { return access_; }
  [[nodiscard]] const std::vector<Problem>& remarks() const { return remarks_; }
  [[nodiscard]] bool salvaged() const { return salvaged_; }
  [[nodiscard]] Database* database() { return database_.get(); }

 private:
  [[nodiscard]] std::unique_ptr<Database> connect() const;
  [[nodiscard]] units::Diagnostics examine();
  [[nodiscard]] units::Diagnostics fall_back(const std::string& why);
  void inspect_before_opening();
  void bring_back_rescued();
  void read_all(std::vector<LoadedEntry>& entries, bool with_content);
  void search_all(std::vector<LoadedEntry>& entries, bool with_content);
  [[nodiscard]] std::string bytes_of_file();
  [[nodiscard]] bool is_called_journal();
  [[nodiscard]] Database& connected();
  [[nodiscard]] StorageFailure failure(const SqliteError& error, Outcome outcome) const;
  [[nodiscard]] Outcome look_again(const std::vector<HashBytes>& hashes);
  void check_attachments(std::vector<Problem>& problems);

  std::string path_;
  Access access_;
  std::unique_ptr<Database> database_;
  State state_;
  LogState log_;
  std::int64_t version_ = 0;  // of the schema
  std::vector<Problem> remarks_;
  bool salvaged_ = false;  // there is no connection: entries are searched for
  std::string why_salvaged_;
};

/// For exchange and merge: rows as they are.
class StoreAccess {
 public:
  [[nodiscard]] static Journal::Store& store(Journal& journal) { return *journal.store_; }

  /// A new journal with these rows and attachments, whole or not at all.
  [[nodiscard]] static Opened create_with(const std::string& path,
                                          const std::vector<Row>& rows,
                                          const std::vector<Attachment>& attachments);

  struct Brought {
    std::int64_t rows = 0;
    std::int64_t attachments = 0;
  };
  /// Adds what is not there yet, in one transaction.
  static Brought bring(Journal& journal,
                       const std::vector<Row>& rows,
                       const std::vector<Attachment>& attachments);
};

/// The row of an entry that was loaded with its content.
[[nodiscard]] Row row_of(const LoadedEntry& loaded);

}  // namespace weighwright::journal
