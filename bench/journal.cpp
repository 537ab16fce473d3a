// How long a recorded fact takes to be on the disk, how long a journal takes to open, and how its
// file grows. Prints; judges nothing. Entries are our own invention.
//
// journal [directory]   on the disk of that directory (the present one by default)

#include "journal/journal.h"

#include <fcntl.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <filesystem>
#include <string>
#include <vector>

#include "journal/signature.h"

namespace {

using namespace weighwright;

double ms_of(const auto& work) {
  const auto start = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start)
      .count();
}

struct Spread {
  double median_ms = 0.0;
  double high_ms = 0.0;  // 95 of 100 are below
};

Spread spread_of(std::vector<double> times_ms) {
  std::ranges::sort(times_ms);
  return {.median_ms = times_ms[times_ms.size() / 2],
          .high_ms = times_ms[times_ms.size() * 95 / 100]};
}

/// A reading of eight stands, as typed.
record::Draft reading(int count) {
  std::string text = "stand,signal_mV\n";
  for (int section = 1; section <= 4; ++section) {
    for (const char* const side : {"L", "R"}) {
      text += std::to_string(section) + side + ",2." +
              std::to_string(100 + (count * section) % 900) + "\n";
    }
  }
  return {.kind = "measurement",
          .fields = {{"file", "reading-" + std::to_string(count) + ".csv"}, {"text", text}},
          .corrects = {}};
}

Spread fsync_of_4kB(const std::filesystem::path& directory) {
  const std::string path = directory / "plain";
  const int file = ::open(path.c_str(), O_CREAT | O_WRONLY, 0644);
  const std::string block(4096, 'x');
  std::vector<double> times_ms;
  for (int i = 0; i < 200; ++i) {
    times_ms.push_back(ms_of([&] {
      if (::write(file, block.data(), block.size()) < 0 || ::fsync(file) != 0) std::abort();
    }));
  }
  ::close(file);
  return spread_of(times_ms);
}

journal::KeySeed seed(unsigned char byte) {
  journal::KeySeed made{};
  made.fill(byte);
  return made;
}

const journal::Identity kBench = {.device = "0123456789abcdef", .author = "bench", .key = seed(1)};
const journal::Identity kOther = {.device = "fedcba9876543210", .author = "bench", .key = seed(2)};
const journal::Identity kUnsigned = {.device = "0123456789abcdef", .author = "bench"};

void fill(journal::Journal& journal, int from, int to) {
  for (int first = from; first < to; first += 100) {
    std::vector<record::Draft> drafts;
    for (int i = first; i < std::min(first + 100, to); ++i) drafts.push_back(reading(i));
    const journal::Identity& who = first % 200 == 0 ? kBench : kOther;
    if (journal.append(who, drafts, {.time_ms = 1'780'000'000'000 + first}).entries.empty()) {
      std::abort();
    }
  }
}

Spread append_one_by_one(journal::Journal& journal,
                         int count,
                         const journal::Identity& who = kBench) {
  std::vector<double> times_ms;
  for (int i = 0; i < count; ++i) {
    times_ms.push_back(ms_of(
        [&] { (void)journal.append(who, {reading(i)}, {.time_ms = 1'790'000'000'000 + i}); }));
  }
  return spread_of(times_ms);
}

/// What signing and checking one entry take, without a disk.
void signature_alone() {
  const journal::HashBytes hash = journal::attachment_hash("an entry");
  const std::string key = journal::public_key_of(*kBench.key);
  const std::string signature = journal::sign(*kBench.key, hash);
  std::vector<double> sign_ms;
  std::vector<double> check_ms;
  for (int i = 0; i < 500; ++i) {
    sign_ms.push_back(ms_of([&] { (void)journal::sign(*kBench.key, hash); }));
    check_ms.push_back(ms_of([&] { (void)journal::is_signed(key, hash, signature); }));
  }
  std::printf("one signature: median %.3f ms to make, %.3f ms to check\n",
              spread_of(sign_ms).median_ms, spread_of(check_ms).median_ms);
}

void row(const std::filesystem::path& directory, int count) {
  const std::string path = directory / (std::to_string(count) + ".job");
  {
    const auto journal = std::move(journal::Journal::create(path).journal);
    fill(*journal, 0, count);
  }
  std::vector<double> open_ms;
  std::vector<double> load_ms;
  std::vector<double> verify_ms;
  for (int i = 0; i < 15; ++i) {
    std::unique_ptr<journal::Journal> journal;
    open_ms.push_back(ms_of(
        [&] { journal = std::move(journal::Journal::open(path, journal::Access::read).journal); }));
    load_ms.push_back(ms_of([&] {
      if (journal->entries().size() != static_cast<std::size_t>(count)) std::abort();
    }));
    verify_ms.push_back(ms_of([&] { (void)journal->verify(); }));
  }
  const auto size = std::filesystem::file_size(path);
  const auto journal = std::move(journal::Journal::open(path, journal::Access::write).journal);
  const double first_ms =
      ms_of([&] { (void)journal->append(kBench, {reading(1)}, {.time_ms = 1'790'000'000'000}); });
  const Spread append = append_one_by_one(*journal, 100);
  std::printf("%8d %10.2f %10.2f %10.2f %12.2f %10.2f %10.2f %9.0f %9.0f\n", count,
              spread_of(open_ms).median_ms, spread_of(load_ms).median_ms,
              spread_of(verify_ms).median_ms, first_ms, append.median_ms, append.high_ms,
              static_cast<double>(size) / 1024.0, static_cast<double>(size) / count);
}

}  // namespace

int main(int count, char** arguments) {
  const std::filesystem::path parent = count > 1 ? arguments[1] : ".";
  const std::filesystem::path directory = parent / ("bench-journal-" + std::to_string(::getpid()));
  std::filesystem::create_directory(directory);
  const Spread plain = fsync_of_4kB(directory);
  std::printf("write and fsync of 4 kB here: median %.2f ms, 95 %% below %.2f ms\n\n",
              plain.median_ms, plain.high_ms);
  std::printf("%8s %10s %10s %10s %12s %10s %10s %9s %9s\n", "entries", "open ms", "load ms",
              "verify ms", "1st append", "append ms", "95 % ms", "file kB", "bytes/entry");
  for (const int entries : {100, 1'000, 10'000}) row(directory, entries);
  {
    const auto journal = std::move(journal::Journal::create(directory / "durable.job").journal);
    const Spread append = append_one_by_one(*journal, 500);
    std::printf(
        "\ndurable append, 500 in one journal: median %.2f ms, 95 %% below %.2f ms, "
        "%.1f times the fsync (wanted: under 20 ms at the median)\n",
        append.median_ms, append.high_ms, append.median_ms / plain.median_ms);
  }
  {
    const auto journal = std::move(journal::Journal::create(directory / "unsigned.job").journal);
    const Spread append = append_one_by_one(*journal, 500, kUnsigned);
    std::printf("the same without signatures: median %.2f ms, 95 %% below %.2f ms\n",
                append.median_ms, append.high_ms);
  }
  signature_alone();
  std::filesystem::remove_all(directory);
  return 0;
}
