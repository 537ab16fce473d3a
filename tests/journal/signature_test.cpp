#include "journal/signature.h"

#include <gtest/gtest.h>
#include <sodium.h>

#include <array>
#include <cstdlib>
#include <string>

#include "journal/exchange.h"
#include "journal/fixture.h"

// outside check: signature of an entry | RFC 8032 section 7.1 (Ed25519, tests 1 to 3); OpenSSL on
//  what the program exports

namespace weighwright::journal {
namespace {

using testing::Directory;

std::string bytes(const std::string& hex) {
  return parse_hex_bytes(hex).value();
}

struct Vector {
  const char* seed;
  const char* public_key;
  const char* message;
  const char* signature;
};

// RFC 8032 (Edwards-Curve Digital Signature Algorithm), section 7.1, TEST 1, TEST 2, TEST 3.
const std::array<Vector, 3> kVectors = {
    Vector{"9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
           "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a", "",
           "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e397"
           "01cf9b46bd25bf5f0595bbe24655141438e7a100b"},
    Vector{"4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
           "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c", "72",
           "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f361"
           "3d0f11d8c387b2eaeb4302aeeb00d291612bb0c00"},
    Vector{"c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
           "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025", "af82",
           "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f7"
           "60984dc6594a7c15e9716ed28dc027beceea1ec40a"}};

KeySeed seed_of(const std::string& hex) {
  return parse_hex(hex).value();
}

TEST(Ed25519, SignsAsRfc8032Section7Dot1Does) {
  ASSERT_GE(sodium_init(), 0);
  for (const Vector& vector : kVectors) {
    const KeySeed seed = seed_of(vector.seed);
    EXPECT_EQ(public_key_of(seed), vector.public_key);
    std::array<unsigned char, crypto_sign_PUBLICKEYBYTES> open{};
    std::array<unsigned char, crypto_sign_SECRETKEYBYTES> secret{};
    crypto_sign_seed_keypair(open.data(), secret.data(), seed.data());
    const std::string message = bytes(vector.message);
    std::array<unsigned char, crypto_sign_BYTES> signature{};
    crypto_sign_detached(signature.data(), nullptr,
                         reinterpret_cast<const unsigned char*>(message.data()), message.size(),
                         secret.data());
    EXPECT_EQ(print_hex(std::string_view(reinterpret_cast<const char*>(signature.data()),
                                         signature.size())),
              vector.signature);
  }
}

TEST(EntrySignature, FitsItsKeyAndItsHashAndNoOther) {
  const KeySeed seed = seed_of(kVectors[0].seed);
  const std::string key = public_key_of(seed);
  const HashBytes hash = attachment_hash("anything");
  const std::string signature = sign(seed, hash);
  ASSERT_EQ(signature.size(), kSignature_bytes);
  EXPECT_EQ(sign(seed, hash), signature);
  EXPECT_TRUE(is_signed(key, hash, signature));
  EXPECT_FALSE(is_signed(key, attachment_hash("other"), signature));
  EXPECT_FALSE(is_signed(kVectors[1].public_key, hash, signature));
  EXPECT_FALSE(is_signed("", hash, signature));
  EXPECT_FALSE(is_signed(key, hash, ""));
  for (std::size_t i = 0; i < signature.size(); ++i) {
    std::string changed = signature;
    changed[i] = static_cast<char>(changed[i] ^ 1);
    EXPECT_FALSE(is_signed(key, hash, changed)) << i;
  }
}

// A key that is no point of the curve, or one of small order (RFC 8032, 8.9 and 5.1.7), vouches for
// nothing.
TEST(EntrySignature, OfADegenerateKeyNeverFits) {
  const HashBytes hash = attachment_hash("anything");
  const std::string zeros(64, '0');
  EXPECT_FALSE(is_signed(zeros, hash, std::string(64, '\0')));
  EXPECT_FALSE(is_signed("01" + zeros.substr(2), hash, '\1' + std::string(63, '\0')));
}

TEST(NextNumber, IsTheSameForTheSameDeviceAndAnotherForEveryOther) {
  const std::string first = next_number(std::string(16, 'a'), kVectors[0].public_key);
  EXPECT_EQ(first.size(), 16U);
  EXPECT_EQ(first, next_number(std::string(16, 'a'), kVectors[0].public_key));
  EXPECT_NE(first, next_number(std::string(16, 'a'), kVectors[1].public_key));
  EXPECT_NE(first, next_number(first, kVectors[0].public_key));
}

int run_python(const std::string& path) {
  const std::string command = std::string(WEIGHWRIGHT_PYTHON) + " -B " + WEIGHWRIGHT_SOURCE_DIR +
                              "/tests/journal/verify_export.py " + path + " 2>/dev/null";
  return std::system(command.c_str());
}

// OpenSSL 3 checks the signatures of an export, by the recipe of docs/theory/journal.md.
TEST(EntrySignature, IsVerifiedByOpenSsl) {
  const Directory directory(testing::fast_place());
  const auto journal = testing::created(directory / "site.job");
  testing::add(*journal, 'a', 0, "signed");
  ASSERT_TRUE(journal->append(testing::unsigned_device('b'), {testing::note("not signed")}, {})
                  .faults.empty());
  testing::add(*journal, 'a', 1, "signed too");
  const auto write = [&](const std::string& name, const std::string& from, const std::string& to) {
    std::string text;
    (void)export_text(*journal, [&](std::string_view piece) { text += piece; });
    if (!from.empty()) text.replace(text.rfind(from) + from.size(), to.size(), to);
    testing::write_all(directory / name, text);
    return directory / name;
  };
  EXPECT_EQ(run_python(write("good.jsonl", "", "")), 0);
  EXPECT_NE(run_python(write("bad.jsonl", R"("signature":")", "00000000")), 0);
}

}  // namespace
}  // namespace weighwright::journal
