#pragma once
/// What one turn of a screw does, from the name of its thread.

#include <optional>
#include <string_view>

namespace weighwright::deck {

struct Thread {
  double diameter_m = 0.0;  // nominal
  double pitch_m = 0.0;     // rise of one turn
};

/// "M20" (coarse pitch of ISO 261:1998, table 2), "M20x1.5" (pitch as written), "5/8-11 UNC",
/// "1 1/4-7", "3/4-16 UNF" (inches, threads an inch; ASME B1.1). Empty when it is none of these.
[[nodiscard]] std::optional<Thread> parse_thread(std::string_view text);

}  // namespace weighwright::deck
