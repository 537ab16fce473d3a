#include "cli/verbs.h"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <ostream>

#include "cli/file_text.h"
#include "cli/interview.h"
#include "cli/job_verbs.h"
#include "cli/proof_verbs.h"
#include "cli/rehearse_verb.h"
#include "cli/serve_verb.h"
#include "job/check_case.h"
#include "job/diagnose_case.h"
#include "job/job_case.h"
#include "job/level_case.h"
#include "job/placements_case.h"
#include "job/predict_case.h"
#include "job/rules_list.h"
#include "job/share_case.h"
#include "job/signal_case.h"
#include "job/span_case.h"
#include "job/trim_case.h"
#include "report/answer_json.h"
#include "report/share_sheet.h"

namespace weighwright::cli {
namespace {

/// Reads an input; a fault is added to the list, so that all missing files are told at once.
job::InputFile read_input(const std::string& path, Streams streams, units::Diagnostics& faults) {
  FileText file = read_file_text(path, streams.in);
  if (!file.text) {
    faults.push_back(std::move(file.fault));
    return {.name = name_of_input(path), .text = {}};
  }
  return {.name = name_of_input(path), .text = std::move(*file.text)};
}

int wrong_input(const units::Diagnostics& faults, bool json, Streams streams) {
  print_faults(faults, json, streams);
  return kWrongInput;
}

units::Diagnostic file_fault(const std::string& file, std::string what, std::string expected) {
  return {.file = file,
          .line = 0,
          .column = 0,
          .what = std::move(what),
          .expected = std::move(expected)};
}

/// Standard input can be read once only.
units::Diagnostics doubled_pipe(const std::vector<std::string>& paths) {
  if (std::count(paths.begin(), paths.end(), "-") < 2) return {};
  return {file_fault("command line", "- (standard input) is named twice", "one input from a pipe")};
}

/// The deck's rulebook, to be compared with print.
int run_rules_list(const CheckVerb& verb, const job::InputFile& deck, Streams streams) {
  units::Diagnostics faults;
  std::optional<job::InputFile> variant;
  if (verb.rules) variant = read_input(*verb.rules, streams, faults);
  if (!faults.empty()) return wrong_input(faults, verb.json, streams);
  const job::RulesListAnswer answer = job::rules_list_case(deck, variant);
  if (!answer.view) return wrong_input(answer.faults, verb.json, streams);
  streams.out << (verb.json ? report::print_json(*answer.view) : report::draw_text(*answer.view));
  return kDone;
}

int run_verb(const CheckVerb& verb, Streams streams) {
  units::Diagnostics faults = doubled_pipe({verb.deck, verb.rules.value_or("")});
  const job::InputFile deck = read_input(verb.deck, streams, faults);
  if (!faults.empty()) return wrong_input(faults, verb.json, streams);
  if (verb.rules_list) return run_rules_list(verb, deck, streams);
  const job::CheckAnswer answer = job::check_case(deck);
  if (!answer.view) return wrong_input(answer.faults, verb.json, streams);
  streams.out << (verb.json ? report::print_json(*answer.view) : report::draw_text(*answer.view));
  return kDone;
}

int run_verb(const PredictVerb& verb, Streams streams) {
  units::Diagnostics faults = doubled_pipe({verb.deck, verb.heights.value_or("")});
  if (!faults.empty()) return wrong_input(faults, verb.json, streams);
  job::PredictRequest request;
  request.deck = read_input(verb.deck, streams, faults);
  if (verb.heights) request.heights = read_input(*verb.heights, streams, faults);
  request.loads = verb.loads;
  request.jack = verb.jack;
  if (!faults.empty()) return wrong_input(faults, verb.json, streams);
  const job::PredictAnswer answer = job::predict_case(request);
  if (!answer.view) return wrong_input(answer.faults, verb.json, streams);
  streams.out << (verb.json ? report::print_json(*answer.view)
                            : report::draw_text(*answer.view, verb.brief));
  return kDone;
}

/// The sheet to its file, or to standard output.
int print_sheet(const ShareVerb& verb, const std::string& sheet, int code, Streams streams) {
  if (!verb.out) {
    streams.out << sheet;
    return code;
  }
  if (std::filesystem::exists(*verb.out) && !verb.force) {
    return wrong_input(
        {file_fault(*verb.out, "the file is there already", "a new name, or --force")}, false,
        streams);
  }
  std::ofstream file(*verb.out, std::ios::binary | std::ios::trunc);
  file << sheet;
  file.close();
  if (!file) {
    print_faults({file_fault(*verb.out, "the file could not be written", "a place with room")},
                 false, streams);
    return kMachineFailed;
  }
  streams.err << "written: " << *verb.out << '\n';
  return code;
}

int run_verb(const ShareVerb& verb, Streams streams) {
  std::vector<std::string> paths = verb.files;
  paths.push_back(verb.deck);
  units::Diagnostics faults = doubled_pipe(paths);
  if (!faults.empty()) return wrong_input(faults, verb.json, streams);
  job::ShareRequest request{
      .deck = read_input(verb.deck, streams, faults), .files = {}, .map_proven = verb.map_proven};
  for (const std::string& path : verb.files) {
    request.files.push_back(read_input(path, streams, faults));
  }
  if (!faults.empty()) return wrong_input(faults, verb.json, streams);
  const job::ShareAnswer answer = job::share_case(request);
  if (!answer.view) return wrong_input(answer.faults, verb.json, streams);
  const int code = answer.view->done ? kDone : kNo;
  switch (verb.sheet) {
    case Sheet::text:
      return print_sheet(verb, report::draw_sheet_text(*answer.view), code, streams);
    case Sheet::html:
      return print_sheet(verb, report::draw_sheet_html(*answer.view), code, streams);
    case Sheet::none:
      break;
  }
  streams.out << (verb.json ? report::print_json(*answer.view) : report::draw_text(*answer.view));
  return code;
}

int run_verb(const LevelVerb& verb, Streams streams) {
  units::Diagnostics faults;
  const job::InputFile deck = read_input(verb.deck, streams, faults);
  if (!faults.empty()) return wrong_input(faults, verb.json, streams);
  const job::LevelAnswer answer = job::level_case({.deck = deck,
                                                   .stand = verb.stand,
                                                   .along = verb.along,
                                                   .across = verb.across,
                                                   .raise = verb.raise});
  if (!answer.view) return wrong_input(answer.faults, verb.json, streams);
  streams.out << (verb.json ? report::print_json(*answer.view) : report::draw_text(*answer.view));
  return kDone;
}

/// A deck file and what happened, all missing files told at once.
std::optional<std::vector<job::InputFile>> read_all(const std::string& deck,
                                                    const std::vector<std::string>& files,
                                                    bool json,
                                                    Streams streams) {
  std::vector<std::string> paths = {deck};
  paths.insert(paths.end(), files.begin(), files.end());
  units::Diagnostics faults = doubled_pipe(paths);
  std::vector<job::InputFile> inputs;
  if (faults.empty()) {
    for (const std::string& path : paths) inputs.push_back(read_input(path, streams, faults));
  }
  if (faults.empty()) return inputs;
  print_faults(faults, json, streams);
  return {};
}

int run_placements(const TrimVerb& verb, const job::InputFile& deck, Streams streams) {
  const job::PlacementsAnswer answer = job::placements_case(
      {.deck = deck, .load = verb.load, .footprint = verb.footprint, .within = verb.within});
  if (!answer.view) return wrong_input(answer.faults, verb.json, streams);
  streams.out << (verb.json ? report::print_json(*answer.view) : report::draw_text(*answer.view));
  return answer.view->possible ? kDone : kNo;
}

int run_verb(const TrimVerb& verb, Streams streams) {
  auto inputs = read_all(verb.deck, verb.files, verb.json, streams);
  if (!inputs) return kWrongInput;
  if (verb.plan) return run_placements(verb, inputs->front(), streams);
  job::TrimRequest request{.deck = inputs->front(), .files = {inputs->begin() + 1, inputs->end()}};
  const job::TrimAnswer answer = job::trim_case(request);
  if (!answer.view) return wrong_input(answer.faults, verb.json, streams);
  streams.out << (verb.json ? report::print_json(*answer.view) : report::draw_text(*answer.view));
  return answer.view->done ? kDone : kNo;
}

int run_verb(const SpanVerb& verb, Streams streams) {
  auto inputs = read_all(verb.deck, verb.files, verb.json, streams);
  if (!inputs) return kWrongInput;
  job::SpanRequest request{.deck = inputs->front(),
                           .files = {inputs->begin() + 1, inputs->end()},
                           .shared = verb.shared,
                           .trimmed = verb.trimmed,
                           .adjusted_at = verb.adjusted_at};
  const job::SpanAnswer answer = job::span_case(request);
  if (!answer.view) return wrong_input(answer.faults, verb.json, streams);
  streams.out << (verb.json ? report::print_json(*answer.view) : report::draw_text(*answer.view));
  return answer.view->done ? kDone : kNo;
}

int run_verb(const SignalVerb& verb, Streams streams) {
  units::Diagnostics faults =
      doubled_pipe({verb.deck, verb.forces.value_or(""), verb.resistances.value_or("")});
  if (!faults.empty()) return wrong_input(faults, verb.json, streams);
  job::SignalRequest request;
  request.deck = read_input(verb.deck, streams, faults);
  if (verb.forces) request.forces = read_input(*verb.forces, streams, faults);
  if (verb.resistances) request.resistances = read_input(*verb.resistances, streams, faults);
  if (!faults.empty()) return wrong_input(faults, verb.json, streams);
  const job::SignalAnswer answer = job::signal_case(request);
  if (!answer.view) return wrong_input(answer.faults, verb.json, streams);
  streams.out << (verb.json ? report::print_json(*answer.view) : report::draw_text(*answer.view));
  return answer.view->fine ? kDone : kNo;
}

int run_verb(const JobVerb& verb, Streams streams) {
  return run_job(verb, streams);
}

/// A journal holds its deck, and knows what was before.
int run_job_diagnosis(const DiagnoseVerb& verb, Streams streams) {
  if (!verb.files.empty() || !verb.before.empty()) {
    return wrong_input({file_fault("command line", "a journal is diagnosed as it is",
                                   "no FILE with it: job add " + verb.deck + " FILE first")},
                       verb.json, streams);
  }
  const auto answer = job::job_diagnose(verb.deck);
  if (!answer.view) return wrong_input(answer.faults, verb.json, streams);
  streams.out << (verb.json ? report::print_json(*answer.view) : report::draw_text(*answer.view));
  return answer.view->fine ? kDone : kNo;
}

int run_verb(const DiagnoseVerb& verb, Streams streams) {
  if (is_journal(verb.deck)) return run_job_diagnosis(verb, streams);
  if (verb.files.empty()) {
    return wrong_input(
        {file_fault("command line", "there is no FILE with what was measured",
                    "tables as share, trim and signal take them; or a journal alone")},
        verb.json, streams);
  }
  std::vector<std::string> all = verb.files;
  all.insert(all.end(), verb.before.begin(), verb.before.end());
  auto inputs = read_all(verb.deck, all, verb.json, streams);
  if (!inputs) return kWrongInput;
  const auto files = static_cast<std::ptrdiff_t>(verb.files.size());
  job::DiagnoseRequest request{.deck = inputs->front(),
                               .files = {inputs->begin() + 1, inputs->begin() + 1 + files},
                               .before = {inputs->begin() + 1 + files, inputs->end()},
                               .grouted = verb.grouted};
  const job::DiagnoseAnswer answer = job::diagnose_case(request);
  if (!answer.view) return wrong_input(answer.faults, verb.json, streams);
  streams.out << (verb.json ? report::print_json(*answer.view) : report::draw_text(*answer.view));
  return answer.view->fine ? kDone : kNo;
}

int run_verb(const RehearseVerb& verb, Streams streams) {
  return run_rehearse(verb, streams);
}

int run_verb(const ServeVerb& verb, Streams streams) {
  return run_serve(verb, streams);
}

int run_verb(const PlanVerb& verb, Streams streams) {
  return run_plan(verb, streams);
}

int run_verb(const ProveVerb& verb, Streams streams) {
  return run_prove(verb, streams);
}

int run_verb(const ReportVerb& verb, Streams streams) {
  return run_report(verb, streams);
}

int run_verb(const NewVerb& verb, Streams streams) {
  return run_interview(verb, streams);
}

int run_verb(const PrintText& verb, Streams streams) {
  streams.out << verb.text;
  return kDone;
}

int run_verb(const WrongArguments& verb, Streams streams) {
  return wrong_input({verb.fault}, verb.json, streams);
}

}  // namespace

void print_faults(const units::Diagnostics& faults, bool json, Streams streams) {
  for (const units::Diagnostic& fault : faults) streams.err << units::print(fault) << '\n';
  if (json) streams.out << report::print_json(faults);
}

int run(const Request& request, Streams streams) {
  return std::visit([&](const auto& verb) { return run_verb(verb, streams); }, request);
}

}  // namespace weighwright::cli
