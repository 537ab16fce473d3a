#pragma once
/// What somebody at the serving machine may type while it serves: who is let in, who is put out,
/// yes to instruments.

#include <iosfwd>
#include <string>

#include "web/server.h"

namespace weighwright::cli {

/// One line that was typed. Prints its answer, whole lines only.
void take_serve_command(const std::string& line, web::Server& server, std::ostream& out);

/// "2  R. Example, 192.0.2.7, in since 5 min, last asked 10 s ago"
[[nodiscard]] std::string print_phone(const web::Phone& phone, std::int64_t now_ms);

/// What may be typed, in one line.
[[nodiscard]] const char* serve_commands();

}  // namespace weighwright::cli
