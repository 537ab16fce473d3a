#include "job/writing.h"

#include <algorithm>

#include "journal/signature.h"

namespace weighwright::job {
namespace {

/// Whether the last program that wrote in this writer's name is the one that writes now.
bool is_named(const History& history, const journal::Identity& identity, const Writer& writer) {
  const std::string key = identity.key ? journal::public_key_of(*identity.key) : std::string();
  const auto last = std::find_if(
      history.of_record.rbegin(), history.of_record.rend(), [&](const record::Entry& entry) {
        const bool own = key.empty() ? entry.stamp.device == writer.device : entry.key == key;
        return own && entry.what.kind == "program";
      });
  return last != history.of_record.rend() &&
         record::field(last->what.fields, "version") == writer.version &&
         record::field(last->what.fields, "build") == writer.build;
}

}  // namespace

journal::Identity identity_of(const Writer& writer) {
  journal::Identity identity{.device = writer.device, .author = writer.author};
  if (writer.key.size() == std::tuple_size_v<journal::KeySeed>) {
    identity.key.emplace();
    std::transform(writer.key.begin(), writer.key.end(), identity.key->begin(),
                   [](char c) { return static_cast<unsigned char>(c); });
  }
  return identity;
}

journal::Moment moment_of(const Writer& writer) {
  return {.time_ms = writer.time_ms, .offset_min = writer.offset_min};
}

journal::Appended append(journal::Journal& journal,
                         const History& history,
                         const Writer& writer,
                         std::vector<record::Draft> drafts) {
  const journal::Identity identity = identity_of(writer);
  if (!writer.version.empty() && !is_named(history, identity, writer)) {
    drafts.insert(drafts.begin(), {.kind = "program",
                                   .fields = {{"version", writer.version}, {"build", writer.build}},
                                   .corrects = {}});
  }
  return journal.append(identity, drafts, moment_of(writer));
}

}  // namespace weighwright::job
