// What rests on memory stands in docs/rulebooks.md, all of it and nothing else.
#include <gtest/gtest.h>

#include <fstream>
#include <iterator>
#include <set>
#include <string>
#include <utility>

#include "rules/numbers.h"
#include "rules/weight_class.h"
#include "rules/words.h"
#include "scales.h"

namespace weighwright::rules {
namespace {

using testing::h44;
using testing::r76;

constexpr std::string_view kBegin = "<!-- from memory: begin -->\n";
constexpr std::string_view kEnd = "<!-- from memory: end -->";

std::string page() {
  std::ifstream file(std::string(WEIGHWRIGHT_SOURCE_DIR) + "/docs/rulebooks.md", std::ios::binary);
  EXPECT_TRUE(file);
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

/// Rows of the table: one a number, in the order of the rulebook.
std::string rows_of(const Rulebook& rulebook) {
  std::string rows;
  for (const Number& number : numbers_of(rulebook)) {
    if (number.source.basis != Basis::memory) continue;
    rows += "| " + rulebook.code + " | `" + number.name + "` | " + number_words(number.value) +
            " | " + number.source.clause + " |\n";
  }
  return rows;
}

std::string rows_of_weights() {
  std::string rows;
  for (const std::string& name : weight_classes()) {
    std::string values;
    for (const WeightRow& row : weight_rows()) {
      if (row.weight_class != name || row.basis != Basis::memory) continue;
      values += (values.empty() ? "" : "; ") + number_words(row.nominal) +
                (row.pounds ? " lb: " : " kg: ") + number_words(row.limit_g) + " g";
    }
    const std::string document =
        name == "F" ? "HB 105-1" : (name.starts_with("n=") ? "R 47" : "R 111-1");
    if (!values.empty())
      rows += "| " + document + " | class `" + name + "` | " + values + " | tables of limits |\n";
  }
  return rows;
}

TEST(Documentation, ListsEveryNumberThatRestsOnMemory) {
  const std::string text = page();
  const std::size_t begin = text.find(kBegin);
  const std::size_t end = text.find(kEnd);
  ASSERT_NE(begin, std::string::npos);
  ASSERT_NE(end, std::string::npos);
  const std::string wanted = "| rulebook | number | value | clause |\n| --- | --- | --- | --- |\n" +
                             rows_of(r76()) + rows_of(h44()) + rows_of_weights();
  EXPECT_EQ(text.substr(begin + kBegin.size(), end - begin - kBegin.size()), wanted);
}

// What the lists above go by: clause by clause, and none is left out of numbers_of.
TEST(Documentation, NamesTheClauseOfEverySourceFromMemory) {
  const std::string text = page();
  for (const Rulebook* const rulebook : {&r76(), &h44()}) {
    std::set<std::string> clauses;
    for (const ClassRule& rule : rulebook->classes) {
      for (const Source& source : {rule.limits, rule.ranges, rule.breaks_down})
        if (source.basis == Basis::memory) clauses.insert(source.clause);
    }
    for (const OccasionRule& rule : rulebook->occasions)
      if (rule.source.basis == Basis::memory) clauses.insert(rule.source.clause);
    for (const TestRule& rule : rulebook->tests) {
      for (const Source& source : {rule.source, rule.range_source})
        if (source.basis == Basis::memory) clauses.insert(source.clause);
    }
    for (const Number& number : numbers_of(*rulebook))
      if (number.source.basis == Basis::memory) clauses.insert(number.source.clause);
    clauses.erase("");
    EXPECT_GT(clauses.size(), 5U);
    for (const std::string& clause : clauses)
      EXPECT_NE(text.find(clause), std::string::npos) << clause;
  }
}

/// "3.2, Table 3; 3.5.1": every clause once, in the order of the rulebook. What stands in no
/// document is no clause.
std::string clauses_of(const Rulebook& rulebook, Basis basis) {
  std::string list;
  std::set<std::string> told;
  for (const Number& number : numbers_of(rulebook)) {
    if (number.source.clause.starts_with(kCommonPractice)) continue;
    if (number.source.basis != basis || !told.insert(number.source.clause).second) continue;
    list += (list.empty() ? "" : "; ") + number.source.clause;
  }
  return list.empty() ? "none" : list;
}

TEST(Documentation, SaysWhichClausesWereReadQuotedOrNotSeen) {
  const std::string text = page();
  constexpr std::string_view kFrom = "<!-- clauses: begin -->\n";
  const std::size_t begin = text.find(kFrom);
  const std::size_t end = text.find("<!-- clauses: end -->");
  ASSERT_NE(begin, std::string::npos);
  ASSERT_NE(end, std::string::npos);
  std::string wanted = "| rulebook | how they are known | clauses |\n| --- | --- | --- |\n";
  for (const Rulebook* const rulebook : {&r76(), &h44()}) {
    for (const auto& [basis, words] : {std::pair{Basis::read, "read in the document itself"},
                                       {Basis::quoted, "not read there, quoted by other documents"},
                                       {Basis::memory, "not seen in any print"}}) {
      wanted +=
          "| " + rulebook->code + " | " + words + " | " + clauses_of(*rulebook, basis) + " |\n";
    }
  }
  EXPECT_EQ(text.substr(begin + kFrom.size(), end - begin - kFrom.size()), wanted);
}

}  // namespace
}  // namespace weighwright::rules
