#include "journal/impossible.h"

#include <algorithm>

#include "record/encoding/instant.h"

namespace weighwright::journal {
namespace {

bool is_large(const LoadedEntry& one) {
  return one.entry.stamp.lamport > kMostCounted || one.entry.stamp.sequence > kMostCounted;
}

/// Order numbers of possible entries by hash, looked up only where there is a large one.
class Counted {
 public:
  explicit Counted(const std::vector<LoadedEntry>& entries)
      : wanted_(std::ranges::any_of(entries, is_large)) {}

  [[nodiscard]] bool follows(const record::Entry& entry) const {
    std::int64_t largest = of(entry.previous);
    for (const record::Head& head : entry.seen) largest = std::max(largest, of(head.hash));
    return entry.stamp.lamport <= largest + 1;
  }
  void add(const record::Entry& entry) {
    if (wanted_) lamports_.emplace(entry.hash, entry.stamp.lamport);
  }

 private:
  [[nodiscard]] std::int64_t of(const std::string& hash) const {
    const auto found = lamports_.find(hash);
    return found == lamports_.end() ? 0 : found->second;
  }
  bool wanted_;
  std::unordered_map<std::string, std::int64_t> lamports_;
};

}  // namespace

std::unordered_map<std::string, Impossible> impossible_of(const std::vector<LoadedEntry>& entries) {
  std::unordered_map<std::string, Impossible> found;
  Counted counted(entries);
  for (const LoadedEntry& one : entries) {
    if (!one.intact) continue;
    const record::Stamp& stamp = one.entry.stamp;
    if (stamp.sequence > kMostCounted) {
      found[one.entry.hash] = {.why = "its place in its chain, " + std::to_string(stamp.sequence) +
                                      ", is one that nobody reaches by counting: no entry could "
                                      "follow it",
                               .blocks = true};
    } else if (stamp.lamport > kMostCounted && !counted.follows(one.entry)) {
      found[one.entry.hash] = {.why = "its order number, " + std::to_string(stamp.lamport) +
                                      ", is one that nobody reaches by counting: no entry could "
                                      "come after it",
                               .blocks = true};
    } else {
      counted.add(one.entry);
      if (stamp.time_ms > kLastPlausible_ms) {
        found[one.entry.hash] = {.why = "its time, " + record::print_instant(stamp.time_ms) +
                                        ", is that of no clock that was set",
                                 .blocks = false};
      }
    }
  }
  return found;
}

}  // namespace weighwright::journal
