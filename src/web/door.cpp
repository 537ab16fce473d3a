#include "web/door.h"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <string_view>
#include <utility>

#include "report/answer_json.h"
#include "web/addresses.h"
#include "web/json_text.h"
#include "web/read_body.h"

namespace weighwright::web {
namespace {

using std::string;

// With __Host- a browser takes the cookie from https with Path=/ only (RFC 6265bis, 4.1.3.2).
// Cookies know no port: two servers on one machine must not take one another's away.
string cookie_name(int port) {
  return "__Host-weighwright-" + std::to_string(port);
}

// The server ends a session that is not used; the phone may keep its cookie longer than that.
constexpr const char* kCookieAge_s = "604800";

// A page that is open asks now and then; a page that loads asks for its files at once.
constexpr Pace kLetInPace{.per_second = 20.0, .burst = 60.0};
constexpr Pace kStrangerPace{.per_second = 4.0, .burst = 40.0};
// On loopback everybody is one address.
constexpr Pace kLoopbackPace{.per_second = 200.0, .burst = 600.0};

string cookie_of(const string& header, int port) {
  const string wanted = cookie_name(port) + "=";
  std::size_t at = 0;
  while (at < header.size()) {
    const std::size_t end = std::min(header.find(';', at), header.size());
    while (at < end && header[at] == ' ') ++at;
    if (header.compare(at, wanted.size(), wanted) == 0) {
      return header.substr(at + wanted.size(), end - at - wanted.size());
    }
    at = end + 1;
  }
  return {};
}

string set_cookie(int port, const string& value, const string& age_s) {
  return cookie_name(port) + "=" + value + "; Path=/; Max-Age=" + age_s +
         "; Secure; HttpOnly; SameSite=Strict";
}

string print_line(const Json& value) {
  return value.dump(-1, ' ', false, Json::error_handler_t::replace) + "\n";
}

Answer json(string body) {
  Answer answer;
  answer.body = std::move(body);
  return answer;
}

Answer faults(const units::Diagnostics& list) {
  Answer answer;
  answer.status = 400;
  answer.body = report::print_json(list);
  return answer;
}

Answer only_here(const char* what) {
  return fault_answer(403, "request", string(what) + " at the serving machine itself",
                      "its terminal, or its own page");
}

Answer too_often(int wait_s) {
  Answer answer = fault_answer(429, "request", "too many requests",
                               "the next one in " + std::to_string(wait_s) + " s");
  answer.headers.emplace_back("Retry-After", std::to_string(wait_s));
  return answer;
}

Answer answer_of(job::Reply reply) {
  Answer answer = json(std::move(reply.json));
  switch (reply.status) {
    case job::Reply::Status::done:
      break;
    case job::Reply::Status::refused:
      answer.status = 400;
      break;
    case job::Reply::Status::elsewhere:
      answer.status = 409;
      break;
    case job::Reply::Status::not_there:
      answer.status = 404;
      break;
    case job::Reply::Status::failed:
      answer.status = 503;
      break;
  }
  return answer;
}

string quoted(const string& revision) {
  string etag = "\"";
  for (const char c : revision) {
    if (c > ' ' && c != '"' && c < 0x7f) etag += c;
  }
  return etag + "\"";
}

bool is_open(const string& path) {
  const auto& routes = Door::routes();
  return std::any_of(routes.begin(), routes.end(),
                     [&](const Route& route) { return route.open && path == route.path; });
}

bool is_api(const string& path) {
  return path == "/api" || path.starts_with("/api/");
}

}  // namespace

const std::vector<Route>& Door::routes() {
  static const std::vector<Route> kRoutes = {
      {.method = "GET", .path = "/api/session", .open = true},
      {.method = "POST", .path = "/api/pair", .open = true},
      {.method = "POST", .path = "/api/leave", .open = false},
      {.method = "GET", .path = "/api/site", .open = false},
      {.method = "GET", .path = "/api/entries", .open = false},
      {.method = "POST", .path = "/api/entries", .open = false},
      {.method = "POST", .path = "/api/undo", .open = false},
      {.method = "GET", .path = "/api/events", .open = false},
      {.method = "POST", .path = "/api/practice", .open = false},
      {.method = "GET", .path = "/api/questions", .open = false},
      {.method = "POST", .path = "/api/draft", .open = false},
      {.method = "GET", .path = "/api/export", .open = false},
      {.method = "GET", .path = "/api/paper/report", .open = false},
      {.method = "GET", .path = "/api/paper/sheet", .open = false},
      {.method = "GET", .path = "/api/paper/dcc", .open = false},
      {.method = "GET", .path = "/api/paper/csv", .open = false},
      {.method = "GET", .path = "/api/paper/plan", .open = false},
      {.method = "GET", .path = "/api/paper/chart", .open = false},
      {.method = "GET", .path = "/api/paper/rules", .open = false},
      {.method = "GET", .path = "/api/phones", .open = false},
      {.method = "POST", .path = "/api/put_out", .open = false},
      {.method = "POST", .path = "/api/instruments", .open = false},
      {.method = "GET", .path = "/api/openapi.json", .open = false},
  };
  return kRoutes;
}

Door::Door(DoorOptions options,
           Site& site,
           PageFiles files,
           Pairing& pairing,
           Clock clock,
           std::function<void()> recorded)
    : options_(std::move(options)),
      site_(site),
      files_(std::move(files)),
      pairing_(pairing),
      clock_(clock),
      recorded_(std::move(recorded)),
      let_in_pace_(options_.house.lan ? kLetInPace : kLoopbackPace),
      stranger_pace_(kStrangerPace) {}

std::optional<Answer> Door::let_in(Visit& visit, bool open) {
  const std::int64_t now = clock_();
  if (!options_.house.lan) {
    if (const auto wait = let_in_pace_.take(visit.address, now)) return too_often(*wait);
    return {};
  }
  const Sessions::Looked looked = sessions_.look(cookie_of(visit.cookie, options_.house.port),
                                                 visit.address, visit.user_agent, now);
  visit.session = looked.name;
  visit.phone = looked.phone;
  if (!looked.name.empty()) {
    if (const auto wait = let_in_pace_.take(looked.name, now)) return too_often(*wait);
    return {};
  }
  if (const auto wait = stranger_pace_.take(bound_part(visit.address), now)) {
    return too_often(*wait);
  }
  if (open) return {};
  Answer no = fault_answer(
      401, "request",
      looked.ended ? "this session began at another address or in another browser; it was ended"
                   : "this phone is not let in",
      "the code that the serving machine shows");
  no.headers.emplace_back("Set-Cookie", set_cookie(options_.house.port, "", "0"));
  return no;
}

std::optional<Answer> Door::admit(Visit& visit) {
  if (auto no = refuse(visit, options_.house)) return no;
  bool open = !is_api(visit.path);
  bool method_fits = open && visit.method != "POST";
  bool known = open;
  string allowed = open ? "GET" : "";
  if (!open) {
    for (const Route& route : routes()) {
      if (visit.path != route.path) continue;
      known = true;
      allowed += (allowed.empty() ? "" : ", ") + string(route.method);
      if (visit.method != route.method) continue;
      method_fits = true;
      open = route.open;
    }
  }
  if (auto no = let_in(visit, open || !known)) return no;
  if (!known) {
    return fault_answer(404, "request", "there is nothing at " + units::quote(visit.path),
                        "a path of /api/openapi.json");
  }
  if (method_fits) return {};
  Answer no = fault_answer(
      405, "request", units::quote(visit.path) + " is not asked with " + visit.method, allowed);
  no.headers.emplace_back("Allow", allowed);
  return no;
}

Answer Door::session(const Visit& visit) const {
  const bool in = !options_.house.lan || !visit.session.empty();
  Json said = {{"let_in", in},
               {"lan", options_.house.lan},
               {"practice", options_.practice},
               {"version", options_.version},
               {"here", is_here(visit)},
               {"phone", in ? visit.phone : ""}};
  return json(print_line(said));
}

Answer Door::pair(const Visit& visit) {
  if (!options_.house.lan) {
    return fault_answer(404, "request", "nobody needs a code on this machine itself",
                        "GET /api/site");
  }
  const auto body = read_pair(visit.body);
  if (!body.value) return faults(body.faults);
  const Pairing::Tried tried =
      pairing_.attempt(body.value->code, bound_part(visit.address), clock_());
  if (tried.wait_s > 0) return too_often(tried.wait_s);
  if (!tried.right) {
    return fault_answer(403, "code", "the code is not right",
                        "the newest code that the serving machine shows; each lets in once");
  }
  const auto opened = sessions_.open(body.value->name, visit.address, visit.user_agent, clock_());
  if (!opened) {
    return fault_answer(503, "request", "as many are let in as may be (64)",
                        "that somebody leaves, or is put out at the serving machine");
  }
  if (!visit.session.empty()) sessions_.leave(visit.session);
  if (options_.came_in) options_.came_in(opened->phone);
  Visit now_in = visit;
  now_in.session = "let in";
  now_in.phone = opened->phone.name;
  Answer answer = session(now_in);
  answer.headers.emplace_back("Set-Cookie",
                              set_cookie(options_.house.port, opened->cookie, kCookieAge_s));
  return answer;
}

std::vector<Phone> Door::phones() {
  return sessions_.phones(clock_());
}

std::optional<Phone> Door::put_out(int number) {
  return sessions_.put_out(number);
}

/// Asked from this machine itself: whoever sits there decides.
bool Door::is_here(const Visit& visit) const {
  return !options_.house.lan || is_loopback(visit.address);
}

Answer Door::phones_here(const Visit& visit) {
  const std::int64_t now = clock_();
  Json list = Json::array();
  for (const Phone& phone : phones()) {
    list.push_back({{"phone", std::to_string(phone.number)},
                    {"name", phone.name},
                    {"address", phone.address},
                    {"in_for_s", (now - phone.since_ms) / 1000},
                    {"quiet_for_s", (now - phone.used_ms) / 1000}});
  }
  return json(print_line({{"phones", std::move(list)}, {"here", is_here(visit)}}));
}

Answer Door::put_out_here(const Visit& visit) {
  const auto body = read_put_out(visit.body);
  if (!body.value) return faults(body.faults);
  if (!is_here(visit)) return only_here("phones are put out");
  if (!put_out(*body.value)) {
    return fault_answer(404, "phone", "no phone of that number is let in",
                        "a number of GET /api/phones");
  }
  return phones_here(visit);
}

Answer Door::connect_here(const Visit& visit) {
  const auto body = read_leave(visit.body);
  if (!body.value) return faults(body.faults);
  if (!is_here(visit)) return only_here("instruments are connected to");
  return answer_of(site_.connect_instruments());
}

Answer Door::leave(const Visit& visit) {
  const auto body = read_leave(visit.body);
  if (!body.value) return faults(body.faults);
  if (!options_.house.lan) return session(visit);
  sessions_.leave(visit.session);
  Visit gone = visit;
  gone.session.clear();
  Answer answer = session(gone);
  answer.headers.emplace_back("Set-Cookie", set_cookie(options_.house.port, "", "0"));
  return answer;
}

Answer Door::site(const Visit& visit) {
  // The revision is asked first: what changes meanwhile shows under the next one.
  const string revision = site_.revision();
  const string etag = quoted(revision);
  if (names_etag(visit.if_none_match, etag)) {
    Answer same;
    same.status = 304;
    same.headers.emplace_back("ETag", etag);
    return same;
  }
  Answer answer = answer_of(site_.site());
  if (answer.status == 200) answer.headers.emplace_back("ETag", etag);
  return answer;
}

Answer Door::record(const Visit& visit) {
  auto body = read_record(visit.body);
  if (!body.value) return faults(body.faults);
  Answer answer = answer_of(
      site_.record(body.value->entries, {.author = body.value->author, .phone = visit.phone}));
  recorded_();
  return answer;
}

Answer Door::undo(const Visit& visit) {
  const auto body = read_undo(visit.body);
  if (!body.value) return faults(body.faults);
  Answer answer =
      answer_of(site_.undo(body.value->undo, {.author = body.value->author, .phone = visit.phone}));
  recorded_();
  return answer;
}

Answer Door::practice(const Visit& visit) {
  const auto body = read_practice(visit.body);
  if (!body.value) return faults(body.faults);
  Answer answer = answer_of(site_.practice(*body.value));
  recorded_();
  return answer;
}

Answer Door::draft(const Visit& visit) {
  const auto body = read_draft(visit.body);
  if (!body.value) return faults(body.faults);
  return answer_of(site_.draft_deck(body.value->name, body.value->answers));
}

Answer Door::exported() {
  job::Reply reply = site_.exported();
  if (reply.status != job::Reply::Status::done) return answer_of(std::move(reply));
  Answer answer = json(std::move(reply.json));
  answer.type = "application/x-ndjson";
  string name;
  for (const char c : options_.job) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                       c == '-' || c == '_' || c == '.';
    name += plain ? c : '_';
  }
  answer.headers.emplace_back("Content-Disposition", "attachment; filename=\"" + name + ".jsonl\"");
  return answer;
}

