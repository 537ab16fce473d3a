// Killing a writer at random instants: whatever it had told to be recorded is there.

#include <poll.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <csignal>
#include <cstdio>
#include <random>
#include <set>

#include "journal/fixture.h"

// outside check: nothing acknowledged is lost: 1000 kills, power loss at every file event, full
//  disk, errors at every step | methods of "How SQLite Is Tested", sections 3.1 to 3.4; the table
//  of its rows that must fail stands in [theory/journal.md](theory/journal.md)

namespace weighwright::journal {
namespace {

using testing::Directory;

constexpr int kKills = 1'000;
constexpr int kKillsPerFile = 40;
constexpr std::size_t kHash_bytes = 64;
constexpr int kLongest_ms = 10'000;

/// Records for ever, telling each hash over the pipe once append() has returned.
[[noreturn]] void write_until_killed(const std::string& path, int pipe, unsigned seed) {
  try {
    std::mt19937 random(seed);
    const auto journal = std::move(Journal::open(path, Access::write).journal);
    for (int i = 0; journal; ++i) {
      const std::size_t size = random() % 10 == 0 ? 9'000 : random() % 300 + 1;
      const char device = random() % 3 == 0 ? 'b' : 'a';
      const Appended done = journal->append(
          testing::device(device), {testing::note(std::string(size, 'n'))}, testing::minute(i));
      const std::string& hash = done.entries.at(0).hash;
      if (::write(pipe, hash.data(), hash.size()) != static_cast<ssize_t>(hash.size())) break;
    }
  } catch (const std::exception& error) {
    std::fprintf(stderr, "writer: %s\n", error.what());
  }
  ::_exit(3);
}

std::string drain(int pipe) {
  std::string bytes;
  std::array<char, 4096> buffer{};
  for (;;) {
    const ssize_t count = ::read(pipe, buffer.data(), buffer.size());
    if (count <= 0) return bytes;
    bytes.append(buffer.data(), static_cast<std::size_t>(count));
  }
}

/// Hashes that were told before the kill.
std::vector<std::string> kill_one(const std::string& path, unsigned seed, unsigned wait_us) {
  std::array<int, 2> ends{};
  if (::pipe(ends.data()) != 0) std::abort();
  const pid_t child = ::fork();
  if (child == 0) {
    ::close(ends[0]);
    write_until_killed(path, ends[1], seed);
  }
  ::close(ends[1]);
  // Every other one is killed among its entries, the rest at any instant from its start on.
  pollfd told_something = {.fd = ends[0], .events = POLLIN, .revents = 0};
  if (seed % 2 == 0) ::poll(&told_something, 1, kLongest_ms);
  ::usleep(wait_us);
  ::kill(child, SIGKILL);
  int status = 0;
  ::waitpid(child, &status, 0);
  EXPECT_TRUE(WIFSIGNALED(status)) << "the writer ended by itself";
  const std::string told = drain(ends[0]);
  ::close(ends[0]);
  std::vector<std::string> hashes;
  for (std::size_t at = 0; at + kHash_bytes <= told.size(); at += kHash_bytes) {
    hashes.push_back(told.substr(at, kHash_bytes));
  }
  return hashes;
}

TEST(Kill, AtRandomInstantsLosesNothingAcknowledged) {
  const Directory directory;
  std::mt19937 random(4711);
  int told = 0;
  int killed_while_empty = 0;
  std::set<std::string> acknowledged;
  std::string path;
  for (int kill = 0; kill < kKills; ++kill) {
    if (kill % kKillsPerFile == 0) {
      path = directory / (std::to_string(kill) + ".job");
      testing::created(path).reset();
      acknowledged.clear();
    }
    const auto hashes =
        kill_one(path, static_cast<unsigned>(kill), static_cast<unsigned>(random() % 30'000));
    acknowledged.insert(hashes.begin(), hashes.end());
    told += static_cast<int>(hashes.size());
    killed_while_empty += hashes.empty() ? 1 : 0;
    const auto journal = testing::opened(path, Access::read);
    ASSERT_TRUE(journal);
    const Verification verification = journal->verify();
    ASSERT_TRUE(verification.whole()) << kill << "\n" << testing::told(verification.problems);
    std::set<std::string> there;
    for (const std::string& hash : testing::hashes_of(*journal)) there.insert(hash);
    for (const std::string& hash : acknowledged) ASSERT_TRUE(there.contains(hash)) << kill;
  }
  std::printf("%d kills, %d entries acknowledged, 0 lost; %d kills before the first one\n", kKills,
              told, killed_while_empty);
  EXPECT_GT(told, kKills / 4);
}

}  // namespace
}  // namespace weighwright::journal
