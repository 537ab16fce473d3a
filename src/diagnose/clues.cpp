#include "diagnose/clues.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <optional>

#include "signal/electrics.h"
#include "trim/elements.h"
#include "units/place.h"

namespace weighwright::diagnose {
namespace {

constexpr double kAir_mm = 0.1;      // from which a contact hangs
constexpr double kMapWrong = 0.005;  // a slip while the map is proven
constexpr double kMapShows = 0.98;
constexpr double kMostFromMeter = 12.0;  // nat
constexpr double kTrimsApart = 0.012;    // relative, greatest less least
constexpr double kApartIfTrimmedOut = 0.85;
constexpr double kApartIfNot = 0.04;
constexpr double kAirAtUnshared = 0.25;
constexpr double kAirAtShared = 0.02;

std::string name(int stand) {
  return units::print(units::StandIndex{stand});
}

bool at_stand(const Suspect& suspect, int stand) {
  return std::find(suspect.stands.begin(), suspect.stands.end(), stand) != suspect.stands.end();
}

/// Which of the signal's causes a suspect is, and how often that one is met there
/// (fault_kinds.cpp).
double part_in_circuit(const signal::Cause& cause, const Suspect& suspect) {
  const std::string_view code = suspect.kind->code;
  const bool at_supply = !cause.detail.empty() && cause.detail.front() == 'E';
  if (cause.code == "moisture") return code == "moisture" || code == "lightning" ? 1.0 / 0.08 : 0.0;
  if (cause.code == "overload") return code == "shocked" ? 1.0 / 0.05 : 0.0;
  if (cause.code == "broken_lead") {
    if (code == "signal_open") return at_supply ? 0.0 : 1.0 / 0.025;
    return code == "excitation_open" && at_supply ? 1.0 / 0.025 : 0.0;
  }
  if (cause.code == "cut_cable") {
    return code == "signal_open" || code == "excitation_open" ? 0.3 / 0.02 : 0.0;
  }
  if (cause.code == "no_supply") return code == "excitation_open" ? 1.0 / 0.015 : 0.0;
  if (cause.code == "reversed_signal" || cause.code == "reversed_supply") {
    return code == "reversed" ? 0.5 / 0.0125 : 0.0;
  }
  if (cause.code == "wrong_cell") {
    const bool rating = cause.detail.find("rating") != std::string::npos;
    if (code == "wrong_capacity") return rating ? 1.0 / 0.01 : 0.0;
    return code == "wrong_resistance" && !rating ? 1.0 / 0.02 : 0.0;
  }
  if (cause.code == "loose_screen" || cause.code == "screen_on_core") {
    return code == "screen_grounded" ? 0.3 / 0.04 : 0.0;
  }
  return 0.0;
}

constexpr double kSoundInCircuit = 0.66;

/// Suspects that a meter at a cell can't see show it sound.
bool seen_by_meter(const Suspect& suspect, int stand) {
  static constexpr std::array<std::string_view, 7> kSeen = {
      "moisture",         "signal_open", "excitation_open", "reversed",
      "wrong_resistance", "shocked",     "wrong_capacity"};
  return at_stand(suspect, stand) &&
         std::find(kSeen.begin(), kSeen.end(), suspect.kind->code) != kSeen.end();
}

class Gatherer {
 public:
  Gatherer(const deck::Deck& deck, const Eigen::VectorXd& dead_kg, bool shared, MeterMemory* memory)
      : deck_(deck), dead_kg_(dead_kg), shared_(shared), memory_(memory) {}

  Clues gather(const std::vector<record::Measurement>& now) {
    for (const record::Measurement& event : now) {
      if (const auto* looks = std::get_if<record::LookSet>(&event)) take(*looks);
      if (const auto* gaps = std::get_if<record::GapSet>(&event)) take(*gaps);
      if (const auto* map = std::get_if<record::MapSet>(&event)) take(*map);
      if (const auto* trims = std::get_if<record::TrimSet>(&event)) take(*trims);
      if (const auto* meter = std::get_if<record::ElectricSet>(&event)) take(*meter);
    }
    return std::move(clues_);
  }

