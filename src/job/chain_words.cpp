#include "job/chain_words.h"

#include <fmt/format.h>

#include "job/writing.h"
#include "journal/signature.h"

namespace weighwright::job {
namespace {

using journal::ChainSummary;
using report::Acquaintance;

Acquaintance acquaintance(const ChainSummary& chain,
                          const std::string& own_key,
                          const KnownDevices& known) {
  if (chain.key.empty()) return Acquaintance::unsigned_chain;
  if (chain.key == own_key) return Acquaintance::own;
  const auto found = known.find(chain.device);
  if (found == known.end()) return Acquaintance::unknown;
  return found->second == chain.key ? Acquaintance::known : Acquaintance::other_key;
}

const char* words_for(Acquaintance acquaintance) {
  switch (acquaintance) {
    case Acquaintance::own:
      return "this machine's own";
    case Acquaintance::known:
      return "known on this machine";
    case Acquaintance::unknown:
      return "NOT known on this machine: compare the key with the one that the device shows";
    case Acquaintance::other_key:
      return "KNOWN ON THIS MACHINE WITH ANOTHER KEY: ask whose it is before anything rests on it";
    case Acquaintance::unsigned_chain:
      return "not signed: nothing proves who wrote it";
  }
  return "";
}

std::string authors_of(const ChainSummary& chain) {
  std::string list;
  for (const std::string& author : chain.authors) {
    list += (list.empty() ? "" : ", ") + (author.empty() ? "somebody not named" : author);
  }
  return list;
}

/// "signed with the key 3f9a-...", and what is not.
std::string signed_words(const ChainSummary& chain) {
  if (chain.key.empty()) return words_for(Acquaintance::unsigned_chain);
  std::string key = "signed with the key " + journal::fingerprint(chain.key);
  const std::int64_t bare = chain.entries - chain.signed_entries;
  if (bare == 0) return key;
  return fmt::format("{} but for the first {}, written before there were signatures", key, bare);
}

report::ChainView view_of(const ChainSummary& chain) {
  report::ChainView view{.device = chain.device,
                         .authors = chain.authors,
                         .entries = chain.entries,
                         .signed_entries = chain.signed_entries,
                         .key = chain.key,
                         .acquaintance = Acquaintance::unknown,
                         .sentence = {}};
  view.sentence =
      fmt::format("{}: {} entr{} by {}; {}", chain.device.substr(0, 8), chain.entries,
                  chain.entries == 1 ? "y" : "ies", authors_of(chain), signed_words(chain));
  return view;
}

}  // namespace

std::vector<report::ChainView> chain_views(const std::vector<ChainSummary>& chains) {
  std::vector<report::ChainView> views;
  for (const ChainSummary& chain : chains) {
    views.push_back(view_of(chain));
    views.back().sentence += ".";
  }
  return views;
}

std::vector<report::ChainView> chain_views(const std::vector<ChainSummary>& chains,
                                           const Writer& writer,
                                           const KnownDevices& known) {
  const journal::Identity identity = identity_of(writer);
  const std::string own = identity.key ? journal::public_key_of(*identity.key) : std::string();
  std::vector<report::ChainView> views;
  for (const ChainSummary& chain : chains) {
    report::ChainView view = view_of(chain);
    view.acquaintance = acquaintance(chain, own, known);
    const bool told = view.acquaintance == Acquaintance::unsigned_chain;
    view.sentence += told ? "." : std::string(", ") + words_for(view.acquaintance) + ".";
    views.push_back(std::move(view));
  }
  return views;
}

}  // namespace weighwright::job
