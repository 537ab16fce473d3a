#include <stdexcept>
#include <string>

#include "rules/reading/read_rulebook.h"
#include "units/diagnostic.h"

namespace weighwright::rules {

namespace {

/// A rulebook of ours that does not read is a broken build: the tests read both.
Rulebook sound(std::string_view code) {
  ReadRulebook read = read_shipped(code);
  if (read.rulebook) return std::move(*read.rulebook);
  std::string all;
  for (const units::Diagnostic& fault : read.faults) all += "\n" + units::print(fault);
  throw std::logic_error("the built-in rulebook " + std::string(code) + " is faulty:" + all);
}

}  // namespace

const Rulebook& built_in(std::string_view code) {
  static const Rulebook kR76 = sound("R76");
  static const Rulebook kH44 = sound("H44");
  if (code == "R76") return kR76;
  if (code == "H44") return kH44;
  throw std::logic_error("no built-in rulebook is called " + std::string(code));
}

}  // namespace weighwright::rules
