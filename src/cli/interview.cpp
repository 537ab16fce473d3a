#include "cli/interview.h"

#include <filesystem>
#include <fstream>
#include <istream>
#include <ostream>
#include <sstream>
#include <string>

#include "cli/file_text.h"
#include "job/interview.h"

namespace weighwright::cli {
namespace {

units::Diagnostic fault(const std::string& file, int line, std::string what, std::string expected) {
  return {.file = file,
          .line = line,
          .column = line > 0 ? 1 : 0,
          .what = std::move(what),
          .expected = std::move(expected)};
}

int refuse(const units::Diagnostic& diagnostic, const Streams& streams, int code = kWrongInput) {
  print_faults({diagnostic}, false, streams);
  return code;
}

/// Where answers come from: a terminal, where questions are shown and asked again, or a list.
struct Source {
  std::istream& in;
  std::string name;
  bool asks = false;
};

/// Questions go to stderr: standard output may be the deck file.
void ask(const job::Prompt& prompt, std::ostream& out) {
  out << '\n' << prompt.number << " of " << prompt.of << ". " << prompt.text << '\n';
  std::istringstream help(prompt.help);
  for (std::string line; std::getline(help, line);) out << "     " << line << '\n';
  if (!prompt.example.empty()) out << "     for example: " << prompt.example << '\n';
  if (!prompt.default_answer.empty())
    out << "     nothing means: " << prompt.default_answer << '\n';
  out << "> " << std::flush;
}

std::string without_return(std::string line) {
  if (!line.empty() && line.back() == '\r') line.pop_back();
  return line;
}

/// @return the deck file, or the exit code of what stopped it
struct Told {
  std::string deck_file;
  int code = kDone;
};

/// Lines of a list that begin with # are not answers; on a terminal there are no such lines.
bool read_answer(const Source& source, std::string& answer, int& line) {
  while (std::getline(source.in, answer)) {
    ++line;
    answer = without_return(std::move(answer));
    if (source.asks || answer.empty() || answer.front() != '#') return true;
  }
  return false;
}

Told hold(const std::string& name, const Source& source, const Streams& streams) {
  job::Interview interview(name);
  int line = 0;
  while (const auto prompt = interview.next()) {
    if (source.asks) ask(*prompt, streams.err);
    std::string answer;
    if (!read_answer(source, answer, line)) {
      return {.deck_file = {},
              .code = refuse(fault(source.name, line,
                                   "the answers end before \"" + prompt->name + "\"", prompt->text),
                             streams)};
    }
    const auto refusal = interview.answer(answer);
    if (!refusal) continue;
    if (!source.asks) {
      return {.deck_file = {},
              .code = refuse(
                  fault(source.name, line, prompt->name + ": " + refusal->what, refusal->expected),
                  streams)};
    }
    streams.err << "  That won't do: " << refusal->what << "; " << refusal->expected << '\n';
  }
  return {.deck_file = interview.deck_file(), .code = kDone};
}

int write(const NewVerb& verb, const std::string& deck_file, const Streams& streams) {
  if (verb.file.empty()) {
    streams.out << deck_file;
    return kDone;
  }
  std::ofstream file(verb.file, std::ios::binary | std::ios::trunc);
  file << deck_file;
  file.close();
  if (!file) {
    return refuse(
        fault(verb.file, 0, "the file could not be written", "a place that you may write to"),
        streams, kMachineFailed);
  }
  streams.err << "written: " << verb.file << "; next: weighwright check " << verb.file << '\n';
  return kDone;
}

}  // namespace

int run_interview(const NewVerb& verb, Streams streams) {
  // Before the first question: nobody should answer eight and then be refused.
  if (!verb.file.empty() && std::filesystem::exists(verb.file) && !verb.force) {
    return refuse(fault(verb.file, 0, "the file is there already", "a new name, or --force"),
                  streams);
  }
  Told told;
  if (verb.answers) {
    FileText text = read_file_text(*verb.answers, streams.in);
    if (!text.text) return refuse(text.fault, streams);
    std::istringstream answers(*text.text);
    told = hold(verb.name, {.in = answers, .name = name_of_input(*verb.answers), .asks = false},
                streams);
  } else {
    told =
        hold(verb.name,
             {.in = streams.in, .name = "standard input", .asks = streams.in_is_terminal}, streams);
  }
  if (told.code != kDone) return told.code;
  return write(verb, told.deck_file, streams);
}

}  // namespace weighwright::cli
