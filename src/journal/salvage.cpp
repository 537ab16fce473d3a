#include "journal/salvage.h"

#include <algorithm>

#include "journal/gathering.h"
#include "journal/new_file.h"
#include "journal/page_search.h"
#include "journal/store.h"

namespace weighwright::journal {

Salvaged salvage_bytes(std::string_view file, std::string_view log) {
  std::vector<PageImage> pages = pages_of_log(log);
  const std::vector<PageImage> of_file = pages_of_file(file);
  pages.insert(pages.end(), of_file.begin(), of_file.end());
  FoundRows found = find_rows(pages, pages);
  Salvaged salvaged;
  salvaged.entries = std::move(found.intact);
  for (LoadedEntry& one : found.damaged) salvaged.entries.push_back(std::move(one));
  put_in_order(salvaged.entries);
  return salvaged;
}

Salvaged salvage(const std::string& path) {
  try {
    return salvage_bytes(read_bytes(path).value_or(std::string()),
                         read_bytes(path + "-wal").value_or(std::string()));
  } catch (const StorageFailure&) {
    return {};
  }
}

Rescued rescue(const std::string& path, const std::string& new_path) {
  Rescued rescued;
  if (auto fault = fault_of_new(new_path)) {
    rescued.faults.push_back(*fault);
    return rescued;
  }
  Opened old = Journal::open(path, Access::read);
  if (!old.journal) {
    rescued.faults = std::move(old.faults);
    return rescued;
  }
  constexpr bool kWithUnconfirmed = true;
  const Gathered gathered = gather(*old.journal, kWithUnconfirmed);
  for (Problem& one : old.journal->verify().problems) {
    if (one.breaks) rescued.lost.push_back(std::move(one));
  }
  for (const Problem& one : gathered.left_out) {
    // What verify only remarks on, and is left out all the same.
    const bool told = std::ranges::any_of(rescued.lost, [&](const Problem& lost) {
      return lost.name == one.name && lost.kind == one.kind;
    });
    if (!told) rescued.lost.push_back(one);
  }
  Opened made = StoreAccess::create_with(new_path, gathered.rows, gathered.attachments);
  rescued.faults = std::move(made.faults);
  rescued.entries = made.journal ? static_cast<std::int64_t>(gathered.rows.size()) : 0;
  return rescued;
}

}  // namespace weighwright::journal
