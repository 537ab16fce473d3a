#include "web/page_files.h"

#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>

namespace weighwright::web {
namespace {

namespace fs = std::filesystem;

class PageFolder : public ::testing::Test {
 protected:
  PageFolder() : root_(fs::temp_directory_path() / ("page-" + std::to_string(getpid()))) {
    fs::create_directories(root_ / "page/assets");
    write("secret.txt", "not for the page");
    write("page/index.html", "<!doctype html>");
    write("page/assets/a.js", "1");
    write("page/.hidden", "no");
    fs::create_symlink(root_ / "secret.txt", root_ / "page/link.txt");
  }
  ~PageFolder() override { fs::remove_all(root_); }
  void write(const std::string& name, const std::string& text) const {
    std::ofstream(root_ / name) << text;
  }
  [[nodiscard]] Answer get(const std::string& path) const {
    Visit visit;
    visit.method = "GET";
    visit.path = path;
    return PageFiles(root_ / "page").answer(visit);
  }
  fs::path root_;
};

TEST_F(PageFolder, GivesItsFiles) {
  EXPECT_EQ(get("/").body, "<!doctype html>");
  EXPECT_EQ(get("/").type, "text/html; charset=utf-8");
  EXPECT_EQ(get("/assets/a.js").type, "text/javascript; charset=utf-8");  // RFC 9239
  EXPECT_EQ(get("/none.js").status, 404);
  EXPECT_EQ(get("/assets").status, 404);
}

// OWASP Web Security Testing Guide, "Testing Directory Traversal File Include": these forms.
TEST_F(PageFolder, IsNeverLeft) {
  for (const char* const path :
       {"/../secret.txt", "/assets/../../secret.txt", "//secret.txt", "/./index.html",
        "/..\\secret.txt", "/link.txt", "/.hidden", "/assets/", "/assets//a.js", "/",
        "/index.html/../../secret.txt"}) {
    const Answer answer = get(path);
    EXPECT_EQ(answer.body.find("not for the page"), std::string::npos) << path;
    EXPECT_EQ(answer.status, std::string(path) == "/" ? 200 : 404) << path;
  }
  EXPECT_EQ(get("/" + (root_ / "secret.txt").string()).status, 404);
  EXPECT_EQ(get(std::string("/index.html\0x", 13)).status, 404);
}

// RFC 9110, 13.1.2 and 8.8.3.2: If-None-Match is a list, compared weakly.
TEST(Etag, IsFoundInAList) {
  EXPECT_TRUE(names_etag("\"a\"", "\"a\""));
  EXPECT_TRUE(names_etag("\"x\", W/\"a\" ,\"y\"", "\"a\""));
  EXPECT_TRUE(names_etag("*", "\"a\""));
  EXPECT_FALSE(names_etag("", "\"a\""));
  EXPECT_FALSE(names_etag("\"ab\"", "\"a\""));
  EXPECT_FALSE(names_etag("a", "\"a\""));
}

// RFC 1952: a gzip file begins with 1F 8B; and ends with the length of what it holds.
TEST(BuiltInPage, HoldsEachFilePlainAndPacked) {
  for (const BuiltInFile& file : built_in_files()) {
    ASSERT_GE(file.gzip.size(), 18U) << file.path;
    EXPECT_EQ(file.gzip.substr(0, 2), "\x1F\x8B") << file.path;
    std::size_t length = 0;
    for (std::size_t i = 4; i > 0; --i) {
      length = length << 8U | static_cast<unsigned char>(file.gzip[file.gzip.size() - 5 + i]);
    }
    EXPECT_EQ(length, file.plain.size()) << file.path;
  }
  EXPECT_NE(built_in_description().find("\"openapi\""), std::string_view::npos);
}

TEST(BuiltInPage, IsGivenPackedToWhoUnpacks) {
  if (built_in_files().empty()) GTEST_SKIP() << "built without the page";
  Visit visit;
  visit.method = "GET";
  visit.path = "/";
  const Answer plain = PageFiles().answer(visit);
  EXPECT_EQ(plain.status, 200);
  visit.takes_gzip = true;
  const Answer packed = PageFiles().answer(visit);
  EXPECT_LT(packed.body.size(), plain.body.size());
  std::string etag;
  for (const auto& [name, value] : packed.headers) {
    if (name == "ETag") etag = value;
  }
  visit.if_none_match = etag;
  EXPECT_EQ(PageFiles().answer(visit).status, 304);
}

}  // namespace
}  // namespace weighwright::web
