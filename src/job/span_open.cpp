#include "job/span_open.h"

#include <fmt/format.h>

#include <algorithm>
#include <variant>

#include "job/indication_words.h"
#include "share/advise.h"
#include "trim/advise.h"

namespace weighwright::job {
namespace {

using record::Measurement;

bool is_corner(const Measurement& event) {
  return std::holds_alternative<record::ShiftSet>(event) ||
         std::holds_alternative<record::TrimSet>(event);
}

bool is_sharing(const Measurement& event) {
  return std::holds_alternative<record::ReadingSet>(event) ||
         std::holds_alternative<record::TurnSet>(event) ||
         std::holds_alternative<record::HeightSet>(event) ||
         std::holds_alternative<record::GapSet>(event) ||
         std::holds_alternative<record::MapSet>(event);
}

bool moves_something(const Measurement& event) {
  return std::holds_alternative<record::TurnSet>(event) ||
         std::holds_alternative<record::TrimSet>(event);
}

template <class Keep>
std::vector<Measurement> only(const std::vector<Measurement>& events, Keep keep) {
  std::vector<Measurement> list;
  std::copy_if(events.begin(), events.end(), std::back_inserter(list), keep);
  return list;
}

void add(units::Diagnostics& to, const units::Diagnostics& from) {
  to.insert(to.end(), from.begin(), from.end());
}

void check_share(const deck::Deck& deck,
                 const statics::Model& model,
                 const std::vector<Measurement>& events,
                 bool said,
                 SpanOpen& open) {
  if (events.empty()) {
    if (!said) {
      open.sentences.emplace_back(
          "Nothing here shows that the dead load is shared: name the cells' readings too, or say "
          "--shared if it is known.");
    }
    return;
  }
  const share::Advised advised = share::advise(deck, model, events, {.map_proven = false});
  add(open.faults, advised.faults);
  if (!advised.advice) return;
  const bool done =
      advised.advice->outcome == share::Outcome::in_tolerance && advised.advice->cannot_fix.empty();
  if (!done) {
    open.sentences.emplace_back(
        "The dead load is not shared yet (see share): screws or shims would move the corners and "
        "the "
        "span again.");
  }
}

std::string why_open(const IndicationWords& say, const trim::TrimAdvice& advice) {
  switch (advice.verdict) {
    case trim::Verdict::cause_first:
      return "its readings show a fault to be found first";
    case trim::Verdict::more_places:
      return "its readings do not determine every corner";
    case trim::Verdict::too_coarse:
      return "its readings are too coarse";
    default:
      break;
  }
  return fmt::format("places differ by {}, wanted {}", say.mass(advice.before.kg),
                     say.mass(advice.wanted_kg));
}

void check_trim(const deck::Deck& deck,
                const statics::Model& model,
                const std::vector<Measurement>& events,
                bool said,
                SpanOpen& open) {
  if (events.empty()) {
    if (!said) {
      open.sentences.emplace_back(
          "Nothing here shows that the corners agree: name the shift readings too, or say "
          "--trimmed if "
          "it is known.");
    }
    return;
  }
  const trim::Advised advised = trim::advise(deck, model, events);
  add(open.faults, advised.faults);
  if (!advised.advice || advised.advice->verdict == trim::Verdict::within) return;
  const IndicationWords say(deck);
  open.sentences.push_back(
      "The corners are not done yet (see trim): " + why_open(say, *advised.advice) + ".");
}

/// Corners that were read before a screw or shim was moved say nothing of the deck as it is.
void check_corners_after_screws(const std::vector<Measurement>& events, SpanOpen& open) {
  bool corners = false;
  const Measurement* moved_after = nullptr;
  for (const Measurement& event : events) {
    if (std::holds_alternative<record::ShiftSet>(event)) {
      corners = true;
      moved_after = nullptr;
    }
    if (corners && std::holds_alternative<record::TurnSet>(event)) moved_after = &event;
  }
  if (moved_after == nullptr) return;
  open.sentences.push_back(fmt::format(
      "{} says that screws or shims were moved after the corners were read: read them again.",
      std::visit([](const auto& set) { return set.source; }, *moved_after)));
}

/// Loads that were read before a screw or a trim was moved say nothing of the deck as it is.
void check_order(const std::vector<Measurement>& events, SpanOpen& open) {
  check_corners_after_screws(events, open);
  bool loaded = false;
  for (const Measurement& event : events) {
    if (std::holds_alternative<record::LoadSet>(event)) loaded = true;
    if (!loaded || !moves_something(event)) continue;
    open.sentences.push_back(
        fmt::format("{} says that something was moved after the loads were read: read them again.",
                    std::visit([](const auto& set) { return set.source; }, event)));
    return;
  }
}

}  // namespace

SpanOpen open_before_span(const deck::Deck& deck,
                          const statics::Model& model,
                          const std::vector<Measurement>& events,
                          bool shared,
                          bool trimmed) {
  SpanOpen open;
  check_share(deck, model, only(events, is_sharing), shared, open);
  check_trim(deck, model, only(events, is_corner), trimmed, open);
  check_order(events, open);
  return open;
}

}  // namespace weighwright::job
