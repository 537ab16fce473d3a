#pragma once
/// One thread that looks at the instruments and the journal for everybody who listens.
///
/// Every listener gets the newest only: who is slow skips what was between. While nobody listens
/// the thread sleeps.

#include <chrono>
#include <condition_variable>
#include <cstddef>
#include <cstdint>
#include <deque>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <utility>

namespace weighwright::web {

class Broadcast {
 public:
  static constexpr std::size_t kMostListeners = 64;
  /// Of one session: a page in several tabs, and one that was left behind a moment ago. One more
  /// ends the oldest.
  static constexpr std::size_t kMostOfOne = 4;
  static constexpr std::chrono::milliseconds kLook{250};  // live values; every other time revision

  /// @param live      one line of JSON
  /// @param revision  of the site
  /// Neither may throw.
  Broadcast(std::function<std::string()> live, std::function<std::string()> revision);
  ~Broadcast();
  Broadcast(const Broadcast&) = delete;
  Broadcast& operator=(const Broadcast&) = delete;

  /// One that listens, until it is destroyed.
  class Listener {
   public:
    Listener(Broadcast& from, std::string who) : from_(from), who_(std::move(who)) {}
    ~Listener();
    Listener(const Listener&) = delete;
    Listener& operator=(const Listener&) = delete;
    /// Waits for something new. @return events as they go over the wire (WHATWG HTML standard,
    /// "Server-sent events"); empty: nothing new within `wait`; nothing: the server stops, or
    /// another of the same session took its place
    [[nodiscard]] std::optional<std::string> next(std::chrono::milliseconds wait);

   private:
    friend class Broadcast;
    Broadcast& from_;
    std::string who_;
    bool ended_ = false;
    std::uint64_t live_seen_ = 0;
    std::uint64_t site_seen_ = 0;
  };
  /// @param who  a session; empty: not counted apart
  /// @return empty when as many as may be listen already
  [[nodiscard]] std::unique_ptr<Listener> join(const std::string& who);

  /// Something was recorded: look at once.
  void poke();
  void stop();

 private:
  using Event = std::shared_ptr<const std::string>;
  void run();
  void look(bool at_journal);

  std::function<std::string()> live_;
  std::function<std::string()> revision_;
  std::mutex mutex_;
  std::condition_variable changed_;  // for listeners
  std::condition_variable wanted_;   // for the thread
  std::deque<Listener*> listeners_;  // in the order in which they came
  bool poked_ = false;
  bool stopped_ = false;
  std::string live_text_;
  std::string revision_text_;
  Event live_event_;
  Event site_event_;
  std::uint64_t live_number_ = 0;
  std::uint64_t site_number_ = 0;
  std::thread thread_;  // last: it uses the others
};

}  // namespace weighwright::web
