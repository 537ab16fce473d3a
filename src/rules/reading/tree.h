#pragma once
/// The text of a rulebook as a tree with places. The only file that knows the TOML library is
/// tree.cpp; nothing here knows what a rulebook is.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "units/diagnostic.h"

namespace weighwright::rules::reading {

/// Which text a value stands in: the base, or the file that is read (a variant's, or the only one).
enum class Origin { base = 0, file = 1 };

/// A value, a list or a table.
struct Node {
  enum class Type { text, number, boolean, list, table, other };

  Type type = Type::table;
  std::string text;            // of a text
  double number = 0.0;         // of a number
  bool flag = false;           // of a boolean
  std::vector<Node> children;  // of a list or a table, in the order of the file
  std::string key;             // of a table's child
  int line = 0;                // of the value
  int column = 0;
  int key_line = 0;  // of the key
  int key_column = 0;
  Origin origin = Origin::file;

  /// The child with this key; null when there is none.
  [[nodiscard]] const Node* find(std::string_view wanted) const;
  [[nodiscard]] Node* find(std::string_view wanted);
  void remove(std::string_view unwanted);
};

struct ParsedTree {
  std::optional<Node> root;   // a table; empty when there is a fault
  units::Diagnostics faults;  // at most one: the reading of syntax stops at the first
};

/// Never throws on any bytes.
[[nodiscard]] ParsedTree parse_tree(std::string_view text, const std::string& file, Origin origin);

}  // namespace weighwright::rules::reading
