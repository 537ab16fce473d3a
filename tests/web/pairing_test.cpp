#include "web/pairing.h"

#include <gtest/gtest.h>

#include <cmath>
#include <set>
#include <string>
#include <vector>

#include "web/secret.h"

namespace weighwright::web {
namespace {

struct Screen {
  std::vector<std::string> codes;
  Pairing pairing{[this](const std::string& code) { codes.push_back(code); }};
  Screen() {
    begin_secrets();
    pairing.renew_when_due(0);
  }
};

constexpr std::int64_t kMinute = 60'000;

TEST(Pairing, TakesTheCodeOnceAndShowsANewOne) {
  Screen screen;
  ASSERT_EQ(screen.codes.size(), 1U);
  const std::string first = screen.codes.front();
  EXPECT_TRUE(screen.pairing.attempt(first, "a", 1).right);
  ASSERT_EQ(screen.codes.size(), 2U);
  EXPECT_NE(screen.codes.back(), first);
  EXPECT_FALSE(screen.pairing.attempt(first, "a", 2).right);
  EXPECT_TRUE(screen.pairing.attempt(screen.codes.back(), "a", 3).right);
}

TEST(Pairing, ReadsWhatPeopleType) {
  Screen screen;
  std::string typed;
  for (const char c : screen.codes.front()) {
    typed += c == '-' ? std::string(" ") : std::string(1, static_cast<char>(std::tolower(c)));
  }
  EXPECT_TRUE(screen.pairing.attempt(" " + typed, "a", 1).right);
}

TEST(Pairing, EndsACodeAfterFifteenMinutes) {
  Screen screen;
  const std::string code = screen.codes.front();
  screen.pairing.renew_when_due(15 * kMinute - 1);
  EXPECT_EQ(screen.codes.size(), 1U);
  EXPECT_FALSE(screen.pairing.attempt(code, "a", 15 * kMinute).right);
  screen.pairing.renew_when_due(15 * kMinute);
  EXPECT_EQ(screen.codes.size(), 2U);
}

TEST(Pairing, ChangesTheCodeAfterTenWrongTries) {
  Screen screen;
  const std::string code = screen.codes.front();
  for (int i = 0; i < 10; ++i) {
    // From ten addresses, so that none of them has to wait.
    const auto tried = screen.pairing.attempt("AAAA-AAAA", std::to_string(i), i);
    EXPECT_FALSE(tried.right);
    EXPECT_EQ(tried.wait_s, 0);
  }
  EXPECT_EQ(screen.codes.size(), 2U);
  EXPECT_FALSE(screen.pairing.attempt(code, "z", 20).right);
}

TEST(Pairing, MakesOneAddressWait) {
  Screen screen;
  int looked_at = 0;
  for (int i = 0; i < 100; ++i) {
    looked_at += screen.pairing.attempt("AAAA-AAAA", "a", i).wait_s == 0 ? 1 : 0;
  }
  EXPECT_EQ(looked_at, 5);
  // The right code waits too: else a guess would be told from how it is refused.
  EXPECT_GT(screen.pairing.attempt(screen.codes.back(), "a", 101).wait_s, 0);
}

TEST(Pairing, MakesManyAddressesWaitTogether) {
  Screen screen;
  int looked_at = 0;
  for (int i = 0; i < 1000; ++i) {
    looked_at += screen.pairing.attempt("AAAA-AAAA", std::to_string(i), 0).wait_s == 0 ? 1 : 0;
  }
  EXPECT_EQ(looked_at, 20);
}

// At least 40 bits: 32 characters that are equally likely, 8 of them. Every one of the 32 must come
// up, at every place: missing one of 256 pairs in 4000 codes has a chance below 256 (31/32)^4000,
// 10^-52.
TEST(Pairing, DrawsFromThirtyTwoCharactersWithoutLookAlikes) {
  Screen screen;
  std::vector<std::set<char>> seen(9);
  for (int i = 1; i <= 4000; ++i) {
    screen.pairing.renew_when_due(i * 16 * kMinute);
    const std::string& code = screen.codes.back();
    ASSERT_EQ(code.size(), 9U);
    for (std::size_t at = 0; at < code.size(); ++at) seen[at].insert(code[at]);
  }
  for (std::size_t at = 0; at < seen.size(); ++at) {
    EXPECT_EQ(seen[at].size(), at == 4 ? 1U : 32U);
    for (const char c : {'0', 'O', '1', 'I'}) EXPECT_FALSE(seen[at].contains(c));
  }
  EXPECT_GE(8 * std::log2(32.0), 40.0);
}

}  // namespace
}  // namespace weighwright::web
