#pragma once
/// All evidence together: likely faults, the next measurement that tells them apart, what not to
/// touch meanwhile.

#include <optional>
#include <vector>

#include "diagnose/diagnose.h"
#include "job/load_deck.h"
#include "record/measurement.h"
#include "report/diagnose_view.h"
#include "units/diagnostic.h"

namespace weighwright::job {

struct DiagnoseRequest {
  InputFile deck;
  std::vector<InputFile> files;   // what is measured now, in order
  std::vector<InputFile> before;  // of an earlier visit, when all was right
  bool grouted = false;
};

struct DiagnoseAnswer {
  std::optional<report::DiagnoseView> view;  // empty when there are faults
  units::Diagnostics faults;
};

[[nodiscard]] DiagnoseAnswer diagnose_case(const DiagnoseRequest& request);

/// The same of events that are parsed already.
[[nodiscard]] DiagnoseAnswer diagnose_events(const deck::Deck& deck,
                                             const statics::Model& model,
                                             const std::vector<record::Measurement>& before,
                                             const std::vector<record::Measurement>& now,
                                             const diagnose::Context& context);

/// A diagnosis in words.
[[nodiscard]] report::DiagnoseView view_of(const deck::Deck& deck,
                                           const diagnose::Case& evidence,
                                           const diagnose::Diagnosis& diagnosis);

}  // namespace weighwright::job
