#pragma once
/// What the readers of all kinds of files share: fields by column, stands, numbers within limits.

#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "record/csv_table.h"
#include "record/fault_list.h"
#include "record/header.h"
#include "units/place.h"

namespace weighwright::record {

/// A file below its header.
struct Body {
  std::vector<Row> rows;
  Header header;
  std::string file;
  int sections = 0;
  int joints = 0;
};

struct NumberLimits {
  double lowest;
  double highest;
  std::string_view words;  // "from 0 to 50 V"
};

/// "1L, 1R, ... 4R".
[[nodiscard]] std::string stands_of(int sections);

class RowReader {
 public:
  /// Rows that have another number of fields than the header are told and left out.
  /// @param faults  must outlive the reader
  RowReader(Body body, FaultList& faults);

 protected:
  void fault(const Field& at, std::string what, std::string expected) {
    faults_->add(at.line, at.column, std::move(what), std::move(expected));
  }
  void fault(std::string what, std::string expected) {
    faults_->add(0, 0, std::move(what), std::move(expected));
  }

  [[nodiscard]] const std::vector<Row>& rows() const { return body_.rows; }
  [[nodiscard]] const Header& header() const { return body_.header; }
  [[nodiscard]] const std::string& file() const { return body_.file; }
  [[nodiscard]] int sections() const { return body_.sections; }
  [[nodiscard]] int joints() const { return body_.joints; }

  /// Null when the file has no such column.
  [[nodiscard]] const Field* find(const Row& row, Column column) const;
  /// True when there is no such column or nothing stands in it.
  [[nodiscard]] bool blank(const Row& row, Column column) const;
  /// Empty text when there is no such column.
  [[nodiscard]] std::string text(const Row& row, Column column) const;

  /// A stand of the deck; else a fault.
  std::optional<units::StandIndex> read_stand(const Row& row, Column column);
  /// The stand of a row that may stand once only.
  std::optional<units::StandIndex> read_stand_once(const Row& row);
  /// A number; empty (with a fault) when the text is none, empty without one when it is blank.
  std::optional<double> number(const Row& row, Column column, const NumberLimits& limits);
  std::optional<double> number(const Field& field, const NumberLimits& limits);

  /// One fault that names all stands which have no line.
  void require_every_stand(const std::string& what);

  /// False (and a fault) when this name stood on a line before.
  bool first_time(const std::string& name, const Field& field, const std::string& each);

 private:
  void check_widths();
  [[nodiscard]] bool known(units::StandIndex stand) const {
    return stand.section().value < body_.sections;
  }

  Body body_;
  FaultList* faults_;
  std::map<std::string, int> line_of_name_;
  std::map<int, int> line_of_stand_;
  std::set<int> told_;  // stands on lines that had a fault of their own
};

}  // namespace weighwright::record
