#pragma once
/// Writes journals in memory, for tests: devices that see one another's entries, or do not.

#include <algorithm>
#include <map>
#include <string>
#include <vector>

#include "job/history.h"
#include "record/entry.h"

namespace weighwright::job::testing {

/// A paper trail on one or several devices. Hashes are labels here; what makes them is tested with
/// the journal.
class Pen {
 public:
  /// Writes on a device that has seen everything that is in `seen_by` of it.
  std::string write(const std::string& device, record::Draft what) {
    Device& here = devices_[device];
    record::Entry entry;
    entry.stamp.device = device;
    entry.stamp.sequence = ++here.sequence;
    entry.stamp.lamport = ++here.lamport;
    entry.stamp.time_ms = 1'764'000'000'000 + 60'000 * static_cast<std::int64_t>(entries_.size());
    entry.stamp.author = "A. Tester";
    for (const auto& [other, head] : here.heads) {
      if (other != device) entry.seen.push_back(head);
    }
    entry.what = std::move(what);
    std::string number = std::to_string(entries_.size() + 1);
    entry.hash = std::string(64 - number.size(), '0') + number;
    here.heads[device] = {.device = device, .sequence = entry.stamp.sequence, .hash = entry.hash};
    entries_.push_back(entry);
    return entry.hash;
  }

  /// Both have what either has.
  void merge(const std::string& a, const std::string& b) {
    Device both = devices_[a];
    for (const auto& [device, head] : devices_[b].heads) {
      record::Head& known = both.heads[device];
      if (head.sequence > known.sequence) known = head;
    }
    const std::int64_t lamport = std::max(devices_[a].lamport, devices_[b].lamport);
    for (const std::string& device : {a, b}) {
      devices_[device].heads = both.heads;
      devices_[device].lamport = lamport;
    }
  }

  /// Everything, in the total order.
  [[nodiscard]] std::vector<Kept> all() const {
    std::vector<record::Entry> sorted = entries_;
    std::sort(sorted.begin(), sorted.end(), record::before);
    std::vector<Kept> kept;
    for (record::Entry& entry : sorted)
      kept.push_back({.entry = std::move(entry), .intact = true, .problem = {}});
    return kept;
  }

  std::vector<record::Entry>& entries() { return entries_; }

 private:
  struct Device {
    std::int64_t sequence = 0;
    std::int64_t lamport = 0;
    std::map<std::string, record::Head> heads;
  };
  std::map<std::string, Device> devices_;
  std::vector<record::Entry> entries_;
};

inline record::Draft note(const std::string& text) {
  return {.kind = "note", .fields = {{"text", text}}, .corrects = {}};
}

inline record::Draft tick(const std::string& name, const std::string& on = "yes") {
  return {.kind = "tick", .fields = {{"name", name}, {"on", on}}, .corrects = {}};
}

inline record::Draft undo(const std::string& hash) {
  return {.kind = "undo", .fields = {{"of", hash}}, .corrects = {}};
}

inline record::Draft table(const std::string& text, const std::string& file = "table.csv") {
  return {.kind = "measurement", .fields = {{"file", file}, {"text", text}}, .corrects = {}};
}

inline record::Draft correction(record::Draft draft, const std::string& of) {
  draft.corrects = of;
  return draft;
}

inline record::Draft visit(const std::string& reason) {
  return {.kind = "visit", .fields = {{"reason", reason}}, .corrects = {}};
}

}  // namespace weighwright::job::testing
