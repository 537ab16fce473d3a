#include "cli/known_devices.h"

#include <filesystem>
#include <fstream>
#include <system_error>

#include "cli/writer.h"

namespace weighwright::cli {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kDevice = 16;
constexpr std::size_t kKey = 64;

fs::path file_of_known() {
  return fs::path(data_folder()) / "known-devices";
}

bool is_hex(const std::string& text, std::size_t size) {
  return text.size() == size && text.find_first_not_of("0123456789abcdef") == std::string::npos;
}

}  // namespace

job::KnownDevices known_devices() {
  job::KnownDevices known;
  std::ifstream file(file_of_known());
  for (std::string device, key; file >> device >> key;) {
    // The first that was met stays.
    if (is_hex(device, kDevice) && is_hex(key, kKey)) known.emplace(device, key);
  }
  return known;
}

void remember_devices(const std::vector<report::ChainView>& chains) {
  std::string lines;
  for (const report::ChainView& chain : chains) {
    if (chain.acquaintance == report::Acquaintance::unknown) {
      lines += chain.device + " " + chain.key + "\n";
    }
  }
  if (lines.empty()) return;
  std::error_code ignored;
  fs::create_directories(data_folder(), ignored);
  std::ofstream file(file_of_known(), std::ios::app);
  file << lines;
}

}  // namespace weighwright::cli
