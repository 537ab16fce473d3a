#include "journal/entry_hash.h"

#include <sodium.h>

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <stdexcept>

namespace weighwright::journal {
namespace {

// The zero byte at the end belongs to it.
constexpr std::array<char, 28> kEntryConstant = {"weighwright journal entry 1"};

class Blake2b {
 public:
  Blake2b() {
    // sodium_init may be called again and from any thread; it only fails without random numbers.
    if (sodium_init() < 0) throw std::runtime_error("libsodium can not be started");
    crypto_generichash_init(&state_, nullptr, 0, std::tuple_size_v<HashBytes>);
  }
  void add(std::string_view bytes) {
    crypto_generichash_update(&state_,
                              // char may be looked at as bytes
                              reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size());
  }
  void add(const unsigned char* bytes, std::size_t size) {
    crypto_generichash_update(&state_, bytes, size);
  }
  HashBytes done() {
    HashBytes hash{};
    crypto_generichash_final(&state_, hash.data(), hash.size());
    return hash;
  }

 private:
  crypto_generichash_state state_{};
};

std::array<unsigned char, 8> little_endian(std::uint64_t value) {
  std::array<unsigned char, 8> bytes{};
  for (unsigned char& byte : bytes) {
    byte = static_cast<unsigned char>(value & 0xFFU);
    value >>= 8U;
  }
  return bytes;
}

int digit_of(char hex) {
  if (hex >= '0' && hex <= '9') return hex - '0';
  if (hex >= 'a' && hex <= 'f') return hex - 'a' + 10;
  return -1;
}

}  // namespace

HashBytes entry_hash(std::string_view content, const HashBytes& previous) {
  Blake2b blake;
  blake.add({kEntryConstant.data(), kEntryConstant.size()});
  const auto length = little_endian(content.size());
  blake.add(length.data(), length.size());
  blake.add(content);
  blake.add(previous.data(), previous.size());
  return blake.done();
}

HashBytes attachment_hash(std::string_view bytes) {
  Blake2b blake;
  blake.add(bytes);
  return blake.done();
}

std::string print_hex(std::string_view bytes) {
  constexpr std::string_view kDigits = "0123456789abcdef";
  std::string text;
  text.reserve(bytes.size() * 2);
  for (const char byte : bytes) {
    const auto code = static_cast<unsigned char>(byte);
    text += kDigits[code >> 4U];
    text += kDigits[code & 0xFU];
  }
  return text;
}

std::optional<std::string> parse_hex_bytes(std::string_view text) {
  if (text.size() % 2 != 0) return std::nullopt;
  std::string bytes;
  bytes.reserve(text.size() / 2);
  for (std::size_t i = 0; i < text.size(); i += 2) {
    const int high = digit_of(text[i]);
    const int low = digit_of(text[i + 1]);
    if (high < 0 || low < 0) return std::nullopt;
    bytes += static_cast<char>(high * 16 + low);
  }
  return bytes;
}

std::string print_hex(const HashBytes& hash) {
  // char may be looked at as bytes
  return print_hex(std::string_view(reinterpret_cast<const char*>(hash.data()), hash.size()));
}

std::optional<HashBytes> parse_hex(std::string_view text) {
  HashBytes hash{};
  if (text.size() != hash.size() * 2) return std::nullopt;
  const std::optional<std::string> bytes = parse_hex_bytes(text);
  if (!bytes) return std::nullopt;
  std::ranges::transform(*bytes, hash.begin(),
                         [](char c) { return static_cast<unsigned char>(c); });
  return hash;
}

}  // namespace weighwright::journal
