#include "web/sessions.h"

#include <gtest/gtest.h>

#include <set>

#include "web/limiter.h"
#include "web/secret.h"

namespace weighwright::web {
namespace {

constexpr const char* kPhone = "192.0.2.7";
constexpr const char* kAgent = "A phone's browser";

std::optional<std::string> cookie_of(std::optional<Sessions::Opened> opened) {
  if (!opened) return {};
  return opened->cookie;
}

TEST(Sessions, KeepTheNameGivenAtPairing) {
  Sessions sessions;
  const auto first = sessions.open("R. Example", kPhone, kAgent, 1000);
  const auto second = sessions.open("S. Example", "192.0.2.9", kAgent, 2000);
  ASSERT_TRUE(first && second);
  EXPECT_EQ(sessions.look(first->cookie, kPhone, kAgent, 3000).phone, "R. Example");
  const auto phones = sessions.phones(4000);
  ASSERT_EQ(phones.size(), 2U);
  EXPECT_EQ(phones[0].name, "R. Example");
  EXPECT_EQ(phones[0].used_ms, 3000);
  EXPECT_EQ(phones[1].address, "192.0.2.9");
}

TEST(Sessions, EndOnlyTheOneThatIsPutOut) {
  Sessions sessions;
  const auto first = sessions.open("R. Example", kPhone, kAgent, 0);
  const auto second = sessions.open("S. Example", kPhone, kAgent, 0);
  ASSERT_TRUE(first && second);
  const auto gone = sessions.put_out(first->phone.number);
  ASSERT_TRUE(gone);
  EXPECT_EQ(gone->name, "R. Example");
  EXPECT_TRUE(sessions.look(first->cookie, kPhone, kAgent, 1).name.empty());
  EXPECT_FALSE(sessions.look(second->cookie, kPhone, kAgent, 1).name.empty());
  EXPECT_FALSE(sessions.put_out(first->phone.number)) << "a number is never given twice";
}

TEST(Sessions, KnowThePhoneThatTheyWereGivenTo) {
  Sessions sessions;
  const auto cookie = cookie_of(sessions.open("R. Example", kPhone, kAgent, 0));
  ASSERT_TRUE(cookie);
  EXPECT_EQ(cookie->size(), 64U);  // 256 bits in hex
  const auto looked = sessions.look(*cookie, kPhone, kAgent, 1);
  EXPECT_FALSE(looked.name.empty());
  EXPECT_EQ(looked.name.find(*cookie), std::string::npos) << "the name is not the secret";
  EXPECT_TRUE(sessions.look("", kPhone, kAgent, 1).name.empty());
  EXPECT_TRUE(sessions.look(looked.name, kPhone, kAgent, 1).name.empty())
      << "what is kept is no cookie";
}

TEST(Sessions, EndWhenTheyAreStolen) {
  const std::vector<std::pair<std::string, std::string>> thieves = {
      {"192.0.2.8", kAgent}, {kPhone, "Another browser"}, {"2001:db8::7", kAgent}};
  for (const auto& [address, agent] : thieves) {
    Sessions sessions;
    const auto cookie = cookie_of(sessions.open("R. Example", kPhone, kAgent, 0));
    const auto stolen = sessions.look(*cookie, address, agent, 1);
    EXPECT_TRUE(stolen.name.empty());
    EXPECT_TRUE(stolen.ended);
    EXPECT_TRUE(sessions.look(*cookie, kPhone, kAgent, 2).name.empty());
  }
}

// RFC 8981: a phone changes the lower 64 bits of its IPv6 address by itself.
TEST(Sessions, FollowAPhoneWithinItsIpv6Network) {
  Sessions sessions;
  const auto cookie = cookie_of(sessions.open("R. Example", "2001:db8:1:2:aaaa::1", kAgent, 0));
  EXPECT_FALSE(sessions.look(*cookie, "2001:db8:1:2:bbbb::9", kAgent, 1).name.empty());
  EXPECT_TRUE(sessions.look(*cookie, "2001:db8:1:3:bbbb::9", kAgent, 2).name.empty());
}

TEST(Sessions, EndAfterTwelveIdleHours) {
  Sessions sessions;
  const auto cookie = cookie_of(sessions.open("R. Example", kPhone, kAgent, 0));
  constexpr std::int64_t kHour = 3'600'000;
  EXPECT_FALSE(sessions.look(*cookie, kPhone, kAgent, 11 * kHour).name.empty());
  EXPECT_FALSE(sessions.look(*cookie, kPhone, kAgent, 22 * kHour).name.empty());
  EXPECT_TRUE(sessions.look(*cookie, kPhone, kAgent, 34 * kHour).name.empty());
}

TEST(Sessions, AreSixtyFourAtMostAndMakeRoom) {
  Sessions sessions;
  std::set<std::string> cookies;
  for (std::size_t i = 0; i < Sessions::kMost; ++i) {
    const auto cookie = cookie_of(sessions.open("R. Example", kPhone, kAgent, 0));
    ASSERT_TRUE(cookie);
    cookies.insert(*cookie);
  }
  EXPECT_EQ(cookies.size(), Sessions::kMost);
  EXPECT_FALSE(sessions.open("R. Example", kPhone, kAgent, 1));
  sessions.leave(sessions.look(*cookies.begin(), kPhone, kAgent, 1).name);
  EXPECT_TRUE(sessions.open("R. Example", kPhone, kAgent, 2));
  EXPECT_TRUE(sessions.open("R. Example", kPhone, kAgent, Sessions::kIdle_ms + 2))
      << "idle ones went";
}

// A token bucket lets through burst + rate * time, never more (Turner 1986).
TEST(Limiter, LetsThroughBurstAndRate) {
  Limiter limiter({.per_second = 4.0, .burst = 10.0});
  int through = 0;
  for (std::int64_t now = 0; now <= 5000; now += 10) {
    if (!limiter.take("a", now)) ++through;
  }
  EXPECT_EQ(through, 10 + 4 * 5);
}

TEST(Limiter, SaysHowLongToWaitAndIsRight) {
  Limiter limiter({.per_second = 0.1, .burst = 1.0});
  EXPECT_FALSE(limiter.take("a", 0));
  const auto wait = limiter.take("a", 100);
  ASSERT_TRUE(wait);
  EXPECT_EQ(*wait, 10);
  EXPECT_TRUE(limiter.take("a", 5000));
  EXPECT_FALSE(limiter.take("a", 100 + 1000 * *wait));
  EXPECT_FALSE(limiter.take("b", 100)) << "others do not wait";
}

TEST(Limiter, ForgetsKeysInsteadOfGrowing) {
  Limiter limiter({.per_second = 0.001, .burst = 2.0});
  for (int i = 0; i < 5000; ++i) {
    ASSERT_FALSE(limiter.take(std::to_string(i), i));
  }
  // One that asked just now is still known.
  EXPECT_FALSE(limiter.take("4999", 5000));
  EXPECT_TRUE(limiter.take("4999", 5000));
}

// Python 3.11, hashlib (an implementation of RFC 7693 of its own):
// hashlib.blake2b(b"abc", digest_size=32).hexdigest()
TEST(Secret, IsHashedWithBlake2b) {
  EXPECT_EQ(hash_of("abc", ""), "bddd813c634239723171ef3fee98579b94964e3bb1cb3e427262c8c068d52319");
}

}  // namespace
}  // namespace weighwright::web
