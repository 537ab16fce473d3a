#pragma once
/// One fault of an input, in the words of the person who has to mend it.

#include <string>
#include <string_view>
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

/// Text from an input, in quotation marks and fit for a message: at most 40 characters, then "...";
/// control characters and bytes that are no UTF-8 shown as '?'. The result is always valid UTF-8.
[[nodiscard]] std::string quote(std::string_view text);

/// Whether the bytes are well-formed UTF-8 (The Unicode Standard 15.0, table 3-7).
[[nodiscard]] bool is_utf8(std::string_view text);

}  // namespace weighwright::units