Answer Door::paper(const string& code) {
  job::Reply reply = site_.paper(code);
  if (reply.status != job::Reply::Status::done) return answer_of(std::move(reply));
  Answer answer = json(std::move(reply.json));
  answer.type = reply.media;
  answer.headers.emplace_back("Content-Disposition", "attachment; filename=\"" + reply.name + "\"");
  return answer;
}

Answer Door::answer_api(const Visit& visit) {
  const string& path = visit.path;
  const bool post = visit.method == "POST";
  if (path == "/api/session") return session(visit);
  if (path == "/api/pair") return pair(visit);
  if (path == "/api/leave") return leave(visit);
  if (path == "/api/site") return site(visit);
  if (path == "/api/entries") return post ? record(visit) : answer_of(site_.entries());
  if (path == "/api/undo") return undo(visit);
  if (path == "/api/practice") return practice(visit);
  if (path == "/api/questions") return answer_of(site_.questions());
  if (path == "/api/draft") return draft(visit);
  if (path == "/api/export") return exported();
  if (path == "/api/phones") return phones_here(visit);
  if (path == "/api/put_out") return put_out_here(visit);
  if (path == "/api/instruments") return connect_here(visit);
  static constexpr std::string_view kPapers = "/api/paper/";
  if (path.starts_with(kPapers)) return paper(path.substr(kPapers.size()));
  if (path == "/api/openapi.json") return json(string(built_in_description()));
  Answer events;
  events.type = "text/event-stream";
  events.stream = true;
  return events;
}

Answer Door::answer(const Visit& visit) {
  if (!is_api(visit.path)) return files_.answer(visit);
  if (options_.house.lan && visit.session.empty() && !is_open(visit.path)) {
    // Was let in when the request began; has left, or was put out, before its body had come.
    return fault_answer(401, "request", "this phone is not let in any more",
                        "the code that the serving machine shows");
  }
  Answer answer = answer_api(visit);
  answer.headers.emplace_back("Cache-Control", "no-store");
  return answer;
}

void Door::fill_in_session(Visit& visit) {
  if (!options_.house.lan) return;
  Sessions::Looked looked = sessions_.look(cookie_of(visit.cookie, options_.house.port),
                                           visit.address, visit.user_agent, clock_());
  visit.session = std::move(looked.name);
  visit.phone = std::move(looked.phone);
}

bool Door::may_listen(const string& session) {
  return !options_.house.lan || sessions_.is_open(session, clock_());
}

}  // namespace weighwright::web
