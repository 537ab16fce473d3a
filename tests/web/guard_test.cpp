#include "web/guard.h"

#include <gtest/gtest.h>

#include <string>
#include <vector>

namespace weighwright::web {
namespace {

const House kLoopback{.lan = false, .port = 8470, .names = {"localhost", "127.0.0.1", "[::1]"}};
const House kLan{.lan = true, .port = 8470, .names = {"localhost", "192.0.2.7", "pit.local"}};

Visit good(const std::string& method = "GET") {
  Visit visit;
  visit.method = method;
  visit.path = "/api/site";
  visit.hosts = {"127.0.0.1:8470"};
  if (method == "POST") {
    visit.content_type = "application/json";
    visit.content_lengths = {"2"};
  }
  return visit;
}

int status(const Visit& visit, const House& house = kLoopback) {
  const auto no = refuse(visit, house);
  return no ? no->status : 200;
}

int with_host(const std::string& host, const House& house = kLoopback) {
  Visit visit = good();
  visit.hosts = {host};
  return status(visit, house);
}

TEST(Guard, RefusesWhatNoBrowserSends) {
  Visit visit = good();
  visit.odd = "Cookie is given twice";
  const auto no = refuse(visit, kLoopback);
  ASSERT_TRUE(no);
  EXPECT_EQ(no->status, 400);
  EXPECT_NE(no->body.find("Cookie is given twice"), std::string::npos);
}

// DNS rebinding: the foreign name stands in Host (RFC 9110, 7.2).
TEST(Guard, AnswersOnlyToItsOwnNames) {
  EXPECT_EQ(with_host("127.0.0.1:8470"), 200);
  EXPECT_EQ(with_host("LOCALHOST:8470"), 200);
  EXPECT_EQ(with_host("[::1]:8470"), 200);
  for (const char* const host :
       {"rebound.example:8470", "127.0.0.1", "127.0.0.1:8471", "127.0.0.1:84701", "localhost.:8470",
        "localhost:8470.example:8470", "192.0.2.7:8470", "", ":8470", "127.0.0.1:8470:8470",
        "0x7f000001:8470", "127.1:8470"}) {
    EXPECT_EQ(with_host(host), 403) << host;
  }
}

TEST(Guard, RefusesNoHostAndTwo) {
  Visit visit = good();
  visit.hosts = {};
  EXPECT_EQ(status(visit), 400);  // RFC 9112, 3.2: 400 without Host, or with more than one
  visit.hosts = {"127.0.0.1:8470", "rebound.example:8470"};
  EXPECT_EQ(status(visit), 400);
}

TEST(Guard, InTheLanTakesTheAddressThatWasReallyAsked) {
  EXPECT_EQ(with_host("pit.local:8470", kLan), 200);
  EXPECT_EQ(with_host("198.51.100.9:8470", kLan), 403);
  Visit visit = good();
  visit.hosts = {"198.51.100.9:8470"};
  visit.local_address = "198.51.100.9";
  EXPECT_EQ(status(visit, kLan), 200);
  visit.hosts = {"[2001:db8::7]:8470"};
  visit.local_address = "2001:db8::7";
  EXPECT_EQ(status(visit, kLan), 200);
  // On loopback nothing but its own three names.
  EXPECT_EQ(status(visit, kLoopback), 403);
}

// Fetch standard: Origin of the page that asks, "null" for one that may not be told.
TEST(Guard, RefusesForeignPages) {
  Visit visit = good("POST");
  visit.origin = "http://127.0.0.1:8470";
  EXPECT_EQ(status(visit), 200);
  for (const char* const origin : {"http://rebound.example", "null", "http://127.0.0.1:8471",
                                   "https://127.0.0.1:8470", "http://localhost:8470", ""}) {
    visit.origin = origin;
    EXPECT_EQ(status(visit), 403) << origin;
  }
}

// W3C Fetch Metadata: Sec-Fetch-Site is same-origin, none (typed by the user), same-site or
// cross-site.
TEST(Guard, ReadsFetchMetadata) {
  Visit visit = good();
  for (const char* const site : {"same-origin", "none", ""}) {
    visit.fetch_site = site;
    EXPECT_EQ(status(visit), 200) << site;
  }
  for (const char* const site : {"cross-site", "same-site", "odd"}) {
    visit.fetch_site = site;
    EXPECT_EQ(status(visit), 403) << site;
  }
  visit.path = "/";
  visit.fetch_site = "cross-site";
  EXPECT_EQ(status(visit), 403);
  visit.fetch_mode = "navigate";  // somebody follows a link to the page
  EXPECT_EQ(status(visit), 200);
  visit.path = "/api/export";
  EXPECT_EQ(status(visit), 403);
}

TEST(Guard, TakesJsonOnly) {
  Visit visit = good("POST");
  for (const char* const type :
       {"application/json", "application/json; charset=utf-8", "Application/JSON ;x=1"}) {
    visit.content_type = type;
    EXPECT_EQ(status(visit), 200) << type;
  }
  // The three that a foreign form can send without asking (Fetch standard, CORS-safelisted
  // request-header), and others.
  for (const char* const type :
       {"text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x", "",
        "application/jsonp", "text/plain; application/json"}) {
    visit.content_type = type;
    EXPECT_EQ(status(visit), 415) << type;
  }
}

TEST(Guard, KnowsTheLengthBeforeItReads) {
  Visit visit = good("POST");
  const auto with = [&](std::vector<std::string> lengths) {
    visit.content_lengths = std::move(lengths);
    return status(visit);
  };
  EXPECT_EQ(with({}), 411);  // RFC 9110, 15.5.12
  EXPECT_EQ(with({"4194304"}), 200);
  EXPECT_EQ(with({"4194305"}), 413);
  EXPECT_EQ(with({"99999999999999999999999"}), 413);
  // RFC 9112, 6.3: several or odd values are an unrecoverable error.
  EXPECT_EQ(with({"2", "2"}), 400);
  EXPECT_EQ(with({"2", "9999999"}), 400);
  EXPECT_EQ(with({"-1"}), 400);
  EXPECT_EQ(with({"0x10"}), 400);
  EXPECT_EQ(with({"2, 2"}), 400);
  visit.encoded = true;
  EXPECT_EQ(with({"2"}), 411);
}

TEST(Guard, LetsNoBodyHideBehindAGet) {
  Visit visit = good();
  visit.content_lengths = {"40"};
  EXPECT_EQ(status(visit), 400);
  visit.content_lengths = {"0"};
  EXPECT_EQ(status(visit), 200);
  visit.content_lengths = {};
  visit.encoded = true;
  EXPECT_EQ(status(visit), 400);
}

TEST(Guard, KnowsThreeMethods) {
  for (const char* const method :
       {"PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "CONNECT", "get"}) {
    Visit visit = good();
    visit.method = method;
    const auto no = refuse(visit, kLoopback);
    ASSERT_TRUE(no) << method;
    EXPECT_EQ(no->status, 405) << method;
    // RFC 9110, 15.5.6: 405 must say what is allowed.
    EXPECT_EQ(no->headers.front().first, "Allow");
  }
}

}  // namespace
}  // namespace weighwright::web
