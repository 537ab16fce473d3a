#pragma once
/// Rows of the table of entries found in the pages of a file, whatever its tree says.

#include <cstdint>
#include <string_view>
#include <vector>

#include "journal/journal.h"

namespace weighwright::journal {

/// One version of one page.
struct PageImage {
  std::uint32_t number = 0;  // from 1
  std::string_view bytes;    // kPage_bytes of them
};

struct FoundRows {
  std::vector<LoadedEntry> intact;   // each once, with content; no order
  std::vector<LoadedEntry> damaged;  // no intact one has their place in the chain
  [[nodiscard]] bool empty() const { return intact.empty() && damaged.empty(); }
};

/// @param searched  pages that are searched for rows
/// @param known     every version of every page, newest first: where overflow pages are looked up
[[nodiscard]] FoundRows find_rows(const std::vector<PageImage>& searched,
                                  const std::vector<PageImage>& known);

/// Pages of a database file; a part of a page at its end is left out.
[[nodiscard]] std::vector<PageImage> pages_of_file(std::string_view bytes);

}  // namespace weighwright::journal
