#pragma once
/// The bytes of one connection, plain or in TLS, each step with a time by which it must be done: a
/// client that sends a byte now and then holds nothing for long.

#include <array>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <string>

struct ssl_st;
struct ssl_ctx_st;

namespace weighwright::web {

/// Milliseconds of a clock that never goes back.
[[nodiscard]] std::int64_t now_ms();

class Wire {
 public:
  /// @param socket  stays the caller's to close; is made non-blocking
  /// @param tls     nullptr: plain
  Wire(int socket, ssl_ctx_st* tls);
  ~Wire();
  Wire(const Wire&) = delete;
  Wire& operator=(const Wire&) = delete;

  /// Plain HTTP came to where TLS is spoken: told so in plain words.
  [[nodiscard]] bool speaks_plain(std::int64_t within_ms) const;
  void answer_plain();
  [[nodiscard]] bool shake_hands(std::int64_t within_ms);
  /// What may be read from now on.
  void allow(std::int64_t within_ms, std::size_t bytes);
  /// @return bytes; 0: the other side has ended; -1: too late, too much, or broken
  [[nodiscard]] std::ptrdiff_t read(char* to, std::size_t most);
  /// All of it, or false. Each piece must leave within `kWrite_ms`.
  [[nodiscard]] bool write(const char* from, std::size_t count);
  /// Something to read (or the end) is there. Waits for it.
  [[nodiscard]] bool is_readable(std::int64_t within_ms);
  [[nodiscard]] bool has_ended();
  /// Says good-bye and reads what is still under way, so that the answer arrives before the reset
  /// (RFC 9112, 9.6).
  void linger();

  [[nodiscard]] int socket() const { return socket_; }

 private:
  static constexpr std::int64_t kWrite_ms = 10'000;
  bool wait(short events, std::int64_t until_ms) const;
  std::ptrdiff_t read_some(char* to, std::size_t most, std::int64_t until_ms);

  int socket_;
  ssl_st* ssl_ = nullptr;
  bool broken_ = false;  // TLS can't go on
  std::int64_t until_ms_ = 0;
  std::size_t left_ = 0;
  std::array<char, 4096> buffer_{};
  std::size_t begin_ = 0;
  std::size_t end_ = 0;
};

/// The address of the other end (or our own) in figures; an IPv4 address that came over IPv6 as
/// IPv4.
[[nodiscard]] std::string address_of(int socket, bool own);

}  // namespace weighwright::web
