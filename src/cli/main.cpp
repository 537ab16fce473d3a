#include <unistd.h>

#include <exception>
#include <iostream>
#include <string>
#include <vector>

#include "cli/request.h"
#include "cli/verbs.h"
#include "job/storage_failure.h"

namespace {

using weighwright::cli::Streams;

bool wants_json(const std::vector<std::string>& arguments) {
  for (const std::string& argument : arguments) {
    if (argument == "--json") return true;
  }
  return false;
}

int machine_failed(const std::string& what,
                   const std::vector<std::string>& arguments,
                   Streams streams) {
  weighwright::cli::print_faults({{.file = "weighwright",
                                   .line = 0,
                                   .column = 0,
                                   .what = what,
                                   .expected = "nothing of yours was changed; please report this"}},
                                 wants_json(arguments), streams);
  return weighwright::cli::kMachineFailed;
}

int run(const std::vector<std::string>& arguments, Streams streams) {
  try {
    const int code = weighwright::cli::run(weighwright::cli::parse_arguments(arguments), streams);
    streams.out.flush();
    if (streams.out) return code;
    // A full disk or a closed pipe: an answer that did not arrive is none.
    streams.err << "standard output: the answer could not be written; a place with room\n";
    return weighwright::cli::kMachineFailed;
  } catch (const weighwright::job::StorageFailure& failure) {
    weighwright::cli::print_faults({failure.diagnostic()}, wants_json(arguments), streams);
    return weighwright::cli::kMachineFailed;
  } catch (const std::bad_alloc&) {
    return machine_failed("out of memory", arguments, streams);
  } catch (const std::exception& error) {
    return machine_failed(error.what(), arguments, streams);
  }
}

}  // namespace

int main(int argc, char** argv) {
  std::ios::sync_with_stdio(false);
  const std::vector<std::string> arguments(argv + 1, argv + argc);
  return run(arguments, {.in = std::cin,
                         .out = std::cout,
                         .err = std::cerr,
                         .in_is_terminal = isatty(STDIN_FILENO) != 0});
}
