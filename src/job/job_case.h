#pragma once
/// The journal of one site: what can be done with it. Opens the file, records, folds, answers.
///
/// Errors: wrong input gives faults; a machine that fails (disk full, read-only) throws
/// journal::StorageFailure with what became of the entries.

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "job/load_deck.h"
#include "record/entry.h"
#include "report/job_view.h"
#include "units/diagnostic.h"

namespace weighwright::diagnose {
struct MeterMemory;
}

namespace weighwright::job {

/// Who writes, and when: the face knows.
struct Writer {
  std::string device;  // 16 hex digits
  std::string author;
  std::int64_t time_ms = 0;
  int offset_min = 0;
  std::string key = {};      // secret: 32 bytes that its Ed25519 key is made of; empty: none
  std::string version = {};  // of the program, and what names this very build; empty: not told
  std::string build = {};
  /// The phone that it came over, as it was named when it was let in; empty: none.
  std::string phone = {};
};

/// Why there is no view, as far as a face acts on it.
enum class Denial {
  wrong_input,
  other_journal,  // what was sent names another journal than this one
  unconfirmed     // it can hardly be on this deck: recorded when it is sent as confirmed
};

/// Devices that this machine has met, and their public keys (64 hex digits).
using KnownDevices = std::map<std::string, std::string>;

template <class View>
struct JobAnswer {
  std::optional<View> view;  // empty when there are faults
  units::Diagnostics faults;
  Denial denial = Denial::wrong_input;  // where there is no view
};

struct JobNewRequest {
  std::string path;
  std::optional<InputFile> deck;  // may come later
  bool service = false;           // a deck that stands there, not a new one
  std::string remark;
};
[[nodiscard]] JobAnswer<report::RecordedView> job_new(const JobNewRequest& request,
                                                      const Writer& writer);

struct JobAddRequest {
  std::string path;
  std::vector<InputFile> files;   // tables (CSV) and deck files (TOML), in order
  std::vector<InputFile> photos;  // bytes
  std::vector<std::string> ticks;
  std::vector<std::string> unticks;
  std::vector<std::string> notes;
  std::optional<record::Draft> entry;  // of any other kind
  std::string corrects;                // an entry: then there is one file, tick, note or entry
  std::string remark;                  // goes with every entry that can hold one
  /// The sender's own mark (record::common_fields): what was recorded with it is not recorded
  /// again, but answered as if it had just been. Empty: none.
  std::string token = {};
  std::string typed_at = {};   // by the phone's clock; empty: now
  bool keep_position = false;  // photos: where they were taken stays in them
  /// The journal that it was typed for (journal::founding_hash): recorded in no other. No value:
  /// whoever asks chose the file by hand.
  std::optional<std::string> journal = {};
  /// Somebody looked again: it really shows that, however unlikely (job/implausible.h).
  bool confirmed = false;
};
/// @param memory  as advise_site takes it
[[nodiscard]] JobAnswer<report::RecordedView> job_add(const JobAddRequest& request,
                                                      const Writer& writer,
                                                      diagnose::MeterMemory* memory = nullptr);

/// @param entry    number, name or hash; empty: the last one that counts
/// @param journal  as JobAddRequest::journal
[[nodiscard]] JobAnswer<report::RecordedView> job_undo(
    const std::string& path,
    const std::string& entry,
    const std::string& remark,
    const Writer& writer,
    const std::string& token = "",
    const std::optional<std::string>& journal = {});

/// Where the job stands, what is next and why.
/// @param with_entries  every entry in words too
[[nodiscard]] JobAnswer<report::JobView> job_look(const std::string& path, bool with_entries);

/// @param heads    "DEVICE:SEQUENCE:HASH" as printed earlier: they must still be there
/// @param against  an export made earlier: its entries must still be there
/// @param paper    a file: was it written by this record, with a number?
[[nodiscard]] JobAnswer<report::VerifyView> job_verify(
    const std::string& path,
    const std::vector<std::string>& heads,
    const std::optional<std::string>& against,
    const std::optional<InputFile>& paper = std::nullopt);

/// @param other   a journal, or an export
/// @param writer  the device that merges: what is forged in its name is refused, and where a second
///                copy wrote to its chain it goes on under another number
[[nodiscard]] JobAnswer<report::RecordedView> job_merge(const std::string& path,
                                                        const std::string& other,
                                                        const Writer& writer = {},
                                                        const KnownDevices& known = {});

/// To a new file.
[[nodiscard]] JobAnswer<report::RecordedView> job_export(const std::string& path,
                                                         const std::string& to);
[[nodiscard]] JobAnswer<report::RecordedView> job_import(const std::string& path,
                                                         const std::string& from,
                                                         const Writer& writer = {},
                                                         const KnownDevices& known = {});
[[nodiscard]] JobAnswer<report::RecordedView> job_backup(const std::string& path,
                                                         const std::string& to);

/// Every intact entry of a damaged journal to a new one; what could not be brought over is told.
[[nodiscard]] JobAnswer<report::RecordedView> job_rescue(const std::string& path,
                                                         const std::string& to);

/// What `diagnose` says of the present visit.
[[nodiscard]] JobAnswer<report::DiagnoseView> job_diagnose(const std::string& path);

}  // namespace weighwright::job
