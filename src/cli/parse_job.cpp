#include "cli/parse_job.h"

#include <CLI/CLI.hpp>

#include "job/entry_help.h"

namespace weighwright::cli {
namespace {

constexpr const char* kAddFooter =
    R"(FILEs: tables as share, trim, span, signal and diagnose take them (told apart by their header line),
deck files (.toml: the deck described anew), photos (.jpg .png .webp .heic .pdf).
  job add site.job cells.csv turns.csv              what was read and done, in order
  job add site.job --tick panels_on --tick rods_slack
  job add site.job --note "gusts from the west"
  job add site.job --entry seal_broken number=4711 place=box authority="weights office"
  job add site.job --entry setting name=span value=1.00158 when=left
  job add site.job cells-again.csv --corrects 12    stands in the place of entry 12, which is kept
Nothing is ever changed or deleted: a correction and an undo are entries too.

Kinds for --entry with their fields (those in brackets may be left out):
)";

constexpr const char* kVerifyFooter =
    R"(Every entry carries a hash of itself and of the one before it (BLAKE2b, RFC 7693). A changed, lost,
reordered or zeroed entry is named. What was cut off at the end is found by what is known from elsewhere:
  job verify site.job --head 3f9a04c15e6b7788:12:9c1e...   as job show or a report printed it
  job verify site.job --against site.jsonl                 an export made earlier
Every entry is signed by the device that wrote it (Ed25519, RFC 8032); forged ones are named.
  job verify site.job --paper report.pdf                   is this very file one that the record wrote?
Exit code 0: whole, and the paper is the record's; 1: something is broken, or it is not.)";

constexpr const char* kJobFooter =
    R"(  job new site.job deck.toml            a journal for a new deck (--service: for one that stands there)
  job next site.job                     the one thing to do next, how and why
  job add site.job cells.csv            what was read or done
  job show site.job                     where the job stands, every entry, what is frozen as found
  job undo site.job                     takes the last entry back (it stays in the journal)
  job verify site.job                   is every entry as it was recorded?
  job merge site.job other.job          two copies that were worked on apart
  job export site.job site.jsonl        everything as open JSON Lines; job import makes a journal of it
  job backup site.job copy.job          never copy a journal that is in use with other means
  job rescue site.job new.job           what is intact in a damaged one)";

void common(CLI::App* app, JobVerb& filled, JobDo what) {
  app->add_option("JOB", filled.job, "the journal")->required();
  app->add_flag("--json", filled.json, "the answer (or the faults) as JSON");
  app->callback([&filled, what] { filled.what = what; });
}

void writing(CLI::App* app, JobVerb& filled) {
  app->add_option("--author", filled.author, "who writes (else WEIGHWRIGHT_AUTHOR, else the user)");
  app->add_option("--remark", filled.remark, "goes with what is recorded");
}

void add_recording(CLI::App* job, JobVerb& filled) {
  CLI::App* fresh = job->add_subcommand("new", "a journal for a site");
  common(fresh, filled, JobDo::fresh);
  fresh->add_option("DECK", filled.files, "deck file; may come later")->expected(0, 1);
  fresh->add_flag("--service", filled.service, "a service call: the deck stands there already");
  writing(fresh, filled);

  CLI::App* add = job->add_subcommand("add", "records what was read, done or ticked");
  common(add, filled, JobDo::add);
  add->add_option("FILE", filled.files, "tables, deck files, photos; with --entry: name=value");
  add->add_option("--tick", filled.ticks, "a step done, a condition that holds")
      ->allow_extra_args(false);
  add->add_option("--untick", filled.unticks, "it holds no longer")->allow_extra_args(false);
  add->add_option("--note", filled.notes, "a note")->allow_extra_args(false);
  add->add_option("--entry", filled.entry, "an entry of this kind, name=value after it");
  add->add_flag("--keep-position", filled.keep_position,
                "photos keep where they were taken; else it is taken out");
  add->add_option("--corrects", filled.corrects, "stands in the place of this entry");
  add->add_flag("--confirmed", filled.confirmed,
                "what can hardly be was looked at again: it is recorded as it is");
  writing(add, filled);
  add->footer(kAddFooter + job::entry_help());

  CLI::App* undo = job->add_subcommand("undo", "takes an entry back, or an undo");
  common(undo, filled, JobDo::undo);
  undo->add_option("ENTRY", filled.other, "its number, name or hash; else the last that counts");
  writing(undo, filled);
}

void add_asking(CLI::App* job, JobVerb& filled) {
  CLI::App* show = job->add_subcommand("show", "where the job stands, and its entries");
  common(show, filled, JobDo::show);
  show->add_flag("--all", filled.all, "every entry, not only the last ones");

  CLI::App* next = job->add_subcommand("next", "the one thing to do next, how and why");
  common(next, filled, JobDo::next);
  next->add_option("--table", filled.table, "the moves as a table, to this file: for job add");
  next->add_flag("--force", filled.force, "overwrite it");

  CLI::App* verify = job->add_subcommand("verify", "is every entry as it was recorded?");
  verify->alias("check");
  common(verify, filled, JobDo::verify);
  verify->add_option("--head", filled.heads, "DEVICE:COUNT:HASH as printed earlier")
      ->allow_extra_args(false);
  verify->add_option("--against", filled.against, "an export made earlier");
  verify->add_option("--paper", filled.paper, "a report's file: did this record write it?");
  verify->footer(kVerifyFooter);
}

void add_keeping(CLI::App* job, JobVerb& filled) {
  CLI::App* merge = job->add_subcommand("merge", "brings in what another copy has");
  common(merge, filled, JobDo::merge);
  merge->add_option("OTHER", filled.other, "a journal or an export")->required();

  CLI::App* out = job->add_subcommand("export", "everything as JSON Lines");
  common(out, filled, JobDo::export_);
  out->add_option("FILE", filled.other, "new file")->required();

  CLI::App* in = job->add_subcommand("import", "a new journal from an export, to the same hashes");
  common(in, filled, JobDo::import_);
  in->add_option("FILE", filled.other, "the export")->required();

  CLI::App* backup = job->add_subcommand("backup", "a whole copy, opened and compared");
  common(backup, filled, JobDo::backup);
  backup->add_option("FILE", filled.other, "new file")->required();

  CLI::App* rescue =
      job->add_subcommand("rescue", "what is intact in a damaged journal, to a new one");
  common(rescue, filled, JobDo::rescue);
  rescue->add_option("FILE", filled.other, "new file")->required();
}

}  // namespace

void add_job(CLI::App& app, JobVerb& filled) {
  CLI::App* job = app.add_subcommand("job", "the journal of one site: everything that happened");
  job->require_subcommand(1);
  add_recording(job, filled);
  add_asking(job, filled);
  add_keeping(job, filled);
  job->footer(kJobFooter);
}

}  // namespace weighwright::cli
