#include "link/loopback.h"

#include <netdb.h>
#include <poll.h>
#include <sys/socket.h>

#include <array>
#include <cerrno>
#include <cstdint>
#include <exception>
#include <system_error>
#include <utility>

namespace weighwright::link {

namespace {

constexpr int kQueue = 16;

[[noreturn]] void fail(const char* what) {
  throw std::system_error(errno, std::generic_category(), what);
}

}  // namespace

Loopback::Loopback(int port, Descriptor other, Serve serve) : serve_(std::move(serve)) {
  if (port >= 0) listen_on(port);
  if (other) clients_.push_back({std::move(other), {}, true});
  thread_ = std::thread([this] { run(); });
}

Loopback::~Loopback() {
  stop_.raise();
  thread_.join();
}

void Loopback::listen_on(int port) {
  listener_ = Descriptor(::socket(AF_INET, SOCK_STREAM | SOCK_NONBLOCK | SOCK_CLOEXEC, 0));
  if (!listener_) fail("socket");
  const int yes = 1;
  ::setsockopt(listener_.value(), SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
  sockaddr_in address{};
  address.sin_family = AF_INET;
  address.sin_port = htons(static_cast<std::uint16_t>(port));
  address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  auto* const generic = reinterpret_cast<sockaddr*>(&address);
  if (::bind(listener_.value(), generic, sizeof address) != 0) {
    fail(("port " + std::to_string(port) + " of 127.0.0.1").c_str());
  }
  if (::listen(listener_.value(), kQueue) != 0) fail("listen");
  socklen_t size = sizeof address;
  if (::getsockname(listener_.value(), generic, &size) != 0) fail("getsockname");
  port_ = ntohs(address.sin_port);
}

void Loopback::run() {
  while (true) {
    std::vector<pollfd> waiting = {{stop_.descriptor(), POLLIN, 0}};
    const bool room = listener_ && clients_.size() < kMostClients;
    waiting.push_back({room ? listener_.value() : -1, POLLIN, 0});
    for (const Client& client : clients_) waiting.push_back({client.fd.value(), POLLIN, 0});
    if (::poll(waiting.data(), waiting.size(), -1) < 0 && errno != EINTR) return;
    if (waiting[0].revents != 0) return;
    std::vector<Client> still;
    for (std::size_t i = 0; i < clients_.size(); ++i) {
      if (waiting[i + 2].revents == 0 || serve_one(clients_[i])) {
        still.push_back(std::move(clients_[i]));
      }
    }
    clients_ = std::move(still);
    if (waiting[1].revents != 0) let_in();
  }
}

void Loopback::let_in() {
  Descriptor fd(::accept4(listener_.value(), nullptr, nullptr, SOCK_NONBLOCK | SOCK_CLOEXEC));
  if (fd) clients_.push_back({std::move(fd), {}, false});
}

bool Loopback::serve_one(Client& client) {
  std::array<char, 512> piece{};
  const Received came = receive_now(client.fd.value(), piece.data(), piece.size());
  client.pending.append(piece.data(), came.count);
  bool sound = false;
  try {
    sound = serve_(client.fd.value(), client.pending);
  } catch (const std::exception&) {
    client.pending.clear();  // what is shown could not be had: this client hears nothing
  }
  if (client.pending.size() > kMostPending) client.pending.clear();
  return client.lasting || (sound && !came.ended);
}

}  // namespace weighwright::link
