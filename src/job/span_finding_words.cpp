#include "job/span_finding_words.h"

#include <fmt/format.h>

#include <cmath>

#include "job/indication_words.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

using span::Cause;
using span::Finding;

const char* code_of(Cause cause) {
  switch (cause) {
    case Cause::no_response:
      return "no_response";
    case Cause::falls:
      return "falls";
    case Cause::zero_return:
      return "zero_return";
    case Cause::up_down:
      return "up_down";
    case Cause::repeats:
      return "repeats";
    case Cause::bends_down:
      return "bends_down";
    case Cause::bends_up:
      return "bends_up";
    case Cause::mixed_units:
      return "mixed_units";
    case Cause::far_off:
      return "far_off";
    case Cause::too_few:
      break;
  }
  return "too_few";
}

std::string sentence_of(const deck::Deck& deck, const Finding& finding) {
  const IndicationWords say(deck);
  const std::string load = say.load(finding.load_kg);
  const std::string off = say.mass(std::abs(finding.found_kg));
  const std::string limit = say.mass(finding.limit_kg);
  switch (finding.cause) {
    case Cause::no_response:
      return fmt::format("With {} on the deck the display shows {}: next to nothing of it arrives.",
                         load, say.mass(finding.found_kg));
    case Cause::falls:
      return fmt::format("{} lowers the display, to {}.", load, say.mass(finding.found_kg));
    case Cause::zero_return:
      return fmt::format("Zero came back {} off after {} (limit 0.5 e, {}).", off, load, limit);
    case Cause::up_down:
      return fmt::format("{} reads {} {} coming down than going up (limit 1 d, {}).", load, off,
                         finding.found_kg < 0.0 ? "less" : "more", limit);
    case Cause::repeats:
      return fmt::format("Two readings of {} differ by {} (usual noise explains {}).", load, off,
                         limit);
    case Cause::bends_down:
    case Cause::bends_up:
      return fmt::format("The line bends: {} lies {} {} the straight line through zero (limit {}).",
                         load, off, finding.found_kg < 0.0 ? "below" : "above", limit);
    case Cause::mixed_units:
      return fmt::format(
          "Indications are {} times the loads: that is kilograms against pounds, not a span.",
          units::print_fixed(finding.found_kg, 3));
    case Cause::far_off:
      return fmt::format(
          "Everything reads {} of the load: was this indicator ever set for this deck?",
          units::print_fixed(finding.found_kg, 3));
    case Cause::too_few:
      break;
  }
  return "One load only: whether the line is straight is not seen.";
}

/// Common practice, no source.
std::string look_of(const Finding& finding) {
  switch (finding.cause) {
    case Cause::no_response:
    case Cause::falls:
      return "leads (a pair open or the wrong way round), the display frozen or in another mode, "
             "the "
             "load really on the deck; signal with the cells' resistances.";
    case Cause::zero_return:
      return "end gaps packed or a restraint tight; something left on the deck; a creeping cell; "
             "zero "
             "tracking on.";
    case Cause::up_down:
      return "friction: end gap packed, check rods binding, a rocker off its seat. Loads set down "
             "the "
             "same way up and down.";
    case Cause::repeats:
      return "load set down elsewhere, people on deck, filter on; read both again.";
    case Cause::bends_down:
      return finding.blocks
                 ? "the deck settling on something as it is loaded (feeler at mid-span with "
                   "the load on), a cell at its stop, a pad that gives way; a load that is "
                   "not what it says."
                 : "";
    case Cause::bends_up:
      return finding.blocks
                 ? "friction that holds small loads back; a stand that carries nothing until "
                   "it is loaded; a load that is not what it says."
                 : "";
    case Cause::mixed_units:
      return "the header of the file and the unit that the display is set to.";
    case Cause::far_off:
      return "if it was: sense leads, supply, the number and kind of cells, a cell not connected, "
             "before the span is touched.";
    case Cause::too_few:
      break;
  }
  return "";
}

}  // namespace

report::SpanFindingView finding_words(const deck::Deck& deck, const Finding& finding) {
  return {.code = code_of(finding.cause),
          .file = finding.file,
          .line = finding.line,
          .blocks = finding.blocks,
          .sentence = sentence_of(deck, finding),
          .look = look_of(finding)};
}

}  // namespace weighwright::job
