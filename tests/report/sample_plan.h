#pragma once
/// An invented test plan for the tests of its text and its JSON.

#include "report/sample_document.h"

namespace weighwright::report {

inline TestPlanView sample_plan() {
  TestPlanView view;
  view.deck_name = "Tarn Quarry, outgoing lane";
  view.rulebook = "OIML R 76-1:2006";
  view.accuracy_class = "III";
  view.occasion = "new";
  view.occasion_says = "New: initial limits (R 76-1:2006, 3.5.1).";
  view.possible = true;
  view.headline = "Three placements, one vehicle move.";
  view.minutes = 42.0;
  view.least_minutes = 38.0;
  view.standards = "7 t of M1 weights are at hand; 30 t are needed, the rest by substitution.";
  PlacementView one;
  one.number = 1;
  one.check = "eccentric";
  one.name = "Eccentric load";
  one.at = "2L";
  one.where = "over 2L";
  one.weights = "W1*7";
  one.weights_kg = 7000.0;
  one.load_kg = 7000.0;
  one.limit_kg = 10.0;
  one.clause = "R 76-1:2006, 3.6.2.2";
  one.read_zero_before = true;
  one.read_zero_after = true;
  one.handling = "cart";
  one.minutes = 6.0;
  one.sentence = "Put seven weights of 1000 kg over stand 2L; the limit is 10 kg.";
  one.because = "A seventh of 60 t, 8 supports.";
  one.patches = {{7.3, 1.2, 1.2, 1.0}};
  PlacementView two = one;
  two.number = 2;
  two.at = "3L";
  two.required = false;
  two.limit_kg.reset();
  PlacementView three = one;
  three.number = 3;
  three.check = "increasing";
  three.name = "Increasing load";
  three.run = 2;
  view.placements = {one, two, three};
  view.findings = {{"over_section", 2, true, "The cart's axle exceeds what section 3 carries.", ""},
                   {"few_weights", 0, false, "The weights reach 7 t only.", "R 76-1:2006, 3.7.3"}};
  view.set_up = {"Drive the cart from the lorry once."};
  view.cautions = {"Nobody stands between cart and deck edge."};
  view.notes = {"Times are guesses."};
  view.table = "check,at,load\neccentric,2L,7000\n";
  view.plan = sample_deck();
  return view;
}

}  // namespace weighwright::report
