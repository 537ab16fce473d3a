#pragma once
/// New files that are there whole or not at all: made under another name in the same directory,
/// flushed, renamed without overwriting, and the directory flushed.

#include <functional>
#include <optional>
#include <string>
#include <string_view>

#include "journal/storage_failure.h"
#include "units/diagnostic.h"

namespace weighwright::journal {

/// Why there can be no new file at `path` (something is there, its directory is not), if so.
[[nodiscard]] std::optional<units::Diagnostic> fault_of_new(const std::string& path);

/// Removes the file (and its log) unless it was published.
class NewFile {
 public:
  explicit NewFile(std::string path);
  ~NewFile();
  NewFile(const NewFile&) = delete;
  NewFile& operator=(const NewFile&) = delete;

  [[nodiscard]] const std::string& temporary() const { return temporary_; }

  /// Flushes and renames. A diagnostic when something has come to be there meanwhile; throws
  /// StorageFailure.
  [[nodiscard]] std::optional<units::Diagnostic> publish();

 private:
  std::string path_;
  std::string temporary_;
};

/// A text file to write piece by piece; throws StorageFailure.
class TextFile {
 public:
  explicit TextFile(const std::string& path);
  ~TextFile();
  TextFile(const TextFile&) = delete;
  TextFile& operator=(const TextFile&) = delete;
  void write(std::string_view text);
  void close();

 private:
  void flush();
  std::string path_;
  std::string buffer_;
  int descriptor_;
};

/// All bytes of a file; nothing when it is not there. Throws StorageFailure when it is there and
/// can not be read.
[[nodiscard]] std::optional<std::string> read_bytes(const std::string& path);

/// Makes the directory entry of `path` durable.
void flush_directory_of(const std::string& path);

/// Flushes what was written to a file.
void flush_file(const std::string& path);

}  // namespace weighwright::journal
