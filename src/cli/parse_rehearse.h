#pragma once
/// Options of `rehearse`.

#include <string>
#include <vector>

#include "cli/request.h"

namespace CLI {
class App;
}

namespace weighwright::cli {

void add_rehearse(CLI::App& app, RehearseVerb& filled);

/// The words behind DECK are a command of the practice site's own ("turn 2R -1/2", "cells
/// --no-load"), not options of the program.
struct SplitRehearse {
  std::vector<std::string> options;  // for the parser; all arguments of every other verb
  std::vector<std::string> command;
};
[[nodiscard]] SplitRehearse split_rehearse(const std::vector<std::string>& arguments);

}  // namespace weighwright::cli
