#pragma once
/// Reads the keys of one table of a deck file; every key asked for is known, every other is a
/// fault.

#include <optional>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "deck/limits.h"
#include "deck/reading/document.h"
#include "deck/reading/fault_sink.h"
#include "units/quantity.h"

namespace weighwright::deck::reading {

class TableReader {
 public:
  /// @param name  of the table as a user knows it: "[deck]", "[[module]] A"
  /// Both references must outlive the reader.
  TableReader(const Node& table, std::string name, FaultSink& sink);

  /// A quantity in SI; empty when it is not there, or faulty (the fault is then told).
  std::optional<double> quantity(std::string_view key, units::Kind kind, const Limits& limits);
  /// A list of quantities of one kind; empty as above.
  std::optional<std::vector<double>> quantities(std::string_view key,
                                                units::Kind kind,
                                                const Limits& limits);
  /// A list of two, the lower one first and not the same; empty as above.
  std::optional<std::pair<double, double>> range(std::string_view key,
                                                 units::Kind kind,
                                                 const Limits& limits);
  /// A bare number (or a text as "1/4"), without a unit.
  std::optional<double> number(std::string_view key, const Limits& limits) {
    return quantity(key, units::Kind::fraction, limits);
  }
  std::optional<std::string> text(std::string_view key);
  /// A text, or a whole number written as one ("terminal = 5").
  std::optional<std::string> label(std::string_view key);
  /// One of the words; its position in the list.
  std::optional<std::size_t> choice(std::string_view key, std::span<const std::string_view> words);
  std::optional<int> whole(std::string_view key, int lowest, int highest);
  std::optional<bool> boolean(std::string_view key);

  /// A key that is read by hand; null when it is not there.
  const Node* node(std::string_view key);
  /// Marks keys as known without reading them.
  void allow(std::string_view key) { known_.emplace_back(key); }

  /// Tells that a key which must be there is not.
  void require(std::string_view key, std::string example);
  /// Tells the keys that nobody asked for.
  void finish();

  [[nodiscard]] bool has(std::string_view key) const { return table_->find(key) != nullptr; }
  /// Keys that stand in the table.
  [[nodiscard]] std::set<std::string> given() const;
  [[nodiscard]] Position at() const;
  [[nodiscard]] const std::string& name() const { return name_; }
  [[nodiscard]] FaultSink& sink() { return *sink_; }

  /// Reads a quantity out of any node (a member of a list).
  std::optional<double> read_quantity(const Node& node,
                                      std::string_view key,
                                      units::Kind kind,
                                      const Limits& limits);

 private:
  void wrong_type(const Node& node, std::string_view key, std::string expected);

  const Node* table_;
  std::string name_;
  FaultSink* sink_;
  std::vector<std::string_view> known_;
};

}  // namespace weighwright::deck::reading
