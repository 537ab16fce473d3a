#include "job/page_site.h"

#include <sys/stat.h>

#include <filesystem>
#include <functional>
#include <mutex>
#include <set>
#include <string_view>

#include "deck/instrument.h"
#include "diagnose/meter_memory.h"
#include "job/entry_words.h"
#include "job/interview.h"
#include "job/job_open.h"
#include "job/live_limits.h"
#include "job/look.h"
#include "job/page_live.h"
#include "job/page_practice.h"
#include "job/page_view_of.h"
#include "job/practice_remark.h"
#include "job/report_case.h"
#include "job/storage_failure.h"
#include "journal/exchange.h"
#include "journal/founding.h"
#include "report/answer_json.h"
#include "report/page_view.h"
#include "report/rehearse_view.h"

namespace weighwright::job {
namespace {

/// What tells that a journal's file was written to, by whomever: size and time of it and its log.
struct FileStamp {
  std::vector<std::int64_t> parts;
  bool operator==(const FileStamp&) const = default;
};

FileStamp stamp_of(const std::string& path) {
  FileStamp stamp;
  for (const char* const ending : {"", "-wal"}) {
    struct stat file{};
    if (::stat((path + ending).c_str(), &file) != 0) {
      stamp.parts.push_back(-1);
      continue;
    }
    stamp.parts.insert(stamp.parts.end(), {static_cast<std::int64_t>(file.st_ino),
                                           static_cast<std::int64_t>(file.st_size),
                                           static_cast<std::int64_t>(file.st_mtim.tv_sec),
                                           static_cast<std::int64_t>(file.st_mtim.tv_nsec)});
  }
  return stamp;
}

units::Diagnostic fault_of(const std::string& file, std::string what, std::string expected) {
  return {.file = file,
          .line = 0,
          .column = 0,
          .what = std::move(what),
          .expected = std::move(expected)};
}

Reply refused(const units::Diagnostics& faults) {
  return {.status = Reply::Status::refused, .json = report::print_json(faults)};
}

Reply elsewhere(const units::Diagnostics& faults) {
  return {.status = Reply::Status::elsewhere, .json = report::print_json(faults)};
}

Reply failed(const std::string& sentence) {
  return {
      .status = Reply::Status::failed,
      .json = report::print_json({fault_of("this machine", sentence, "see what is said there")})};
}

/// Whether its first visit says that it is a practice site's.
bool began_as_practice(journal::Journal& journal) {
  for (const journal::LoadedEntry& loaded : journal.entries()) {
    if (loaded.entry.what.kind != "visit") continue;
    return record::field(loaded.entry.what.fields, "remark") == kPracticeRemark;
  }
  return false;
}

/// A machine that fails is an answer here.
Reply guarded(const std::function<Reply()>& doing) {
  try {
    return doing();
  } catch (const journal::StorageFailure& failure) {
    return failed(failure.what());
  } catch (const std::bad_alloc&) {
    throw;
  } catch (const std::exception& error) {
    return failed(error.what());
  }
}

}  // namespace

struct PageSite::State {
  std::mutex mutex;
  PageSiteOptions options;
  std::unique_ptr<PagePracticeSite> practice;
  PageLive live;
  diagnose::MeterMemory memory;
  // What was read from the file when it had this stamp.
  std::optional<FileStamp> stamp;
  std::string revision;
  std::string journal;  // which one it is (journal/founding.h)
  std::string pinned;   // which one it was at the start, and must stay while it is served
  Reply site;
  std::optional<Reply> entries;
  std::set<std::string> allowed;  // addresses of instruments that somebody here said yes to
  bool allows_all = false;        // the next look allows what the deck names

  /// Reads the journal when its file is another than at the last look. @pre mutex held
  void refresh() {
    const FileStamp now = stamp_of(options.journal);
    if (stamp && *stamp == now) return;
    entries.reset();
    site = guarded([&] { return look(); });
    // What failed is tried again at the next look; a file that was written to while it was read has
    // another stamp by then.
    if (site.status == Reply::Status::done) {
      stamp = now;
    } else {
      revision = "unreadable";
      journal.clear();
      stamp.reset();
    }
  }

