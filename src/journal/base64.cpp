#include "journal/base64.h"

#include <sodium.h>

namespace weighwright::journal {

namespace {
constexpr int kVariant = sodium_base64_VARIANT_ORIGINAL;
}

std::string print_base64(std::string_view bytes) {
  std::string text(sodium_base64_encoded_len(bytes.size(), kVariant), '\0');
  // char may be looked at as bytes
  sodium_bin2base64(text.data(), text.size(), reinterpret_cast<const unsigned char*>(bytes.data()),
                    bytes.size(), kVariant);
  text.pop_back();  // the zero at its end
  return text;
}

std::optional<std::string> parse_base64(std::string_view text) {
  std::string bytes(text.size() / 4 * 3, '\0');
  std::size_t size = 0;
  const char* end = nullptr;
  // char may be looked at as bytes
  const int code = sodium_base642bin(reinterpret_cast<unsigned char*>(bytes.data()), bytes.size(),
                                     text.data(), text.size(), nullptr, &size, &end, kVariant);
  if (code != 0 || end != text.data() + text.size()) return std::nullopt;
  bytes.resize(size);
  return bytes;
}

}  // namespace weighwright::journal
