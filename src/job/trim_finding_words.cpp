#include "job/trim_finding_words.h"

#include <fmt/format.h>

#include <cmath>

#include "job/indication_words.h"
#include "job/speak.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

using trim::Cause;
using trim::Finding;

const char* code_of(Cause cause) {
  switch (cause) {
    case Cause::zero_return:
      return "zero_return";
    case Cause::up_down:
      return "up_down";
    case Cause::repeats:
      return "repeats";
    case Cause::less_when_heavy:
      return "less_when_heavy";
    case Cause::more_when_heavy:
      return "more_when_heavy";
    case Cause::overload:
      return "overload";
    case Cause::no_response:
      return "no_response";
    case Cause::falls:
      return "falls";
    case Cause::mixed_units:
      return "mixed_units";
    case Cause::beyond_limit:
      return "beyond_limit";
    case Cause::too_coarse:
      return "too_coarse";
    case Cause::trim_idle:
      return "trim_idle";
    case Cause::trims_apart:
      return "trims_apart";
    case Cause::unexplained:
      return "unexplained";
    case Cause::contact_opens:
      break;
  }
  return "contact_opens";
}

std::string percent(double fraction) {
  return units::print_fixed(std::abs(fraction) * 100.0, 1) + " %";
}

std::string sentence_of(const deck::Deck& deck, const Finding& finding) {
  const IndicationWords say(deck);
  const std::string off = say.mass(std::abs(finding.found));
  const std::string limit = say.mass(finding.limit);
  const char* const way = finding.found < 0.0 ? "less" : "more";
  switch (finding.cause) {
    case Cause::zero_return:
      return fmt::format("Zero came back {} off after the load at {} (limit 0.5 e, {}).", off,
                         finding.place, limit);
    case Cause::up_down:
      return fmt::format(
          "{} reads {} {} coming down than going up, with the same {} (limit 1 d, {}).",
          finding.place, off, way, say.load(finding.load_kg), limit);
    case Cause::repeats:
      return fmt::format(
          "Two readings of the same {} at {} differ by {} (usual noise explains {}).",
          say.load(finding.load_kg), finding.place, off, limit);
    case Cause::less_when_heavy:
    case Cause::more_when_heavy:
      return fmt::format(
          "At {} the loads {} and {} disagree in proportion: the heavier one reads {} {} than the "
          "lighter one says (limit {}).",
          finding.place, say.load(finding.other_kg), say.load(finding.load_kg), off, way, limit);
    case Cause::overload:
      return fmt::format("With {} at {} the cell of {} carries {} more than it is made for.",
                         say.load(finding.load_kg), finding.place,
                         units::print(units::StandIndex{finding.stand}), off);
    case Cause::no_response:
      return fmt::format(
          "With the load over {} the display shows {}: next to nothing of it arrives.",
          finding.place, say.mass(finding.found));
    case Cause::falls:
      return fmt::format("The load over {} lowers the display, to {}.", finding.place,
                         say.mass(finding.found));
    case Cause::mixed_units:
      return fmt::format(
          "Indications are {} times the loads: that is kilograms against pounds, not a deck.",
          units::print_fixed(finding.found, 3));
    case Cause::beyond_limit:
      return fmt::format(
          "{} weighs {} too {}; sound, matched cells need a few tenths of a percent "
          "(limit {}).",
          finding.place, percent(finding.found), finding.found < 0.0 ? "little" : "much",
          percent(finding.limit));
    case Cause::too_coarse:
      return fmt::format(
          "The readings tell the trim of {} to ± {} only (wanted {}): a step of the display is too "
          "much for this load.",
          finding.place, percent(finding.found), percent(finding.limit));
    case Cause::trim_idle:
      return fmt::format("The trim of {} was turned both ways, far, and no reading moved with it.",
                         finding.place);
    case Cause::trims_apart:
      return fmt::format("The trim of {} already stands {} {} than the others (limit {}).",
                         finding.place, percent(finding.found),
                         finding.found < 0.0 ? "lower" : "higher", percent(finding.limit));
    case Cause::unexplained:
      return fmt::format("{} reads {} {} than the other places say it should ({} with {}).",
                         finding.place, off, way, say.mass(finding.other_kg),
                         say.load(finding.load_kg));
    case Cause::contact_opens:
      break;
  }
  return fmt::format("With {} at {} a stand or a bearing lifts; that is in the figures.",
                     say.load(finding.load_kg), finding.place);
}

