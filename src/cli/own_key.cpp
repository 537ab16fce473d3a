#include "cli/own_key.h"

#include <fcntl.h>
#include <sys/random.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <fstream>
#include <optional>
#include <stdexcept>
#include <system_error>

namespace weighwright::cli {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kKey_bytes = 32;

[[noreturn]] void fail(const fs::path& path, const std::string& what, const std::string& right) {
  throw std::runtime_error("this machine's key, " + path.string() + ", " + what + "; " + right);
}

std::string hex(const std::string& bytes) {
  constexpr const char* kDigits = "0123456789abcdef";
  std::string text;
  for (const char byte : bytes) {
    const auto code = static_cast<unsigned char>(byte);
    text += kDigits[code >> 4U];
    text += kDigits[code & 0xFU];
  }
  return text;
}

std::optional<std::string> bytes_of(const std::string& text) {
  constexpr std::string_view kDigits = "0123456789abcdef";
  if (text.size() != 2 * kKey_bytes) return {};
  std::string bytes;
  for (std::size_t i = 0; i < text.size(); i += 2) {
    const std::size_t high = kDigits.find(text[i]);
    const std::size_t low = kDigits.find(text[i + 1]);
    if (high == std::string_view::npos || low == std::string_view::npos) return {};
    bytes += static_cast<char>(high * 16 + low);
  }
  return bytes;
}

std::string random_bytes(const fs::path& path) {
  std::array<char, kKey_bytes> bytes{};
  if (::getrandom(bytes.data(), bytes.size(), 0) != static_cast<ssize_t>(bytes.size())) {
    fail(path, "can not be made: the system gives no random numbers", "a system that does");
  }
  return {bytes.begin(), bytes.end()};
}

/// Made whole under another name, for its owner only, and put in place without overwriting.
void keep(const fs::path& path) {
  std::error_code ignored;
  fs::create_directories(path.parent_path(), ignored);
  const fs::path made = path.string() + ".new-" + std::to_string(::getpid());
  const std::string text = hex(random_bytes(path)) + "\n";
  ::unlink(made.c_str());
  const int file = ::open(made.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, S_IRUSR | S_IWUSR);
  const bool written =
      file >= 0 && ::write(file, text.data(), text.size()) == static_cast<ssize_t>(text.size()) &&
      ::fsync(file) == 0;
  if (file >= 0) ::close(file);
  if (written && ::link(made.c_str(), path.c_str()) != 0 && errno != EEXIST) {
    // A file system without hard links: rename writes over, so it is looked at first.
    if (!fs::exists(path, ignored)) fs::rename(made, path, ignored);
  }
  ::unlink(made.c_str());
}

}  // namespace

std::string own_key(const fs::path& folder) {
  const fs::path path = folder / "key";
  std::error_code ignored;
  if (!fs::exists(path, ignored)) keep(path);
  struct stat status{};
  if (::stat(path.c_str(), &status) != 0) {
    fail(path, "can be neither read nor kept", "a place that can be written");
  }
  if ((status.st_mode & (S_IRWXG | S_IRWXO)) != 0) {
    fail(path, "may be read or changed by others, who could sign in its name",
         "chmod 600 for its owner alone, when nobody has copied it; else remove it, and a new one "
         "is made");
  }
  std::ifstream file(path);
  std::string text;
  std::getline(file, text);
  const std::optional<std::string> bytes = bytes_of(text);
  if (!bytes)
    fail(path, "is no key", "64 digits of 0-9 and a-f, or no such file: then one is made");
  return *bytes;
}

}  // namespace weighwright::cli
