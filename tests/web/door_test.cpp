#include "web/door.h"

#include <gtest/gtest.h>

#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <string>

#include "web/fake_site.h"
#include "web/secret.h"

namespace weighwright::web {
namespace {

using nlohmann::json;

const std::string kNamed = R"({"journal":")" + kJournal + "\",";
const std::string kNote = kNamed + R"("token":"abcdefgh"})";
const std::string kCells = kNamed + R"("lines":["cells"]})";

std::int64_t g_now_ms = 0;
std::int64_t test_clock() {
  return g_now_ms;
}

/// A door with a fake site behind it. Time stands still unless a test moves it.
struct Pit {
  explicit Pit(bool lan) {
    begin_secrets();
    g_now_ms = 1;
    pairing.renew_when_due(g_now_ms);
    house = {.lan = lan, .port = 8470, .names = {"localhost", "127.0.0.1", "192.0.2.1"}};
    door = std::make_unique<Door>(
        DoorOptions{.house = house,
                    .practice = false,
                    .job = "x y.job",
                    .version = "1",
                    .came_in = [this](const Phone& phone) { came.push_back(phone); }},
        site, PageFiles(), pairing, test_clock, [this] { ++pokes; });
  }
  Visit visit(const std::string& method, const std::string& path, const std::string& body = "") {
    Visit one;
    one.method = method;
    one.path = path;
    one.hosts = {"127.0.0.1:8470"};
    one.address = "192.0.2.7";
    one.user_agent = "A phone's browser";
    if (!cookie.empty()) one.cookie = "other=1; __Host-weighwright-8470=" + cookie;
    if (method == "POST") {
      one.content_type = "application/json";
      one.content_lengths = {std::to_string(body.size())};
      one.body = body;
    }
    return one;
  }
  Answer ask(Visit one) {
    if (auto no = door->admit(one)) return *no;
    return door->answer(one);
  }
  Answer ask(const std::string& method, const std::string& path, const std::string& body = "") {
    return ask(visit(method, path, body));
  }
  void pair() {
    const Answer answer =
        ask("POST", "/api/pair", R"({"code":")" + code + R"(","name":"R. Example"})");
    ASSERT_EQ(answer.status, 200) << answer.body;
    for (const auto& [name, value] : answer.headers) {
      if (name == "Set-Cookie") cookie = value.substr(value.find('=') + 1, 64);
    }
    ASSERT_EQ(cookie.size(), 64U);
  }

