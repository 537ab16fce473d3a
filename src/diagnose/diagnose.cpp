#include "diagnose/diagnose.h"

#include <algorithm>
#include <cmath>
#include <string_view>
#include <utility>

#include "diagnose/next.h"
#include "diagnose/weighing.h"

namespace weighwright::diagnose {
namespace {

using Eigen::Index;

constexpr double kListed = 1e-3;
constexpr std::size_t kMostExplained = 8;  // causes whose evidence is told row by row
constexpr std::size_t kMostSpoken = 6;
constexpr double kSpeaks = 0.5;    // nat
constexpr double kAlike = 1.0;     // nat, of all evidence together
constexpr double kAlikeRow = 2.0;  // standard deviations, of any one row
// A fault holds adjustments back when what was measured speaks for it at all and its kind is this
// probable: on the safe side, for a hold costs a look and a wrong turn costs the day.
constexpr double kHolds = 0.10;
constexpr double kHoldsLost = 0.02;
constexpr double kSpeaksForIt = 0.7;    // nat, against a sound deck
constexpr double kNotMuchWorse = 1.5;   // nat, than the best innocent explanation
constexpr double kHoldsInnocent = 0.5;  // share before trims, trims before span
constexpr double kLeftOver = 0.03;
constexpr double kMisfit = 6.0;  // standard deviations of chi-square

class Teller {
 public:
  Teller(const Weighing& weighing, const statics::Model& model, const Context& context)
      : weighing_(weighing), model_(model), context_(context) {}

  Diagnosis tell() {
    explain();
    for (std::size_t i = 0; i < weighing_.suspects.size(); ++i) {
      const Weighted& one = weighing_.suspects[i];
      if (one.probability < kListed) break;
      diagnosis_.causes.push_back(cause_of(one, i));
    }
    number_alike();
    judge_fit();
    hold();
    leave_alone();
    diagnosis_.next = what_next(weighing_, model_);
    diagnosis_.notes.insert(diagnosis_.notes.end(), weighing_.rows.notes.begin(),
                            weighing_.rows.notes.end());
    diagnosis_.notes.insert(diagnosis_.notes.end(), weighing_.clues.notes.begin(),
                            weighing_.clues.notes.end());
    return std::move(diagnosis_);
  }

 private:
  void explain() {
    const std::size_t count = std::min(kMostExplained, weighing_.suspects.size());
    for (std::size_t i = 0; i < count; ++i) {
      left_.push_back(weighing_.model.leave_out(weighing_.suspects[i].prediction()));
    }
    for (const Weighted& one : weighing_.suspects) {
      if (one.suspect.kind->code == "sound") {
        sound_ = weighing_.model.leave_out(one.prediction());
      }
    }
  }

  [[nodiscard]] bool mends(const Weighted& one) const {
    const bool turns = !context_.grouted && !weighing_.scene.has_before && !context_.service;
    return one.suspect.kind->mends_by_sharing && turns;
  }

  [[nodiscard]] Cause cause_of(const Weighted& one, std::size_t index) const {
    Cause cause;
    cause.code = one.suspect.kind->code;
    cause.where = one.suspect.where;
    cause.probability = one.probability;
    cause.innocent = one.suspect.kind->innocent;
    cause.mends_by_sharing = mends(one);
    const Prediction& prediction = one.prediction();
    if (!one.signature.unit.empty()) {
      cause.unit = one.signature.unit;
      if (prediction.size_fixed) {
        if (prediction.size != 0.0) cause.size = prediction.size;
      } else if (prediction.columns.cols() > 0) {
        cause.size = one.weighed.amount;
        cause.u_size = one.weighed.u_amount;
      }
    }
    if (index < left_.size()) tell_evidence(cause, index);
    return cause;
  }

