// Measurements as tables: columns as record/csv.h reads them.
#include <fmt/format.h>

#include <array>
#include <cmath>

#include "job/rehearse_words.h"
#include "job/test_words.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

using report::RehearseField;
using report::RehearseView;

RehearseField text(std::string value) {
  return {.text = std::move(value), .number = false};
}

RehearseField number(double value, int decimals) {
  if (std::isinf(value)) return {.text = "OL", .number = true};
  return {.text = units::print_fixed(value, decimals), .number = true};
}

RehearseField number(const std::optional<double>& value, int decimals) {
  return value ? number(*value, decimals) : RehearseField{.text = "", .number = true};
}

/// Decimals that a resolution needs, so that the last digit typed is its own.
int decimals_of(double resolution) {
  int decimals = 0;
  for (double step = resolution; decimals < 6 && step < 0.999; step *= 10.0) ++decimals;
  return decimals;
}

std::string name_of(record::ReadingUnit unit) {
  switch (unit) {
    case record::ReadingUnit::mV:
      return "mV";
    case record::ReadingUnit::mV_per_V:
      return "mV_per_V";
    case record::ReadingUnit::counts:
      return "counts";
    case record::ReadingUnit::kg:
      return "kg";
    case record::ReadingUnit::lb:
      return "lb";
  }
  return "mV";
}

std::string name_of(record::Going going) {
  if (going == record::Going::up) return "up";
  return going == record::Going::down ? "down" : "";
}

std::string name_of(record::ZeroReading::After after) {
  using After = record::ZeroReading::After;
  switch (after) {
    case After::nothing:
      return "nothing";
    case After::pass_1_to_2:
      return "pass 1-2";
    case After::pass_2_to_1:
      return "pass 2-1";
    case After::rocked:
      return "rocked";
    case After::zeroed:
      return "zeroed";
  }
  return "nothing";
}

/// Calendar day of days since 1970-01-01 (civil_from_days; from memory, checked in a test against
/// known dates).
std::string time_of(std::int64_t seconds) {
  const std::int64_t days = seconds / 86400;
  const std::int64_t minutes = seconds % 86400 / 60;
  const std::int64_t z = days + 719468;
  const std::int64_t era = z / 146097;
  const std::int64_t of_era = z - era * 146097;
  const std::int64_t year_of_era =
      (of_era - of_era / 1460 + of_era / 36524 - of_era / 146096) / 365;
  const std::int64_t day_of_year =
      of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
  const std::int64_t shifted = (5 * day_of_year + 2) / 153;
  const std::int64_t day = day_of_year - (153 * shifted + 2) / 5 + 1;
  const std::int64_t month = shifted < 10 ? shifted + 3 : shifted - 9;
  const std::int64_t year = year_of_era + era * 400 + (month <= 2 ? 1 : 0);
  return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}", year, month, day, minutes / 60, minutes % 60);
}

/// In the deck's units.
class Masses {
 public:
  Masses(bool us, double last_digit_kg)
      : kg_(us ? units::kPound_kg : 1.0), decimals_(decimals_of(last_digit_kg / kg_)) {}

  [[nodiscard]] RehearseField operator()(std::optional<double> mass_kg) const {
    if (mass_kg) *mass_kg /= kg_;
    return number(mass_kg, decimals_);
  }

 private:
  double kg_;
  int decimals_;
};

std::string with_unit(const std::string& name, bool us) {
  return name + (us ? "_lb" : "_kg");
}

void load_columns(const record::LoadReading& reading, bool us, std::vector<RehearseField>& row) {
  const Masses mass(us, reading.last_digit_kg);
  row.push_back(mass(reading.load_kg));
  row.push_back(mass(reading.indication_kg));
  row.push_back(mass(reading.zero_before_kg));
  row.push_back(mass(reading.zero_after_kg));
  row.push_back(mass(reading.resolution_kg));
}

}  // namespace

void show(const record::ReadingSet& set, RehearseView& view) {
  view.kind = "readings";
  const bool no_load = !set.stands.empty() && set.stands.front().no_load.has_value();
  view.columns = {"stand", name_of(set.unit)};
  if (no_load) view.columns.emplace_back("no_load");
  for (const record::StandReading& reading : set.stands) {
    const int decimals = decimals_of(reading.resolution);
    view.rows.push_back({text(units::print(reading.stand)), number(reading.value, decimals)});
    if (no_load) view.rows.back().push_back(number(reading.no_load, decimals));
  }
}

