#include "job/cause_words.h"

#include <array>
#include <string_view>

namespace weighwright::job {
namespace {

struct CauseText {
  std::string_view code;
  std::string_view what;
  std::string_view remedy;
};

constexpr std::array kCauses = {
    CauseText{"sound", "nothing is wrong", ""},
    CauseText{"none_of_these", "none of the faults that are known here", ""},
    CauseText{"open_arm", "an arm of the bridge is open", "A new cell: a bridge is not mended."},
    CauseText{"shorted_arm", "an arm of the bridge is shorted",
              "A new cell: a bridge is not mended."},
    CauseText{"no_load", "nothing is wrong, but no load rests on it", "Share the load first."},
    CauseText{"broken_lead", "a core of its lead is broken",
              "Look at the gland, at kinks and gnawed places, at the terminal, before the cell."},
    CauseText{"cut_cable", "its cable is cut or it is not connected: all its cores are open",
              "Follow the cable from the box to the cell; look at the box's terminals first."},
    CauseText{"moisture", "moisture leaks between its cores or to its body",
              "Look into box and glands for water; dry them, renew the drying agent; measure "
              "again. A cell that stays wet is done."},
    CauseText{"reversed_signal", "the signal cores are exchanged (S+ and S-)",
              "Compare the colours with the cell's papers, exchange the two at the box."},
    CauseText{"reversed_supply", "the supply cores are exchanged (E+ and E-)",
              "Compare the colours with the cell's papers, exchange the two at the box."},
    CauseText{"swapped_pairs", "the supply and the signal pair are exchanged",
              "Compare the colours with the cell's papers, exchange the pairs at the box."},
    CauseText{"wrong_cell", "it is a cell of another kind",
              "Read the label; one that can't be read is not guessed. No trim hides a wrong cell."},
    CauseText{"overload", "its zero has moved, by overload or shock",
              "Compare with its zero when new; lift the deck off it and read again."},
    CauseText{"loose_screen", "its screen is loose or grounded twice: hum",
              "Screen on one end only, clamp tight; read with the indicator's filter off."},
    CauseText{"screen_on_core", "its screen touches a core",
              "Open the gland at the box and look for strands of the screen."},
    CauseText{"no_supply", "no supply reaches it", "Follow the supply from the box outwards."},
    CauseText{"broken_sense_lead", "a sense lead is broken or loose",
              "Tighten both sense leads at indicator and box; where the indicator takes 4 wires, "
              "check the bridges from supply to sense."},
    CauseText{"sense_contact", "a bad contact in a sense lead",
              "Tighten both sense leads at indicator and box; clean what is green."},
    CauseText{"supply_contact", "a bad contact in the supply",
              "Tighten the supply's terminals at box and indicator; clean what is green."},
};

const CauseText* find(std::string_view code) {
  for (const CauseText& cause : kCauses) {
    if (cause.code == code) return &cause;
  }
  return nullptr;
}

std::string plain(std::string_view code) {
  std::string words(code);
  for (char& c : words) c = c == '_' ? ' ' : c;
  return words;
}

struct MeasuredText {
  std::string_view quantity;
  std::string_view words;
};

constexpr std::array kMeasured = {
    MeasuredText{"input", "the input resistance (E+ to E-)"},
    MeasuredText{"output", "the output resistance (S+ to S-)"},
    MeasuredText{"e_plus_s_plus", "the resistance from E+ to S+"},
    MeasuredText{"e_plus_s_minus", "the resistance from E+ to S-"},
    MeasuredText{"e_minus_s_plus", "the resistance from E- to S+"},
    MeasuredText{"e_minus_s_minus", "the resistance from E- to S-"},
    MeasuredText{"insulation", "the insulation (all cores together to screen and body)"},
    MeasuredText{"zero", "the signal with no load on it"},
    MeasuredText{"signal", "the signal under the dead load"},
    MeasuredText{"mV", "the signal under the dead load"},
    MeasuredText{"excitation", "the supply"},
    MeasuredText{"sense", "the voltage at the indicator's sense terminals"},
};

}  // namespace

std::string cause_words(const std::string& code, const std::string& detail) {
  const CauseText* const known = find(code);
  const std::string what = known != nullptr ? std::string(known->what) : plain(code);
  return detail.empty() ? what : what + " (" + detail + ")";
}

std::string remedy_words(const std::string& code) {
  const CauseText* const known = find(code);
  return known != nullptr ? std::string(known->remedy) : "";
}

std::string measured_words(const std::string& quantity) {
  std::string_view name = quantity;
  for (const std::string_view unit : {"_ohm", "_Mohm", "_mV", "_V"}) {
    if (name.ends_with(unit)) name.remove_suffix(unit.size());
  }
  for (const MeasuredText& known : kMeasured) {
    if (known.quantity == name) return std::string(known.words);
  }
  return plain(name);
}

}  // namespace weighwright::job
