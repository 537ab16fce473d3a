#pragma once
/// Every number of a rulebook with its name and source: for the list of what rests on memory, and
/// for the test that types all of them anew from the documents.

#include <string>
#include <vector>

#include "rules/rulebook.h"

namespace weighwright::rules {

struct Number {
  std::string
      name;  // as in the file: "class.III.steps[1].up_to", "zero.setting", masses in "..._kg"
  double value = 0.0;  // true is 1; a range rule: 1 applicable, 2 table
  Source source;
};

/// In the order of the rulebook; rows count from 1. What has no end or is not said is left out.
[[nodiscard]] std::vector<Number> numbers_of(const Rulebook& rulebook);

}  // namespace weighwright::rules
