#include "journal/new_file.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstdio>
#include <filesystem>
#include <system_error>

namespace weighwright::journal {
namespace {

constexpr std::size_t kBuffer_bytes = 1 << 16;
// A journal is evidence, and names people: who else may read it, its owner says (chmod).
constexpr mode_t kModeOfNew = 0600;

[[noreturn]] void fail(const std::string& path, const std::string& doing, int error) {
  const std::string why = std::generic_category().message(error);
  throw StorageFailure({.file = path,
                        .what = "it can not be " + doing + ": " + why,
                        .expected = error == ENOSPC ? "make room on the disk, then do it again"
                                                    : "a disk and a directory that can be used"});
}

std::string directory_of(const std::string& path) {
  const std::string parent = std::filesystem::path(path).parent_path().string();
  return parent.empty() ? "." : parent;
}

/// Closes itself.
class Descriptor {
 public:
  Descriptor(const std::string& path, int flags, const std::string& doing)
      : number_(::open(path.c_str(), flags | O_CLOEXEC, kModeOfNew)) {
    if (number_ < 0) fail(path, doing, errno);
  }
  ~Descriptor() { ::close(number_); }
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  [[nodiscard]] int number() const { return number_; }

 private:
  int number_;
};

bool is_there(const std::string& path) {
  struct stat status{};
  return ::lstat(path.c_str(), &status) == 0;
}

units::Diagnostic already_there(const std::string& path) {
  return {.file = path,
          .what = "there is something of this name already",
          .expected = "a new name: nothing is written over"};
}

}  // namespace

std::optional<units::Diagnostic> fault_of_new(const std::string& path) {
  std::error_code ignored;
  if (path.empty()) {
    return units::Diagnostic{
        .file = {}, .what = "the name of the file is empty", .expected = "a file name"};
  }
  if (is_there(path)) return already_there(path);
  if (!std::filesystem::is_directory(directory_of(path), ignored)) {
    return units::Diagnostic{.file = path,
                             .what = "there is no directory " + units::quote(directory_of(path)),
                             .expected = "a name in a directory that is there"};
  }
  return std::nullopt;
}

NewFile::NewFile(std::string path)
    : path_(std::move(path)), temporary_(path_ + ".new-" + std::to_string(::getpid())) {
  ::unlink(temporary_.c_str());
  // SQLite would make it for everybody to read, and gives its log the mode of the file. What can't
  // be made here is told by whoever opens it next.
  const int made = ::open(temporary_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, kModeOfNew);
  if (made >= 0) ::close(made);
}

NewFile::~NewFile() {
  for (const char* const ending : {"", "-wal", "-shm", "-journal"}) {
    ::unlink((temporary_ + ending).c_str());
  }
}

std::optional<units::Diagnostic> NewFile::publish() {
  flush_file(temporary_);
  int done = ::renameat2(AT_FDCWD, temporary_.c_str(), AT_FDCWD, path_.c_str(), RENAME_NOREPLACE);
  // Some file systems have no such rename.
  if (done != 0 && (errno == EINVAL || errno == ENOSYS) && !is_there(path_)) {
    done = ::rename(temporary_.c_str(), path_.c_str());
  }
  if (done != 0) {
    if (errno == EEXIST || is_there(path_)) return already_there(path_);
    fail(path_, "written", errno);
  }
  flush_directory_of(path_);
  return std::nullopt;
}

TextFile::TextFile(const std::string& path)
    : path_(path),
      descriptor_(::open(path.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, kModeOfNew)) {
  if (descriptor_ < 0) fail(path_, "written", errno);
}

TextFile::~TextFile() {
  if (descriptor_ >= 0) ::close(descriptor_);
}

void TextFile::write(std::string_view text) {
  buffer_ += text;
  if (buffer_.size() >= kBuffer_bytes) flush();
}

void TextFile::flush() {
  std::string_view left = buffer_;
  while (!left.empty()) {
    const ssize_t written = ::write(descriptor_, left.data(), left.size());
    if (written < 0 && errno == EINTR) continue;
    if (written < 0) fail(path_, "written", errno);
    left.remove_prefix(static_cast<std::size_t>(written));
  }
  buffer_.clear();
}

void TextFile::close() {
  flush();
  if (::fsync(descriptor_) != 0) fail(path_, "written", errno);
  const int done = ::close(descriptor_);
  descriptor_ = -1;
  if (done != 0) fail(path_, "written", errno);
}

std::optional<std::string> read_bytes(const std::string& path) {
  if (!is_there(path)) return std::nullopt;
  const Descriptor file(path, O_RDONLY, "read");
  std::string bytes;
  std::array<char, kBuffer_bytes> buffer{};
  for (;;) {
    const ssize_t count = ::read(file.number(), buffer.data(), buffer.size());
    if (count < 0 && errno == EINTR) continue;
    if (count < 0) fail(path, "read", errno);
    if (count == 0) return bytes;
    bytes.append(buffer.data(), static_cast<std::size_t>(count));
  }
}

void flush_directory_of(const std::string& path) {
  const std::string directory = directory_of(path);
  const Descriptor opened(directory, O_RDONLY | O_DIRECTORY, "opened");
  // Some file systems can not flush a directory, and say so; there is nothing else to be done.
  if (::fsync(opened.number()) != 0 && errno != EINVAL && errno != EROFS) {
    fail(directory, "flushed to the disk", errno);
  }
}

void flush_file(const std::string& path) {
  const Descriptor opened(path, O_RDWR, "opened");
  if (::fsync(opened.number()) != 0) fail(path, "flushed to the disk", errno);
}

}  // namespace weighwright::journal