  /// Against the next cause in hand: a fault against sound, sound against the likeliest fault.
  void tell_evidence(Cause& cause, std::size_t index) const {
    const bool is_sound = cause.code == "sound";
    std::size_t rival = index;
    for (std::size_t i = 0; i < left_.size() && rival == index; ++i) {
      if (i != index) rival = i;
    }
    if (is_sound && rival == index) return;
    const LeftOut& own = left_[index];
    const LeftOut& other = is_sound ? left_[rival] : sound_;
    for (Index i = 0; i < own.mean.size(); ++i) {
      const double speaks = own.log_density(i) - other.log_density(i);
      if (std::abs(speaks) < kSpeaks) continue;
      const Row& row = weighing_.rows.list[static_cast<std::size_t>(i)];
      if (!row.now) continue;
      cause.evidence.push_back({.what = row.what,
                                .measured = row.value_kg,
                                .expected = own.mean(i),
                                .if_sound = sound_.mean(i),
                                .unit = "kg",
                                .speaks = speaks,
                                .figures = true,
                                .file = row.file,
                                .line = row.line});
    }
    for (const Clue& clue : weighing_.clues.list) {
      const Suspect& mine = weighing_.suspects[index].suspect;
      const double against = is_sound ? clue.log_chance(weighing_.suspects[rival].suspect)
                                      : clue.log_chance(sound_suspect());
      const double speaks = clue.log_chance(mine) - against;
      if (std::abs(speaks) < kSpeaks) continue;
      cause.evidence.push_back({.what = clue.what,
                                .measured = clue.found ? 1.0 : 0.0,
                                .expected = 0.0,
                                .if_sound = 0.0,
                                .unit = "",
                                .speaks = speaks,
                                .figures = false,
                                .file = clue.file,
                                .line = clue.line});
    }
    std::stable_sort(
        cause.evidence.begin(), cause.evidence.end(),
        [](const Spoke& a, const Spoke& b) { return std::abs(a.speaks) > std::abs(b.speaks); });
    if (cause.evidence.size() > kMostSpoken) cause.evidence.resize(kMostSpoken);
  }

  [[nodiscard]] const Suspect& sound_suspect() const {
    for (const Weighted& one : weighing_.suspects) {
      if (one.suspect.kind->code == "sound") return one.suspect;
    }
    return weighing_.suspects.front().suspect;
  }

  [[nodiscard]] bool alike(std::size_t i, std::size_t j) const {
    const Weighted& a = weighing_.suspects[i];
    const Weighted& b = weighing_.suspects[j];
    if (a.suspect.kind->innocent != b.suspect.kind->innocent) return false;
    if (std::abs(a.log_evidence() - b.log_evidence()) > kAlike) return false;
    if (i >= left_.size() || j >= left_.size()) return false;
    for (Index k = 0; k < left_[i].mean.size(); ++k) {
      const double sd = std::hypot(left_[i].sd(k), left_[j].sd(k));
      if (std::abs(left_[i].mean(k) - left_[j].mean(k)) > kAlikeRow * sd) return false;
    }
    return true;
  }

  void number_alike() {
    int next = 0;
    for (std::size_t i = 0; i < diagnosis_.causes.size(); ++i) {
      diagnosis_.causes[i].alike = next;
      for (std::size_t j = 0; j < i; ++j) {
        if (!alike(i, j)) continue;
        diagnosis_.causes[i].alike = diagnosis_.causes[j].alike;
        break;
      }
      if (diagnosis_.causes[i].alike == next) ++next;
    }
  }

  /// A model is true to a part of what it explains: the greater the fault, the more is left over.
  void judge_fit() {
    const double n = static_cast<double>(weighing_.rows.list.size());
    if (n == 0.0) return;
    double sound = n;
    for (const Weighted& one : weighing_.suspects) {
      if (one.suspect.kind->code == "sound") sound = one.weighed.square;
    }
    const double left = weighing_.suspects.front().weighed.square - n;
    diagnosis_.explained = left < kMisfit * std::sqrt(2.0 * n) + kLeftOver * sound;
  }

  /// What was measured speaks for this fault, not only how often it is met: better than that
  /// nothing is wrong, and not much worse than what adjustments are for.
  [[nodiscard]] bool is_raised(const Weighted& one) const {
    if (mends(one) || one.log_evidence() - log_sound() < kSpeaksForIt) return false;
    if (one.suspect.kind->innocent) return one.probability > kHoldsInnocent;
    if (level_lost() && one.suspect.kind->mends_by_sharing) return true;
    return one.log_evidence() - weighing_.log_innocent > -kNotMuchWorse;
  }

