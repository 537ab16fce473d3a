#include "job/report_case.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "job/ask_forms.h"
#include "job/drawn_deck.h"
#include "job/job_open.h"
#include "job/paper_check.h"
#include "job/practice_remark.h"
#include "job/report_parts.h"
#include "job/rules_list.h"
#include "job/site_proof.h"
#include "job/writing.h"
#include "journal/chains.h"
#include "journal/entry_hash.h"
#include "journal/journal.h"
#include "report/exchange/exchange.h"
#include "report/paper/paper.h"

namespace weighwright::job {
namespace {

struct PaperName {
  PaperKind kind;
  std::string_view code;
  const char* media;
  const char* ending;
};

constexpr std::array kPapers = {PaperName{PaperKind::report, "report", "application/pdf", "pdf"},
                                PaperName{PaperKind::sheet, "sheet", "application/pdf", "pdf"},
                                PaperName{PaperKind::dcc, "dcc", "application/xml", "xml"},
                                PaperName{PaperKind::csv, "csv", "text/csv; charset=utf-8", "csv"},
                                PaperName{PaperKind::plan, "plan", "image/svg+xml", "svg"},
                                PaperName{PaperKind::chart, "chart", "image/svg+xml", "svg"},
                                PaperName{PaperKind::rules, "rules", "application/pdf", "pdf"}};

const PaperName& name_of(PaperKind kind) {
  return *std::find_if(kPapers.begin(), kPapers.end(),
                       [kind](const PaperName& paper) { return paper.kind == kind; });
}

ReportAnswer refused(const ReportRequest& request, std::string what, std::string expected) {
  return {.paper = {},
          .faults = {{.file = request.path,
                      .line = 0,
                      .column = 0,
                      .what = std::move(what),
                      .expected = std::move(expected)}}};
}

/// Letters, digits and hyphens of a report's number.
std::string file_stem(const std::string& text) {
  std::string stem;
  for (const char c : text) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
    if (plain) {
      stem += c;
    } else if (!stem.empty() && stem.back() != '-') {
      stem += '-';
    }
  }
  return stem.empty() ? "draft" : stem;
}

ReportAnswer certificate(const report::DocumentView& view,
                         const ReportRequest& request,
                         Paper paper) {
  report::Certificate made = report::print_dcc(view);
  if (!made.missing.empty()) {
    std::string list;
    for (const std::string& one : made.missing) list += (list.empty() ? "" : ", ") + one;
    return refused(request, "the certificate as XML can't be written: " + list + " is missing",
                   "job add --entry party, item, report_issued and the results of the test");
  }
  paper.bytes = std::move(made.xml);
  return {.paper = std::move(paper), .faults = {}};
}

/// Letter is the paper of the countries that go by Handbook 44, and of those that weigh in pounds.
report::PaperSize size_of(const deck::Deck& deck, const ReportRequest& request) {
  const bool letter = deck.rulebook == "H44" || deck.units == deck::UnitSystem::us;
  return request.letter.value_or(letter) ? report::PaperSize::letter : report::PaperSize::a4;
}

/// The check list of the rulebook in force.
ReportAnswer check_list(const Looked& looked,
                        const ReportRequest& request,
                        report::PaperSize size,
                        Paper paper) {
  const SiteProof proof = site_proof_of(looked.state, false);
  if (!proof.rulebook) return {.paper = {}, .faults = proof.faults};
  report::RulesView view = rules_list(*proof.rulebook, proof.standing);
  view.deck_name = looked.state.deck->deck->name;
  view.made = request.today;
  view.practice = is_practice(looked.state) ? "PRACTICE SITE - not a real scale" : "";
  paper.bytes = report::draw_pdf(view, size);
  paper.name = "rules.pdf";
  return {.paper = std::move(paper), .faults = {}};
}

}  // namespace

std::optional<PaperKind> find_paper(std::string_view code) {
  for (const PaperName& paper : kPapers) {
    if (paper.code == code) return paper.kind;
  }
  return {};
}

std::string paper_codes() {
  std::string list;
  for (const PaperName& paper : kPapers) {
    list += (list.empty() ? "" : ", ") + std::string(paper.code);
  }
  return list;
}

