#pragma once
/// What was asked for on the command line, as values.

#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "cli/job_request.h"
#include "units/diagnostic.h"

namespace weighwright::cli {

struct NewVerb {
  std::string file;                    // empty: standard output
  std::string name;                    // of the deck; empty: not given
  std::optional<std::string> answers;  // file with one answer a line
  bool force = false;                  // overwrite
};

struct CheckVerb {
  std::string deck;
  bool rules_list = false;           // the rulebook as a check list, in place of the deck
  std::optional<std::string> rules;  // a variant of it
  bool json = false;
};

struct PredictVerb {
  std::string deck;
  std::optional<std::string> heights;
  std::vector<std::string> loads;
  std::optional<std::string> jack;
  bool brief = false;
  bool json = false;
};

enum class Sheet { none, text, html };

struct ShareVerb {
  std::string deck;
  std::vector<std::string> files;
  bool map_proven = false;
  Sheet sheet = Sheet::none;
  std::optional<std::string> out;
  bool force = false;
  bool json = false;
};

struct LevelVerb {
  std::string deck;
  std::string stand;
  std::string along;
  std::string across;
  std::optional<std::string> raise;
  bool json = false;
};

struct TrimVerb {
  std::string deck;
  std::vector<std::string> files;
  bool plan = false;                     // which placements are worth making
  std::optional<std::string> load;       // plan: "10 t"
  std::optional<std::string> footprint;  // plan: a [[footprint]] of the deck file
  std::optional<std::string> within;     // plan: standard uncertainty of a trim
  bool json = false;
};

struct SpanVerb {
  std::string deck;
  std::vector<std::string> files;
  bool shared = false;   // the user says that the dead load is shared
  bool trimmed = false;  // and that the corners agree
  std::optional<std::string> adjusted_at;
  bool json = false;
};

struct SignalVerb {
  std::string deck;
  std::optional<std::string> forces;
  std::optional<std::string> resistances;
  bool json = false;
};

struct DiagnoseVerb {
  std::string deck;
  std::vector<std::string> files;
  std::vector<std::string> before;  // of an earlier visit, when all was right
  bool grouted = false;
  bool json = false;
};

struct RehearseVerb {
  std::string deck;
  std::optional<std::uint64_t> seed;
  std::vector<std::string> faults;  // "CODE PLACE", each
  bool left_right = false;
  std::optional<std::string> site;   // file that keeps the practice site
  std::vector<std::string> command;  // its words; empty: lines from standard input
  bool wired = false;                // instruments answer over the network while it is talked to
  bool json = false;
};

struct ServeVerb {
  std::string job;
  std::optional<int> port;
  bool lan = false;
  std::optional<std::string> rehearse;  // deck file of a practice site
  std::optional<std::uint64_t> seed;
  std::string author;
  std::optional<std::string> page;  // folder of the page
  bool no_live = false;
  bool connect = false;  // to the instruments that the deck names at the start, whoever typed it
};

struct PlanVerb {
  std::string deck;
  std::optional<std::string> weights;
  std::string occasion;
  std::optional<std::string> rules;
  std::optional<std::string> date;
  bool supports = false;
  bool required_only = false;
  std::optional<std::string> axle;
  std::optional<std::string> repeatability;
  std::optional<std::string> table;
  std::optional<std::string> drawings;  // folder
  bool force = false;
  bool json = false;
};

struct ProveVerb {
  std::string deck;
  std::vector<std::string> files;
  std::string occasion;
  bool found = false;
  std::optional<std::string> rules;
  std::optional<std::string> date;
  std::optional<std::string> air;
  std::optional<double> guard;
  bool binary = false;
  std::optional<std::string> csv;
  std::optional<std::string> chart;
  bool force = false;
  bool json = false;
};

struct ReportVerb {
  std::string job;
  std::string kind = "report";
  std::optional<std::string> out;  // empty: named by the report, here
  std::string paper;               // empty: by the deck's units
  bool record = false;
  bool force = false;
};

/// Text to print as it is: help, version.
struct PrintText {
  std::string text;
};

/// The command line is wrong.
struct WrongArguments {
  units::Diagnostic fault;
  bool json = false;
};

using Request = std::variant<NewVerb,
                             CheckVerb,
                             PredictVerb,
                             ShareVerb,
                             LevelVerb,
                             TrimVerb,
                             SpanVerb,
                             SignalVerb,
                             DiagnoseVerb,
                             JobVerb,
                             RehearseVerb,
                             ServeVerb,
                             PlanVerb,
                             ProveVerb,
                             ReportVerb,
                             PrintText,
                             WrongArguments>;

/// @param arguments  without the program's name
[[nodiscard]] Request parse_arguments(const std::vector<std::string>& arguments);

}  // namespace weighwright::cli
