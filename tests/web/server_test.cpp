// The server on a port of its own, asked with the HTTP library's client and with bare sockets.
#include "web/server.h"

#include <arpa/inet.h>
#include <gtest/gtest.h>
#include <httplib.h>
#include <netinet/in.h>
#include <sys/socket.h>
#include <unistd.h>

#include <atomic>
#include <chrono>
#include <nlohmann/json.hpp>
#include <string>
#include <thread>
#include <vector>

#include "web/fake_site.h"

namespace weighwright::web {
namespace {

using nlohmann::json;
using std::chrono::steady_clock;

class PlainServer : public ::testing::Test {
 protected:
  PlainServer()
      : server_({.lan = false,
                 .port = 0,
                 .page_folder = {},
                 .data_folder = {},
                 .practice = false,
                 .job = "test.job",
                 .version = "1"},
                std::make_unique<FakeSite>(books_),
                [](const std::string&) {}),
        port_(server_.start().port) {}

  [[nodiscard]] httplib::Client client() const {
    httplib::Client client("127.0.0.1", port_);
    client.set_read_timeout(20);
    return client;
  }
  /// A bare connection that has sent `text`.
  [[nodiscard]] int connected(const std::string& text) const {
    const int one = socket(AF_INET, SOCK_STREAM, 0);
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_port = htons(static_cast<std::uint16_t>(port_));
    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    EXPECT_EQ(connect(one, reinterpret_cast<sockaddr*>(&address), sizeof address), 0);
    const timeval patience{.tv_sec = 20, .tv_usec = 0};
    setsockopt(one, SOL_SOCKET, SO_RCVTIMEO, &patience, sizeof patience);
    EXPECT_EQ(send(one, text.data(), text.size(), MSG_NOSIGNAL), static_cast<ssize_t>(text.size()));
    return one;
  }
  /// Everything until the server ends the connection.
  static std::string rest_of(int one) {
    std::string all;
    char bytes[4096];
    for (ssize_t got = 0; (got = recv(one, bytes, sizeof bytes, 0)) > 0;) {
      all.append(bytes, static_cast<std::size_t>(got));
    }
    close(one);
    return all;
  }
  [[nodiscard]] std::string host() const { return "Host: 127.0.0.1:" + std::to_string(port_); }
  [[nodiscard]] std::string raw(const std::string& text) const { return rest_of(connected(text)); }

