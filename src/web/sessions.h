#pragma once
/// Who was let in.
///
/// The name that whoever paired gave stands with the session as long as it lasts: it is written
/// into what is recorded over it, shown at the serving machine, and can't be changed from the
/// phone.
///
/// A session is a random cookie of 256 bits; its hash is kept, not itself. It is bound to the user
/// agent and to the address that it was given to (IPv4: the whole address; IPv6: the network, 64
/// bits, for phones change the rest by themselves, RFC 8981). A cookie that turns up from elsewhere
/// was copied: it is refused and the session ends, so that the phone it was taken from notices and
/// pairs anew. Somebody who copies the cookie and also speaks from the same address with the same
/// user agent is not told apart: TLS and HttpOnly are there to keep the cookie from him.
///
/// Ends after 12 hours without a request. At most 64.

#include <cstddef>
#include <cstdint>
#include <mutex>
#include <optional>
#include <string>
#include <unordered_map>
#include <vector>

namespace weighwright::web {

/// A phone that is let in, as the serving machine shows it.
struct Phone {
  int number = 0;    // counts up from 1 while the program runs; never given twice
  std::string name;  // as given at pairing
  std::string address;
  std::string user_agent;
  std::int64_t since_ms = 0;
  std::int64_t used_ms = 0;
};

class Sessions {
 public:
  static constexpr std::size_t kMost = 64;
  static constexpr std::int64_t kIdle_ms = 12LL * 60 * 60 * 1000;

  struct Opened {
    std::string cookie;
    Phone phone;
  };
  /// @param phone  its name
  /// @return nothing: as many as may be are let in already
  [[nodiscard]] std::optional<Opened> open(const std::string& phone,
                                           const std::string& address,
                                           const std::string& user_agent,
                                           std::int64_t now_ms);

  struct Looked {
    std::string name;    // of the session, not secret; empty: not let in
    std::string phone;   // its name
    bool ended = false;  // there was one, but it was used from elsewhere
  };
  [[nodiscard]] Looked look(const std::string& cookie,
                            const std::string& address,
                            const std::string& user_agent,
                            std::int64_t now_ms);
  /// @param name  as look() gave it
  [[nodiscard]] bool is_open(const std::string& name, std::int64_t now_ms);
  void leave(const std::string& name);
  /// In the order in which they came.
  [[nodiscard]] std::vector<Phone> phones(std::int64_t now_ms);
  /// Ends the session of that number. @return its phone; nothing: there is none
  [[nodiscard]] std::optional<Phone> put_out(int number);

 private:
  struct Session {
    std::string bound_to;
    Phone phone;
  };
  void forget_idle(std::int64_t now_ms);

  std::mutex mutex_;
  std::unordered_map<std::string, Session> sessions_;  // by the hash of the cookie
  int next_ = 1;
};

/// What a session is bound to of an address.
[[nodiscard]] std::string bound_part(const std::string& address);

}  // namespace weighwright::web
