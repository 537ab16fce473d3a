#include "job/implausible.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <variant>

#include "units/place.h"

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

  template <class Other>
  void operator()(const Other& /*what*/) {}

  units::Diagnostics faults;

 private:
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
