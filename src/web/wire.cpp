#include "web/wire.h"

#include <fcntl.h>
#include <netdb.h>
#include <openssl/err.h>
#include <openssl/ssl.h>
#include <poll.h>
#include <sys/socket.h>

#include <algorithm>
#include <cerrno>
#include <chrono>
#include <cstring>

namespace weighwright::web {

std::int64_t now_ms() {
  return std::chrono::duration_cast<std::chrono::milliseconds>(
             std::chrono::steady_clock::now().time_since_epoch())
      .count();
}

Wire::Wire(int socket, ssl_ctx_st* tls) : socket_(socket) {
  fcntl(socket_, F_SETFL, fcntl(socket_, F_GETFL) | O_NONBLOCK);
  if (tls == nullptr) return;
  ssl_ = SSL_new(tls);
  if (ssl_ != nullptr) SSL_set_fd(ssl_, socket_);
  broken_ = ssl_ == nullptr;
}

Wire::~Wire() {
  SSL_free(ssl_);
}

bool Wire::wait(short events, std::int64_t until_ms) const {
  for (;;) {
    const std::int64_t left = until_ms - now_ms();
    if (left <= 0) return false;
    pollfd one{.fd = socket_, .events = events, .revents = 0};
    const int done = poll(&one, 1, static_cast<int>(std::min<std::int64_t>(left, 60'000)));
    if (done > 0) return true;
    if (done < 0 && errno != EINTR) return false;
  }
}

bool Wire::speaks_plain(std::int64_t within_ms) const {
  if (ssl_ == nullptr || !wait(POLLIN, now_ms() + within_ms)) return false;
  char first = 0;
  // A TLS connection begins with a record of type handshake, 22 (RFC 8446, 5.1); a method is
  // letters.
  return recv(socket_, &first, 1, MSG_PEEK) == 1 && first >= 'A' && first <= 'Z';
}

void Wire::answer_plain() {
  constexpr const char* kAnswer =
      "HTTP/1.1 400 Bad Request\r\nContent-Type: text/plain; charset=utf-8\r\n"
      "X-Content-Type-Options: nosniff\r\nConnection: close\r\nContent-Length: 51\r\n\r\n"
      "This address is asked with https:// in front of it\n";
  send(socket_, kAnswer, std::strlen(kAnswer), MSG_NOSIGNAL);
  broken_ = true;  // no TLS to say good-bye in
}

bool Wire::shake_hands(std::int64_t within_ms) {
  if (ssl_ == nullptr) return !broken_;
  const std::int64_t until = now_ms() + within_ms;
  for (;;) {
    ERR_clear_error();
    const int done = SSL_accept(ssl_);
    if (done == 1) return true;
    const int why = SSL_get_error(ssl_, done);
    const bool more = why == SSL_ERROR_WANT_READ || why == SSL_ERROR_WANT_WRITE;
    if (!more || !wait(why == SSL_ERROR_WANT_READ ? POLLIN : POLLOUT, until)) {
      broken_ = true;
      return false;
    }
  }
}

void Wire::allow(std::int64_t within_ms, std::size_t bytes) {
  until_ms_ = now_ms() + within_ms;
  left_ = bytes;
}

std::ptrdiff_t Wire::read_some(char* to, std::size_t most, std::int64_t until_ms) {
  for (;;) {
    short events = POLLIN;
    if (ssl_ == nullptr) {
      const ssize_t got = recv(socket_, to, most, 0);
      if (got >= 0) return got;
      if (errno == EINTR) continue;
      if (errno != EAGAIN) return -1;
    } else {
      if (broken_) return -1;
      ERR_clear_error();
      const int got = SSL_read(ssl_, to, static_cast<int>(most));
      if (got > 0) return got;
      const int why = SSL_get_error(ssl_, got);
      if (why == SSL_ERROR_ZERO_RETURN) return 0;
      if (why == SSL_ERROR_WANT_WRITE) events = POLLOUT;
      if (why != SSL_ERROR_WANT_READ && why != SSL_ERROR_WANT_WRITE) {
        broken_ = true;
        return -1;
      }
    }
    if (!wait(events, until_ms)) return -1;
  }
}

std::ptrdiff_t Wire::read(char* to, std::size_t most) {
  if (begin_ == end_) {
    if (left_ == 0) return -1;
    const std::ptrdiff_t got =
        read_some(buffer_.data(), std::min(buffer_.size(), left_), until_ms_);
    if (got <= 0) return got;
    begin_ = 0;
    end_ = static_cast<std::size_t>(got);
    left_ -= end_;
  }
  const std::size_t count = std::min(most, end_ - begin_);
  std::memcpy(to, buffer_.data() + begin_, count);
  begin_ += count;
  return static_cast<std::ptrdiff_t>(count);
}

bool Wire::write(const char* from, std::size_t count) {
  while (count > 0) {
    short events = POLLOUT;
    std::ptrdiff_t done = -1;
    if (ssl_ == nullptr) {
      done = send(socket_, from, count, MSG_NOSIGNAL);
      if (done < 0 && errno != EINTR && errno != EAGAIN) return false;
    } else {
      if (broken_) return false;
      ERR_clear_error();
      done = SSL_write(ssl_, from, static_cast<int>(std::min<std::size_t>(count, 16'384)));
      const int why = done > 0 ? SSL_ERROR_NONE : SSL_get_error(ssl_, static_cast<int>(done));
      if (why == SSL_ERROR_WANT_READ) events = POLLIN;
      if (done <= 0 && why != SSL_ERROR_WANT_READ && why != SSL_ERROR_WANT_WRITE) {
        broken_ = true;
        return false;
      }
    }
    if (done > 0) {
      from += done;
      count -= static_cast<std::size_t>(done);
    } else if (!wait(events, now_ms() + kWrite_ms)) {
      broken_ = true;
      return false;
    }
  }
  return true;
}

bool Wire::is_readable(std::int64_t within_ms) {
  if (begin_ != end_) return true;
  if (ssl_ != nullptr && SSL_pending(ssl_) > 0) return true;
  return wait(POLLIN, now_ms() + within_ms);
}

bool Wire::has_ended() {
  pollfd one{.fd = socket_, .events = POLLRDHUP, .revents = 0};
  return poll(&one, 1, 0) > 0 && (one.revents & (POLLRDHUP | POLLHUP | POLLERR)) != 0;
}

void Wire::linger() {
  constexpr std::int64_t kLinger_ms = 2'000;
  constexpr std::size_t kMost_bytes = 16'000'000;
  if (ssl_ != nullptr && !broken_) {
    ERR_clear_error();
    SSL_shutdown(ssl_);
  }
  if (shutdown(socket_, SHUT_WR) != 0) return;
  const std::int64_t until = now_ms() + kLinger_ms;
  std::size_t seen = 0;
  while (seen < kMost_bytes && wait(POLLIN, until)) {
    const ssize_t got = recv(socket_, buffer_.data(), buffer_.size(), 0);
    if (got == 0 || (got < 0 && errno != EINTR && errno != EAGAIN)) return;
    if (got > 0) seen += static_cast<std::size_t>(got);
  }
}

std::string address_of(int socket, bool own) {
  sockaddr_storage name{};
  socklen_t length = sizeof name;
  auto* const any = reinterpret_cast<sockaddr*>(&name);
  if ((own ? getsockname(socket, any, &length) : getpeername(socket, any, &length)) != 0) return {};
  std::array<char, NI_MAXHOST> text{};
  if (getnameinfo(any, length, text.data(), text.size(), nullptr, 0, NI_NUMERICHOST) != 0) {
    return {};
  }
  std::string address = text.data();
  // "fe80::1%eth0": the interface is no part of a name in a request.
  address = address.substr(0, address.find('%'));
  constexpr const char* kMapped = "::ffff:";
  const bool mapped = address.starts_with(kMapped) && address.find('.') != std::string::npos;
  return mapped ? address.substr(std::strlen(kMapped)) : address;
}

}  // namespace weighwright::web
