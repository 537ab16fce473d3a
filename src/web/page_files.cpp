#include "web/page_files.h"

#include <algorithm>
#include <array>
#include <fstream>
#include <iterator>
#include <system_error>
#include <utility>

#include "units/diagnostic.h"

namespace weighwright::web {
namespace {

namespace fs = std::filesystem;
using std::string;
using std::string_view;

Answer not_there(const string& path) {
  return fault_answer(404, "request", "there is nothing at " + units::quote(path),
                      "/ for the page");
}

/// Names in assets/ hold a hash of what is in them (so does the page's build name them): what was
/// once fetched holds for good. Everything else is asked for again.
string cache_rule(string_view path) {
  return path.starts_with("assets/") ? "public, max-age=31536000, immutable" : "no-cache";
}

Answer licences() {
  Answer answer;
  answer.type = media_type(kLicences);
  answer.headers.emplace_back("Cache-Control", cache_rule(kLicences));
  answer.body = string(built_in_licences());
  return answer;
}

bool is_safe(string_view path) {
  const bool odd = std::any_of(path.begin(), path.end(), [](char c) {
    return static_cast<unsigned char>(c) < 0x20 || c == '\\' || c == 0x7f;
  });
  if (odd || path.empty() || path.front() == '/' || path.find("//") != string_view::npos) {
    return false;
  }
  const fs::path parts{string(path)};
  return std::none_of(parts.begin(), parts.end(), [](const fs::path& part) {
    return part.native().empty() || part.native().front() == '.';
  });
}

}  // namespace

string media_type(string_view path) {
  using Pair = std::pair<string_view, string_view>;
  static constexpr std::array<Pair, 14> kTypes = {{{".html", "text/html; charset=utf-8"},
                                                   {".js", "text/javascript; charset=utf-8"},
                                                   {".mjs", "text/javascript; charset=utf-8"},
                                                   {".css", "text/css; charset=utf-8"},
                                                   {".json", "application/json"},
                                                   {".webmanifest", "application/manifest+json"},
                                                   {".svg", "image/svg+xml"},
                                                   {".png", "image/png"},
                                                   {".webp", "image/webp"},
                                                   {".ico", "image/x-icon"},
                                                   {".woff2", "font/woff2"},
                                                   {".txt", "text/plain; charset=utf-8"},
                                                   {".wav", "audio/wav"},
                                                   {".map", "application/json"}}};
  for (const auto& [end, type] : kTypes) {
    if (path.ends_with(end)) return string(type);
  }
  return "application/octet-stream";
}

bool names_etag(string_view if_none_match, string_view etag) {
  while (!if_none_match.empty()) {
    const std::size_t comma = std::min(if_none_match.find(','), if_none_match.size());
    string_view one = if_none_match.substr(0, comma);
    if_none_match.remove_prefix(std::min(comma + 1, if_none_match.size()));
    while (!one.empty() && one.front() == ' ') one.remove_prefix(1);
    while (!one.empty() && one.back() == ' ') one.remove_suffix(1);
    if (one.starts_with("W/")) one.remove_prefix(2);
    if (one == "*" || one == etag) return true;
  }
  return false;
}

PageFiles::PageFiles(fs::path folder) : folder_(std::move(folder)) {}

Answer PageFiles::from_folder(const string& path) const {
  const fs::path file = *folder_ / path;
  std::error_code error;
  // A link that leads out of the folder is no file of the page.
  const fs::path real = fs::canonical(file, error);
  const fs::path root = error ? fs::path() : fs::canonical(*folder_, error);
  const auto out = std::mismatch(root.begin(), root.end(), real.begin(), real.end());
  if (error || out.first != root.end() || !fs::is_regular_file(real, error)) return not_there(path);
  std::ifstream stream(real, std::ios::binary);
  Answer answer;
  answer.body.assign(std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>());
  answer.type = media_type(path);
  answer.headers.emplace_back("Cache-Control", "no-store");
  return answer;
}

Answer PageFiles::answer(const Visit& visit) const {
  const string path = visit.path == "/" ? "index.html" : visit.path.substr(1);
  if (!is_safe(path)) return not_there(visit.path);
  if (path == kLicences) return licences();
  if (folder_) return from_folder(path);
  const auto& files = built_in_files();
  if (files.empty()) {
    return fault_answer(503, "request", "this program was built without the page",
                        "weighwright serve --page FOLDER, or a build with it");
  }
  const auto file = std::find_if(files.begin(), files.end(),
                                 [&](const BuiltInFile& one) { return one.path == path; });
  if (file == files.end()) return not_there(visit.path);
  Answer answer;
  answer.type = media_type(path);
  answer.headers.emplace_back("Cache-Control", cache_rule(path));
  answer.headers.emplace_back("Vary", "Accept-Encoding");
  // Weak: packed and plain are one file, but not the same bytes (RFC 9110, 8.8.3.3).
  answer.headers.emplace_back("ETag", "W/" + string(file->etag));
  if (names_etag(visit.if_none_match, file->etag)) {
    answer.status = 304;
    return answer;
  }
  // What can't be made smaller was not.
  const bool gzip = visit.takes_gzip && file->gzip.size() < file->plain.size();
  if (gzip) answer.headers.emplace_back("Content-Encoding", "gzip");
  answer.body = string(gzip ? file->gzip : file->plain);
  return answer;
}

}  // namespace weighwright::web