void show(const record::TurnSet& set, RehearseView& view) {
  view.kind = "turns";
  const bool shims = !set.stands.empty() && set.stands.front().shim_mm.has_value();
  view.columns = {"stand", shims ? "shim_mm" : "turns"};
  for (const record::StandTurn& turn : set.stands) {
    const double value = shims ? turn.shim_mm.value_or(0.0) : turn.turns.value_or(0.0);
    view.rows.push_back(
        {text(units::print(turn.stand)), {.text = units::print_exact(value), .number = true}});
  }
}

void show(const record::HeightSet& set, RehearseView& view) {
  view.kind = "heights";
  view.columns = {"stand", "height_mm"};
  for (std::size_t i = 0; i < set.height_mm.size(); ++i) {
    view.rows.push_back(
        {text(units::print(units::StandIndex{static_cast<int>(i)})), number(set.height_mm[i], 1)});
  }
}

void show(const record::GapSet& set, const deck::Deck& deck, RehearseView& view) {
  view.kind = "gaps";
  view.columns = {"support", "gap_mm"};
  const auto row = [&](const std::string& support, bool is_bearing, int place) {
    double gap_mm = 0.0;
    for (const record::Gap& gap : set.gaps) {
      const int here = is_bearing ? 2 * gap.place.joint + static_cast<int>(gap.place.side)
                                  : gap.place.stand.value;
      if (gap.place.is_bearing == is_bearing && here == place) gap_mm = gap.gap_mm;
    }
    view.rows.push_back({text(support), number(gap_mm, 2)});
  };
  for (int i = 0; i < deck.stand_count(); ++i) row(units::print(units::StandIndex{i}), false, i);
  for (int joint = 0; joint < static_cast<int>(deck.joints.size()); ++joint) {
    if (deck.joints[static_cast<std::size_t>(joint)].kind != deck::JointKind::hinge) continue;
    row(fmt::format("bearing{}L", joint + 1), true, 2 * joint);
    row(fmt::format("bearing{}R", joint + 1), true, 2 * joint + 1);
  }
}

void show(const record::MapSet& set, RehearseView& view) {
  view.kind = "map";
  view.columns = {"loaded", "moved"};
  for (const auto& [loaded, moved] : set.loaded_and_moved) {
    view.rows.push_back({text(units::print(loaded)), text(units::print(moved))});
  }
}

void show(const record::ShiftSet& set, bool us, RehearseView& view) {
  view.kind = "shift";
  const bool point =
      !set.readings.empty() && set.readings.front().place.kind == record::LoadPlace::Kind::point;
  const bool going = !set.readings.empty() && set.readings.front().going != record::Going::unknown;
  const bool test = !set.readings.empty() && !set.readings.front().test.empty();
  view.columns = {"at"};
  if (point) view.columns = {"x_m", "y_m"};
  for (const std::string& column :
       {with_unit("load", us), with_unit("indication", us), std::string("zero_before"),
        std::string("zero_after"), std::string("resolution")}) {
    view.columns.push_back(column);
  }
  if (going) view.columns.emplace_back("going");
  if (test) view.columns.emplace_back("test");
  for (const record::LoadReading& reading : set.readings) {
    std::vector<RehearseField> row = {text(reading.place.typed)};
    if (point) row = {number(reading.place.x_m, 3), number(reading.place.y_m, 3)};
    load_columns(reading, us, row);
    if (going) row.push_back(text(name_of(reading.going)));
    if (test) row.push_back(text(reading.test));
    view.rows.push_back(std::move(row));
  }
}

void show(const record::LoadSet& set, bool us, RehearseView& view) {
  view.kind = "loads";
  view.columns = {with_unit("load", us), with_unit("indication", us), "zero_before", "zero_after",
                  "resolution"};
  for (const record::LoadReading& reading : set.readings) {
    std::vector<RehearseField> row;
    load_columns(reading, us, row);
    view.rows.push_back(std::move(row));
  }
}

