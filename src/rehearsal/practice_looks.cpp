// What somebody finds who goes and looks at a practice site.
#include <algorithm>
#include <cmath>

#include "record/looks.h"
#include "rehearsal/practice.h"

namespace weighwright::rehearsal {
namespace {

constexpr double kLook_h = 5.0 / 60.0;
constexpr double kTrimsApart = 0.008;  // relative: more than sound cells need (common practice)

struct SeenBy {
  std::string_view look;
  std::string_view fault;
};

/// Faults that show themselves to a look at the same place.
constexpr std::array kSeen = {
    SeenBy{"wet", "moisture"},
    SeenBy{"lead_loose", "signal_open"},
    SeenBy{"lead_loose", "excitation_open"},
    SeenBy{"follows_cell", "moisture"},
    SeenBy{"follows_cell", "signal_open"},
    SeenBy{"follows_cell", "excitation_open"},
    SeenBy{"follows_cell", "wrong_capacity"},
    SeenBy{"follows_cell", "wrong_resistance"},
    SeenBy{"follows_cell", "shocked"},
    SeenBy{"follows_cell", "cell_silent"},
    SeenBy{"colours_wrong", "reversed"},
    SeenBy{"label_differs", "wrong_capacity"},
    SeenBy{"label_differs", "wrong_resistance"},
    SeenBy{"answers_elsewhere", "swapped"},
    SeenBy{"answers_elsewhere", "address_doubled"},
    SeenBy{"rocker_tilted", "rocker_tilted"},
    SeenBy{"creeps", "shocked"},
    SeenBy{"sense_loose", "supply_loss"},
    SeenBy{"deck_laden", "foreign_load"},
    SeenBy{"panel_missing", "panel_missing"},
    SeenBy{"bolts_loose", "bolts_loose"},
    SeenBy{"lightning", "lightning"},
    SeenBy{"box_connected", "box_mean"},
    SeenBy{"people_on_deck", "people_on_deck"},
    SeenBy{"tracking_on", "tracking_on"},
    SeenBy{"screen_both_ends", "screen_grounded"},
    SeenBy{"silent", "cell_silent"},
    SeenBy{"address_doubled", "address_doubled"},
    SeenBy{"plate_moves", "stand_sunk"},
};

}  // namespace

/// The truth about what a look asks.
bool PracticeSite::is_so(const std::string& code, const std::string& where) const {
  for (const SeenBy& seen : kSeen) {
    if (seen.look != code) continue;
    const bool whole = where.empty();
    if (whole ? has(seen.fault) : at_place(seen.fault, where)) return true;
  }
  if (code == "bearing_gap") {
    const Standing standing = still({});
    for (int b = 0; b < static_cast<int>(standing.bearing_open.size()); ++b) {
      const BearingPlace place{.joint = b / 2,
                               .side = b % 2 == 0 ? units::Side::left : units::Side::right};
      if (print(place) == where) return standing.bearing_open[static_cast<std::size_t>(b)];
    }
  }
  if (code == "plate_moves") {
    const auto stand = stand_of(described_, where);
    return stand && still({}).stand_N(stand->value) <= 0.0;
  }
  if (code == "end_touches") return at_place("end_packed", where);
  if (code == "deck_touches") {
    return std::any_of(struck_.begin(), struck_.end(), [&](const Struck& struck) {
      if (!struck.touch) return false;
      return described_.modules[static_cast<std::size_t>(struck.touch->module)].mark == where;
    });
  }
  if (code == "trims_apart") {
    std::vector<double> effect;
    for (std::size_t t = 0; t < trims_.size(); ++t) {
      const signal::WiredCell& cell = corners_.untrimmed().cells[t];
      const double source_ohm = trims_[t].kind == "excitation" ? cell.input_ohm : cell.output_ohm;
      effect.push_back(trims_[t].factor / (1.0 + trims_[t].ohm / source_ohm));
    }
    std::sort(effect.begin(), effect.end());
    const double middle = effect[effect.size() / 2];
    return std::max(effect.back() - middle, middle - effect.front()) > kTrimsApart * middle;
  }
  return false;
}

record::Look PracticeSite::look(const std::string& code, const std::string& where) {
  ++looks_made_;
  elapse(kLook_h);
  // Looking itself is no chance of the day: what is missed does not move what is read later.
  chance::SeedHash hash;
  hash.add(code);
  hash.add(where);
  chance::CounterRandom random(seed_ ^ hash.value() ^ static_cast<std::uint64_t>(looks_made_));
  const bool missed = random.uniform() < spread_.miss;
  return {.code = code, .where = where, .found = is_so(code, where) && !missed, .line = 0};
}

}  // namespace weighwright::rehearsal
