#include "job/implausible.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <variant>

#include "job/live_limits.h"
#include "units/place.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

constexpr double kMostZero = 0.1;  // of the output at capacity
constexpr double kMargin = 1.001;  // against rounding

class Looking {
 public:
  Looking(const deck::Deck& deck, const std::vector<NotKnown>& not_known, const std::string& file)
      : deck_(deck), not_known_(not_known), file_(file) {}

  void operator()(const record::TurnSet& set) {
    for (const record::StandTurn& turn : set.stands) {
      const deck::Stand& stand = stand_at(turn.stand);
      const double travel_m = stand.travel_up_m - stand.travel_down_m;
      if (turn.turns && std::abs(*turn.turns) * stand.pitch_m > kMargin * travel_m) {
        fault(turn.line,
              fmt::format("{}: {:g} turns are {:.0f} mm", units::print(turn.stand), *turn.turns,
                          *turn.turns * stand.pitch_m * 1e3),
              fmt::format("within the {:.0f} mm that its screws travel in all", travel_m * 1e3));
      }
    }
  }

  void operator()(const record::ElectricSet& set) {
    for (const auto& [stand, cell] : set.stands) {
      const double supply_V = cell.excitation_V.value_or(deck_.excitation_V);
      const double most_mV = kMostZero * stand_at(stand).cell.output_V_per_V * supply_V * 1e3;
      if (nobody_knows(stand)) continue;
      if (!cell.zero_mV || std::abs(*cell.zero_mV) <= most_mV) continue;
      fault(cell.line,
            fmt::format("{}: {:g} mV with nothing on the cell", units::print(stand), *cell.zero_mV),
            fmt::format("a value near 0, {:g} mV at most; a cell that carries the deck is read as "
                        "stand,mV",
                        most_mV));
    }
  }

  void operator()(const record::ReadingSet& set) {
    for (const record::StandReading& reading : set.stands) {
      if (nobody_knows(reading.stand)) continue;
      const auto [most, unit] = most_read(stand_at(reading.stand).cell, set.unit, reading);
      if (most <= 0.0 || std::abs(reading.value) <= most) continue;
      fault(reading.line,
            fmt::format("{}: {:g} {} is more than a cell gives", units::print(reading.stand),
                        reading.value, unit),
            fmt::format("{:g} {} at most, one and a half times its rated output", most, unit));
    }
  }

  void operator()(const record::ShiftSet& set) { look_at(set.readings, set.us); }
  void operator()(const record::LoadSet& set) { look_at(set.readings, set.us); }
  void operator()(const record::ZeroSet& set) {
    for (const record::ZeroReading& zero : set.readings) indicated(zero.line, zero.zero_kg, set.us);
  }
  void operator()(const record::ProofSet& set) {
    for (const record::ProofReading& one : set.readings) {
      look_at({one.reading}, set.us);
      if (one.start_kg) indicated(one.reading.line, *one.start_kg, set.us);
      if (one.then_kg) indicated(one.reading.line, *one.then_kg, set.us);
    }
  }

  template <class Other>
  void operator()(const Other& /*what*/) {}

  units::Diagnostics faults;

 private:
  struct Most {
    double value = 0.0;  // 0: not known
    const char* unit = "";
  };

  [[nodiscard]] Most most_read(const deck::Cell& cell,
                               record::ReadingUnit unit,
                               const record::StandReading& reading) const {
    const double most = most_output_V_per_V(cell);
    const double part = cell.output_V_per_V > 0.0 ? most / cell.output_V_per_V : 0.0;
    switch (unit) {
      case record::ReadingUnit::mV:
        return {most * reading.excitation_V.value_or(deck_.excitation_V) * 1e3, "mV"};
      case record::ReadingUnit::mV_per_V:
        return {most * 1e3, "mV/V"};
      case record::ReadingUnit::counts:
        return {part * cell.counts.value_or(0.0), "counts"};
      case record::ReadingUnit::kg:
        return {part * cell.capacity_kg, "kg"};
      case record::ReadingUnit::lb:
        break;
    }
    return {part * cell.capacity_kg / units::kPound_kg, "lb"};
  }

  void look_at(const std::vector<record::LoadReading>& readings, bool us) {
    for (const record::LoadReading& reading : readings) {
      indicated(reading.line, reading.indication_kg, us);
      if (reading.zero_before_kg) indicated(reading.line, *reading.zero_before_kg, us);
      if (reading.zero_after_kg) indicated(reading.line, *reading.zero_after_kg, us);
    }
  }

  void indicated(int line, double indication_kg, bool us) {
    if (std::abs(indication_kg) <= kMargin * most_explained_kg(deck_)) return;
    const double unit_kg = us ? units::kPound_kg : 1.0;
    const char* const unit = us ? "lb" : "kg";
    fault(line,
          fmt::format("no load on this deck explains an indication of {:.10g} {}",
                      indication_kg / unit_kg, unit),
          fmt::format("a figure up to Max, {:.10g} {}", deck_.capacity_kg / unit_kg, unit));
  }

  [[nodiscard]] const deck::Stand& stand_at(units::StandIndex stand) const {
    return deck_.stands[static_cast<std::size_t>(stand.value)];
  }

  [[nodiscard]] bool nobody_knows(units::StandIndex stand) const {
    return std::any_of(not_known_.begin(), not_known_.end(),
                       [&](const NotKnown& one) { return one.stand == stand && one.output; });
  }

  void fault(int line, std::string what, std::string expected) {
    faults.push_back({.file = file_,
                      .line = line,
                      .column = 0,
                      .what = std::move(what),
                      .expected = std::move(expected)});
  }

  const deck::Deck& deck_;
  const std::vector<NotKnown>& not_known_;
  const std::string& file_;
};

}  // namespace

units::Diagnostics implausible(const deck::Deck& deck,
                               const std::vector<NotKnown>& not_known,
                               const record::Measurement& what,
                               const std::string& file) {
  Looking looking(deck, not_known, file);
  std::visit(looking, what);
  return std::move(looking.faults);
}

}  // namespace weighwright::job
