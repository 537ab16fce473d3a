#pragma once
/// One request and its answer as plain values: what the rules of the door are written in. Knows no
/// socket, so that every rule can be tried without one.

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace weighwright::web {

/// The most that a request may carry.
inline constexpr std::size_t kLargestBody_bytes = 4 * 1024 * 1024;

struct Visit {
  std::string method;
  std::string path;                // decoded, without the query
  std::vector<std::string> hosts;  // every Host header
  std::optional<std::string> origin;
  std::string fetch_site;  // Sec-Fetch-Site; empty: the browser said nothing
  std::string fetch_mode;  // Sec-Fetch-Mode
  std::string content_type;
  std::vector<std::string> content_lengths;  // every Content-Length header
  bool encoded = false;                      // Transfer-Encoding or Content-Encoding is there
  std::string user_agent;
  std::string cookie;
  std::string if_none_match;
  bool takes_gzip = false;
  std::string address;        // of who asks: "192.0.2.7", "2001:db8::7"
  std::string local_address;  // that was asked
  std::string body;
  std::string session;  // filled in at the door: who was let in; empty without a code
  std::string phone;    // likewise: its name
  std::string odd;      // what no browser sends in a head, in words; empty: nothing
};

struct Answer {
  int status = 200;
  std::string type = "application/json";
  std::string body;
  std::vector<std::pair<std::string, std::string>> headers;
  bool stream = false;  // events follow, without end
};

/// {"faults":[...]} with one fault.
/// @param where  "request", "body", ...
[[nodiscard]] Answer fault_answer(int status,
                                  const std::string& where,
                                  const std::string& what,
                                  const std::string& expected);

/// Milliseconds of a clock that never goes back.
using Clock = std::int64_t (*)();

}  // namespace weighwright::web
