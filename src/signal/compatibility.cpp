#include "signal/compatibility.h"

#include <algorithm>
#include <cmath>
#include <functional>

#include "signal/budget.h"
#include "units/quantity.h"

namespace weighwright::signal {
namespace {

using Maybe = std::optional<double>;

// Equal sides hold; sums and square roots round.
constexpr double kRounding = 1e-12;

constexpr double kSoundConnection = 0.5;  // R 76-1:2006, 3.10.2.1: sound design, without test
constexpr double kUsualCell = 0.7;        // OIML R 60: p_LC where none is stated
constexpr double kUnevenDeck = 0.5;       // NUD over Max of a weighbridge; from memory, unverified

/// A side of an inequality: its value, or the keys that are missing.
struct Side {
  std::string name;
  Maybe value;
  std::vector<std::string> missing;
};

Side known(std::string name, double value) {
  return {std::move(name), value, {}};
}

Side of_key(std::string name, const Maybe& value, const std::string& key) {
  if (value) return known(std::move(name), *value);
  return {std::move(name), std::nullopt, {key}};
}

/// What every row needs beside its sides.
struct Rule {
  std::string code;
  std::string clause;
  std::string what;
  std::string unit;
  bool source_unverified = false;
};

Inequality row_of(const Rule& rule, Side left, const std::string& relation, Side right) {
  Inequality row;
  row.code = rule.code;
  row.clause = rule.clause;
  row.what = rule.what;
  row.unit = rule.unit;
  row.source_unverified = rule.source_unverified;
  row.left_name = std::move(left.name);
  row.right_name = std::move(right.name);
  row.relation = relation;
  row.left = left.value;
  row.right = right.value;
  row.missing = std::move(left.missing);
  row.missing.insert(row.missing.end(), right.missing.begin(), right.missing.end());
  return row;
}

/// How far inside its bound, relative to the right side (absolute where that is nothing).
double margin_of(double left, double right, bool at_most) {
  const double room = at_most ? right - left : left - right;
  return right == 0.0 ? room : room / std::abs(right);
}

Inequality judged(const Rule& rule, Side left, const std::string& relation, Side right) {
  Inequality row = row_of(rule, std::move(left), relation, std::move(right));
  if (!row.missing.empty() || !row.left || !row.right) return row;
  row.margin = margin_of(*row.left, *row.right, relation == "<=");
  const double slack = kRounding * std::max(std::abs(*row.left), std::abs(*row.right));
  const double over = relation == "<=" ? *row.left - *row.right : *row.right - *row.left;
  row.verdict = over <= slack ? Verdict::holds : Verdict::fails;
  return row;
}

class Checker {
 public:
  explicit Checker(const deck::Deck& deck) : deck_(deck), count_(std::max(deck.stand_count(), 1)) {}

  Compatibility check() {
    if (is_digital(deck_)) {
      result_.remarks.emplace_back("digital cells: signal, supply and cable are not compared");
    }
    if (deck_.rulebook == "H44") {
      check_h44();
    } else {
      check_r76();
    }
    if (!is_digital(deck_)) check_electrics();
    return std::move(result_);
  }

 private:
  // ------------------------------------------------------------------------- what the deck states

  [[nodiscard]] bool r76() const { return deck_.rulebook != "H44"; }

  [[nodiscard]] std::string clause(const std::string& number) const {
    return r76() ? "R 76-1:2006, " + number : "the indicator's own data";
  }

  using Stated = std::function<Maybe(const deck::Cell&)>;

  /// The least or greatest of what the cells state; missing as soon as one says nothing.
  [[nodiscard]] Side of_cells(std::string name,
                              const Stated& stated,
                              bool greatest,
                              const std::string& key) const {
    Side side{std::move(name), std::nullopt, {}};
    for (int s = 0; s < deck_.stand_count(); ++s) {
      const Maybe value = stated(deck_.stands[static_cast<std::size_t>(s)].cell);
      if (!value) return {std::move(side.name), std::nullopt, {missing_of_cell(stated, s, key)}};
      if (!side.value || (greatest ? *value > *side.value : *value < *side.value)) {
        side.value = value;
      }
    }
    if (!side.value) side.missing.push_back("cell." + key);
    return side;
  }

  [[nodiscard]] std::string missing_of_cell(const Stated& stated,
                                            int stand,
                                            const std::string& key) const {
    const auto lacks = [&](const deck::Stand& one) { return !stated(one.cell); };
    if (std::ranges::all_of(deck_.stands, lacks)) return "cell." + key;
    return "stand." + units::print(units::StandIndex{stand}) + ".cell." + key;
  }

  void assume(const std::string& key, const std::string& value) {
    const auto told = [&](const deck::Assumed& one) { return one.key == key; };
    if (std::ranges::none_of(result_.assumed, told)) result_.assumed.push_back({key, value});
  }

