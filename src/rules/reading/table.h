#pragma once
/// Reads the keys of one table of a rulebook; every key asked for is known, every other is a fault.

#include <array>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "rules/reading/faults.h"
#include "rules/reading/tree.h"
#include "rules/rulebook.h"
#include "units/quantity.h"

namespace weighwright::rules::reading {

/// Both ends included; `words` says it to the user.
struct Bounds {
  double lowest = 0.0;
  double highest = 0.0;
  std::string_view words;
  bool whole = false;
};

inline constexpr Bounds kShare{1e-6, 1.0, "more than 0, at most 1 (or 100 %)"};
inline constexpr Bounds kShareOrNone{0.0, 1.0, "from 0 to 1 (or 100 %)"};
inline constexpr Bounds kFactor{1e-3, 100.0, "more than 0, at most 100"};
inline constexpr Bounds kDivisions{1e-3, 1e4, "more than 0, at most 10000 divisions"};
inline constexpr Bounds kDivisionsOrNone{0.0, 1e4, "0 or more, at most 10000 divisions"};
inline constexpr Bounds kCount{1.0, 1e6, "a whole number from 1 to 1000000", true};
inline constexpr Bounds kCountOrNone{0.0, 1e6, "a whole number from 0 to 1000000", true};
inline constexpr Bounds kMass{1e-9, 1e6, "more than 0, at most 1000 t"};
inline constexpr Bounds kLength{1e-3, 100.0, "from 1 mm to 100 m"};

/// What all tables of one rulebook share.
struct Context {
  Faults& faults;
  /// What clauses are cited with, by origin.
  std::array<std::string, 2> documents;
};

class Table {
 public:
  /// @param name  of the table as a user knows it: "[zero] setting"
  /// Both references must outlive the reader.
  Table(const Node& node, std::string name, Context& context);

  std::optional<std::string> text(std::string_view key);
  /// A number, or one as a text ("1/3", "12.5 %", "5000 kg"), in SI; empty when it is not there, or
  /// faulty (the fault is then told).
  std::optional<double> quantity(std::string_view key, units::Kind kind, const Bounds& bounds);
  std::optional<double> number(std::string_view key, const Bounds& bounds) {
    return quantity(key, units::Kind::fraction, bounds);
  }
  /// A mass in pounds: text and all.
  std::optional<double> pounds(std::string_view key);
  std::optional<bool> boolean(std::string_view key);
  std::optional<std::size_t> choice(std::string_view key, std::span<const std::string_view> words);
  /// Words of a closed set, in a list that may be empty; faulty ones are told and left out.
  std::vector<std::size_t> choices(std::string_view key, std::span<const std::string_view> words);
  /// A list that must not be empty; null when it is not there or faulty.
  const Node* list(std::string_view key, std::string_view example);
  /// A table within; null when it is not there or faulty.
  const Node* table(std::string_view key, std::string_view example);
  /// { value, clause, basis, carrier }.
  std::optional<Cited> cited(std::string_view key, units::Kind kind, const Bounds& bounds);
  /// { shares = [...], clause, basis, carrier }.
  std::optional<std::pair<std::vector<double>, Source>> shares(std::string_view key);
  /// clause, basis and carrier of this table.
  Source source();

  /// Tells that a key which must be there is not.
  void require(std::string_view key, std::string example);
  /// Tells the keys that nobody asked for.
  void finish();

  [[nodiscard]] bool has(std::string_view key) const { return node_->find(key) != nullptr; }
  /// A fault at a key's value, or at the table where there is no such key.
  void fault(std::string_view key, std::string what, std::string expected);
  [[nodiscard]] const Node& node() const { return *node_; }
  [[nodiscard]] const std::string& name() const { return name_; }
  [[nodiscard]] Context& context() { return *context_; }

 private:
  const Node* known(std::string_view key);
  std::optional<double> quantity_of(const Node& node,
                                    std::string_view key,
                                    units::Kind kind,
                                    const Bounds& bounds);

  const Node* node_;
  std::string name_;
  Context* context_;
  std::vector<std::string_view> known_;
};

}  // namespace weighwright::rules::reading
