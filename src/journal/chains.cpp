#include "journal/chains.h"

#include <algorithm>
#include <tuple>
#include <unordered_map>

#include "journal/impossible.h"
#include "record/encoding/instant.h"

namespace weighwright::journal {
namespace {

const std::string kNoPrevious(64, '0');

Problem problem_at(const LoadedEntry& loaded, ProblemKind kind, std::string what) {
  const record::Stamp& stamp = loaded.entry.stamp;
  return {.kind = kind,
          .breaks = kind != ProblemKind::clock_back && kind != ProblemKind::unknown_kind,
          .name = record::print_name(stamp),
          .sequence = stamp.sequence,
          .time_ms = stamp.time_ms,
          .what = std::move(what)};
}

std::string name_of(const std::string& device, std::int64_t sequence) {
  return record::print_name({.device = device, .sequence = sequence, .author = {}});
}

using Links = std::vector<const LoadedEntry*>;

/// One device's entries, by sequence.
class ChainCheck {
 public:
  ChainCheck(const std::string& device, const Links& links, std::vector<Problem>& problems)
      : device_(device), problems_(problems) {
    for (const LoadedEntry* one : links) by_sequence_[one->entry.stamp.sequence].push_back(one);
  }

  void run() {
    std::int64_t expected = 1;
    for (const auto& [sequence, here] : by_sequence_) {
      if (sequence > expected) gap(expected, sequence - 1, *here.front());
      for (const LoadedEntry* one : here) {
        if (one->intact) follow(*one);
      }
      fork(here);
      expected = sequence + 1;
    }
  }

 private:
  void gap(std::int64_t first, std::int64_t last, const LoadedEntry& next) {
    const bool one = first == last;
    const std::string what = one ? "it is missing"
                                 : "it and all up to " + name_of(device_, last) + " are missing (" +
                                       std::to_string(last - first + 1) + " entries)";
    problems_.push_back({.kind = ProblemKind::missing,
                         .breaks = true,
                         .name = name_of(device_, first),
                         .sequence = first,
                         .time_ms = 0,
                         .what = what + "; " + record::print_name(next.entry.stamp) +
                                 " was recorded after " + (one ? "it" : "them")});
  }

  void follow(const LoadedEntry& one) {
    const std::int64_t sequence = one.entry.stamp.sequence;
    if (sequence == 1) {
      if (one.entry.previous != kNoPrevious) {
        problems_.push_back(problem_at(one, ProblemKind::reordered,
                                       "it is the first of its chain but names one before it"));
      }
      return;
    }
    const auto before = by_sequence_.find(sequence - 1);
    if (before == by_sequence_.end()) return;  // the gap is told
    const LoadedEntry* parent = nullptr;
    bool doubtful = false;
    for (const LoadedEntry* candidate : before->second) {
      if (candidate->entry.hash == one.entry.previous) parent = candidate;
      doubtful = doubtful || !candidate->intact;
    }
    if (parent == nullptr) {
      // Where the one before is damaged, that is told already.
      if (doubtful) return;
      problems_.push_back(problem_at(*before->second.front(), ProblemKind::changed,
                                     "it is not the entry that " +
                                         record::print_name(one.entry.stamp) +
                                         " was recorded after: it was replaced"));
      return;
    }
    if (parent->intact) compare(*parent, one);
  }

  void compare(const LoadedEntry& parent, const LoadedEntry& one) {
    if (one.entry.stamp.lamport <= parent.entry.stamp.lamport) {
      problems_.push_back(problem_at(one, ProblemKind::reordered,
                                     "its place in the order is not after the one before it in its "
                                     "chain"));
    }
    if (one.entry.stamp.time_ms < parent.entry.stamp.time_ms) {
      problems_.push_back(problem_at(
          one, ProblemKind::clock_back,
          "the clock went back: it says " + record::print_instant(one.entry.stamp.time_ms) +
              ", the entry before it " + record::print_instant(parent.entry.stamp.time_ms)));
    }
  }

