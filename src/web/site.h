#pragma once
/// What the server asks of a job. The real one is job::PageSite behind site_of_job(); tests put
/// their own in its place.

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "job/page_site.h"

namespace weighwright::web {

/// Who records.
struct Who {
  std::string author;  // as typed on the page; may be empty
  std::string phone;   // name given when it was let in; empty: this machine's own page
};

/// Every call may come from any thread.
class Site {
 public:
  Site() = default;
  virtual ~Site() = default;
  Site(const Site&) = delete;
  Site& operator=(const Site&) = delete;

  [[nodiscard]] virtual std::string revision() = 0;
  [[nodiscard]] virtual job::Reply site() = 0;
  [[nodiscard]] virtual job::Reply entries() = 0;
  [[nodiscard]] virtual job::Reply record(const job::PageEntries& entries, const Who& who) = 0;
  [[nodiscard]] virtual job::Reply undo(const job::PageUndo& undo, const Who& who) = 0;
  [[nodiscard]] virtual job::Reply practice(const job::PageCommands& commands) = 0;
  [[nodiscard]] virtual job::Reply questions() = 0;
  [[nodiscard]] virtual job::Reply draft_deck(const std::string& name,
                                              const std::vector<std::string>& answers) = 0;
  [[nodiscard]] virtual std::string live() = 0;
  [[nodiscard]] virtual job::Reply exported() = 0;
  [[nodiscard]] virtual job::Reply paper(const std::string& code) = 0;
  /// Somebody at this machine says yes to the instruments that the deck names now.
  [[nodiscard]] virtual job::Reply connect_instruments() = 0;
};

/// @param writer  stamps an entry: who (the author may be empty) to who, where and when
[[nodiscard]] std::unique_ptr<Site> site_of_job(std::unique_ptr<job::PageSite> site,
                                                std::function<job::Writer(const Who& who)> writer);

}  // namespace weighwright::web
