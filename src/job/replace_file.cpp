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

/// A new file beside the old one, with the rights of any new file of this user (or of the old one):
/// umask() is not asked, for it can only be asked by changing it, and other threads make files too.
int open_beside(const std::string& path, std::string& beside) {
  for (int number = 0; number < 1000; ++number) {
    beside = path + "." + std::to_string(::getpid()) + "-" + std::to_string(number) + ".part";
    const int file = ::open(beside.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (file < 0 && errno == EEXIST) continue;
    struct stat old{};
    if (file >= 0 && ::stat(path.c_str(), &old) == 0) (void)::fchmod(file, old.st_mode & 0777U);
    return file;
  }
  return -1;
}

}  // namespace

std::string replace_file(const std::string& path, const std::string& text) {
  std::string beside;
  const int file = open_beside(path, beside);
  if (file < 0) return std::string("the file can't be written: ") + std::strerror(errno);
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
