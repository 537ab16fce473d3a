#include "job/claims.h"

#include <algorithm>
#include <cstddef>
#include <map>
#include <utility>

#include "job/clearance.h"
#include "job/job_open.h"
#include "job/release.h"
#include "job/site_advice.h"
#include "job/steps.h"

namespace weighwright::job {
namespace {

using record::Draft;
using record::field;

bool hands_over(const Draft& draft) {
  return draft.kind == "tick" && field(draft.fields, "name") == "handed_over" &&
         field(draft.fields, "on") != "no";
}

/// The journal as it would be with these drafts, written now.
std::vector<Kept> with_drafts(std::vector<Kept> kept,
                              const std::vector<Draft>& drafts,
                              const Writer& writer) {
  std::map<std::string, record::Head> heads;
  std::int64_t lamport = 0;
  for (const Kept& one : kept) {
    const record::Stamp& stamp = one.entry.stamp;
    lamport = std::max(lamport, stamp.lamport);
    record::Head& head = heads[stamp.device];
    if (stamp.sequence >= head.sequence) {
      head = {.device = stamp.device, .sequence = stamp.sequence, .hash = one.entry.hash};
    }
  }
  std::int64_t sequence = heads[writer.device].sequence;
  heads.erase(writer.device);
  for (const Draft& draft : drafts) {
    if (is_claim(draft)) continue;
    record::Entry entry;
    entry.stamp = {.device = writer.device,
                   .sequence = ++sequence,
                   .lamport = ++lamport,
                   .time_ms = writer.time_ms,
                   .offset_min = writer.offset_min,
                   .author = writer.author};
    for (const auto& [device, head] : heads) entry.seen.push_back(head);
    entry.what = draft;
    entry.hash = "not yet recorded " + std::to_string(sequence);
    kept.push_back({.entry = std::move(entry), .intact = true, .problem = {}});
  }
  return kept;
}

/// One message of everything that is lacking.
units::Diagnostic fault_of(const std::string& claim, const std::vector<Lack>& lacks) {
  std::string what;
  std::vector<std::string> rights;
  for (const Lack& lack : lacks) {
    what += (what.empty() ? "" : "; ") + lack.what;
    if (std::find(rights.begin(), rights.end(), lack.right) == rights.end()) {
      rights.push_back(lack.right);
    }
  }
  std::string right;
  for (const std::string& one : rights) right += (right.empty() ? "wanted: " : ", ") + one;
  return argument_fault(claim + ": " + what, right);
}

}  // namespace

bool is_claim(const Draft& draft) {
  return draft.kind == "clearance" || draft.kind == "release" || hands_over(draft);
}

units::Diagnostics claim_faults(const std::vector<Kept>& kept,
                                const std::vector<Draft>& drafts,
                                const Writer& writer,
                                diagnose::MeterMemory* memory) {
  units::Diagnostics faults;
  if (std::none_of(drafts.begin(), drafts.end(), is_claim)) return faults;
  const SiteState state = site_state_of(with_drafts(kept, drafts, writer));
  SiteAdvice advice;
  if (state.deck) advice = advise_site(state, memory);
  for (const Draft& draft : drafts) {
    if (draft.kind == "release") {
      record::Stamp now;
      now.time_ms = writer.time_ms;
      now.offset_min = writer.offset_min;
      const std::vector<Lack> lacks = release_lacks(state, draft.fields, now);
      if (!lacks.empty()) faults.push_back(fault_of("not released for load", lacks));
    } else if (draft.kind == "clearance") {
      const std::vector<Lack> lacks = clearance_lacks(state, advice, draft.fields);
      if (!lacks.empty()) faults.push_back(fault_of("not cleared for grout", lacks));
    } else if (hands_over(draft) && field(draft.fields, "remark").empty()) {
      const std::vector<LeftOpen> open = progress_of(state, advice).left_open;
      if (open.empty()) continue;
      faults.push_back(argument_fault("handed over with these open: " + names_of(open),
                                      "--remark that names what is left open and why; it is "
                                      "printed on the papers"));
    }
  }
  return faults;
}

Draft with_needed(Draft draft) {
  const record::KindRule* const rule = record::find_kind(draft.kind);
  if (rule == nullptr) return draft;
  for (const record::FieldRule& one : rule->fields) {
    if (!one.required || !field(draft.fields, one.name).empty()) continue;
    const std::string value(one.one_of.empty() ? "?" : one.one_of.substr(0, one.one_of.find('|')));
    const auto empty = std::find_if(draft.fields.begin(), draft.fields.end(),
                                    [&](const auto& known) { return known.first == one.name; });
    if (empty != draft.fields.end()) {
      empty->second = value;
    } else {
      draft.fields.emplace_back(one.name, value);
    }
  }
  return draft;
}

}  // namespace weighwright::job
