#pragma once
/// The files of the page: built in, or from a folder while somebody works on them.

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "web/visit.h"

namespace weighwright::web {

/// A file that is built into the program.
struct BuiltInFile {
  std::string_view path;  // "assets/index-5f3a.js"
  std::string_view plain;
  std::string_view gzip;
  std::string_view etag;  // quoted
};
/// Empty when the program was built without the page.
[[nodiscard]] const std::vector<BuiltInFile>& built_in_files();
/// schema/page-api.json as it was when the program was built.
[[nodiscard]] std::string_view built_in_description();
/// THIRD-PARTY.txt likewise: the licences of what program and page are made of. The page links it.
[[nodiscard]] std::string_view built_in_licences();
inline constexpr std::string_view kLicences = "licences.txt";

class PageFiles {
 public:
  PageFiles() = default;  // the built-in ones
  /// @param folder  as the page's build leaves it, index.html at its top
  explicit PageFiles(std::filesystem::path folder);

  /// GET and HEAD of a path; 404 when there is no such file. Names with ".." are no files.
  [[nodiscard]] Answer answer(const Visit& visit) const;

 private:
  [[nodiscard]] Answer from_folder(const std::string& path) const;
  std::optional<std::filesystem::path> folder_;
};

/// By the end of the name; "application/octet-stream" when it is not known.
[[nodiscard]] std::string media_type(std::string_view path);

/// Whether an If-None-Match header names an ETag (RFC 9110, 13.1.2; weak comparison).
[[nodiscard]] bool names_etag(std::string_view if_none_match, std::string_view etag);

}  // namespace weighwright::web
