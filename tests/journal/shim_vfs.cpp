#include "journal/shim_vfs.h"

#include <sqlite3.h>

#include <cstdlib>
#include <new>

namespace weighwright::journal::testing {
namespace {

FileHook& current_hook() {
  static FileHook hook;
  return hook;
}

sqlite3_vfs* system_vfs() {
  static sqlite3_vfs* const vfs = sqlite3_vfs_find("unix");
  return vfs;
}

int pass(const FileAction& action) {
  return current_hook() ? current_hook()(action) : SQLITE_OK;
}

/// SQLite gives memory for this and, behind it, for the system's own file.
struct ShimFile {
  sqlite3_file base;
  std::string* path;
  sqlite3_file* real;
};

ShimFile* shim(sqlite3_file* file) {
  return reinterpret_cast<ShimFile*>(file);  // base is its first member
}

sqlite3_file* real(sqlite3_file* file) {
  return shim(file)->real;
}

int close_file(sqlite3_file* file) {
  const int code = real(file)->pMethods->xClose(real(file));
  delete shim(file)->path;
  return code;
}

int read_file(sqlite3_file* file, void* out, int amount, sqlite3_int64 offset) {
  const int fault = pass({.event = FileEvent::read, .path = *shim(file)->path, .offset = offset});
  return fault != SQLITE_OK ? fault : real(file)->pMethods->xRead(real(file), out, amount, offset);
}

int write_file(sqlite3_file* file, const void* in, int amount, sqlite3_int64 offset) {
  const int fault =
      pass({.event = FileEvent::write,
            .path = *shim(file)->path,
            .offset = offset,
            .bytes = {static_cast<const char*>(in), static_cast<std::size_t>(amount)}});
  return fault != SQLITE_OK ? fault : real(file)->pMethods->xWrite(real(file), in, amount, offset);
}

int truncate_file(sqlite3_file* file, sqlite3_int64 size) {
  const int fault = pass({.event = FileEvent::truncate, .path = *shim(file)->path, .offset = size});
  return fault != SQLITE_OK ? fault : real(file)->pMethods->xTruncate(real(file), size);
}

int sync_file(sqlite3_file* file, int flags) {
  const int fault = pass({.event = FileEvent::sync, .path = *shim(file)->path});
  return fault != SQLITE_OK ? fault : real(file)->pMethods->xSync(real(file), flags);
}

int size_file(sqlite3_file* file, sqlite3_int64* size) {
  const int fault = pass({.event = FileEvent::size, .path = *shim(file)->path});
  return fault != SQLITE_OK ? fault : real(file)->pMethods->xFileSize(real(file), size);
}

int lock_file(sqlite3_file* file, int level) {
  return real(file)->pMethods->xLock(real(file), level);
}
int unlock_file(sqlite3_file* file, int level) {
  return real(file)->pMethods->xUnlock(real(file), level);
}
int check_lock(sqlite3_file* file, int* held) {
  return real(file)->pMethods->xCheckReservedLock(real(file), held);
}
int control_file(sqlite3_file* file, int operation, void* argument) {
  return real(file)->pMethods->xFileControl(real(file), operation, argument);
}
int sector_size(sqlite3_file* file) {
  return real(file)->pMethods->xSectorSize(real(file));
}
int characteristics(sqlite3_file* file) {
  return real(file)->pMethods->xDeviceCharacteristics(real(file));
}
int map_shared(sqlite3_file* file, int page, int size, int extend, void volatile** out) {
  return real(file)->pMethods->xShmMap(real(file), page, size, extend, out);
}
int lock_shared(sqlite3_file* file, int offset, int count, int flags) {
  return real(file)->pMethods->xShmLock(real(file), offset, count, flags);
}
void barrier(sqlite3_file* file) {
  real(file)->pMethods->xShmBarrier(real(file));
}
int unmap_shared(sqlite3_file* file, int remove) {
  return real(file)->pMethods->xShmUnmap(real(file), remove);
}

const sqlite3_io_methods& methods() {
  static const sqlite3_io_methods kMethods = [] {
    sqlite3_io_methods made{};
    made.iVersion = 2;  // without memory maps
    made.xClose = close_file;
    made.xRead = read_file;
    made.xWrite = write_file;
    made.xTruncate = truncate_file;
    made.xSync = sync_file;
    made.xFileSize = size_file;
    made.xLock = lock_file;
    made.xUnlock = unlock_file;
    made.xCheckReservedLock = check_lock;
    made.xFileControl = control_file;
    made.xSectorSize = sector_size;
    made.xDeviceCharacteristics = characteristics;
    made.xShmMap = map_shared;
    made.xShmLock = lock_shared;
    made.xShmBarrier = barrier;
    made.xShmUnmap = unmap_shared;
    return made;
  }();
  return kMethods;
}

int open_file(sqlite3_vfs* /*vfs*/, const char* path, sqlite3_file* file, int flags, int* out) {
  file->pMethods = nullptr;
  const std::string name = path == nullptr ? "" : path;
  const int fault = pass({.event = FileEvent::open, .path = name});
  if (fault != SQLITE_OK) return fault;
  ShimFile* const made = shim(file);
  made->real = reinterpret_cast<sqlite3_file*>(made + 1);  // SQLite gave room for both
  const int code = system_vfs()->xOpen(system_vfs(), path, made->real, flags, out);
  if (made->real->pMethods == nullptr) return code;
  made->path = new std::string(name);
  file->pMethods = &methods();
  return code;
}

int remove_file(sqlite3_vfs* /*vfs*/, const char* path, int with_directory) {
  const int fault =
      pass({.event = FileEvent::remove, .path = path, .with_directory = with_directory != 0});
  return fault != SQLITE_OK ? fault : system_vfs()->xDelete(system_vfs(), path, with_directory);
}

sqlite3_vfs& shim_vfs() {
  static sqlite3_vfs vfs = [] {
    sqlite3_vfs made = *system_vfs();
    made.szOsFile = static_cast<int>(sizeof(ShimFile)) + system_vfs()->szOsFile;
    made.zName = "shim";
    made.pNext = nullptr;
    made.xOpen = open_file;
    made.xDelete = remove_file;
    return made;
  }();
  return vfs;
}

}  // namespace

ShimVfs::ShimVfs(FileHook hook) {
  sqlite3_initialize();
  current_hook() = std::move(hook);
  if (sqlite3_vfs_register(&shim_vfs(), 1) != SQLITE_OK) std::abort();
}

ShimVfs::~ShimVfs() {
  sqlite3_vfs_register(system_vfs(), 1);
  sqlite3_vfs_unregister(&shim_vfs());
  current_hook() = nullptr;
}

}  // namespace weighwright::journal::testing
