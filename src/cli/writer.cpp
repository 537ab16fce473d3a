#include "cli/writer.h"

#include <chrono>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <random>
#include <stdexcept>
#include <system_error>

#include "cli/build_id.h"
#include "cli/own_key.h"

namespace weighwright::cli {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kDigits = 16;

std::string environment(const char* name) {
  const char* const value = std::getenv(name);
  return value == nullptr ? "" : value;
}

bool is_device(const std::string& text) {
  return text.size() == kDigits && text.find_first_not_of("0123456789abcdef") == std::string::npos;
}

fs::path device_file() {
  return fs::path(data_folder()) / "device";
}

std::string random_device() {
  constexpr const char* kHex = "0123456789abcdef";
  std::random_device random;
  std::string device;
  while (device.size() < kDigits) device += kHex[random() % 16];
  return device;
}

std::string read_device(const fs::path& path) {
  std::ifstream file(path);
  std::string device;
  std::getline(file, device);
  return is_device(device) ? device : "";
}

/// Made whole under another name and put in place without overwriting: two programs that start at
/// once agree on one number.
void keep_device(const fs::path& path) {
  std::error_code error;
  fs::create_directories(path.parent_path(), error);
  const std::string device = random_device();
  const fs::path made = path.parent_path() / ("device." + device);
  {
    std::ofstream file(made);
    file << device << '\n';
  }
  fs::create_hard_link(made, path, error);
  if (error && !fs::exists(path)) fs::rename(made, path, error);
  std::error_code ignored;
  fs::remove(made, ignored);
}

std::string device_of_machine() {
  std::string given = environment("WEIGHWRIGHT_DEVICE");
  if (!given.empty()) {
    if (is_device(given)) return given;
    throw std::runtime_error("WEIGHWRIGHT_DEVICE is no device number; 16 digits of 0-9 and a-f");
  }
  const fs::path path = device_file();
  if (!fs::exists(path)) keep_device(path);
  std::string device = read_device(path);
  if (device.empty()) {
    throw std::runtime_error("the device number can be neither read from nor kept in " +
                             path.string() + "; a place that can be written");
  }
  return device;
}

std::string author_of(const std::string& given) {
  if (!given.empty()) return given;
  for (const char* const name : {"WEIGHWRIGHT_AUTHOR", "USER", "LOGNAME"}) {
    std::string value = environment(name);
    if (!value.empty()) return value;
  }
  return "not told";
}

}  // namespace

std::string data_folder() {
  const std::string data = environment("XDG_DATA_HOME");
  if (!data.empty()) return (fs::path(data) / "weighwright").string();
  const std::string home = environment("HOME");
  if (home.empty()) {
    throw std::runtime_error(
        "this machine's device number can't be kept: neither XDG_DATA_HOME nor HOME is set");
  }
  return (fs::path(home) / ".local" / "share" / "weighwright").string();
}

job::Writer writer_now(const std::string& author) {
  const auto now = std::chrono::system_clock::now();
  const std::time_t seconds = std::chrono::system_clock::to_time_t(now);
  std::tm local{};
  localtime_r(&seconds, &local);
  const auto since = std::chrono::duration_cast<std::chrono::milliseconds>(now.time_since_epoch());
  return {.device = device_of_machine(),
          .author = author_of(author),
          .time_ms = since.count(),
          .offset_min = static_cast<int>(local.tm_gmtoff / 60),
          .key = own_key(data_folder()),
          .version = WEIGHWRIGHT_VERSION,
          .build = build_id()};
}

}  // namespace weighwright::cli
