#include "rules/reading/tree.h"

// The library asserts what it then tells as a fault ("[`class]"); without its asserts it does. See
// deck/reading/document.cpp.
#undef NDEBUG
#define TOML_ASSERT(expression) static_assert(true)
#define TOML_EXCEPTIONS 0
#define TOML_HEADER_ONLY 1
#include <toml++/toml.h>

#include <algorithm>
#include <exception>
#include <tuple>
#include <utility>

#include "rules/reading/source_text.h"
#include "toml/shape.h"

namespace weighwright::rules::reading {

namespace {

Node convert(const toml::node& from, Origin origin);

Node convert_table(const toml::table& table, Origin origin) {
  Node node;
  for (const auto& [key, value] : table) {
    Node child = convert(value, origin);
    child.key = std::string(key.str());
    child.key_line = static_cast<int>(key.source().begin.line);
    child.key_column = static_cast<int>(key.source().begin.column);
    node.children.push_back(std::move(child));
  }
  // the library sorts by key; people read from top to bottom
  std::sort(node.children.begin(), node.children.end(), [](const Node& a, const Node& b) {
    return std::tie(a.key_line, a.key_column, a.key) < std::tie(b.key_line, b.key_column, b.key);
  });
  return node;
}

Node convert_value(const toml::node& from) {
  Node node;
  node.type = Node::Type::other;
  if (const auto* const text = from.as_string()) {
    node.type = Node::Type::text;
    node.text = text->get();
  } else if (const auto* const whole = from.as_integer()) {
    node.type = Node::Type::number;
    node.number = static_cast<double>(whole->get());
  } else if (const auto* const decimal = from.as_floating_point()) {
    node.type = Node::Type::number;
    node.number = decimal->get();
  } else if (const auto* const flag = from.as_boolean()) {
    node.type = Node::Type::boolean;
    node.flag = flag->get();
  }
  return node;
}

Node convert(const toml::node& from, Origin origin) {
  Node node;
  if (const toml::table* const table = from.as_table()) {
    node = convert_table(*table, origin);
  } else if (const toml::array* const list = from.as_array()) {
    node.type = Node::Type::list;
    for (const toml::node& item : *list) node.children.push_back(convert(item, origin));
  } else {
    node = convert_value(from);
  }
  node.line = static_cast<int>(from.source().begin.line);
  node.column = static_cast<int>(from.source().begin.column);
  node.origin = origin;
  return node;
}

/// The library's reason, in pieces that are fit for a message: it may hold bytes of the file.
std::string shown(std::string_view reason) {
  std::string text;
  for (std::string_view rest = reason; !rest.empty();) {
    const std::string_view piece = rest.substr(0, 30);
    const std::string quoted = units::quote(piece);
    text += std::string_view(quoted).substr(1, quoted.size() - 2);
    rest.remove_prefix(piece.size());
  }
  return text;
}

std::string remedy(std::string_view reason) {
  if (reason.find("redefine") != std::string_view::npos)
    return "this key or table stands twice; keep one";
  if (reason.find("end-of-file") != std::string_view::npos)
    return "something is not closed: a quotation mark or a bracket";
  return R"(a line is key = value, as in factor = 2 or clause = "3.5.2"; texts and masses stand in )"
         "quotation marks";
}

ParsedTree syntax_fault(const toml::parse_error& error, const std::string& file) {
  const std::string_view reason = error.description();
  const toml::source_position at = error.source().begin;
  return {std::nullopt,
          {{file, static_cast<int>(at.line), static_cast<int>(at.column),
            "the file can't be read from here on: " + shown(reason), remedy(reason)}}};
}

}  // namespace

const Node* Node::find(std::string_view wanted) const {
  const auto found = std::find_if(children.begin(), children.end(),
                                  [&](const Node& child) { return child.key == wanted; });
  return found == children.end() ? nullptr : &*found;
}

Node* Node::find(std::string_view wanted) {
  const auto found = std::find_if(children.begin(), children.end(),
                                  [&](const Node& child) { return child.key == wanted; });
  return found == children.end() ? nullptr : &*found;
}

void Node::remove(std::string_view unwanted) {
  std::erase_if(children, [&](const Node& child) { return child.key == unwanted; });
}

ParsedTree parse_tree(std::string_view text, const std::string& file, Origin origin) {
  if (auto unfit = find_unfit(text)) {
    unfit->file = file;
    return {std::nullopt, {std::move(*unfit)}};
  }
  if (auto excess = toml_text::find_excess(text)) {
    excess->file = file;
    return {std::nullopt, {std::move(*excess)}};
  }
  try {
    const toml::parse_result result = toml::parse(text);
    if (!result) return syntax_fault(result.error(), file);
    return {convert(result.table(), origin), {}};
  } catch (const std::exception& error) {
    // built without exceptions the library throws nothing, but memory may run out
    return {std::nullopt,
            {{file, 0, 0, std::string("the file can't be read: ") + error.what(), ""}}};
  }
}

}  // namespace weighwright::rules::reading
