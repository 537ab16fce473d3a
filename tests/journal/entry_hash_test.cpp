#include "journal/entry_hash.h"

#include <gtest/gtest.h>
#include <sodium.h>

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

// outside check: hash of an entry | RFC 7693 appendix A (BLAKE2b-512 "abc"), Python's hashlib on
//  what the program exports

namespace weighwright::journal {
namespace {

using Bytes = std::vector<unsigned char>;

std::string hex(const Bytes& bytes) {
  std::string text;
  constexpr std::string_view kDigits = "0123456789abcdef";
  for (const unsigned char byte : bytes) {
    text += kDigits[byte >> 4U];
    text += kDigits[byte & 0xFU];
  }
  return text;
}

Bytes blake2b(std::size_t size, const Bytes& input, const Bytes& key) {
  Bytes out(size);
  crypto_generichash(out.data(), out.size(), input.data(), input.size(), key.data(), key.size());
  return out;
}

/// RFC 7693, appendix E: selftest_seq.
Bytes deterministic_sequence(std::size_t length, std::uint32_t seed) {
  Bytes out;
  std::uint32_t a = 0xDEAD4BADU * seed;
  std::uint32_t b = 1;
  for (std::size_t i = 0; i < length; ++i) {
    const std::uint32_t t = a + b;
    a = b;
    b = t;
    out.push_back(static_cast<unsigned char>(t >> 24U));
  }
  return out;
}

// RFC 7693 (The BLAKE2 Cryptographic Hash and Message Authentication Code), appendix A:
// BLAKE2b-512 of "abc".
TEST(Blake2b, HashesAbcAsRfc7693AppendixADoes) {
  ASSERT_GE(sodium_init(), 0);
  EXPECT_EQ(hex(blake2b(64, {'a', 'b', 'c'}, {})),
            "ba80a53f981c4d0d6a2797b69f12f6e94c212f14685ac4b74b12bb6fdbffa2d1"
            "7d87c5392aab792dc252d5de4533cc9518d38aa8dbf1925ab92386edd4009923");
}

// RFC 7693, appendix E: hashes of 6 lengths of input with 4 lengths of digest, with and without a
// key, hashed together; "blake2b_res" is printed there.
TEST(Blake2b, PassesTheSelfTestOfRfc7693AppendixE) {
  ASSERT_GE(sodium_init(), 0);
  crypto_generichash_state all;
  crypto_generichash_init(&all, nullptr, 0, 32);
  for (const std::size_t size : {20U, 32U, 48U, 64U}) {
    for (const std::size_t length : {0U, 3U, 128U, 129U, 255U, 1024U}) {
      const Bytes input = deterministic_sequence(length, static_cast<std::uint32_t>(length));
      const Bytes key = deterministic_sequence(size, static_cast<std::uint32_t>(size));
      for (const Bytes& digest : {blake2b(size, input, {}), blake2b(size, input, key)}) {
        crypto_generichash_update(&all, digest.data(), digest.size());
      }
    }
  }
  Bytes result(32);
  crypto_generichash_final(&all, result.data(), result.size());
  EXPECT_EQ(hex(result), "c23a7800d98123bd10f506c61e29da5603d763b8bbad2e737f5e765a7bccd475");
}

// Python 3.11, hashlib.blake2b(b"weighwright journal entry 1\0" + (2).to_bytes(8, "little") +
// b"{}" + bytes(range(32)), digest_size=32).hexdigest()
TEST(EntryHash, IsWhatPythonMakesOfTheSameBytes) {
  HashBytes previous{};
  for (std::size_t i = 0; i < previous.size(); ++i) previous[i] = static_cast<unsigned char>(i);
  EXPECT_EQ(print_hex(entry_hash("{}", previous)),
            "85c0b646ae1d0871316ff36c18f153f1acf5a5855b2807ac8a2c6ac0549785c3");
}

// coreutils 9.1: printf 'not a photo' | b2sum -l 256
TEST(AttachmentHash, IsWhatB2sumPrints) {
  EXPECT_EQ(print_hex(attachment_hash("not a photo")),
            "503965f3427a33d4e435c781c6c9886a1419328b1a8e3be6efaf225b2f64734e");
}

TEST(EntryHash, DependsOnLengthContentAndPrevious) {
  HashBytes other{};
  other[31] = 1;
  const HashBytes zero{};
  EXPECT_NE(entry_hash("a", zero), entry_hash("a", other));
  EXPECT_NE(entry_hash("a", zero), entry_hash("b", zero));
  EXPECT_NE(entry_hash(std::string(3, '\0'), zero), entry_hash(std::string(4, '\0'), zero));
}

TEST(EntryHash, OfZerosIsNeverZero) {
  const HashBytes zero{};
  for (std::size_t length = 0; length < 5000; ++length) {
    EXPECT_NE(entry_hash(std::string(length, '\0'), zero), zero);
  }
}

TEST(Hex, IsReadOnlyAsItIsPrinted) {
  const std::string text = print_hex(entry_hash("x", HashBytes{}));
  ASSERT_TRUE(parse_hex(text));
  EXPECT_EQ(print_hex(*parse_hex(text)), text);
  EXPECT_FALSE(parse_hex(text.substr(1)));
  EXPECT_FALSE(parse_hex(std::string(64, 'A')));
  EXPECT_FALSE(parse_hex(std::string(64, 'g')));
}

}  // namespace
}  // namespace weighwright::journal
