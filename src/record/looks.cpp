#include "record/looks.h"

namespace weighwright::record {

const std::vector<LookRule>& looks() {
  static const std::vector<LookRule> list = {
      {"bearing_gap", LookAt::joint_side, "does a feeler gauge go in under the bearing?"},
      {"plate_moves", LookAt::stand,
       "does the plate or pad move, or a feeler go in under it, when a load comes over it?"},
      {"end_touches", LookAt::end,
       "is the gap at the end of the deck packed, or does the deck touch the end wall?"},
      {"deck_touches", LookAt::module,
       "does the module rest on or come near anything but its stands (debris, ice, pipe, slab)?"},
      {"wet", LookAt::stand_or_box,
       "is there water or damp in the cell's gland, its lead or the box?"},
      {"lead_loose", LookAt::stand,
       "is a core of the cell's lead loose, broken or corroded at the terminal?"},
      {"follows_cell", LookAt::stand,
       "with this cell's lead and a neighbour's exchanged in the box: does the fault go with the "
       "cell?"},
      {"colours_wrong", LookAt::stand,
       "are the signal cores of the cell on each other's terminals?"},
      {"label_differs", LookAt::stand,
       "does the cell's label differ from the deck file (capacity, output, resistance)?"},
      {"answers_elsewhere", LookAt::stand,
       "with only this stand loaded or lifted: does another stand's reading move?"},
      {"rocker_tilted", LookAt::stand,
       "is the cell or rocker out of plumb, off its seat, or a rod at it not level?"},
      {"creeps", LookAt::stand,
       "does the cell's reading creep for minutes after a load is put on or taken off?"},
      {"sense_loose", LookAt::whole,
       "is a sense or supply core loose or corroded between box and indicator?"},
      {"deck_laden", LookAt::module,
       "is there snow, mud, stone or anything else on the module that was not there?"},
      {"panel_missing", LookAt::module,
       "is a panel or fitting of the module missing that was there?"},
      {"bolts_loose", LookAt::module, "are bolts of the module's halves loose?"},
      {"lightning", LookAt::whole, "did lightning or welding happen here since it was right?"},
      {"box_connected", LookAt::whole,
       "was every cell read with the others still connected in the box?"},
      {"people_on_deck", LookAt::whole, "did anybody stand on the deck while it was read?"},
      {"trims_apart", LookAt::whole, "do the trims in the box stand far apart from one another?"},
      {"tracking_on", LookAt::whole, "is zero tracking or a filter of the indicator on?"},
      {"screen_both_ends", LookAt::whole,
       "is a cable screen grounded at both ends, or the deck grounded through one?"},
      {"silent", LookAt::stand, "does the digital cell not answer at its address?"},
      {"address_doubled", LookAt::stand,
       "does the digital cell answer at another cell's address too?"},
  };
  return list;
}

const LookRule* find_look(std::string_view code) {
  for (const LookRule& rule : looks()) {
    if (rule.code == code) return &rule;
  }
  return nullptr;
}

}  // namespace weighwright::record
