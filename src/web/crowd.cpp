#include "web/crowd.h"

#include <sys/socket.h>

#include <algorithm>
#include <chrono>
#include <utility>
#include <vector>

#include "web/sessions.h"

namespace weighwright::web {

Crowd::~Crowd() {
  go_home();
}

Crowd::Seat::Seat(Crowd& crowd, int socket, const std::string& address) : crowd_(crowd) {
  const std::scoped_lock lock(crowd_.mutex_);
  number_ = crowd_.next_++;
  crowd_.seats_[number_] = {.socket = socket,
                            .network = bound_part(address),
                            .let_in = false,
                            .waits = true,
                            .leaves = false,
                            .since = number_};
  crowd_.make_room();
  if (crowd_.closed_) shutdown(socket, SHUT_RDWR);
}

Crowd::Seat::~Seat() {
  const std::scoped_lock lock(crowd_.mutex_);
  const auto self = crowd_.seats_.find(number_);
  if (self->second.leaves) --crowd_.leaving_;
  crowd_.seats_.erase(self);
}

void Crowd::Seat::waits() {
  const std::scoped_lock lock(crowd_.mutex_);
  Seated& seat = crowd_.seats_[number_];
  seat.waits = !seat.leaves;
  seat.since = crowd_.next_++;
  crowd_.make_room();
  if (crowd_.closed_) shutdown(seat.socket, SHUT_RDWR);
}

void Crowd::Seat::is_served() {
  const std::scoped_lock lock(crowd_.mutex_);
  crowd_.seats_[number_].waits = false;
}

void Crowd::Seat::was_let_in() {
  const std::scoped_lock lock(crowd_.mutex_);
  crowd_.seats_[number_].let_in = true;
}

/// For everybody in the queue a thread that is idle or about to be. Asked again whenever somebody
/// sits down to wait: when many come at once, those before may not sit yet.
void Crowd::make_room() {
  if (threads_.size() < kMostThreads) return;
  while (queue_.size() > idle_ + leaving_ && end_one_that_waits()) {
  }
}

bool Crowd::end_one_that_waits() {
  std::map<std::string, std::size_t> waiting;
  for (const auto& [number, seat] : seats_) {
    if (seat.waits) ++waiting[seat.network];
  }
  // Strangers first, then of the network with most of them, then who came first.
  const auto sooner = [&](const Seated& a, const Seated& b) {
    if (a.let_in != b.let_in) return b.let_in;
    if (waiting[a.network] != waiting[b.network]) return waiting[a.network] > waiting[b.network];
    return a.since < b.since;
  };
  Seated* first = nullptr;
  for (auto& [number, seat] : seats_) {
    if (seat.waits && (first == nullptr || sooner(seat, *first))) first = &seat;
  }
  if (first == nullptr) return false;
  first->waits = false;
  first->leaves = true;
  ++leaving_;
  shutdown(first->socket, SHUT_RDWR);
  return true;
}

void Crowd::enter(std::function<void()> serve) {
  std::deque<std::thread> done;
  {
    const std::scoped_lock lock(mutex_);
    done.swap(done_);
    queue_.push_back(std::move(serve));
    if (idle_ >= queue_.size()) {
      work_there_.notify_one();
    } else if (threads_.size() < kMostThreads) {
      const std::uint64_t number = next_++;
      threads_[number] = std::thread([this, number] { work(number); });
    } else {
      make_room();
    }
  }
  for (std::thread& thread : done) thread.join();
}

void Crowd::work(std::uint64_t thread) {
  constexpr std::chrono::seconds kIdle{10};
  std::unique_lock lock(mutex_);
  for (;;) {
    ++idle_;
    work_there_.wait_for(lock, kIdle, [&] { return !queue_.empty() || closed_; });
    --idle_;
    if (queue_.empty()) break;
    const std::function<void()> serve = std::move(queue_.front());
    queue_.pop_front();
    lock.unlock();
    serve();
    lock.lock();
  }
  const auto self = threads_.find(thread);
  done_.push_back(std::move(self->second));
  threads_.erase(self);
  all_gone_.notify_all();
}

void Crowd::go_home() {
  std::unique_lock lock(mutex_);
  closed_ = true;
  for (auto& [number, seat] : seats_) {
    if (seat.waits) shutdown(seat.socket, SHUT_RDWR);
  }
  work_there_.notify_all();
  all_gone_.wait(lock, [&] { return threads_.empty(); });
  std::deque<std::thread> done;
  done.swap(done_);
  lock.unlock();
  for (std::thread& thread : done) thread.join();
}

}  // namespace weighwright::web
