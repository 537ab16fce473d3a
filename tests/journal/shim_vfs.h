#pragma once
/// A layer between SQLite and the disk: every event that reaches a file passes a hook, which may
/// note it down or make it fail. Shared memory and locks are those of the system, so that several
/// connections work as they always do.
///
/// Source  SQLite, "The SQLite OS Interface or VFS"; the idea of a layer that writes down what
///         reaches the disk is that of SQLite's own tests (src/test6.c, "How SQLite Is Tested",
///         section 3.3).

#include <cstdint>
#include <functional>
#include <string>
#include <string_view>

namespace weighwright::journal::testing {

enum class FileEvent { open, read, write, truncate, sync, remove, size };

struct FileAction {
  FileEvent event = FileEvent::read;
  std::string path;
  std::int64_t offset = 0;      // of a write; the new size of a truncation
  std::string_view bytes = {};  // of a write
  bool with_directory = false;  // of a removal: the directory is flushed
};

/// SQLITE_OK, or the error that takes the place of the action.
using FileHook = std::function<int(const FileAction&)>;

/// The default VFS of this process as long as it lives; one at a time.
class ShimVfs {
 public:
  explicit ShimVfs(FileHook hook);
  ~ShimVfs();
  ShimVfs(const ShimVfs&) = delete;
  ShimVfs& operator=(const ShimVfs&) = delete;
};

}  // namespace weighwright::journal::testing