 private:
  /// The latest answer to a question stands.
  void put(Clue clue) {
    const auto same = std::find_if(clues_.list.begin(), clues_.list.end(), [&](const Clue& other) {
      return other.code == clue.code && other.where == clue.where;
    });
    if (same != clues_.list.end()) clues_.list.erase(same);
    clues_.list.push_back(std::move(clue));
  }

  void put_look(const std::string& code,
                const std::string& where,
                bool found,
                const std::string& file,
                int line) {
    Clue clue;
    clue.what = "look: " + code + (where.empty() ? "" : " at " + where);
    clue.code = code;
    clue.where = where;
    clue.found = found;
    clue.file = file;
    clue.line = line;
    clue.log_chance = [code, where, found](const Suspect& suspect) {
      const double yes = chance_of_look(suspect, code, where);
      return std::log(found ? yes : 1.0 - yes);
    };
    put(std::move(clue));
  }

  void take(const record::LookSet& set) {
    for (const record::Look& look : set.looks) {
      put_look(look.code, look.where, look.found, set.source, look.line);
    }
  }

  void take(const record::GapSet& set) {
    for (const record::Gap& gap : set.gaps) {
      const bool open = gap.gap_mm > kAir_mm;
      if (gap.place.is_bearing) {
        put_look("bearing_gap",
                 "bearing" + std::to_string(gap.place.joint + 1) +
                     (gap.place.side == units::Side::left ? "L" : "R"),
                 open, set.source, gap.line);
        continue;
      }
      const int stand = gap.place.stand.value;
      Clue clue;
      clue.what = "gap at " + name(stand);
      clue.code = "gap";
      clue.where = name(stand);
      clue.found = open;
      clue.file = set.source;
      clue.line = gap.line;
      const double otherwise = shared_ ? kAirAtShared : kAirAtUnshared;
      clue.log_chance = [stand, open, otherwise](const Suspect& suspect) {
        const bool sunk = suspect.kind->code == "stand_sunk";
        double yes = otherwise;
        if (sunk) yes = at_stand(suspect, stand) ? 0.7 : std::max(otherwise, 0.1);
        return std::log(open ? yes : 1.0 - yes);
      };
      put(std::move(clue));
    }
  }

  void take(const record::MapSet& set) {
    std::vector<int> proven;
    for (const auto& [loaded, moved] : set.loaded_and_moved) {
      const int a = loaded.value;
      const int b = moved.value;
      proven.push_back(a);
      Clue clue;
      clue.what = "map: " + name(a) + " loaded, " + name(b) + " moved";
      clue.code = "map";
      clue.where = name(a);
      clue.found = a != b;
      clue.file = set.source;
      clue.log_chance = [a, b](const Suspect& suspect) {
        const bool pair =
            suspect.kind->code == "swapped" || suspect.kind->code == "address_doubled";
        if (!pair || !at_stand(suspect, a)) {
          return std::log(a == b ? 1.0 - kMapWrong : kMapWrong);
        }
        const double doubled = suspect.kind->code == "swapped" ? 1.0 : 0.5;
        if (a == b) return std::log(1.0 - kMapShows * doubled);
        return std::log(at_stand(suspect, b) ? kMapShows * doubled : kMapWrong);
      };
      put(std::move(clue));
    }
    std::sort(proven.begin(), proven.end());
    proven.erase(std::unique(proven.begin(), proven.end()), proven.end());
    clues_.map_complete = static_cast<int>(proven.size()) == deck_.stand_count();
  }

