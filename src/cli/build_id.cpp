#include "cli/build_id.h"

#include <elf.h>
#include <link.h>

#include <cstddef>
#include <cstring>
#include <string_view>

namespace weighwright::cli {
namespace {

std::size_t padded(std::size_t size) {
  constexpr std::size_t kWord = 4;
  return (size + kWord - 1) / kWord * kWord;
}

std::string hex(std::string_view bytes) {
  constexpr std::string_view kDigits = "0123456789abcdef";
  std::string text;
  for (const char byte : bytes) {
    const auto code = static_cast<unsigned char>(byte);
    text += kDigits[code >> 4U];
    text += kDigits[code & 0xFU];
  }
  return text;
}

/// The build's note among those of one segment (System V ABI, chapter 5, "Note Section").
std::string id_among(std::string_view notes) {
  constexpr std::string_view kOwner("GNU\0", 4);
  while (notes.size() > sizeof(ElfW(Nhdr))) {
    ElfW(Nhdr) header{};
    std::memcpy(&header, notes.data(), sizeof header);
    notes.remove_prefix(sizeof header);
    const std::size_t name = padded(header.n_namesz);
    const std::size_t body = padded(header.n_descsz);
    if (name + body > notes.size()) return {};
    if (header.n_type == NT_GNU_BUILD_ID && notes.substr(0, header.n_namesz) == kOwner) {
      return hex(notes.substr(name, header.n_descsz));
    }
    notes.remove_prefix(name + body);
  }
  return {};
}

/// The first that is shown is the program itself.
int look(dl_phdr_info* info, std::size_t /*size*/, void* found) {
  std::string& id = *static_cast<std::string*>(found);
  for (int i = 0; i < info->dlpi_phnum && id.empty(); ++i) {
    const ElfW(Phdr)& segment = info->dlpi_phdr[i];
    if (segment.p_type != PT_NOTE) continue;
    // An address that the loader mapped, as a number.
    // NOLINTNEXTLINE(performance-no-int-to-ptr)
    const auto* const bytes = reinterpret_cast<const char*>(info->dlpi_addr + segment.p_vaddr);
    id = id_among({bytes, segment.p_memsz});
  }
  return 1;
}

}  // namespace

std::string build_id() {
  std::string id;
  dl_iterate_phdr(look, &id);
  return id.empty() ? "not known" : id;
}

}  // namespace weighwright::cli
