#include <fmt/format.h>

#include <utility>

#include "job/asks.h"
#include "job/chain_words.h"
#include "job/counters.h"
#include "job/danger_words.h"
#include "job/diagnose_case.h"
#include "job/entry_words.h"
#include "job/job_case.h"
#include "job/job_open.h"
#include "job/look.h"
#include "job/move_table.h"
#include "job/record_words.h"
#include "job/site_advice.h"
#include "job/site_state.h"
#include "job/speak.h"
#include "job/steps.h"
#include "job/ticks.h"
#include "journal/founding.h"
#include "journal/journal.h"

namespace weighwright::job {
namespace {

std::vector<int> numbers_of(const std::vector<int>& lines) {
  std::vector<int> numbers;
  numbers.reserve(lines.size());
  for (const int line : lines) numbers.push_back(line + 1);
  return numbers;
}

const char* code_of(StepState state) {
  switch (state) {
    case StepState::done:
      return "done";
    case StepState::open:
      return "open";
    case StepState::blocked:
      return "blocked";
    case StepState::not_needed:
      return "not_needed";
  }
  return "";
}

report::ActionView action_view(const Action& action, const std::string& path) {
  report::ActionView view{.step = action.step,
                          .code = action.code,
                          .headline = action.headline,
                          .how = action.how,
                          .cautions = action.cautions,
                          .then_type = action.then_type,
                          .table = {},
                          .entries = numbers_of(action.lines),
                          .asks = {}};
  const auto named = [&](std::string& text) {
    for (std::size_t at = text.find("JOB"); at != std::string::npos; at = text.find("JOB", at)) {
      text.replace(at, 3, path);
      at += path.size();
    }
  };
  named(view.then_type);
  for (std::string& sentence : view.how) named(sentence);
  return view;
}

/// What can't be judged is told, not assumed.
void warn_of_unknown_cells(const LoadedDeck& loaded, std::vector<std::string>& warnings) {
  std::vector<std::string> capacity;
  std::vector<std::string> output;
  for (const NotKnown& lacks : loaded.not_known) {
    (lacks.capacity ? capacity : output).push_back(units::print(lacks.stand));
  }
  if (!capacity.empty()) {
    warnings.push_back("Nobody knows the capacity of the cell under " + all_of(capacity) +
                       ": what it reads in mV or counts is not judged, nor whether a load is too "
                       "much for it.");
  }
  if (!output.empty()) {
    warnings.push_back("Nobody knows the output of the cell under " + all_of(output) +
                       ": what it reads in mV is not judged.");
  }
}

std::vector<report::StandCellView> cells_view(const SiteState& state) {
  const auto view_of = [](const CellThere& cell) {
    return report::StandCellView::Cell{
        .serial = cell.serial, .certificate = cell.certificate, .entry = cell.line + 1};
  };
  std::vector<report::StandCellView> list;
  for (std::size_t i = 0; i < state.cells.size(); ++i) {
    const StandCells& stand = state.cells[i];
    report::StandCellView view;
    view.stand = units::print(units::StandIndex{static_cast<int>(i)});
    view.now = view_of(stand.now());
    view.terminal = stand.now().terminal;
    if (stand.capacity.how == SaidFigure::How::unknown) view.not_known.emplace_back("capacity");
    if (stand.output.how == SaidFigure::How::unknown) view.not_known.emplace_back("output");
    for (std::size_t j = 0; j + 1 < stand.list.size(); ++j) {
      view.before.push_back(view_of(stand.list[j]));
    }
    list.push_back(std::move(view));
  }
  return list;
}

std::vector<std::string> warnings_of(const SiteState& state) {
  std::vector<std::string> warnings = dangers_of(state);
  if (const auto tick = state.passed_over()) {
    warnings.push_back(fmt::format(
        "Entry {} goes on though a question is open: {}. What is adjusted now may chase a fault.",
        *tick + 1, state.ticks.at("nothing_found").remark));
  }
  for (const int line : state.as_found_corrected) {
    warnings.push_back(fmt::format(
        "Entry {} corrects what was read as found, after it was frozen: both are shown.",
        line + 1));
  }
  if (state.deck) warn_of_unknown_cells(*state.deck, warnings);
  for (std::string& warning : counter_warnings(state)) warnings.push_back(std::move(warning));
  return warnings;
}

void show_advice(const SiteState& state,
                 const SiteAdvice& advice,
                 const Progress& progress,
                 report::JobView& view) {
  if (progress.next.detail == Detail::share) {
    view.behind.share = advice.share.view;
    view.next.table = move_table(*advice.share.view);
  }
  if (progress.next.detail == Detail::trim) {
    view.behind.trim = advice.trim.view;
    view.next.table = move_table(*advice.trim.view);
  }
  if (progress.next.detail == Detail::span) view.behind.span = advice.span.view;
  const bool finding = progress.next.detail == Detail::diagnosis;
  if (finding && advice.diagnosis) {
    view.behind.diagnosis = view_of(*state.deck->deck, advice.diagnosed, *advice.diagnosis);
  }
}

void show_steps(const Looked& looked, const std::string& path, report::JobView& view) {
  const SiteState& state = looked.state;
  const SiteAdvice& advice = looked.advice;
  const Progress& progress = looked.progress;
  for (const Step& step : progress.steps) {
    view.steps.push_back({.code = step.code,
                          .name = step.name,
                          .state = code_of(step.state),
                          .why = step.why,
                          .entries = numbers_of(step.lines)});
  }
  if (const std::string left = handed_over_open(state, progress); !left.empty()) {
    view.warnings.push_back(left);
  }
  view.next = action_view(progress.next, path);
  view.next.asks = asks_of(state, advice, progress.next);
  for (const units::Diagnostics* faults :
       {&advice.share.faults, &advice.trim.faults, &advice.span.faults, &advice.diagnosis_faults}) {
    view.unreadable.insert(view.unreadable.end(), faults->begin(), faults->end());
  }
  if (state.deck) show_advice(state, advice, progress, view);
}

}  // namespace

Looked look_at_record(journal::Journal& journal, const std::string& path, bool with_entries) {
  Looked looked;
  const std::vector<journal::LoadedEntry> entries = journal.entries();
  looked.state = site_state_of(kept_of(entries));
  const SiteState& state = looked.state;
  report::JobView& view = looked.view;
  view.journal = journal::founding_hash(entries);
  view.path = path;
  view.began = state.service ? "service call" : "installation";
  view.entry_count = static_cast<int>(state.history.lines.size());
  view.heads = heads_view(journal.heads());
  if (state.deck) view.deck_name = state.deck->deck->name;
  if (state.deck) view.cells = cells_view(state);
  view.unreadable = state.faults;
  view.warnings = warnings_of(state);
  view.as_found = {.frozen = state.first_adjustment.has_value(),
                   .frozen_by = state.first_adjustment.value_or(-1) + 1,
                   .entries = numbers_of(state.as_found),
                   .corrected_later = numbers_of(state.as_found_corrected)};
  for (const Conflict& conflict : state.history.conflicts) {
    view.conflicts.push_back(conflict_view(conflict));
  }
  for (int i = 0; i < view.entry_count; ++i) {
    if (with_entries) view.entries.push_back(entry_view(state, i));
    const Line& line = state.history.lines[static_cast<std::size_t>(i)];
    if (line.fate != Fate::damaged) continue;
    view.damage.push_back(fmt::format("entry {}: {}", i + 1, line.problem));
  }
  if (with_entries) {
    for (const record::Entry& one : state.history.of_record) {
      view.of_record.push_back(record_entry_view(one));
    }
    view.chains = chain_views(journal::summaries_of(entries));
  }
  for (const journal::Problem& remark : journal.remarks()) {
    (remark.breaks ? view.damage : view.warnings).push_back(remark.what);
  }
  view.whole = view.damage.empty();
  return looked;
}

Looked look_at(journal::Journal& journal,
               const std::string& path,
               bool with_entries,
               diagnose::MeterMemory* memory) {
  Looked looked = look_at_record(journal, path, with_entries);
  if (looked.state.deck) looked.advice = advise_site(looked.state, memory);
  looked.progress = progress_of(looked.state, looked.advice);
  show_steps(looked, path, looked.view);
  return looked;
}

JobAnswer<report::JobView> job_look(const std::string& path, bool with_entries) {
  journal::Opened opened = journal::Journal::open(path, journal::Access::read);
  if (!opened.journal) return {.view = {}, .faults = std::move(opened.faults)};
  return {.view = look_at(*opened.journal, path, with_entries).view, .faults = {}};
}

JobAnswer<report::DiagnoseView> job_diagnose(const std::string& path) {
  journal::Opened opened = journal::Journal::open(path, journal::Access::read);
  if (!opened.journal) return {.view = {}, .faults = std::move(opened.faults)};
  const SiteState state = site_state_of(kept_entries(*opened.journal));
  if (!state.deck) {
    return {.view = {},
            .faults = {{.file = path,
                        .line = 0,
                        .column = 0,
                        .what = "no deck that can be read is described in it",
                        .expected = "a deck file: job add " + path + " deck.toml"}}};
  }
  const SiteAdvice advice = advise_site(state);
  if (!advice.diagnosis) {
    units::Diagnostics faults = advice.diagnosis_faults;
    if (faults.empty()) {
      faults.push_back({.file = path,
                        .line = 0,
                        .column = 0,
                        .what = "nothing was measured at this visit",
                        .expected = "what job next asks for"});
    }
    return {.view = {}, .faults = std::move(faults)};
  }
  return {.view = view_of(*state.deck->deck, advice.diagnosed, *advice.diagnosis), .faults = {}};
}

}  // namespace weighwright::job
