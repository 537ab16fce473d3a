// With the other parse_*.cpp the only file that knows CLI11.
#include <CLI/CLI.hpp>
#include <algorithm>
#include <array>
#include <string_view>

#include "cli/parse_job.h"
#include "cli/parse_proof.h"
#include "cli/parse_rehearse.h"
#include "cli/parse_serve.h"
#include "cli/request.h"
#include "units/suggestion.h"
#include "web/page_files.h"

namespace weighwright::cli {
namespace {

constexpr const char* kAbout =
    "Weighwright: which screw to turn on a modular weighbridge, which way and how far.";

constexpr const char* kFooter = R"(The way through a job:
  weighwright new deck.toml                     eight questions make a deck file
  weighwright check deck.toml                   all its faults at once
  weighwright predict deck.toml                 what every stand should carry and read
  weighwright share deck.toml readings.csv      which screws, which way, how far
  weighwright share deck.toml readings.csv turns.csv readings2.csv     and after the turns
  weighwright signal deck.toml                  millivolts, do the parts fit, circuit faults
  weighwright diagnose deck.toml cells.csv ...  likely faults, what to measure next
  weighwright trim deck.toml corners.csv        every trim of the corners at once
  weighwright span deck.toml loads.csv          what the indicator is to be set to
  weighwright plan deck.toml weights.csv        which test loads to put where, by the rulebook
  weighwright prove deck.toml results.csv       results against the limits, and how sure
  weighwright report site.job                   test report, job sheet, certificate
  weighwright job new site.job deck.toml        a journal that keeps it all; job next says what to do
  weighwright rehearse deck.toml                a practice site that answers like a real one
  weighwright serve site.job                    the page at the pit, on this machine or for phones

Exit code: 0 done; 1 the answer is "not yet" or "no"; 2 an input is wrong (stderr says
where); 3 the machine failed. VERB --help says more. `-` reads a file from a pipe.)";

constexpr const char* kShareFooter =
    R"(FILEs, told apart by their header line, in the order in which things happened:
  readings  stand,mV                  or mV_per_V, counts, kg, lb; also no_load, gap_mm, excitation_V
  turns     stand,turns               positive raises; or stand,shim_mm; until = touch
  heights   stand,height_mm           surveyed stand tops, up positive
  gaps      support,gap_mm            2L, or bearing1R for the right bearing of joint 1
  map       loaded,moved              which reading moved when a stand was loaded
The last one must hold readings or gaps. Exit code 0: in tolerance and nothing else wrong; 1: not yet.)";

constexpr const char* kTrimFooter =
    R"(FILEs, told apart by their header line, in the order in which things happened:
  shift     at,load_kg,indication_kg   at: 2L over a stand, 2 section middle, 2-3 between; or x_m,y_m
            also load_id (a load of unknown mass, the same everywhere), zero_before, zero_after,
            added_kg (small weights until the display changed over), footprint, going (up, down)
  trims     trim,turns                 clockwise positive; or trim,ohm or trim,factor (set to)
The last one must hold shift readings. Exit code 0: every place agrees; 1: not yet.
  weighwright trim deck.toml --plan --load "10 t"     which placements are worth making)";

constexpr const char* kSpanFooter =
    R"(FILEs, told apart by their header line, in the order in which things happened:
  loads     load_kg,indication_kg      known weights on the deck; also material (substitution: m1,
            m1+m2), zero_before, zero_after, added_kg, going
  readings, turns, gaps ...            as share takes them: they show that the dead load is shared
  shift, trims                         as trim takes them: they show that the corners agree
Without FILE: what the indicator is to be set to from the cells' own papers.
Exit code 0: the span needs nothing; 1: it is to be set, or something comes first.)";

constexpr const char* kDiagnoseFooter =
    R"(Files are told apart by their header: readings of cells, loads at places, zero_kg with time,
temp_degC, rain and after, look,where,found, gaps, a map, trims as found, resistances, turns.

Examples:
  weighwright diagnose deck.toml cells.csv                       a new deck
  weighwright diagnose deck.toml cells.csv corners.csv zero.csv --before left.csv --before zero0.csv
  weighwright diagnose site.job                                  the present visit, against earlier ones

Exit code: 0 nothing speaks of a fault, 1 a fault is likely or it is open, 2 an input is wrong.)";

