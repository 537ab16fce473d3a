#include <gtest/gtest.h>

#include <string>

#include "file_text.h"

namespace weighwright::deck {
namespace {

using testing::changed;
using testing::faults_of;
using testing::kSound;
using testing::notes_of;

void expect_in(const std::string& all, const std::string& part) {
  EXPECT_NE(all.find(part), std::string::npos) << "got: " << all << "wanted: " << part;
}

/// The sound file with `from` replaced by `to` has a fault that says `part`.
void expect_fault(const std::string& from, const std::string& to, const std::string& part) {
  expect_in(faults_of(changed(from, to)), part);
}

/// The sound file with more lines at its end.
void expect_fault_with(const std::string& lines, const std::string& part) {
  expect_in(faults_of(kSound + lines), part);
}

std::size_t lines_of(const std::string& text) {
  std::size_t count = 0;
  for (const char c : text) count += c == '\n' ? 1U : 0U;
  return count;
}

TEST(DeckFault, TellsFilesThatAreNoDeckFileAtAll) {
  expect_in(faults_of(""), "deck.toml: the file is empty; a deck file begins with format = 1");
  expect_in(faults_of(" \n\r\n"), "the file is empty");
  expect_in(faults_of("\xEF\xBB\xBF"), "the file is empty");
  expect_in(faults_of(std::string("format = 1\0", 11)), "zero bytes");
  expect_in(faults_of(std::string(1'000'001, '#')), "larger than 1 MB");
  EXPECT_EQ(lines_of(faults_of(std::string(1'000'001, 'x'))), 1U);
}

/// `piece` many times.
std::string repeated(const std::string& piece, int count) {
  std::string all;
  for (int i = 0; i < count; ++i) all += piece;
  return all;
}

// 40 kB that ended the program: the TOML library takes its tree of tables down by recursion.
TEST(DeckFault, TellsAKeyOfTwentyThousandPartsAndGoesOn) {
  const std::string deep = repeated("a.", 20'000) + "a";
  expect_in(faults_of(kSound + deep + " = 1\n"), "a key has more than 8 parts joined by points");
  expect_in(faults_of(kSound + "[" + deep + "]\n"), "a key has more than 8 parts");
  expect_in(faults_of(kSound + "x = {" + deep + " = 1}\n"), "a key has more than 8 parts");
  EXPECT_EQ(lines_of(faults_of(kSound + deep + " = 1\n")), 1U);
}

TEST(DeckFault, TellsBracketsWithinBracketsAndEndlessLines) {
  expect_in(faults_of(kSound + "x = " + repeated("[", 100'000)), "brackets lie within one another");
  expect_in(faults_of(kSound + "x = " + repeated("{a=", 200)), "brackets lie within one another");
  expect_in(faults_of(kSound + "x = \"" + std::string(30'000, 'x') + "\""), "the line has 30006");
  expect_in(faults_of(kSound + repeated("[[more]]\n", 3'000)), "more than 2000 tables");
}

TEST(DeckFault, TellsSyntaxWithPlaceReasonAndRemedy) {
  expect_fault("length = \"7 m\"", "length = 7 m", "deck.toml:10:");
  expect_fault("length = \"7 m\"", "length = 7 m", "quantities stand in quotation marks");
  expect_fault("length = \"7 m\"", "length = seven", "quantities stand in quotation marks");
  expect_fault("length = \"7 m\"", "length = \"7 m", "not closed");
  expect_fault("length = \"7 m\"", "length \"7 m\"", "a line is key = value");
  expect_fault("mark = \"A\"", "mark = \"A\"\nmark = \"A\"", "stands twice");
  expect_fault("[cell]", "[cell", "deck.toml:23:");
  expect_fault("\"7 m\"", R"("23' 4"")", "deck.toml:10:");
  expect_fault("\"7 m\"", "\"\\q\"", "inch mark inside quotation marks");
  expect_in(faults_of("format = 1\nx = " + std::string(500, '[')), "deck.toml:2:");
  expect_in(faults_of("a = \"\xFF\xFE\""), "deck.toml:1:");
  expect_fault("\"7 m\"", "7 \xC2\xB5m",
               "deck.toml:10:12: the sign \"\xC2\xB5\" stands outside quotation marks");
  expect_fault("\"7 m\"",
               "\xE2\x80\x9C"
               "7 m\xE2\x80\x9D",
               "write the straight quotation mark");
  expect_fault("\"7 m\"", "\"\"\"7\n m\"\"\"", "a text over several lines begins here");
  expect_fault("\"7 m\"", "'''7 m'''", "a text over several lines begins here");
  expect_fault("\"7 m\"", "\"7 \xFF\"", "deck.toml:10: a sign on this line is not in UTF-8");
  // found by fuzzing: the library's assert ended the program
  expect_fault("[deck]", "[`deck]", "deck.toml:2:2: the file can't be read from here on");
}

TEST(DeckFault, IsNoSignBeyondAsciiInsideTextsAndComments) {
  EXPECT_EQ(
      faults_of(changed("name = \"Practice\"", "name = \"L\\\"\xC3\xA4nge \\\\\" # \xC3\xA4\"")),
      "");
  EXPECT_EQ(faults_of(changed("name = \"Practice\"", "name = 'L\xC3\xA4nge \\'")), "");
}

TEST(DeckFault, TellsAFormatThatItDoesNotKnow) {
  expect_fault("format = 1", "", "the file does not say its format; write format = 1");
  expect_fault("format = 1", "format = 2", "deck.toml:1:10: this format is unknown");
  expect_fault("format = 1", "format = \"1\"", "this format is unknown");
}

TEST(DeckFault, TellsKeysThatAreUnknownWithTheNearestOne) {
  expect_fault("length = \"7 m\"", "lenght = \"7 m\"",
               "deck.toml:10:1: module \"A\": the key \"lenght\" is unknown; did you mean length?");
  expect_fault("class = \"III\"", "class = \"III\"\ncolour = \"red\"",
               "the key \"colour\" is unknown; keys known here are name, rulebook");
  expect_fault_with("[sites]\n", "the file: the key \"sites\" is unknown; did you mean site?");
  expect_fault_with("[stand]\nscrew = 4\n", "did you mean screws?");
  expect_fault_with("[stand.2L]\ntravell = []\n", "did you mean travel?");
  expect_fault_with("[stand.2L.cell]\ncapasity = \"1 t\"\n", "did you mean capacity?");
  expect_fault_with("[share]\ntollerance = \"1 mV\"\n", "did you mean tolerance?");
  expect_fault_with("[cable]\nhouse = 1\n", "[cable]: the key \"house\" is unknown");
  expect_fault_with("[cable.home]\nwidth = 1\n", "[cable.home]: the key \"width\" is unknown");
  expect_fault_with("[site]\nlattitude = \"1 deg\"\n", "did you mean latitude?");
  expect_fault_with("[indicator]\nexitation = \"1 V\"\n", "did you mean excitation?");
  expect_fault_with("[restraint]\nkid = \"rods\"\n", "did you mean kind?");
  expect_fault_with("[[joint]]\nrest = \"A on B\"\n", "did you mean rests?");
  expect_fault("length = \"7 m\"", "length = \"7 m\"\nengineering.bendin = \"1 MN m2\"",
               "did you mean bending?");
}

TEST(DeckFault, TellsWhatIsMissing) {
  expect_fault("name = \"Practice\"\n", "", "deck.toml:2:1: [deck] has no name");
  expect_fault("rulebook = \"R76\"\n", "",
               "[deck] has no rulebook; write rulebook = \"R76\" or rulebook = \"H44\"");
  expect_fault("class = \"III\"\n", "", "[deck] has no class");
  expect_fault("capacity = \"60 t\"\n", "", "[deck] has no capacity");
  expect_fault("interval = \"20 kg\"\n", "", "[deck] has no interval");
  expect_fault("mark = \"A\"\n", "", "[[module]] number 1 has no mark");
  expect_fault("length = \"7 m\"\n", "", "module \"A\" has no length");
  expect_fault("at = \"0.3 m\"\n", "", "section 1 has no at");
  expect_fault("across = \"2.4 m\"\n", "", "section 1 has no across");
  expect_fault("capacity = \"25 t\"\n", "", "[cell] has no capacity");
  expect_fault("output = \"2 mV/V\"\n", "", "[cell] has no output");
  expect_in(faults_of("format = 1\n"), "there is no [deck] table");
  expect_in(faults_of("format = 1\n"), "there is no [[module]]");
  expect_in(faults_of("format = 1\n"), "there is no [[section]]");
  expect_in(faults_of("format = 1\n"), "there is no [cell] with capacity");
  expect_fault_with("[[footprint]]\n", "[[footprint]] has no name");
}

TEST(DeckFault, TellsQuantitiesThatAreWrong) {
  expect_fault("\"7 m\"", "\"7\"",
               "deck.toml:10:10: length: \"7\" has no unit; a length is wanted here");
  expect_fault("\"7 m\"", "7",
               "length is a number without a unit; a quantity with its unit in quotation marks");
  expect_fault("\"7 m\"", "\"7 kg\"", "length: \"7 kg\" is a mass; a length is wanted here");
  expect_fault("\"7 m\"", "true", "length is true or false; a quantity");
  expect_fault("\"7 m\"", "[\"7 m\"]", "length is a list");
  expect_fault("\"7 m\"", "2020-01-01", "length is a date or a time");
  expect_fault("\"7 m\"", "{}", "length is a table");
  expect_fault("\"7 m\"", "\"0 m\"", "length: \"0 m\" is impossible; from 0.2 m to 60 m");
  expect_fault("\"7 m\"", "\"-7 m\"", "is impossible");
  expect_fault("\"7 m\"", "\"7000 m\"", "is impossible");
  expect_fault("\"60 t\"", "\"60 tons\"", "which ton is meant?");
  expect_fault("\"60 t\"", "\"60,000 kg\"", "thousands mark or a decimal mark");
  expect_fault("\"2 mV/V\"", "\"2 V/V\"", "cells give 1 to 3 mV/V");
  expect_fault("\"2 mV/V\"", "\"2 mV\"", "is a voltage; a rated output is wanted here");
}

TEST(DeckFault, TellsValuesOfTheWrongType) {
  expect_fault("name = \"Practice\"", "name = 5",
               "name is a whole number; a text in quotation marks");
  expect_fault("mark = \"A\"", "mark = 1.5",
               "mark is a number; a text in quotation marks or a whole number");
  expect_fault("mark = \"A\"", "mark = \"\"", "the mark is empty");
  expect_fault("mark = \"A\"", "mark = \"A\"\nhalves = \"yes\"", "halves is a text; true or false");
  expect_fault("mark = \"A\"", "mark = \"A\"\nconstruction = 3",
               "construction is a whole number; one of \"open\"");
  expect_fault("mark = \"A\"", "mark = \"A\"\nengineering = 3", "engineering is no table");
  expect_fault_with("[stand]\nscrews = \"4\"\n", "screws is a text; a whole number from 1 to 12");
  expect_fault_with("[stand]\nscrews = 40\n", "screws: 40 is impossible");
  expect_fault_with("[stand]\nshims = \"1 mm\"\n", "shims is a text; a list in square brackets");
  expect_fault_with("[stand.2L]\ncell = 4\n", "cell is no table; write [stand.2L.cell]");
  expect_fault("[deck]", "[[deck]]", "deck is no table; write [deck] in single brackets");
  expect_fault("[cell]", "[[cell]]", "cell is no table");
  expect_fault("[[module]]\nmark = \"A\"", "[module]\nmark = \"A\"", "deck.toml:");
  expect_in(faults_of("format = 1\n[module]\nmark = \"A\"\n"),
            "write [[module]] in double brackets");
  expect_in(faults_of("format = 1\nmodule = 4\n"), "module is no list of tables");
  expect_in(faults_of("format = 1\nmodule = [4]\n"), "module is no list of tables");
  expect_in(faults_of("format = 1\nstand = 4\n"), "stand is no table; write [stand]");
  expect_in(faults_of("format = 1\nbox = 4\n"), "box is no list of tables");
}

TEST(DeckFault, TellsWordsThatAreNoneOfTheChoices) {
  expect_fault("\"R76\"", "\"R99\"", "rulebook \"R99\" is unknown; \"R76\" (OIML R 76) or \"H44\"");
  expect_fault("\"III\"", "\"III L\"",
               "class \"III L\" is not a class of R76; \"III\" or \"IIII\"");
  expect_fault("\"R76\"\nclass = \"III\"", "\"H44\"\nclass = \"IIII\"",
               "class \"IIII\" is not a class of H44; \"III L\" or \"III\"");
  expect_fault("mark = \"A\"", "mark = \"A\"\nconstruction = \"wood\"",
               "construction \"wood\" is unknown; one of \"open\", \"cells\", \"box\", "
               "\"concrete\" or \"unknown\"");
  expect_fault_with("[[joint]]\nkind = \"welded\"\n",
                    "kind \"welded\" is unknown; one of \"hinge\", \"rigid\" or \"shared stand\"");
  expect_fault_with("[stand]\nadjust = \"wedges\"\n", "adjust \"wedges\" is unknown");
  expect_fault_with("[stand]\nscrew_kind = \"bolt\"\n", "screw_kind \"bolt\" is unknown");
  expect_fault_with("[stand]\nthread = \"M21\"\n",
                    "thread \"M21\" is unknown; \"M20\" (coarse pitch)");
  expect_fault_with("[stand]\ndivision = \"1/0\"\n", "division is no part of a turn");
  expect_fault_with("[stand]\ndivision = \"0.25\"\n", "division is no part of a turn");
  expect_fault_with("[stand]\ndivision = \"1/8x\"\n", "division is no part of a turn");
  expect_fault_with("[share]\ndivision = 1000\n", "division is no part of a turn");
  expect_fault_with("[[box]]\ntrims = \"knobs\"\n", "trims \"knobs\" is unknown");
  expect_fault_with("[restraint]\nkind = \"rope\"\n", "kind \"rope\" is unknown");
}

TEST(DeckFault, TellsListsThatAreWrong) {
  expect_fault_with("[stand]\ntravel = [\"25 mm\", \"-10 mm\"]\n",
                    "travel is the wrong way round; write down and up");
  expect_fault_with("[stand]\ntravel = [\"5 mm\", \"10 mm\"]\n",
                    "travel does not contain where the screw is now");
  expect_fault_with("[stand]\ntravel = [\"5 mm\"]\n", "travel is no pair");
  expect_fault_with("[stand]\ntravel = [\"-5 mm\", 5]\n", "travel is a number without a unit");
  expect_fault_with("[stand]\nplate = [\"5 mm\"]\n", "plate is no pair");
  expect_fault_with("[stand]\nshims = []\n", "the list of shims is empty");
  expect_fault_with("[stand]\nadjust = \"shims\"\n",
                    "[stand] is adjusted by shims and no shims are given; write the shims on hand");
  expect_fault_with("[stand.2L]\nadjust = \"shims\"\n",
                    "stand 2L is adjusted by shims and no shims are given");
  expect_fault_with("[stand]\ngrout_min = \"50 mm\"\ngrout_max = \"20 mm\"\n",
                    "grout_min is greater than grout_max");
  expect_fault_with("[site]\ntemperature = [\"35 degC\", \"-15 degC\"]\n",
                    "temperature is no range");
  expect_fault("interval = \"20 kg\"", "interval = \"20 kg\"\nranges = []",
               "ranges is no list of pairs");
  expect_fault("interval = \"20 kg\"", "interval = \"20 kg\"\nranges = [\"60 t\"]",
               "a weighing range is no pair");
  expect_fault("interval = \"20 kg\"", "ranges = [[\"60 t\", \"20 kg\"], [\"30 t\", \"10 kg\"]]",
               "not in ascending order");
  expect_fault("interval = \"20 kg\"", "ranges = [[\"30 t\", \"10 kg\"]]",
               "capacity is not that of the greatest range");
  expect_fault("interval = \"20 kg\"", "interval = \"20 kg\"\nranges_kind = \"ranges\"",
               "ranges_kind without ranges");
  expect_fault("interval = \"20 kg\"",
               "interval = \"20 kg\"\nranges = [[\"60 t\", \"20 kg\"]]\nranges_kind = \"many\"",
               "ranges_kind");
  expect_fault_with("[[box]]\nstands = [\"2x\"]\n", "stands: \"2x\" is no stand");
  expect_fault_with("[[box]]\nstands = 4\n", "stands is no list");
  expect_fault_with("[[box]]\nstands = [\"9L\"]\n", "names the stand 9L, which does not exist");
  expect_fault_with("[[footprint]]\nname = \"x\"\npoints = [[\"1 m\"]]\n",
                    "points is no list of places");
  expect_fault_with("[cable.home]\narea = \"1 mm2\"\ngauge = \"18 AWG\"\n",
                    "has an area and a gauge");
  expect_fault_with("[cable.home]\ncores = 5\n", "4 or 6");
}

TEST(DeckFault, TellsPapersOfCellsAndIndicatorsThatAreWrong) {
  expect_fault(
      "output =", "zero = \"2 mV/V\"\noutput =", "zero: \"2 mV/V\" is impossible; from -1");
  expect_fault("output =", "error_fraction = 0.9\noutput =",
               "error_fraction: 0.9 is impossible; from 0.3 to 0.8");
  expect_fault(
      "output =", "class = \"C3\"\noutput =",
      "class \"C3\" is no class of a cell; \"A\", \"B\", \"C\" or \"D\"; of C3 the letter");
  expect_fault("output =", "class = \"E\"\noutput =", "class \"E\" is no class of a cell");
  expect_fault("output =", "dead_load_return = \"-1 kg\"\noutput =", "is impossible");
  expect_fault("output =", "temperature = [\"40 degC\", \"-10 degC\"]\noutput =",
               "temperature is no range; write [\"-15 degC\", \"35 degC\"], the lower one first");
  expect_fault_with("[indicator]\nsense = 5\n", "deck.toml:27:9: sense: 5 is impossible; 4 or 6");
  expect_fault_with("[indicator]\nload = [\"1100 ohm\", \"35 ohm\"]\n",
                    "load is no range; write [\"35 ohm\", \"1100 ohm\"]");
  expect_fault_with("[indicator]\ndead_load_range = [\"1 mV\"]\n", "dead_load_range is no range");
  expect_fault_with("[indicator]\nclass = \"C\"\n", "class \"C\" is unknown; one of \"I\"");
  expect_fault_with("[indicator]\nlongest_cable = \"150 m\"\n",
                    "is a length; a length over a cross-section is wanted here, in m/mm2");
  expect_fault_with("[indicator]\nlongest_cable = 150\n", "as \"150 m/mm2\"");
  expect_fault_with("[indicator]\ninput_resistance = \"1 ohm\"\n", "from 1 kohm");
  expect_fault_with("[receptor]\ndead_lode = \"12 t\"\n", "did you mean dead_load?");
  expect_fault_with("[receptor]\nuneven = \"-1 t\"\n", "uneven: \"-1 t\" is impossible");
  expect_fault_with("[cable]\ntemperature = \"20 C\"\n", "temperature");
}

TEST(DeckFault, TellsBoxesAndCablesThatDoNotGoTogether) {
  expect_fault_with("[[box]]\n[[box]]\n", "deck.toml:27:1: stand 1L is in two boxes");
  expect_fault_with("[[box]]\nstands = [\"1L\"]\n[[box]]\nstands = [\"1R\", \"1L\"]\n",
                    "deck.toml:28:1: stand 1L is in two boxes; each cell ends in one box");
  expect_fault_with("[[box]]\nstands = [\"1L\", \"1L\"]\n", "stand 1L is in two boxes");
  expect_fault_with("[[box]]\n[cable.link]\nlength = \"5 m\"\n",
                    "[cable.link] goes from box to box, but there is one box at most");
  expect_fault_with("[cable.home]\ncores = 4\n[indicator]\nsense = 6\n",
                    "sense = 6, but the home cable has 4 cores");
}

TEST(DeckFault, TellsTrimsThatCanNotBe) {
  const std::string box = "[[box]]\ntrims = \"signal\"\n[trim]\n";
  const std::string digital = "[[box]]\ntrims = \"digital\"\n[trim]\n";
  expect_fault_with("[trim]\nrange = \"10 ohm\"\n", "[trim] has range, but no [[box]] has trims");
  expect_fault_with("[[box]]\n[trim]\nturns = 15\n", "[trim] has turns, but no [[box]] has trims");
  expect_fault_with(digital + "range = \"10 ohm\"\n",
                    "[trim] has range, but digital trims are factors and have no resistance");
  expect_fault_with(digital + "clockwise = \"raises\"\n",
                    "[trim] has clockwise, but digital trims are factors and are not turned");
  expect_fault_with(box + "range = \"10 V\"\n", "is a voltage; a resistance is wanted here");
  expect_fault_with(box + "range = \"80 %\"\n", "from 0.001 % to 50 %");
  expect_fault_with(box + "turns = 0\n", "turns: 0 is impossible; from 0.1 to 200 turns");
  expect_fault_with(box + "clockwise = \"up\"\n", "one of \"lowers\" or \"raises\"");
  expect_fault_with(box + "start = \"most\"\n",
                    "start \"most\" is unknown; one of \"least\", \"middle\" or \"unknown\"");
  expect_fault_with(box + "start = 5\n", "start is a number without a unit");
  expect_fault_with(box + "range = \"10 ohm\"\nstart = \"12 ohm\"\n",
                    "[trim] start is 12 ohm, beyond the range of 10 ohm");
  expect_fault_with(box + "range = \"1 %\"\nstart = \"5 ohm\"\n",
                    "start is a resistance and range is a share");
  expect_fault_with(box + "step = 2\n", "step: 2 is impossible; a part of a turn");
  expect_fault_with(box + "step = \"1/2\"\nturns = 0.3\n", "step is more than all turns");
  expect_fault_with(box + "attenuates = 1\n", "attenuates is a whole number; true or false");
  expect_fault_with(box + "most = \"0 %\"\n", "most: \"0 %\" is impossible");
  expect_fault_with(box + "spread = \"20\"\n", "spread: \"20\" has no unit");
  expect_fault_with(box + "speed = 1\n", "[trim]: the key \"speed\" is unknown");
}

TEST(DeckFault, TellsFootprintsThatCanNotBe) {
  const std::string head = "[[footprint]]\nname = \"x\"\npoints = ";
  expect_fault_with(head + "[]\n", "points is no list of places");
  expect_fault_with(head + "[[\"0 m\", \"0 m\", \"50 %\"], [\"1 m\", \"0 m\"]]\n",
                    "deck.toml:28:10: some points have a share of the load and some have none");
  expect_fault_with(head + "[[\"0 m\", \"0 m\", \"50 %\"], [\"1 m\", \"0 m\", \"40 %\"]]\n",
                    "the shares of the points add up to 90.0 %, not to 100 %");
  expect_fault_with(head + "[[\"0 m\", \"0 m\", \"0 %\"]]\n", "points: \"0 %\" is impossible");
  expect_fault_with(head + "[[\"0 m\", \"0 kg\"]]\n", "is a mass; a length is wanted here");
  expect_fault_with(head + "[[\"0 m\", \"0 m\"]]\n" + head + "[[\"0 m\", \"0 m\"]]\n",
                    "deck.toml:30:8: two footprints have the name \"x\"");
  expect_fault_with("[[footprint]]\nname = \"\"\npoints = [[\"0 m\", \"0 m\"]]\n",
                    "the name of a footprint is empty");
}

TEST(DeckFault, TellsStandsThatDoNotExist) {
  expect_fault_with("[stand.4L]\nscrews = 4\n",
                    "deck.toml:26:8: there is no stand \"4L\"; stands are 1L, 1R, ... 3L, 3R");
  expect_fault_with("[stand.2l]\nscrews = 4\n", "there is no stand \"2l\"");
}

TEST(DeckFault, TellsGeometryThatIsImpossible) {
  expect_fault("\"12.7 m\"", "\"13.7 m\"",
               "section 3 at 13.7 m stands off the deck; the modules together are 13 m long");
  expect_fault("\"12.7 m\"", "\"5 m\"", "sections 2 and 3 are out of order: 7.3 m, then 5 m");
  expect_fault("\"7.3 m\"", "\"0.3 m\"", "sections 1 and 2 stand at one place, 0.3 m");
  expect_fault("\"7.3 m\"", "\"7 m\"",
               "section 2 at 7 m stands under a joint; say which module rests on it: module = "
               "\"A\" or module = \"B\"");
  expect_fault(
      "at = \"7.3 m\"", "at = \"7.3 m\"\nmodule = \"A\"",
      "section 2 at 7.3 m is not under module \"A\"; over that place lies B (7 m to 13 m)");
  expect_fault("at = \"7.3 m\"", "at = \"7.3 m\"\nmodule = \"Z\"", "there is no module \"Z\"");
  expect_fault("mark = \"B\"", "mark = \"A\"", "two modules have the mark \"A\"");
  expect_fault_with("[[joint]]\n[[joint]]\n",
                    "2 joints for 2 modules; one [[joint]] between two neighbours: 1");
  expect_fault_with("[[joint]]\nrests = \"A over B\"\n", "is not clear; write \"A on B\"");
  expect_fault_with("[[joint]]\nrests = \"A on C\"\n",
                    "joint 1 lies between A and B, but rests says \"A on C\"");
  expect_fault_with("[[joint]]\nkind = \"rigid\"\nrests = \"A on B\"\n", "joint 1 is no hinge");
  expect_fault_with(
      "[[joint]]\nkind = \"shared stand\"\n",
      "joint 1 is on a shared stand, but no section stands there; a [[section]] at 7 m");
  expect_fault("length = \"7 m\"", "length = \"7 m\"\nwidth = \"1.8 m\"",
               "section 1: across is 2.4 m, but module A is 1.8 m wide");
  expect_fault_with("[[joint]]\nacross = \"5 m\"\n", "joint 1: across is 5 m");
  expect_fault("length = \"7 m\"", "length = \"7 m\"\nengineering.girders = [\"1 m\"]",
               "fewer than two girders");
  expect_fault("length = \"7 m\"", "length = \"7 m\"\nengineering.girders = [\"1 m\", \"1 m\"]",
               "fewer than two girders");
  expect_fault("length = \"7 m\"", "length = \"7 m\"\nengineering.girders = [\"4 m\", \"-4 m\"]",
               "lie further apart than it is wide");
  expect_fault("length = \"7 m\"", "length = \"7 m\"\ncentre = \"8 m\"",
               "centre lies beyond the module's end 2");
  expect_fault("length = \"7 m\"", "length = \"7 m\"\nslab = \"0.3 m\"\nconstruction = \"box\"",
               "slab belongs to concrete only");
  expect_fault("interval = \"20 kg\"", "interval = \"20 kg\"\ndisplay = \"50 kg\"",
               "display (d) is greater than the interval (e)");
  expect_fault("interval = \"20 kg\"", "interval = \"20 kg\"\npair_tolerance = \"2 m\"",
               "is a length; a voltage is wanted here");
  expect_in(
      faults_of(changed("interval = \"20 kg\"", "interval = \"20 kg\"\npair_tolerance = \"2 mV\"") +
                "[share]\ntolerance = \"1 mV\"\n"),
      "the tolerance of a pair is given twice");
  expect_fault("interval = \"20 kg\"", "interval = \"9 t\"\ncapacity2 = 1",
               "did you mean capacity?");
  expect_fault("capacity = \"60 t\"\ninterval = \"20 kg\"",
               "capacity = \"20 kg\"\ninterval = \"1 t\"",
               "the interval is not smaller than the capacity");
  const std::string one_section = kSound.substr(0, kSound.find("[[section]]\nat = \"7.3 m\"")) +
                                  kSound.substr(kSound.find("[cell]"));
  expect_in(faults_of(one_section), "a deck on one section can't stand");
}

TEST(DeckFault, RefusesMoreTablesThanAnyDeckHas) {
  std::string text = kSound;
  for (int i = 0; i < 100; ++i)
    text += "[[module]]\nmark = \"" + std::to_string(i) + "\"\nlength = \"1 m\"\n";
  expect_in(faults_of(text), "102 tables [[module]]; at most 24");
}

TEST(DeckFault, TellsAllFaultsOfMeaningAtOnceInTheOrderOfTheFile) {
  std::string text = changed("\"R76\"", "\"R99\"");
  text = changed("\"7 m\"", "\"7\"", text);
  text = changed("\"2 mV/V\"", "\"2 mV\"", text);
  const std::string faults = faults_of(text);
  EXPECT_EQ(lines_of(faults), 3U) << faults;
  EXPECT_LT(faults.find("R99"), faults.find("no unit"));
  EXPECT_LT(faults.find("no unit"), faults.find("voltage"));
}

TEST(DeckFault, ListsTheFirstHundredThenTheirNumber) {
  std::string text = kSound + "[trims]\n";
  for (int i = 0; i < 150; ++i) text += "[zzzz" + std::to_string(i) + "]\n";
  const std::string faults = faults_of(text);
  EXPECT_EQ(lines_of(faults), 101U);
  expect_in(faults, "and 51 more faults");
}

TEST(DeckNote, TellsWhatIsWorthKnowing) {
  expect_in(notes_of(changed("\"60 t\"", "\"60.01 t\"")), "not a whole number of intervals");
  expect_in(notes_of(changed("\"25 t\"", "\"5 t\"")),
            "the cells together are too small: 30000 kg for a deck and Max of");
  expect_in(notes_of(kSound + "[[box]]\nstands = [\"1L\", \"1R\", \"2L\"]\n"),
            "no [[box]] names 2R, 3L, 3R");
  EXPECT_EQ(notes_of(kSound + "[restraint]\nkind = \"gap\"\n"), "");
  expect_in(notes_of(kSound + "[restraint]\nkind = \"rods\"\ngap = \"3 mm\"\n"),
            "rods have no gap: gap and temperature are not used");
  expect_in(notes_of(kSound + "[restraint]\nkind = \"gap\"\ntemperature = \"20 degC\"\n"),
            "temperature without a gap is not used");
  expect_in(notes_of(kSound + "[site]\ntemperature = [\"-10 degC\", \"60 degC\"]\n"
                              "[restraint]\ngap = \"3 mm\"\ntemperature = \"20 degC\"\n"),
            "at 60 degC the deck has grown into both gaps");
  expect_in(notes_of(kSound + "[stand]\ngrout_min = \"20 mm\"\ngrout = \"15 mm\"\n"),
            "1L: the gap for grout, 15 mm, is less than grout_min, 20 mm");
  EXPECT_EQ(notes_of(kSound), "");
}

}  // namespace
}  // namespace weighwright::deck
