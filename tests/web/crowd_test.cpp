// Who gives way when every thread is taken. Sockets are pairs that nobody reads.
#include "web/crowd.h"

#include <gtest/gtest.h>
#include <poll.h>
#include <sys/socket.h>
#include <unistd.h>

#include <array>
#include <atomic>
#include <chrono>
#include <memory>
#include <string>
#include <thread>
#include <vector>

#include "web/broadcast.h"

namespace weighwright::web {
namespace {

/// A connection that waits for its request until it is ended.
struct Waiting {
  std::array<int, 2> ends{};
  std::atomic<bool> seated{false};
  std::atomic<bool> ended{false};

  Waiting() { EXPECT_EQ(socketpair(AF_UNIX, SOCK_STREAM, 0, ends.data()), 0); }
  ~Waiting() {
    for (const int end : ends) close(end);
  }
  Waiting(const Waiting&) = delete;
  Waiting& operator=(const Waiting&) = delete;
};

class FullCrowd {
 public:
  ~FullCrowd() {
    for (const auto& one : all_) shutdown(one->ends[1], SHUT_RDWR);
    crowd_.go_home();
  }

  Waiting& enter(const std::string& address, bool let_in) {
    all_.push_back(std::make_unique<Waiting>());
    Waiting& one = *all_.back();
    crowd_.enter([this, &one, address, let_in] {
      Crowd::Seat seat(crowd_, one.ends[0], address);
      if (let_in) seat.was_let_in();
      one.seated = true;
      pollfd end{.fd = one.ends[0], .events = POLLIN, .revents = 0};
      poll(&end, 1, 60'000);
      one.ended = true;
    });
    return one;
  }

  static bool wait_for(const std::atomic<bool>& flag) {
    for (int i = 0; i < 3000 && !flag; ++i)
      std::this_thread::sleep_for(std::chrono::milliseconds(10));
    return flag;
  }

  void wait_until_seated() {
    for (const auto& one : all_) ASSERT_TRUE(wait_for(one->seated));
  }

 private:
  Crowd crowd_;
  std::vector<std::unique_ptr<Waiting>> all_;
};

// RFC 4291, 2.5.4: a subnet has 2^64 interface identifiers, so addresses of one network are one
// stranger.
TEST(Crowd, StrangersOfOneNetworkGiveWayBeforeWhoWasLetIn) {
  FullCrowd crowd;
  Waiting& phone = crowd.enter("192.0.2.7", true);
  crowd.wait_until_seated();
  std::vector<Waiting*> strangers;
  for (std::size_t i = 1; i < Crowd::kMostThreads; ++i) {
    strangers.push_back(&crowd.enter("2001:db8:1:2::" + std::to_string(i), false));
  }
  crowd.wait_until_seated();
  Waiting& newcomer = crowd.enter("192.0.2.8", false);
  ASSERT_TRUE(FullCrowd::wait_for(newcomer.seated)) << "somebody gave way";
  EXPECT_FALSE(phone.ended) << "who was let in stays, though he waited longest";
  EXPECT_TRUE(FullCrowd::wait_for(strangers.front()->ended)) << "the oldest stranger went";
}

TEST(Crowd, WhoeverOpensManyEndsHisOwn) {
  FullCrowd crowd;
  Waiting& single = crowd.enter("192.0.2.7", false);
  crowd.wait_until_seated();
  for (std::size_t i = 1; i < Crowd::kMostThreads; ++i) {
    crowd.enter("2001:db8:1:2::" + std::to_string(i), false);
  }
  crowd.wait_until_seated();
  Waiting& newcomer = crowd.enter("192.0.2.8", false);
  ASSERT_TRUE(FullCrowd::wait_for(newcomer.seated));
  EXPECT_FALSE(single.ended) << "127 addresses of one network count as one";
}

TEST(Broadcast, OneSessionListensFourTimesAtMost) {
  Broadcast broadcast([] { return std::string("{}"); }, [] { return std::string("r"); });
  std::vector<std::unique_ptr<Broadcast::Listener>> own;
  for (std::size_t i = 0; i < Broadcast::kMostOfOne; ++i) {
    own.push_back(broadcast.join("session"));
    ASSERT_TRUE(own.back());
  }
  auto other = broadcast.join("another");
  auto fifth = broadcast.join("session");
  ASSERT_TRUE(other);
  ASSERT_TRUE(fifth);
  constexpr std::chrono::milliseconds kShort{50};
  EXPECT_FALSE(own.front()->next(kShort)) << "the oldest of the session ends";
  EXPECT_TRUE(own.back()->next(kShort));
  EXPECT_TRUE(other->next(kShort));
  EXPECT_TRUE(fifth->next(kShort));
}

TEST(Broadcast, PagesOfThisMachineAreNotCountedApart) {
  Broadcast broadcast([] { return std::string("{}"); }, [] { return std::string("r"); });
  std::vector<std::unique_ptr<Broadcast::Listener>> all;
  for (std::size_t i = 0; i < 2 * Broadcast::kMostOfOne; ++i) all.push_back(broadcast.join(""));
  for (const auto& one : all) EXPECT_TRUE(one->next(std::chrono::milliseconds(50)));
}

}  // namespace
}  // namespace weighwright::web
