#include "web/pairing.h"

#include <algorithm>
#include <string_view>
#include <utility>

#include "web/secret.h"

namespace weighwright::web {
namespace {

// Without 0 O 1 I: 32 characters, 5 bits each.
constexpr std::string_view kAlphabet = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ";
constexpr std::size_t kCharacters = 8;

std::string plain(const std::string& typed) {
  std::string code;
  for (const char c : typed) {
    if (c == ' ' || c == '-') continue;
    code += c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
  }
  return code;
}

}  // namespace

Pairing::Pairing(std::function<void(const std::string& code)> announce)
    : announce_(std::move(announce)), key_(random_secret()) {}

std::string Pairing::fresh(std::int64_t now_ms) {
  const std::string code = random_text(kAlphabet, kCharacters);
  hash_ = hash_of(code, key_);
  made_ms_ = now_ms;
  wrong_ = 0;
  return code.substr(0, 4) + "-" + code.substr(4);
}

Pairing::Tried Pairing::attempt(const std::string& code,
                                const std::string& address,
                                std::int64_t now_ms) {
  if (const auto wait = by_address_.take(address, now_ms)) return {.right = false, .wait_s = *wait};
  if (const auto wait = overall_.take("", now_ms)) return {.right = false, .wait_s = *wait};
  std::string announced;
  bool right = false;
  {
    const std::scoped_lock lock(mutex_);
    const bool valid = !hash_.empty() && now_ms - made_ms_ < kValid_ms;
    right = same_secret(hash_of(plain(code), key_), hash_) && valid;
    if (!right) ++wrong_;
    if (right || wrong_ >= kWrongTries) announced = fresh(now_ms);
  }
  if (!announced.empty()) announce_(announced);
  return {.right = right, .wait_s = 0};
}

void Pairing::renew_when_due(std::int64_t now_ms) {
  std::string announced;
  {
    const std::scoped_lock lock(mutex_);
    if (!hash_.empty() && now_ms - made_ms_ < kValid_ms) return;
    announced = fresh(now_ms);
  }
  announce_(announced);
}

}  // namespace weighwright::web
