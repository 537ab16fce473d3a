#include "cli/job_verbs.h"

#include <algorithm>
#include <array>
#include <filesystem>
#include <fstream>
#include <ostream>
#include <string_view>

#include "cli/file_text.h"
#include "cli/known_devices.h"
#include "cli/writer.h"
#include "job/job_case.h"
#include "report/job_view.h"

namespace weighwright::cli {
namespace {

constexpr int kEntriesShown = 12;
constexpr std::size_t kLargestPhoto_bytes = 20'000'000;
constexpr std::size_t kLargestPaper_bytes = 100'000'000;

bool is_photo(const std::string& path) {
  constexpr std::array<std::string_view, 6> kEndings = {".jpg",  ".jpeg", ".png",
                                                        ".webp", ".heic", ".pdf"};
  return std::any_of(kEndings.begin(), kEndings.end(), [&](std::string_view ending) {
    if (path.size() < ending.size()) return false;
    return std::equal(
        ending.begin(), ending.end(), path.end() - static_cast<long>(ending.size()),
        [](char a, char b) { return a == (b >= 'A' && b <= 'Z' ? b - 'A' + 'a' : b); });
  });
}

int wrong_input(const units::Diagnostics& faults, bool json, Streams streams) {
  print_faults(faults, json, streams);
  return kWrongInput;
}

template <class View>
int answer(const job::JobAnswer<View>& answered, bool json, Streams streams) {
  if (!answered.view) return wrong_input(answered.faults, json, streams);
  streams.out << (json ? report::print_json(*answered.view) : report::draw_text(*answered.view));
  for (const auto& conflict : answered.view->conflicts) {
    if (!conflict.settled && json) streams.err << conflict.sentence << '\n';
  }
  return kDone;
}

struct Inputs {
  std::vector<job::InputFile> files;
  std::vector<job::InputFile> photos;
  record::Fields fields;
  units::Diagnostics faults;
};

/// name=value, when the entry takes such.
std::optional<std::pair<std::string, std::string>> assignment(const std::string& text) {
  const std::size_t equals = text.find('=');
  if (equals == std::string::npos || equals == 0) return {};
  const std::string name = text.substr(0, equals);
  if (name.find_first_not_of("abcdefghijklmnopqrstuvwxyzCDP_0123456789") != std::string::npos) {
    return {};
  }
  return std::pair{name, text.substr(equals + 1)};
}

Inputs read_inputs(const JobVerb& verb, Streams streams) {
  Inputs inputs;
  int pipes = 0;
  for (const std::string& path : verb.files) {
    const auto field = verb.entry ? assignment(path) : std::nullopt;
    if (field) {
      inputs.fields.push_back(*field);
      continue;
    }
    if (path == "-" && ++pipes > 1) {
      inputs.faults.push_back({.file = "command line",
                               .line = 0,
                               .column = 0,
                               .what = "- (standard input) is named twice",
                               .expected = "one input from a pipe"});
      continue;
    }
    const bool photo = is_photo(path);
    FileText read = photo ? read_file_text(path, streams.in, kLargestPhoto_bytes)
                          : read_file_text(path, streams.in);
    if (!read.text) {
      inputs.faults.push_back(std::move(read.fault));
      continue;
    }
    (photo ? inputs.photos : inputs.files)
        .push_back({.name = name_of_input(path), .text = std::move(*read.text)});
  }
  return inputs;
}

int run_new(const JobVerb& verb, Streams streams) {
  Inputs inputs = read_inputs(verb, streams);
  if (!inputs.faults.empty()) return wrong_input(inputs.faults, verb.json, streams);
  job::JobNewRequest request{
      .path = verb.job, .deck = {}, .service = verb.service, .remark = verb.remark};
  if (!inputs.files.empty()) request.deck = std::move(inputs.files.front());
  return answer(job::job_new(request, writer_now(verb.author)), verb.json, streams);
}

int run_add(const JobVerb& verb, Streams streams) {
  Inputs inputs = read_inputs(verb, streams);
  if (!inputs.faults.empty()) return wrong_input(inputs.faults, verb.json, streams);
  job::JobAddRequest request{.path = verb.job,
                             .files = std::move(inputs.files),
                             .photos = std::move(inputs.photos),
                             .ticks = verb.ticks,
                             .unticks = verb.unticks,
                             .notes = verb.notes,
                             .entry = {},
                             .corrects = verb.corrects.value_or(""),
                             .remark = verb.remark,
                             .keep_position = verb.keep_position,
                             .confirmed = verb.confirmed};
  if (verb.entry) {
    request.entry = record::Draft{.kind = *verb.entry, .fields = inputs.fields, .corrects = {}};
  }
  const auto added = job::job_add(request, writer_now(verb.author));
  const int code = answer(added, verb.json, streams);
  if (added.denial == job::Denial::unconfirmed) {
    streams.err << "Nothing was recorded. --confirmed records it as it is.\n";
  }
  return code;
}

/// The moves that are advised, as a table.
int write_table(const JobVerb& verb, const std::string& table, Streams streams) {
  const auto fault = [&](std::string what, std::string expected) {
    return units::Diagnostics{{.file = *verb.table,
                               .line = 0,
                               .column = 0,
                               .what = std::move(what),
                               .expected = std::move(expected)}};
  };
  if (table.empty()) {
    return wrong_input(fault("nothing is to be turned or set now, so there is no table",
                             "job next without --table"),
                       verb.json, streams);
  }
  if (std::filesystem::exists(*verb.table) && !verb.force) {
    return wrong_input(fault("the file is there already", "a new name, or --force"), verb.json,
                       streams);
  }
  std::ofstream file(*verb.table, std::ios::binary | std::ios::trunc);
  file << table;
  file.close();
  if (file) return kDone;
  print_faults(fault("the file could not be written", "a place with room"), verb.json, streams);
  return kMachineFailed;
}

int run_look(const JobVerb& verb, Streams streams) {
  const job::JobAnswer<report::JobView> look = job::job_look(verb.job, verb.what == JobDo::show);
  if (!look.view) return wrong_input(look.faults, verb.json, streams);
  if (verb.table) {
    const int code = write_table(verb, look.view->next.table, streams);
    if (code != kDone) return code;
  }
  if (verb.what == JobDo::next) {
    streams.out << (verb.json ? report::print_next_json(*look.view)
                              : report::draw_next(*look.view));
  } else {
    streams.out << (verb.json ? report::print_show_json(*look.view)
                              : report::draw_show(*look.view, verb.all ? -1 : kEntriesShown));
  }
  return look.view->whole ? kDone : kNo;
}

int run_verify(const JobVerb& verb, Streams streams) {
  std::optional<job::InputFile> paper;
  if (verb.paper) {
    FileText read = read_file_text(*verb.paper, streams.in, kLargestPaper_bytes);
    if (!read.text) return wrong_input({std::move(read.fault)}, verb.json, streams);
    paper = job::InputFile{.name = name_of_input(*verb.paper), .text = std::move(*read.text)};
  }
  const job::JobAnswer<report::VerifyView> verified =
      job::job_verify(verb.job, verb.heads, verb.against, paper);
  if (!verified.view) return wrong_input(verified.faults, verb.json, streams);
  streams.out << (verb.json ? report::print_json(*verified.view)
                            : report::draw_text(*verified.view));
  const bool issued = !verified.view->paper || verified.view->paper->issued;
  return verified.view->whole && issued ? kDone : kNo;
}

/// Something that comes in from another file: this machine says how well it knows the devices, and
/// knows them from then on.
template <class Case>
int run_bring_in(const JobVerb& verb, Streams streams, Case bring_in) {
  const auto brought = bring_in(verb.job, verb.other, writer_now(verb.author), known_devices());
  if (brought.view) remember_devices(brought.view->chains);
  return answer(brought, verb.json, streams);
}

}  // namespace

int run_job(const JobVerb& verb, Streams streams) {
  switch (verb.what) {
    case JobDo::fresh:
      return run_new(verb, streams);
    case JobDo::add:
      return run_add(verb, streams);
    case JobDo::show:
    case JobDo::next:
      return run_look(verb, streams);
    case JobDo::undo:
      return answer(job::job_undo(verb.job, verb.other, verb.remark, writer_now(verb.author)),
                    verb.json, streams);
    case JobDo::verify:
      return run_verify(verb, streams);
    case JobDo::merge:
      return run_bring_in(verb, streams, job::job_merge);
    case JobDo::export_:
      return answer(job::job_export(verb.job, verb.other), verb.json, streams);
    case JobDo::import_:
      return run_bring_in(verb, streams, job::job_import);
    case JobDo::backup:
      return answer(job::job_backup(verb.job, verb.other), verb.json, streams);
    case JobDo::rescue:
      return answer(job::job_rescue(verb.job, verb.other), verb.json, streams);
  }
  return kWrongInput;
}

}  // namespace weighwright::cli
