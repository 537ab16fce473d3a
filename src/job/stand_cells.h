#pragma once
/// Which load cell stands under which stand, since which entry, and what is known of it.
///
/// Another cell  an entry `cell_replaced`; or a `cell_placed`, or a deck described anew, with
///               another serial number than the one on record there. Readings before it are of
///               another cell.
/// Lead          another cell's lead may sit on another terminal; so may that of a stand whose
///               terminal another one took. Which reading belongs to such a stand is to be proven
///               anew.
/// Figures       what an entry says of a cell holds until a later entry, or a deck described anew
///               that changes this very figure. What nobody says of a cell that was put in is
///               taken as of the one before, and told as assumed.

#include <optional>
#include <string>
#include <vector>

#include "deck/deck.h"
#include "job/cell_entry.h"
#include "job/load_deck.h"

namespace weighwright::job {

/// A cell that stands, or stood, under a stand.
struct CellThere {
  int line = -1;            // the entry that says so; -1: the deck file, or nobody
  bool put_in = false;      // in the place of the one before
  std::string serial;       // as typed, "unknown" too; empty: nobody said
  std::string certificate;  // likewise
  std::string terminal;     // empty: not known
};

struct StandCells {
  std::vector<CellThere> list;  // in order; the last stands there now; never empty
  int cell_from = -1;           // since which entry it is another cell; -1: it never changed
  int lead_from = -1;           // since which entry its lead may sit elsewhere
  SaidFigure capacity;          // unsaid: as the deck describes it
  SaidFigure output;
  SaidFigure input_ohm;
  SaidFigure output_ohm;
  bool capacity_of_before = false;  // nobody said that of the cell that was put in
  bool output_of_before = false;
  [[nodiscard]] const CellThere& now() const { return list.back(); }
};

/// Names of the stands whose cell has no serial number on record, not even an unknown one.
[[nodiscard]] std::vector<std::string> stands_without_serial(const std::vector<StandCells>& cells);

class CellBook {
 public:
  /// The deck was described, or described anew. @return whether another cell stands somewhere
  bool describe(int line, const deck::Deck& deck);
  /// @pre entry.stand, and a deck was described
  /// @return whether another cell stands there
  bool take(int line, const CellEntry& entry);
  /// The deck with these cells, what is assumed of them, and what nobody knows. @pre loaded.deck
  void put_into(LoadedDeck& loaded) const;
  [[nodiscard]] const std::vector<StandCells>& stands() const { return stands_; }
  /// Whether an entry said anything.
  [[nodiscard]] bool said() const { return said_; }

 private:
  static void change(StandCells& stand, int line);
  void connect(std::size_t stand, int line, const std::string& terminal);

  std::vector<StandCells> stands_;
  std::vector<deck::Cell> described_;  // by the deck last
  std::vector<int> boxes_;             // which box each stand's lead goes to
  bool said_ = false;
};

}  // namespace weighwright::job
