#pragma once
/// Who is connected, and the threads that serve them: one for each connection, made when needed,
/// gone when idle.
///
/// When all are taken, a connection that waits for its request to be complete is ended for others:
/// of strangers before those of who was let in; of these, of the network that has most of them
/// (bound_part() of the address: with IPv6 everybody has 2^64 addresses); of these, the one that
/// has waited longest. So whoever opens many and sends little ends his own.

#include <condition_variable>
#include <cstddef>
#include <cstdint>
#include <deque>
#include <functional>
#include <map>
#include <mutex>
#include <string>
#include <thread>

namespace weighwright::web {

class Crowd {
 public:
  static constexpr std::size_t kMostThreads = 128;  // 64 streams of events, and requests

  Crowd() = default;
  ~Crowd();
  Crowd(const Crowd&) = delete;
  Crowd& operator=(const Crowd&) = delete;

  /// Serves one connection on a thread of its own.
  void enter(std::function<void()> serve);
  /// Ends those that wait, lets the others finish, joins the threads.
  void go_home();

  /// A connection that is being served; to be held while its socket is open.
  class Seat {
   public:
    Seat(Crowd& crowd, int socket, const std::string& address);
    ~Seat();
    Seat(const Seat&) = delete;
    Seat& operator=(const Seat&) = delete;
    void waits();       // for a request to be complete
    void is_served();   // is not ended for others
    void was_let_in();  // a request of a session came over it
   private:
    Crowd& crowd_;
    std::uint64_t number_;
  };

 private:
  struct Seated {
    int socket = -1;
    std::string network;
    bool let_in = false;
    bool waits = true;
    bool leaves = false;      // was ended for others
    std::uint64_t since = 0;  // counts up with every wait
  };
  void work(std::uint64_t thread);
  void make_room();
  [[nodiscard]] bool end_one_that_waits();

  std::mutex mutex_;
  std::condition_variable work_there_;
  std::condition_variable all_gone_;
  std::deque<std::function<void()>> queue_;
  std::map<std::uint64_t, Seated> seats_;
  std::map<std::uint64_t, std::thread> threads_;
  std::deque<std::thread> done_;
  std::uint64_t next_ = 1;
  std::size_t idle_ = 0;
  std::size_t leaving_ = 0;
  bool closed_ = false;
};

}  // namespace weighwright::web
