#include "web/server.h"

#include <httplib.h>

#include <algorithm>
#include <chrono>
#include <condition_variable>
#include <mutex>
#include <stdexcept>
#include <thread>
#include <utility>
#include <vector>

#include "web/addresses.h"
#include "web/broadcast.h"
#include "web/certificate.h"
#include "web/crowd.h"
#include "web/secret.h"
#include "web/security_headers.h"
#include "web/wire.h"

namespace weighwright::web {
namespace {

using std::string;
using std::chrono::milliseconds;

constexpr int kFirstPort = 8470;
constexpr int kLastPort = 8569;
constexpr std::int64_t kHandshake_ms = 8'000;
constexpr std::int64_t kKeepAlive_ms = 15'000;
constexpr std::int64_t kHead_ms = 10'000;
constexpr std::int64_t kBody_ms = 90'000;
constexpr std::size_t kHead_bytes = 32 * 1024;
constexpr std::int64_t kComment_ms = 10'000;
constexpr milliseconds kGoneLook{2'000};  // how long a phone that is gone holds its place

/// The connection that this thread serves.
struct Served {
  Wire* wire = nullptr;
  Crowd::Seat* seat = nullptr;
  bool takes_gzip = false;
  bool close = false;
  bool folded = false;  // a line of the head goes on from the one before it
};
thread_local Served t_served;

/// Looks at the bytes of one head as they come, for what the library passes over in silence: a line
/// that begins with a blank (RFC 9112, 5.2).
class HeadLook {
 public:
  void take(const char* bytes, std::size_t count) {
    for (std::size_t i = 0; in_head_ && i < count; ++i) {
      const char c = bytes[i];
      if (line_begins_ && (c == ' ' || c == '\t')) t_served.folded = true;
      if (line_begins_ && (c == '\r' || c == '\n')) in_head_ = false;  // an empty line ends it
      line_begins_ = c == '\n';
    }
  }

 private:
  bool in_head_ = true;
  bool line_begins_ = false;  // the request line may not begin with one, and is no header
};

class WireStream : public httplib::Stream {
 public:
  explicit WireStream(Wire& wire) : wire_(wire) {}
  bool is_readable() const override { return true; }
  bool is_writable() const override { return !wire_.has_ended(); }
  ssize_t read(char* to, size_t most) override {
    const ssize_t got = wire_.read(to, most);
    if (got > 0) head_.take(to, static_cast<std::size_t>(got));
    return got;
  }
  ssize_t write(const char* from, size_t count) override {
    return wire_.write(from, count) ? static_cast<ssize_t>(count) : -1;
  }
  void get_remote_ip_and_port(string& ip, int& port) const override {
    ip = address_of(wire_.socket(), false);
    port = 0;
  }
  void get_local_ip_and_port(string& ip, int& port) const override {
    ip = address_of(wire_.socket(), true);
    port = 0;
  }
  socket_t socket() const override { return wire_.socket(); }

 private:
  Wire& wire_;
  HeadLook head_;
};

class CrowdQueue : public httplib::TaskQueue {
 public:
  explicit CrowdQueue(Crowd& crowd) : crowd_(crowd) {}
  void enqueue(std::function<void()> serve) override { crowd_.enter(std::move(serve)); }
  void shutdown() override { crowd_.go_home(); }

 private:
  Crowd& crowd_;
};

void begin_body(httplib::Request& request) {
  t_served.takes_gzip = request.get_header_value("Accept-Encoding").find("gzip") != string::npos;
  // Nothing here is sent in parts or packed by the library.
  request.headers.erase("Accept-Encoding");
  request.ranges.clear();
  t_served.wire->allow(kBody_ms, kLargestBody_bytes + kHead_bytes);
}

/// Serves each connection with our own bytes and times instead of the library's.
class PitServer : public httplib::Server {
 public:
  PitServer(Crowd& crowd, std::shared_ptr<ssl_ctx_st> tls) : crowd_(crowd), tls_(std::move(tls)) {
    new_task_queue = [this] { return new CrowdQueue(crowd_); };
  }

  /// After binding. Fifty phones that come at once would overflow the library's queue of 5, and ask
  /// again a second later.
  void take_many_at_once() {
    constexpr int kWaiting = 256;
    ::listen(svr_sock_, kWaiting);
  }

 private:
  void serve(Wire& wire, Crowd::Seat& seat) {
    t_served = {.wire = &wire, .seat = &seat, .takes_gzip = false, .close = false, .folded = false};
    if (wire.speaks_plain(kHandshake_ms)) {
      wire.answer_plain();
      return wire.linger();
    }
    if (!wire.shake_hands(kHandshake_ms)) return;
    std::int64_t wait_ms = kHead_ms;
    while (svr_sock_ != INVALID_SOCKET && wire.is_readable(wait_ms)) {
      wait_ms = kKeepAlive_ms;
      wire.allow(kHead_ms, kHead_bytes);
      t_served.folded = false;
      WireStream stream(wire);
      bool closed = false;
      const bool done = process_request(stream, false, closed, begin_body);
      if (!done || closed || t_served.close) break;
      seat.waits();
    }
    wire.linger();
  }

  bool process_and_close_socket(socket_t socket) override {
    {
      Crowd::Seat seat(crowd_, socket, address_of(socket, false));
      Wire wire(socket, tls_.get());
      try {
        serve(wire, seat);
      } catch (const std::exception&) {
        // Out of memory: this connection ends, the others go on.
        t_served = {};
      }
    }
    ::close(socket);
    return true;
  }

  Crowd& crowd_;
  std::shared_ptr<ssl_ctx_st> tls_;
};

std::vector<string> all_of(const httplib::Request& request, const char* name) {
  std::vector<string> values;
  const auto range = request.headers.equal_range(name);
  for (auto one = range.first; one != range.second; ++one) values.push_back(one->second);
  return values;
}

/// RFC 9110, 5.6.2: what a field's name is made of.
bool is_token(const string& name) {
  static constexpr std::string_view kAlso = "!#$%&'*+-.^_`|~";
  return !name.empty() && std::all_of(name.begin(), name.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
           kAlso.find(c) != std::string_view::npos;
  });
}

/// What no browser sends, and what two programs may read in two ways (RFC 9110, 5.3 and 5.5; RFC
/// 9112, 5.1 and 5.2): names that are none (so also a line that goes on from the one before it),
/// control characters, a field that stands once given twice.
string oddness_of(const httplib::Request& request) {
  if (t_served.folded) return "a line of the head goes on from the one before it";
  for (const auto& [name, value] : request.headers) {
    if (!is_token(name)) return "a header's name is " + units::quote(name);
    const bool control = std::any_of(value.begin(), value.end(), [](char c) {
      return (static_cast<unsigned char>(c) < ' ' && c != '\t') || c == '\x7f';
    });
    if (control) return name + " holds control characters";
  }
  for (const char* const once :
       {"Origin", "Content-Type", "User-Agent", "Cookie", "Sec-Fetch-Site", "Sec-Fetch-Mode",
        "Transfer-Encoding", "If-None-Match", "Accept-Encoding", "Expect"}) {
    if (request.headers.count(once) > 1) return string(once) + " is given twice";
  }
  if (request.headers.count("Expect") > 0 && request.get_header_value("Expect") != "100-continue") {
    return "Expect is " + units::quote(request.get_header_value("Expect"));
  }
  return {};
}

Visit visit_of(const httplib::Request& request) {
  Visit visit;
  visit.odd = oddness_of(request);
  visit.method = request.method;
  visit.path = request.path;
  visit.hosts = all_of(request, "Host");
  if (request.has_header("Origin")) visit.origin = request.get_header_value("Origin");
  visit.fetch_site = request.get_header_value("Sec-Fetch-Site");
  visit.fetch_mode = request.get_header_value("Sec-Fetch-Mode");
  visit.content_type = request.get_header_value("Content-Type");
  visit.content_lengths = all_of(request, "Content-Length");
  visit.encoded = request.has_header("Transfer-Encoding") || request.has_header("Content-Encoding");
  visit.user_agent = request.get_header_value("User-Agent");
  visit.cookie = request.get_header_value("Cookie");
  visit.if_none_match = request.get_header_value("If-None-Match");
  visit.takes_gzip = t_served.takes_gzip;
  visit.address = request.remote_addr;
  visit.local_address = request.local_addr;
  return visit;
}

void put(httplib::Response& response, const Answer& answer) {
  response.status = answer.status;
  for (const auto& [name, value] : answer.headers) response.set_header(name, value);
  if (answer.status != 304) response.set_content(answer.body, answer.type);
}

/// What the library refuses by itself has no words.
void put_words(const httplib::Request&, httplib::Response& response) {
  if (!response.body.empty()) return;
  t_served.close = true;
  const bool large = response.status == 413;
  const Answer answer =
      fault_answer(response.status, "request",
                   large ? "the request carries more than 4 MB"
                         : "this is no HTTP request that can be answered (" +
                               std::to_string(response.status) + ")",
                   large ? "4 MB at most" : "HTTP/1.1, an address below 8 kB, headers below 32 kB");
  response.set_content(answer.body, answer.type);
}

}  // namespace

struct Server::State {
  State(ServerOptions given,
        std::unique_ptr<Site> given_site,
        std::function<void(const string&)> announce)
      : options(std::move(given)), site(std::move(given_site)), pairing(std::move(announce)) {}