ReportAnswer report_of(Looked looked, const ReportRequest& request) {
  if (!looked.state.deck) {
    return refused(request, "no deck that can be read is described in it",
                   "a deck file: job add " + request.path + " deck.toml");
  }
  const PaperName& name = name_of(request.kind);
  const report::PaperSize size = size_of(*looked.state.deck->deck, request);
  Paper paper{.bytes = {}, .media = name.media, .name = {}};
  if (request.kind == PaperKind::sheet) {
    paper.bytes = report::draw_pdf(job_sheet_view(looked, request), size);
    paper.name = "job-sheet.pdf";
    return {.paper = std::move(paper), .faults = {}};
  }
  if (request.kind == PaperKind::plan) {
    std::vector<report::PatchView> patches;
    const SiteProof proof = site_proof_of(looked.state, true);
    if (proof.plan && proof.next >= 0) {
      patches = proof.plan->placements[static_cast<std::size_t>(proof.next)].patches;
    }
    paper.bytes = report::draw_plan_svg(drawn_deck(*looked.state.deck->deck), patches,
                                        "Plan of " + looked.state.deck->deck->name);
    paper.name = "plan.svg";
    return {.paper = std::move(paper), .faults = {}};
  }
  if (request.kind == PaperKind::rules) {
    return check_list(looked, request, size, std::move(paper));
  }
  const report::DocumentView view = document_view(looked, request);
  paper.name = fmt::format("{}-{}.{}", name.code, file_stem(view.number), name.ending);
  if (!view.issued.empty() &&
      (request.kind == PaperKind::report || request.kind == PaperKind::dcc)) {
    paper.number = view.number;
    paper.code = name.code;
  }
  if (request.kind == PaperKind::dcc) return certificate(view, request, std::move(paper));
  if (request.kind == PaperKind::report) {
    paper.bytes = report::draw_pdf(view, size);
    return {.paper = std::move(paper), .faults = {}};
  }
  if (!view.as_left && !view.as_found) {
    return refused(request, "nothing was tested by a rulebook in this visit",
                   "results: check,load_kg,indication_kg");
  }
  const report::ProofView& proof = view.as_left ? *view.as_left : *view.as_found;
  paper.bytes = request.kind == PaperKind::csv
                    ? report::print_results_csv(proof)
                    : report::draw_errors_svg(proof, "Errors of " + proof.deck_name);
  return {.paper = std::move(paper), .faults = {}};
}

ReportAnswer report_case(const ReportRequest& request) {
  journal::Opened opened = journal::Journal::open(request.path, journal::Access::read);
  if (!opened.journal) return {.paper = {}, .faults = std::move(opened.faults)};
  Looked looked = look_at_record(*opened.journal, request.path, request.record);
  // The job sheet says what is next; a scale that was handed over, what was left open.
  if (request.kind == PaperKind::sheet || looked.state.ticked("handed_over")) {
    looked = look_at(*opened.journal, request.path, request.record);
  }
  // That a paper was written changes no paper: drawn again it is the same.
  looked.view.heads = heads_view(journal::heads_of_site(opened.journal->entries()));
  return report_of(std::move(looked), request);
}

units::Diagnostics note_written(const std::string& path, const Paper& paper, const Writer& writer) {
  if (paper.number.empty()) return {};
  const std::string hash = journal::print_hex(journal::attachment_hash(paper.bytes));
  try {
    journal::Opened reading = journal::Journal::open(path, journal::Access::read);
    if (!reading.journal) return reading.faults;
    const History history = history_of(kept_entries(*reading.journal));
    if (find_written(history, hash) != nullptr) return {};
    reading.journal.reset();
    journal::Opened opened = journal::Journal::open(path, journal::Access::write);
    if (!opened.journal) return opened.faults;
    return append(*opened.journal, history, writer,
                  {{.kind = "report_written",
                    .fields = {{"number", paper.number},
                               {"paper", paper.code},
                               {"blake2b", hash},
                               {"size", std::to_string(paper.bytes.size())}},
                    .corrects = {}}})
        .faults;
  } catch (const journal::StorageFailure& failure) {
    return {failure.diagnostic()};
  }
}

report::JobSheetView job_sheet_view(const Looked& looked, const ReportRequest& request) {
  const report::JobView& job = looked.view;
  report::JobSheetView view;
  view.title = "Job sheet";
  view.deck_name = job.deck_name;
  view.made = request.today;
  view.headline = job.next.headline;
  view.how = job.next.how;
  view.cautions = job.next.cautions;
  view.heads = job.heads;
  view.qr = verify_command(job.heads);
  view.practice = is_practice(looked.state) ? "PRACTICE SITE - not a real scale" : "";
  view.plan = drawn_deck(*looked.state.deck->deck);
  if (job.behind.share) {
    for (const report::MoveView& move : job.behind.share->moves) {
      view.moves.push_back({.stand = move.stand,
                            .tag = move.tag,
                            .headline = move.short_form,
                            .detail = move.instruction + " " + move.jacking});
    }
    for (const report::ThenView& stand : job.behind.share->then) {
      view.then.push_back(stand.stand + ": " + stand.shown + " " + stand.shown_uncertainty + " " +
                          reading_unit(*looked.state.deck->deck));
    }
  }
  if (job.behind.trim) {
    for (const report::TrimSettingView& trim : job.behind.trim->trims) {
      view.moves.push_back({.stand = trim.trim,
                            .tag = trim.tag,
                            .headline = trim.setting,
                            .detail = trim.instruction});
    }
  }
  // Each move has its own words beside it.
  if (!view.moves.empty()) view.how.clear();
  const std::string left = handed_over_open(looked.state, looked.progress);
  if (!left.empty()) view.how.push_back(left);
  return view;
}

}  // namespace weighwright::job
