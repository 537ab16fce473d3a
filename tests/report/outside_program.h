#pragma once
/// Runs general-purpose programs on bytes that were made, for tests of documents.

#include <unistd.h>

#include <array>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

namespace weighwright::report {

/// A directory of the test's own, gone with it.
class Bench {
 public:
  Bench() {
    std::string pattern = (std::filesystem::temp_directory_path() / "document-XXXXXX").string();
    path_ = mkdtemp(pattern.data());
  }
  Bench(const Bench&) = delete;
  Bench& operator=(const Bench&) = delete;
  ~Bench() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }

  [[nodiscard]] std::string path(const std::string& name) const { return path_ + "/" + name; }

  std::string put(const std::string& name, const std::string& bytes) const {
    std::ofstream(path(name), std::ios::binary) << bytes;
    return path(name);
  }

  struct Ran {
    int status = -1;
    std::string output;  // both streams
  };
  /// In the directory, by the shell.
  [[nodiscard]] Ran run(const std::string& command) const {
    Ran ran;
    FILE* const pipe = popen(("cd '" + path_ + "' && (" + command + ") 2>&1").c_str(), "r");
    if (pipe == nullptr) return ran;
    std::array<char, 4096> buffer{};
    for (std::size_t got = 0; (got = fread(buffer.data(), 1, buffer.size(), pipe)) > 0;)
      ran.output.append(buffer.data(), got);
    ran.status = pclose(pipe);
    return ran;
  }

 private:
  std::string path_;
};

}  // namespace weighwright::report
