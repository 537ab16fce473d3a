#include "cli/serve_verb.h"

#include <malloc.h>
#include <poll.h>
#include <pthread.h>
#include <sys/signalfd.h>
#include <unistd.h>

#include <array>
#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <functional>
#include <mutex>
#include <ostream>
#include <stdexcept>
#include <system_error>
#include <utility>

#include "cli/file_text.h"
#include "cli/serve_commands.h"
#include "cli/writer.h"
#include "job/page_site.h"
#include "web/qr.h"
#include "web/server.h"

namespace weighwright::cli {
namespace {

namespace fs = std::filesystem;

units::Diagnostic fault_of(const std::string& file, std::string what, std::string expected) {
  return {.file = file,
          .line = 0,
          .column = 0,
          .what = std::move(what),
          .expected = std::move(expected)};
}

/// The signals that end it come to wait_for_end() and to no thread of the server.
sigset_t ending_signals() {
  sigset_t signals;
  sigemptyset(&signals);
  sigaddset(&signals, SIGINT);
  sigaddset(&signals, SIGTERM);
  sigaddset(&signals, SIGHUP);
  return signals;
}

/// Until a signal ends it. Lines that are typed meanwhile go to `take`.
void wait_for_end(const sigset_t& signals, const std::function<void(const std::string&)>& take) {
  const int ending = signalfd(-1, &signals, SFD_CLOEXEC);
  bool typing = isatty(STDIN_FILENO) != 0;
  std::string line;
  while (ending >= 0) {
    std::array<pollfd, 2> both = {pollfd{.fd = ending, .events = POLLIN, .revents = 0},
                                  pollfd{.fd = STDIN_FILENO, .events = POLLIN, .revents = 0}};
    if (poll(both.data(), typing ? 2 : 1, -1) < 0) continue;
    if (both[0].revents != 0) break;
    std::array<char, 256> bytes{};
    const ssize_t got = read(STDIN_FILENO, bytes.data(), bytes.size());
    typing = got > 0;
    constexpr std::size_t kLongest = 1000;
    for (ssize_t i = 0; i < got; ++i) {
      const char c = bytes[static_cast<std::size_t>(i)];
      if (c != '\n') {
        if (line.size() < kLongest) line += c;
        continue;
      }
      take(line);
      line.clear();
    }
  }
  if (ending >= 0) {
    close(ending);
    return;
  }
  int which = 0;  // no such descriptor to be had
  while (sigwait(&signals, &which) != 0) {
  }
}

units::Diagnostics faults_of(const ServeVerb& verb) {
  std::error_code error;
  units::Diagnostics faults;
  const bool there = fs::exists(verb.job, error);
  if (!there && !verb.rehearse) {
    faults.push_back(fault_of(
        verb.job, "there is no such journal",
        "weighwright job new " + verb.job + " DECK makes one; --rehearse DECK a practice site"));
  }
  if (there && !is_journal(verb.job)) {
    faults.push_back(
        fault_of(verb.job, "this is no journal", "a file that weighwright job new made"));
  }
  if (verb.page && !fs::is_regular_file(fs::path(*verb.page) / "index.html", error)) {
    faults.push_back(fault_of(*verb.page, "there is no index.html in this folder",
                              "the folder that the page's build leaves"));
  }
  return faults;
}

/// Prints what somebody at the machine has to see; whole lines, from any thread.
class Board {
 public:
  Board(Streams streams, const ServeVerb& verb, std::string served)
      : streams_(streams),
        lan_(verb.lan),
        served_(std::move(served)),
        coloured_(isatty(STDOUT_FILENO) != 0) {}

  void started(const web::Started& started) {
    const std::scoped_lock lock(mutex_);
    address_ = started.addresses.front();
    streams_.out << served_ << '\n';
    for (const std::string& address : started.addresses) streams_.out << "  " << address << '\n';
    if (lan_) {
      streams_.out << "  SHA-256 of the public key, to compare when the browser asks:\n  "
                   << started.fingerprint.substr(0, 48) << "\n  " << started.fingerprint.substr(48)
                   << '\n'
                   << "CAUTION: whoever is let in can record entries in this journal. Show the\n"
                      "  code to your crew only.\n";
    } else {
      streams_.out << "  For a browser on this machine only; --lan lets phones in.\n"
                      "CAUTION: whoever sits at this machine can record entries in this journal.\n";
    }
    streams_.out
        << "The page proves nothing by itself: safe work, the drawing and local codes come "
           "first.\n";
    if (isatty(STDIN_FILENO) != 0) {
      streams_.out << "Type here: " << serve_commands() << ".\n";
    }
    streams_.out << "Ctrl-C ends it.\n" << std::flush;
  }

