#pragma once
/// Journals in a directory of their own. All entries are our own invention.

#include <gtest/gtest.h>

#include <cstdint>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "journal/journal.h"

namespace weighwright::journal::testing {

/// A directory that goes away with everything in it.
class Directory {
 public:
  Directory() : Directory(std::filesystem::temp_directory_path()) {}
  explicit Directory(const std::filesystem::path& parent) {
    std::string name = (parent / "journal-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr) std::abort();
    path_ = name;
  }
  ~Directory() {
    std::error_code ignored;
    std::filesystem::permissions(path_, std::filesystem::perms::owner_all, ignored);
    std::filesystem::remove_all(path_, ignored);
  }
  Directory(const Directory&) = delete;
  Directory& operator=(const Directory&) = delete;
  [[nodiscard]] std::string operator/(const std::string& name) const {
    return (path_ / name).string();
  }
  [[nodiscard]] const std::filesystem::path& path() const { return path_; }

 private:
  std::filesystem::path path_;
};

/// Not on a disk: for tests that do not ask whether a flush reaches one.
inline std::filesystem::path fast_place() {
  std::error_code ignored;
  const std::filesystem::path memory = "/dev/shm";
  return std::filesystem::is_directory(memory, ignored) ? memory
                                                        : std::filesystem::temp_directory_path();
}

/// As every program that writes: with a key of its own.
inline Identity device(char digit) {
  Identity identity{.device = std::string(16, digit), .author = "R. Example", .key = KeySeed{}};
  identity.key->fill(static_cast<unsigned char>(digit));
  return identity;
}

/// As a version before signatures wrote.
inline Identity unsigned_device(char digit) {
  return {.device = std::string(16, digit), .author = "R. Example"};
}

inline record::Draft note(const std::string& text) {
  return {.kind = "note", .fields = {{"text", text}}, .corrects = {}};
}

inline Moment minute(std::int64_t count) {
  constexpr std::int64_t kStart_ms = 1'780'000'000'000;
  return {.time_ms = kStart_ms + count * 60'000, .offset_min = 60};
}

inline std::string told(const units::Diagnostics& faults) {
  std::string all;
  for (const units::Diagnostic& one : faults) all += units::print(one) + "\n";
  return all;
}

inline std::string told(const std::vector<Problem>& problems) {
  std::string all;
  for (const Problem& one : problems) {
    all += (one.breaks ? "" : "(remark) ") + one.name + ": " + one.what + "\n";
  }
  return all;
}

inline std::unique_ptr<Journal> created(const std::string& path) {
  Opened opened = Journal::create(path);
  EXPECT_TRUE(opened.journal) << told(opened.faults);
  return std::move(opened.journal);
}

inline std::unique_ptr<Journal> opened(const std::string& path, Access access = Access::write) {
  Opened opened = Journal::open(path, access);
  EXPECT_TRUE(opened.journal) << told(opened.faults);
  return std::move(opened.journal);
}

/// Records one note; returns it.
inline record::Entry add(Journal& journal, char digit, std::int64_t at, const std::string& text) {
  Appended appended = journal.append(device(digit), {note(text)}, minute(at));
  EXPECT_EQ(appended.entries.size(), 1U) << told(appended.faults);
  return appended.entries.empty() ? record::Entry{} : appended.entries.front();
}

inline std::string read_all(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

inline void write_all(const std::string& path, std::string_view bytes) {
  std::ofstream file(path, std::ios::binary | std::ios::trunc);
  file.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
}

inline std::vector<std::string> hashes_of(Journal& journal) {
  std::vector<std::string> hashes;
  for (const LoadedEntry& one : journal.entries()) hashes.push_back(one.entry.hash);
  return hashes;
}

inline bool has_problem(const std::vector<Problem>& problems,
                        ProblemKind kind,
                        const std::string& name) {
  for (const Problem& one : problems) {
    if (one.kind == kind && one.name == name) return true;
  }
  return false;
}

}  // namespace weighwright::journal::testing