  std::shared_ptr<FakeBooks> books_ = std::make_shared<FakeBooks>();
  Server server_;
  int port_;
};

TEST_F(PlainServer, AnswersAndKeepsTheConnection) {
  auto client = this->client();
  client.set_keep_alive(true);
  for (int i = 0; i < 20; ++i) {
    const auto answer = client.Get("/api/site");
    ASSERT_TRUE(answer);
    EXPECT_EQ(answer->status, 200);
    EXPECT_EQ(answer->get_header_value("Content-Type"), "application/json");
    EXPECT_FALSE(answer->has_header("Server"));
  }
}

TEST_F(PlainServer, RecordsWhatIsPosted) {
  auto client = this->client();
  const auto answer = client.Post(
      "/api/entries", R"({"journal":")" + kJournal + R"(","token":"abcdefgh","author":"T. Brook"})",
      "application/json");
  ASSERT_TRUE(answer);
  EXPECT_EQ(answer->status, 200);
  EXPECT_EQ(books_->tokens, std::vector<std::string>{"abcdefgh"});
  EXPECT_EQ(books_->authors, std::vector<std::string>{"T. Brook"});
}

TEST_F(PlainServer, RefusesALargeBodyInWords) {
  auto client = this->client();
  const auto answer = client.Post("/api/entries", std::string(5'000'000, ' '), "application/json");
  ASSERT_TRUE(answer);
  EXPECT_EQ(answer->status, 413);
  EXPECT_NE(json::parse(answer->body)["faults"][0]["what"].get<std::string>().find("4 MB"),
            std::string::npos);
}

// What was refused before its body was read must not be taken for the next request (RFC 9112, 11.2,
// request smuggling).
TEST_F(PlainServer, NeverTakesABodyForARequest) {
  const std::string inner =
      "POST /api/entries HTTP/1.1\r\n" + host() +
      "\r\nContent-Type: application/json\r\nContent-Length: 20\r\n\r\n{\"token\":\"smuggled\"}";
  const std::string length = std::to_string(inner.size());
  for (const std::string& first :
       {"POST /api/entries HTTP/1.1\r\n" + host() +
            "\r\nContent-Type: text/plain\r\nContent-Length: " + length + "\r\n\r\n",
        "GET /api/site HTTP/1.1\r\n" + host() + "\r\nContent-Length: " + length + "\r\n\r\n",
        "POST /api/nothing HTTP/1.1\r\n" + host() +
            "\r\nContent-Type: application/json\r\nContent-Length: " + length + "\r\n\r\n",
        "POST /api/entries HTTP/1.1\r\n" + host() +
            "\r\nContent-Type: application/json\r\nTransfer-Encoding: chunked\r\nContent-Length: " +
            length + "\r\n\r\n",
        "DELETE /api/site HTTP/1.1\r\n" + host() + "\r\nContent-Length: " + length + "\r\n\r\n"}) {
    const std::string answer = raw(first + inner);
    EXPECT_TRUE(answer.starts_with("HTTP/1.1 4")) << answer;
    EXPECT_EQ(answer.find("HTTP/1.1", 8), std::string::npos) << "one answer only: " << answer;
  }
  EXPECT_TRUE(books_->tokens.empty());
}

TEST_F(PlainServer, DoesNotWaitForABodyOfUnknownLength) {
  const std::string answer =
      raw("POST /api/leave HTTP/1.1\r\n" + host() + "\r\nContent-Type: application/json\r\n\r\n");
  EXPECT_TRUE(answer.starts_with("HTTP/1.1 411 ")) << answer;
}

TEST_F(PlainServer, EndsNonsenseInWords) {
  for (const std::string& text :
       {std::string("\r\n\r\n"), std::string("nonsense\r\n\r\n"),
        "GET " + std::string(9000, 'a') + " HTTP/1.1\r\n" + host() + "\r\n\r\n",
        "GET / HTTP/1.1\r\n" + host() + "\r\nX: " + std::string(10'000, 'a') + "\r\n\r\n",
        std::string("\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03\r\n\r\n", 15)}) {
    const std::string answer = raw(text);
    EXPECT_TRUE(answer.starts_with("HTTP/1.1 4")) << text.substr(0, 20) << " -> " << answer;
    EXPECT_NE(answer.find("faults"), std::string::npos);
    EXPECT_NE(answer.find("Content-Security-Policy"), std::string::npos);
  }
}

// RFC 9110, 5.3, 5.5, 5.6.2 and RFC 9112, 5.1, 5.2: what two programs may read in two ways.
TEST_F(PlainServer, RefusesOddHeads) {
  const std::string get = "GET /api/site HTTP/1.1\r\n" + host() + "\r\n";
  EXPECT_TRUE(
      raw(get + "User-Agent: one\r\nConnection: close\r\n\r\n").starts_with("HTTP/1.1 200"));
  for (const std::string& odd :
       {std::string("User-Agent: one\r\nUser-Agent: two\r\n"),
        std::string("Cookie: a=1\r\nCookie: b=2\r\n"),
        "Origin: http://127.0.0.1:" + std::to_string(port_) + "\r\nOrigin: http://x.example\r\n",
        std::string("X-Folded: one\r\n two\r\n"), std::string("X Y: one\r\n"),
        std::string("X-Bell: \x07\r\n"), std::string("Expect: a-miracle\r\n")}) {
    const std::string answer = raw(get + odd + "\r\n");
    EXPECT_TRUE(answer.starts_with("HTTP/1.1 4")) << odd << " -> " << answer.substr(0, 200);
  }
}

TEST_F(PlainServer, EndsEndlessHeaders) {
  const int one = connected("GET / HTTP/1.1\r\n");
  const std::string line = "X: " + std::string(1000, 'a') + "\r\n";
  bool ended = false;
  for (int i = 0; i < 100'000 && !ended; ++i) {
    ended = send(one, line.data(), line.size(), MSG_NOSIGNAL) < 0;
  }
  EXPECT_TRUE(ended) << "100 MB of headers went in";
  close(one);
  EXPECT_TRUE(client().Get("/api/session"));
}

/// Reads events in the background.
class Events {
 public:
  explicit Events(httplib::Client client) : client_(std::move(client)) {
    thread_ = std::thread([this] {
      const auto answer = client_.Get("/api/events", [this](const char* bytes, std::size_t count) {
        const std::scoped_lock lock(mutex_);
        text_.append(bytes, count);
        return !stop_;
      });
      status_ = answer ? answer->status : -1;
      ended_ = true;
    });
  }
  ~Events() {
    stop_ = true;
    client_.stop();
    thread_.join();
  }
  Events(const Events&) = delete;
  Events& operator=(const Events&) = delete;
  /// Ends with the next event.
  void leave() { stop_ = true; }
  [[nodiscard]] bool has(const std::string& part) {
    const std::scoped_lock lock(mutex_);
    return text_.find(part) != std::string::npos;
  }
  /// Waits until `part` came. Patience only bounds a failure.
  [[nodiscard]] bool comes(const std::string& part) {
    for (int i = 0; i < 4000 && !has(part) && !ended_; ++i) {
      std::this_thread::sleep_for(std::chrono::milliseconds(5));
    }
    return has(part);
  }
  [[nodiscard]] bool ends() {
    for (int i = 0; i < 4000 && !ended_; ++i) {
      std::this_thread::sleep_for(std::chrono::milliseconds(5));
    }
    return ended_;
  }
  [[nodiscard]] int status() const { return status_; }

 private:
  httplib::Client client_;
  std::mutex mutex_;
  std::string text_;
  std::atomic<bool> stop_{false};
  std::atomic<bool> ended_{false};
  std::atomic<int> status_{0};
  std::thread thread_;
};

// WHATWG HTML standard, "Server-sent events": fields `event` and `data`, a blank line ends one.
TEST_F(PlainServer, TellsEverybodyWhatChanges) {
  std::vector<std::unique_ptr<Events>> phones;
  for (int i = 0; i < 5; ++i) phones.push_back(std::make_unique<Events>(client()));
  for (const auto& phone : phones) {
    EXPECT_TRUE(phone->comes("event: site\ndata: {\"revision\":\"r0\"}\n\n"));
    EXPECT_TRUE(phone->comes("event: live\ndata: {\"instruments\":[],\"values\":[],\"n\":0}\n\n"));
  }
  ++books_->live_value;
  ASSERT_TRUE(client().Post("/api/entries",
                            R"({"journal":")" + kJournal + R"(","token":"abcdefgh"})",
                            "application/json"));
  for (const auto& phone : phones) {
    EXPECT_TRUE(phone->comes("{\"revision\":\"r1\"}"));
    EXPECT_TRUE(phone->comes("\"n\":1"));
  }
}

TEST_F(PlainServer, LooksAtNothingWhileNobodyListens) {
  {
    Events phone(client());
    EXPECT_TRUE(phone.comes("\"n\":0"));
  }
  // The stream is known to be gone after 2 s at most; then two looks far apart are alike.
  int before = -1;
  for (int i = 0; i < 100 && before != books_->live_asked; ++i) {
    before = books_->live_asked;
    std::this_thread::sleep_for(std::chrono::milliseconds(600));
  }
  EXPECT_EQ(before, books_->live_asked);
}

TEST_F(PlainServer, TakesSixtyFourListenersAndGivesPlacesBack) {
  std::vector<std::unique_ptr<Events>> phones;
  for (int i = 0; i < 64; ++i) phones.push_back(std::make_unique<Events>(client()));
  for (const auto& phone : phones) ASSERT_TRUE(phone->comes("event: live"));
  const auto answer = client().Get("/api/events");
  ASSERT_TRUE(answer);
  EXPECT_EQ(answer->status, 503);
  EXPECT_NE(answer->body.find("64"), std::string::npos);
  EXPECT_EQ(client().Get("/api/site")->status, 200) << "requests go on";
  phones.pop_back();
  bool again = false;
  for (int i = 0; i < 100 && !again; ++i) {
    std::this_thread::sleep_for(std::chrono::milliseconds(100));
    Events phone(client());
    again = phone.comes("event: live");
  }
  EXPECT_TRUE(again);
  for (const auto& phone : phones) phone->leave();
  ++books_->live_value;
  for (const auto& phone : phones) EXPECT_TRUE(phone->ends());
}

// A client that sends its request byte by byte (CWE-400): 300 of them, and others are answered.
TEST_F(PlainServer, IsNotStarvedBySlowClients) {
  std::vector<int> slow;
  for (int i = 0; i < 300; ++i) slow.push_back(connected("GET /api/site HTTP/1.1\r\nX: "));
  for (int i = 0; i < 10; ++i) {
    for (const int one : slow) send(one, "a", 1, MSG_NOSIGNAL);
    const auto answer = client().Get("/api/site");
    ASSERT_TRUE(answer);
    EXPECT_EQ(answer->status, 200);
  }
  // Nor by half bodies.
  for (int i = 0; i < 300; ++i) {
    slow.push_back(connected("POST /api/entries HTTP/1.1\r\n" + host() +
                             "\r\nContent-Type: application/json\r\nContent-Length: 100\r\n\r\n{"));
  }
  const auto answer =
      client().Post("/api/entries", R"({"journal":")" + kJournal + R"(","token":"abcdefgh"})",
                    "application/json");
  ASSERT_TRUE(answer);
  EXPECT_EQ(answer->status, 200);
  EXPECT_EQ(books_->tokens.size(), 1U) << "half a body is no entry";
  for (const int one : slow) close(one);
}

TEST_F(PlainServer, SlowsDownWhoAsksTooOften) {
  auto client = this->client();
  client.set_keep_alive(true);
  int often = 0;
  for (int i = 0; i < 5000 && often == 0; ++i) {
    const auto answer = client.Get("/api/session");
    ASSERT_TRUE(answer);
    if (answer->status == 429) {
      ++often;
      EXPECT_TRUE(answer->has_header("Retry-After"));
    }
  }
  EXPECT_EQ(often, 1);
}

TEST_F(PlainServer, StopsWithListenersAndSlowClients) {
  Events phone(client());
  EXPECT_TRUE(phone.comes("event: live"));
  const int slow = connected("GET /");
  server_.stop();
  EXPECT_TRUE(phone.ends());
  close(slow);
  EXPECT_FALSE(client().Get("/api/session"));
}

TEST_F(PlainServer, SharesItsPortWithNobody) {
  ServerOptions options;
  options.port = port_;
  Server second(options, std::make_unique<FakeSite>(books_), [](const std::string&) {});
  EXPECT_THROW(second.start(), std::runtime_error);
}

TEST_F(PlainServer, SendsNoPartsAndNoCompressedApi) {
  auto client = this->client();
  const auto answer =
      client.Get("/api/site", {{"Range", "bytes=0-3,5-7"}, {"Accept-Encoding", "br, gzip"}});
  ASSERT_TRUE(answer);
  EXPECT_EQ(answer->status, 200);
  EXPECT_EQ(answer->body, "{\"revision\":\"r0\"}");
}

}  // namespace
}  // namespace weighwright::web
