#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <string>

#include "fuzz/entry.h"
#include "journal/entry_hash.h"
#include "journal/journal.h"
#include "journal/salvage.h"

namespace weighwright::fuzz {

namespace {

/// In memory where there is such a place.
std::string place() {
  std::error_code ignored;
  const std::filesystem::path memory = "/dev/shm";
  const std::filesystem::path parent = std::filesystem::is_directory(memory, ignored)
                                           ? memory
                                           : std::filesystem::temp_directory_path();
  return parent / ("journal-fuzz-" + std::to_string(::getpid()) + ".job");
}

void put(const std::string& path, std::string_view bytes) {
  std::ofstream file(path, std::ios::binary | std::ios::trunc);
  file.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
}

/// An entry is intact only if its hash fits.
void hold_salvaged(const journal::Salvaged& salvaged) {
  for (const journal::LoadedEntry& one : salvaged.entries) {
    if (!one.intact) continue;
    const auto previous = journal::parse_hex(one.entry.previous);
    hold(previous.has_value());
    hold(journal::print_hex(journal::entry_hash(one.content, *previous)) == one.entry.hash);
  }
}

void use(const std::string& path, journal::Access access) {
  try {
    const journal::Opened opened = journal::Journal::open(path, access);
    hold((opened.journal != nullptr) == opened.faults.empty());
    if (!opened.journal) return;
    const journal::Verification verification = opened.journal->verify();
    const auto entries = opened.journal->entries();
    hold(static_cast<std::size_t>(verification.count) <= entries.size());
    for (const std::string& hash : opened.journal->attachments()) {
      (void)opened.journal->attachment(hash);
    }
    if (access == journal::Access::read) return;
    const record::Draft note{.kind = "note", .fields = {{"text", "on"}}, .corrects = {}};
    (void)opened.journal->append({.device = "0123456789abcdef", .author = ""}, {note}, {});
  } catch (const journal::StorageFailure& failure) {
    hold(!failure.diagnostic().what.empty());
  }
}

}  // namespace

/// The bytes as a file, as a log beside a file, and searched for entries.
void read_journal(std::string_view bytes) {
  hold_salvaged(journal::salvage_bytes(bytes, {}));
  hold_salvaged(journal::salvage_bytes({}, bytes));
  const std::string path = place();
  constexpr std::string_view kLogBegins = "\x37\x7f\x06";
  const std::size_t log = bytes.rfind(kLogBegins);
  put(path, bytes.substr(0, log));
  if (log != std::string_view::npos) put(path + "-wal", bytes.substr(log));
  use(path, journal::Access::read);
  use(path, journal::Access::write);
  for (const char* const ending : {"", "-wal", "-shm", "-journal"}) {
    ::unlink((path + ending).c_str());
  }
}

}  // namespace weighwright::fuzz

WEIGHWRIGHT_FUZZ_TARGET(weighwright::fuzz::read_journal)
