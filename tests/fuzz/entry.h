#pragma once
/// What each fuzz target does with one input. The libFuzzer entry point calls it, and so does the
/// replay of the kept corpora.

#include <cstdint>
#include <cstdlib>
#include <string_view>

namespace weighwright::fuzz {

void read_deck(std::string_view bytes);
void read_csv(std::string_view bytes);
void read_quantity(std::string_view bytes);
void read_journal(std::string_view bytes);
void read_import(std::string_view bytes);
void read_http_body(std::string_view bytes);
void read_weight_line(std::string_view bytes);
void read_modbus_value(std::string_view bytes);
void read_rulebook(std::string_view bytes);

/// Ends the run when what must always hold does not.
inline void hold(bool condition) {
  if (!condition) std::abort();
}

}  // namespace weighwright::fuzz

/// The entry point that libFuzzer looks for (LLVM documentation, "libFuzzer").
#ifdef WEIGHWRIGHT_REPLAY
#define WEIGHWRIGHT_FUZZ_TARGET(function)
#else
#define WEIGHWRIGHT_FUZZ_TARGET(function)                                             \
  extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) { \
    /* char may look at any object's bytes */                                         \
    function({reinterpret_cast<const char*>(data), size});                            \
    return 0;                                                                         \
  }
#endif
