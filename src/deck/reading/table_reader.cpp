#include "deck/reading/table_reader.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

#include "units/suggestion.h"

namespace weighwright::deck::reading {

namespace {

std::string_view type_name(Node::Type type) {
  switch (type) {
    case Node::Type::text:
      return "a text";
    case Node::Type::whole:
      return "a whole number";
    case Node::Type::decimal:
      return "a number";
    case Node::Type::boolean:
      return "true or false";
    case Node::Type::list:
      return "a list";
    case Node::Type::table:
      return "a table";
    case Node::Type::other:
      break;
  }
  return "a date or a time";
}

std::string example_of(units::Kind kind) {
  switch (kind) {
    case units::Kind::length:
      return "\"7 m\" or \"23 ft\"";
    case units::Kind::area:
      return "\"1.5 mm2\" or \"18 AWG\"";
    case units::Kind::mass:
      return "\"25 t\" or \"80,000 lb\"";
    case units::Kind::force:
      return "\"2 kN\"";
    case units::Kind::stiffness:
      return "\"300 kN/mm\"";
    case units::Kind::bending_rigidity:
      return "\"250 MN m2\"";
    case units::Kind::torque:
      return "\"60 N m\"";
    case units::Kind::resistance:
      return "\"350 ohm\"";
    case units::Kind::voltage:
      return "\"10 V\"";
    case units::Kind::voltage_ratio:
      return "\"2 mV/V\"";
    case units::Kind::angle:
      return "\"54.4 deg\"";
    case units::Kind::slope:
      return "\"5 mm/m\"";
    case units::Kind::temperature:
      return "\"20 degC\"";
    case units::Kind::fraction:
      return "\"5 %\"";
    case units::Kind::acceleration:
      return "\"9.81 m/s2\"";
    case units::Kind::length_per_area:
      return "\"150 m/mm2\"";
    case units::Kind::time:
      return "\"24 h\"";
    case units::Kind::pressure:
      return "\"35 MPa\"";
  }
  return "";
}

std::string range_example_of(units::Kind kind) {
  if (kind == units::Kind::temperature) return R"("-15 degC", "35 degC")";
  if (kind == units::Kind::resistance) return R"("35 ohm", "1100 ohm")";
  if (kind == units::Kind::voltage) return R"("0 mV", "15 mV")";
  return "the lower one, the higher one";
}

}  // namespace

TableReader::TableReader(const Node& table, std::string name, FaultSink& sink)
    : table_(&table), name_(std::move(name)), sink_(&sink) {}

const Node* TableReader::node(std::string_view key) {
  known_.push_back(key);
  return table_->find(key);
}

Position TableReader::at() const {
  return table_->line > 0 ? of_value(*table_) : of_key(*table_);
}

void TableReader::wrong_type(const Node& node, std::string_view key, std::string expected) {
  sink_->fault(of_value(node), std::string(key) + " is " + std::string(type_name(node.type)),
               std::move(expected));
}

std::optional<double> TableReader::read_quantity(const Node& node,
                                                 std::string_view key,
                                                 units::Kind kind,
                                                 const Limits& limits) {
  units::Parsed parsed;
  const bool is_number = node.type == Node::Type::whole || node.type == Node::Type::decimal;
  if (node.type == Node::Type::text) {
    parsed = units::parse(node.text, kind);
  } else if (is_number && kind == units::Kind::fraction && std::isfinite(node.number)) {
    parsed.value = node.number;
  } else {
    std::string expected = "a quantity with its unit in quotation marks, as " + example_of(kind);
    if (is_number) {
      sink_->fault(of_value(node), std::string(key) + " is a number without a unit",
                   std::move(expected));
    } else {
      wrong_type(node, key, std::move(expected));
    }
    return std::nullopt;
  }
  if (!parsed.ok()) {
    sink_->fault(of_value(node), std::string(key) + ": " + parsed.what, parsed.expected);
    return std::nullopt;
  }
  if (parsed.value < limits.lowest || parsed.value > limits.highest) {
    const std::string typed =
        node.type == Node::Type::text ? units::quote(node.text) : units::print_exact(node.number);
    sink_->fault(of_value(node), std::string(key) + ": " + typed + " is impossible",
                 std::string(limits.words));
    return std::nullopt;
  }
  return parsed.value;
}

std::optional<double> TableReader::quantity(std::string_view key,
                                            units::Kind kind,
                                            const Limits& limits) {
  const Node* const found = node(key);
  if (found == nullptr) return std::nullopt;
  return read_quantity(*found, key, kind, limits);
}

std::optional<std::vector<double>> TableReader::quantities(std::string_view key,
                                                           units::Kind kind,
                                                           const Limits& limits) {
  const Node* const found = node(key);
  if (found == nullptr) return std::nullopt;
  if (found->type != Node::Type::list) {
    wrong_type(*found, key, "a list in square brackets of " + example_of(kind));
    return std::nullopt;
  }
  std::vector<double> values;
  bool all = true;
  for (const Node& item : found->children) {
    const std::optional<double> value = read_quantity(item, key, kind, limits);
    all = all && value.has_value();
    if (value) values.push_back(*value);
  }
  if (!all) return std::nullopt;
  return values;
}

std::optional<std::pair<double, double>> TableReader::range(std::string_view key,
                                                            units::Kind kind,
                                                            const Limits& limits) {
  const auto ends = quantities(key, kind, limits);
  if (!ends) return std::nullopt;
  if (ends->size() == 2 && ends->front() < ends->back()) return {{ends->front(), ends->back()}};
  std::string example = "[" + range_example_of(kind) + "]";
  sink_->fault(of_value(*table_->find(key)), std::string(key) + " is no range",
               "write " + example + ", the lower one first");
  return std::nullopt;
}

std::optional<std::string> TableReader::text(std::string_view key) {
  const Node* const found = node(key);
  if (found == nullptr) return std::nullopt;
  if (found->type != Node::Type::text) {
    wrong_type(*found, key, "a text in quotation marks");
    return std::nullopt;
  }
  return found->text;
}

std::optional<std::string> TableReader::label(std::string_view key) {
  const Node* const found = node(key);
  if (found == nullptr) return std::nullopt;
  if (found->type == Node::Type::text) return found->text;
  if (found->type == Node::Type::whole) return units::print_fixed(found->number, 0);
  wrong_type(*found, key, "a text in quotation marks or a whole number");
  return std::nullopt;
}

std::optional<std::size_t> TableReader::choice(std::string_view key,
                                               std::span<const std::string_view> words) {
  const Node* const found = node(key);
  if (found == nullptr) return std::nullopt;
  std::vector<std::string> quoted;
  for (const std::string_view word : words) quoted.push_back("\"" + std::string(word) + "\"");
  if (found->type != Node::Type::text) {
    wrong_type(*found, key, "one of " + units::either(quoted));
    return std::nullopt;
  }
  const auto hit = std::find(words.begin(), words.end(), found->text);
  if (hit != words.end()) return static_cast<std::size_t>(hit - words.begin());
  sink_->fault(of_value(*found), std::string(key) + " " + units::quote(found->text) + " is unknown",
               "one of " + units::either(quoted));
  return std::nullopt;
}

std::optional<int> TableReader::whole(std::string_view key, int lowest, int highest) {
  const Node* const found = node(key);
  if (found == nullptr) return std::nullopt;
  const std::string right = "a whole number from " + std::to_string(lowest) + " to " +
                            std::to_string(highest) + ", without quotation marks";
  if (found->type != Node::Type::whole) {
    wrong_type(*found, key, right);
    return std::nullopt;
  }
  if (found->number < lowest || found->number > highest) {
    sink_->fault(of_value(*found),
                 std::string(key) + ": " + units::print_exact(found->number) + " is impossible",
                 right);
    return std::nullopt;
  }
  return static_cast<int>(found->number);
}

std::optional<bool> TableReader::boolean(std::string_view key) {
  const Node* const found = node(key);
  if (found == nullptr) return std::nullopt;
  if (found->type != Node::Type::boolean) {
    wrong_type(*found, key, "true or false, without quotation marks");
    return std::nullopt;
  }
  return found->flag;
}

void TableReader::require(std::string_view key, std::string example) {
  if (has(key)) return;
  sink_->fault(at(), name_ + " has no " + std::string(key), std::move(example));
}

void TableReader::finish() {
  for (const Node& child : table_->children) {
    if (std::find(known_.begin(), known_.end(), child.key) != known_.end()) continue;
    const std::optional<std::string> near = units::nearest(child.key, known_);
    std::string expected;
    if (near) {
      expected = "did you mean " + *near + "?";
    } else {
      std::string list;
      for (const std::string_view key : known_)
        list += (list.empty() ? "" : ", ") + std::string(key);
      expected = "keys known here are " + list;
    }
    sink_->fault(of_key(child), name_ + ": the key " + units::quote(child.key) + " is unknown",
                 std::move(expected));
  }
}

std::set<std::string> TableReader::given() const {
  std::set<std::string> keys;
  for (const Node& child : table_->children) keys.insert(child.key);
  return keys;
}

}  // namespace weighwright::deck::reading