  void fork(const Links& here) {
    const auto intact = std::ranges::count_if(here, [](auto* one) { return one->intact; });
    if (intact < 2) return;
    // Told once, where the ways part: entries after a fork have parents that differ.
    std::unordered_map<std::string, int> of_parent;
    for (const LoadedEntry* one : here) {
      if (one->intact) ++of_parent[one->entry.previous];
    }
    for (const LoadedEntry* one : here) {
      if (!one->intact || of_parent[one->entry.previous] < 2) continue;
      problems_.push_back(problem_at(*one, ProblemKind::fork,
                                     "another entry has the same place in its chain: a copy of the "
                                     "file was worked on with the same device name"));
    }
  }

  const std::string& device_;
  std::vector<Problem>& problems_;
  std::map<std::int64_t, Links> by_sequence_;
};

/// What others know of chains, against what is there.
class Witnesses {
 public:
  explicit Witnesses(const std::map<std::string, Links>& chains) {
    for (const auto& [device, links] : chains) {
      for (const LoadedEntry* one : links) {
        last_[device] = std::max(last_[device], one->entry.stamp.sequence);
        // A damaged entry stands under the hash that it was recorded with.
        present_.insert(one->entry.hash);
        if (!one->intact) damaged_.insert(name_of(device, one->entry.stamp.sequence));
      }
    }
  }

  void hear(const record::Head& head, const std::string& witness) {
    if (present_.contains(head.hash)) return;
    const std::string name = name_of(head.device, head.sequence);
    if (damaged_.contains(name)) return;
    const auto last = last_.find(head.device);
    const std::int64_t there = last == last_.end() ? 0 : last->second;
    if (head.sequence > there) {
      Told& told = tails_[head.device];
      if (head.sequence > told.sequence) {
        told = {.sequence = head.sequence, .there = there, .witness = witness};
      }
      return;
    }
    replaced_[name] = {.sequence = head.sequence, .there = there, .witness = witness};
  }

  void tell(std::vector<Problem>& problems) const {
    for (const auto& [device, told] : tails_) {
      problems.push_back({.kind = ProblemKind::tail_lost,
                          .breaks = true,
                          .name = name_of(device, told.there + 1),
                          .sequence = told.there + 1,
                          .time_ms = 0,
                          .what = "the end of its chain is lost: " + told.witness +
                                  " knows it up to " + name_of(device, told.sequence) +
                                  ", the journal " +
                                  (told.there == 0 ? "has nothing of it"
                                                   : "ends with " + name_of(device, told.there))});
    }
    for (const auto& [name, told] : replaced_) {
      problems.push_back({.kind = ProblemKind::changed,
                          .breaks = true,
                          .name = name,
                          .sequence = told.sequence,
                          .time_ms = 0,
                          .what = "it is not the entry that " + told.witness +
                                  " knows under this name: it was replaced or is missing"});
    }
  }

