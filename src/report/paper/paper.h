#pragma once
/// Views on paper: PDF and SVG (Cairo, Pango). Pure: view in, bytes out; no file, no clock.
///
/// Errors: std::invalid_argument when a paper without accreditation is titled certificate, when
/// there are no words in its language; std::runtime_error when Cairo fails. A command too long for
/// a QR code is shortened there or the code left out, which the paper says. Dates in the file come
/// from the view; the same view gives the same bytes.

#include <string>
#include <vector>

#include "report/document_view.h"

namespace weighwright::report {

enum class PaperSize { a4, letter };

/// Test report or calibration certificate, with the job record when the view has one.
[[nodiscard]] std::string draw_pdf(const DocumentView& view, PaperSize size);
/// One page for the pit: moves in big type.
[[nodiscard]] std::string draw_pdf(const JobSheetView& view, PaperSize size);

/// The check list of a rulebook.
[[nodiscard]] std::string draw_pdf(const RulesView& view, PaperSize size);

/// Deck plan with stands, and what stands on it; of a placement of a test plan, say.
/// @param title  for screen readers
[[nodiscard]] std::string draw_plan_svg(const DrawnDeck& deck,
                                        const std::vector<PatchView>& patches,
                                        const std::string& title);
/// Errors over load with the limits as a staircase and whiskers of the expanded uncertainty.
[[nodiscard]] std::string draw_errors_svg(const ProofView& view, const std::string& title);

}  // namespace weighwright::report
