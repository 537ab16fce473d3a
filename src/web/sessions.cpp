#include "web/sessions.h"

#include <algorithm>
#include <cstddef>
#include <utility>
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
                [&](const auto& kept) { return now_ms - kept.second.phone.used_ms >= kIdle_ms; });
}

std::optional<Sessions::Opened> Sessions::open(const std::string& phone,
                                               const std::string& address,
                                               const std::string& user_agent,
                                               std::int64_t now_ms) {
  const std::scoped_lock lock(mutex_);
  forget_idle(now_ms);
  if (sessions_.size() >= kMost) return {};
  Opened opened{.cookie = random_secret(),
                .phone = {.number = next_++,
                          .name = phone,
                          .address = address,
                          .user_agent = user_agent,
                          .since_ms = now_ms,
                          .used_ms = now_ms}};
  sessions_[hash_of(opened.cookie, "")] = {.bound_to = binding(address, user_agent),
                                           .phone = opened.phone};
  return opened;
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
    return {.name = {}, .phone = {}, .ended = true};
  }
  found->second.phone.used_ms = now_ms;
  return {.name = name, .phone = found->second.phone.name, .ended = false};
}

bool Sessions::is_open(const std::string& name, std::int64_t now_ms) {
  const std::scoped_lock lock(mutex_);
  forget_idle(now_ms);
  const auto found = sessions_.find(name);
  if (found == sessions_.end()) return false;
  found->second.phone.used_ms = now_ms;  // who listens uses it
  return true;
}

void Sessions::leave(const std::string& name) {
  const std::scoped_lock lock(mutex_);
  sessions_.erase(name);
}

std::vector<Phone> Sessions::phones(std::int64_t now_ms) {
  const std::scoped_lock lock(mutex_);
  forget_idle(now_ms);
  std::vector<Phone> list;
  for (const auto& [name, session] : sessions_) list.push_back(session.phone);
  std::sort(list.begin(), list.end(),
            [](const Phone& a, const Phone& b) { return a.number < b.number; });
  return list;
}

std::optional<Phone> Sessions::put_out(int number) {
  const std::scoped_lock lock(mutex_);
  const auto found = std::find_if(sessions_.begin(), sessions_.end(), [&](const auto& kept) {
    return kept.second.phone.number == number;
  });
  if (found == sessions_.end()) return {};
  Phone phone = std::move(found->second.phone);
  sessions_.erase(found);
  return phone;
}

}  // namespace weighwright::web
