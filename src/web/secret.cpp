#include "web/secret.h"

#include <sodium.h>

#include <array>
#include <cstdint>
#include <stdexcept>

namespace weighwright::web {
namespace {

std::string hex(const unsigned char* bytes, std::size_t count) {
  std::string text(2 * count + 1, '\0');
  sodium_bin2hex(text.data(), text.size(), bytes, count);
  text.pop_back();
  return text;
}

const unsigned char* bytes_of(std::string_view text) {
  return reinterpret_cast<const unsigned char*>(text.data());
}

}  // namespace

void begin_secrets() {
  if (sodium_init() < 0) throw std::runtime_error("random numbers can't be had on this machine");
}

std::string random_secret() {
  std::array<unsigned char, 32> bytes{};
  randombytes_buf(bytes.data(), bytes.size());
  std::string text = hex(bytes.data(), bytes.size());
  sodium_memzero(bytes.data(), bytes.size());
  return text;
}

std::string random_text(std::string_view alphabet, std::size_t count) {
  std::string text;
  while (text.size() < count) {
    text += alphabet[randombytes_uniform(static_cast<std::uint32_t>(alphabet.size()))];
  }
  return text;
}

std::string hash_of(std::string_view secret, std::string_view key) {
  std::array<unsigned char, 32> hash{};
  crypto_generichash(hash.data(), hash.size(), bytes_of(secret), secret.size(),
                     key.empty() ? nullptr : bytes_of(key), key.size());
  return hex(hash.data(), hash.size());
}

bool same_secret(std::string_view a, std::string_view b) {
  return a.size() == b.size() && sodium_memcmp(a.data(), b.data(), a.size()) == 0;
}

}  // namespace weighwright::web
