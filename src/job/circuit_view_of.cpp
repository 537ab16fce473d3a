#include "job/circuit_view_of.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "job/cause_words.h"
#include "job/electric_words.h"
#include "job/speak.h"

namespace weighwright::job {
namespace {

constexpr std::size_t kMostCauses = 4;    // named
constexpr std::size_t kMostEvidence = 3;  // figures in a sentence
constexpr double kUnlikely = 0.05;        // causes below are left out, the first apart
constexpr double kSpeaks = 0.5;           // evidence below is no evidence: one standard deviation
constexpr double kLikely = 0.5;           // that something is wrong
constexpr double kClear = 0.15;           // chance of a fault below which a cell is sound

std::string name_of(const std::optional<units::StandIndex>& stand) {
  return stand ? units::print(*stand) : "box";
}

/// The figures that speak most for this cause.
std::string evidence_words(const signal::Cause& cause) {
  std::string text;
  std::size_t told = 0;
  for (const signal::Evidence& item : cause.evidence) {
    if (told == kMostEvidence || item.speaks < kSpeaks) break;
    const std::string unit = signal::unit_of(item.quantity);
    text += fmt::format(
        "{}{} is {} (a sound one {}, this cause {})", text.empty() ? "For it: " : "; ",
        measured_words(signal::code_of(item.quantity)), quantity_words(item.measured, unit),
        quantity_words(item.if_sound, unit), quantity_words(item.if_cause, unit));
    ++told;
  }
  if (text.empty()) return "What was measured does not speak for it over a sound one.";
  return text + ".";
}

std::string fitted_words(const signal::Cause& cause) {
  std::string text;
  for (const signal::Fitted& item : cause.fitted) {
    if (item.name == "leak_ohm") text += ", a path of " + resistance_words(item.value);
    if (item.name == "contact_ohm") text += ", " + resistance_words(item.value) + " of it";
    if (item.name == "output_factor") text += fmt::format(", {:.2g} times the output", item.value);
    if (item.name == "zero_shift_V_per_V") {
      text += fmt::format(", by {:.3g} mV/V", item.value * 1e3);
    }
  }
  return text;
}

report::CauseView view_of(const std::string& stand, const signal::Cause& cause) {
  report::CauseView view;
  view.stand = stand;
  view.code = cause.code;
  view.detail = cause.detail;
  view.cell = cause.at ? units::print(*cause.at) : "";
  view.probability = cause.probability;
  std::string what = cause_words(cause.code, cause.detail);
  if (cause.at) what = units::print(*cause.at) + ": " + what;
  view.sentence = fmt::format("{} ({}{}). {}", what, chance(cause.probability), fitted_words(cause),
                              remedy_words(cause.code));
  view.sentence.front() =
      static_cast<char>(std::toupper(static_cast<unsigned char>(view.sentence.front())));
  for (const signal::Evidence& item : cause.evidence) {
    view.evidence.push_back({.quantity = signal::code_of(item.quantity),
                             .unit = signal::unit_of(item.quantity),
                             .measured = item.measured,
                             .if_sound = item.if_sound,
                             .if_cause = item.if_cause,
                             .speaks = item.speaks});
  }
  const bool fault = cause.code != "sound" && cause.code != "none_of_these";
  if (fault) view.evidence_sentence = evidence_words(cause);
  return view;
}

std::string verdict_of(const signal::Diagnosis& diagnosis, double wrong) {
  if (diagnosis.unexplained) return "unexplained";
  if (wrong > kLikely) return "fault";
  return wrong > kClear ? "open" : "sound";
}

std::string headline_of(const report::CircuitView& view, double wrong) {
  const std::string who = view.stand == "box" ? "The box" : view.stand;
  if (view.verdict == "sound") {
    return fmt::format("{}: sound (chance of a fault {}).", who, chance(wrong));
  }
  if (view.verdict == "unexplained") {
    return who +
           ": no single fault gives these readings. Measure again: other leads, the right "
           "terminals, the cell off the box.";
  }
  if (view.verdict == "open") {
    return fmt::format(
        "{}: nothing speaks against it, but not enough was measured (chance of a fault {}).", who,
        chance(wrong));
  }
  return fmt::format("{}: WRONG (chance {}).", who, chance(wrong));
}

std::string next_words(const std::string& stand, const signal::NextMeasurement& next) {
  const std::string unit = signal::unit_of(next.quantity);
  // Which arm or core is the question when the causes have one name.
  const bool alike = next.first == next.second;
  return fmt::format(
      "Measure next {} of {}: {} if {}, {} if {}.", measured_words(signal::code_of(next.quantity)),
      stand == "box" ? "the box" : stand, quantity_words(next.if_first, unit),
      cause_words(next.first, alike ? next.first_detail : ""), quantity_words(next.if_second, unit),
      cause_words(next.second, alike ? next.second_detail : ""));
}

report::CircuitView view_of(const signal::Diagnosis& diagnosis) {
  report::CircuitView view;
  view.stand = name_of(diagnosis.stand);
  double wrong = 0.0;
  for (const signal::Cause& cause : diagnosis.causes) {
    if (cause.code != "sound") wrong += cause.probability;
  }
  view.verdict = verdict_of(diagnosis, wrong);
  view.headline = headline_of(view, wrong);
  for (const signal::Cause& cause : diagnosis.causes) {
    if (view.causes.size() == kMostCauses) break;
    if (!view.causes.empty() && cause.probability < kUnlikely) break;
    view.causes.push_back(view_of(view.stand, cause));
  }
  if (diagnosis.next && (view.verdict == "fault" || view.verdict == "open")) {
    view.next = {.quantity = signal::code_of(diagnosis.next->quantity),
                 .first = diagnosis.next->first,
                 .second = diagnosis.next->second,
                 .if_first = diagnosis.next->if_first,
                 .if_second = diagnosis.next->if_second};
    view.next_sentence = next_words(view.stand, *diagnosis.next);
  }
  view.warnings = diagnosis.warnings;
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
