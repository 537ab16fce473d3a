#pragma once
/// [cell] and [stand.2L.cell]: what stands in the table, and what its certificate states by Y and
/// Z.

#include <optional>
#include <string>
#include <vector>

#include "deck/cell_certificate.h"
#include "deck/reading/raw_deck.h"
#include "deck/reading/table_reader.h"

namespace weighwright::deck::reading {

/// Y, Z and by which edition; each with its place in the file.
struct StatedByRatio {
  std::optional<double> y;
  std::optional<double> z;
  std::optional<CellRules> rules;
  bool rules_typed = false;  // a wrong edition has its fault already
  Position y_at;
  Position z_at;
};

/// Sets what the table gives and leaves the rest as it was; a table that states v_min or Y takes
/// the place of either that was there before (likewise DR and Z).
void read_cell(TableReader& table, Cell& cell, StatedByRatio& stated);

/// Serial number, terminal, address.
void read_papers(TableReader& table, Cell& cell);

/// Fills v_min and DR of every stand that states them as Y and Z alone, and lists them in
/// Deck::assumed. Faults: an edition or E_min that is missing. A note where v_min and Y differ.
/// @param stated  of every stand of raw.stands.each
void fill_from_ratios(RawDeck& raw, const std::vector<StatedByRatio>& stated, FaultSink& sink);

}  // namespace weighwright::deck::reading
