#pragma once
/// How entries hang together: the heads of chains, and what is wrong in them. Values only.

#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <unordered_set>
#include <vector>

#include "journal/journal.h"

namespace weighwright::journal {

/// Heads of chains whose entries come one by one, in any order.
class Heads {
 public:
  void add(std::string_view device,
           std::int64_t sequence,
           const std::string& hash,
           const std::string& previous);

  /// By device, sequence, hash. An entry that nothing follows is a head if it is the last of its
  /// chain, or if the chain has another entry with its sequence (a fork); else the entry after it
  /// is missing, and that is no head.
  [[nodiscard]] std::vector<record::Head> list() const;

 private:
  struct Chain {
    std::map<std::string, std::int64_t> ends;  // hash -> sequence, of entries that nothing follows
    std::unordered_set<std::int64_t> sequences;
    std::unordered_set<std::int64_t> doubled;
    std::int64_t last = 0;
  };
  std::map<std::string, Chain, std::less<>> chains_;
  std::unordered_set<std::string> followed_;
};

/// Of the intact entries.
[[nodiscard]] std::vector<record::Head> heads_of(const std::vector<LoadedEntry>& entries);

/// The heads that a paper names: those of what happened on the site. Entries of the record itself
/// at the end of a chain (that a report was written, say) do not change them.
[[nodiscard]] std::vector<record::Head> heads_of_site(const std::vector<LoadedEntry>& entries);

/// One device's entries, as far as they are intact.
struct ChainSummary {
  std::string device;
  std::vector<std::string> authors;  // each once, in order
  std::int64_t entries = 0;
  std::int64_t signed_entries = 0;
  std::string key;  // that signs it, 64 hex digits; empty: not signed
};
[[nodiscard]] std::vector<ChainSummary> summaries_of(const std::vector<LoadedEntry>& entries);

/// Damaged entries, gaps, entries that do not follow the one before them, forks, chains of which
/// others know more, clocks that went back, kinds that are not known.
/// @param entries  in total order
[[nodiscard]] std::vector<Problem> problems_of(const std::vector<LoadedEntry>& entries,
                                               const std::vector<record::Head>& expected);

}  // namespace weighwright::journal