  /// Somebody stands at the machine and sees who came.
  void came_in(const web::Phone& phone) {
    const std::scoped_lock lock(mutex_);
    streams_.out << "\nLet in: " << phone.number << "  " << phone.name << ", from " << phone.address
                 << ". To put it out, type: out " << phone.number << '\n'
                 << std::flush;
  }

  void take(const std::string& line, web::Server& server) {
    const std::scoped_lock lock(mutex_);
    take_serve_command(line, server, streams_.out);
  }

  void code(const std::string& code) {
    const std::scoped_lock lock(mutex_);
    std::string plain = code;
    std::erase(plain, '-');
    // Behind the #: a browser keeps it to itself, so it stands in no log (RFC 9110, 4.2.5).
    const std::string link = address_ + "#code=" + plain;
    streams_.out << "\nCode: " << code << "  (one phone, within 15 minutes)\n"
                 << link << '\n'
                 << web::draw_qr(link, coloured_) << std::flush;
  }

 private:
  Streams streams_;
  bool lan_;
  std::string served_;
  bool coloured_;
  std::mutex mutex_;
  std::string address_;
};

web::ServerOptions options_of(const ServeVerb& verb) {
  web::ServerOptions options;
  options.lan = verb.lan;
  options.port = verb.port;
  options.page_folder = verb.page.value_or("");
  if (verb.lan) options.data_folder = data_folder();
  options.practice = verb.rehearse.has_value();
  options.job = fs::path(verb.job).filename().string();
  options.version = WEIGHWRIGHT_VERSION;
  return options;
}

job::PageSite::Opened open_site(const ServeVerb& verb, Streams streams, units::Diagnostics& fault) {
  const job::Writer writer = writer_now(verb.author);
  job::PageSiteOptions options{.journal = verb.job,
                               .practice = {},
                               .live = !verb.no_live,
                               .device = writer.device,
                               .lan = verb.lan,
                               .connect = verb.connect};
  if (verb.rehearse) {
    FileText deck = read_file_text(*verb.rehearse, streams.in);
    if (!deck.text) {
      fault.push_back(std::move(deck.fault));
      return {};
    }
    options.practice = job::PagePractice{
        .deck = {.name = name_of_input(*verb.rehearse), .text = std::move(*deck.text)},
        .seed = verb.seed.value_or(1),
        .site_file = verb.job + ".site"};
  }
  return job::PageSite::open(options, writer);
}

int serve(const ServeVerb& verb, std::unique_ptr<job::PageSite> site, Streams streams) {
  const sigset_t signals = ending_signals();
  Board board(streams, verb,
              "Serving " + options_of(verb).job +
                  (verb.rehearse ? " (a practice site: its data are invented)" : ""));
  const std::string author = verb.author;
  const auto writer = [author](const web::Who& who) {
    job::Writer by = writer_now(who.author.empty() ? author : who.author);
    by.phone = who.phone;
    return by;
  };
  web::ServerOptions options = options_of(verb);
  options.came_in = [&board](const web::Phone& phone) { board.came_in(phone); };
  web::Server server(std::move(options), web::site_of_job(std::move(site), writer),
                     [&board](const std::string& code) { board.code(code); });
  try {
    board.started(server.start());
  } catch (const std::runtime_error& error) {
    print_faults({fault_of("serve", error.what(), "")}, false, streams);
    return kMachineFailed;
  }
  server.begin_pairing();
  wait_for_end(signals, [&](const std::string& line) { board.take(line, server); });
  server.stop();
  streams.out << "Ended. Everything that was acknowledged is in the journal.\n" << std::flush;
  return kDone;
}

}  // namespace

int run_serve(const ServeVerb& verb, Streams streams) {
  units::Diagnostics faults = faults_of(verb);
  if (!faults.empty()) {
    print_faults(faults, false, streams);
    return kWrongInput;
  }
  // A thread for each phone would otherwise keep a heap of its own.
  mallopt(M_ARENA_MAX, 2);
  // Before any thread is made, so that every one of them inherits it.
  const sigset_t signals = ending_signals();
  pthread_sigmask(SIG_BLOCK, &signals, nullptr);
  job::PageSite::Opened opened = open_site(verb, streams, faults);
  faults.insert(faults.end(), opened.faults.begin(), opened.faults.end());
  if (!opened.site) {
    print_faults(faults, false, streams);
    return kWrongInput;
  }
  return serve(verb, std::move(opened.site), streams);
}

}  // namespace weighwright::cli
