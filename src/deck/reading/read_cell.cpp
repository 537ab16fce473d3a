#include "deck/reading/read_cell.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <string_view>
#include <utility>

#include "deck/limits.h"

namespace weighwright::deck::reading {

namespace {

using units::Kind;

// Hand estimates, no source: printed examples go from 5000 to 20000.
constexpr Limits kRatio{100.0, 1e6, "from 100 to 1000000, a number without a unit"};
// v_min beside Y may be rounded to its last digit on the certificate; common practice, no source.
constexpr double kSameValue = 0.05;

template <class Value>
void set(Value& target, const std::optional<Value>& value) {
  if (value) target = *value;
}

template <class Value>
void set(std::optional<Value>& target, const std::optional<Value>& value) {
  if (value) target = value;
}

std::optional<double> as_number(const std::optional<int>& value) {
  if (!value) return std::nullopt;
  return static_cast<double>(*value);
}

/// The letter alone; what stands behind it on a label is the number of intervals in thousands
/// (OIML R 60, classification of load cells).
void read_class(TableReader& table, Cell& cell) {
  static constexpr std::string_view kLetters = "ABCD";
  const auto typed = table.text("class");
  if (!typed) return;
  if (typed->size() == 1 && kLetters.find(*typed) != std::string_view::npos) {
    cell.accuracy_class = *typed;
    return;
  }
  std::string right = R"("A", "B", "C" or "D")";
  if (typed->size() > 1 && kLetters.find(typed->front()) != std::string_view::npos) {
    right += "; of C3 the letter, and max_intervals = 3000";
  }
  table.sink().fault(of_value(*table.node("class")),
                     "class " + units::quote(*typed) + " is no class of a cell", right);
}

void read_rules(TableReader& table, StatedByRatio& stated) {
  const auto typed = table.text("certificate");
  if (table.has("certificate")) stated.rules_typed = true;
  if (!typed) return;
  stated.rules = parse_cell_rules(*typed);
  if (stated.rules) return;
  table.sink().fault(of_value(*table.node("certificate")),
                     "what Y and Z mean by " + units::quote(*typed) + " is not known here",
                     R"(write "R 60:2000" or "R 60:2021"; for any other edition give v_min and DR )"
                     R"(in kg, as min_interval = "2.5 kg" and dead_load_return = "2.5 kg")");
}

/// @param direct  the key that says the same in kg, and what it has set
void read_ratio(TableReader& table,
                std::string_view key,
                std::string_view direct_key,
                std::optional<double>& direct,
                std::optional<double>& ratio,
                Position& at) {
  const auto typed = table.number(key, kRatio);
  const bool direct_here = table.has(direct_key);
  if (!table.has(key)) {
    if (direct_here) ratio.reset();
    return;
  }
  ratio = typed;
  at = of_value(*table.node(key));
  if (!direct_here) direct.reset();
}

/// Does for v_min and Y what has to be done for DR and Z too.
class RatioFiller {
 public:
  struct Names {
    std::string ratio;     // as in the file
    std::string symbol;    // as on the certificate
    std::string direct;    // the key in kg
    std::string quantity;  // v_min
    std::string divisor;   // as the formula is written
  };

  using Formula = double (*)(double reach_kg, double ratio);

  RatioFiller(Names names, Formula formula, RawDeck& raw, FaultSink& sink)
      : names_(std::move(names)), formula_(formula), raw_(&raw), sink_(&sink) {}

  void fill(std::size_t stand,
            const StatedByRatio& stated,
            std::optional<double> ratio,
            Position at,
            std::optional<double>& direct) {
    values_.emplace_back();
    if (!ratio) return;
    const Cell& cell = raw_->stands.each.at(stand).cell;
    if (!stated.rules) {
      if (!stated.rules_typed) tell_no_rules(at);
      return;
    }
    if (!(cell.capacity_kg > 0.0)) return;  // told already
    const auto reach = reach_kg(*stated.rules, cell.capacity_kg, cell.least_load_kg);
    if (!reach) {
      tell_no_reach(at, cell);
      return;
    }
    take(at, formula_(*reach, *ratio), *ratio, *stated.rules, direct);
  }

  /// Where one line holds for every stand it is told once.
  void list_assumed() {
    const bool alike =
        std::ranges::all_of(values_, [&](const auto& one) { return one == values_.front(); });
    for (std::size_t i = 0; i < values_.size(); ++i) {
      if (values_.at(i).empty()) continue;
      const std::string stand =
          alike ? "" : "stand." + units::print(units::StandIndex{static_cast<int>(i)}) + ".";
      raw_->deck.assumed.push_back({stand + "cell." + names_.direct, values_.at(i)});
      if (alike) return;
    }
  }

 private:
  void take(
      Position at, double value_kg, double ratio, CellRules rules, std::optional<double>& direct) {
    if (direct) {
      tell_difference(at, value_kg, *direct);
      return;
    }
    direct = value_kg;
    const std::string reach = rules == CellRules::r60_2000 ? "E_max" : "(E_max - E_min)";
    values_.back() = mass_text(value_kg) + ", from " + names_.symbol + " " +
                     units::print_exact(ratio) + ": " + reach + " / " + names_.divisor + ", " +
                     std::string(print(rules));
  }

