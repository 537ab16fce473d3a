#pragma once
/// One fault of an input, in the words of the person who has to mend it.

#include <string>
#include <vector>

namespace weighwright::units {

/// Where an input is wrong, what is wrong and what would be right.
/// `line` and `column` count from 1; 0 means that the fault has no place in the file.
struct Diagnostic {
  std::string file;
  int line = 0;
  int column = 0;
  std::string what;
  std::string expected;
};

using Diagnostics = std::vector<Diagnostic>;

/// `file:line:column: what; expected` (the parts that are empty are left out).
[[nodiscard]] std::string print(const Diagnostic& diagnostic);

}  // namespace weighwright::units
