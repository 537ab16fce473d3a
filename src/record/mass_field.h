#pragma once
/// A mass in a field: a number whose unit stands in the header, or a quantity with its own unit.

#include <string>
#include <string_view>

#include "record/columns.h"
#include "record/csv_table.h"

namespace weighwright::record {

struct MassField {
  double mass_kg = 0.0;
  double last_digit_kg = 0.0;  // one of the last digit typed
  bool us = false;             // it was in pounds or kips
  std::string what;            // empty when it was understood
  std::string expected;
};

/// @param unit  kg, lb or typed
[[nodiscard]] MassField read_mass(std::string_view text, ColumnUnit unit);

}  // namespace weighwright::record
