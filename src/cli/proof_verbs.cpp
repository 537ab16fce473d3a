#include "cli/proof_verbs.h"

#include <filesystem>
#include <ostream>

#include "cli/file_text.h"
#include "cli/writer.h"
#include "job/plan_case.h"
#include "job/prove_case.h"
#include "job/replace_file.h"
#include "job/report_case.h"
#include "job/test_papers.h"

namespace weighwright::cli {
namespace {

units::Diagnostic fault_of(const std::string& file, std::string what, std::string expected) {
  return {.file = file,
          .line = 0,
          .column = 0,
          .what = std::move(what),
          .expected = std::move(expected)};
}

int wrong_input(const units::Diagnostics& faults, bool json, Streams streams) {
  print_faults(faults, json, streams);
  return kWrongInput;
}

/// Inputs of one command; every file that can't be read is told at once.
class Inputs {
 public:
  explicit Inputs(Streams streams) : streams_(streams) {}

  job::InputFile read(const std::string& path) {
    if (path == "-" && ++pipes_ > 1) {
      faults.push_back(
          fault_of("command line", "- (standard input) is named twice", "one input from a pipe"));
      return {};
    }
    FileText file = read_file_text(path, streams_.in);
    if (!file.text) {
      faults.push_back(std::move(file.fault));
      return {.name = name_of_input(path), .text = {}};
    }
    return {.name = name_of_input(path), .text = std::move(*file.text)};
  }

  std::optional<job::InputFile> read(const std::optional<std::string>& path) {
    if (!path) return {};
    return read(*path);
  }

  /// Days since 1970-01-01; today by the clock of this machine.
  std::int64_t day(const std::optional<std::string>& text) {
    if (!text) {
      const job::Writer now = writer_now("");
      return job::today_of(now.time_ms, now.offset_min).day;
    }
    const auto day = job::read_day(*text);
    if (!day) {
      faults.push_back(
          fault_of("command line", "--date: \"" + *text + "\" is no date", "a date as 2026-11-26"));
    }
    return day.value_or(0);
  }

  units::Diagnostics faults;

 private:
  Streams streams_;
  int pipes_ = 0;
};

/// @return kDone, or what went wrong; told
int write_file(const std::string& path, const std::string& bytes, bool force, Streams streams) {
  if (std::filesystem::exists(path) && !force) {
    return wrong_input({fault_of(path, "the file is there already", "a new name, or --force")},
                       false, streams);
  }
  const std::string trouble = job::replace_file(path, bytes);
  if (!trouble.empty()) {
    print_faults({fault_of(path, trouble, "a place with room")}, false, streams);
    return kMachineFailed;
  }
  streams.err << "written: " << path << '\n';
  return kDone;
}

int write_drawings(const PlanVerb& verb, const report::TestPlanView& view, Streams streams) {
  std::error_code error;
  std::filesystem::create_directories(*verb.drawings, error);
  if (error) {
    print_faults({fault_of(*verb.drawings, "the folder can't be made", "a place with room")}, false,
                 streams);
    return kMachineFailed;
  }
  for (const job::Drawing& drawing : job::drawings_of(view)) {
    const std::string path = (std::filesystem::path(*verb.drawings) / drawing.name).string();
    const int code = write_file(path, drawing.svg, verb.force, streams);
    if (code != kDone) return code;
  }
  return kDone;
}

}  // namespace

int run_plan(const PlanVerb& verb, Streams streams) {
  Inputs inputs(streams);
  job::PlanCaseRequest request;
  request.deck = inputs.read(verb.deck);
  request.weights = inputs.read(verb.weights);
  request.rulebook = inputs.read(verb.rules);
  request.occasion = verb.occasion;
  request.day = inputs.day(verb.date);
  request.rolling = !verb.supports;
  request.extras = !verb.required_only;
  request.axle = verb.axle;
  request.repeatability = verb.repeatability;
  if (!inputs.faults.empty()) return wrong_input(inputs.faults, verb.json, streams);
  const job::PlanAnswer answer = job::plan_case(request);
  if (!answer.view) return wrong_input(answer.faults, verb.json, streams);
  if (verb.table) {
    const int code = write_file(*verb.table, answer.view->table, verb.force, streams);
    if (code != kDone) return code;
  }
  if (verb.drawings) {
    const int code = write_drawings(verb, *answer.view, streams);
    if (code != kDone) return code;
  }
  streams.out << (verb.json ? report::print_json(*answer.view) : report::draw_text(*answer.view));
  return answer.view->possible ? kDone : kNo;
}

int run_prove(const ProveVerb& verb, Streams streams) {
  Inputs inputs(streams);
  job::ProveCaseRequest request;
  request.deck = inputs.read(verb.deck);
  for (const std::string& path : verb.files) request.files.push_back(inputs.read(path));
  request.rulebook = inputs.read(verb.rules);
  request.occasion = verb.occasion.empty() && verb.found ? "as_found" : verb.occasion;
  request.as_found = verb.found;
  request.day = inputs.day(verb.date);
  request.air = verb.air;
  request.guard = verb.guard;
  request.binary = verb.binary;
  if (!inputs.faults.empty()) return wrong_input(inputs.faults, verb.json, streams);
  const job::ProveAnswer answer = job::prove_case(request);
  if (!answer.view) return wrong_input(answer.faults, verb.json, streams);
  for (const auto& [path, text] : {std::pair{verb.csv, job::results_csv(*answer.view)},
                                   std::pair{verb.chart, job::errors_svg(*answer.view)}}) {
    if (!path) continue;
    const int code = write_file(*path, text, verb.force, streams);
    if (code != kDone) return code;
  }
  streams.out << (verb.json ? report::print_json(*answer.view) : report::draw_text(*answer.view));
  return answer.view->outcome == "pass" ? kDone : kNo;
}

int run_report(const ReportVerb& verb, Streams streams) {
  const auto kind = job::find_paper(verb.kind);
  if (!kind) {
    return wrong_input({fault_of("command line", "--kind: there is no \"" + verb.kind + "\"",
                                 "one of " + job::paper_codes())},
                       false, streams);
  }
  const job::Writer now = writer_now("");
  job::ReportRequest request{.path = verb.job,
                             .kind = *kind,
                             .letter = {},
                             .record = verb.record,
                             .today = job::today_of(now.time_ms, now.offset_min).words};
  if (!verb.paper.empty()) request.letter = verb.paper == "letter";
  job::ReportAnswer answer = job::report_case(request);
  if (!answer.paper) return wrong_input(answer.faults, false, streams);
  if (verb.out == "-") {
    streams.out << answer.paper->bytes;
  } else {
    const int code =
        write_file(verb.out.value_or(answer.paper->name), answer.paper->bytes, verb.force, streams);
    if (code != kDone) return code;
  }
  // Also where the journal can only be read (an archive): the paper is there, and that is told.
  const units::Diagnostics faults = job::note_written(verb.job, *answer.paper, now);
  if (faults.empty()) return kDone;
  streams.err << "the paper is written, but the journal does not know it, so that job verify "
                 "--paper will call it not issued\n";
  print_faults(faults, false, streams);
  return kDone;
}

}  // namespace weighwright::cli
