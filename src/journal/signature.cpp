#include "journal/signature.h"

#include <sodium.h>

#include <optional>
#include <stdexcept>

namespace weighwright::journal {
namespace {

// The zero byte at the end belongs to both.
constexpr std::array<char, 30> kSignatureConstant = {"weighwright entry signature 1"};
constexpr std::array<char, 26> kNextConstant = {"weighwright next device 1"};

const unsigned char* bytes_of(const char* text) {
  // char may be looked at as bytes
  return reinterpret_cast<const unsigned char*>(text);
}

void start_sodium() {
  // It may be called again and from any thread; it only fails without random numbers.
  if (sodium_init() < 0) throw std::runtime_error("libsodium can not be started");
}

struct KeyPair {
  std::array<unsigned char, crypto_sign_PUBLICKEYBYTES> open{};
  std::array<unsigned char, crypto_sign_SECRETKEYBYTES> secret{};

  explicit KeyPair(const KeySeed& seed) {
    static_assert(std::tuple_size_v<KeySeed> == crypto_sign_SEEDBYTES);
    start_sodium();
    crypto_sign_seed_keypair(open.data(), secret.data(), seed.data());
  }
  ~KeyPair() { sodium_memzero(secret.data(), secret.size()); }
  KeyPair(const KeyPair&) = delete;
  KeyPair& operator=(const KeyPair&) = delete;
};

using Message = std::array<unsigned char, kSignatureConstant.size() + std::tuple_size_v<HashBytes>>;

Message message_of(const HashBytes& entry_hash) {
  Message message{};
  auto end = std::copy(kSignatureConstant.begin(), kSignatureConstant.end(), message.begin());
  std::copy(entry_hash.begin(), entry_hash.end(), end);
  return message;
}

}  // namespace

std::string public_key_of(const KeySeed& seed) {
  return print_hex(KeyPair(seed).open);
}

std::string sign(const KeySeed& seed, const HashBytes& entry_hash) {
  const KeyPair keys(seed);
  const Message message = message_of(entry_hash);
  std::array<unsigned char, kSignature_bytes> signature{};
  static_assert(kSignature_bytes == crypto_sign_BYTES);
  crypto_sign_detached(signature.data(), nullptr, message.data(), message.size(),
                       keys.secret.data());
  return {signature.begin(), signature.end()};
}

bool is_signed(std::string_view public_key,
               const HashBytes& entry_hash,
               std::string_view signature) {
  const std::optional<HashBytes> key = parse_hex(public_key);
  if (!key || signature.size() != kSignature_bytes) return false;
  start_sodium();
  const Message message = message_of(entry_hash);
  return crypto_sign_verify_detached(bytes_of(signature.data()), message.data(), message.size(),
                                     key->data()) == 0;
}

std::string next_number(std::string_view device, std::string_view public_key) {
  start_sodium();
  crypto_generichash_state state;
  HashBytes hash{};
  crypto_generichash_init(&state, nullptr, 0, hash.size());
  for (const std::string_view part :
       {std::string_view(kNextConstant.data(), kNextConstant.size()), device, public_key}) {
    crypto_generichash_update(&state, bytes_of(part.data()), part.size());
  }
  crypto_generichash_final(&state, hash.data(), hash.size());
  constexpr std::size_t kDeviceDigits = 16;
  return print_hex(hash).substr(0, kDeviceDigits);
}

std::string fingerprint(std::string_view public_key) {
  constexpr std::size_t kGroup = 4;
  constexpr std::size_t kGroups = 4;
  std::string text;
  for (std::size_t i = 0; i < kGroups; ++i) {
    text += (i == 0 ? "" : "-") + std::string(public_key.substr(i * kGroup, kGroup));
  }
  return text;
}

}  // namespace weighwright::journal
