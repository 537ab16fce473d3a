#include "job/condition_doubt.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

#include "job/speak.h"
#include "signal/cell.h"

namespace weighwright::job {
namespace {

struct Doubt {
  std::string_view condition;
  double kg;
};

// At one stand, one standard deviation. Judgement of ours, no source: a panel of 100 kg still to
// come stands on two to four stands; so does a person; a girder that touches takes as much before
// anybody sees it; a rod out of level puts 2 % of some kilonewtons into the weight; a cold cell and
// another meter are off by some hundredths of a millivolt (1 mV is 1.25 t on a cell of 25 t).
constexpr std::array kDoubts = {
    Doubt{"panels_on", 50.0},      Doubt{"rods_slack", 20.0}, Doubt{"nothing_touches", 50.0},
    Doubt{"nobody_on_deck", 50.0}, Doubt{"warm", 20.0},       Doubt{"same_meter", 20.0}};

/// Noise of a reading in its own unit; as the deck file has it where no instrument showed its own.
double noise_of(const deck::Deck& deck,
                const deck::Cell& cell,
                const record::StandReading& reading,
                double newtons_per_unit) {
  if (reading.noise) return *reading.noise;
  const double excitation_V = reading.excitation_V.value_or(deck.excitation_V);
  return deck.sharing.noise_V / signal::sensitivity_V_per_N(cell, excitation_V) / newtons_per_unit;
}

}  // namespace

double doubt_kg(const std::vector<std::string>& unmet) {
  double variance = 0.0;
  for (const Doubt& doubt : kDoubts) {
    const bool open = std::find(unmet.begin(), unmet.end(), doubt.condition) != unmet.end();
    if (open) variance += doubt.kg * doubt.kg;
  }
  return std::sqrt(variance);
}

void widen(const deck::Deck& deck,
           const std::vector<std::string>& unmet,
           int reading,
           record::ReadingSet& readings) {
  // The noise of a mean of n readings is divided by the root of n.
  const double doubt_N =
      doubt_kg(unmet) * deck.site.gravity_m_per_s2 * std::sqrt(std::max(1, reading));
  if (!(doubt_N > 0.0)) return;
  for (record::StandReading& one : readings.stands) {
    const deck::Cell& cell = deck.stands[static_cast<std::size_t>(one.stand.value)].cell;
    const auto newtons =
        signal::newtons_per_unit(cell, readings.unit, one.excitation_V.value_or(deck.excitation_V),
                                 deck.site.gravity_m_per_s2);
    if (!newtons || *newtons == 0.0) continue;
    one.noise = std::hypot(noise_of(deck, cell, one, *newtons), doubt_N / std::abs(*newtons));
  }
}

std::string doubt_words(const deck::Deck& deck, const std::vector<std::string>& unmet) {
  if (unmet.empty()) return "";
  return fmt::format(
      "Not ticked when the cells were read: {}. That holds nothing back; each stand is taken as "
      "±{} for it (a judgement, no source). Tick what held.",
      all_of(unmet), Speaker(deck).mass(doubt_kg(unmet) * deck.site.gravity_m_per_s2));
}

}  // namespace weighwright::job
