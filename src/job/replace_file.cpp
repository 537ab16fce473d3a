#include "job/replace_file.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>

namespace weighwright::job {
namespace {

bool write_all(int file, const std::string& text) {
  std::size_t written = 0;
  while (written < text.size()) {
    const ssize_t count = ::write(file, text.data() + written, text.size() - written);
    if (count < 0 && errno == EINTR) continue;
    if (count <= 0) return false;
    written += static_cast<std::size_t>(count);
  }
  return ::fsync(file) == 0;
}

/// The new name itself is on the disk only when its directory is.
void sync_directory(const std::string& path) {
  const std::filesystem::path directory = std::filesystem::path(path).parent_path();
  const int file = ::open(directory.empty() ? "." : directory.c_str(), O_RDONLY | O_DIRECTORY);
  if (file < 0) return;
  (void)::fsync(file);
  (void)::close(file);
}

/// As the old file, else as any new file of this user.
void give_permissions(int file, const std::string& path) {
  struct stat old{};
  const mode_t mask = ::umask(0);
  ::umask(mask);
  const bool exists = ::stat(path.c_str(), &old) == 0;
  (void)::fchmod(file, exists ? (old.st_mode & 0777U) : (0666U & ~mask));
}

}  // namespace

std::string replace_file(const std::string& path, const std::string& text) {
  std::string beside = path + ".XXXXXX";
  const int file = ::mkstemp(beside.data());
  if (file < 0) return std::string("the file can't be written: ") + std::strerror(errno);
  give_permissions(file, path);
  const bool whole = write_all(file, text);
  const int why = errno;
  const bool closed = ::close(file) == 0;
  if (!whole || !closed || std::rename(beside.c_str(), path.c_str()) != 0) {
    const int reason = whole ? errno : why;
    (void)::unlink(beside.c_str());
    return std::string("the file can't be written: ") + std::strerror(reason);
  }
  sync_directory(path);
  return "";
}

}  // namespace weighwright::job
