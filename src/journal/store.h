#pragma once
/// What a Journal is inside: a connection, how it fails, what was found when it was opened.

#include <functional>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "journal/chains.h"
#include "journal/database.h"
#include "journal/forgery.h"
#include "journal/journal.h"
#include "journal/log_inspection.h"
#include "journal/rows.h"

namespace weighwright::journal {

/// The kind of the entries that close a chain.
inline constexpr std::string_view kChainClosed = "chain_closed";

/// Numbers of chains that are closed, each with the key that says so: a device closes its own only.
using ClosedChains = std::set<std::pair<std::string, std::string>>;

struct Attachment {
  HashBytes hash{};
  std::string bytes;
};

class Journal::Store {
 public:
  Store(std::string path, Access access) : path_(std::move(path)), access_(access) {}

  /// Connects; diagnostics when it is no journal or can not be written. Throws StorageFailure.
  [[nodiscard]] units::Diagnostics open();

  struct Wanted {
    bool content = false;
    bool unconfirmed = false;  // also intact entries from a damaged end of the log
    Signatures signatures = Signatures::ends;
  };
  /// Everything in total order, what is forged marked; searched for where SQLite fails.
  [[nodiscard]] std::vector<LoadedEntry> load(const Wanted& wanted);

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
    bool large = false;   // some number is above kMostCounted (impossible.h)
    ClosedChains closed;  // as entries chain_closed say
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
  [[nodiscard]] units::Diagnostics refuse_damaged_tail();
  void look_for_tail(Database& database);
  [[nodiscard]] units::Diagnostics examine();
  [[nodiscard]] units::Diagnostics fall_back(const std::string& why);
  void inspect_before_opening();
  void tell_tail();
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

/// For append, exchange and merge: rows as they are.
class StoreAccess {
 public:
  [[nodiscard]] static Journal::Store& store(Journal& journal) { return *journal.store_; }

  [[nodiscard]] static Appended append(Journal::Store& store,
                                       const Identity& identity,
                                       const std::vector<record::Draft>& drafts,
                                       const Moment& moment,
                                       const ClosedChains& closed = {});

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

/// The numbers that a device has written under in a journal with these devices, or would next.
[[nodiscard]] std::vector<std::string> numbers_of(const Identity& identity,
                                                  const std::set<std::string>& devices);

/// The row of an entry that was loaded with its content.
[[nodiscard]] Row row_of(const LoadedEntry& loaded);

}  // namespace weighwright::journal
