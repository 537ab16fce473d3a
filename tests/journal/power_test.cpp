// The power goes at every event that reaches a file. What was written and not flushed by then is
// kept, lost or garbage. After it the journal is opened again: nothing that append() had returned
// may be missing, no batch may be half there, verify must find nothing broken.
//
// Method  SQLite's own ("How SQLite Is Tested", section 3.3; src/test6.c), through our interface:
//         two connections, default locking. The events of one run are written down; for every one
//         of them images of the disk are made as they may be found after it.
// Limits  one model of damage; what is being written may be damaged, its neighbours in the sector
//         are not (SQLite's "powersafe overwrite"); making the file itself is not part of it (that
//         is flush and rename, new_file.h).

#include <gtest/gtest.h>
#include <sqlite3.h>

#include <cstdio>
#include <map>
#include <optional>
#include <random>
#include <set>

#include "journal/fixture.h"
#include "journal/salvage.h"
#include "journal/shim_vfs.h"

namespace weighwright::journal {
namespace {

using testing::Directory;
using testing::FileAction;
using testing::FileEvent;

struct Event {
  enum class Kind { write, truncate, sync, remove, acknowledged } kind = Kind::write;
  std::string file;  // "site.job" or "site.job-wal"
  std::int64_t offset = 0;
  std::string bytes;
  std::vector<std::string> hashes;  // acknowledged together
};

/// Which flushes reach the disk.
enum class Flushes { all, none, not_of_log };

constexpr std::size_t kSector_bytes = 4096;
constexpr int kDamages = 20;

class Disk {
 public:
  explicit Disk(std::string first) { files_["site.job"].durable = std::move(first); }

  void apply(const Event& event, Flushes flushes) {
    File& file = files_[event.file];
    switch (event.kind) {
      case Event::Kind::acknowledged:
        return;
      case Event::Kind::remove:
        if (file.durable) file.ghost = file.durable;
        file.durable.reset();
        file.pending.clear();
        file.there = false;
        return;
      case Event::Kind::sync:
        if (flushes == Flushes::none) return;
        if (flushes == Flushes::not_of_log && event.file == "site.job-wal") return;
        flush(file);
        return;
      default:
        file.there = true;
        file.pending.push_back(&event);
    }
  }

  /// As it may be found.
  std::map<std::string, std::string> after_power_loss(std::mt19937& random) const {
    std::map<std::string, std::string> found;
    for (const auto& [name, file] : files_) {
      if (auto bytes = found_of(file, random)) found[name] = std::move(*bytes);
    }
    return found;
  }

 private:
  struct File {
    std::optional<std::string> durable;
    std::optional<std::string> ghost;  // removed, but the directory was not flushed since
    std::vector<const Event*> pending;
    bool there = true;
  };

  static void put(std::string& bytes, std::size_t at, std::string_view piece) {
    if (bytes.size() < at + piece.size()) bytes.resize(at + piece.size(), '\0');
    bytes.replace(at, piece.size(), piece);
  }

  static void carry_out(std::string& bytes, const Event& event) {
    const auto at = static_cast<std::size_t>(event.offset);
    if (event.kind == Event::Kind::truncate) {
      bytes.resize(std::min(bytes.size(), at));
    } else {
      put(bytes, at, event.bytes);
    }
  }

  static void flush(File& file) {
    std::string bytes = file.durable.value_or("");
    for (const Event* event : file.pending) carry_out(bytes, *event);
    file.durable = std::move(bytes);
    file.pending.clear();
    file.ghost.reset();
  }

  static std::string garbage(const Event& event, std::mt19937& random) {
    std::string bytes = event.bytes;
    for (std::size_t at = 0; at < bytes.size();) {
      const std::size_t in_sector = (static_cast<std::size_t>(event.offset) + at) % kSector_bytes;
      const std::size_t size = std::min(kSector_bytes - in_sector, bytes.size() - at);
      if (random() % 2 == 0) {
        for (std::size_t i = 0; i < size; ++i) bytes[at + i] = static_cast<char>(random() & 0xFFU);
      }
      at += size;
    }
    return bytes;
  }

  static std::optional<std::string> found_of(const File& file, std::mt19937& random) {
    const bool name_is_sure = file.durable.has_value();
    if (!name_is_sure && (!file.there || random() % 2 == 0)) {
      return random() % 2 == 0 ? file.ghost : std::nullopt;
    }
    std::string bytes = file.durable.value_or("");
    for (const Event* event : file.pending) {
      const auto chance = random() % 4;
      if (chance == 0) continue;
      if (chance == 1 && event->kind == Event::Kind::write) {
        put(bytes, static_cast<std::size_t>(event->offset), garbage(*event, random));
      } else {
        carry_out(bytes, *event);
      }
    }
    return bytes;
  }

