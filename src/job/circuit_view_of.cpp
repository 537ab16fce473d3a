#include "job/circuit_view_of.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <vector>

#include "job/cause_words.h"
#include "job/electric_words.h"
#include "job/speak.h"

namespace weighwright::job {
namespace {

constexpr std::size_t kMostCauses = 4;    // named
constexpr std::size_t kMostEvidence = 3;  // figures in a sentence
constexpr double kUnlikely = 0.05;        // causes below are left out, the first apart
constexpr double kSpeaks = 0.5;           // evidence below is no evidence: one standard deviation
constexpr double kOtherOutput = 0.05;     // a factor nearer to 1 is not told
constexpr double kVariant = 0.2;          // of the leading variant's chance, to be named
constexpr double kSure = 0.9;             // that something is wrong, to say so
constexpr double kLikely = 0.5;           // that something is wrong
constexpr double kClear = 0.15;           // chance of a fault below which a cell is sound

std::string name_of(const std::optional<units::StandIndex>& stand) {
  return stand ? units::print(*stand) : "box";
}

/// "350 +- 3.2 ohm by the papers": what is expected of a sound one, not what was fitted to it.
std::string expected_words(const signal::Evidence& item) {
  const std::string unit = signal::unit_of(item.quantity);
  if (item.quantity == signal::Quantity::insulation) {
    return "at least " + quantity_words(item.expected - item.tolerance, unit);
  }
  if (!std::isfinite(item.expected)) return quantity_words(item.expected, unit);
  const bool resistance = item.quantity < signal::Quantity::insulation;
  if (resistance && item.basis.empty()) return "not known: the deck file has no papers of it";
  const double scale =
      unit == "V" && std::max(std::abs(item.expected), item.tolerance) < 1.0 ? 1e3 : 1.0;
  std::string text = fmt::format("{:.4g} ± {:.2g} {}", item.expected * scale,
                                 item.tolerance * scale, scale > 1.0 ? "mV" : unit);
  if (item.basis == "papers") text += " by the papers";
  if (item.basis == "cells") text += " by the other cells";
  return text;
}

double weight_of(const signal::Evidence& item) {
  return std::max(item.speaks, 0.5 * item.departs * item.departs);
}

/// The figures that speak most for this cause, against what is expected of a sound one.
std::string evidence_words(const signal::Cause& cause) {
  std::vector<signal::Evidence> all = cause.evidence;
  std::ranges::sort(all, std::greater<>(), &weight_of);
  std::string text;
  std::size_t told = 0;
  for (const signal::Evidence& item : all) {
    if (told == kMostEvidence || weight_of(item) < kSpeaks) break;
    const std::string unit = signal::unit_of(item.quantity);
    text += fmt::format(
        "{}{} is {} (a sound one: {}; this cause: {})", text.empty() ? "For it: " : "; ",
        measured_words(signal::code_of(item.quantity)), quantity_words(item.measured, unit),
        expected_words(item), quantity_words(item.if_cause, unit));
    ++told;
  }
  if (text.empty()) return "All that was measured lies within what a sound one shows.";
  return text + ".";
}

std::string fitted_words(const signal::Cause& cause) {
  std::string text;
  for (const signal::Fitted& item : cause.fitted) {
    if (item.name == "leak_ohm") text += ", a path of " + resistance_words(item.value);
    if (item.name == "contact_ohm") text += ", " + resistance_words(item.value) + " of it";
    const bool other = std::abs(item.value - 1.0) > kOtherOutput;
    if (item.name == "output_factor" && other)
      text += fmt::format(", {:.2g} times the output", item.value);
    if (item.name == "zero_shift_V_per_V") {
      text += fmt::format(", by {:.3g} mV/V", item.value * 1e3);
    }
  }
  return text;
}

/// Causes of one name: the most probable variant first.
using Variants = std::vector<const signal::Cause*>;

double sum_of(const Variants& variants) {
  double sum = 0.0;
  for (const signal::Cause* const one : variants) sum += one->probability;
  return sum;
}

/// One entry a name, most probable first.
std::vector<Variants> grouped(const std::vector<signal::Cause>& causes) {
  std::vector<Variants> groups;
  for (const signal::Cause& cause : causes) {
    const auto same = [&](const Variants& group) { return group.front()->code == cause.code; };
    const auto at = std::ranges::find_if(groups, same);
    if (at == groups.end()) {
      groups.push_back({&cause});
    } else {
      at->push_back(&cause);
    }
  }
  std::ranges::sort(groups, std::greater<>(), &sum_of);
  return groups;
}

/// Each once, of the variants that are worth a word, joined by "or".
template <class Name>
std::string either_of(const Variants& variants, const Name& name) {
  std::vector<std::string> names;
  for (const signal::Cause* const one : variants) {
    if (one->probability < kVariant * variants.front()->probability) continue;
    std::string word = name(*one);
    if (!word.empty() && std::ranges::count(names, word) == 0) names.push_back(std::move(word));
  }
  std::string text;
  for (const std::string& word : names) text += (text.empty() ? "" : " or ") + word;
  return text;
}

std::vector<report::EvidenceView> evidence_of(const signal::Cause& cause) {
  std::vector<report::EvidenceView> all;
  for (const signal::Evidence& item : cause.evidence) {
    all.push_back({.quantity = signal::code_of(item.quantity),
                   .unit = signal::unit_of(item.quantity),
                   .measured = item.measured,
                   .if_sound = item.expected,
                   .tolerance = item.tolerance,
                   .if_cause = item.if_cause,
                   .speaks = item.speaks});
  }
  return all;
}

report::CauseView view_of(const std::string& stand, const Variants& variants) {
  const signal::Cause& first = *variants.front();
  report::CauseView view;
  view.stand = stand;
  view.code = first.code;
  view.detail = either_of(variants, [](const signal::Cause& one) { return one.detail; });
  view.cell = either_of(variants, [](const signal::Cause& one) {
    return one.at ? units::print(*one.at) : std::string();
  });
  view.probability = sum_of(variants);
  std::string what = cause_words(view.code, view.detail);
  if (!view.cell.empty()) what = view.cell + ": " + what;
  const std::string fitted = variants.size() == 1 ? fitted_words(first) : "";
  view.sentence =
      fmt::format("{} ({}{}). {}", what, chance(view.probability), fitted, remedy_words(view.code));
  view.sentence.front() =
      static_cast<char>(std::toupper(static_cast<unsigned char>(view.sentence.front())));
  view.evidence = evidence_of(first);
  const bool fault = view.code != "sound" && view.code != "no_load" && view.code != "none_of_these";
  if (fault) view.evidence_sentence = evidence_words(first);
  return view;
}

/// Chances of a fault: of any, and of one that would show in what was measured.
struct Wrong {
  double any = 0.0;
  double shown = 0.0;
};

Wrong wrong_of(const signal::Diagnosis& diagnosis) {
  Wrong wrong;
  int like_sound = -1;
  for (const signal::Cause& cause : diagnosis.causes) {
    if (cause.code == "sound") like_sound = cause.look_alike;
  }
  for (const signal::Cause& cause : diagnosis.causes) {
    if (cause.code == "sound" || cause.code == "no_load") continue;
    wrong.any += cause.probability;
    if (cause.look_alike != like_sound) wrong.shown += cause.probability;
  }
  return wrong;
}

std::string verdict_of(const signal::Diagnosis& diagnosis, const Wrong& wrong) {
  if (diagnosis.unexplained) return "unexplained";
  if (wrong.shown < kClear && wrong.any < kLikely) return "sound";
  return wrong.any > kLikely ? "fault" : "open";
}

std::string headline_of(const report::CircuitView& view, const Wrong& wrong) {
  const std::string who = view.stand == "box" ? "The box" : view.stand;
  if (view.verdict == "sound" && wrong.any < kClear) {
    return fmt::format("{}: sound (chance of a fault {}).", who, chance(wrong.any));
  }
  if (view.verdict == "sound") {
    return fmt::format(
        "{}: sound as far as it was measured (chance of a fault in that {}; of one that only other "
        "measurements show {}).",
        who, chance(wrong.shown), chance(wrong.any - wrong.shown));
  }
  if (view.verdict == "unexplained") {
    return who +
           ": no single fault gives these readings. Measure again: other leads, the right "
           "terminals, the cell off the box.";
  }
  if (view.verdict == "fault" && wrong.any >= kSure) {
    return fmt::format("{}: WRONG (chance {}).", who, chance(wrong.any));
  }
  return fmt::format("{}: not clear (chance of a fault {}).", who, chance(wrong.any));
}

std::string next_words(const std::string& stand, const signal::NextMeasurement& next) {
  const std::string unit = signal::unit_of(next.quantity);
  // Which arm or core is the question when the causes have one name.
  const bool alike = next.first == next.second;
  return fmt::format(
      "{} {} of {}: {} if {}, {} if {}.", alike ? "Which one: measure" : "Measure next",
      measured_words(signal::code_of(next.quantity)), stand == "box" ? "the box" : stand,
      quantity_words(next.if_first, unit), cause_words(next.first, alike ? next.first_detail : ""),
      quantity_words(next.if_second, unit),
      cause_words(next.second, alike ? next.second_detail : ""));
}

report::CircuitView view_of(const signal::Diagnosis& diagnosis) {
  report::CircuitView view;
  view.stand = name_of(diagnosis.stand);
  const Wrong wrong = wrong_of(diagnosis);
  view.verdict = verdict_of(diagnosis, wrong);
  view.headline = headline_of(view, wrong);
  for (const Variants& variants : grouped(diagnosis.causes)) {
    if (view.causes.size() == kMostCauses) break;
    if (!view.causes.empty() && sum_of(variants) < kUnlikely) break;
    view.causes.push_back(view_of(view.stand, variants));
  }
  const bool wanted = view.verdict == "fault" || view.verdict == "open";
  // Of another kind first, unless the kind is as good as known.
  const bool known = !view.causes.empty() && view.causes.front().probability > kSure;
  const auto& next =
      (known && diagnosis.which) || !diagnosis.next ? diagnosis.which : diagnosis.next;
  if (next && wanted) {
    view.next = {.quantity = signal::code_of(next->quantity),
                 .first = next->first,
                 .second = next->second,
                 .if_first = next->if_first,
                 .if_second = next->if_second};
    view.next_sentence = next_words(view.stand, *next);
  }
  view.warnings = diagnosis.warnings;
  if (!view.causes.empty() && view.causes.front().code == "no_load") {
    view.warnings.emplace_back("no load rests on it: share the load first");
  }
  return view;
}

}  // namespace

void show_circuits(const signal::CircuitDiagnosis& diagnosis, report::SignalView& view) {
  for (const signal::Diagnosis& stand : diagnosis.stands) view.circuits.push_back(view_of(stand));
  if (diagnosis.box) view.circuits.push_back(view_of(*diagnosis.box));
  view.remarks.insert(view.remarks.end(), diagnosis.remarks.begin(), diagnosis.remarks.end());
  view.cautions = {
      "Before a lead is lifted: indicator off and unplugged from the mains, traffic locked out, "
      "nobody under the deck, no thunderstorm near. Local electrical codes and licensed-practice "
      "rules hold.",
      "Insulation tester only on a cell that is off the box and off the indicator, all its cores "
      "together against screen and body, at 50 V DC at most or what the cell's sheet allows; "
      "discharge it before you touch or reconnect it."};
}

}  // namespace weighwright::job