constexpr const char* kSignalFooter =
    R"(Examples:
  weighwright signal deck.toml                                 budget; do cells, box, cable, indicator fit
  weighwright signal deck.toml --forces forces.csv             stand,force_N: what then is read
  weighwright signal deck.toml --resistances cells.csv         what a meter says of single cells:
    stand,input_ohm,output_ohm                 power off, the cell off the box; OL: over the limit
    also e_plus_s_plus_ohm, e_plus_s_minus_ohm, e_minus_s_plus_ohm, e_minus_s_minus_ohm,
    insulation_Mohm with test_V (off box and indicator, 50 V DC at most), zero_mV, mV,
    excitation_V; OL where the meter was over its range, also in mV
    a line "box": all together at the home cable; excitation_V at the box's supply terminals,
    sense_V at the indicator's sense terminals
Exit code 0: nothing fails; 1: a condition fails or a circuit fault is likely.)";

constexpr const char* kPredictFooter = R"(Examples:
  weighwright predict deck.toml --load "3.5 m,0.6 m,10 t"      x from end 1, y left positive, mass
  weighwright predict deck.toml --heights heights.csv          stand,height_mm; up positive
  weighwright predict deck.toml --jack "2L,3 mm"               force on a jack that lifts there)";

constexpr const char* kLevelFooter = R"(Example:
  weighwright level deck.toml --stand 2L --along "2 mm/m" --across "-1 mm/m" --raise "1 mm"
Slopes: mm/m, deg, in/ft or %; along: end-2 side high is positive; across: left side high.)";

constexpr const char* kNewFooter =
    R"(Without FILE the deck file goes to standard output. Answers are asked on a terminal, or read one a
line from --answers or a pipe. Every guess in the file is marked "# assumed".)";

constexpr std::array<std::string_view, 15> kVerbs = {
    "new",  "check",    "predict", "share", "level",    "signal", "trim",  "span",
    "plan", "diagnose", "prove",   "job",   "rehearse", "serve",  "report"};

/// Another name of `serve`.
constexpr std::string_view kPage = "page";

/// Everything that a command line can fill in; one verb's share of it is used.
struct Filled {
  NewVerb fresh;
  CheckVerb check;
  PredictVerb predict;
  ShareVerb share;
  LevelVerb level;
  TrimVerb trim;
  SpanVerb span;
  SignalVerb signal;
  DiagnoseVerb diagnose;
  JobVerb job;
  RehearseVerb rehearse;
  ServeVerb serve;
  PlanVerb plan;
  ProveVerb prove;
  ReportVerb report;
  std::string sheet;
};

void add_json(CLI::App* verb, bool& json) {
  verb->add_flag("--json", json, "the answer (or the faults) as JSON");
}

void add_signal(CLI::App& app, SignalVerb& filled) {
  CLI::App* signal = app.add_subcommand(
      "signal", "millivolts, whether the parts fit together, faults of the circuit");
  signal->add_option("DECK", filled.deck, "deck file")->required();
  signal->add_option("--forces", filled.forces, "CSV stand,force_N instead of the dead load");
  signal->add_option("--resistances", filled.resistances, "CSV of what a meter says of the cells");
  add_json(signal, filled.json);
  signal->footer(kSignalFooter);
}

void add_diagnose(CLI::App& app, DiagnoseVerb& filled) {
  CLI::App* diagnose =
      app.add_subcommand("diagnose", "what may be wrong, and what to measure next to find out");
  diagnose->add_option("DECK", filled.deck, "deck file, or a journal alone")->required();
  diagnose->add_option("FILE", filled.files, "what was measured and looked for, in order");
  diagnose
      ->add_option("--before", filled.before,
                   "what was measured at an earlier visit, when all was right; as often as wanted")
      ->allow_extra_args(false);
  diagnose->add_flag("--grouted", filled.grouted, "the stands are grouted (or shimmed for good)");
  add_json(diagnose, filled.json);
  diagnose->footer(kDiagnoseFooter);
}

void add_trim(CLI::App& app, TrimVerb& filled) {
  CLI::App* trim = app.add_subcommand("trim", "corner adjustment: which trims to what, what then");
  trim->add_option("DECK", filled.deck, "deck file")->required();
  trim->add_option("FILE", filled.files, "shift readings and trims made, in order");
  trim->add_flag("--plan", filled.plan, "which placements are worth making, before any reading");
  trim->add_option("--load", filled.load, "with --plan: mass that is moved about, \"10 t\"");
  trim->add_option("--footprint", filled.footprint, "with --plan: its footprint in the deck file");
  trim->add_option("--within", filled.within,
                   "with --plan: standard uncertainty wanted of a trim, \"5 kg\"");
  add_json(trim, filled.json);
  trim->footer(kTrimFooter);
}