  std::map<std::string, File> files_;
};

/// One run of two connections that write in turn, close and open again.
struct Recording {
  std::string first;  // the file before it
  std::vector<Event> events;
};

Recording record_run() {
  const Directory directory(testing::fast_place());
  const std::string path = directory / "site.job";
  testing::created(path).reset();
  Recording recording;
  recording.first = testing::read_all(path);
  std::vector<Event>& events = recording.events;
  const testing::ShimVfs shim([&](const FileAction& action) {
    const std::string name = std::filesystem::path(action.path).filename();
    const bool ours = name == "site.job" || name == "site.job-wal";
    std::optional<Event::Kind> kind;
    if (action.event == FileEvent::write) kind = Event::Kind::write;
    if (action.event == FileEvent::truncate) kind = Event::Kind::truncate;
    if (action.event == FileEvent::sync) kind = Event::Kind::sync;
    if (action.event == FileEvent::remove) kind = Event::Kind::remove;
    if (kind && ours) {
      events.push_back({.kind = *kind,
                        .file = name,
                        .offset = action.offset,
                        .bytes = std::string(action.bytes),
                        .hashes = {}});
    }
    return SQLITE_OK;
  });
  const auto append = [&](Journal& journal, char digit, int at, std::size_t batch,
                          std::size_t size) {
    const std::vector<record::Draft> drafts(batch, testing::note(std::string(size, 'n')));
    const Appended done = journal.append(testing::device(digit), drafts, testing::minute(at));
    Event event;
    event.kind = Event::Kind::acknowledged;
    for (const record::Entry& one : done.entries) event.hashes.push_back(one.hash);
    events.push_back(event);
  };
  int at = 0;
  for (int round = 0; round < 3; ++round) {
    const auto a = testing::opened(path);
    const auto b = testing::opened(path);
    for (int i = 0; i < 3; ++i) {
      append(*a, 'a', ++at, 1, 60);
      append(*b, 'b', ++at, 3, 900);
    }
    append(*a, 'a', ++at, 2, 6000);
    if (round == 1) (void)b->attach(std::string(10'000, 'p'));
    append(*b, 'b', ++at, 1, 60);
  }
  return recording;
}

struct Tally {
  int losses = 0;
  int unreadable = 0;    // not opened, or verify finds something broken
  int half = 0;          // part of a batch
  int lost = 0;          // acknowledged and not there
  int rescued = 0;       // the transaction that was being written is damaged: rescued to a new file
  int half_rescued = 0;  // of these: part of a batch, which nobody was told of as recorded
  std::string first;     // what the first of them said
};

void look(const std::map<std::string, std::string>& found,
          const std::vector<std::vector<std::string>>& acknowledged,
          const std::vector<std::vector<std::string>>& batches,
          Tally& tally) {
  const Directory directory(testing::fast_place());
  for (const auto& [name, bytes] : found) testing::write_all(directory / name, bytes);
  ++tally.losses;
  bool of_rescue = false;
  try {
    Opened opened = Journal::open(directory / "site.job", Access::write);
    if (!opened.journal) {
      // Never written over before somebody looked at it: what a person is told to do is done.
      const Rescued rescued = rescue(directory / "site.job", directory / "rescued.job");
      opened = Journal::open(directory / "rescued.job", Access::write);
      of_rescue = rescued.faults.empty();
      tally.rescued += of_rescue ? 1 : 0;
    }
    if (!opened.journal || !opened.journal->verify().whole()) {
      ++tally.unreadable;
      const std::string why = opened.journal ? testing::told(opened.journal->verify().problems)
                                             : testing::told(opened.faults);
      if (tally.first.empty()) tally.first = why;
      return;
    }
    std::set<std::string> there;
    for (const std::string& hash : testing::hashes_of(*opened.journal)) there.insert(hash);
    const auto count = [&](const std::vector<std::string>& hashes) {
      std::size_t present = 0;
      for (const std::string& hash : hashes) present += there.contains(hash) ? 1 : 0;
      return present;
    };
    bool half = false;
    bool lost = false;
    for (const auto& batch : batches) half = half || (count(batch) % batch.size() != 0);
    for (const auto& batch : acknowledged) lost = lost || count(batch) != batch.size();
    (of_rescue ? tally.half_rescued : tally.half) += half ? 1 : 0;
    tally.lost += lost ? 1 : 0;
  } catch (const StorageFailure&) {
    ++tally.unreadable;
  }
}

Tally run(const Recording& recording, Flushes flushes, int damages) {
  Tally tally;
  Disk disk(recording.first);
  std::mt19937 random(20261125);
  std::vector<std::vector<std::string>> batches;
  std::vector<std::vector<std::string>> acknowledged;
  for (const Event& event : recording.events) {
    if (event.kind == Event::Kind::acknowledged) batches.push_back(event.hashes);
  }
  for (const Event& event : recording.events) {
    if (event.kind == Event::Kind::acknowledged) {
      acknowledged.push_back(event.hashes);
    }
    disk.apply(event, flushes);
    for (int i = 0; i < damages; ++i) {
      look(disk.after_power_loss(random), acknowledged, batches, tally);
    }
  }
  return tally;
}

void print(const char* row, const Tally& tally) {
  std::printf(
      "%-34s %7d losses of power: %5d unreadable or broken, %4d half a batch, %5d lost, %4d "
      "rescued first (%d of them with half a batch)\n",
      row, tally.losses, tally.unreadable, tally.half, tally.lost, tally.rescued,
      tally.half_rescued);
}

TEST(PowerLoss, AtEveryEventLosesNothingAcknowledged) {
  const Recording recording = record_run();
  ASSERT_GT(recording.events.size(), 150U);
  const Tally ours = run(recording, Flushes::all, kDamages);
  print("write-ahead log, synchronous FULL", ours);
  EXPECT_EQ(ours.unreadable, 0) << ours.first;
  EXPECT_EQ(ours.half, 0);
  EXPECT_EQ(ours.lost, 0);
}

// What shows that the test above can fail: the same events on disks that do not flush.
TEST(PowerLoss, IsNoticedWhereFlushesOfTheLogDoNotReachTheDisk) {
  const Tally normal = run(record_run(), Flushes::not_of_log, 5);
  print("flushes of the log ignored", normal);
  EXPECT_GT(normal.lost, 100);
}

TEST(PowerLoss, IsNoticedWhereNoFlushReachesTheDisk) {
  const Tally off = run(record_run(), Flushes::none, 5);
  print("all flushes ignored", off);
  EXPECT_GT(off.lost + off.unreadable, 500);
  EXPECT_GT(off.unreadable, 50);
}

}  // namespace
}  // namespace weighwright::journal
