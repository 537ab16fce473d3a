#include <array>

#include "deck/draft.h"

namespace weighwright::deck {

namespace {

constexpr std::array kQuestions = {
    Question{
        QuestionKey::rulebook, "rulebook", "Which rulebook is in force, and which accuracy class?",
        "On the data plate. R76 has classes III and IIII; H44 has III L and III.", "", "R76 III"},
    Question{QuestionKey::capacity, "capacity",
             "Capacity (Max) and interval (e, or d where they are the same)?",
             "On the data plate and in the indicator's set-up menu.", "", "60 t, 20 kg"},
    Question{
        QuestionKey::sections, "sections",
        "Where do the sections (pairs of stands) stand, and how far apart are left and right?",
        "Tape from end 1 of the deck to the middle of each pair of stands, separated by commas.\n"
        "A plus sign measures from the section before instead: 0.3 m, +7 m, +6.4 m.\n"
        "Left and right: from stand centre to stand centre across the deck. End 1 is the end you\n"
        "paint a 1 on; left is left when you look from end 1 to end 2.",
        "", "0.3 m, 7.3 m, 13.7 m, 20.7 m; across 2.4 m"},
    Question{
        QuestionKey::modules, "modules",
        "How long is each piece of deck, from end 1 to end 2, and which rests on which?",
        "Tape from joint to joint. Put the mark painted on the piece before its length; without\n"
        "marks they are called A, B, C. After a semicolon: whose bearings lie in whose seats\n"
        "(look into the joint from below); leave it out if you can't see it.",
        "", "A 7 m, B 7 m, C 7 m; A on B, C on B"},
    Question{
        QuestionKey::construction, "construction", "What kind of deck is it, seen from below?",
        "open      ______________    a plate on beams, nothing below them\n"
        "           I    I    I\n"
        "cells     ______________    some bays closed below by a bottom plate\n"
        "           I__I  I  I__I\n"
        "box       ______________    closed below over the whole width\n"
        "          |_I____I____I_|\n"
        "concrete  ==============    a slab in a steel pan; add its thickness if you know it:\n"
        "          |_____________|     concrete 0.3 m\n"
        "unknown   can't be seen",
        "unknown", "cells"},
    Question{
        QuestionKey::cell, "cell", "Capacity and rated output of one load cell?",
        "On the cell's label or its certificate. For digital cells write the counts at capacity\n"
        "instead, if you know them: 25 t, 100000 counts.",
        "", "25 t, 2 mV/V"},
    Question{QuestionKey::adjust, "adjust",
             "How is the height of a stand changed: screws, shims or not at all?",
             "screws, with their thread if you know it: screws M20\n"
             "shims, with the thicknesses on hand: shims 0.5 mm, 1 mm, 3 mm\n"
             "none: grouted and nothing to turn",
             "screws", "screws M20"},
    Question{
        QuestionKey::signal, "signal", "Analog or digital?",
        "analog: a junction box, millivolts; add the supply measured at the box if you know it\n"
        "digital: the cells send numbers, nothing can be read in millivolts",
        "analog", "analog 10 V"},
};

}  // namespace

std::span<const Question> questions() {
  return kQuestions;
}

}  // namespace weighwright::deck