void add_span(CLI::App& app, SpanVerb& filled) {
  CLI::App* span = app.add_subcommand("span", "what the indicator is to be set to, linearity");
  span->add_option("DECK", filled.deck, "deck file")->required();
  span->add_option("FILE", filled.files, "what was measured and done, in order");
  span->add_flag("--shared", filled.shared, "the dead load is shared: known without files");
  span->add_flag("--trimmed", filled.trimmed, "the corners agree: known without files");
  span->add_option("--adjusted-at", filled.adjusted_at,
                   "latitude and height of where the indicator was adjusted: \"48 deg, 500 m\"");
  add_json(span, filled.json);
  span->footer(kSpanFooter);
}

void add_verbs(CLI::App& app, Filled& filled) {
  CLI::App* fresh = app.add_subcommand("new", "a deck file from eight questions");
  fresh->add_option("FILE", filled.fresh.file, "deck file to write");
  fresh->add_option("--answers", filled.fresh.answers, "file with one answer a line");
  fresh->add_option("--name", filled.fresh.name, "what the deck is called");
  fresh->add_flag("--force", filled.fresh.force, "overwrite FILE");
  fresh->footer(kNewFooter);

  CLI::App* check = app.add_subcommand("check", "all faults of a deck file at once");
  check->add_option("DECK", filled.check.deck, "deck file")->required();
  CLI::Option* const list =
      check->add_flag("--rules-list", filled.check.rules_list,
                      "the numbers of the deck's rulebook, to be compared with your own print");
  check->add_option("--rules", filled.check.rules, "a national variant of the rulebook")
      ->needs(list);
  add_json(check, filled.check.json);

  CLI::App* predict =
      app.add_subcommand("predict", "what each stand should carry and read, what each screw does");
  predict->add_option("DECK", filled.predict.deck, "deck file")->required();
  predict->add_option("--heights", filled.predict.heights, "CSV stand,height_mm");
  predict->add_option("--load", filled.predict.loads, "\"X,Y,MASS\", as often as wanted")
      ->allow_extra_args(false);
  predict->add_option("--jack", filled.predict.jack, "\"STAND,RISE\"");
  predict->add_flag("--brief", filled.predict.brief, "the plan only");
  add_json(predict, filled.predict.json);
  predict->footer(kPredictFooter);

  CLI::App* share = app.add_subcommand("share", "which screws, how far, what then");
  share->add_option("DECK", filled.share.deck, "deck file")->required();
  share->add_option("FILE", filled.share.files, "what was measured and done, in order")->required();
  share->add_flag("--map-proven", filled.share.map_proven,
                  "every stand was loaded in turn and its own reading moved");
  share->add_option("--sheet", filled.sheet, "a page to print")
      ->check(CLI::IsMember({"text", "html"}));
  share->add_option("--out", filled.share.out, "write the sheet to this file");
  share->add_flag("--force", filled.share.force, "overwrite it");
  add_json(share, filled.share.json);
  share->footer(kShareFooter);

  CLI::App* level =
      app.add_subcommand("level", "bubble readings of a plate to turns of its screws");
  level->add_option("DECK", filled.level.deck, "deck file")->required();
  level->add_option("--stand", filled.level.stand, "stand, as 2L")->required();
  level->add_option("--along", filled.level.along, "slope along, end-2 side high: +")->required();
  level->add_option("--across", filled.level.across, "slope across, left side high: +")->required();
  level->add_option("--raise", filled.level.raise, "rise of the plate's middle");
  add_json(level, filled.level.json);
  level->footer(kLevelFooter);

  add_signal(app, filled.signal);
  add_diagnose(app, filled.diagnose);
  add_trim(app, filled.trim);
  add_span(app, filled.span);
  add_plan(app, filled.plan);
  add_prove(app, filled.prove);
  add_report(app, filled.report);
  add_job(app, filled.job);
  add_rehearse(app, filled.rehearse);
  add_serve(app, filled.serve);
}

/// The verb, or its own verb, that the command line names.
const CLI::App& innermost(const CLI::App& app) {
  const auto verbs = app.get_subcommands();
  return verbs.empty() ? app : innermost(*verbs.front());
}

