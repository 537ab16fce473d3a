#include <optional>
#include <string>
#include <utility>

#include "record/readers.h"
#include "units/diagnostic.h"

namespace weighwright::record {

namespace {

constexpr NumberLimits kTurns{-1000.0, 1000.0, "turns, from -1000 to 1000"};
constexpr NumberLimits kOhm{0.0, 1e5, "ohm, from 0 to 100000"};
constexpr NumberLimits kFactor{0.5, 2.0, "a factor, from 0.5 to 2"};

class TrimReader : private RowReader {
 public:
  using RowReader::RowReader;

  Measurement read() {
    TrimSet set{{}, file()};
    for (const Row& row : rows()) {
      const std::optional<TrimPlace> place = read_trim(row);
      TrimMove move;
      move.line = row.front().line;
      move.turns = number(row, Column::turns, kTurns);
      move.ohm = number(row, Column::ohm, kOhm);
      move.factor = number(row, Column::factor, kFactor);
      const bool typed = check_typed(row);
      if (!place || !typed || !(move.turns || move.ohm || move.factor)) continue;
      move.place = *place;
      set.moves.push_back(move);
    }
    return set;
  }

 private:
  std::optional<TrimPlace> read_trim(const Row& row) {
    const Field& field = *find(row, Column::trim);
    const auto stand = units::parse_stand(field.text);
    // "2" is a section: its label with a side is a stand's
    const auto section = stand ? std::nullopt : units::parse_stand(field.text + "L");
    const auto label = stand ? stand : section;
    if (!label || label->section().value >= sections()) {
      fault(field,
            field.text.empty() ? "the trim is missing"
                               : "there is no trim " + units::quote(field.text),
            "the trim of a stand (" + stands_of(sections()) + ") or of a section (1 to " +
                std::to_string(sections()) + ")");
      return std::nullopt;
    }
    if (!first_time(field.text, field, "trim")) return std::nullopt;
    TrimPlace place;
    place.is_section = section.has_value();
    place.stand = *label;
    place.section = label->section();
    return place;
  }

  bool check_typed(const Row& row) {
    for (const Column column : {Column::turns, Column::ohm, Column::factor}) {
      const Field* const field = find(row, column);
      if (field == nullptr || !field->text.empty()) continue;
      fault(*field, "nothing says how this trim was set", "a number; leave out trims not touched");
      return false;
    }
    return true;
  }
};

}  // namespace

Measurement read_trim_file(Body body, FaultList& faults) {
  return TrimReader(std::move(body), faults).read();
}

}  // namespace weighwright::record
