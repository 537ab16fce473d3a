// With parse_arguments.cpp, parse_job.cpp and parse_rehearse.cpp the only file that knows CLI11.
#include "cli/parse_serve.h"

#include <CLI/CLI.hpp>

namespace weighwright::cli {
namespace {

constexpr const char* kServeFooter =
    R"(The page at the pit: what is next, boxes for what is read, the deck to scale, live readings.
  weighwright serve site.job                       in this machine's own browser, nobody else
  weighwright serve site.job --lan                 phones too: TLS, and a code that lets them in
  weighwright serve practice.job --rehearse deck.toml --seed 7     a practice site to try it on

--lan lets everybody who has the code record entries in the journal; the code is shown on this
screen only. Compare the fingerprint when the phone's browser asks about the certificate.
What the page asks for and gets: docs/page-api.md. Ctrl-C ends it; nothing acknowledged is lost.
Exit code: 0 ended by Ctrl-C; 2 an input is wrong; 3 the machine failed (no port, no room).)";

}  // namespace

void add_serve(CLI::App& app, ServeVerb& filled) {
  CLI::App* serve =
      app.add_subcommand("serve", "the page at the pit, for a browser on this machine or phones");
  serve->alias("page");
  serve->add_option("JOB", filled.job, "journal (job new makes one; --rehearse too)")->required();
  serve->add_option("--port", filled.port, "this port only; else 8470 or the next that is free")
      ->check(CLI::Range(0, 65535));
  serve->add_flag("--lan", filled.lan, "for phones in the same network, with TLS and a code");
  CLI::Option* const rehearse = serve->add_option("--rehearse", filled.rehearse,
                                                  "deck file of a practice site, kept in JOB.site");
  serve->add_option("--seed", filled.seed, "with --rehearse: which site")->needs(rehearse);
  serve->add_option("--author", filled.author, "who enters, where the page does not say");
  serve->add_option("--page", filled.page, "serve the page from this folder, to work on it");
  serve->add_flag("--no-live", filled.no_live, "do not read the instruments of the deck file");
  serve->add_flag("--connect", filled.connect,
                  "yes to the instruments that the deck file names now, also where another device "
                  "or a phone described it");
  serve->footer(kServeFooter);
}

}  // namespace weighwright::cli
