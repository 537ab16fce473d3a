#include "job/test_step.h"

#include <fmt/format.h>

#include <algorithm>

#include "job/rulebook_of.h"

namespace weighwright::job {
namespace {

using report::PlacementView;
using report::ProofView;

constexpr const char* kTestCaution =
    "Loads are driven, lifted and rigged by licensed people only, by the local code; nobody on, "
    "below "
    "or beside the deck while one moves.";

Action action_of(const char* code, std::string headline, const char* then_type) {
  Action action;
  action.step = "prove";
  action.code = code;
  action.headline = std::move(headline);
  action.then_type = then_type;
  return action;
}

TestStep open(std::string why, Action action, std::vector<int> lines) {
  TestStep step;
  step.why = std::move(why);
  step.action = std::move(action);
  step.action.lines = lines;
  step.lines = std::move(lines);
  return step;
}

TestStep ask_occasion(const SiteProof& proof) {
  Action action = action_of("occasion", "Say what the test is for",
                            "job add JOB --entry occasion occasion=...");
  for (const rules::OccasionRule& rule : proof.rulebook->occasions) {
    action.names.emplace_back(rules::code_of(rule.occasion));
    action.how.push_back(fmt::format("{} - {}.", rules::code_of(rule.occasion),
                                     occasion_words(*proof.rulebook, rule.occasion)));
  }
  action.how.emplace_back("The limits depend on it. Where the local law says otherwise it holds.");
  return open("Nobody said yet what the test is for.", std::move(action), proof.lines);
}

TestStep ask_weights(const SiteProof& proof) {
  Action action = action_of("weights", "Write down the weights and vehicles at hand",
                            "job add JOB weights.csv");
  action.how = {
      "Of each weight: its name, nominal mass, class, certificate with its date of expiry; "
      "certified "
      "value and uncertainty where it has one; length and width of what it stands on.",
      "How it is handled: hand, cart, crane, fork, vehicle. Vehicles of unknown mass belong to it: "
      "they serve as substitution and rolling loads.",
      "A standard without a valid certificate is no standard."};
  return open("No test weights are on record.", std::move(action), proof.lines);
}

TestStep impossible(const SiteProof& proof) {
  Action action = action_of("test_plan", "The test can't be made with these weights",
                            "job add JOB weights.csv");
  for (const report::PlanFindingView& finding : proof.plan->findings) {
    if (!finding.blocks) continue;
    action.how.push_back(finding.clause.empty() ? finding.sentence
                                                : finding.sentence + " (" + finding.clause + ")");
  }
  return open(proof.plan->headline, std::move(action), proof.lines);
}

std::string zero_words(const PlacementView& placement) {
  if (placement.read_zero_before && placement.read_zero_after) {
    return "Read zero before, and again when the load is off.";
  }
  if (placement.read_zero_before) return "Read zero before.";
  if (placement.read_zero_after) return "Read zero when the load is off.";
  return "";
}

std::string said_of(const report::ProofLineView& line) {
  return line.where.empty() ? line.name : line.name + " " + line.where;
}

/// Beyond its limit, by whatever rule.
bool is_beyond(const report::ProofLineView& line) {
  return line.verdict == "fail" || line.verdict == "conditional_fail";
}

/// Within its limit, inside the guard band.
bool is_inside_band(const report::ProofLineView& line) {
  return line.verdict == "conditional_pass" || line.verdict == "not_accepted";
}

/// Lines and agreements that failed so far.
std::vector<std::string> failures(const ProofView& verdict) {
  std::vector<std::string> list;
  for (const report::ProofLineView& line : verdict.lines) {
    if (is_beyond(line)) list.push_back(said_of(line));
  }
  for (const report::ProofRangeView& range : verdict.ranges) {
    if (range.verdict == "fail") list.push_back(range.name);
  }
  return list;
}

std::string joined(const std::vector<std::string>& list, std::size_t most) {
  std::string text;
  for (std::size_t i = 0; i < std::min(list.size(), most); ++i) {
    text += (i == 0 ? "" : "; ") + list[i];
  }
  if (list.size() > most) text += fmt::format("; and {} more", list.size() - most);
  return text;
}

TestStep next_placement(const SiteProof& proof) {
  constexpr std::size_t kShown = 3;
  const auto& placements = proof.plan->placements;
  const PlacementView& placement = placements[static_cast<std::size_t>(proof.next)];
  Action action = action_of(
      "test", fmt::format("{} ({} of {})", placement.name, placement.number, placements.size()),
      "job add JOB results.csv");
  action.place = placement.at;
  action.how.push_back(placement.sentence);
  if (!zero_words(placement).empty()) action.how.push_back(zero_words(placement));
  if (!placement.because.empty()) {
    action.how.push_back(placement.because +
                         (placement.clause.empty() ? "." : " (" + placement.clause + ")."));
  }
  if (proof.verdict) {
    const auto failed = failures(*proof.verdict);
    if (!failed.empty()) {
      action.how.push_back("Failed already: " + joined(failed, kShown) +
                           ". Adjust first, unless this is to be read as found.");
    }
  }
  action.cautions = {kTestCaution};
  return open(fmt::format("Placement {} of {} is not read.", placement.number, placements.size()),
              std::move(action), proof.lines);
}

TestStep failed(const SiteProof& proof) {
  constexpr std::size_t kShown = 6;
  const ProofView& verdict = *proof.verdict;
  Action action = action_of("test_failed", "The test is not passed", "job add JOB corners.csv");
  const auto list = failures(verdict);
  if (!list.empty()) action.how.push_back("Beyond its limit: " + joined(list, kShown) + ".");
  action.how.emplace_back(
      "Places that differ are a matter of corners; all loads off by one fraction of span; a zero "
      "that does not return, up and down that differ, repeats that scatter of a cause to be "
      "found.");
  action.how.emplace_back(
      "Read the corners, or known loads, again: what follows from them comes next. What was tested "
      "before an adjustment does not count after it.");
  action.cautions = {kTestCaution};
  return open(verdict.headline, std::move(action), proof.lines);
}

/// Nothing is beyond its limit, and the decision rule wants more than that.
TestStep guarded(const SiteProof& proof) {
  constexpr std::size_t kShown = 6;
  const ProofView& verdict = *proof.verdict;
  Action action = action_of("test_guarded", "Within the limits, inside the guard band",
                            "job add JOB corners.csv");
  std::vector<std::string> list;
  for (const report::ProofLineView& line : verdict.lines) {
    if (is_inside_band(line)) list.push_back(said_of(line));
  }
  action.how.push_back("Inside the guard band: " + joined(list, kShown) + ".");
  action.how.emplace_back(
      "Bring the error nearer to zero (corners, span) and test again; or make U smaller: the "
      "budget "
      "names the term that leads.");
  action.how.emplace_back(
      "Where the customer takes it as it stands, issue the report: it says by which rule, and at "
      "how "
      "many lines.");
  action.cautions = {kTestCaution};
  return open(verdict.headline, std::move(action), proof.lines);
}

TestStep incomplete(const SiteProof& proof) {
  const ProofView& verdict = *proof.verdict;
  Action action =
      action_of("test_incomplete", "The test is not complete", "job add JOB results.csv");
  for (const report::ProofMissingView& missing : verdict.missing) {
    action.how.push_back(missing.clause.empty() ? missing.sentence
                                                : missing.sentence + " (" + missing.clause + ")");
  }
  for (const report::ProofFindingView& finding : verdict.findings) {
    if (finding.blocks) action.how.push_back(finding.sentence);
  }
  action.cautions = {kTestCaution};
  return open(verdict.headline, std::move(action), proof.lines);
}

TestStep passed(const SiteProof& proof) {
  TestStep step;
  step.state = StepState::done;
  step.why = proof.verdict->headline;
  step.lines = proof.lines;
  return step;
}

}  // namespace

TestStep test_step_of(const SiteState& /*state*/, const SiteProof& proof) {
  if (!proof.rulebook) {
    TestStep step;
    step.state = StepState::blocked;
    step.why = proof.faults.empty() ? "No rulebook." : units::print(proof.faults.front());
    step.lines = proof.lines;
    return step;
  }
  if (!proof.occasion) return ask_occasion(proof);
  if (proof.weights.empty()) return ask_weights(proof);
  if (proof.passed()) return passed(proof);
  if (proof.plan && !proof.plan->possible) return impossible(proof);
  if (proof.next >= 0) return next_placement(proof);
  if (!proof.verdict) return ask_weights(proof);
  const std::string& outcome = proof.verdict->outcome;
  if (outcome == "fail" || outcome == "conditional_fail") return failed(proof);
  if (outcome == "conditional_pass" || outcome == "not_accepted") return guarded(proof);
  return incomplete(proof);
}

TestStep report_step_of(const SiteState& state, const SiteProof& proof) {
  TestStep step;
  const int tested = proof.lines.empty() ? -1 : proof.lines.back();
  const bool issued = !state.reports.empty() && state.reports.back() > tested;
  if (issued) {
    step.state = StepState::done;
    step.why =
        "Report " +
        std::string(record::field(state.history.words(state.reports.back()).fields, "number")) +
        ".";
    step.lines = {state.reports.back()};
    return step;
  }
  Action action =
      action_of("report", "Issue the report", "job add JOB --entry report_issued number=...");
  action.step = "report";
  action.how = {
      "Customer, laboratory (your company) and who signs, what the plates say, counters and seals "
      "as "
      "left: what is not on record is named so on paper.",
      "Give it a number; then: report JOB --out report.pdf. A report that replaces an earlier one "
      "says which, and why.",
      "It is a test report. Whether the scale may be used for trade is for the authority to say."};
  if (!proof.standing.confirmed) {
    action.how.emplace_back(
        "The rulebook's numbers were not compared with print, and the report carries them as a "
        "list. "
        "To compare them with your own edition: report JOB --kind rules, then job add JOB --entry "
        "rules_confirmed.");
  }
  return open("No report was issued since the test.", std::move(action), {});
}

}  // namespace weighwright::job
