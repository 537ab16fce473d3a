#pragma once
/// The answers of `job`, ready to be shown.

#include <optional>
#include <string>
#include <vector>

#include "report/ask_view.h"
#include "report/diagnose_view.h"
#include "report/share_view.h"
#include "report/span_view.h"
#include "report/trim_view.h"
#include "units/diagnostic.h"

namespace weighwright::report {

/// End of a device's chain: with count and hash in every report a journal can be checked later.
struct HeadView {
  std::string device;  // 16 hex digits
  long long sequence = 0;
  std::string hash;  // 64 hex digits
};

/// How well this machine knows the device that wrote a chain.
enum class Acquaintance { own, known, unknown, other_key, unsigned_chain };

/// One device's chain: who wrote it, and what proves it.
struct ChainView {
  std::string device;  // 16 hex digits
  std::vector<std::string> authors;
  long long entries = 0;
  long long signed_entries = 0;
  std::string key;  // public, 64 hex digits; empty: not signed
  Acquaintance acquaintance = Acquaintance::unknown;
  std::string sentence;
};

struct EntryView {
  int number = 0;    // in the total order, from 1
  std::string name;  // "3f9a04c1-12"
  std::string time;  // "2026-11-25 19:30:05 +01:00", local time at the writer's place
  std::string time_utc;
  std::string author;
  std::string kind;
  std::string says;  // one line
  std::string fate;  // "", "corrected by 12", "undone by 9", "corrects 4", "damaged: ..."
  std::string hash;
  std::vector<std::pair<std::string, std::string>> fields;  // as typed
};

struct StepView {
  std::string code;
  std::string name;
  std::string state;  // done | open | blocked | not_needed
  std::string why;
  std::vector<int> entries;
};

struct ActionView {
  std::string step;
  std::string code;  // what kind of thing: "read_cells" (docs/page-api.md)
  std::string headline;
  std::vector<std::string> how;
  std::vector<std::string> cautions;
  std::string then_type;
  std::string table;           // the moves as a table, as job add and rehearse take it; or empty
  std::vector<int> entries;    // that led to it
  std::vector<FormView> asks;  // what would be recorded, for a form
};

struct ConflictView {
  std::string kind;
  std::string sentence;
  int first = 0;  // entries
  int second = 0;
  bool settled = false;
};

/// What belongs to the next action: the answer of the verb that would give it.
struct BehindAction {
  std::optional<ShareView> share;
  std::optional<TrimView> trim;
  std::optional<SpanView> span;
  std::optional<DiagnoseView> diagnosis;
};

struct AsFoundView {
  bool frozen = false;
  int frozen_by = 0;  // entry
  std::vector<int> entries;
  std::vector<int> corrected_later;
};

/// Which cell stands under a stand, and which stood there before.
struct StandCellView {
  struct Cell {
    std::string serial;       // "unknown" where somebody said so; empty: nobody wrote it down
    std::string certificate;  // likewise
    int entry = 0;            // that says so; 0: the deck file, or nobody
  };
  std::string stand;
  Cell now;
  std::string terminal;                // empty: not given
  std::vector<std::string> not_known;  // "capacity", "output": said to be unknown
  std::vector<Cell> before;            // in order
  [[nodiscard]] bool told() const {
    return !now.serial.empty() || !now.certificate.empty() || !not_known.empty() || !before.empty();
  }
};

struct JobView {
  std::string path;
  std::string journal;    // which one it is, whatever it is called (journal/founding.h)
  std::string deck_name;  // empty: no deck was described
  std::string began;      // "installation", "service call"
  int entry_count = 0;
  std::vector<HeadView> heads;
  std::vector<StepView> steps;
  ActionView next;
  BehindAction behind;
  AsFoundView as_found;
  std::vector<StandCellView> cells;   // by stand; empty: no deck was described
  std::vector<std::string> warnings;  // loads on an ungrouted deck, conditions not ticked, ...
  std::vector<ConflictView> conflicts;
  units::Diagnostics unreadable;    // entries that can't be read with this deck
  std::vector<std::string> damage;  // of the file
  std::vector<EntryView> entries;
  std::vector<EntryView> of_record;  // of the record itself: which program wrote, ... (no numbers)
  std::vector<ChainView> chains;     // with the entries
  bool whole = true;                 // nothing is damaged
};

/// @param most  entries shown, the last ones; negative: all
[[nodiscard]] std::string draw_show(const JobView& view, int most);
[[nodiscard]] std::string draw_next(const JobView& view);
[[nodiscard]] std::string print_show_json(const JobView& view);
[[nodiscard]] std::string print_next_json(const JobView& view);

/// What an add, an undo or a merge did.
struct RecordedView {
  std::string path;
  std::vector<EntryView> entries;  // that came
  int photos = 0;
  std::vector<std::string> sentences;
  std::vector<std::string> warnings;
  std::vector<HeadView> heads;
  std::vector<ConflictView> conflicts;
  std::vector<ChainView> chains;  // merge, import: whose chains the other file holds
};
[[nodiscard]] std::string draw_text(const RecordedView& view);
[[nodiscard]] std::string print_json(const RecordedView& view);

struct ProblemView {
  std::string code;   // "changed"
  std::string entry;  // "3f9a04c1-12"; empty: the file
  std::string time;
  std::string what;
  bool breaks = true;
};

/// Whether a file is one that this record wrote.
struct PaperView {
  std::string file;
  std::string blake2b;  // of its bytes, 64 hex digits
  bool issued = false;
  std::string number;    // of the report; empty: not issued
  std::string device;    // that wrote it, 16 hex digits
  std::string key;       // that signs it; empty: not signed
  std::string time_utc;  // when
  std::string replaced_by;
  std::string sentence;
};

struct VerifyView {
  std::string path;
  bool whole = true;
  long long count = 0;
  std::vector<HeadView> heads;
  std::vector<ProblemView> problems;
  std::vector<std::string> remarks;
  std::vector<ChainView> chains;
  std::optional<PaperView> paper;
};
[[nodiscard]] std::string draw_text(const VerifyView& view);
[[nodiscard]] std::string print_json(const VerifyView& view);

}  // namespace weighwright::report
