#include "journal/founding.h"

#include <algorithm>
#include <optional>
#include <set>

namespace weighwright::journal {
namespace {

bool is_hash(const std::string& text) {
  return !text.empty() && text.find_first_not_of('0') != std::string::npos;
}

/// What an entry says of the founding one. Nobody else had been seen when its chain had only these.
std::optional<std::string> named_by(const record::Entry& entry) {
  if (entry.seen.empty() && entry.stamp.sequence == 1) return entry.hash;
  if (entry.seen.empty() && entry.stamp.sequence == 2) return entry.previous;
  // Recorded by another device when there was the founding entry and nothing else.
  const bool second = entry.stamp.lamport == 2 && entry.seen.size() == 1;
  if (second && entry.seen.front().sequence == 1) return entry.seen.front().hash;
  return std::nullopt;
}

}  // namespace

std::string founding_hash(const std::vector<LoadedEntry>& entries) {
  const record::Entry* first = nullptr;
  std::string founding;
  for (const LoadedEntry& one : entries) {
    if (!one.intact || (first != nullptr && !record::before(one.entry, *first))) continue;
    const auto named = named_by(one.entry);
    if (!named || !is_hash(*named)) continue;
    first = &one.entry;
    founding = *named;
  }
  if (first != nullptr) return founding;
  // Nothing intact names it: what the columns of a damaged row say is better than nothing.
  for (const LoadedEntry& one : entries) {
    const record::Stamp& stamp = one.entry.stamp;
    if (stamp.sequence == 1 && stamp.lamport == 1 && is_hash(one.entry.hash)) {
      return one.entry.hash;
    }
  }
  return {};
}

Belonging belonging_of(const std::vector<LoadedEntry>& entries) {
  Belonging belonging{.founding = founding_hash(entries), .hashes = {}};
  for (const LoadedEntry& one : entries) {
    if (one.intact) belonging.hashes.push_back(one.entry.hash);
  }
  return belonging;
}

bool are_one_journal(const Belonging& a, const Belonging& b) {
  if (a.hashes.empty() || b.hashes.empty()) return true;
  if (!a.founding.empty() && !b.founding.empty()) return a.founding == b.founding;
  const std::set<std::string> known(a.hashes.begin(), a.hashes.end());
  return std::any_of(b.hashes.begin(), b.hashes.end(),
                     [&](const std::string& hash) { return known.contains(hash); });
}

}  // namespace weighwright::journal
