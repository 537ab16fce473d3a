#include "web/guard.h"

#include <algorithm>
#include <charconv>
#include <string_view>

#include "units/diagnostic.h"

namespace weighwright::web {
namespace {

using std::string;

string lower(string text) {
  for (char& c : text) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return text;
}

/// "name:8470" without the port, when that is ours; empty: it is not.
string name_at_port(const string& host, const House& house) {
  const string port = ":" + std::to_string(house.port);
  if (host.size() > port.size() && host.ends_with(port)) {
    return host.substr(0, host.size() - port.size());
  }
  const bool usual = house.port == (house.lan ? 443 : 80);
  const std::size_t colon = host.rfind(':');
  const bool has_port = colon != string::npos && host.find(']', colon) == string::npos;
  return usual && !has_port ? host : "";
}

bool is_ours(const string& host, const Visit& visit, const House& house) {
  const string name = name_at_port(lower(host), house);
  if (name.empty()) return false;
  if (std::find(house.names.begin(), house.names.end(), name) != house.names.end()) return true;
  // An address that the network gave us after the start: what was really asked, as figures.
  return house.lan && name == host_of_address(visit.local_address);
}

std::optional<Answer> refuse_host(const Visit& visit, const House& house) {
  if (visit.hosts.size() == 1 && is_ours(visit.hosts.front(), visit, house)) return {};
  const string asked = visit.hosts.size() == 1 ? units::quote(visit.hosts.front())
                                               : std::to_string(visit.hosts.size()) + " names";
  return fault_answer(visit.hosts.size() == 1 ? 403 : 400, "request",
                      "the request is for " + asked + ", which is not this machine",
                      "the address that was printed at the start");
}

std::optional<Answer> refuse_foreign(const Visit& visit, const House& house) {
  if (visit.origin) {
    const string own = (house.lan ? "https://" : "http://") + lower(visit.hosts.front());
    if (lower(*visit.origin) != own) {
      return fault_answer(403, "request",
                          "another page asked (Origin " + units::quote(*visit.origin) + ")",
                          "requests of this machine's own page only");
    }
  }
  const bool own =
      visit.fetch_site.empty() || visit.fetch_site == "same-origin" || visit.fetch_site == "none";
  // A link to the page itself may stand anywhere.
  const bool opened = visit.method == "GET" && visit.path == "/" && visit.fetch_mode == "navigate";
  if (own || opened) return {};
  return fault_answer(403, "request",
                      "another page asked (Sec-Fetch-Site " + units::quote(visit.fetch_site) + ")",
                      "requests of this machine's own page only");
}

std::optional<Answer> refuse_length(const Visit& visit) {
  if (visit.encoded) {
    return fault_answer(visit.method == "POST" ? 411 : 400, "request",
                        "the body comes in pieces or compressed",
                        "a plain body with its Content-Length");
  }
  if (visit.content_lengths.empty()) {
    if (visit.method != "POST") return {};
    return fault_answer(411, "request", "its length is not told", "Content-Length, 0 for nothing");
  }
  const string& text = visit.content_lengths.front();
  std::size_t length = 0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), length);
  const bool figure = read.ec == std::errc() && read.ptr == text.data() + text.size();
  if (read.ec == std::errc::result_out_of_range || (figure && length > kLargestBody_bytes)) {
    return fault_answer(413, "request", "the request carries more than 4 MB",
                        "4 MB at most: fewer or smaller photos");
  }
  if (!figure || visit.content_lengths.size() != 1) {
    return fault_answer(400, "request", "its Content-Length is not one number", "one number");
  }
  if (visit.method != "POST" && length > 0) {
    return fault_answer(400, "request", "a " + visit.method + " carries a body", "no body");
  }
  return {};
}

bool is_json(const string& type) {
  const string name = lower(type.substr(0, type.find(';')));
  return name.substr(0, name.find_last_not_of(" \t") + 1) == "application/json";
}

}  // namespace

string host_of_address(const string& address) {
  return address.find(':') == string::npos ? address : "[" + address + "]";
}

std::optional<Answer> refuse(const Visit& visit, const House& house) {
  if (!visit.odd.empty()) {
    return fault_answer(400, "request", visit.odd, "a request as browsers send it (RFC 9110)");
  }
  if (auto no = refuse_host(visit, house)) return no;
  if (auto no = refuse_foreign(visit, house)) return no;
  if (visit.method != "GET" && visit.method != "HEAD" && visit.method != "POST") {
    Answer no = fault_answer(
        405, "request", "nothing here is asked with " + units::quote(visit.method), "GET or POST");
    no.headers.emplace_back("Allow", "GET, POST");
    return no;
  }
  if (auto no = refuse_length(visit)) return no;
  if (visit.method == "POST" && !is_json(visit.content_type)) {
    return fault_answer(415, "request", "the body is " + units::quote(visit.content_type),
                        "application/json");
  }
  return {};
}

}  // namespace weighwright::web