  void tell_no_rules(Position at) {
    if (!first_time(at)) return;
    sink_->fault(at, names_.ratio + " without the edition that it is stated by",
                 R"(write certificate = "R 60:2000" or "R 60:2021": )" + names_.symbol +
                     " divides E_max in the first and E_max less E_min in the second");
  }

  void tell_no_reach(Position at, const Cell& cell) {
    if (!first_time(at)) return;
    if (cell.least_load_kg) {
      sink_->fault(
          at,
          "E_min of the cell is not below its capacity: nothing for " + names_.ratio + " to divide",
          R"(write least_load, the minimum dead load, as "0.1 t")");
      return;
    }
    sink_->fault(at, names_.ratio + " of R 60:2021 without E_min",
                 R"(write least_load = "0.1 t" from the certificate ("0 kg" where it says so))");
  }

  void tell_difference(Position at, double value_kg, double direct_kg) {
    if (std::abs(value_kg - direct_kg) <= kSameValue * direct_kg || !first_time(at)) return;
    sink_->note(at,
                names_.ratio + " says " + names_.quantity + " " + mass_text(value_kg) + " and " +
                    names_.direct + " " + mass_text(direct_kg) + "; " + names_.direct + " counts",
                "compare both with the certificate");
  }

  /// A line of [cell] is the same for every stand.
  bool first_time(Position at) { return told_.emplace(at.line, at.column).second; }

  /// Four digits: no certificate states more.
  [[nodiscard]] std::string mass_text(double value_kg) const {
    const bool us = raw_->deck.units == UnitSystem::us;
    const double value = us ? value_kg / units::kPound_kg : value_kg;
    const double digit = std::pow(10.0, std::floor(std::log10(std::max(value, 1e-9))) - 3.0);
    const double rounded = std::round(value / digit);
    const double shown = digit < 1.0 ? rounded / std::round(1.0 / digit) : rounded * digit;
    return units::print_exact(shown) + (us ? " lb" : " kg");
  }

  Names names_;
  Formula formula_;
  RawDeck* raw_;
  FaultSink* sink_;
  std::set<std::pair<int, int>> told_;
  std::vector<std::string> values_;  // of every stand; empty: not filled here
};

}  // namespace

void read_papers(TableReader& table, Cell& cell) {
  set(cell.serial, table.label("serial"));
  set(cell.terminal, table.label("terminal"));
  set(cell.address, table.label("address"));
}

void read_cell(TableReader& table, Cell& cell, StatedByRatio& stated) {
  set(cell.capacity_kg, table.quantity("capacity", Kind::mass, kMass));
  set(cell.output_V_per_V, table.quantity("output", Kind::voltage_ratio, kOutput));
  set(cell.input_ohm, table.quantity("input_resistance", Kind::resistance, kResistance));
  set(cell.output_ohm, table.quantity("output_resistance", Kind::resistance, kResistance));
  set(cell.deflection_m, table.quantity("deflection", Kind::length, kSmallLength));
  set(cell.min_interval_kg, table.quantity("min_interval", Kind::mass, kInterval));
  set(cell.max_intervals, as_number(table.whole("max_intervals", 1, 1'000'000)));
  set(cell.least_load_kg, table.quantity("least_load", Kind::mass, kSmallMass));
  set(cell.zero_V_per_V, table.quantity("zero", Kind::voltage_ratio, kZero));
  set(cell.dead_load_return_kg, table.quantity("dead_load_return", Kind::mass, kSmallMass));
  set(cell.error_fraction, table.number("error_fraction", kErrorFraction));
  read_class(table, cell);
  read_ratio(table, "y", "min_interval", cell.min_interval_kg, stated.y, stated.y_at);
  read_ratio(table, "z", "dead_load_return", cell.dead_load_return_kg, stated.z, stated.z_at);
  read_rules(table, stated);
  if (const auto range = table.range("temperature", Kind::temperature, kTemperature)) {
    cell.temperature_low_degC = range->first;
    cell.temperature_high_degC = range->second;
  }
  set(cell.counts, as_number(table.whole("counts", 1, 2'000'000'000)));
  read_papers(table, cell);
  table.finish();
}

void fill_from_ratios(RawDeck& raw, const std::vector<StatedByRatio>& stated, FaultSink& sink) {
  RatioFiller intervals({"y", "Y", "min_interval", "v_min", "Y"}, interval_of_y_kg, raw, sink);
  RatioFiller returns({"z", "Z", "dead_load_return", "DR", "(2 Z)"}, return_of_z_kg, raw, sink);
  for (std::size_t i = 0; i < stated.size(); ++i) {
    const StatedByRatio& one = stated.at(i);
    Cell& cell = raw.stands.each.at(i).cell;
    intervals.fill(i, one, one.y, one.y_at, cell.min_interval_kg);
    returns.fill(i, one, one.z, one.z_at, cell.dead_load_return_kg);
  }
  intervals.list_assumed();
  returns.list_assumed();
}

}  // namespace weighwright::deck::reading
