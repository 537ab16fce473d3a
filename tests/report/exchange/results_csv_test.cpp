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
    EXPECT_EQ(std::stod(rows[i]["expanded_uncertainty_kg"].get<std::string>()),
              two_digits(*line.U_kg));
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

double number(const nlohmann::json& row, const char* column) {
  return std::stod(row[column].get<std::string>());
}

/// R 76-1:2006, A.4.4.3 (quoted by OIML bulletins): P = I + e/2 - added, E = P - L, less E0.
TEST(ResultsCsv, HoldsAllThatAnErrorIsComputedFrom) {
  ProofView view;
  view.interval_kg = 20.0;
  view.lines = {sample_fine_line()};
  view.ranges = {sample_repeats()};
  const nlohmann::json rows = read(print_results_csv(view));
  ASSERT_EQ(rows.size(), 6U);  // a line, a range, its three weighings, the outcome
  const double before = number(rows[0], "indication_kg") + number(rows[0], "division_kg") / 2.0 -
                        number(rows[0], "added_kg");
  EXPECT_EQ(before - number(rows[0], "zero_kg") - number(rows[0], "load_kg"),
            number(rows[0], "error_kg"));
  EXPECT_EQ(number(rows[1], "s_kg"), 2.0);
  for (std::size_t i = 2; i < 5; ++i) {
    EXPECT_EQ(rows[i]["kind"], "repeat");
    EXPECT_EQ(number(rows[i], "run"), static_cast<double>(i) - 1.0);
    EXPECT_EQ(number(rows[i], "indication_kg"), 30000.0);
  }
  EXPECT_EQ(number(rows[3], "added_kg"), 6.0);
}

/// 1 lb = 0.453 592 37 kg (NIST SP 811, B.8): 10 000 lb are 4535.9237 kg.
TEST(ResultsCsv, IsInPoundsForAPoundScale) {
  ProofView view;
  view.us = true;
  view.interval_kg = 20.0 * 0.45359237;
  ProofLineView line = sample_fine_line();
  line.load_kg = 4535.9237;
  line.indication_kg = 4535.9237 + 9.0718474;  // 20 lb
  line.U_kg = 3.3;                             // 7.275 lb
  view.lines = {line};
  const nlohmann::json rows = read(print_results_csv(view));
  EXPECT_EQ(number(rows[0], "load_lb"), 10000.0);
  EXPECT_EQ(number(rows[0], "indication_lb"), 10020.0);
  EXPECT_EQ(number(rows[0], "expanded_uncertainty_lb"), 7.3);
  EXPECT_FALSE(rows[0].contains("load_kg"));
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