  /// The dead load is no longer shared, on stands that are fixed: something gave way, or they were
  /// fixed so. Pier and bearing are looked at before anything is shimmed.
  [[nodiscard]] bool level_lost() const {
    return context_.grouted && std::any_of(weighing_.suspects.begin(), weighing_.suspects.end(),
                                           [](const Weighted& one) {
                                             return one.suspect.kind->code == "out_of_level" &&
                                                    one.probability > kHoldsInnocent;
                                           });
  }

  [[nodiscard]] double log_sound() const {
    for (const Weighted& one : weighing_.suspects) {
      if (one.suspect.kind->code == "sound") return one.log_evidence();
    }
    return weighing_.log_innocent;
  }

  void hold() {
    using enum Adjustment;
    double most = 0.0;
    for (const Adjustment kind : {screws, shims, trims, span}) {
      double chance = 0.0;
      for (const Weighted& one : weighing_.suspects) {
        const auto& holds = one.suspect.kind->holds;
        if (!is_raised(one) || std::find(holds.begin(), holds.end(), kind) == holds.end()) continue;
        chance += one.probability;
      }
      const double limit = level_lost() && (kind == screws || kind == shims) ? kHoldsLost : kHolds;
      if (chance > limit || !diagnosis_.explained) diagnosis_.do_not_adjust.push_back(kind);
      most = std::max(most, chance);
    }
    hold_wild();
    diagnosis_.hold = !diagnosis_.do_not_adjust.empty();
    for (const Weighted& one : weighing_.suspects) {
      if (!one.suspect.kind->innocent && is_raised(one)) {
        diagnosis_.probability_of_fault += one.probability;
      }
    }
    if (!diagnosis_.hold) return;
    diagnosis_.hold_code = "unknown";
    for (const Weighted& one : weighing_.suspects) {
      if (!is_raised(one) || one.suspect.kind->holds.empty()) continue;
      diagnosis_.hold_code = one.suspect.kind->code;
      diagnosis_.hold_where = one.suspect.where;
      break;
    }
  }

  /// A reading that fits nothing is read again before anything is made of it.
  void hold_wild() {
    const Index wild = weighing_.suspects.front().weighed.wild;
    if (wild < 0) return;
    const Row& row = weighing_.rows.list[static_cast<std::size_t>(wild)];
    if (!row.now) return;
    diagnosis_.notes.push_back(row.what + " fits nothing else that was measured: read it again");
    const bool cell = row.kind == Row::Kind::cell || row.kind == Row::Kind::no_load;
    for (const Adjustment kind : cell ? std::vector{Adjustment::screws, Adjustment::shims}
                                      : std::vector{Adjustment::trims, Adjustment::span}) {
      auto& list = diagnosis_.do_not_adjust;
      if (std::find(list.begin(), list.end(), kind) == list.end()) list.push_back(kind);
    }
  }

  void leave_alone() {
    constexpr double kLeave = 0.05;
    for (const Weighted& one : weighing_.suspects) {
      if (one.probability < kLeave || !is_raised(one)) continue;
      for (const std::string_view what : one.suspect.kind->leave) {
        const bool known =
            std::any_of(diagnosis_.do_not_touch.begin(), diagnosis_.do_not_touch.end(),
                        [&](const DoNotTouch& other) { return other.what == what; });
        if (known) continue;
        diagnosis_.do_not_touch.push_back({.what = std::string(what),
                                           .where = one.suspect.where,
                                           .because = std::string(one.suspect.kind->code)});
      }
    }
  }

  const Weighing& weighing_;
  const statics::Model& model_;
  const Context& context_;
  std::vector<LeftOut> left_;
  LeftOut sound_;
  Diagnosis diagnosis_;
};

}  // namespace

Diagnosed diagnose(const deck::Deck& deck,
                   const statics::Model& model,
                   const Case& evidence,
                   MeterMemory* memory) {
  WeighingResult result = weigh_all(deck, model, evidence, memory);
  if (!result.weighing) return {.diagnosis = {}, .faults = std::move(result.faults)};
  return {.diagnosis = Teller(*result.weighing, model, evidence.context).tell(), .faults = {}};
}

bool are_alike(const Cause& a, const Cause& b) {
  return a.alike == b.alike;
}

}  // namespace weighwright::diagnose
