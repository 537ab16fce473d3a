#pragma once
/// A journal as one open text: JSON Lines.
///
/// Line 1   {"weighwright_journal":1,"heads":[{"device":"..","sequence":12,"hash":".."},..],
///           "entries":12,"attachments":1}
///          (2 where some entry is signed)
/// then     one line an entry, in total order: its content with "previous" and "hash" as the last
///          two keys (record/encoding/entry_text.h), and "signature" where it is signed; to check
///          one, cut them off and hash (entry_hash.h), and check the signature (signature.h)
/// then     {"attachment":"<hash>","base64":".."} for each, RFC 4648 section 4
///
/// Importing gives the same hashes. A line that is broken, whose hash or signature does not fit, or
/// that can not be (impossible.h) is named, and nothing is imported by halves.

#include <cstdint>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "journal/journal.h"
#include "journal/merge.h"

namespace weighwright::journal {

struct Exported {
  std::int64_t entries = 0;
  std::int64_t attachments = 0;
  std::vector<record::Head> heads;
  std::vector<Problem> left_out;  // damaged entries and attachments: they can not be exported
  units::Diagnostics faults;      // when nothing was written
};

/// The export, piece by piece.
[[nodiscard]] Exported export_text(Journal& journal,
                                   const std::function<void(std::string_view)>& write);

/// To a new file: written under another name, flushed, renamed, read again and compared. Fault:
/// something is there already. Throws StorageFailure.
[[nodiscard]] Exported export_file(Journal& journal, const std::string& path);

/// Into a new journal at `path`. `name`: what the text is called in messages.
[[nodiscard]] Opened import_text(std::string_view text,
                                 const std::string& name,
                                 const std::string& path);
[[nodiscard]] Opened import_file(const std::string& export_path, const std::string& path);

/// Into a journal that exists.
[[nodiscard]] Merged merge_text(Journal& into,
                                std::string_view text,
                                const std::string& name,
                                const Receiver& receiver = {});
[[nodiscard]] Merged merge_file(Journal& into,
                                const std::string& export_path,
                                const Receiver& receiver = {});

/// Whether a file says of itself that it is an export, broken or not.
[[nodiscard]] bool is_called_export(const std::string& path);

/// What is wrong with a text as an export; empty: nothing. Writes nothing.
[[nodiscard]] units::Diagnostics faults_of_export(std::string_view text, const std::string& name);

}  // namespace weighwright::journal
