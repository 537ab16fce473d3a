#pragma once
/// What the meter's readings say of cells and box: causes in words, and what to measure next.

#include "report/signal_view.h"
#include "signal/electrics.h"

namespace weighwright::job {

/// Fills circuits and cautions, and adds to remarks.
void show_circuits(const signal::CircuitDiagnosis& diagnosis, report::SignalView& view);

}  // namespace weighwright::job
