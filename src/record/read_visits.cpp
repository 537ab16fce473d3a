#include <array>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "record/local_time.h"
#include "record/looks.h"
#include "record/mass_field.h"
#include "record/readers.h"
#include "units/diagnostic.h"
#include "units/suggestion.h"

namespace weighwright::record {

namespace {

using units::quote;

constexpr double kLargestZero_kg = 1e6;
constexpr NumberLimits kTemperature{-60.0, 90.0, "degC, from -60 to 90"};
constexpr std::string_view kTimeForm = "a time as 2026-11-25T18:30 (seconds may follow)";

std::optional<bool> yes_or_no(std::string_view text) {
  if (text == "yes") return true;
  if (text == "no") return false;
  return std::nullopt;
}

std::optional<ZeroReading::After> read_after(std::string_view text) {
  using After = ZeroReading::After;
  if (text.empty() || text == "nothing") return After::nothing;
  if (text == "pass 1-2") return After::pass_1_to_2;
  if (text == "pass 2-1") return After::pass_2_to_1;
  if (text == "rocked") return After::rocked;
  if (text == "zeroed") return After::zeroed;
  return std::nullopt;
}

class VisitReader : private RowReader {
 public:
  using RowReader::RowReader;

  Measurement read() {
    if (header().kind == FileKind::looks) return read_looks();
    return read_zeros();
  }

 private:
  ZeroSet read_zeros() {
    ZeroSet set;
    set.source = file();
    for (const Row& row : rows()) {
      ZeroReading reading;
      reading.line = row.front().line;
      const Field& field = *find(row, Column::zero);
      const MassField zero = read_mass(field.text, header().unit_of(Column::zero));
      if (!zero.what.empty()) {
        fault(field, zero.what, zero.expected);
      } else if (std::abs(zero.mass_kg) > kLargestZero_kg) {
        fault(field, quote(field.text) + " is out of range", "from -1000 t to 1000 t");
      }
      reading.zero_kg = zero.mass_kg;
      reading.last_digit_kg = zero.last_digit_kg;
      set.us |= zero.us;
      read_resolution(row, reading);
      reading.temp_degC = number(row, Column::temp_degC, kTemperature);
      read_moment(row, reading);
      set.readings.push_back(reading);
    }
    return set;
  }

  /// Where the display counts by more than the last digit typed.
  void read_resolution(const Row& row, ZeroReading& reading) {
    if (blank(row, Column::resolution)) return;
    const Field& field = *find(row, Column::resolution);
    const MassField step = read_mass(field.text, header().unit_of(Column::zero));
    if (!step.what.empty()) {
      fault(field, step.what, step.expected);
    } else if (step.mass_kg <= 0.0) {
      fault(field, quote(field.text) + " is no step of a display", "more than 0");
    } else {
      reading.last_digit_kg = step.mass_kg;
    }
  }

  void read_moment(const Row& row, ZeroReading& reading) {
    if (!blank(row, Column::time)) {
      reading.time_s = read_local_time(text(row, Column::time));
      const Field& field = *find(row, Column::time);
      if (!reading.time_s) fault(field, quote(field.text) + " is no time", std::string(kTimeForm));
    }
    if (!blank(row, Column::rain)) {
      reading.rain = yes_or_no(text(row, Column::rain));
      const Field& field = *find(row, Column::rain);
      if (!reading.rain) fault(field, quote(field.text) + " says nothing of rain", "yes or no");
    }
    const auto after = read_after(text(row, Column::after));
    if (after) {
      reading.after = *after;
    } else {
      const Field& field = *find(row, Column::after);
      fault(field, quote(field.text) + " is nothing that is told apart here",
            "nothing, pass 1-2 (a loaded vehicle from end 1 to end 2), pass 2-1, rocked or zeroed");
    }
  }

  LookSet read_looks() {
    LookSet set;
    set.source = file();
    for (const Row& row : rows()) {
      const Field& code = *find(row, Column::look);
      const LookRule* const rule = find_look(code.text);
      if (rule == nullptr) {
        tell_unknown(code);
        continue;
      }
      const Field& where = *find(row, Column::where);
      const std::string wrong = wrong_place(rule->at, where.text);
      if (!wrong.empty()) {
        fault(where,
              where.text.empty() ? "the place is missing"
                                 : quote(where.text) + " is no place for " + code.text,
              wrong);
      }
      const auto found = yes_or_no(text(row, Column::found));
      if (!found) {
        const Field& field = *find(row, Column::found);
        fault(field, quote(field.text) + " is no answer", "yes or no: " + std::string(rule->says));
      }
      set.looks.push_back({.code = code.text,
                           .where = where.text,
                           .found = found.value_or(false),
                           .line = row.front().line});
    }
    return set;
  }

  void tell_unknown(const Field& code) {
    std::vector<std::string_view> names;
    std::string list;
    for (const LookRule& rule : looks()) {
      names.push_back(rule.code);
      list += (list.empty() ? "" : ", ") + std::string(rule.code);
    }
    const auto near = units::nearest(code.text, names);
    fault(code, "there is no look " + quote(code.text),
          near ? "did you mean " + *near + "?" : "one of " + list);
  }

  /// What would be right; empty when the place is.
  [[nodiscard]] std::string wrong_place(LookAt at, const std::string& where) const {
    const auto stand = units::parse_stand(where);
    const bool is_stand = stand && stand->section().value < sections();
    switch (at) {
      case LookAt::stand:
        return is_stand ? "" : "a stand: " + stands_of(sections());
      case LookAt::stand_or_box:
        return is_stand || where == "box" ? "" : "box, or a stand: " + stands_of(sections());
      case LookAt::joint_side:
        return is_bearing(where) ? "" : "bearing1L, bearing1R, ...: joint and side";
      case LookAt::end:
        return where == "end1" || where == "end2" ? "" : "end1 or end2";
      case LookAt::module:
        return where.empty() ? "the mark of a module" : "";
      case LookAt::whole:
        return where.empty() ? "" : "nothing: it concerns the whole deck";
    }
    return "";
  }

  [[nodiscard]] bool is_bearing(std::string_view where) const {
    constexpr std::string_view kName = "bearing";
    if (!where.starts_with(kName)) return false;
    // Joint 1's right bearing is written as section 1's right stand is: "1R".
    const auto place = units::parse_stand(where.substr(kName.size()));
    return place && place->section().value < joints();
  }
};

}  // namespace

Measurement read_visit_file(Body body, FaultList& faults) {
  return VisitReader(std::move(body), faults).read();
}

}  // namespace weighwright::record
