#include "deck/reading/document.h"

// The parser asserts that a key begins with a letter before it looks whether it does ("[`deck]"
// ends the program); without its asserts it tells the fault. NDEBUG would turn the assert into an
// assumption.
#undef NDEBUG
#define TOML_ASSERT(expression) static_assert(true)
#define TOML_EXCEPTIONS 0
#define TOML_HEADER_ONLY 1
#include <toml++/toml.h>

#include <algorithm>
#include <array>
#include <cstddef>
#include <exception>
#include <tuple>
#include <utility>

#include "deck/reading/deck_file.h"
#include "deck/reading/foreign_sign.h"
#include "toml/shape.h"

namespace weighwright::deck::reading {

namespace {

Node convert(const toml::node& from);

void place(Node& node, const toml::source_region& region) {
  node.line = static_cast<int>(region.begin.line);
  node.column = static_cast<int>(region.begin.column);
}

Node convert_table(const toml::table& table) {
  Node node;
  for (const auto& [key, value] : table) {
    Node child = convert(value);
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

Node convert_list(const toml::array& list) {
  Node node;
  node.type = Node::Type::list;
  for (const toml::node& item : list) node.children.push_back(convert(item));
  return node;
}

Node convert_value(const toml::node& from) {
  Node node;
  node.type = Node::Type::other;
  if (const auto* const text = from.as_string()) {
    node.type = Node::Type::text;
    node.text = text->get();
  } else if (const auto* const whole = from.as_integer()) {
    node.type = Node::Type::whole;
    node.number = static_cast<double>(whole->get());
  } else if (const auto* const decimal = from.as_floating_point()) {
    node.type = Node::Type::decimal;
    node.number = decimal->get();
  } else if (const auto* const flag = from.as_boolean()) {
    node.type = Node::Type::boolean;
    node.flag = flag->get();
  }
  return node;
}

Node convert(const toml::node& from) {
  Node node;
  if (const toml::table* const table = from.as_table()) {
    node = convert_table(*table);
  } else if (const toml::array* const list = from.as_array()) {
    node = convert_list(*list);
  } else {
    node = convert_value(from);
  }
  place(node, from.source());
  return node;
}

/// What to do about a fault of syntax, by words of the library's reason.
std::string remedy(std::string_view reason) {
  struct Remedy {
    std::string_view sign;
    std::string_view words;
  };
  static constexpr std::array kRemedies = {
      Remedy{"redefine",
             "this key or table stands twice; keep one (several modules are [[module]])"},
      Remedy{"determine value type",
             R"(texts and quantities stand in quotation marks: length = "7 m")"},
      Remedy{"comment or whitespace",
             R"(texts and quantities stand in quotation marks: length = "7 m")"},
      Remedy{"value-terminator",
             R"(texts and quantities stand in quotation marks: length = "7 m")"},
      Remedy{"bare key", R"(a line is key = value, as in length = "7 m", or a table as [deck])"},
      Remedy{"expected '='", R"(a line is key = value, as in length = "7 m")"},
      Remedy{"expected comment or line",
             "one key = value on a line; quantities stand in quotation marks"},
      Remedy{"end-of-file", "something is not closed: a quotation mark or a bracket"},
      Remedy{"line-break", "a quotation mark or a bracket is not closed on this line"},
      Remedy{"control character", "a quotation mark or a bracket is not closed on this line"},
      Remedy{"leading zero", "a number may not begin with 0"},
      Remedy{"escape sequence",
             R"(write a single backslash as \\ and an inch mark inside quotation marks as \")"},
      Remedy{"utf-8", "save the file as UTF-8"},
  };
  const auto* const hit = std::find_if(kRemedies.begin(), kRemedies.end(), [&](const Remedy& r) {
    return reason.find(r.sign) != std::string_view::npos;
  });
  return hit == kRemedies.end() ? R"(a line is key = value, as in length = "7 m")"
                                : std::string(hit->words);
}

std::string shown(std::string_view reason) {
  // the reason may hold bytes of the file; a message is always readable text
  std::string text;
  for (std::string_view rest = reason; !rest.empty();) {
    const std::string_view piece = rest.substr(0, 30);
    const std::string quoted = units::quote(piece);
    text += std::string_view(quoted).substr(1, quoted.size() - 2);
    rest.remove_prefix(piece.size());
  }
  return text;
}

ParsedDocument syntax_fault(const toml::parse_error& error, const std::string& file) {
  const std::string_view reason = error.description();
  const toml::source_position at = error.source().begin;
  return {std::nullopt,
          {{file, static_cast<int>(at.line), static_cast<int>(at.column),
            "the file can't be read from here on: " + shown(reason), remedy(reason)}}};
}

ParsedDocument whole_file_fault(const std::string& file, std::string what, std::string expected) {
  return {std::nullopt, {{file, 0, 0, std::move(what), std::move(expected)}}};
}

ParsedDocument parse_text(std::string_view text, const std::string& file) {
  const toml::parse_result result = toml::parse(text);
  if (!result) return syntax_fault(result.error(), file);
  return {convert(result.table()), {}};
}

}  // namespace

const Node* Node::find(std::string_view wanted) const {
  const auto found = std::find_if(children.begin(), children.end(),
                                  [&](const Node& child) { return child.key == wanted; });
  return found == children.end() ? nullptr : &*found;
}

ParsedDocument parse_document(std::string_view text, const std::string& file) {
  if (text.size() > kLargestDeckFile_bytes) {
    return whole_file_fault(file, "the file is larger than 1 MB",
                            "a deck file has some hundred lines");
  }
  if (text.find('\0') != std::string_view::npos) {
    return whole_file_fault(file, "this is no text file: it contains zero bytes",
                            "a deck file is text in UTF-8");
  }
  if (text.find_first_not_of(" \t\r\n") == std::string_view::npos || text == "\xEF\xBB\xBF") {
    return whole_file_fault(file, "the file is empty", "a deck file begins with format = 1");
  }
  if (auto found = find_foreign_sign(text)) {
    return {std::nullopt,
            {{file, found->at.line, found->at.column, std::move(found->what),
              std::move(found->expected)}}};
  }
  if (auto excess = toml_text::find_excess(text)) {
    excess->file = file;
    return {std::nullopt, {std::move(*excess)}};
  }
  try {
    return parse_text(text, file);
  } catch (const std::exception& error) {
    // built without exceptions the library throws nothing, but memory may run out
    return whole_file_fault(file, std::string("the file can't be read: ") + error.what(), "");
  }
}

}  // namespace weighwright::deck::reading
