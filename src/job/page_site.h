#pragma once
/// One site as the page sees it: what to show, what was entered, what instruments read, and (when a
/// practice site stands behind it) what the site does. Answers are JSON as docs/page-api.md says.
///
/// Thread-safe: every call may come from any thread. Reads the journal anew only when its file
/// changed, whoever changed it.
///
/// Whatever is to change something names the journal that it is for (site() and entries() say which
/// this is) and is refused as `elsewhere` when that is another: all sites are called site.job and
/// are served from one port, and what waits on a phone must not land in the next one's journal.
///
/// Errors: wrong input gives a Reply with `refused` and faults; a machine that fails (disk full)
/// gives `failed` with a sentence and what became of the entries. Nothing here throws, but
/// std::bad_alloc.

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "job/job_case.h"
#include "job/load_deck.h"
#include "units/diagnostic.h"

namespace weighwright::job {

struct Reply {
  enum class Status {
    done,
    refused,    // the input is wrong: faults
    elsewhere,  // it was meant for another journal than this one: faults, nothing was done
    not_there,  // no such thing here (practice without a practice site)
    failed      // the machine failed
  };
  Status status = Status::done;
  std::string json;        // one object; of a paper its bytes
  std::string media = {};  // of a paper: "application/pdf"; empty: JSON
  std::string name = {};   // of a paper: its file name
};

/// What was entered on the page. A token that was recorded before is not recorded again.
struct PageEntries {
  std::string journal;  // that it was typed for, as site() names it
  std::string token;    // 8 to 64 of [A-Za-z0-9-]
  std::vector<InputFile> files;
  std::vector<InputFile> photos;  // bytes
  std::vector<std::string> ticks;
  std::vector<std::string> unticks;
  std::vector<std::string> notes;
  std::optional<record::Draft> entry;
  std::string corrects;
  std::string remark;
  std::string typed_at;        // time by the phone's clock when it was typed; empty: just now
  bool keep_position = false;  // photos: where they were taken stays in them
  bool confirmed = false;      // as JobAddRequest
};

struct PageUndo {
  std::string journal;  // as PageEntries
  std::string token;
  std::string entry;  // as job_undo; empty: the last that counts
  std::string remark;
};

struct PageCommands {
  std::string journal;             // as PageEntries
  std::vector<std::string> lines;  // of the practice site
};

struct PagePractice {
  InputFile deck;
  std::uint64_t seed = 0;
  std::string site_file;  // keeps the practice site
};

struct PageSiteOptions {
  std::string journal;
  std::optional<PagePractice> practice;
  bool live = true;  // read the instruments of the deck file
  /// Who serves. Instruments of a deck that was typed at this machine are connected to at once;
  /// what another device or a phone described names addresses in the serving machine's networks,
  /// and waits until somebody there says yes (connect_instruments).
  std::string device = {};
  bool lan = false;      // phones are let in: what came with a token may be theirs
  bool connect = false;  // yes to what the deck names at the start
};

class PageSite {
 public:
  struct Opened {
    std::unique_ptr<PageSite> site;  // empty when there are faults
    units::Diagnostics faults;
  };
  /// @param writer  who makes the journal, where a practice site has none yet
  [[nodiscard]] static Opened open(const PageSiteOptions& options, const Writer& writer);
  ~PageSite();
  PageSite(const PageSite&) = delete;
  PageSite& operator=(const PageSite&) = delete;

  /// Changes whenever site() may answer something else. Cheap when the file did not change.
  [[nodiscard]] std::string revision();
  [[nodiscard]] Reply site();
  [[nodiscard]] Reply entries();
  [[nodiscard]] Reply record(const PageEntries& entries, const Writer& writer);
  [[nodiscard]] Reply undo(const PageUndo& undo, const Writer& writer);
  /// A command of the practice site, or several in order; done all or none.
  [[nodiscard]] Reply practice(const PageCommands& commands);
  /// The questions that describe a deck.
  [[nodiscard]] Reply questions();
  /// Answers to them, in order; gives the deck file, records nothing.
  [[nodiscard]] Reply draft_deck(const std::string& name, const std::vector<std::string>& answers);
  /// Where a practice site's instruments answer, in words; empty without one.
  [[nodiscard]] std::vector<std::string> answers_at() const;
  /// What instruments show now: one line, as report::LiveView prints it.
  [[nodiscard]] std::string live();
  /// Yes to the instruments that the deck names now. Answers what live() says then.
  [[nodiscard]] Reply connect_instruments();
  /// The whole journal as open JSON Lines. Empty and a fault in `failed` when it can't be read.
  [[nodiscard]] Reply exported();
  /// A paper of the site (job/report_case.h): "report", "sheet", "dcc", "csv", "plan", "chart".
  [[nodiscard]] Reply paper(const std::string& code, const Writer& now);

 private:
  struct State;
  explicit PageSite(std::unique_ptr<State> state);
  std::unique_ptr<State> state_;
};

}  // namespace weighwright::job
