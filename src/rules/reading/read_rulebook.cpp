#include "rules/reading/read_rulebook.h"

#include <algorithm>
#include <cctype>
#include <utility>

#include "rules/reading/built_in_texts.h"
#include "rules/reading/merge.h"
#include "rules/reading/parts.h"
#include "rules/reading/table.h"
#include "units/suggestion.h"

namespace weighwright::rules {

namespace {

using reading::Context;
using reading::Faults;
using reading::Node;
using reading::Origin;
using reading::Table;

constexpr std::size_t kLongestCode = 40;
constexpr std::array<std::string_view, 2> kDivisionWords = {"e", "d"};
/// What a variant does not take over from its base.
constexpr std::array<std::string_view, 7> kOwn = {"format",  "code",     "base",  "title",
                                                  "edition", "cited_as", "remark"};

bool is_code(std::string_view code) {
  return !code.empty() && code.size() <= kLongestCode &&
         std::all_of(code.begin(), code.end(),
                     [](unsigned char c) { return std::isalnum(c) != 0 || c == '-' || c == '_'; });
}

bool is_built_in(std::string_view code) {
  const auto& texts = reading::built_in_texts();
  return std::any_of(texts.begin(), texts.end(),
                     [code](const reading::BuiltInText& text) { return text.code == code; });
}

std::string built_in_codes() {
  std::vector<std::string> codes;
  for (const reading::BuiltInText& text : reading::built_in_texts())
    codes.push_back("\"" + std::string(text.code) + "\"");
  return units::either(codes);
}

void check_format(const Node& root, Faults& faults) {
  const Node* const format = root.find("format");
  if (format != nullptr && format->type == Node::Type::number && format->number == 1.0) return;
  const std::string right = "format = 1, the only one there is";
  if (format == nullptr) {
    faults.at_value(root, "the file does not say its format", right);
  } else {
    faults.at_value(*format, "this format is unknown", right);
  }
}

/// Code and base of the text itself, before anything is merged.
class Heading {
 public:
  Heading(const Node& root, Faults& faults) : root_(root), faults_(faults) {}

  /// The built-in rulebook that this file changes; null: it is whole (or faulty).
  const reading::BuiltInText* base() {
    check_format(root_, faults_);
    check_code();
    const Node* const base = root_.find("base");
    if (base == nullptr) return nullptr;
    for (const reading::BuiltInText& text : reading::built_in_texts()) {
      if (base->type == Node::Type::text && base->text == text.code) return &text;
    }
    const Node* const code = root_.find("code");
    const bool itself = code != nullptr && code->text == base->text && !base->text.empty();
    const std::string what = itself ? "the rulebook is its own base"
                                    : "base " + units::quote(base->text) + " is unknown";
    faults_.at_value(*base, what,
                     "the built-in rulebook that this one changes: " + built_in_codes());
    return nullptr;
  }

 private:
  void check_code() {
    const Node* const code = root_.find("code");
    const std::string right = "a name of your own, as code = \"LAND-2\": letters, digits, - and _";
    if (code == nullptr) {
      faults_.at_value(root_, "the rulebook has no code", right);
    } else if (code->type != Node::Type::text || !is_code(code->text)) {
      faults_.at_value(*code, "this is no code of a rulebook", right);
    }
  }

  const Node& root_;
  Faults& faults_;
};

std::string text_at(const Node& root, std::string_view key) {
  const Node* const node = root.find(key);
  return node != nullptr && node->type == Node::Type::text ? node->text : "";
}

/// "R 76-1:2006" as the file says, else made of title and edition.
std::string document_of(const Node& root) {
  std::string said = text_at(root, "cited_as");
  if (!said.empty()) return said;
  const std::string edition = text_at(root, "edition");
  return text_at(root, "title") + (edition.empty() ? "" : ":" + edition);
}

void read_heading(Table& root, Rulebook& rulebook) {
  root.require("title", "what the rulebook is called, as title = \"...\"");
  root.text("cited_as");
  (void)root.quantity("format", units::Kind::fraction, {1.0, 1.0, "format = 1"});
  rulebook.code = root.text("code").value_or("");
  rulebook.base = root.text("base").value_or("");
  rulebook.title = root.text("title").value_or("");
  rulebook.edition = root.text("edition").value_or("");
  rulebook.remark = root.text("remark").value_or("");
  rulebook.cited_as = document_of(root.node());
  if (!rulebook.base.empty())
    root.require("remark", "who says so, as remark = \"decree 12 of 2020\"");
  root.require("division", R"(how divisions are called: "e" or "d")");
  rulebook.division = kDivisionWords.at(root.choice("division", kDivisionWords).value_or(0));
}

Rulebook read_parts(const Node& node, Context& context) {
  Table root(node, "the rulebook", context);
  Rulebook rulebook;
  read_heading(root, rulebook);
  reading::read_capacity(root, rulebook);
  reading::read_classes(root, rulebook);
  reading::read_occasions(root, rulebook);
  reading::read_tests(root, rulebook);
  reading::read_loads(root, rulebook);
  reading::read_standards(root, rulebook);
  root.finish();
  return rulebook;
}

/// The base's tree without what a variant has to say for itself.
Node base_tree(const reading::BuiltInText& base) {
  reading::ParsedTree parsed = reading::parse_tree(base.text, std::string(base.code), Origin::base);
  Node root = std::move(parsed.root).value_or(Node{});
  for (const std::string_view key : kOwn) root.remove(key);
  return root;
}

std::string document_of_base(const reading::BuiltInText& base) {
  const auto parsed = reading::parse_tree(base.text, std::string(base.code), Origin::base);
  return parsed.root ? document_of(*parsed.root) : std::string(base.code);
}

ReadRulebook read(std::string_view text, const std::string& file, bool shipped) {
  reading::ParsedTree parsed = reading::parse_tree(text, file, Origin::file);
  if (!parsed.root) return {std::nullopt, std::move(parsed.faults)};
  Node root = std::move(*parsed.root);
  Faults faults("built-in rulebook", file);
  const reading::BuiltInText* const base = Heading(root, faults).base();
  const Node* const code = root.find("code");
  if (!shipped && code != nullptr && is_built_in(code->text)) {
    faults.at_value(*code, "the rulebook " + units::quote(code->text) + " is built in",
                    "a code of your own, and base = \"" + code->text + "\" for what it changes");
  }
  if (root.find("base") != nullptr && base == nullptr) return {std::nullopt, faults.all()};
  Context context{faults, {base != nullptr ? document_of_base(*base) : "", document_of(root)}};
  if (base != nullptr) root = reading::merge(base_tree(*base), root, faults);
  Rulebook rulebook = read_parts(root, context);
  if (faults.count() > 0) return {std::nullopt, faults.all()};
  return {std::move(rulebook), {}};
}

}  // namespace

ReadRulebook read_rulebook(std::string_view text, const std::string& file) {
  return read(text, file, false);
}

ReadRulebook read_shipped(std::string_view code) {
  return read(built_in_text(code), std::string(code) + ".toml", true);
}

std::string_view built_in_text(std::string_view code) {
  for (const reading::BuiltInText& text : reading::built_in_texts()) {
    if (text.code == code) return text.text;
  }
  return "";
}

}  // namespace weighwright::rules
