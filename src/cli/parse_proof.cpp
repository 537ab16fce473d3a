#include "cli/parse_proof.h"

#include <CLI/CLI.hpp>

namespace weighwright::cli {
namespace {

constexpr const char* kPlanFooter =
    R"(WEIGHTS is a table: id,nominal_kg and as far as known count, class (M1, M1-2, F, ...), conventional_kg
with uncertainty_g and k, certificate, traced_to, expires (2027-03-31), handling (hand, cart, crane,
fork, vehicle), length_m, width_m, axles, axle_load_kg. Vehicles of unknown mass have neither class
nor certificate: they roll over the deck and stand in for weights.

Examples:
  weighwright plan deck.toml weights.csv --occasion new
  weighwright plan deck.toml weights.csv --occasion routine --table results.csv   to be filled in
  weighwright plan deck.toml weights.csv --occasion new --rules national.toml     a national variant

Exit code 0: it can be done so; 1: it can't, the answer says why.)";

constexpr const char* kProveFooter =
    R"(FILEs, told apart by their header line, in the order in which things happened:
  results   check,load_kg,indication_kg   check: zero, section, eccentric, rolling, increasing,
            decreasing, repeatability, discrimination, strain; also at, heading, run, weights (W*10),
            material (substitution), added_kg, zero_before, zero_after, start, then
            (weighwright plan ... --table FILE writes one to be filled in)
  weights   id,nominal_kg ...             as plan takes them
  trims, turns                            what was moved: results before it are old
Without results: the chance to pass, from what loads and corners were read.
Exit code 0: within the limits and complete; 1: not, or not yet.)";

constexpr const char* kReportFooter =
    R"(KIND  report  test report (PDF); a calibration certificate where the laboratory's accreditation is on record
      sheet   one page for the pit: the turns or trims to make now (PDF)
      dcc     Digital Calibration Certificate (XML)
      csv     results, a line each
      plan    plan of the deck with the next load (SVG)
      chart   errors over load with limits (SVG)
      rules   the rulebook's numbers as a check list, to be compared with your own print (PDF)

What a report names is recorded in the journal:
  weighwright job add site.job --entry party role=customer name="Tarn Quarry" address="1 Quarry Lane; Tarn"
  weighwright job add site.job --entry report_issued number=2026-041
  weighwright report site.job --out 2026-041.pdf)";

void add_json(CLI::App* verb, bool& json) {
  verb->add_flag("--json", json, "the answer (or the faults) as JSON");
}

}  // namespace

void add_plan(CLI::App& app, PlanVerb& filled) {
  CLI::App* plan = app.add_subcommand("plan", "which test loads to put where, by the rulebook");
  plan->add_option("DECK", filled.deck, "deck file")->required();
  plan->add_option("WEIGHTS", filled.weights, "weights and vehicles at hand");
  plan->add_option("--occasion", filled.occasion, "what the test is for (asked, with the clauses)");
  plan->add_option("--rules", filled.rules, "a national variant of the rulebook");
  plan->add_option("--date", filled.date, "day of the test, 2026-11-26; default today");
  plan->add_flag("--supports", filled.supports,
                 "a load over every support where a rolling load would do");
  plan->add_flag("--required-only", filled.required_only, "nothing that no rulebook asks for");
  plan->add_option("--axle", filled.axle, "heaviest axle that the road allows, \"10 t\"");
  plan->add_option("--repeatability", filled.repeatability,
                   "greatest less least of one load, found earlier, \"6 kg\"");
  plan->add_option("--table", filled.table, "write the results table to be filled in");
  plan->add_option("--drawings", filled.drawings, "folder for a drawing (SVG) of each placement");
  plan->add_flag("--force", filled.force, "overwrite");
  add_json(plan, filled.json);
  plan->footer(kPlanFooter);
}

void add_prove(CLI::App& app, ProveVerb& filled) {
  CLI::App* prove =
      app.add_subcommand("prove", "results of the test against the limits, and how sure");
  prove->add_option("DECK", filled.deck, "deck file")->required();
  prove->add_option("FILE", filled.files, "results, weights, what was moved, in order");
  prove->add_option("--occasion", filled.occasion,
                    "what the test is for (asked, with the clauses)");
  prove->add_flag("--found", filled.found, "as found: before anything was adjusted");
  prove->add_option("--rules", filled.rules, "a national variant of the rulebook");
  prove->add_option("--date", filled.date,
                    "day of results that tell no time, 2026-11-26; default today");
  prove->add_option("--air", filled.air, "\"12 degC, 1003 hPa, 60 %\"");
  prove->add_option("--guard", filled.guard,
                    "guard band in expanded uncertainties (JCGM 106), with conditional pass and "
                    "fail (ILAC-G8, 4.2.3); default simple acceptance");
  prove->add_flag("--binary", filled.binary,
                  "with --guard: accepted or not accepted, nothing between (ILAC-G8, 4.2.2)");
  prove->add_option("--csv", filled.csv, "write the results as CSV");
  prove->add_option("--chart", filled.chart, "write the chart of errors as SVG");
  prove->add_flag("--force", filled.force, "overwrite");
  add_json(prove, filled.json);
  prove->footer(kProveFooter);
}

void add_report(CLI::App& app, ReportVerb& filled) {
  CLI::App* report = app.add_subcommand("report", "test report, job sheet, certificate (PDF, XML)");
  report->add_option("JOB", filled.job, "journal")->required();
  report->add_option("--kind", filled.kind, "report, sheet, dcc, csv, plan, chart, rules");
  report->add_option("--out", filled.out, "file to write; - is standard output");
  report
      ->add_option(
          "--paper", filled.paper,
          "a4 or letter; default letter where it is tested by Handbook 44 or weighs in pounds")
      ->check(CLI::IsMember({"a4", "letter"}));
  report->add_flag("--record", filled.record, "with every entry of the journal");
  report->add_flag("--force", filled.force, "overwrite");
  report->footer(kReportFooter);
}

}  // namespace weighwright::cli
