#include "job/diagnose_case.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>
#include <variant>

#include "job/assumed_of.h"
#include "job/diagnose_words.h"
#include "job/read_events.h"
#include "job/speak.h"
#include "record/looks.h"

namespace weighwright::job {
namespace {

using diagnose::Cause;
using diagnose::Diagnosis;
using diagnose::Spoke;

constexpr double kLikely = 0.5;
constexpr double kSure = 0.9;

std::string mass(const deck::Deck& deck, double kg) {
  return Speaker(deck).mass(kg * deck.site.gravity_m_per_s2);
}

std::string source_of(const Spoke& spoke) {
  if (spoke.file.empty()) return "";
  if (spoke.line <= 0) return " (" + spoke.file + ")";
  return fmt::format(" ({}:{})", spoke.file, spoke.line);
}

/// "look: bearing_gap at 2L" is for machines; people get the question.
std::string what_of(const Spoke& spoke) {
  constexpr std::string_view kLook = "look: ";
  if (!spoke.what.starts_with(kLook)) return spoke.what;
  std::string rest = spoke.what.substr(kLook.size());
  const std::size_t at = rest.find(" at ");
  const record::LookRule* const rule = record::find_look(rest.substr(0, at));
  if (rule == nullptr) return rest;
  const std::string place = at == std::string::npos ? "" : rest.substr(at + 4) + ": ";
  return place + std::string(rule->says);
}

std::string spoke_sentence(const deck::Deck& deck, const Spoke& spoke, bool is_sound) {
  const char* const side = spoke.speaks > 0.0 ? "for" : "against";
  if (!spoke.figures) {
    return fmt::format("{} it: {} {}{}.", side, what_of(spoke), spoke.measured > 0.5 ? "yes" : "no",
                       source_of(spoke));
  }
  if (is_sound) {
    return fmt::format("{} it: {} read {}, sound would be about {}{}.", side, spoke.what,
                       mass(deck, spoke.measured), mass(deck, spoke.expected), source_of(spoke));
  }
  return fmt::format("{} it: {} read {}; with it about {}, sound about {}{}.", side, spoke.what,
                     mass(deck, spoke.measured), mass(deck, spoke.expected),
                     mass(deck, spoke.if_sound), source_of(spoke));
}

report::SpokeView spoke_view(const deck::Deck& deck, const Spoke& spoke, bool is_sound) {
  report::SpokeView view;
  view.what = spoke.what;
  if (spoke.figures) {
    view.measured_kg = spoke.measured;
    view.expected_kg = spoke.expected;
    view.if_sound_kg = spoke.if_sound;
  }
  view.speaks = spoke.speaks;
  view.file = spoke.file;
  view.line = spoke.line;
  view.sentence = spoke_sentence(deck, spoke, is_sound);
  return view;
}

std::string size_words(const deck::Deck& deck, const Cause& cause) {
  if (!cause.size) return "";
  if (cause.unit == "kg") return ", about " + mass(deck, std::abs(*cause.size));
  if (cause.unit == "mm") return ", about " + Speaker(deck).length(std::abs(*cause.size) * 1e-3);
  if (cause.code == "supply_loss") return fmt::format(", about {:.1f} %", 100.0 * *cause.size);
  return "";
}

report::FaultView fault_view(const deck::Deck& deck,
                             const Diagnosis& diagnosis,
                             const Cause& cause) {
  report::FaultView view;
  view.code = cause.code;
  view.where = cause.where;
  view.probability = cause.probability;
  view.size = cause.size;
  if (cause.size && cause.u_size > 0.0) view.u_size = cause.u_size;
  view.size_unit = cause.unit;
  view.innocent = cause.innocent;
  view.mends_by_sharing = cause.mends_by_sharing;
  view.alike = cause.alike;
  view.name = cause_name(deck, cause.code, cause.where);
  view.sentence =
      fmt::format("{}: {}{}", chance(cause.probability), view.name, size_words(deck, cause));
  std::vector<std::string> same;
  for (const Cause& other : diagnosis.causes) {
    const bool twin = &other != &cause && are_alike(other, cause);
    if (twin) {
      same.push_back(fmt::format("{} ({})", cause_short_name(deck, other.code, other.where),
                                 chance(other.probability)));
    }
  }
  constexpr std::size_t kMostSame = 3;
  if (same.size() > kMostSame) {
    const std::string more = fmt::format("{} more", same.size() - kMostSame);
    same.resize(kMostSame);
    same.push_back(more);
  }
  if (!same.empty()) {
    view.sentence += "; what was measured can't tell it from: " + all_of(same);
  }
  view.sentence += ".";
  view.remedy = cause_remedy(cause.code);
  for (const Spoke& spoke : cause.evidence) {
    view.evidence.push_back(spoke_view(deck, spoke, cause.code == "sound"));
  }
  return view;
}

report::NextView next_view(const deck::Deck& deck, const diagnose::Next& next) {
  report::NextView view;
  view.code = next.code;
  view.where = next.where;
  if (next.load_kg > 0.0) view.load_kg = next.load_kg;
  view.first = next.first;
  view.first_where = next.first_where;
  view.second = next.second;
  view.second_where = next.second_where;
  view.if_first = next.if_first;
  view.if_second = next.if_second;
  view.unit = next.unit;
  view.separation = next.separation;
  view.gain_nat = next.gain;
  view.minutes = next.minutes;
  view.instruction = next_instruction(deck, next);
  view.shows = next_shows(deck, next);
  view.cautions = next_dangers(next);
  return view;
}

void show_verdict(const deck::Deck& deck, const Diagnosis& diagnosis, report::DiagnoseView& view) {
  const Cause* fault = nullptr;
  for (const Cause& cause : diagnosis.causes) {
    if (!cause.innocent && fault == nullptr) fault = &cause;
  }
  double wrong = 0.0;
  for (const Cause& cause : diagnosis.causes) {
    if (!cause.innocent) wrong += cause.probability;
  }
  if (!diagnosis.explained) {
    view.code = "unknown";
    view.headline = "No fault that is known here explains these readings.";
    view.verdict = "Read again what does not fit, one thing at a time; two faults may have met.";
  } else if (!diagnosis.hold && wrong < kLikely) {
    view.code = "sound";
    view.fine = true;
    view.headline = "Nothing that was measured speaks of a fault.";
    view.verdict = "Adjustments may go on.";
  } else if (fault != nullptr && fault->probability > kSure) {
    view.code = "fault";
    view.headline = fmt::format("Very likely {}.", cause_name(deck, fault->code, fault->where));
    view.verdict = cause_remedy(fault->code);
  } else if (fault != nullptr && fault->probability > kLikely) {
    view.code = "fault";
    view.headline = fmt::format("Probably {}.", cause_name(deck, fault->code, fault->where));
    view.verdict = "Make sure before you mend it.";
  } else {
    view.code = "open";
    view.headline = "Something is wrong, or may be; what it is stays open.";
    view.verdict = "The measurement below tells most.";
  }
}

std::string hold_reason(const Diagnosis& diagnosis) {
  if (!diagnosis.hold) return "";
  std::vector<std::string> kinds;
  for (const diagnose::Adjustment one : diagnosis.do_not_adjust) {
    kinds.push_back(adjustment_code(one));
  }
  return "No adjustment of " + all_of(kinds) +
         " before the cause is found: it would chase a fault.";
}

diagnose::Context context_of(const DiagnoseRequest& request,
                             const std::vector<record::Measurement>& before,
                             const std::vector<record::Measurement>& now) {
  diagnose::Context context;
  // No load stands on a deck that is not grouted.
  const bool laden = std::any_of(now.begin(), now.end(), [](const record::Measurement& event) {
    return std::holds_alternative<record::ShiftSet>(event);
  });
  context.grouted = request.grouted || !before.empty() || laden;
  context.shared = context.grouted;
  context.service = context.grouted;
  context.trimmed = !before.empty();
  context.spanned = !before.empty();
  return context;
}

}  // namespace

report::DiagnoseView view_of(const deck::Deck& deck,
                             const diagnose::Case& /*evidence*/,
                             const Diagnosis& diagnosis) {
  report::DiagnoseView view;
  view.deck_name = deck.name;
  show_verdict(deck, diagnosis, view);
  view.hold = diagnosis.hold;
  view.hold_reason = hold_reason(diagnosis);
  for (const diagnose::Adjustment one : diagnosis.do_not_adjust) {
    view.do_not_adjust.push_back(adjustment_code(one));
  }
  view.probability_of_fault = diagnosis.probability_of_fault;
  view.explained = diagnosis.explained;
  for (const Cause& cause : diagnosis.causes) {
    view.causes.push_back(fault_view(deck, diagnosis, cause));
  }
  if (!view.fine || diagnosis.hold) {
    for (const diagnose::Next& next : diagnosis.next) view.next.push_back(next_view(deck, next));
  }
  for (const diagnose::DoNotTouch& one : diagnosis.do_not_touch) {
    view.do_not_touch.push_back(
        {.what = one.what, .because = one.because, .sentence = leave_sentence(deck, one)});
  }
  view.notes = diagnosis.notes;
  return view;
}

DiagnoseAnswer diagnose_events(const deck::Deck& deck,
                               const statics::Model& model,
                               const std::vector<record::Measurement>& before,
                               const std::vector<record::Measurement>& now,
                               const diagnose::Context& context) {
  const diagnose::Case evidence{.before = before, .now = now, .context = context};
  diagnose::Diagnosed found = diagnose::diagnose(deck, model, evidence);
  if (!found.diagnosis) return {.view = {}, .faults = std::move(found.faults)};
  return {.view = view_of(deck, evidence, *found.diagnosis), .faults = {}};
}

DiagnoseAnswer diagnose_case(const DiagnoseRequest& request) {
  LoadedDeck loaded = load_deck(request.deck);
  if (!loaded.ok()) return {.view = {}, .faults = std::move(loaded.faults)};
  Events now = read_events(*loaded.deck, request.files);
  Events before = read_events(*loaded.deck, request.before);
  now.faults.insert(now.faults.end(), before.faults.begin(), before.faults.end());
  if (!now.faults.empty()) return {.view = {}, .faults = std::move(now.faults)};
  DiagnoseAnswer answer = diagnose_events(*loaded.deck, *loaded.model, before.list, now.list,
                                          context_of(request, before.list, now.list));
  if (answer.view) {
    answer.view->assumed = std::move(loaded.assumed);
    drop_sharing(answer.view->assumed);
  }
  return answer;
}

}  // namespace weighwright::job
