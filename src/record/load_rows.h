#pragma once
/// One row of a file of loads: what stood where, and what was indicated. Shared by shift readings,
/// loads as a whole and the lines of tests by a rulebook.

#include <optional>
#include <string>
#include <string_view>

#include "record/mass_field.h"
#include "record/measurement.h"
#include "record/row_reader.h"

namespace weighwright::record {

class LoadRowReader : protected RowReader {
 public:
  using RowReader::RowReader;

 protected:
  enum class Place { none, wanted, optional };  // wanted: only a load of 0 needs none

  /// Empty (with faults) when the row can't be used.
  /// @param needs_load  false: a blank load is no fault
  std::optional<LoadReading> read_reading(const Row& row, Place place, bool needs_load = true);

  /// @param unit  of the column, or of the indication for those that follow it
  std::optional<MassField> mass(const Field& field, ColumnUnit unit, double lowest_kg);
  std::optional<double> optional_mass(const Row& row,
                                      Column column,
                                      ColumnUnit unit,
                                      double lowest_kg);
  std::optional<double> read_length(const Field& field, ColumnUnit unit);

  [[nodiscard]] bool us() const { return us_; }  // an indication was typed in lb
  void note_us(bool us) { us_ = us_ || us; }

 private:
  bool read_load(const Row& row, bool needed, LoadReading& reading);
  [[nodiscard]] const Field& load_field(const Row& row) const;
  bool read_indication(const Row& row, LoadReading& reading);
  void read_beside(const Row& row, LoadReading& reading);
  bool read_place(const Row& row, Place wanted, LoadReading& reading);
  bool read_point(const Row& row, bool may_miss, LoadPlace& place);
  bool read_at(const Row& row, bool may_miss, LoadPlace& place);
  [[nodiscard]] bool read_named_place(std::string_view text, LoadPlace& place) const;
  [[nodiscard]] std::string places() const;
  [[nodiscard]] std::string hint(const std::string& text) const;

  bool us_ = false;
};

inline constexpr double kLargestMass_kg = 1e6;

}  // namespace weighwright::record
