#pragma once
/// The commands of a practice site: what each reads, does and says.

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "job/rehearse_words.h"
#include "rehearsal/practice.h"
#include "report/rehearse_view.h"

namespace weighwright::job {

/// What a command does to the site and says. It may throw what the site throws; a refusal stands in
/// the reader, and the site is then to be thrown away.
using RehearseDoing = std::function<void(rehearsal::PracticeSite&, Reader&, report::RehearseView&)>;

struct RehearseCommand {
  std::string_view name;
  std::string_view how;
  std::string_view says;
  bool changes = true;  // kept among what was done: it takes time, or moves something
  RehearseDoing act;    // empty: the command needs a file
};

[[nodiscard]] const std::vector<RehearseCommand>& rehearse_commands();
/// Null: there is none.
[[nodiscard]] const RehearseCommand* find_rehearse_command(std::string_view name);

// Parts that commands share.

/// Every command reads all of its words before it touches the site: nothing left over, no refusal.
[[nodiscard]] bool readable(Reader& reader);

inline constexpr const char* kLiftCaution =
    "On a real site: traffic locked out, both sides of a section jacked together, packing follows, "
    "no hand between plate and cell.";
inline constexpr const char* kLoadCaution =
    "On a real site: loads moved by licensed people, nobody below or beside the deck meanwhile.";

/// place, corners, steps, loads, drive, pass, rock, zero, set-zero, trim, span.
[[nodiscard]] std::vector<RehearseCommand> rehearse_load_commands();

/// weights, test.
[[nodiscard]] std::vector<RehearseCommand> rehearse_test_commands();

}  // namespace weighwright::job
