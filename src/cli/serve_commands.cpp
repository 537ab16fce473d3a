#include "cli/serve_commands.h"

#include <charconv>
#include <optional>
#include <ostream>

#include "web/wire.h"

namespace weighwright::cli {
namespace {

std::string ago(std::int64_t ms) {
  constexpr std::int64_t kMinute_ms = 60'000;
  constexpr std::int64_t kFewMinutes = 120;
  if (ms < 2 * kMinute_ms) return std::to_string(ms / 1000) + " s";
  if (ms < kFewMinutes * kMinute_ms) return std::to_string(ms / kMinute_ms) + " min";
  return std::to_string(ms / (60 * kMinute_ms)) + " h";
}

std::string trimmed(const std::string& line) {
  const std::size_t first = line.find_first_not_of(" \t\r");
  if (first == std::string::npos) return {};
  return line.substr(first, line.find_last_not_of(" \t\r") - first + 1);
}

void list_phones(web::Server& server, std::ostream& out) {
  const std::vector<web::Phone> phones = server.phones();
  if (phones.empty()) out << "Nobody is let in.\n";
  for (const web::Phone& phone : phones) out << "  " << print_phone(phone, web::now_ms()) << '\n';
}

void put_out(const std::string& typed, web::Server& server, std::ostream& out) {
  int number = 0;
  const auto read = std::from_chars(typed.data(), typed.data() + typed.size(), number);
  const bool figure = read.ec == std::errc() && read.ptr == typed.data() + typed.size();
  const std::optional<web::Phone> gone = figure ? server.put_out(number) : std::nullopt;
  if (gone) {
    out << "Put out: " << gone->name << ". What it recorded stays in the journal.\n";
  } else {
    out << "No phone of that number is let in; phones lists them.\n";
  }
}

}  // namespace

const char* serve_commands() {
  return "phones (who is let in), out NUMBER (puts a phone out), connect (yes to the instruments "
         "of the deck)";
}

std::string print_phone(const web::Phone& phone, std::int64_t now_ms) {
  return std::to_string(phone.number) + "  " + phone.name + ", " + phone.address + ", in for " +
         ago(now_ms - phone.since_ms) + ", last asked " + ago(now_ms - phone.used_ms) + " ago";
}

void take_serve_command(const std::string& line, web::Server& server, std::ostream& out) {
  const std::string typed = trimmed(line);
  constexpr std::string_view kOut = "out ";
  if (typed.empty()) return;
  if (typed == "phones") {
    list_phones(server, out);
  } else if (typed.starts_with(kOut)) {
    put_out(trimmed(typed.substr(kOut.size())), server, out);
  } else if (typed == "connect") {
    const bool done = server.connect_instruments().status == job::Reply::Status::done;
    out << (done ? "The instruments of the deck are read from now on.\n"
                 : "The journal can't be read just now; nothing was connected to.\n");
  } else {
    out << "What can be typed here: " << serve_commands() << "; Ctrl-C ends it.\n";
  }
  out << std::flush;
}

}  // namespace weighwright::cli
