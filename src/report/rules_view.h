#pragma once
/// A rulebook as a check list: every number with its clause, how it is known, and room for the page
/// of the reader's own print.

#include <string>
#include <vector>

namespace weighwright::report {

struct RuleNumberView {
  std::string name;   // as in the rulebook's file: "class.III.steps[1].limit"
  std::string says;   // what it is
  std::string value;  // "500", "0.5 %", "5 t"
  std::string clause;
  std::string basis;  // code: "read" | "quoted" | "memory"
  std::string known;  // in words: "quoted by OIML Bulletin 2013/03", "not seen in print"
};

struct RulesView {
  std::string deck_name;  // for whose test; empty: the rulebook as a whole
  std::string title;      // "OIML R 76-1:2006"
  std::string remark;     // of a variant
  std::string hash;       // 64 hex digits
  bool confirmed = false;
  std::string says;              // who compared it with print, or that nobody did
  std::string known;             // how many numbers were read, quoted, not seen
  std::string made;              // date and time; empty: not told
  std::string practice;          // banner; empty: a real site
  std::vector<std::string> how;  // how it is confirmed
  std::vector<RuleNumberView> numbers;
};

[[nodiscard]] std::string draw_text(const RulesView& view);
[[nodiscard]] std::string print_json(const RulesView& view);

}  // namespace weighwright::report
