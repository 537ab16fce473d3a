#include "web/broadcast.h"

#include <utility>

namespace weighwright::web {
namespace {

/// An event's data may hold no line feed of its own: one ends the line.
std::string event(const std::string& name, const std::string& data) {
  std::string text = "event: " + name + "\ndata: ";
  for (const char c : data) {
    if (c != '\n' && c != '\r') text += c;
  }
  return text + "\n\n";
}

}  // namespace

Broadcast::Broadcast(std::function<std::string()> live, std::function<std::string()> revision)
    : live_(std::move(live)), revision_(std::move(revision)), thread_([this] { run(); }) {}

Broadcast::~Broadcast() {
  stop();
  thread_.join();
}

std::unique_ptr<Broadcast::Listener> Broadcast::join(const std::string& who) {
  const std::scoped_lock lock(mutex_);
  std::size_t own = 0;
  Listener* oldest = nullptr;
  for (Listener* const one : listeners_) {
    if (who.empty() || one->who_ != who || one->ended_) continue;
    if (oldest == nullptr) oldest = one;
    ++own;
  }
  if (own >= kMostOfOne) {
    oldest->ended_ = true;
    changed_.notify_all();
  }
  if (stopped_ || listeners_.size() >= kMostListeners) return {};
  auto listener = std::make_unique<Listener>(*this, who);
  listeners_.push_back(listener.get());
  wanted_.notify_all();
  return listener;
}

Broadcast::Listener::~Listener() {
  const std::scoped_lock lock(from_.mutex_);
  std::erase(from_.listeners_, this);
}

std::optional<std::string> Broadcast::Listener::next(std::chrono::milliseconds wait) {
  Event live;
  Event site;
  {
    std::unique_lock lock(from_.mutex_);
    from_.changed_.wait_for(lock, wait, [&] {
      return from_.stopped_ || ended_ || from_.live_number_ != live_seen_ ||
             from_.site_number_ != site_seen_;
    });
    if (from_.stopped_ || ended_) return {};
    if (from_.live_number_ != live_seen_) live = from_.live_event_;
    if (from_.site_number_ != site_seen_) site = from_.site_event_;
    live_seen_ = from_.live_number_;
    site_seen_ = from_.site_number_;
  }
  return (site ? *site : "") + (live ? *live : "");
}

void Broadcast::poke() {
  const std::scoped_lock lock(mutex_);
  poked_ = true;
  wanted_.notify_all();
}

void Broadcast::stop() {
  const std::scoped_lock lock(mutex_);
  stopped_ = true;
  wanted_.notify_all();
  changed_.notify_all();
}

void Broadcast::look(bool at_journal) {
  const std::string live = live_();
  const std::string revision = at_journal ? revision_() : "";
  const std::scoped_lock lock(mutex_);
  if (live != live_text_) {
    live_text_ = live;
    live_event_ = std::make_shared<const std::string>(event("live", live));
    ++live_number_;
    changed_.notify_all();
  }
  if (at_journal && revision != revision_text_) {
    revision_text_ = revision;
    site_event_ =
        std::make_shared<const std::string>(event("site", R"({"revision":")" + revision + R"("})"));
    ++site_number_;
    changed_.notify_all();
  }
}

void Broadcast::run() {
  bool at_journal = true;
  for (;;) {
    {
      std::unique_lock lock(mutex_);
      if (listeners_.empty()) at_journal = true;  // the first one is not to wait for his turn
      wanted_.wait(lock, [&] { return stopped_ || !listeners_.empty(); });
      if (stopped_) return;
      at_journal = at_journal || poked_;
      poked_ = false;
    }
    look(at_journal);
    at_journal = !at_journal;
    std::unique_lock lock(mutex_);
    wanted_.wait_for(lock, kLook, [&] { return stopped_ || (poked_ && !listeners_.empty()); });
  }
}

}  // namespace weighwright::web