  ServerOptions options;
  std::unique_ptr<Site> site;
  Pairing pairing;
  Crowd crowd;
  std::unique_ptr<Broadcast> broadcast;
  std::unique_ptr<Door> door;
  std::unique_ptr<PitServer> http;
  std::thread thread;
  std::mutex mutex;
  std::condition_variable stopping;
  bool stopped = false;
  std::thread minutes;  // looks after the code

  bool bind_to(int port);
  int find_port();
  void add_handlers();
  void answer_now(Visit& visit, httplib::Response& response);
  void begin_stream(const Visit& visit, httplib::Response& response);
  void look_after_code();
};

bool Server::State::bind_to(int port) {
  const auto bound = [&](const char* host) {
    if (port != 0) return http->bind_to_port(host, port);
    port = http->bind_to_any_port(host);
    return port > 0;
  };
  if (!options.lan) return bound("127.0.0.1") && (options.port = port, true);
  // "::" takes IPv4 too; a machine without IPv6 has no "::".
  return (bound("::") || bound("0.0.0.0")) && (options.port = port, true);
}

int Server::State::find_port() {
  if (options.port) {
    const int wanted = *options.port;
    if (bind_to(wanted)) return *options.port;
    throw std::runtime_error("port " + std::to_string(wanted) +
                             " can't be had: another program answers there, or it is below 1024; "
                             "another --port, or none");
  }
  for (int port = kFirstPort; port <= kLastPort; ++port) {
    if (bind_to(port)) return port;
  }
  throw std::runtime_error("no port from " + std::to_string(kFirstPort) + " to " +
                           std::to_string(kLastPort) + " is free; --port with one that is");
}

void Server::State::begin_stream(const Visit& visit, httplib::Response& response) {
  std::shared_ptr<Broadcast::Listener> listener = broadcast->join(visit.session);
  if (!listener) {
    return put(response, fault_answer(503, "request", "as many listen as may (64)",
                                      "that one of the other pages is closed"));
  }
  // Between this stream's events anybody may have left.
  const auto until = std::make_shared<std::int64_t>(now_ms() + kComment_ms);
  const string session = visit.session;
  response.status = 200;
  response.set_header("Cache-Control", "no-store");
  response.set_chunked_content_provider(
      "text/event-stream", [this, listener, until, session](size_t, httplib::DataSink& sink) {
        auto events = listener->next(kGoneLook);
        if (!events || !sink.is_writable() || !door->may_listen(session)) return false;
        if (events->empty() && now_ms() < *until) return true;
        if (events->empty()) *events = ": still here\n\n";
        *until = now_ms() + kComment_ms;
        return sink.write(events->data(), events->size());
      });
  t_served.close = true;
}

void Server::State::answer_now(Visit& visit, httplib::Response& response) {
  t_served.seat->is_served();
  if (!visit.session.empty()) t_served.seat->was_let_in();
  const Answer answer = door->answer(visit);
  if (answer.stream) return begin_stream(visit, response);
  put(response, answer);
}

void Server::State::add_handlers() {
  using Handled = httplib::Server::HandlerResponse;
  httplib::Headers headers;
  for (const auto& [name, value] : security_headers()) headers.emplace(name, value);
  http->set_default_headers(headers);
  http->set_payload_max_length(kLargestBody_bytes);
  http->set_tcp_nodelay(true);
  http->set_socket_options([](socket_t socket) {
    const int yes = 1;
    // Not SO_REUSEPORT: two programs must not share a port.
    setsockopt(socket, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
  });
  http->set_pre_routing_handler([this](const httplib::Request& request,
                                       httplib::Response& response) {
    Visit visit = visit_of(request);
    if (const auto no = door->admit(visit)) {
      // Its body was not read, and can't be taken for the next request.
      t_served.close = visit.method == "POST" || visit.encoded || !visit.content_lengths.empty();
      if (no->status == 400) t_served.close = true;
      put(response, *no);
      return Handled::Handled;
    }
    if (request.method == "POST") return Handled::Unhandled;
    answer_now(visit, response);
    return Handled::Handled;
  });
  for (const Route& route : Door::routes()) {
    if (string(route.method) != "POST") continue;
    http->Post(route.path, [this](const httplib::Request& request, httplib::Response& response) {
      Visit visit = visit_of(request);
      visit.body = request.body;
      door->fill_in_session(visit);
      answer_now(visit, response);
    });
  }
  http->set_error_handler(httplib::Server::Handler(put_words));
  http->set_exception_handler(
      [](const httplib::Request&, httplib::Response& response, const std::exception_ptr&) {
        put(response, fault_answer(503, "request", "the machine failed at this request",
                                   "what was acknowledged before is kept; try again"));
      });
  http->set_post_routing_handler([](const httplib::Request&, httplib::Response& response) {
    response.headers.erase("Keep-Alive");
    response.headers.erase("Accept-Ranges");
    if (t_served.close) {
      response.headers.erase("Connection");
      response.set_header("Connection", "close");
    }
  });
}

void Server::State::look_after_code() {
  std::unique_lock lock(mutex);
  while (!stopping.wait_for(lock, std::chrono::seconds(5), [&] { return stopped; })) {
    lock.unlock();
    pairing.renew_when_due(now_ms());
    lock.lock();
  }
}

Server::Server(ServerOptions options,
               std::unique_ptr<Site> site,
               std::function<void(const string& code)> announce) {
  begin_secrets();
  state_ = std::make_unique<State>(std::move(options), std::move(site), std::move(announce));
}

Server::~Server() {
  stop();
}

Started Server::start() {
  State& state = *state_;
  const OwnNames names = own_names();
  Started started;
  std::shared_ptr<ssl_ctx_st> tls;
  if (state.options.lan) {
    const Identity identity = own_identity(state.options.data_folder, names.addresses, names.hosts);
    started.fingerprint = identity.fingerprint;
    tls = tls_of(identity);
  }
  state.http = std::make_unique<PitServer>(state.crowd, tls);
  state.add_handlers();
  started.port = state.find_port();
  state.http->take_many_at_once();

  House house{
      .lan = state.options.lan, .port = started.port, .names = {"localhost", "127.0.0.1", "[::1]"}};
  if (house.lan) {
    for (const string& address : names.addresses) {
      house.names.push_back(host_of_address(address));
    }
    house.names.insert(house.names.end(), names.hosts.begin(), names.hosts.end());
  }
  const string scheme = house.lan ? "https://" : "http://";
  const string tail = ":" + std::to_string(started.port) + "/";
  if (house.lan) {
    for (const string& address : names.addresses) {
      started.addresses.push_back(scheme + host_of_address(address) + tail);
    }
  }
  if (started.addresses.empty()) started.addresses.push_back(scheme + "127.0.0.1" + tail);

  Site& site = *state.site;
  state.broadcast = std::make_unique<Broadcast>([&site] { return site.live(); },
                                                [&site] { return site.revision(); });
  state.door = std::make_unique<Door>(
      DoorOptions{.house = house,
                  .practice = state.options.practice,
                  .job = state.options.job,
                  .version = state.options.version,
                  .came_in = state.options.came_in},
      site, state.options.page_folder.empty() ? PageFiles() : PageFiles(state.options.page_folder),
      state.pairing, now_ms, [&state] { state.broadcast->poke(); });
  state.thread = std::thread([&state] { state.http->listen_after_bind(); });
  while (!state.http->is_running()) std::this_thread::sleep_for(milliseconds(1));
  return started;
}

void Server::begin_pairing() {
  State& state = *state_;
  if (!state.options.lan) return;
  state.pairing.renew_when_due(now_ms());
  state.minutes = std::thread([&state] { state.look_after_code(); });
}

std::vector<Phone> Server::phones() {
  return state_->door->phones();
}

std::optional<Phone> Server::put_out(int number) {
  return state_->door->put_out(number);
}

job::Reply Server::connect_instruments() {
  return state_->site->connect_instruments();
}

void Server::stop() {
  State& state = *state_;
  {
    const std::scoped_lock lock(state.mutex);
    if (state.stopped) return;
    state.stopped = true;
    state.stopping.notify_all();
  }
  if (state.minutes.joinable()) state.minutes.join();
  if (state.broadcast) state.broadcast->stop();
  if (!state.thread.joinable()) return;
  state.http->stop();
  state.thread.join();
}

}  // namespace weighwright::web
