#pragma once
/// The journal of one site: one SQLite file of entries that are never changed.
///
/// Promise   what append() returned is on the disk: one transaction a call, in a write-ahead log
///           with synchronous=FULL, both read back when the file is opened for writing.
/// Chains    every device writes a chain of its own, each entry names the one before it by hash
///           (entry_hash.h); state is a fold over the total order of record::before().
/// Sharing   many may read while one writes; writers take turns and wait at most kPatience_s.
/// Errors    wrong input gives diagnostics; a machine that fails throws StorageFailure.
/// Threads   one at a time may use a Journal; every thread may have its own of the same file.
/// Damage    what can not be read through SQLite any more is searched for page by page
///           (salvage.h); an entry counts only if its hash fits.

#include <array>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "journal/problem.h"
#include "journal/storage_failure.h"
#include "record/entry.h"
#include "units/diagnostic.h"

namespace weighwright::journal {

/// How long a writer waits for another one.
inline constexpr int kPatience_s = 10;

/// What an Ed25519 key pair is made of (RFC 8032, 5.1.5), secret.
using KeySeed = std::array<unsigned char, 32>;

/// Who writes. The device names the chain and its key signs what is written to it (signature.h);
/// both are kept outside the file, so that a copied file does not carry them along.
struct Identity {
  std::string device;  // 16 lower-case hex digits, random, one a machine
  std::string author;
  /// None: entries are not signed. A chain that is signed can not be gone on with so.
  std::optional<KeySeed> key = std::nullopt;
};

struct Moment {
  std::int64_t time_ms = 0;  // UTC since 1970-01-01T00:00:00Z
  int offset_min = 0;        // local time less UTC
};

enum class Access { read, write };

struct LoadedEntry {
  record::Entry entry;
  bool intact = true;  // its hash fits its content, and nothing shows that it is forged
  std::optional<ProblemKind> problem_kind;  // with `problem`; also of an intact entry
  std::string problem;                      // a sentence; empty: nothing
  std::string content;    // the text that was hashed; kept for export and merge only
  std::string signature;  // 64 bytes; empty: it is not signed
};

struct Appended {
  std::vector<record::Entry> entries;  // as recorded, with their hashes
  units::Diagnostics faults;           // when nothing was recorded
};

struct Verification {
  std::vector<Problem> problems;
  std::vector<record::Head> heads;
  std::int64_t count = 0;            // intact entries
  [[nodiscard]] bool whole() const;  // no problem breaks
};

class Journal;

struct Opened {
  std::unique_ptr<Journal> journal;
  units::Diagnostics faults;  // when there is none
};

class Journal {
 public:
  /// A new file. Fault: something is there already, or its directory is not.
  [[nodiscard]] static Opened create(const std::string& path);

  /// Fault: no such file, no journal, made by a later version; with Access::write also a file that
  /// is damaged so that SQLite can not read it (with Access::read its intact entries are shown),
  /// and one whose log ends in a damaged transaction: going on would write over it.
  /// Writing brings an older file to this version first.
  [[nodiscard]] static Opened open(const std::string& path, Access access);

  ~Journal();
  Journal(const Journal&) = delete;
  Journal& operator=(const Journal&) = delete;

  [[nodiscard]] const std::string& path() const;

  /// Records drafts as entries of the identity's chain, all or none. They are on the disk when it
  /// returns. A chain that is closed (a second copy wrote to it, or another key signs it) is not
  /// gone on with: they are then of a chain under the number that follows (signature.h), as their
  /// stamps say. Entries with numbers that can not be (impossible.h) are passed over, so that there
  /// is always a next one. Fault: record::faults_of, an identity or a moment that can not be,
  /// `corrects` or the `of` of an undo that names no entry. Throws StorageFailure with what became
  /// of them.
  [[nodiscard]] Appended append(const Identity& identity,
                                const std::vector<record::Draft>& drafts,
                                const Moment& moment);

  /// Every entry in total order, hashes checked. Damaged ones are there too, with what is known.
  [[nodiscard]] std::vector<LoadedEntry> entries();

  /// The last entry of every chain, by device (two of one device: a fork).
  [[nodiscard]] std::vector<record::Head> heads();

  /// Keeps bytes under their hash, which it returns (64 hex digits); on the disk when it returns.
  [[nodiscard]] std::string attach(std::string_view bytes);
  [[nodiscard]] std::optional<std::string> attachment(const std::string& hash);
  /// Hashes of all attachments, sorted.
  [[nodiscard]] std::vector<std::string> attachments();

  /// Everything that can be found wrong: every hash and chain, the file's pages, attachments, the
  /// log. `expected`: heads that were printed or exported earlier and must still be there.
  [[nodiscard]] Verification verify(const std::vector<record::Head>& expected = {});

  /// A copy through SQLite's backup interface, flushed, opened again and compared: count and heads.
  /// Fault: something is there already.
  [[nodiscard]] units::Diagnostics backup(const std::string& path);

  /// What opening found and mended; empty as a rule.
  [[nodiscard]] const std::vector<Problem>& remarks() const;

  /// Whether entries had to be searched for because SQLite can not read the file.
  [[nodiscard]] bool salvaged() const;

 private:
  class Store;
  friend class StoreAccess;  // exchange, merge: rows as they are
  explicit Journal(std::unique_ptr<Store> store);
  std::unique_ptr<Store> store_;
};

}  // namespace weighwright::journal
