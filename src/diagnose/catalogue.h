#pragma once
/// The catalogue: which faults there are, where each can be, how often it is met, what a look shows
/// and what must be left alone meanwhile.
///
/// Priors and chances: hand estimates, no source; all of them stand in catalogue.cpp.

#include <string>
#include <string_view>
#include <vector>

#include "deck/deck.h"
#include "diagnose/diagnose.h"
#include "statics/model.h"

namespace weighwright::diagnose {

enum class At { whole, stand, stand_or_box, two_stands, bearing, end, module, girder };
enum class On { any, analog, digital };

/// What a look (record/looks.h) shows where the fault is.
struct Sign {
  std::string_view look;
  double found = 0.95;  // chance of "yes"
};

/// A fault, or an innocent state of a deck.
struct FaultKind {
  std::string_view code;
  At at = At::whole;
  On on = On::any;
  double met_in_service = 0.0;  // prior, all its places together
  double met_when_new = 0.0;
  bool innocent = false;
  bool mends_by_sharing = false;  // on stands that still turn
  std::vector<Adjustment> holds = {};
  std::vector<Sign> signs = {};
  double meter = 0.03;    // chance that resistances and insulation at the stand show it
  double no_load = 0.03;  // chance that the no-load reading at the stand has moved
  std::vector<std::string_view> leave = {};  // what is not to be touched
};

[[nodiscard]] const std::vector<FaultKind>& catalogue();
[[nodiscard]] const FaultKind* find_kind(std::string_view code);

/// One kind at one place of a deck.
struct Suspect {
  const FaultKind* kind = nullptr;
  std::string where;        // "2L", "bearing1R", "end1", "B left", "2L,3R", "box", ""
  std::vector<int> stands;  // two_stands: both, in order
  bool box = false;
  int bearing = -1;  // position among the bearings of the model
  int joint = -1;
  int end = -1;  // 0: end 1
  int module = -1;
  int side = -1;     // 0: left; -1: none
  std::string mark;  // of the module where something is to be looked for; empty: none
  double prior = 0.0;
};

/// Every kind at every place of this deck; priors sum to 1.
[[nodiscard]] std::vector<Suspect> suspects_of(const deck::Deck& deck,
                                               const statics::Model& model,
                                               const Context& context,
                                               bool service);

/// Chance that a look says yes if this is what is wrong.
[[nodiscard]] double chance_of_look(const Suspect& suspect,
                                    std::string_view look,
                                    std::string_view where);

/// Where a look that would show this suspect is to be taken; empty where `look` is none of its
/// signs. (A whole look has the place "-".)
[[nodiscard]] std::vector<std::string> places_to_look(const Suspect& suspect,
                                                      std::string_view look);

}  // namespace weighwright::diagnose