  [[nodiscard]] double dead_load_kg() {
    if (deck_.receptor.dead_load_kg) return *deck_.receptor.dead_load_kg;
    double sum_kg = 0.0;
    for (const deck::Module& module : deck_.modules) sum_kg += module.mass_kg;
    assume("receptor.dead_load", units::print_exact(sum_kg) + " kg, the modules' masses");
    return sum_kg;
  }

  [[nodiscard]] double least_interval_kg() const {
    double least_kg = deck_.interval_kg;
    for (const deck::Range& range : deck_.ranges) least_kg = std::min(least_kg, range.interval_kg);
    return least_kg;
  }

  [[nodiscard]] double most_intervals() const {
    if (deck_.ranges.empty()) return deck_.capacity_kg / deck_.interval_kg;
    double most = 0.0;
    for (const deck::Range& range : deck_.ranges) {
      most = std::max(most, range.capacity_kg / range.interval_kg);
    }
    return most;
  }

  void add(const Rule& rule, Side left, const std::string& relation, Side right) {
    result_.rows.push_back(judged(rule, std::move(left), relation, std::move(right)));
  }

  // ------------------------------------------------------------------------------------ rulebooks

  void check_h44() {
    add({"cell_interval", "NIST Handbook 44, 2.20, S.5.4",
         "the cells' least interval against the display's division", "kg", true},
        of_cells("v_min", &deck_v_min, true, "min_interval"),
        "<=", known("d / sqrt(N)", deck_.display_kg() / std::sqrt(count_)));
  }

  static Maybe deck_v_min(const deck::Cell& cell) { return cell.min_interval_kg; }

  void check_r76() {
    check_classes();
    check_temperatures();
    check_fractions();
    check_intervals();
    check_capacity();
    check_dead_load_return();
    check_least_load();
  }

  // Classes are letters: no number to the left or right.
  void check_classes() {
    // I, II, III, IIII: fewer strokes is better.
    const std::string& ours = deck_.accuracy_class;
    const std::string& indicator = deck_.indicator.accuracy_class;
    add_class({"indicator_class", "R 76-1:2006, Annex F",
               "the indicator's accuracy class is at least the weighbridge's", "", true},
              indicator, ours, "indicator.class", rank_of_instrument(indicator));
    std::string worst;
    for (const deck::Stand& stand : deck_.stands) {
      const std::string& own = stand.cell.accuracy_class;
      if (own.empty()) {
        worst.clear();
        break;
      }
      if (worst.empty() || own.front() > worst.front()) worst = own;
    }
    add_class({"cell_class", "R 76-1:2006, Annex F",
               "the cells' accuracy class is at least the weighbridge's", "", true},
              worst, ours, "cell.class", rank_of_cell(worst));
  }

  void add_class(const Rule& rule,
                 const std::string& part,
                 const std::string& ours,
                 const std::string& key,
                 int part_rank) {
    const int rank = rank_of_instrument(ours);
    Inequality row = row_of(rule, {"class of the part", {}, {}}, "at least", {"class", {}, {}});
    row.left_text = part;
    row.right_text = ours;
    if (part_rank == 0) row.missing.push_back(key);
    if (rank == 0) row.missing.emplace_back("deck.class");
    if (row.missing.empty()) row.verdict = part_rank <= rank ? Verdict::holds : Verdict::fails;
    result_.rows.push_back(std::move(row));
  }

  /// 1 for I to 4 for IIII; 0 where it is none of them.
  static int rank_of_instrument(const std::string& text) {
    const bool strokes = std::ranges::all_of(text, [](char c) { return c == 'I'; });
    return strokes && text.size() <= 4 ? static_cast<int>(text.size()) : 0;
  }

  /// R 60: A to D go with I to IIII.
  static int rank_of_cell(const std::string& text) {
    if (text.empty() || text.front() < 'A' || text.front() > 'D') return 0;
    return text.front() - 'A' + 1;
  }

  void check_temperatures() {
    const deck::Indicator& indicator = deck_.indicator;
    const Maybe& low = deck_.site.temperature_low_degC;
    const Maybe& high = deck_.site.temperature_high_degC;
    const auto rule = [](const char* code, const char* what) {
      return Rule{code, "R 76-1:2006, Annex F", what, "degC", true};
    };
    add(rule("cell_cold", "the cells stand the cold of the site"),
        of_cells(
            "lowest of the cells", [](const deck::Cell& cell) { return cell.temperature_low_degC; },
            true, "temperature"),
        "<=", of_key("lowest of the site", low, "site.temperature"));
    add(rule("cell_heat", "the cells stand the heat of the site"),
        of_cells(
            "highest of the cells",
            [](const deck::Cell& cell) { return cell.temperature_high_degC; }, false,
            "temperature"),
        ">=", of_key("highest of the site", high, "site.temperature"));
    add(rule("indicator_cold", "the indicator stands the cold of the site"),
        of_key("lowest of the indicator", indicator.temperature_low_degC, "indicator.temperature"),
        "<=", of_key("lowest of the site", low, "site.temperature"));
    add(rule("indicator_heat", "the indicator stands the heat of the site"),
        of_key("highest of the indicator", indicator.temperature_high_degC,
               "indicator.temperature"),
        ">=", of_key("highest of the site", high, "site.temperature"));
  }

