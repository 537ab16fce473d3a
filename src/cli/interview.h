#pragma once
/// `new`: asks the questions of a deck file, on a terminal or from a list of answers.

#include "cli/request.h"
#include "cli/verbs.h"

namespace weighwright::cli {

/// Asks, writes the deck file, returns the exit code. On a terminal a wrong answer is asked again,
/// with what is wrong and what would be right; from a list it ends with exit code 2.
[[nodiscard]] int run_interview(const NewVerb& verb, Streams streams);

}  // namespace weighwright::cli
