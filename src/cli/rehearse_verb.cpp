#include "cli/rehearse_verb.h"

#include <algorithm>
#include <filesystem>
#include <istream>
#include <ostream>
#include <system_error>

#include "cli/file_text.h"
#include "job/page_practice.h"
#include "job/rehearse_case.h"
#include "job/replace_file.h"
#include "report/rehearse_view.h"

namespace weighwright::cli {
namespace {

using job::InputFile;
using job::Rehearsal;
using job::RehearseAnswer;

units::Diagnostic fault_of(const std::string& file, std::string what, std::string expected) {
  return {.file = file,
          .line = 0,
          .column = 0,
          .what = std::move(what),
          .expected = std::move(expected)};
}

std::string drawn(const report::RehearseView& view, bool json) {
  return json ? report::print_json(view) : report::draw_text(view);
}

/// A command with the file that it names.
RehearseAnswer ask(Rehearsal& site, const std::string& line, bool piped, Streams streams) {
  const auto path = Rehearsal::file_of(line);
  if (!path) return site.command(line);
  if (*path == "-" && piped) {
    return {.view = {},
            .faults = {fault_of("command", "commands come from standard input already",
                                "the name of a file")}};
  }
  FileText file = read_file_text(*path, streams.in);
  if (!file.text) return {.view = {}, .faults = {std::move(file.fault)}};
  return site.command(line, InputFile{.name = name_of_input(*path), .text = std::move(*file.text)});
}

int wrong(const units::Diagnostics& faults, bool json, Streams streams) {
  print_faults(faults, json, streams);
  return kWrongInput;
}

/// Line by line until the end; each answer ends with a blank line and leaves at once.
int talk(Rehearsal& site, const RehearseVerb& verb, Streams streams) {
  bool refused = false;
  std::string line;
  while (streams.out && std::getline(streams.in, line)) {
    const RehearseAnswer answer = ask(site, line, true, streams);
    if (answer.view) streams.out << drawn(*answer.view, verb.json) << '\n' << std::flush;
    if (answer.faults.empty()) continue;
    refused = true;
    for (const units::Diagnostic& fault : answer.faults) {
      streams.out << (verb.json ? report::print_refusal_json(fault) : report::draw_refusal(fault));
    }
    streams.out << '\n' << std::flush;
  }
  return refused ? kWrongInput : kDone;
}

/// What a new site begins with.
std::vector<std::string> first_of(const RehearseVerb& verb) {
  std::vector<std::string> first;
  if (verb.left_right) first.emplace_back("left-right");
  for (const std::string& fault : verb.faults) first.push_back("fault " + fault);
  return first;
}

/// The same with instruments that answer. "stay 2L 10 t" and "drive-off" let them see a load.
int talk_wired(const RehearseVerb& verb, const InputFile& deck, Streams streams) {
  const job::PagePracticeSite::Opened opened = job::PagePracticeSite::open(
      {.deck = deck, .seed = verb.seed.value_or(1), .site_file = verb.site.value_or("")}, true,
      first_of(verb));
  if (!opened.site) return wrong(opened.faults, verb.json, streams);
  streams.err << "Instruments of this practice site answer, as long as it is talked to:\n";
  for (const std::string& one : opened.site->answers_at()) streams.err << "  " << one << '\n';
  streams.err << std::flush;
  bool refused = false;
  std::string line;
  while (streams.out && std::getline(streams.in, line)) {
    const job::PagePracticeSite::Answers answers = opened.site->command({line});
    for (const report::RehearseView& view : answers.list) {
      streams.out << drawn(view, verb.json) << '\n' << std::flush;
    }
    if (!answers.failed.empty()) {
      print_faults({fault_of(*verb.site, answers.failed, "a place that can be written")}, verb.json,
                   streams);
      return kMachineFailed;
    }
    if (answers.faults.empty()) continue;
    refused = true;
    for (const units::Diagnostic& fault : answers.faults) {
      streams.out << (verb.json ? report::print_refusal_json(fault) : report::draw_refusal(fault));
    }
    streams.out << '\n' << std::flush;
  }
  return refused ? kWrongInput : kDone;
}

std::string joined(const std::vector<std::string>& words) {
  std::string line;
  for (const std::string& word : words) line += (line.empty() ? "" : " ") + word;
  return line;
}

job::BegunRehearsal open_site(const RehearseVerb& verb, const InputFile& deck, Streams streams) {
  if (!verb.site || !std::filesystem::exists(*verb.site)) {
    return job::begin_rehearsal(deck, verb.seed.value_or(1), first_of(verb));
  }
  if (verb.seed || verb.left_right || !verb.faults.empty()) {
    return {
        .site = {},
        .faults = {fault_of(*verb.site,
                            "this practice site has begun: --seed, --fault and --left-right are "
                            "for a new one",
                            "the commands fault and left-right, or a new file name")}};
  }
  FileText kept = read_file_text(*verb.site, streams.in);
  if (!kept.text) return {.site = {}, .faults = {std::move(kept.fault)}};
  return job::resume_rehearsal({.name = *verb.site, .text = std::move(*kept.text)}, deck);
}

}  // namespace

int run_rehearse(const RehearseVerb& verb, Streams streams) {
  const std::string line = joined(verb.command);
  FileText deck_text = read_file_text(verb.deck, streams.in);
  if (!deck_text.text) return wrong({deck_text.fault}, verb.json, streams);
  if (verb.deck == "-" && line.empty()) {
    return wrong({fault_of("command line",
                           "the deck comes from standard input, and so would the "
                           "commands",
                           "the deck from a file, or a COMMAND")},
                 verb.json, streams);
  }
  const InputFile deck{.name = name_of_input(verb.deck), .text = std::move(*deck_text.text)};
  if (verb.wired) {
    if (line.empty()) return talk_wired(verb, deck, streams);
    return wrong({fault_of("command line", "--wired with one command: nobody could read in time",
                           "commands from standard input")},
                 verb.json, streams);
  }
  job::BegunRehearsal begun = open_site(verb, deck, streams);
  if (!begun.site) return wrong(begun.faults, verb.json, streams);
  Rehearsal& site = *begun.site;
  if (line.empty() && !verb.site) return talk(site, verb, streams);

  const RehearseAnswer answer = ask(site, line.empty() ? "state" : line, false, streams);
  if (!answer.view) return wrong(answer.faults, verb.json, streams);
  if (verb.site) {
    const std::string failed = job::replace_file(*verb.site, site.kept());
    if (!failed.empty()) {
      print_faults({fault_of(*verb.site, failed, "a place that can be written; nothing was done")},
                   verb.json, streams);
      return kMachineFailed;
    }
  }
  streams.out << drawn(*answer.view, verb.json);
  return kDone;
}

}  // namespace weighwright::cli
