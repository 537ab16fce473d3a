#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "report/exchange/exchange.h"
#include "report/outside_program.h"
#include "report/sample_document.h"

// outside check: table of results | Python's `csv` module (RFC 4180)

namespace weighwright::report {
namespace {

/// Read by Python's csv module (RFC 4180), not by our own reader.
nlohmann::json read(const std::string& csv) {
  const Bench bench;
  bench.put("a.csv", csv);
  const Bench::Ran ran = bench.run(
      "python3 -c 'import csv,json; print(json.dumps(list(csv.DictReader(open(\"a.csv\","
      "encoding=\"utf-8\", newline=\"\")))))'");
  EXPECT_EQ(ran.status, 0) << ran.output;
  return nlohmann::json::parse(ran.output);
}

TEST(ResultsCsv, IsReadBackByAnotherReader) {
  const ProofView view = sample_proof(false);
  const nlohmann::json rows = read(print_results_csv(view));
  ASSERT_EQ(rows.size(), view.lines.size() + view.ranges.size() + 1);
  for (std::size_t i = 0; i < view.lines.size(); ++i) {
    const ProofLineView& line = view.lines[i];
    EXPECT_EQ(rows[i]["check"], line.check);
    EXPECT_EQ(std::stod(rows[i]["load_kg"].get<std::string>()), line.load_kg);
    EXPECT_EQ(std::stod(rows[i]["error_kg"].get<std::string>()), line.error_kg);
    EXPECT_EQ(std::stod(rows[i]["expanded_uncertainty_kg"].get<std::string>()), *line.U_kg);
    EXPECT_EQ(rows[i]["verdict"], line.verdict);
    EXPECT_EQ(rows[i]["clause"], line.clause);
    EXPECT_EQ(rows[i]["kind"], "error");
  }
}

TEST(ResultsCsv, HoldsAgreementAndOutcome) {
  const ProofView view = sample_proof(false);
  const nlohmann::json rows = read(print_results_csv(view));
  for (std::size_t i = 0; i < view.ranges.size(); ++i) {
    const ProofRangeView& range = view.ranges[i];
    const nlohmann::json& row = rows[view.lines.size() + i];
    EXPECT_EQ(row["kind"], "range");
    EXPECT_EQ(row["check"], range.check);
    EXPECT_EQ(row["at"], range.name);
    EXPECT_EQ(std::stod(row["load_kg"].get<std::string>()), range.load_kg);
    EXPECT_EQ(std::stod(row["error_kg"].get<std::string>()), range.value_kg);
    EXPECT_EQ(std::stod(row["limit_kg"].get<std::string>()), range.limit_kg);
    EXPECT_EQ(row["verdict"], range.verdict);
    EXPECT_EQ(row["clause"], range.clause);
    for (const char* empty : {"run", "indication_kg", "expanded_uncertainty_kg", "coverage_factor"})
      EXPECT_EQ(row[empty], "") << empty;
  }
  const nlohmann::json& outcome = rows.back();
  EXPECT_EQ(outcome["kind"], "outcome");
  EXPECT_EQ(outcome["verdict"], "fail");
  EXPECT_EQ(outcome["at"], "as_found");
  EXPECT_EQ(outcome["clause"], "OIML R 76-1:2006");
  EXPECT_EQ(outcome["load_kg"], "");
}

TEST(ResultsCsv, QuotesAndLeavesEmptyWhatIsNotThere) {
  ProofView view;
  ProofLineView line;
  line.check = "eccentric";
  line.where = "over \"2L\", left";
  line.verdict = "not_judged";
  view.lines = {line};
  const nlohmann::json rows = read(print_results_csv(view));
  ASSERT_EQ(rows.size(), 2U);  // and the outcome
  EXPECT_EQ(rows[0]["at"], line.where);
  EXPECT_EQ(rows[0]["limit_kg"], "");
  EXPECT_EQ(rows[0]["expanded_uncertainty_kg"], "");
  EXPECT_EQ(rows[0]["verdict"], "not_judged");
}

}  // namespace
}  // namespace weighwright::report
