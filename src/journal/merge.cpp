#include "journal/merge.h"

#include <algorithm>
#include <map>
#include <set>
#include <unordered_set>

#include "journal/gathering.h"
#include "journal/impossible.h"
#include "journal/signature.h"
#include "journal/store.h"
#include "record/encoding/entry_text.h"

namespace weighwright::journal {
namespace {

LoadedEntry loaded_from(const Row& row) {
  LoadedEntry loaded;
  record::ParsedContent parsed = record::parse_content(row.content);
  loaded.intact = parsed.entry.has_value();
  if (parsed.entry) loaded.entry = std::move(*parsed.entry);
  loaded.entry.previous = print_hex(row.previous);
  loaded.entry.hash = print_hex(row.hash);
  loaded.signature = row.signature;
  return loaded;
}

/// What comes in, looked at together with what is here.
class Incoming {
 public:
  Incoming(Journal& into, const Gathered& gathered, const Receiver& receiver, std::string file)
      : identity_(receiver.identity), file_(std::move(file)) {
    for (LoadedEntry& one : into.entries()) {
      if (!one.intact) continue;  // as told before; nothing rests on it
      here_.insert(one.entry.hash);
      devices_.insert(one.entry.stamp.device);
      all_.push_back(std::move(one));
    }
    for (const Row& row : gathered.rows) {
      LoadedEntry one = loaded_from(row);
      if (!here_.contains(one.entry.hash)) all_.push_back(std::move(one));
    }
    put_in_order(all_);
    for (const LoadedEntry& one : all_) {
      if (one.entry.what.kind != kChainClosed) continue;
      closed_.emplace(record::field(one.entry.what.fields, "device"), one.entry.key);
    }
  }

  [[nodiscard]] units::Diagnostics faults() {
    mark_forged(all_, Signatures::ends);
    const auto impossible = impossible_of(all_);
    for (const LoadedEntry& one : all_) {
      const auto found = impossible.find(one.entry.hash);
      if (!one.intact) {
        tell(one, one.problem);
      } else if (found != impossible.end() && !is_here(one)) {
        tell(one, found->second.why);
      }
    }
    if (identity_.key) look_for_own();
    return std::move(faults_);
  }

  /// Numbers of the receiver under which something comes that it wrote elsewhere.
  [[nodiscard]] const std::set<std::string>& own() const { return own_; }
  /// Chains that are closed already, here or in what comes.
  [[nodiscard]] const ClosedChains& closed() const { return closed_; }

 private:
  [[nodiscard]] bool is_here(const LoadedEntry& one) const {
    return here_.contains(one.entry.hash);
  }

  void look_for_own() {
    const std::vector<std::string> numbers = numbers_of(identity_, devices_);
    const std::string key = public_key_of(*identity_.key);
    for (const LoadedEntry& one : all_) {
      if (is_here(one) || !one.intact) continue;
      const std::string& device = one.entry.stamp.device;
      if (std::ranges::find(numbers, device) == numbers.end()) continue;
      if (one.entry.key == key) {
        // A closing alone says of no second copy that it was worked on: so merging the two again
        // comes to an end.
        const bool closing = one.entry.what.kind == kChainClosed;
        if (!closing && !closed_.contains({device, key})) own_.insert(device);
      } else {
        tell(one, "it is forged: it stands under the number of this device, which did not sign it");
      }
    }
  }

  void tell(const LoadedEntry& one, const std::string& what) {
    constexpr std::size_t kMost = 100;
    if (faults_.size() >= kMost) return;
    const std::string name = record::print_name(one.entry.stamp);
    faults_.push_back(
        {.file = file_,
         .what = is_here(one) ? "entry " + name +
                                    " of this journal and what comes in do not go together: " + what
                              : "entry " + name + " may not come in: " + what,
         .expected = "a copy of this job whose chains its own devices wrote; nothing was merged"});
  }

  const Identity& identity_;
  std::string file_;
  std::vector<LoadedEntry> all_;
  std::unordered_set<std::string> here_;
  std::set<std::string> devices_;  // that have a chain here
  std::set<std::string> own_;
  ClosedChains closed_;
  units::Diagnostics faults_;
};

/// The entry that closes each chain, before anything comes in.
void close_chains(Journal& into,
                  const Receiver& receiver,
                  const Incoming& incoming,
                  Merged& merged) {
  std::vector<record::Draft> drafts;
  ClosedChains closed = incoming.closed();
  const std::string key = public_key_of(*receiver.identity.key);
  for (const std::string& device : incoming.own()) {
    closed.emplace(device, key);
    drafts.push_back({.kind = std::string(kChainClosed),
                      .fields = {{"device", device}, {"why", "copy"}},
                      .corrects = {}});
  }
  const Appended closing = StoreAccess::append(StoreAccess::store(into), receiver.identity, drafts,
                                               receiver.moment, closed);
  merged.faults = closing.faults;
  if (closing.entries.empty()) return;
  merged.closed.assign(incoming.own().begin(), incoming.own().end());
  merged.goes_on_as = closing.entries.front().stamp.device;
}

}  // namespace

Merged bring_into(Journal& into,
                  const Gathered& gathered,
                  const Receiver& receiver,
                  const std::string& file) {
  Merged merged;
  merged.left = gathered.left_out;
  Incoming incoming(into, gathered, receiver, file);
  merged.faults = incoming.faults();
  if (merged.faults.empty() && !incoming.own().empty()) {
    close_chains(into, receiver, incoming, merged);
  }
  if (!merged.faults.empty()) return merged;
  const StoreAccess::Brought brought =
      StoreAccess::bring(into, gathered.rows, gathered.attachments);
  merged.came = brought.rows;
  merged.attachments = brought.attachments;
  for (Problem& one : problems_of(into.entries(), {})) {
    if (one.kind == ProblemKind::fork) merged.forks.push_back(std::move(one));
  }
  return merged;
}

Merged merge(Journal& into, Journal& from, const Receiver& receiver) {
  Merged refused;
  if (StoreAccess::store(into).access() == Access::read) {
    refused.faults.push_back(
        {.file = into.path(), .what = "the journal was opened for reading", .expected = {}});
    return refused;
  }
  const Gathered gathered = gather(from);
  refused.faults = faults_of_left_out(gathered.left_out, from.path());
  if (!refused.faults.empty()) return refused;
  return bring_into(into, gathered, receiver, from.path());
}

}  // namespace weighwright::journal
