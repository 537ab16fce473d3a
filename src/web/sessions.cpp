#include "web/sessions.h"

#include <cstddef>
#include <vector>

#include "web/addresses.h"
#include "web/secret.h"

namespace weighwright::web {
namespace {

std::string binding(const std::string& address, const std::string& user_agent) {
  return hash_of(bound_part(address) + "\n" + user_agent, "");
}

}  // namespace

std::string bound_part(const std::string& address) {
  std::vector<unsigned char> bytes = bytes_of_address(address);
  constexpr std::ptrdiff_t kNetwork = 8;
  if (bytes.size() != 16) return address;
  std::fill(bytes.begin() + kNetwork, bytes.end(), static_cast<unsigned char>(0));
  return figures_of(bytes);
}

void Sessions::forget_idle(std::int64_t now_ms) {
  std::erase_if(sessions_,
                [&](const auto& kept) { return now_ms - kept.second.used_ms >= kIdle_ms; });
}

std::optional<std::string> Sessions::open(const std::string& address,
                                          const std::string& user_agent,
                                          std::int64_t now_ms) {
  const std::scoped_lock lock(mutex_);
  forget_idle(now_ms);
  if (sessions_.size() >= kMost) return {};
  std::string cookie = random_secret();
  sessions_[hash_of(cookie, "")] = {.bound_to = binding(address, user_agent), .used_ms = now_ms};
  return cookie;
}

Sessions::Looked Sessions::look(const std::string& cookie,
                                const std::string& address,
                                const std::string& user_agent,
                                std::int64_t now_ms) {
  if (cookie.empty()) return {};
  const std::string name = hash_of(cookie, "");
  const std::scoped_lock lock(mutex_);
  forget_idle(now_ms);
  const auto found = sessions_.find(name);
  if (found == sessions_.end()) return {};
  if (found->second.bound_to != binding(address, user_agent)) {
    sessions_.erase(found);
    return {.name = {}, .ended = true};
  }
  found->second.used_ms = now_ms;
  return {.name = name, .ended = false};
}

bool Sessions::is_open(const std::string& name, std::int64_t now_ms) {
  const std::scoped_lock lock(mutex_);
  forget_idle(now_ms);
  const auto found = sessions_.find(name);
  if (found == sessions_.end()) return false;
  found->second.used_ms = now_ms;  // who listens uses it
  return true;
}

void Sessions::leave(const std::string& name) {
  const std::scoped_lock lock(mutex_);
  sessions_.erase(name);
}

}  // namespace weighwright::web
