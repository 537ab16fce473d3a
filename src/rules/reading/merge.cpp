#include "rules/reading/merge.h"

#include <algorithm>
#include <array>
#include <string_view>

namespace weighwright::rules::reading {

namespace {

constexpr std::array<std::string_view, 7> kFree = {"basis", "carrier", "clause", "name",
                                                   "says",  "when",    "remark"};

bool is_free(const Node& child) {
  return std::find(kFree.begin(), kFree.end(), child.key) != kFree.end();
}

/// Whether a change in this table is one of a number (or a duty) that its clause speaks for. Tables
/// within have clauses of their own.
bool changes_number(const Node& variant) {
  return std::any_of(variant.children.begin(), variant.children.end(), [](const Node& child) {
    return !is_free(child) && (child.type != Node::Type::table || child.key == "further");
  });
}

void settle_source(Node& merged, const Node& variant, Faults& faults) {
  if (merged.find("clause") == nullptr) return;
  if (variant.find("clause") != nullptr) {
    merged.remove("clause");
    merged.remove("basis");
    merged.remove("carrier");
  } else if (changes_number(variant)) {
    faults.at_key(variant.children.front(),
                  "what the base says is changed without a clause of its own",
                  R"(the clause that says so: clause = "...", basis = "read")");
  } else if (variant.find("basis") != nullptr) {
    merged.remove("carrier");
  }
}

}  // namespace

Node merge(const Node& base, const Node& variant, Faults& faults) {
  if (base.type != Node::Type::table || variant.type != Node::Type::table) return variant;
  Node merged = base;
  settle_source(merged, variant, faults);
  // What goes on after the last step belongs to the steps.
  if (variant.find("steps") != nullptr) merged.remove("further");
  for (const Node& child : variant.children) {
    if (Node* const there = merged.find(child.key)) {
      *there = merge(*there, child, faults);
    } else {
      merged.children.push_back(child);
    }
  }
  merged.key = variant.key;
  merged.line = variant.line;
  merged.column = variant.column;
  merged.key_line = variant.key_line;
  merged.key_column = variant.key_column;
  merged.origin = variant.origin;
  return merged;
}

}  // namespace weighwright::rules::reading
