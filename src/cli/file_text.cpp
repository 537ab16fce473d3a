#include "cli/file_text.h"

#include <array>
#include <filesystem>
#include <fstream>
#include <istream>
#include <string_view>
#include <system_error>

namespace weighwright::cli {
namespace {

FileText refused(const std::string& path, std::string what, std::string expected) {
  return {.text = {},
          .fault = {.file = name_of_input(path),
                    .line = 0,
                    .column = 0,
                    .what = std::move(what),
                    .expected = std::move(expected)}};
}

FileText too_large(const std::string& path, std::size_t most_bytes) {
  if (most_bytes > kLargestInput_bytes) {
    return refused(path,
                   "the file is larger than " + std::to_string(most_bytes / 1'000'000) + " MB",
                   "a smaller photo");
  }
  return refused(path, "the file is larger than 1 MB", "a deck file or measurements as text");
}

/// Reads at most one byte more than may be, so that a pipe without end is refused too.
FileText read_stream(const std::string& path, std::istream& in, std::size_t most_bytes) {
  std::string text;
  std::array<char, 65536> block{};
  while (text.size() <= most_bytes && in) {
    in.read(block.data(), static_cast<std::streamsize>(block.size()));
    text.append(block.data(), static_cast<std::size_t>(in.gcount()));
  }
  if (text.size() > most_bytes) return too_large(path, most_bytes);
  if (in.bad())
    return refused(path, "reading failed half-way", "a file that can be read to its end");
  return {.text = std::move(text), .fault = {}};
}

/// A pipe with a name of its own: opening it would wait for a writer that may never come. What a
/// shell puts in place of a file (<(...)) is a pipe too, and is open already.
bool is_named_pipe(const std::string& path, const std::filesystem::file_status& status) {
  if (!std::filesystem::is_fifo(status)) return false;
  return !path.starts_with("/dev/fd/") && !path.starts_with("/proc/self/fd/") &&
         path != "/dev/stdin";
}

}  // namespace

std::string name_of_input(const std::string& path) {
  return path == "-" ? "standard input" : path;
}

bool is_journal(const std::string& path) {
  // SQLite database file format, section 1.3: the first 16 bytes.
  constexpr std::string_view kMagic("SQLite format 3\0", 16);
  if (path == "-") return false;
  std::error_code error;
  if (!std::filesystem::is_regular_file(path, error)) return false;
  std::array<char, kMagic.size()> first{};
  std::ifstream file(path, std::ios::binary);
  file.read(first.data(), first.size());
  return file && std::string_view(first.data(), first.size()) == kMagic;
}

FileText read_file_text(const std::string& path,
                        std::istream& standard_in,
                        std::size_t most_bytes) {
  if (path == "-") return read_stream(path, standard_in, most_bytes);
  std::error_code error;
  const auto status = std::filesystem::status(path, error);
  if (!std::filesystem::exists(status)) {
    return refused(path, "there is no such file",
                   "the name of a file that exists, or - for a pipe");
  }
  if (std::filesystem::is_directory(status)) {
    return refused(path, "this is a directory", "a file");
  }
  if (is_named_pipe(path, status)) {
    return refused(path, "this is a named pipe, which may never end",
                   "a file, or - to read what is piped in");
  }
  if (std::filesystem::is_regular_file(status)) {
    const auto size = std::filesystem::file_size(path, error);
    if (!error && size > most_bytes) return too_large(path, most_bytes);
  }
  std::ifstream file(path, std::ios::binary);
  if (!file) return refused(path, "the file can't be opened", "a file that you may read");
  return read_stream(path, file, most_bytes);
}

}  // namespace weighwright::cli