 private:
  struct Told {
    std::int64_t sequence = 0;
    std::int64_t there = 0;
    std::string witness;
  };
  std::unordered_set<std::string> present_;
  std::unordered_set<std::string> damaged_;
  std::map<std::string, std::int64_t> last_;
  std::map<std::string, Told> tails_;
  std::map<std::string, Told> replaced_;
};

void tell_own(const LoadedEntry& loaded, std::vector<Problem>& problems) {
  if (loaded.problem_kind) {
    problems.push_back(problem_at(loaded, *loaded.problem_kind, loaded.problem));
  }
  if (loaded.intact && record::find_kind(loaded.entry.what.kind) == nullptr) {
    problems.push_back(problem_at(loaded, ProblemKind::unknown_kind,
                                  "its kind " + units::quote(loaded.entry.what.kind) +
                                      " is not known to this version; it is kept as it is"));
  }
}

}  // namespace

void Heads::add(std::string_view device,
                std::int64_t sequence,
                const std::string& hash,
                const std::string& previous) {
  auto place = chains_.find(device);
  if (place == chains_.end()) place = chains_.emplace(std::string(device), Chain{}).first;
  Chain& chain = place->second;
  chain.ends.erase(previous);
  followed_.insert(previous);
  if (!followed_.contains(hash)) chain.ends.emplace(hash, sequence);
  if (!chain.sequences.insert(sequence).second) chain.doubled.insert(sequence);
  chain.last = std::max(chain.last, sequence);
}

std::vector<record::Head> Heads::list() const {
  std::vector<record::Head> heads;
  for (const auto& [device, chain] : chains_) {
    const std::size_t first = heads.size();
    for (const auto& [hash, sequence] : chain.ends) {
      if (sequence != chain.last && !chain.doubled.contains(sequence)) continue;
      heads.push_back({.device = device, .sequence = sequence, .hash = hash});
    }
    std::ranges::sort(heads.begin() + static_cast<std::ptrdiff_t>(first), heads.end(),
                      [](const record::Head& a, const record::Head& b) {
                        return std::tie(a.sequence, a.hash) < std::tie(b.sequence, b.hash);
                      });
  }
  return heads;
}

std::vector<record::Head> heads_of(const std::vector<LoadedEntry>& entries) {
  Heads heads;
  for (const LoadedEntry& one : entries) {
    if (!one.intact) continue;
    heads.add(one.entry.stamp.device, one.entry.stamp.sequence, one.entry.hash, one.entry.previous);
  }
  return heads.list();
}

std::vector<record::Head> heads_of_site(const std::vector<LoadedEntry>& entries) {
  std::map<std::string, std::int64_t> last;
  for (const LoadedEntry& one : entries) {
    if (!one.intact || record::is_of_record(one.entry.what.kind)) continue;
    std::int64_t& sequence = last[one.entry.stamp.device];
    sequence = std::max(sequence, one.entry.stamp.sequence);
  }
  Heads heads;
  for (const LoadedEntry& one : entries) {
    const record::Stamp& stamp = one.entry.stamp;
    const auto found = last.find(stamp.device);
    if (!one.intact || found == last.end() || stamp.sequence > found->second) continue;
    heads.add(stamp.device, stamp.sequence, one.entry.hash, one.entry.previous);
  }
  return heads.list();
}

std::vector<ChainSummary> summaries_of(const std::vector<LoadedEntry>& entries) {
  std::map<std::string, ChainSummary> chains;
  for (const LoadedEntry& one : entries) {
    if (!one.intact) continue;
    const record::Stamp& stamp = one.entry.stamp;
    ChainSummary& chain = chains[stamp.device];
    chain.device = stamp.device;
    ++chain.entries;
    if (!one.entry.key.empty()) {
      ++chain.signed_entries;
      chain.key = one.entry.key;
    }
    if (std::ranges::find(chain.authors, stamp.author) == chain.authors.end()) {
      chain.authors.push_back(stamp.author);
    }
  }
  std::vector<ChainSummary> list;
  for (auto& [device, chain] : chains) list.push_back(std::move(chain));
  return list;
}

std::vector<Problem> problems_of(const std::vector<LoadedEntry>& entries,
                                 const std::vector<record::Head>& expected) {
  std::vector<Problem> problems;
  std::map<std::string, Links> chains;
  for (const LoadedEntry& one : entries) {
    tell_own(one, problems);
    chains[one.entry.stamp.device].push_back(&one);
  }
  for (const auto& [hash, impossible] : impossible_of(entries)) {
    for (const LoadedEntry& one : entries) {
      if (one.entry.hash != hash) continue;
      problems.push_back(problem_at(one, ProblemKind::impossible, impossible.why));
      problems.back().breaks = impossible.blocks;
    }
  }
  Witnesses witnesses(chains);
  for (const LoadedEntry& one : entries) {
    if (!one.intact) continue;
    for (const record::Head& head : one.entry.seen) {
      witnesses.hear(head, record::print_name(one.entry.stamp));
    }
  }
  for (const record::Head& head : expected) witnesses.hear(head, "the list given");
  for (const auto& [device, links] : chains) ChainCheck(device, links, problems).run();
  witnesses.tell(problems);
  return problems;
}

}  // namespace weighwright::journal
