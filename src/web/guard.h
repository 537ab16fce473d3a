#pragma once
/// Whether a request may come near at all: method, Host, Origin, Fetch metadata, type and size.
/// What is checked here needs no session and no body.
///
/// Sources: DNS rebinding is met by the Host header (RFC 9110, 7.2: a server may refuse an
/// authority that is not its own); requests of foreign pages by Origin (Fetch standard, "Origin
/// header") and Sec-Fetch-Site (W3C Fetch Metadata Request Headers); a body of type
/// application/json can not be sent from a foreign page without asking first (Fetch standard,
/// "CORS-safelisted request-header").

#include <optional>
#include <string>
#include <vector>

#include "web/visit.h"

namespace weighwright::web {

/// What we are called.
struct House {
  bool lan = false;  // TLS on every interface; else plain on loopback
  int port = 0;
  std::vector<std::string> names;  // lower case, without port: "localhost", "127.0.0.1", "[::1]"
};

/// An address as it stands in a Host header: an IPv6 one in brackets.
[[nodiscard]] std::string host_of_address(const std::string& address);

/// @return why the request is refused (400 403 405 411 413 415), or nothing
[[nodiscard]] std::optional<Answer> refuse(const Visit& visit, const House& house);

}  // namespace weighwright::web