  Reply look() {
    journal::Opened opened = journal::Journal::open(options.journal, journal::Access::read);
    if (!opened.journal) return refused(opened.faults);
    Looked looked = look_at(*opened.journal, options.journal, false, &memory);
    if (!pinned.empty() && looked.view.journal != pinned) return refused({replaced()});
    if (options.live) wire(looked.state);
    report::PageView view = page_view_of(std::move(looked));
    view.practice = practice != nullptr;
    view.job.path = std::filesystem::path(options.journal).filename().string();
    revision = view.revision;
    journal = view.job.journal;
    live.name_journal(journal);
    return {.status = Reply::Status::done, .json = report::print_page_json(view)};
  }

  /// Somebody put another journal in the place of the one that is served.
  [[nodiscard]] units::Diagnostic replaced() const {
    return fault_of(options.journal,
                    "the file is another journal than the one that this program began to serve",
                    "put the file back, or end the program and serve the other one");
  }

  /// Whoever typed the deck sat at this machine.
  [[nodiscard]] bool typed_here(const SiteState& state) const {
    const record::Entry& entry =
        state.history.lines[static_cast<std::size_t>(state.deck_line)].entry;
    const bool by_phone = options.lan && !record::field(entry.what.fields, "token").empty();
    return !options.device.empty() && entry.stamp.device == options.device && !by_phone;
  }

  void wire(const SiteState& state) {
    if (!practice && !state.deck) return;
    if (practice) {
      const std::vector<deck::Instrument> own = practice->instruments();
      return state.deck ? live.read(own, live_limits(*state.deck->deck, own)) : live.read(own);
    }
    const bool all = allows_all || typed_here(state);
    allows_all = false;
    std::vector<deck::Instrument> read;
    std::vector<deck::Instrument> waiting;
    for (const deck::Instrument& one : state.deck->deck->instruments) {
      const std::string address = PageLive::address_of(one);
      if (all) allowed.insert(address);
      (allowed.contains(address) ? read : waiting).push_back(one);
    }
    live.read(read, live_limits(*state.deck->deck, read), waiting);
  }

  /// What was typed for another journal than the one that is served, whatever the file is by now.
  [[nodiscard]] std::optional<Reply> refuse_other(const std::string& meant) const {
    if (pinned.empty()) return {};
    const units::Diagnostics faults = belongs_elsewhere(meant, pinned, options.journal);
    if (faults.empty()) return {};
    return elsewhere(faults);
  }

