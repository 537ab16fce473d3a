#pragma once
/// The bodies of requests, from JSON to values. One pure function for each, all faults at once.
///
/// A body is one JSON object (RFC 8259) in UTF-8, at most 8 levels deep, without a key twice and
/// with no key that is not known. Faults name the field ("tables[0].text") and, where the text is
/// no JSON, line and column.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "job/page_site.h"
#include "units/diagnostic.h"

namespace weighwright::web {

template <class Value>
struct Body {
  std::optional<Value> value;  // empty when there are faults
  units::Diagnostics faults;
};

struct RecordBody {
  job::PageEntries entries;
  std::string author;
};

struct UndoBody {
  job::PageUndo undo;
  std::string author;
};

struct DraftBody {
  std::string name;
  std::vector<std::string> answers;
};

struct PairBody {
  std::string code;
  std::string name;  // of the phone, or of who holds it
};

[[nodiscard]] Body<PairBody> read_pair(std::string_view text);
/// The number of a phone that is to be put out.
[[nodiscard]] Body<int> read_put_out(std::string_view text);
/// Nothing: {} or no text at all.
[[nodiscard]] Body<bool> read_leave(std::string_view text);
[[nodiscard]] Body<RecordBody> read_record(std::string_view text);
[[nodiscard]] Body<UndoBody> read_undo(std::string_view text);
/// Lines for the practice site.
[[nodiscard]] Body<job::PageCommands> read_practice(std::string_view text);
[[nodiscard]] Body<DraftBody> read_draft(std::string_view text);

}  // namespace weighwright::web