  std::shared_ptr<FakeBooks> books = std::make_shared<FakeBooks>();
  FakeSite site{books};
  std::string code;
  Pairing pairing{[this](const std::string& shown) { code = shown; }};
  House house;
  std::unique_ptr<Door> door;
  std::string cookie;
  int pokes = 0;
  std::vector<Phone> came;
};

std::string header(const Answer& answer, const std::string& wanted) {
  for (const auto& [name, value] : answer.headers) {
    if (name == wanted) return value;
  }
  return {};
}

// The description is the contract: what it names is answered, and nothing else is.
TEST(Door, HasTheRoutesOfTheDescriptionAndNoOther) {
  std::ifstream file(WEIGHWRIGHT_SOURCE_DIR "/schema/page-api.json");
  const json description = json::parse(file);
  std::set<std::string> described;
  for (const auto& [path, methods] : description["paths"].items()) {
    for (const auto& [method, what] : methods.items()) described.insert(method + " " + path);
  }
  std::set<std::string> routes;
  for (const Route& route : Door::routes()) {
    std::string method = route.method;
    for (char& c : method) c = static_cast<char>(std::tolower(c));
    routes.insert(method + " " + route.path);
  }
  EXPECT_EQ(routes, described);
}

TEST(Door, LetsEverybodyInOnLoopback) {
  Pit pit(false);
  EXPECT_EQ(pit.ask("GET", "/api/site").status, 200);
  const json session = json::parse(pit.ask("GET", "/api/session").body);
  EXPECT_EQ(session,
            json::parse(R"({"let_in":true,"lan":false,"practice":false,"version":"1","here":true,
                                        "phone":""})"));
  EXPECT_EQ(pit.ask("POST", "/api/pair", R"({"code":"x","name":"R. Example"})").status, 404);
}

TEST(Door, AsksForTheCodeInTheLan) {
  Pit pit(true);
  for (const Route& route : Door::routes()) {
    const Answer answer = pit.ask(route.method, route.path, "{}");
    if (route.open) {
      EXPECT_NE(answer.status, 401) << route.path;
    } else {
      EXPECT_EQ(answer.status, 401) << route.path;
    }
  }
  EXPECT_TRUE(pit.books->recorded.empty());
  EXPECT_EQ(pit.ask("POST", "/api/pair", R"({"code":"AAAA-AAAA","name":"R. Example"})").status,
            403);
  pit.pair();
  EXPECT_EQ(pit.ask("GET", "/api/site").status, 200);
  EXPECT_TRUE(json::parse(pit.ask("GET", "/api/session").body)["let_in"]);
}

TEST(Door, WritesThePhoneThatWasNamedAtPairingBesideWhatItRecords) {
  Pit pit(true);
  pit.pair();
  const std::string body = kNamed + R"("token":"abcdefgh","author":"S. Example"})";
  Visit visit = pit.visit("POST", "/api/entries", body);
  ASSERT_FALSE(pit.door->admit(visit));
  pit.door->fill_in_session(visit);
  ASSERT_EQ(pit.door->answer(visit).status, 200);
  EXPECT_EQ(pit.books->authors, std::vector<std::string>{"S. Example"});
  EXPECT_EQ(pit.books->phones, std::vector<std::string>{"R. Example"});
  EXPECT_EQ(json::parse(pit.ask("GET", "/api/session").body)["phone"], "R. Example");
}

TEST(Door, TellsWhoCameIn) {
  Pit pit(true);
  pit.pair();
  ASSERT_EQ(pit.came.size(), 1U);
  EXPECT_EQ(pit.came.front().name, "R. Example");
  EXPECT_EQ(pit.came.front().address, "192.0.2.7");
}

TEST(Door, PutsPhonesOutAndConnectsInstrumentsFromTheServingMachineOnly) {
  Pit pit(true);
  pit.pair();
  const json phones = json::parse(pit.ask("GET", "/api/phones").body);
  ASSERT_EQ(phones["phones"].size(), 1U);
  EXPECT_EQ(phones["phones"][0]["name"], "R. Example");
  EXPECT_FALSE(phones["here"]);
  const std::string out = R"({"phone":"1"})";
  EXPECT_EQ(pit.ask("POST", "/api/put_out", out).status, 403);
  EXPECT_EQ(pit.ask("POST", "/api/instruments", "{}").status, 403);
  EXPECT_EQ(pit.books->connected, 0);
  ASSERT_TRUE(pit.door->put_out(1));
  EXPECT_EQ(pit.ask("GET", "/api/site").status, 401) << "what was put out is out";

  Pit here(false);
  EXPECT_EQ(here.ask("POST", "/api/instruments", "{}").status, 200);
  EXPECT_EQ(here.books->connected, 1);
}

// RFC 6265bis, 4.1: Secure, HttpOnly, SameSite, and the __Host- prefix, which wants Path=/ and no
// Domain.
TEST(Door, GivesACookieThatStaysWithTheBrowser) {
  Pit pit(true);
  const Answer answer =
      pit.ask("POST", "/api/pair", R"({"code":")" + pit.code + R"(","name":"R. Example"})");
  const std::string cookie = header(answer, "Set-Cookie");
  EXPECT_TRUE(cookie.starts_with("__Host-"));
  for (const char* const part : {"; Secure", "; HttpOnly", "; SameSite=Strict", "; Path=/"}) {
    EXPECT_NE(cookie.find(part), std::string::npos) << part;
  }
  EXPECT_EQ(cookie.find("Domain"), std::string::npos);
}

TEST(Door, EndsASessionThatWasStolen) {
  Pit pit(true);
  pit.pair();
  Visit thief = pit.visit("GET", "/api/export");
  thief.address = "192.0.2.66";
  EXPECT_EQ(pit.ask(thief).status, 401);
  EXPECT_EQ(pit.ask("GET", "/api/site").status, 401) << "the copied session is over for both";
  EXPECT_FALSE(json::parse(pit.ask("GET", "/api/session").body)["let_in"]);
}

TEST(Door, EndsTheEventsOfWhoHasLeft) {
  Pit pit(true);
  pit.pair();
  Visit visit = pit.visit("GET", "/api/events");
  ASSERT_FALSE(pit.door->admit(visit));
  EXPECT_TRUE(pit.door->answer(visit).stream);
  EXPECT_TRUE(pit.door->may_listen(visit.session));
  EXPECT_EQ(pit.ask("POST", "/api/leave").status, 200);
  EXPECT_FALSE(pit.door->may_listen(visit.session));
  EXPECT_EQ(pit.ask("GET", "/api/site").status, 401);
}

TEST(Door, RecordsNothingForWhoWasPutOutMeanwhile) {
  Pit pit(true);
  pit.pair();
  Visit slow = pit.visit("POST", "/api/entries", kNote);
  ASSERT_FALSE(pit.door->admit(slow));
  EXPECT_EQ(pit.ask("POST", "/api/leave").status, 200);
  pit.door->fill_in_session(slow);
  EXPECT_EQ(pit.door->answer(slow).status, 401);
  EXPECT_TRUE(pit.books->recorded.empty());
}

// RFC 6585, 4: 429, may say Retry-After.
TEST(Door, SlowsDownWhoAsksTooOften) {
  Pit pit(true);
  pit.pair();
  int through = 0;
  Answer last;
  for (int i = 0; i < 200; ++i) {
    last = pit.ask("GET", "/api/site");
    through += last.status == 200 ? 1 : 0;
  }
  EXPECT_EQ(through, 60);
  EXPECT_EQ(last.status, 429);
  EXPECT_EQ(header(last, "Retry-After"), "1");
  g_now_ms += 1000;
  EXPECT_EQ(pit.ask("GET", "/api/site").status, 200);
}

TEST(Door, SlowsDownStrangersSooner) {
  Pit pit(true);
  int through = 0;
  for (int i = 0; i < 200; ++i) through += pit.ask("GET", "/api/session").status == 200 ? 1 : 0;
  EXPECT_EQ(through, 40);
  Visit other = pit.visit("GET", "/api/session");
  other.address = "192.0.2.8";
  EXPECT_EQ(pit.ask(other).status, 200) << "others do not wait";
}

TEST(Door, AnswersWithTheRevisionAsEtag) {
  Pit pit(false);
  const Answer first = pit.ask("GET", "/api/site");
  EXPECT_EQ(header(first, "ETag"), "\"r0\"");
  Visit again = pit.visit("GET", "/api/site");
  again.if_none_match = "\"r0\"";
  const Answer same = pit.ask(again);
  EXPECT_EQ(same.status, 304);
  EXPECT_TRUE(same.body.empty());
  EXPECT_EQ(pit.ask("POST", "/api/entries", kNote).status, 200);
  EXPECT_EQ(pit.pokes, 1);
  EXPECT_EQ(pit.ask(again).status, 200);
}

TEST(Door, GivesWhatTheJobSaysAsStatus) {
  Pit pit(false);
  EXPECT_EQ(pit.ask("POST", "/api/practice", kCells).status, 404);
  const Answer draft = pit.ask("POST", "/api/draft", R"({"answers":[]})");
  EXPECT_EQ(draft.status, 400);
  EXPECT_EQ(json::parse(draft.body)["question"], 3);
  EXPECT_EQ(pit.ask("POST", "/api/entries", "{").status, 400);
  EXPECT_EQ(pit.ask("GET", "/api/nothing").status, 404);
  EXPECT_EQ(pit.ask("POST", "/api/site", "{}").status, 405);
  EXPECT_EQ(header(pit.ask("POST", "/api/site", "{}"), "Allow"), "GET");
  EXPECT_EQ(pit.ask("HEAD", "/api/events").status, 405);
  const Answer exported = pit.ask("GET", "/api/export");
  EXPECT_EQ(exported.type, "application/x-ndjson");
  EXPECT_EQ(header(exported, "Content-Disposition"), "attachment; filename=\"x_y.job.jsonl\"");
}

TEST(Door, SaysWithAStatusOfItsOwnThatSomethingWasMeantForAnotherJournal) {
  Pit pit(false);
  const std::string other = R"({"journal":")" + std::string(64, 'b') + "\",";
  EXPECT_EQ(pit.ask("POST", "/api/entries", other + R"("token":"abcdefgh"})").status, 409);
  EXPECT_EQ(pit.ask("POST", "/api/undo", other + R"("token":"abcdefgh"})").status, 409);
  EXPECT_EQ(pit.ask("POST", "/api/practice", other + R"("lines":["cells"]})").status, 409);
  EXPECT_TRUE(pit.books->tokens.empty());
}

TEST(Door, KeepsNothingOfTheApiInCaches) {
  Pit pit(false);
  for (const char* const path : {"/api/site", "/api/session", "/api/entries", "/api/export"}) {
    EXPECT_EQ(header(pit.ask("GET", path), "Cache-Control"), "no-store") << path;
  }
}

}  // namespace
}  // namespace weighwright::web
