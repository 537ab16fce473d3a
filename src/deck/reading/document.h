#pragma once
/// The text of a TOML file as a tree with places. The only file that knows the TOML library is
/// document.cpp; nothing here knows what a deck is.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "units/diagnostic.h"

namespace weighwright::deck::reading {

/// A value, a list or a table.
struct Node {
  enum class Type { text, whole, decimal, boolean, list, table, other };

  Type type = Type::table;
  std::string text;            // of a text
  double number = 0.0;         // of a whole or decimal number
  bool flag = false;           // of a boolean
  std::vector<Node> children;  // of a list or a table, in the order of the file
  std::string key;             // of a table's child
  int line = 0;                // of the value
  int column = 0;
  int key_line = 0;  // of the key
  int key_column = 0;

  /// The child with this key; null when there is none.
  [[nodiscard]] const Node* find(std::string_view wanted) const;
};

struct ParsedDocument {
  std::optional<Node> root;   // a table; empty when there is a fault
  units::Diagnostics faults;  // at most one: the reading of syntax stops at the first
};

/// Never throws on any bytes.
[[nodiscard]] ParsedDocument parse_document(std::string_view text, const std::string& file);

}  // namespace weighwright::deck::reading
