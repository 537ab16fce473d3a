#pragma once
/// Results for other programs: Digital Calibration Certificate XML with D-SI units, CSV.
///
/// Source  DCC schema 3.1.2 of the PTB (namespace https://ptb.de/dcc) with D-SI 2.1.0 / 2.2.0
///         (https://ptb.de/si); licence of the schemas: LGPL v3.

#include <string>
#include <vector>

#include "report/document_view.h"
#include "units/diagnostic.h"

namespace weighwright::report {

struct Certificate {
  std::string xml;                   // empty when something that the format must have is missing
  std::vector<std::string> missing;  // in words: "the customer's name"
};
/// UTF-8, ends with a line feed. List lengths are checked here, since the schema does not. In
/// kilograms; on a pound scale in pounds too (si:hybrid, which wants an SI unit first). Unfinished
/// or contradictory figures (k below 1, a negative U) are named in `missing`.
[[nodiscard]] Certificate print_dcc(const DocumentView& view);

/// One line a result, in the unit of the data plate: columns end in _kg, of a pound scale in _lb.
/// check, run, at, load, indication, error, limit, expanded uncertainty, coverage factor, verdict,
/// clause, kind, zero (E0), added (small weights), start, division (d), s.
/// error = P - zero - start - load; P is the indication, or indication + division/2 - added where
/// the rulebook judges before rounding and small weights were added.
///
/// kind  "error": an error of indication. "range": one number against a limit (agreement of
///       results, zero, discrimination); it stands as error, `at` says which it is; the limit of a
///       discrimination is the least that is wanted; s: standard deviation of what was compared.
///       "repeat": one of the weighings that the range above compares, run counts them. "outcome":
///       the last line; `at` is the phase, `clause` the rulebook.
[[nodiscard]] std::string print_results_csv(const ProofView& view);

}  // namespace weighwright::report
