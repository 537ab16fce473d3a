#pragma once
/// Runs what was asked for: reads files, calls job, prints. No logic.

#include <iosfwd>

#include "cli/request.h"

namespace weighwright::cli {

/// What the program talks to.
struct Streams {
  std::istream& in;
  std::ostream& out;
  std::ostream& err;
  bool in_is_terminal = false;  // then questions are asked again after a wrong answer
};

enum ExitCode : int { kDone = 0, kNo = 1, kWrongInput = 2, kMachineFailed = 3 };

/// @return exit code: 0 done, 1 the answer is "no", 2 input wrong, 3 the machine failed us
[[nodiscard]] int run(const Request& request, Streams streams);

/// Faults to stderr, and as JSON to stdout where that was asked for.
void print_faults(const units::Diagnostics& faults, bool json, Streams streams);

}  // namespace weighwright::cli