void show(const record::ProofSet& set, RehearseView& view) {
  view.kind = "proof";
  const record::ProofReading& first = set.readings.front();
  const auto add = [&view](std::string column) { view.columns.push_back(std::move(column)); };
  for (const char* const name : {"check", "at", "heading", "run", "weights", "material"}) add(name);
  add(with_unit("load", set.us));
  for (const char* const name : {"zero_before", "zero_after"}) add(name);
  add(with_unit("indication", set.us));
  add("resolution");
  if (first.start_kg) add("start");
  if (first.then_kg) {
    add(with_unit("added", set.us));
    add("then");
  }
  const double unit_kg = set.us ? units::kPound_kg : 1.0;
  for (const record::ProofReading& one : set.readings) {
    const record::LoadReading& reading = one.reading;
    const Masses mass(set.us, reading.last_digit_kg);
    std::string weights;
    for (const std::string& id : one.weights) weights += (weights.empty() ? "" : "+") + id;
    const double load = reading.load_kg.value_or(0.0) / unit_kg;
    std::vector<RehearseField> row = {
        text(one.check),
        text(reading.place.typed),
        text(std::string(heading_code(one.heading))),
        text(std::to_string(one.run)),
        text(weights),
        text(reading.material),
        {.text = units::print_exact(std::round(load * 1e6) / 1e6), .number = true},
        mass(reading.zero_before_kg),
        mass(reading.zero_after_kg),
        mass(reading.indication_kg),
        mass(reading.resolution_kg)};
    if (first.start_kg) row.push_back(mass(one.start_kg));
    if (first.then_kg) {
      row.push_back({.text = units::print_exact(
                         std::round(reading.added_kg.value_or(0.0) / unit_kg * 1e6) / 1e6),
                     .number = true});
      row.push_back(mass(one.then_kg));
    }
    view.rows.push_back(std::move(row));
  }
}

void show(const record::TrimSet& set, RehearseView& view) {
  view.kind = "trims";
  const char* column = "turns";
  if (!set.moves.empty() && set.moves.front().ohm) column = "ohm";
  if (!set.moves.empty() && set.moves.front().factor) column = "factor";
  view.columns = {"trim", column};
  for (const record::TrimMove& move : set.moves) {
    const double value = move.turns.value_or(move.ohm.value_or(move.factor.value_or(0.0)));
    const std::string name = move.place.is_section
                                 ? fmt::format("section {}", move.place.section.value + 1)
                                 : units::print(move.place.stand);
    view.rows.push_back({text(name), {.text = units::print_exact(value), .number = true}});
  }
}

void show(const record::ZeroReading& zero, bool us, RehearseView& view) {
  view.kind = "zero";
  view.columns = {with_unit("zero", us), "resolution", "time", "temp_degC", "rain", "after"};
  view.rows.push_back({Masses(us, zero.last_digit_kg)(zero.zero_kg),
                       Masses(us, zero.last_digit_kg)(zero.last_digit_kg),
                       text(zero.time_s ? time_of(*zero.time_s) : ""), number(zero.temp_degC, 0),
                       text(zero.rain.value_or(false) ? "yes" : "no"), text(name_of(zero.after))});
}

void show(const record::ElectricSet& set, RehearseView& view) {
  view.kind = "resistances";
  view.columns = {"stand",
                  "input_ohm",
                  "output_ohm",
                  "e_plus_s_plus_ohm",
                  "e_plus_s_minus_ohm",
                  "e_minus_s_plus_ohm",
                  "e_minus_s_minus_ohm",
                  "insulation_Mohm",
                  "test_V",
                  "zero_mV",
                  "mV",
                  "excitation_V"};
  if (set.box) view.columns.emplace_back("sense_V");
  const auto row = [&](const std::string& name, const record::CellElectrics& e) {
    std::optional<double> insulation_Mohm = e.insulation_ohm;
    if (insulation_Mohm) *insulation_Mohm /= 1e6;
    view.rows.push_back({text(name), number(e.input_ohm, 1), number(e.output_ohm, 1),
                         number(e.e_plus_s_plus_ohm, 1), number(e.e_plus_s_minus_ohm, 1),
                         number(e.e_minus_s_plus_ohm, 1), number(e.e_minus_s_minus_ohm, 1),
                         number(insulation_Mohm, 3), number(e.test_V, 0), number(e.zero_mV, 2),
                         number(e.mV, 2), number(e.excitation_V, 3)});
    if (set.box) view.rows.back().push_back(number(e.sense_V, 3));
  };
  for (const auto& [stand, electrics] : set.stands) row(units::print(stand), electrics);
  if (set.box) row("box", *set.box);
}

void show(const record::Look& look, RehearseView& view) {
  view.kind = "looks";
  view.columns = {"look", "where", "found"};
  view.rows.push_back({text(look.code), text(look.where), text(look.found ? "yes" : "no")});
}

}  // namespace weighwright::job
