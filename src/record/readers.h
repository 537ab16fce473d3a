#pragma once
/// The rows of each family of files to a measurement. Called by csv.cpp alone; the public face is
/// csv.h. Faults go to the list; the value is then not to be used.

#include "record/fault_list.h"
#include "record/measurement.h"
#include "record/row_reader.h"

namespace weighwright::record {

/// Readings, turns, heights, gaps, map.
[[nodiscard]] Measurement read_sharing_file(Body body, FaultList& faults);

/// Shift readings, loads as a whole.
[[nodiscard]] Measurement read_load_file(Body body, FaultList& faults);

/// Trims set in the box.
[[nodiscard]] Measurement read_trim_file(Body body, FaultList& faults);

/// Resistances and voltages of cells, forces on stands.
[[nodiscard]] Measurement read_cell_file(Body body, FaultList& faults);

/// Zero over time, looks.
[[nodiscard]] Measurement read_visit_file(Body body, FaultList& faults);

/// Test weights and vehicles at hand.
[[nodiscard]] Measurement read_weight_file(Body body, FaultList& faults);

/// Lines of tests by a rulebook.
[[nodiscard]] Measurement read_proof_file(Body body, FaultList& faults);

}  // namespace weighwright::record