/// Where a cause may lie. Common practice, no source.
std::string look_of(const Finding& finding) {
  switch (finding.cause) {
    case Cause::zero_return:
      return "end gaps packed or a restraint tight; something left on the deck; a cell out of "
             "plumb "
             "or creeping; moisture in box or cell (insulation); zero tracking on.";
    case Cause::up_down:
      return "friction: end gap packed, check rods binding or not level, bumpers touching, a "
             "rocker "
             "off its seat, a cover plate bearing on the frame.";
    case Cause::repeats:
      return "the load was not put on the same spot; people on deck; filter or tracking on; "
             "friction, a rocker that seats in two ways. Read both again.";
    case Cause::less_when_heavy:
      return finding.between
                 ? "something under the deck there that it settles on: stones, ice, mud, a cable "
                   "tray; "
                   "a feeler between girder and pit floor with the load on."
                 : "a cell at its stop or a screw against the deck; the deck touching beside that "
                   "stand; a pad that gives way (watch it under the load).";
    case Cause::more_when_heavy:
      return "a stand that carries nothing until it is loaded (read its cell alone); friction that "
             "holds small loads back; zero moved between the two.";
    case Cause::overload:
      return "take the load off; smaller loads over a stand; then the cell's reading with nothing "
             "on "
             "it against its papers (a cell that was overloaded keeps a zero of its own). Or the "
             "load "
             "in the file is not what stood there.";
    case Cause::no_response:
      return "a lead off (signal or excitation), a cell on the wrong terminals, the load beside "
             "the "
             "deck, the display frozen or in another mode; signal with the cells' resistances "
             "tells "
             "open leads apart.";
    case Cause::falls:
      return "signal leads of that cell the wrong way round (S+ on S-), or its excitation; swap "
             "them "
             "back with the power off.";
    case Cause::mixed_units:
      return "the header of the file (load_kg, load_lb, indication_kg, indication_lb) and the unit "
             "that the display is set to.";
    case Cause::beyond_limit:
      return "the cell there: capacity, output and resistance on its label; its leads and "
             "terminals "
             "(open, high resistance, wrong pair); deck touching or rod binding beside it; whether "
             "the load stood where the file says. Swap two cells at the box: does it follow the "
             "cell or the place?";
    case Cause::too_coarse:
      return "a heavier load; a finer reading (tenths of d); small weights until the display "
             "changes "
             "over; each place more than once.";
    case Cause::trim_idle:
      return "whether it is the trim of that cell (numbers at the box), the trim itself (a wiper "
             "that makes no contact, a jumper across it), a display that holds its figure.";
    case Cause::trims_apart:
      return "someone may have trimmed out a bind or a bad lead. Set all trims to their least "
             "attenuation (or factors to 1), note what they were, and read all places again.";
    case Cause::unexplained:
      return finding.between
                 ? "read it again; if it stays, something touches under the deck there (a feeler "
                   "with the load on), which no trim mends."
                 : "read it again: place, load and figure; if it stays, look for a bind or a touch "
                   "beside that stand.";
    case Cause::contact_opens:
      break;
  }
  return "";
}

}  // namespace

report::TrimFindingView finding_words(const deck::Deck& deck, const trim::Finding& finding) {
  report::TrimFindingView view;
  view.code = code_of(finding.cause);
  view.at = finding.place;
  view.file = finding.file;
  view.line = finding.line;
  view.blocks = finding.blocks;
  view.found = finding.found;
  view.limit = finding.limit;
  view.is_fraction = finding.cause == Cause::beyond_limit || finding.cause == Cause::trims_apart ||
                     finding.cause == Cause::too_coarse || finding.cause == Cause::mixed_units;
  view.sentence = sentence_of(deck, finding);
  view.look = look_of(finding);
  return view;
}

}  // namespace weighwright::job
