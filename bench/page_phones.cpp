/// Fifty phones that listen while one enters, against the limits that we set ourselves.
///
///   page_phones PROGRAM DECK [PHONES] [SECONDS] [--lan]
///
/// Starts the program on a practice site of its own, holds as many event streams as asked for, and
/// enters a note every half second. Prints how long an entry takes to its answer and to each phone,
/// the proportional set size of the server (proc(5), smaps_rollup) idle and with all streams, and
/// how long it takes from the start to the first page. With --lan everything goes through TLS and
/// each phone is let in by its own code from an address of its own (127.0.0.0/8). Never gates.

#include <fcntl.h>
#include <httplib.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <memory>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

namespace {

namespace fs = std::filesystem;
using Clock = std::chrono::steady_clock;
using std::chrono::milliseconds;

double ms_since(Clock::time_point then) {
  return std::chrono::duration<double, std::milli>(Clock::now() - then).count();
}

/// The server, and what it printed.
class Program {
 public:
  Program(const std::string& program, const std::string& deck, bool lan) : started_(Clock::now()) {
    folder_ = fs::temp_directory_path() / ("phones-" + std::to_string(getpid()));
    fs::create_directories(folder_);
    int ends[2];
    if (pipe(ends) != 0) std::abort();
    process_ = fork();
    if (process_ == 0) {
      dup2(ends[1], STDOUT_FILENO);
      close(ends[0]);
      setenv("XDG_DATA_HOME", folder_.c_str(), 1);
      const std::string job = folder_ / "phones.job";
      const char* const nothing = nullptr;
      execl(program.c_str(), program.c_str(), "serve", job.c_str(), "--port", "0", "--rehearse",
            deck.c_str(), lan ? "--lan" : nothing, nothing);
      _exit(127);
    }
    close(ends[1]);
    out_ = ends[0];
    reader_ = std::thread([this] { read_on(); });
  }
  ~Program() {
    kill(process_, SIGTERM);
    waitpid(process_, nullptr, 0);
    reader_.join();
    close(out_);
    fs::remove_all(folder_);
  }
  Program(const Program&) = delete;
  Program& operator=(const Program&) = delete;

  /// What stands between the `number`th `before` and the end of its word.
  std::string word_after(const std::string& before, int number = 1) {
    for (;;) {
      {
        const std::scoped_lock lock(mutex_);
        std::size_t at = 0;
        int left = number;
        while ((at = text_.find(before, at)) != std::string::npos) {
          at += before.size();
          const std::size_t end = text_.find_first_of(" \n/", at);
          if (--left == 0 && end != std::string::npos) return text_.substr(at, end - at);
        }
        if (ended_) std::exit(3);
      }
      std::this_thread::sleep_for(milliseconds(1));
    }
  }
  [[nodiscard]] double pss_MB() const {
    std::ifstream rollup("/proc/" + std::to_string(process_) + "/smaps_rollup");
    std::string name;
    double kB = 0.0;
    while (rollup >> name) {
      if (name == "Pss:" && rollup >> kB) break;
    }
    return kB / 1024.0;
  }
  [[nodiscard]] double cpu_s() const {
    std::ifstream stat("/proc/" + std::to_string(process_) + "/stat");
    std::string word;
    double ticks = 0.0;
    for (int i = 1; stat >> word; ++i) {
      if (i == 14 || i == 15) ticks += std::atof(word.c_str());
    }
    return ticks / static_cast<double>(sysconf(_SC_CLK_TCK));
  }
  [[nodiscard]] Clock::time_point started() const { return started_; }

 private:
  void read_on() {
    char bytes[4096];
    for (ssize_t got = 0; (got = read(out_, bytes, sizeof bytes)) > 0;) {
      const std::scoped_lock lock(mutex_);
      text_.append(bytes, static_cast<std::size_t>(got));
    }
    const std::scoped_lock lock(mutex_);
    ended_ = true;
  }
  Clock::time_point started_;
  fs::path folder_;
  pid_t process_ = -1;
  int out_ = -1;
  std::mutex mutex_;
  std::string text_;
  bool ended_ = false;
  std::thread reader_;
};

struct Quantiles {
  std::mutex mutex;
  std::vector<double> values;
  void add(double value) {
    const std::scoped_lock lock(mutex);
    values.push_back(value);
  }
  void print(const char* what, const char* limit) {
    std::sort(values.begin(), values.end());
    const auto at = [&](double part) {
      if (values.empty()) return -1.0;
      return values[static_cast<std::size_t>(part * static_cast<double>(values.size() - 1))];
    };
    std::printf("%-34s %5zu   %7.1f %7.1f %7.1f %7.1f   %s\n", what, values.size(), at(0.5),
                at(0.95), at(0.99), at(1.0), limit);
  }
};

class Phone {
 public:
  Phone(const std::string& base, int number, bool lan)
      : base_(base), address_("127.0.0." + std::to_string(number + 2)), lan_(lan) {}