  void take(const record::TrimSet& set) {
    double least = 1e9;
    double most = -1e9;
    std::string lowest;
    std::string highest;
    const std::vector<trim::Element> elements = trim::elements_of(deck_);
    int count = 0;
    for (const record::TrimMove& move : set.moves) {
      std::optional<double> effect;
      if (move.factor && *move.factor > 0.0) effect = std::log(*move.factor);
      for (const trim::Element& element : elements) {
        if (trim::print(element.place) != trim::print(move.place)) continue;
        if (move.ohm && element.cell_ohm > 0.0) effect = trim::effect_of_ohm(element, *move.ohm);
      }
      if (!effect) continue;
      ++count;
      if (*effect < least) lowest = trim::print(move.place);
      if (*effect > most) highest = trim::print(move.place);
      least = std::min(least, *effect);
      most = std::max(most, *effect);
    }
    if (count < 3) return;
    const bool apart = most - least > kTrimsApart;
    Clue clue;
    clue.what = apart ? "trims far apart: " + lowest + " to " + highest : "trims close together";
    clue.code = "trims";
    clue.found = apart;
    clue.file = set.source;
    clue.line = set.moves.front().line;
    clue.log_chance = [apart, lowest, highest](const Suspect& suspect) {
      const bool here = suspect.kind->code == "trimmed_out";
      double yes = kApartIfNot;
      if (here) yes = kApartIfTrimmedOut;
      // Of a fault that trims hide, the trim that stands apart tells the place.
      const double place =
          apart && here && suspect.where != lowest && suspect.where != highest ? 0.3 : 1.0;
      return std::log(apart ? yes * place : 1.0 - yes);
    };
    put(std::move(clue));
  }

  void take(const record::ElectricSet& set) {
    if (deck_.is_digital()) {
      clues_.notes.push_back(set.source + ": resistances say nothing of digital cells");
      return;
    }
    std::vector<double> dead_N;
    for (Eigen::Index i = 0; i < dead_kg_.size(); ++i) {
      dead_N.push_back(std::max(dead_kg_(i), 0.0) * deck_.site.gravity_m_per_s2);
    }
    signal::DiagnosisSettings settings;
    if (shared_) settings.force_share = 0.1;
    const signal::CircuitDiagnosis circuit = circuit_said(deck_, set, dead_N, settings, memory_);
    clues_.faults.insert(clues_.faults.end(), circuit.faults.begin(), circuit.faults.end());
    for (const signal::Diagnosis& one : circuit.stands) {
      if (!one.stand) continue;
      int line = 0;
      for (const auto& [stand, row] : set.stands) {
        if (stand == *one.stand) line = row.line;
      }
      put_meter(one, one.stand->value, set.source, line);
    }
    if (circuit.box) put_meter(*circuit.box, -1, set.source, set.box ? set.box->line : 0);
  }

  void put_meter(const signal::Diagnosis& one, int stand, const std::string& file, int line) {
    Clue clue;
    clue.where = stand < 0 ? "box" : name(stand);
    clue.what = "meter at " + clue.where;
    clue.code = "meter";
    clue.file = file;
    clue.line = line;
    const double sound = std::max(probability_of(one, "sound"), 1e-8);
    clue.found = sound < 0.5;
    const std::vector<signal::Cause> causes = one.causes;
    clue.log_chance = [causes, sound, stand](const Suspect& suspect) {
      const bool here = stand < 0 ? suspect.box : seen_by_meter(suspect, stand);
      const bool struck = stand >= 0 && suspect.kind->code == "lightning";
      if (!here && !struck) return 0.0;
      double mine = 1e-6;
      for (const signal::Cause& cause : causes) {
        mine += cause.probability * part_in_circuit(cause, suspect);
      }
      double ratio = mine * kSoundInCircuit / sound;
      if (struck) ratio = 0.3 * ratio + 0.7;  // not every cell was struck
      return std::clamp(std::log(ratio), -kMostFromMeter, kMostFromMeter);
    };
    put(std::move(clue));
  }

  static double probability_of(const signal::Diagnosis& one, std::string_view code) {
    double sum = 0.0;
    for (const signal::Cause& cause : one.causes) {
      if (cause.code == code) sum += cause.probability;
    }
    return sum;
  }

  const deck::Deck& deck_;
  const Eigen::VectorXd& dead_kg_;
  bool shared_;
  MeterMemory* memory_;
  Clues clues_;
};

}  // namespace

bool Clues::asked(std::string_view code, std::string_view where) const {
  return std::any_of(list.begin(), list.end(),
                     [&](const Clue& clue) { return clue.code == code && clue.where == where; });
}

Clues gather_clues(const deck::Deck& deck,
                   const std::vector<record::Measurement>& now,
                   const Eigen::VectorXd& dead_kg,
                   bool shared,
                   MeterMemory* memory) {
  return Gatherer(deck, dead_kg, shared, memory).gather(now);
}

}  // namespace weighwright::diagnose
