#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <set>
#include <system_error>
#include <utility>
#include <variant>

#include "job/cause_action.h"
#include "job/entry_words.h"
#include "job/implausible.h"
#include "job/job_case.h"
#include "job/job_open.h"
#include "job/report_parts.h"
#include "job/site_advice.h"
#include "job/ticks.h"
#include "journal/entry_hash.h"
#include "journal/journal.h"
#include "record/csv.h"
#include "units/suggestion.h"

namespace weighwright::job {
namespace {

using record::Draft;

constexpr std::string_view kDeckEnding = ".toml";

journal::Identity identity(const Writer& writer) {
  return {.device = writer.device, .author = writer.author};
}

journal::Moment moment(const Writer& writer) {
  return {.time_ms = writer.time_ms, .offset_min = writer.offset_min};
}

bool is_deck(const InputFile& file) {
  return file.name.ends_with(kDeckEnding);
}

/// The name without its directories: what a person knows it by.
std::string base_name(const std::string& path) {
  return path.substr(path.find_last_of("/\\") + 1);
}

std::string media_of(const std::string& name) {
  const std::size_t dot = name.find_last_of('.');
  std::string ending = dot == std::string::npos ? "" : name.substr(dot + 1);
  std::transform(ending.begin(), ending.end(), ending.begin(), [](unsigned char c) {
    return static_cast<char>(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
  });
  if (ending == "jpg" || ending == "jpeg") return "image/jpeg";
  if (ending == "png") return "image/png";
  if (ending == "webp") return "image/webp";
  if (ending == "heic") return "image/heic";
  if (ending == "pdf") return "application/pdf";
  return "application/octet-stream";
}

/// Collects drafts; what can't be recorded is told, all of it at once.
class Drafts {
 public:
  /// @param deck  null: none was described yet
  Drafts(const JobAddRequest& request, const deck::Deck* deck) : request_(request), deck_(deck) {}

  /// As they were given, nothing looked at: to compare with what was recorded before.
  void collect_unread() {
    unread_ = true;
    collect();
    faults.clear();
  }

  void collect() {
    // A deck file among the files is what the tables after it are read with.
    for (const InputFile& file : request_.files) is_deck(file) ? add_deck(file) : add_table(file);
    for (const std::string& name : request_.ticks) add_tick(name, "yes");
    for (const std::string& name : request_.unticks) add_tick(name, "no");
    for (const std::string& text : request_.notes)
      add({.kind = "note", .fields = {{"text", text}}, .corrects = {}});
    if (request_.entry) add_entry(*request_.entry);
  }

  void add_photo(const InputFile& photo, const std::string& hash) {
    add({.kind = "photo",
         .fields = {{"file", base_name(photo.name)},
                    {"media", media_of(photo.name)},
                    {"blake2b", hash},
                    {"size", std::to_string(photo.text.size())}},
         .corrects = {}});
  }

  std::vector<Draft> list;
  units::Diagnostics faults;

  /// Whether something adjusted is to be recorded.
  [[nodiscard]] bool adjusts() const { return moves_; }

 private:
  void add(Draft draft) {
    const record::KindRule* const rule = record::find_kind(draft.kind);
    const bool holds_remark =
        rule != nullptr &&
        std::any_of(rule->fields.begin(), rule->fields.end(),
                    [](const record::FieldRule& one) { return one.name == "remark"; });
    const bool has = !record::field(draft.fields, "remark").empty();
    if (!request_.remark.empty() && holds_remark && !has) {
      draft.fields.emplace_back("remark", request_.remark);
    }
    if (!request_.token.empty()) draft.fields.emplace_back("token", request_.token);
    if (!request_.typed_at.empty()) draft.fields.emplace_back("typed_at", request_.typed_at);
    for (const std::string& fault : record::faults_of(draft)) {
      faults.push_back(argument_fault(fault, "see weighwright job add --help"));
    }
    list.push_back(std::move(draft));
  }

  void add_deck(const InputFile& file) {
    if (!unread_) {
      described_ = load_deck(file);
      faults.insert(faults.end(), described_.faults.begin(), described_.faults.end());
      if (described_.ok()) deck_ = &*described_.deck;
    }
    add({.kind = "deck",
         .fields = {{"file", base_name(file.name)}, {"text", file.text}},
         .corrects = {}});
  }

  void add_table(const InputFile& file) {
    if (unread_) {
      add({.kind = "measurement",
           .fields = {{"file", base_name(file.name)}, {"text", file.text}},
           .corrects = {}});
      return;
    }
    if (deck_ == nullptr) {
      faults.push_back({.file = file.name,
                        .line = 0,
                        .column = 0,
                        .what = "no deck was described yet, so this table can't be read",
                        .expected = "a deck file first: job add JOB deck.toml"});
      return;
    }
    const record::ParsedMeasurement parsed =
        record::parse_measurement(file.text, file.name, static_cast<int>(deck_->sections.size()),
                                  static_cast<int>(deck_->joints.size()));
    faults.insert(faults.end(), parsed.faults.begin(), parsed.faults.end());
    if (!parsed.value) return;
    const units::Diagnostics odd = implausible(*deck_, *parsed.value, file.name);
    faults.insert(faults.end(), odd.begin(), odd.end());
    moves_ |= std::holds_alternative<record::TurnSet>(*parsed.value) ||
              std::holds_alternative<record::TrimSet>(*parsed.value);
    add({.kind = "measurement",
         .fields = {{"file", base_name(file.name)}, {"text", file.text}},
         .corrects = {}});
  }

  void add_tick(const std::string& name, const std::string& on) {
    if (find_tick(name) == nullptr) {
      std::vector<std::string_view> names;
      std::string list_of_names;
      for (const TickRule& rule : ticks()) {
        names.push_back(rule.name);
        list_of_names += (list_of_names.empty() ? "" : ", ") + std::string(rule.name);
      }
      const auto near = units::nearest(name, names);
      faults.push_back(
          argument_fault("nothing to tick is called " + units::quote(name),
                         near ? "did you mean " + *near + "?" : "one of " + list_of_names));
      return;
    }
    const bool told = name == "mended" || name == "balance_accepted" || name == "nothing_found";
    if (told && on == "yes" && request_.remark.empty()) {
      faults.push_back(
          argument_fault(name + ": nothing says what or why",
                         "--remark with what was found and done, or why it is accepted"));
    }
    add({.kind = "tick", .fields = {{"name", name}, {"on", on}}, .corrects = {}});
  }

  void add_entry(const Draft& draft) {
    if (draft.kind == "deck" || draft.kind == "measurement" || draft.kind == "photo") {
      faults.push_back(argument_fault("an entry " + draft.kind + " comes from a file",
                                      "the file's name: job add JOB FILE"));
      return;
    }
    if (draft.kind == "undo") {
      faults.push_back(argument_fault("an undo is a command of its own", "job undo JOB ENTRY"));
      return;
    }
    if (draft.kind == "tick") {
      faults.push_back(argument_fault("a tick has an option of its own", "--tick NAME"));
      return;
    }
    const std::string stand(record::field(draft.fields, "stand"));
    const auto label = units::parse_stand(stand);
    if (label && deck_ != nullptr && label->value >= deck_->stand_count()) {
      faults.push_back(argument_fault("there is no stand " + units::quote(stand) + " on this deck",
                                      "a stand as 2L"));
    }
    const bool span = draft.kind == "setting" && record::field(draft.fields, "name") == "span";
    moves_ |= span && record::field(draft.fields, "when") == "left";
    add(draft);
  }

  const JobAddRequest& request_;
  bool unread_ = false;
  bool moves_ = false;
  const deck::Deck* deck_;
  LoadedDeck described_;
};

/// A number is given once; a report that replaces another names one that was issued, and says why.
units::Diagnostics report_faults(const SiteState& state, const std::vector<record::Draft>& drafts) {
  std::set<std::string> issued;
  for (const int line : state.reports) {
    issued.emplace(record::field(state.history.words(line).fields, "number"));
  }
  units::Diagnostics faults;
  for (const record::Draft& draft : drafts) {
    if (draft.kind != "report_issued") continue;
    const std::string number(record::field(draft.fields, "number"));
    const std::string old(record::field(draft.fields, "replaces"));
    if (issued.contains(number)) {
      faults.push_back(argument_fault("report " + units::quote(number) + " was issued already",
                                      "a number of its own, with replaces= and reason="));
    }
    if (!old.empty() && !issued.contains(old)) {
      faults.push_back(argument_fault("no report " + units::quote(old) + " was issued here",
                                      "the number of a report that this one replaces"));
    }
    if (!old.empty() && record::field(draft.fields, "reason").empty()) {
      faults.push_back(argument_fault("a report is replaced without a reason",
                                      "reason=..., which is printed on the new one"));
    }
  }
  return faults;
}

/// What a technician must know at once of what was just recorded.
std::vector<std::string> warnings_of(const SiteState& state,
                                     const std::vector<record::Entry>& entries) {
  std::vector<std::string> warnings;
  for (const record::Entry& entry : entries) {
    const auto line = state.history.line_of_hash.find(entry.hash);
    if (line == state.history.line_of_hash.end()) continue;
    const auto& loads = state.loads_on_ungrouted;
    if (std::find(loads.begin(), loads.end(), line->second) != loads.end()) {
      warnings.push_back(
          fmt::format("Entry {}: a load stood on a deck whose grout is not ticked cured. Take it "
                      "off; look at plates, "
                      "stands and restraints before anything else. No load comes onto a deck that "
                      "is not fixed.",
                      line->second + 1));
    }
  }
  return warnings;
}

/// `settled` and `corrects` name entries as people do; the journal keeps hashes.
units::Diagnostics resolve(const History& history,
                           const std::string& corrects,
                           std::vector<Draft>& drafts) {
  units::Diagnostics faults;
  const auto hash_of = [&](const std::string& typed) -> std::string {
    const FoundLine found = find_line(history, typed);
    if (found.line) return history.lines[static_cast<std::size_t>(*found.line)].entry.hash;
    faults.push_back(found.fault);
    return "";
  };
  for (Draft& draft : drafts) {
    if (draft.kind != "settled") continue;
    for (auto& [name, value] : draft.fields) {
      if (name == "of" || name == "with") value = hash_of(value);
    }
  }
  if (corrects.empty()) return faults;
  if (drafts.size() != 1) {
    faults.push_back(argument_fault("a correction stands in the place of one entry",
                                    "one file, tick, note or entry with --corrects"));
    return faults;
  }
  drafts.front().corrects = hash_of(corrects);
  const auto found = history.line_of_hash.find(drafts.front().corrects);
  if (found != history.line_of_hash.end() &&
      history.words(found->second).kind != drafts.front().kind) {
    faults.push_back(argument_fault("entry " + units::quote(corrects) + " is a " +
                                        history.words(found->second).kind + ", not a " +
                                        drafts.front().kind,
                                    "the same kind of thing; or job undo, and record it anew"));
  }
  return faults;
}

/// An adjustment while a fault is open, or a damaged file, is recorded all the same, and told.
void warn_of_state(const SiteState& before,
                   bool adjusts,
                   diagnose::MeterMemory* memory,
                   report::RecordedView& view) {
  const bool damaged = std::any_of(before.history.lines.begin(), before.history.lines.end(),
                                   [](const Line& line) { return line.fate == Fate::damaged; });
  if (damaged) {
    view.warnings.emplace_back(
        "This journal is damaged (job verify names what); what was recorded now is whole.");
  }
  if (!adjusts || !before.deck) return;
  const SiteAdvice advice = advise_site(before, memory);
  if (!advice.diagnosis || !advice.diagnosis->hold) return;
  view.warnings.push_back("Something was adjusted while a fault was open. " +
                          cause_sentence(*before.deck->deck, *advice.diagnosis));
}

JobAnswer<report::RecordedView> refused(units::Diagnostics faults) {
  return {.view = {}, .faults = std::move(faults)};
}

/// Entries that were recorded with this token, in order.
std::vector<record::Entry> recorded_with(const History& history, const std::string& token) {
  std::vector<record::Entry> list;
  if (token.empty()) return list;
  for (const Line& line : history.lines) {
    if (record::field(line.entry.what.fields, "token") == token) list.push_back(line.entry);
  }
  return list;
}

/// Whether this request is what was recorded then. Nothing is looked at again: the deck may be
/// another by now. Entries that `settled` names stand as hashes there, and are not compared.
bool same_again(const History& history,
                const std::vector<record::Entry>& then,
                const JobAddRequest& request) {
  std::string corrects;
  if (!request.corrects.empty()) {
    const FoundLine meant = find_line(history, request.corrects);
    if (!meant.line) return false;
    corrects = history.lines[static_cast<std::size_t>(*meant.line)].entry.hash;
  }
  Drafts drafts(request, nullptr);
  drafts.collect_unread();
  for (const InputFile& photo : request.photos) {
    drafts.add_photo(photo, journal::print_hex(journal::attachment_hash(photo.text)));
  }
  return std::equal(then.begin(), then.end(), drafts.list.begin(), drafts.list.end(),
                    [&](const record::Entry& entry, const Draft& draft) {
                      const bool named = draft.kind == "settled";
                      return entry.what.kind == draft.kind &&
                             (named || entry.what.fields == draft.fields) &&
                             entry.what.corrects == corrects;
                    });
}

units::Diagnostic token_taken(const std::string& token) {
  return {.file = "token",
          .line = 0,
          .column = 0,
          .what = "something else was recorded with the token " + units::quote(token),
          .expected = "a token of its own for everything that is to be recorded"};
}

JobAnswer<report::RecordedView> recorded_before(journal::Journal& journal,
                                                const std::vector<record::Entry>& then) {
  report::RecordedView view = recorded_view(journal, then);
  view.sentences.emplace_back("This was recorded before; nothing was recorded again.");
  return {.view = std::move(view), .faults = {}};
}

/// A journal that was made just now and holds nothing.
void discard(journal::Opened& opened, const std::string& path) {
  opened.journal.reset();
  std::error_code ignored;
  for (const char* const ending : {"", "-wal", "-shm"}) {
    std::filesystem::remove(path + ending, ignored);
  }
}

}  // namespace

JobAnswer<report::RecordedView> job_new(const JobNewRequest& request, const Writer& writer) {
  std::vector<Draft> drafts = {{.kind = "visit",
                                .fields = {{"reason", request.service ? "service" : "install"}},
                                .corrects = {}}};
  if (!request.remark.empty()) drafts.front().fields.emplace_back("remark", request.remark);
  if (request.deck) {
    JobAddRequest add;
    add.files = {*request.deck};
    if (!is_deck(*request.deck)) {
      return refused({argument_fault(units::quote(request.deck->name) + " is no deck file",
                                     "a file that ends in .toml: weighwright new writes one")});
    }
    Drafts described(add, nullptr);
    described.collect();
    if (!described.faults.empty()) return refused(std::move(described.faults));
    drafts.insert(drafts.end(), described.list.begin(), described.list.end());
  }
  std::error_code ignored;
  const bool was_there = std::filesystem::exists(request.path, ignored) || ignored;
  journal::Opened opened;
  try {
    opened = journal::Journal::create(request.path);
    if (!opened.journal) return refused(std::move(opened.faults));
    journal::Appended appended = opened.journal->append(identity(writer), drafts, moment(writer));
    if (appended.faults.empty()) {
      return {.view = recorded_view(*opened.journal, appended.entries), .faults = {}};
    }
    discard(opened, request.path);
    return refused(std::move(appended.faults));
  } catch (const journal::StorageFailure& failure) {
    // Only what was made just now and certainly holds nothing is taken away again.
    const bool empty = failure.outcome() == journal::Outcome::not_recorded;
    if (!was_there && empty) discard(opened, request.path);
    throw;
  }
}

JobAnswer<report::RecordedView> job_add(const JobAddRequest& request,
                                        const Writer& writer,
                                        diagnose::MeterMemory* memory) {
  journal::Opened opened = journal::Journal::open(request.path, journal::Access::write);
  if (!opened.journal) return refused(std::move(opened.faults));
  const SiteState state = site_state_of(kept_entries(*opened.journal));
  if (const auto then = recorded_with(state.history, request.token); !then.empty()) {
    if (same_again(state.history, then, request)) return recorded_before(*opened.journal, then);
    return refused({token_taken(request.token)});
  }
  Drafts drafts(request, state.deck ? &*state.deck->deck : nullptr);
  drafts.collect();
  for (const InputFile& photo : request.photos) {
    drafts.add_photo(photo, journal::print_hex(journal::attachment_hash(photo.text)));
  }
  if (drafts.list.empty() && drafts.faults.empty()) {
    drafts.faults.push_back(
        argument_fault("nothing to record was given", "a file, --tick, --note or --entry"));
  }
  if (drafts.faults.empty()) drafts.faults = report_faults(state, drafts.list);
  if (drafts.faults.empty()) {
    drafts.faults = resolve(state.history, request.corrects, drafts.list);
  }
  if (!drafts.faults.empty()) return refused(std::move(drafts.faults));

  // The bytes first: an entry never names what is not there.
  for (const InputFile& photo : request.photos) (void)opened.journal->attach(photo.text);
  journal::Appended appended =
      opened.journal->append(identity(writer), drafts.list, moment(writer));
  if (!appended.faults.empty()) return refused(std::move(appended.faults));
  report::RecordedView view = recorded_view(*opened.journal, appended.entries);
  view.photos = static_cast<int>(request.photos.size());
  view.warnings = warnings_of(site_state_of(kept_entries(*opened.journal)), appended.entries);
  warn_of_state(state, drafts.adjusts(), memory, view);
  return {.view = std::move(view), .faults = {}};
}

JobAnswer<report::RecordedView> job_undo(const std::string& path,
                                         const std::string& entry,
                                         const std::string& remark,
                                         const Writer& writer,
                                         const std::string& token) {
  journal::Opened opened = journal::Journal::open(path, journal::Access::write);
  if (!opened.journal) return refused(std::move(opened.faults));
  const History history = history_of(kept_entries(*opened.journal));
  if (const auto then = recorded_with(history, token); !then.empty()) {
    bool same = then.size() == 1 && then.front().what.kind == "undo";
    if (same && !entry.empty()) {
      const FoundLine meant = find_line(history, entry);
      same = meant.line && history.lines[static_cast<std::size_t>(*meant.line)].entry.hash ==
                               record::field(then.front().what.fields, "of");
    }
    return same ? recorded_before(*opened.journal, then) : refused({token_taken(token)});
  }
  int line = -1;
  if (!entry.empty()) {
    const FoundLine found = find_line(history, entry);
    if (!found.line) return refused({found.fault});
    line = *found.line;
  } else {
    for (int i = static_cast<int>(history.lines.size()) - 1; i >= 0 && line < 0; --i) {
      const Line& one = history.lines[static_cast<std::size_t>(i)];
      const bool own =
          one.fate == Fate::holds || one.fate == Fate::corrected || one.fate == Fate::correction;
      if (own && one.entry.what.kind != "undo") line = i;
    }
    if (line < 0)
      return refused({argument_fault("there is nothing to undo", "an entry that counts")});
  }
  const Line& target = history.lines[static_cast<std::size_t>(line)];
  if (target.fate == Fate::undone) {
    return refused({argument_fault(
        fmt::format("entry {} is undone already, by entry {}", line + 1, target.by.back() + 1),
        fmt::format("an entry that counts; job undo JOB {} brings it back",
                    target.by.back() + 1))});
  }
  Draft undo{.kind = "undo", .fields = {{"of", target.entry.hash}}, .corrects = {}};
  if (!remark.empty()) undo.fields.emplace_back("remark", remark);
  if (!token.empty()) undo.fields.emplace_back("token", token);
  journal::Appended appended = opened.journal->append(identity(writer), {undo}, moment(writer));
  if (!appended.faults.empty()) return refused(std::move(appended.faults));
  report::RecordedView view = recorded_view(*opened.journal, appended.entries);
  view.sentences.push_back(fmt::format(
      "Entry {} does not count any more. It stays in the journal; job undo {} {} brings it back.",
      line + 1, path, history.lines.size() + 1));
  return {.view = std::move(view), .faults = {}};
}

}  // namespace weighwright::job
