#include "journal/forgery.h"

#include <algorithm>
#include <map>
#include <string>
#include <unordered_set>

#include "journal/signature.h"

namespace weighwright::journal {
namespace {

bool fits(const LoadedEntry& one) {
  const auto hash = parse_hex(one.entry.hash);
  return hash && is_signed(one.entry.key, *hash, one.signature);
}

void mark(LoadedEntry& one, std::string why) {
  one.intact = false;
  one.problem_kind = ProblemKind::forged;
  one.problem = "it is forged: " + std::move(why);
}

/// The intact entries of one device, by sequence.
class Chain {
 public:
  void add(LoadedEntry& one) { links_.push_back(&one); }

  void check(Signatures signatures) {
    std::ranges::sort(links_, [](const LoadedEntry* a, const LoadedEntry* b) {
      return a->entry.stamp.sequence < b->entry.stamp.sequence;
    });
    find_key();
    if (first_ == nullptr) return;
    for (LoadedEntry* one : links_) compare(*one);
    signatures == Signatures::every ? check_every() : check_ends();
  }

 private:
  void find_key() {
    for (LoadedEntry* one : links_) {
      if (one->entry.key.empty()) continue;
      if (fits(*one)) {
        first_ = one;
        return;
      }
      mark(*one, one->signature.empty() ? "its signature is missing"
                                        : "its signature does not fit its key");
    }
  }

  /// What shows without a look at the signature itself.
  void compare(LoadedEntry& one) const {
    if (!one.intact || &one == first_) return;
    const std::string fixed = record::print_name(first_->entry.stamp);
    const bool later = one.entry.stamp.sequence > first_->entry.stamp.sequence;
    if (one.entry.key.empty()) {
      if (later) mark(one, "it is not signed, and its chain is from " + fixed + " on");
    } else if (one.entry.key != first_->entry.key) {
      mark(one, "it is signed with the key " + fingerprint(one.entry.key) + ", its chain with " +
                    fingerprint(first_->entry.key) + " from " + fixed + " on");
    } else if (one.signature.empty()) {
      mark(one, "its signature is missing");
    }
  }

  void check_every() const {
    for (LoadedEntry* one : links_) {
      if (!one->intact || one->entry.key.empty() || one == first_ || fits(*one)) continue;
      mark(*one, "its signature does not fit its key");
    }
  }

  void check_ends() const {
    std::unordered_set<std::string> vouched_for;
    for (auto at = links_.rbegin(); at != links_.rend(); ++at) {
      LoadedEntry& one = **at;
      if (!one.intact || one.entry.key.empty()) continue;
      if (&one != first_ && !vouched_for.contains(one.entry.hash) && !fits(one)) {
        mark(one, "its signature does not fit its key");
      } else {
        vouched_for.insert(one.entry.previous);
      }
    }
  }

  std::vector<LoadedEntry*> links_;
  const LoadedEntry* first_ = nullptr;  // signed, and it fits
};

}  // namespace

void mark_forged(std::vector<LoadedEntry>& entries, Signatures signatures) {
  std::map<std::string, Chain> chains;
  for (LoadedEntry& one : entries) {
    if (one.intact) chains[one.entry.stamp.device].add(one);
  }
  for (auto& [device, chain] : chains) chain.check(signatures);
}

}  // namespace weighwright::journal