  Reply recorded(const JobAnswer<report::RecordedView>& answer) {
    if (!answer.view && answer.denial == Denial::other_journal) return elsewhere(answer.faults);
    if (!answer.view && answer.denial == Denial::unconfirmed) {
      return {.status = Reply::Status::refused, .json = report::print_confirm_json(answer.faults)};
    }
    if (!answer.view) return refused(answer.faults);
    // Two writes in one tick of the file system's clock may leave one stamp.
    stamp.reset();
    refresh();
    // It is recorded: whoever sent it is to send it again, and not to think that it was refused.
    if (site.status != Reply::Status::done) {
      return {.status = Reply::Status::failed, .json = site.json};
    }
    return {.status = Reply::Status::done,
            .json = report::print_recorded_json(*answer.view, site.json)};
  }
};

PageSite::PageSite(std::unique_ptr<State> state) : state_(std::move(state)) {}
PageSite::~PageSite() {
  // The readers of instruments end before the practice site that answers them.
  state_->live.read({}, {});
}

PageSite::Opened PageSite::open(const PageSiteOptions& options, const Writer& writer) {
  auto state = std::make_unique<State>();
  state->options = options;
  state->allows_all = options.connect;
  std::error_code ignored;
  const bool there = std::filesystem::exists(options.journal, ignored);
  if (options.practice) {
    PagePracticeSite::Opened practice = PagePracticeSite::open(*options.practice, options.live);
    if (!practice.site) return {.site = nullptr, .faults = std::move(practice.faults)};
    state->practice = std::move(practice.site);
    if (!there) {
      const JobAnswer<report::RecordedView> made = job_new({.path = options.journal,
                                                            .deck = options.practice->deck,
                                                            .service = false,
                                                            .remark = kPracticeRemark},
                                                           writer);
      if (!made.view) return {.site = nullptr, .faults = made.faults};
    }
  }
  // A file that can't be opened is told at the start, not on the page.
  const journal::Opened opened = journal::Journal::open(options.journal, journal::Access::read);
  if (!opened.journal) return {.site = nullptr, .faults = opened.faults};
  state->pinned = journal::founding_hash(opened.journal->entries());
  if (options.practice && !began_as_practice(*opened.journal)) {
    return {.site = nullptr,
            .faults = {fault_of(options.journal,
                                "this journal did not begin on a practice site, and invented "
                                "readings do not belong into it",
                                "a new file name with --rehearse, or no --rehearse")}};
  }
  return {.site = std::unique_ptr<PageSite>(new PageSite(std::move(state))), .faults = {}};
}

std::string PageSite::revision() {
  const std::scoped_lock lock(state_->mutex);
  state_->refresh();
  return state_->revision;
}

Reply PageSite::site() {
  const std::scoped_lock lock(state_->mutex);
  state_->refresh();
  return state_->site;
}

Reply PageSite::entries() {
  const std::scoped_lock lock(state_->mutex);
  state_->refresh();
  if (state_->entries) return *state_->entries;
  Reply reply = guarded([&]() -> Reply {
    const JobAnswer<report::JobView> answer = job_look(state_->options.journal, true);
    if (!answer.view) return refused(answer.faults);
    if (!state_->pinned.empty() && answer.view->journal != state_->pinned) {
      return refused({state_->replaced()});
    }
    return {.status = Reply::Status::done,
            .json = report::print_entries_json(answer.view->journal, answer.view->entries)};
  });
  if (reply.status == Reply::Status::done) state_->entries = reply;
  return reply;
}

Reply PageSite::record(const PageEntries& entries, const Writer& writer) {
  const std::scoped_lock lock(state_->mutex);
  return guarded([&] {
    if (auto no = state_->refuse_other(entries.journal)) return std::move(*no);
    JobAddRequest request;
    request.path = state_->options.journal;
    request.journal = entries.journal;
    request.files = entries.files;
    request.photos = entries.photos;
    request.ticks = entries.ticks;
    request.unticks = entries.unticks;
    request.notes = entries.notes;
    request.entry = entries.entry;
    request.corrects = entries.corrects;
    request.remark = entries.remark;
    request.token = entries.token;
    request.typed_at = entries.typed_at;
    request.keep_position = entries.keep_position;
    request.confirmed = entries.confirmed;
    return state_->recorded(job_add(request, writer, &state_->memory));
  });
}

Reply PageSite::undo(const PageUndo& undo, const Writer& writer) {
  const std::scoped_lock lock(state_->mutex);
  return guarded([&] {
    if (auto no = state_->refuse_other(undo.journal)) return std::move(*no);
    return state_->recorded(job_undo(state_->options.journal, undo.entry, undo.remark, writer,
                                     undo.token, undo.journal));
  });
}

Reply PageSite::practice(const PageCommands& commands) {
  // The practice site has a lock of its own; instruments go on asking it meanwhile.
  if (!state_->practice) {
    return {
        .status = Reply::Status::not_there,
        .json = report::print_json({fault_of("practice", "no practice site stands behind this job",
                                             "serve JOB --rehearse DECK")})};
  }
  {
    const std::scoped_lock lock(state_->mutex);
    state_->refresh();
    const units::Diagnostics faults =
        belongs_elsewhere(commands.journal, state_->journal, state_->options.journal);
    if (!faults.empty()) return elsewhere(faults);
  }
  return guarded([&]() -> Reply {
    const PagePracticeSite::Answers answers = state_->practice->command(commands.lines);
    if (!answers.failed.empty()) return failed(answers.failed);
    if (!answers.faults.empty()) return refused(answers.faults);
    return {.status = Reply::Status::done, .json = report::print_practice_json(answers.list)};
  });
}

Reply PageSite::questions() {
  return guarded([]() -> Reply {
    std::vector<report::QuestionView> list;
    for (const Prompt& prompt : all_questions()) {
      list.push_back({.number = prompt.number,
                      .of = prompt.of,
                      .name = prompt.name,
                      .text = prompt.text,
                      .help = prompt.help,
                      .default_answer = prompt.default_answer,
                      .example = prompt.example});
    }
    return {.status = Reply::Status::done, .json = report::print_questions_json(list)};
  });
}

Reply PageSite::draft_deck(const std::string& name, const std::vector<std::string>& answers) {
  return guarded([&]() -> Reply {
    Interview interview(name);
    for (std::size_t i = 0; i < answers.size(); ++i) {
      const std::optional<Prompt> prompt = interview.next();
      if (!prompt) break;
      if (const std::optional<Refusal> no = interview.answer(answers[i])) {
        // Answers that do not go together name the question that has to be answered anew.
        const std::optional<Prompt> again = interview.next();
        const int number = again ? again->number : prompt->number;
        return {
            .status = Reply::Status::refused,
            .json = report::print_question_fault_json(
                fault_of("question " + std::to_string(number), no->what, no->expected), number)};
      }
    }
    if (const std::optional<Prompt> open = interview.next()) {
      return {.status = Reply::Status::refused,
              .json = report::print_question_fault_json(
                  fault_of("question " + std::to_string(open->number), "it was not answered",
                           "an answer, as " + open->example),
                  open->number)};
    }
    return {.status = Reply::Status::done,
            .json = report::print_draft_json("deck.toml", interview.deck_file())};
  });
}

std::vector<std::string> PageSite::answers_at() const {
  return state_->practice ? state_->practice->answers_at() : std::vector<std::string>{};
}

std::string PageSite::live() {
  return state_->live.json();
}

Reply PageSite::connect_instruments() {
  const std::scoped_lock lock(state_->mutex);
  state_->allows_all = true;
  state_->stamp.reset();
  state_->refresh();
  if (state_->site.status != Reply::Status::done) return state_->site;
  return {.status = Reply::Status::done, .json = state_->live.json()};
}

Reply PageSite::paper(const std::string& code, const Writer& now) {
  const auto kind = find_paper(code);
  if (!kind) return {.status = Reply::Status::not_there, .json = {}};
  {
    const std::scoped_lock lock(state_->mutex);
    state_->refresh();
    if (state_->site.status != Reply::Status::done) return state_->site;
  }
  // Reads the file by itself: nobody waits for a drawing.
  return guarded([&]() -> Reply {
    ReportRequest request;
    request.path = state_->options.journal;
    request.kind = *kind;
    request.today = print_local(now.time_ms, now.offset_min);
    ReportAnswer answer = report_case(request);
    if (!answer.paper) return refused(answer.faults);
    // A report that the record does not know would pass for forged later: it is not handed out.
    if (const auto faults = note_written(request.path, *answer.paper, now); !faults.empty()) {
      return {.status = Reply::Status::failed, .json = report::print_json(faults)};
    }
    return {.status = Reply::Status::done,
            .json = std::move(answer.paper->bytes),
            .media = std::move(answer.paper->media),
            .name = std::move(answer.paper->name)};
  });
}

Reply PageSite::exported() {
  const std::scoped_lock lock(state_->mutex);
  state_->refresh();
  if (state_->site.status != Reply::Status::done) return state_->site;
  return guarded([&]() -> Reply {
    journal::Opened opened = journal::Journal::open(state_->options.journal, journal::Access::read);
    if (!opened.journal) return refused(opened.faults);
    std::string text;
    const journal::Exported exported =
        journal::export_text(*opened.journal, [&](std::string_view piece) { text.append(piece); });
    if (!exported.faults.empty()) return refused(exported.faults);
    return {.status = Reply::Status::done, .json = std::move(text)};
  });
}

}  // namespace weighwright::job
