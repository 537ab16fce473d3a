#pragma once
/// The papers of a site from its journal: test report or calibration certificate, job sheet for the
/// pit, certificate as XML, results as CSV, drawings.

#include <optional>
#include <string>
#include <string_view>

#include "job/job_case.h"
#include "job/look.h"
#include "job/site_state.h"
#include "report/document_view.h"
#include "units/diagnostic.h"

namespace weighwright::job {

enum class PaperKind { report, sheet, dcc, csv, plan, chart, rules };

/// "report", "sheet", "dcc", "csv", "plan", "chart", "rules". Empty: there is no such paper.
[[nodiscard]] std::optional<PaperKind> find_paper(std::string_view code);
[[nodiscard]] std::string paper_codes();  // "report, sheet, ..."

struct ReportRequest {
  std::string path;  // of the journal
  PaperKind kind = PaperKind::report;
  std::optional<bool> letter;  // paper size; empty: as the deck's units have it
  bool record = false;         // with every entry of the journal
  std::string today;           // ISO date and time, local: when a sheet is made
};

struct Paper {
  std::string bytes;
  std::string media;        // "application/pdf"
  std::string name;         // "report-3f9a-41.pdf"
  std::string number = {};  // of the report, where it has one and is to be shown to others
  std::string code = {};    // then: "report" or "dcc"
};

struct ReportAnswer {
  std::optional<Paper> paper;  // empty when there are faults
  units::Diagnostics faults;
};

[[nodiscard]] ReportAnswer report_case(const ReportRequest& request);

/// Records that a paper with a number was written, with the hash of its bytes, so that `job verify`
/// knows this very file. Nothing is recorded twice, and nothing of a draft. Faults: why it was not.
[[nodiscard]] units::Diagnostics note_written(const std::string& path,
                                              const Paper& paper,
                                              const Writer& writer);

/// The same from a site that was looked at, with its entries.
[[nodiscard]] ReportAnswer report_of(Looked looked, const ReportRequest& request);

/// The document as it would be drawn. @pre looked.state.deck
[[nodiscard]] report::DocumentView document_view(const Looked& looked,
                                                 const ReportRequest& request);
/// @pre looked.state.deck
[[nodiscard]] report::JobSheetView job_sheet_view(const Looked& looked,
                                                  const ReportRequest& request);

}  // namespace weighwright::job