  void check_fractions() {
    if (!deck_.receptor.error_fraction) {
      assume("receptor.error_fraction", "0.5, connecting elements of sound design (3.10.2.1)");
    }
    const double connection = deck_.receptor.error_fraction.value_or(kSoundConnection);
    double cells = 0.0;
    for (const deck::Stand& stand : deck_.stands) {
      if (!stand.cell.error_fraction) assume("cell.error_fraction", "0.7, where none is stated");
      cells = std::max(cells, stand.cell.error_fraction.value_or(kUsualCell));
    }
    Side sum = of_key("sum of p^2", deck_.indicator.error_fraction, "indicator.error_fraction");
    Side least = sum;
    Side greatest = sum;
    if (sum.value) {
      const double own = *sum.value;
      sum.value = own * own + connection * connection + cells * cells;
      least.value = std::min({own, connection, cells});
      greatest.value = std::max({own, connection, cells});
    }
    least.name = "least p";
    greatest.name = "greatest p";
    add({"error_sum", "R 76-1:2006, 3.10.2.1", "the parts' shares of the error limit", ""}, sum,
        "<=", known("1", 1.0));
    add({"error_least", "R 76-1:2006, 3.10.2.1", "no part claims less than it may", ""}, least,
        ">=", known("0.3", 0.3));
    add({"error_greatest", "R 76-1:2006, 3.10.2.1", "no part claims more than it may", ""},
        greatest, "<=", known("0.8", 0.8));
  }

  void check_intervals() {
    const double most = most_intervals();
    add({"indicator_intervals", "R 76-1:2006, Annex F",
         "the indicator is approved for as many intervals", ""},
        of_key("n_ind", deck_.indicator.max_intervals, "indicator.max_intervals"),
        ">=", known("n", most));
    add({"cell_intervals", "R 76-1:2006, 4.12", "the cells are approved for as many intervals", ""},
        of_cells(
            "n_LC", [](const deck::Cell& cell) { return cell.max_intervals; }, false,
            "max_intervals"),
        ">=", known("n", most));
    add({"cell_interval", "R 76-1:2006, 4.12",
         "the cells' least interval; their drifts with temperature are independent, hence the root",
         "kg"},
        of_cells("v_min", &deck_v_min, true, "min_interval"),
        "<=", known("e / sqrt(N)", least_interval_kg() / std::sqrt(count_)));
  }

  void check_capacity() {
    const deck::Receptor& receptor = deck_.receptor;
    Side needed{"Q Max / N", std::nullopt, {}};
    if (!receptor.zero_range_kg) needed.missing.emplace_back("receptor.zero_range");
    if (!receptor.uneven_kg) assume("receptor.uneven", "50 % of Max, a weighbridge");
    if (!receptor.tare_kg) assume("receptor.tare", "0 kg, no additive tare");
    const double uneven_kg = receptor.uneven_kg.value_or(kUnevenDeck * deck_.capacity_kg);
    const double all_kg = deck_.capacity_kg + dead_load_kg() +
                          receptor.zero_range_kg.value_or(0.0) + uneven_kg +
                          receptor.tare_kg.value_or(0.0);
    if (needed.missing.empty()) needed.value = all_kg / count_;
    add({"cell_capacity", "R 76-1:2006, 4.12.1",
         "the cells' capacity; Q = (Max + DL + IZSR + NUD + T+) / Max", "kg"},
        of_cells(
            "E_max", [](const deck::Cell& cell) { return Maybe(cell.capacity_kg); }, false,
            "capacity"),
        ">=", std::move(needed));
  }

  /// Several intervals in one range are the stricter: half as much as several ranges.
  void check_dead_load_return() {
    if (deck_.ranges.size() < 2) return;
    const bool multiple = deck_.ranges_kind == deck::RangesKind::ranges;
    if (!multiple) {
      result_.remarks.emplace_back(
          "several intervals: judged as multi-interval; as multiple range DR may be twice as much");
    }
    add({"dead_load_return", "R 76-1:2006, 4.12",
         "the cells' dead load output return; returns add, hence N and no root", "kg"},
        of_cells(
            "DR", [](const deck::Cell& cell) { return cell.dead_load_return_kg; }, true,
            "dead_load_return"),
        "<=",
        multiple ? known("e1 / N", least_interval_kg() / count_)
                 : known("0.5 e1 / N", 0.5 * least_interval_kg() / count_));
  }

