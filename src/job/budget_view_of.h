#pragma once
/// What the circuit gives, in figures and in words.

#include <vector>

#include "deck/deck.h"
#include "report/signal_view.h"
#include "signal/budget.h"

namespace weighwright::job {

/// Fills budget, its sentences and the table of cells; for analog cells only.
/// @param force_N  at which the cells' own signals are told
/// @param given    whether these forces came from a file (else they are the dead load)
void show_budget(const deck::Deck& deck,
                 const signal::SignalBudget& budget,
                 const std::vector<double>& force_N,
                 bool given,
                 report::SignalView& view);

}  // namespace weighwright::job
