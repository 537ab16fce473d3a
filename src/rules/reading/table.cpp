#include "rules/reading/table.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "units/diagnostic.h"
#include "units/suggestion.h"

namespace weighwright::rules::reading {

namespace {

constexpr std::array<std::string_view, 3> kBases = {"read", "quoted", "memory"};
constexpr std::size_t kLongestText = 300;

std::string example_of(units::Kind kind) {
  if (kind == units::Kind::mass) return R"(a mass with its unit in quotation marks, as "5000 kg")";
  if (kind == units::Kind::length)
    return R"(a length with its unit in quotation marks, as "1.2 m")";
  return R"(a number, as 0.5, "1/3" or "12.5 %")";
}

}  // namespace

Table::Table(const Node& node, std::string name, Context& context)
    : node_(&node), name_(std::move(name)), context_(&context) {}

const Node* Table::known(std::string_view key) {
  known_.push_back(key);
  return node_->find(key);
}

void Table::fault(std::string_view key, std::string what, std::string expected) {
  const Node* const found = node_->find(key);
  what = name_ + ": " + what;
  if (found != nullptr) {
    context_->faults.at_value(*found, std::move(what), std::move(expected));
  } else if (node_->line > 0) {
    context_->faults.at_value(*node_, std::move(what), std::move(expected));
  } else {
    context_->faults.at_key(*node_, std::move(what), std::move(expected));
  }
}

std::optional<std::string> Table::text(std::string_view key) {
  const Node* const found = known(key);
  if (found == nullptr) return std::nullopt;
  const std::string name(key);
  if (found->type != Node::Type::text) {
    fault(key, name + " is no text", "a text in quotation marks");
  } else if (found->text.find_first_not_of(" \t") == std::string::npos) {
    fault(key, name + " is empty", "a text, or leave " + name + " out");
  } else if (found->text.size() > kLongestText) {
    fault(key, name + " is too long", "at most 300 characters");
  } else {
    return found->text;
  }
  return std::nullopt;
}

std::optional<double> Table::quantity_of(const Node& node,
                                         std::string_view key,
                                         units::Kind kind,
                                         const Bounds& bounds) {
  const std::string name = name_ + ": " + std::string(key);
  units::Parsed parsed;
  if (node.type == Node::Type::text) {
    parsed = units::parse(node.text, kind);
  } else if (node.type == Node::Type::number && kind == units::Kind::fraction &&
             std::isfinite(node.number)) {
    parsed.value = node.number;
  } else {
    context_->faults.at_value(
        node,
        name + (node.type == Node::Type::number ? " is a number without a unit or a limit"
                                                : " is no quantity"),
        example_of(kind));
    return std::nullopt;
  }
  if (!parsed.ok()) {
    context_->faults.at_value(node, name + ": " + parsed.what, parsed.expected);
    return std::nullopt;
  }
  const bool whole = !bounds.whole || parsed.value == std::round(parsed.value);
  if (whole && parsed.value >= bounds.lowest && parsed.value <= bounds.highest) return parsed.value;
  const std::string typed =
      node.type == Node::Type::text ? units::quote(node.text) : units::print_exact(node.number);
  context_->faults.at_value(node, name + ": " + typed + " is impossible",
                            std::string(bounds.words));
  return std::nullopt;
}

std::optional<double> Table::quantity(std::string_view key,
                                      units::Kind kind,
                                      const Bounds& bounds) {
  const Node* const found = known(key);
  if (found == nullptr) return std::nullopt;
  return quantity_of(*found, key, kind, bounds);
}

std::optional<double> Table::pounds(std::string_view key) {
  const std::optional<double> kg = quantity(key, units::Kind::mass, kMass);
  if (!kg) return std::nullopt;
  return *kg / units::kPound_kg;
}

std::optional<bool> Table::boolean(std::string_view key) {
  const Node* const found = known(key);
  if (found == nullptr) return std::nullopt;
  if (found->type == Node::Type::boolean) return found->flag;
  fault(key, std::string(key) + " is neither true nor false",
        "true or false, without quotation marks");
  return std::nullopt;
}

std::optional<std::size_t> Table::choice(std::string_view key,
                                         std::span<const std::string_view> words) {
  const Node* const found = known(key);
  if (found == nullptr) return std::nullopt;
  const auto hit = std::find(words.begin(), words.end(), found->text);
  if (found->type == Node::Type::text && hit != words.end())
    return static_cast<std::size_t>(hit - words.begin());
  std::vector<std::string> quoted;
  for (const std::string_view word : words) quoted.push_back("\"" + std::string(word) + "\"");
  const bool is_text = found->type == Node::Type::text;
  fault(key,
        std::string(key) + (is_text ? " " + units::quote(found->text) + " is unknown"
                                    : std::string(" is no text")),
        "one of " + units::either(quoted));
  return std::nullopt;
}

std::vector<std::size_t> Table::choices(std::string_view key,
                                        std::span<const std::string_view> words) {
  std::vector<std::size_t> chosen;
  const Node* const found = known(key);
  if (found == nullptr) return chosen;
  std::vector<std::string> quoted;
  for (const std::string_view word : words) quoted.push_back("\"" + std::string(word) + "\"");
  const std::string expected = "a list of " + units::either(quoted);
  if (found->type != Node::Type::list) {
    fault(key, std::string(key) + " is no list", expected);
    return chosen;
  }
  for (const Node& item : found->children) {
    const auto hit = std::find(words.begin(), words.end(), item.text);
    if (item.type == Node::Type::text && hit != words.end()) {
      chosen.push_back(static_cast<std::size_t>(hit - words.begin()));
    } else {
      context_->faults.at_value(item, name_ + ": " + units::quote(item.text) + " is unknown",
                                expected);
    }
  }
  return chosen;
}

const Node* Table::list(std::string_view key, std::string_view example) {
  const Node* const found = known(key);
  if (found == nullptr) return nullptr;
  if (found->type == Node::Type::list && !found->children.empty()) return found;
  fault(key, std::string(key) + " is no list, or an empty one", std::string(example));
  return nullptr;
}

const Node* Table::table(std::string_view key, std::string_view example) {
  const Node* const found = known(key);
  if (found == nullptr) return nullptr;
  if (found->type == Node::Type::table) return found;
  fault(key, std::string(key) + " is no table", std::string(example));
  return nullptr;
}

std::optional<Cited> Table::cited(std::string_view key, units::Kind kind, const Bounds& bounds) {
  const Node* const found =
      table(key, R"(the number with its clause: { value = ..., clause = "...", basis = "read" })");
  if (found == nullptr) return std::nullopt;
  Table inner(*found, name_ + " " + std::string(key), *context_);
  inner.require("value", "the number that the clause gives");
  const std::optional<double> value = inner.quantity("value", kind, bounds);
  const Source source = inner.source();
  inner.finish();
  if (!value) return std::nullopt;
  return Cited{*value, source};
}

std::optional<std::pair<std::vector<double>, Source>> Table::shares(std::string_view key) {
  const Node* const found =
      table(key, R"(shares of Max with their clause: { shares = [0.5, 1.0], clause = "..." })");
  if (found == nullptr) return std::nullopt;
  Table inner(*found, name_ + " " + std::string(key), *context_);
  inner.require("shares", "shares of Max, as [0.5, 1.0]");
  std::vector<double> values;
  if (const Node* const list = inner.list("shares", "shares of Max, as [0.5, 1.0]")) {
    for (const Node& item : list->children) {
      const auto value = quantity_of(item, "shares", units::Kind::fraction, kShareOrNone);
      if (value) values.push_back(*value);
    }
  }
  Source source = inner.source();
  inner.finish();
  return {{std::move(values), std::move(source)}};
}

Source Table::source() {
  require("clause", R"(the clause that says so, as clause = "3.5.1, Table 6")");
  require("basis", R"(how the number is known: basis = "read", "quoted" or "memory")");
  Source source;
  source.clause = text("clause").value_or("");
  const std::optional<std::size_t> basis = choice("basis", kBases);
  source.basis = static_cast<Basis>(basis.value_or(static_cast<std::size_t>(Basis::memory)));
  source.carrier = text("carrier").value_or("");
  if (basis && source.basis == Basis::quoted && !has("carrier")) {
    fault("basis", "is quoted, and there is no carrier",
          R"(what quotes it, as carrier = "State code, chapter 7")");
  }
  if (const Node* const clause = node_->find("clause"))
    source.document = context_->documents.at(static_cast<std::size_t>(clause->origin));
  return source;
}

void Table::require(std::string_view key, std::string example) {
  if (!has(key)) fault(key, "has no " + std::string(key), std::move(example));
}

void Table::finish() {
  for (const Node& child : node_->children) {
    if (std::find(known_.begin(), known_.end(), child.key) != known_.end()) continue;
    std::string expected;
    if (const std::optional<std::string> near = units::nearest(child.key, known_)) {
      expected = "did you mean " + *near + "?";
    } else {
      std::string names;
      for (const std::string_view key : known_)
        names += (names.empty() ? "" : ", ") + std::string(key);
      expected = "keys known here are " + names;
    }
    context_->faults.at_key(child, name_ + ": the key " + units::quote(child.key) + " is unknown",
                            std::move(expected));
  }
}

}  // namespace weighwright::rules::reading
