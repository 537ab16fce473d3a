#pragma once
/// The HTTP server (RFC 9110, 9112) around the door: sockets, threads, TLS, events. The only user
/// of the HTTP library.

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "web/door.h"
#include "web/site.h"

struct ssl_ctx_st;

namespace weighwright::web {

struct ServerOptions {
  bool lan = false;         // TLS on every interface; else plain on loopback
  std::optional<int> port;  // empty: 8470, or the next one that is free; 0: any
  std::string page_folder;  // empty: the page that is built in
  std::string data_folder;  // lan: where key and certificate are kept
  bool practice = false;
  std::string job;  // file name of the journal
  std::string version;
  /// lan: a phone was let in; called from any thread. May be empty.
  std::function<void(const Phone& phone)> came_in = {};
};

struct Started {
  int port = 0;
  std::vector<std::string> addresses;  // whole ones, "https://192.0.2.7:8470/"
  std::string fingerprint;             // lan only: SHA-256 of the public key
};

class Server {
 public:
  /// @param announce  lan: shows a new code; called from any thread
  Server(ServerOptions options,
         std::unique_ptr<Site> site,
         std::function<void(const std::string& code)> announce);
  ~Server();  // stops
  Server(const Server&) = delete;
  Server& operator=(const Server&) = delete;

  /// Begins to answer, and returns. Once only.
  /// @throws std::runtime_error with a sentence: no port is free, no key can be kept
  Started start();
  /// lan: makes the first code, and new ones from then on. After start().
  void begin_pairing();
  // For who stands at the machine; after start().
  [[nodiscard]] std::vector<Phone> phones();
  /// @return which one it was; nothing: there is none of that number
  std::optional<Phone> put_out(int number);
  /// Yes to the instruments that the deck names now.
  job::Reply connect_instruments();
  /// Ends streams, lets requests that are under way finish.
  void stop();

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace weighwright::web