  void check_least_load() {
    add({"cell_least_load", "R 76-1:2006, Annex F", "the empty deck loads every cell enough", "kg",
         true},
        known("DL / N", dead_load_kg() / count_), ">=",
        of_cells(
            "E_min", [](const deck::Cell& cell) { return cell.least_load_kg; }, true,
            "least_load"));
  }

  // ------------------------------------------------------------------------------------ electrics

  /// Signal of a mass on the deck by the formula of the check: no cable, no trim.
  [[nodiscard]] Side signal_of(std::string name, double mass_kg, bool greatest) const {
    if (!deck_.excitation_given) return {std::move(name), {}, {"indicator.excitation"}};
    Maybe result;
    for (const deck::Stand& stand : deck_.stands) {
      const double one = stand.cell.output_V_per_V * deck_.excitation_V * mass_kg /
                         stand.cell.capacity_kg / count_;
      if (!result || (greatest ? one > *result : one < *result)) result = one;
    }
    return {std::move(name), result, {}};
  }

  void check_electrics() {
    const deck::Indicator& indicator = deck_.indicator;
    const double dead_kg = dead_load_kg();
    add({"dead_signal", clause("Annex F"), "signal of the empty deck against the least", "V", true},
        signal_of("U = C U_exc DL / (E_max N)", dead_kg, false),
        ">=", of_key("U_min", indicator.dead_load_low_V, "indicator.dead_load_range"));
    if (indicator.dead_load_high_V) {
      add({"dead_signal_high", clause("Annex F"), "signal of the empty deck against the greatest",
           "V", true},
          signal_of("U = C U_exc DL / (E_max N)", dead_kg, true),
          "<=", known("U_max", *indicator.dead_load_high_V));
    }
    add({"interval_signal", clause("4.12"), "signal of one interval", "V", !r76()},
        signal_of("C U_exc e / (E_max N)", least_interval_kg(), false),
        ">=", of_key("least signal of an interval", deck_.min_signal_V, "indicator.min_signal"));
    check_supply_load();
    check_cable();
  }

  /// Inputs in parallel, of several kinds too.
  [[nodiscard]] Side supply_load() const {
    const Stated input = [](const deck::Cell& cell) {
      return cell.input_ohm > 0.0 ? Maybe(cell.input_ohm) : std::nullopt;
    };
    Side side = of_cells("R_LC / N", input, false, "input_resistance");
    if (!side.value) return side;
    double conductance = 0.0;
    for (const deck::Stand& stand : deck_.stands) conductance += 1.0 / stand.cell.input_ohm;
    side.value = 1.0 / conductance;
    return side;
  }

  void check_supply_load() {
    const deck::Indicator& indicator = deck_.indicator;
    add({"supply_load_low", clause("Annex F"), "the cells do not draw more than the supply gives",
         "ohm", true},
        supply_load(), ">=", of_key("R_L,min", indicator.load_low_ohm, "indicator.load"));
    add({"supply_load_high", clause("Annex F"), "the cells draw enough of the supply", "ohm", true},
        supply_load(), "<=", of_key("R_L,max", indicator.load_high_ohm, "indicator.load"));
  }

  /// 0 where nothing says how many.
  [[nodiscard]] int wires() const {
    if (deck_.indicator.sense_cores != 0) return deck_.indicator.sense_cores;
    return deck_.home_cable ? deck_.home_cable->cores : 0;
  }

  void check_cable() {
    if (wires() == 4) {
      result_.remarks.emplace_back(
          "four wires: cable length over area is no check of its own, the cable is adjusted with "
          "the indicator and stays as long as it is");
      return;
    }
    Side ours{"L / A", std::nullopt, {}};
    if (wires() == 0) ours.missing.emplace_back("cable.home.cores");
    if (!deck_.home_cable || !(deck_.home_cable->area_m2 > 0.0)) {
      ours.missing.emplace_back("cable.home");
    } else {
      ours.value = deck_.home_cable->length_m / deck_.home_cable->area_m2;
    }
    add({"cable", clause("Annex F"), "length over area of the six-wire cable", "m/m2", true},
        std::move(ours), "<=",
        of_key("(L / A)_max", deck_.indicator.longest_cable_per_m, "indicator.longest_cable"));
  }

  const deck::Deck& deck_;
  double count_;
  Compatibility result_;
};

}  // namespace

bool Compatibility::fails() const {
  return std::ranges::any_of(rows,
                             [](const Inequality& row) { return row.verdict == Verdict::fails; });
}

bool Compatibility::all_hold() const {
  return std::ranges::all_of(rows,
                             [](const Inequality& row) { return row.verdict == Verdict::holds; });
}

Compatibility compatibility(const deck::Deck& deck) {
  return Checker(deck).check();
}

}  // namespace weighwright::signal
