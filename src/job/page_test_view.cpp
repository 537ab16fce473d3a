#include "job/page_test_view.h"

#include <algorithm>
#include <cmath>

namespace weighwright::job {
namespace {

using report::PageTestLineView;
using report::PlacementView;
using report::ProofLineView;

bool same_load(double a_kg, double b_kg) {
  constexpr double kNear = 0.05;
  return std::abs(a_kg - b_kg) <= kNear * std::max(std::max(a_kg, b_kg), 1.0);
}

/// By codes: what a person reads of one place may begin like another's ("section 1", "section 10").
bool same_place(const ProofLineView& line, const PlacementView& placement) {
  return line.at == placement.at && line.heading == placement.heading;
}

/// The judged line of a placement, the latest; each serves once.
const ProofLineView* find_line(const report::ProofView& verdict,
                               const PlacementView& placement,
                               std::vector<bool>& used) {
  for (std::size_t i = verdict.lines.size(); i-- > 0;) {
    const ProofLineView& line = verdict.lines[i];
    if (used[i] || line.check != placement.check || line.run != placement.run) continue;
    if (!same_place(line, placement) || !same_load(line.load_kg, placement.load_kg)) continue;
    used[i] = true;
    return &line;
  }
  return nullptr;
}

std::string heading_of(const PlacementView& placement) {
  if (placement.heading.empty()) return placement.where;
  const std::string way = placement.heading == "to_end_1" ? "going to end 1" : "going to end 2";
  return placement.where.empty() ? way : placement.where + ", " + way;
}

PageTestLineView line_of(const PlacementView& placement) {
  PageTestLineView view;
  view.number = placement.number;
  view.check = placement.check;
  view.name = placement.name;
  view.where = heading_of(placement);
  view.at = placement.at;
  view.heading = placement.heading;
  view.sentence = placement.sentence;
  view.clause = placement.clause;
  view.required = placement.required;
  view.load_kg = placement.load_kg;
  view.limit_kg = placement.limit_kg;
  for (const report::PatchView& patch : placement.patches) {
    view.patches.push_back(
        {.x_m = patch.x_m, .y_m = patch.y_m, .along_m = patch.along_m, .across_m = patch.across_m});
  }
  return view;
}

/// On a pound scale the page rounds U itself, after it made pounds of it.
void add_result(const ProofLineView& line, bool us, PageTestLineView& view) {
  view.verdict = line.verdict;
  view.load_kg = line.load_kg;
  view.limit_kg = line.limit_kg;
  view.error_kg = line.error_kg;
  if (line.U_kg) view.U_kg = us ? *line.U_kg : report::two_digits(*line.U_kg);
}

/// What was read though no placement asked for it.
PageTestLineView extra_line(const ProofLineView& line, bool us) {
  PageTestLineView view;
  view.check = line.check;
  view.name = line.name;
  view.where = line.where;
  view.at = line.at;
  view.heading = line.heading;
  view.clause = line.clause;
  view.required = false;
  view.state = "done";
  add_result(line, us, view);
  return view;
}

/// What has no error of its own is judged with others: repeats, zero, discrimination.
const report::ProofRangeView* find_range(const report::ProofView& verdict,
                                         const PlacementView& placement) {
  for (const report::ProofRangeView& range : verdict.ranges) {
    const bool after_load = range.check == "zero" && range.load_kg > 0.0;
    if (range.check != placement.check || after_load) continue;
    if (same_load(range.load_kg, placement.load_kg)) return &range;
  }
  return nullptr;
}

void add_range(const report::ProofRangeView& range, PageTestLineView& view) {
  view.verdict = range.verdict;
  // What a display must move at least is no limit of error; the sentence tells it.
  if (!range.at_least) view.limit_kg = range.limit_kg;
}

void show_placements(const SiteProof& proof, report::PageTestView& view) {
  std::vector<bool> used(proof.verdict ? proof.verdict->lines.size() : 0, false);
  for (std::size_t i = 0; proof.plan && i < proof.plan->placements.size(); ++i) {
    PageTestLineView line = line_of(proof.plan->placements[i]);
    const bool done = i < proof.done_by.size() && proof.done_by[i] > 0;
    const bool next = static_cast<int>(i) == proof.next;
    line.state = done ? "done" : next ? "next" : "open";
    if (done && proof.verdict) {
      const ProofLineView* const found = find_line(*proof.verdict, proof.plan->placements[i], used);
      if (found != nullptr) add_result(*found, proof.verdict->us, line);
      if (line.verdict.empty() || line.verdict == "not_judged") {
        const report::ProofRangeView* const range =
            find_range(*proof.verdict, proof.plan->placements[i]);
        if (range != nullptr) add_range(*range, line);
      }
    }
    view.lines.push_back(std::move(line));
  }
  for (std::size_t i = 0; i < used.size(); ++i) {
    if (!used[i]) view.lines.push_back(extra_line(proof.verdict->lines[i], proof.verdict->us));
  }
}

}  // namespace

std::optional<report::PageTestView> page_test_view(const SiteProof& proof) {
  if (!proof.plan && !proof.verdict) return {};
  report::PageTestView view;
  if (proof.plan) {
    view.rulebook = proof.plan->rulebook;
    view.occasion_says = proof.plan->occasion_says;
    view.minutes = proof.plan->minutes;
  }
  show_placements(proof, view);
  if (!proof.verdict) return view;
  view.rulebook = proof.verdict->rulebook;
  view.occasion_says = proof.verdict->occasion_says;
  view.headline = proof.verdict->headline;
  view.outcome = proof.verdict->outcome;
  for (const auto& missing : proof.verdict->missing) view.missing.push_back(missing.sentence);
  for (const auto& finding : proof.verdict->findings) view.findings.push_back(finding.sentence);
  for (const auto& one : proof.verdict->not_part) {
    view.findings.push_back("No part of this test: " + one.sentence);
  }
  return view;
}

std::vector<std::string> papers_of(const SiteState& state, const SiteProof& proof) {
  if (!state.deck) return {};
  std::vector<std::string> list = {"report", "sheet", "plan", "rules"};
  if (!proof.verdict && proof.found.results.empty()) return list;
  list.insert(list.end(), {"chart", "csv"});
  if (!state.reports.empty()) list.emplace_back("dcc");
  return list;
}

}  // namespace weighwright::job