Request chosen(const CLI::App& app, Filled filled) {
  if (app.got_subcommand("new")) return filled.fresh;
  if (app.got_subcommand("check")) return filled.check;
  if (app.got_subcommand("predict")) return filled.predict;
  if (app.got_subcommand("level")) return filled.level;
  if (app.got_subcommand("signal")) return filled.signal;
  if (app.got_subcommand("diagnose")) return filled.diagnose;
  if (app.got_subcommand("trim")) return filled.trim;
  if (app.got_subcommand("span")) return filled.span;
  if (app.got_subcommand("job")) return filled.job;
  if (app.got_subcommand("rehearse")) return filled.rehearse;
  if (app.got_subcommand("serve")) return filled.serve;
  if (app.got_subcommand("plan")) return filled.plan;
  if (app.got_subcommand("prove")) return filled.prove;
  if (app.got_subcommand("report")) return filled.report;
  if (filled.sheet == "text") filled.share.sheet = Sheet::text;
  if (filled.sheet == "html") filled.share.sheet = Sheet::html;
  return filled.share;
}

WrongArguments wrong(const std::vector<std::string>& arguments,
                     std::string what,
                     std::string expected) {
  const bool json = std::find(arguments.begin(), arguments.end(), "--json") != arguments.end();
  return {.fault = {.file = "command line",
                    .line = 0,
                    .column = 0,
                    .what = std::move(what),
                    .expected = std::move(expected)},
          .json = json};
}

WrongArguments wrong_verb(const std::vector<std::string>& arguments) {
  const std::string& verb = arguments.front();
  const auto near = units::nearest(verb, kVerbs);
  std::string expected = near ? "did you mean " + *near + "? Verbs: " : "one of: ";
  for (const std::string_view known : kVerbs) {
    expected += std::string(known) + (known == kVerbs.back() ? "" : ", ");
  }
  return wrong(arguments, "there is no verb \"" + verb + "\"", expected);
}

/// Combinations that the parser does not know to be wrong.
std::optional<std::string> contradiction(const TrimVerb& trim) {
  if (trim.plan && !trim.files.empty()) return "--plan comes before any reading: no FILE with it";
  if (!trim.plan && trim.files.empty()) return "there is no FILE with shift readings";
  if (!trim.plan && (trim.load || trim.footprint || trim.within)) {
    return "--load, --footprint and --within are for --plan only";
  }
  return {};
}

std::optional<std::string> contradiction(const Request& request) {
  if (const auto* trim = std::get_if<TrimVerb>(&request)) return contradiction(*trim);
  const auto* share = std::get_if<ShareVerb>(&request);
  if (share == nullptr) return {};
  if (share->json && share->sheet != Sheet::none) return "--json and --sheet exclude each other";
  if (share->out && share->sheet == Sheet::none) return "--out is for --sheet only";
  return {};
}

}  // namespace

Request parse_arguments(const std::vector<std::string>& arguments) {
  CLI::App app(kAbout, "weighwright");
  app.footer(kFooter);
  app.set_version_flag("--version", "weighwright " WEIGHWRIGHT_VERSION);
  bool licences = false;
  app.add_flag("--licences", licences, "the licences of everything that it is made of");
  app.require_subcommand(1);
  Filled filled;
  add_verbs(app, filled);
  if (arguments.empty()) return PrintText{app.help()};
  if (arguments == std::vector<std::string>{"--licences"}) {
    return PrintText{std::string(web::built_in_licences())};
  }
  const std::string& first = arguments.front();
  if (first.front() != '-' && first != kPage &&
      std::find(kVerbs.begin(), kVerbs.end(), first) == kVerbs.end()) {
    return wrong_verb(arguments);
  }
  try {
    const SplitRehearse split = split_rehearse(arguments);
    filled.rehearse.command = split.command;
    std::vector<std::string> reversed(split.options.rbegin(), split.options.rend());
    app.parse(reversed);
  } catch (const CLI::CallForHelp&) {
    return PrintText{innermost(app).help()};
  } catch (const CLI::CallForVersion&) {
    return PrintText{"weighwright " WEIGHWRIGHT_VERSION "\n"};
  } catch (const CLI::ParseError& error) {
    std::string verb;
    for (const CLI::App* one = &app; !one->get_subcommands().empty();) {
      one = one->get_subcommands().front();
      verb += one->get_name() + " ";
    }
    return wrong(arguments, error.what(), "see weighwright " + verb + "--help");
  }
  Request request = chosen(app, std::move(filled));
  if (const auto problem = contradiction(request)) {
    return wrong(arguments, *problem, "see weighwright " + first + " --help");
  }
  return request;
}

}  // namespace weighwright::cli