  [[nodiscard]] std::unique_ptr<httplib::Client> client() const {
    auto one = std::make_unique<httplib::Client>(base_);
    one->set_interface(address_);
    one->set_read_timeout(30);
    one->enable_server_certificate_verification(false);
    httplib::Headers headers{{"User-Agent", "bench"}};
    if (!cookie_.empty()) headers.emplace("Cookie", cookie_);
    one->set_default_headers(headers);
    return one;
  }
  /// By the code that is shown now; waits where tries are limited.
  void pair(Program& program, int number) {
    while (lan_ && cookie_.empty()) {
      const std::string body = R"({"code":")" + program.word_after("Code: ", number) + "\"}";
      const auto answer = client()->Post("/api/pair", body, "application/json");
      if (answer && answer->status == 200) {
        const std::string set = answer->get_header_value("Set-Cookie");
        cookie_ = set.substr(0, set.find(';'));
      } else {
        std::this_thread::sleep_for(milliseconds(1000));
      }
    }
  }
  void listen(std::atomic<Clock::time_point>& posted, Quantiles& latency, std::atomic<int>& live) {
    thread_ = std::thread([&] {
      stream_ = client();
      bool first = true;
      stream_->Get("/api/events", [&](const char* bytes, std::size_t count) {
        const std::string text(bytes, count);
        if (text.find("event: live") != std::string::npos) ++live;
        if (text.find("event: site") != std::string::npos && !first) {
          latency.add(ms_since(posted.load()));
        }
        first = false;
        return !stop_;
      });
    });
  }
  void leave() { stop_ = true; }
  void join() { thread_.join(); }

 private:
  std::string base_;
  std::string address_;
  bool lan_;
  std::string cookie_;
  std::unique_ptr<httplib::Client> stream_;
  std::atomic<bool> stop_{false};
  std::thread thread_;
};

void row(const char* what, double value, const char* unit, const char* limit) {
  std::printf("%-34s %7.1f %-3s   %s\n", what, value, unit, limit);
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 3) {
    std::fprintf(stderr, "usage: page_phones PROGRAM DECK [PHONES] [SECONDS] [--lan]\n");
    return 2;
  }
  const bool lan = std::string(argv[argc - 1]) == "--lan";
  const int phones = argc > 3 && argv[3][0] != '-' ? std::atoi(argv[3]) : 50;
  const int seconds = argc > 4 && argv[4][0] != '-' ? std::atoi(argv[4]) : 60;
  Program program(argv[1], argv[2], lan);
  program.word_after("ends ");
  const std::string scheme = lan ? "https" : "http";
  std::string port = program.word_after(scheme + "://");
  port = port.substr(port.rfind(':') + 1);
  const std::string base = scheme + "://127.0.0.1:" + port;

  std::vector<std::unique_ptr<Phone>> all;
  for (int i = 0; i < phones; ++i) all.push_back(std::make_unique<Phone>(base, i, lan));
  const auto page = all[0]->client()->Get("/");
  row("start to first page", ms_since(program.started()), "ms", "300");
  if (!page || page->status != 200) std::printf("  (the program was built without the page)\n");
  for (int i = 0; i < phones; ++i) all[static_cast<std::size_t>(i)]->pair(program, i + 1);
  const auto writer = all[0]->client();
  writer->set_keep_alive(true);
  const auto begun = Clock::now();
  writer->Get("/api/site");
  row("first site", ms_since(begun), "ms", "");
  std::this_thread::sleep_for(milliseconds(3000));
  const double idle_s = program.cpu_s();
  std::this_thread::sleep_for(milliseconds(5000));
  row("CPU idle, nobody listens", (program.cpu_s() - idle_s) / 5.0 * 100.0, "%", "");
  row("PSS idle", program.pss_MB(), "MB", "40");

  std::atomic<Clock::time_point> posted{Clock::now()};
  std::atomic<int> live{0};
  Quantiles answers;
  Quantiles events;
  for (const auto& phone : all) phone->listen(posted, events, live);
  std::this_thread::sleep_for(milliseconds(2000));
  row("PSS with all streams", program.pss_MB(), "MB", "60");
  const double before_s = program.cpu_s();
  const auto end = Clock::now() + std::chrono::seconds(seconds);
  int failed = 0;
  for (int i = 0; Clock::now() < end; ++i) {
    const auto at = Clock::now();
    posted = at;
    const std::string number = std::to_string(i);
    const auto answer = writer->Post(
        "/api/entries",
        R"({"token":"bench-token-)" + number + R"(","notes":["gust )" + number + "\"]}",
        "application/json");
    if (answer && answer->status == 200) {
      answers.add(ms_since(at));
    } else {
      ++failed;
    }
    std::this_thread::sleep_until(at + milliseconds(500));
  }
  row("CPU with all streams", (program.cpu_s() - before_s) / seconds * 100.0, "%", "");
  row("PSS at the end", program.pss_MB(), "MB", "60");
  std::printf("\n%-34s %5s   %7s %7s %7s %7s   limit\n", "ms", "n", "50 %", "95 %", "99 %", "most");
  answers.print("entry to answer (advice in it)", "150");
  events.print("entry to event on each phone", "");
  std::printf("live events %d, entries that failed %d\n", live.load(), failed);
  for (const auto& phone : all) phone->leave();
  writer->Post("/api/entries", R"({"token":"bench-token-last","notes":["end"]})",
               "application/json");
  for (const auto& phone : all) phone->join();
  return 0;
}
