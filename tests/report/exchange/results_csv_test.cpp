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
  ASSERT_EQ(rows.size(), view.lines.size());
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const ProofLineView& line = view.lines[i];
    EXPECT_EQ(rows[i]["check"], line.check);
    EXPECT_EQ(std::stod(rows[i]["load_kg"].get<std::string>()), line.load_kg);
    EXPECT_EQ(std::stod(rows[i]["error_kg"].get<std::string>()), line.error_kg);
    EXPECT_EQ(std::stod(rows[i]["expanded_uncertainty_kg"].get<std::string>()), *line.U_kg);
    EXPECT_EQ(rows[i]["verdict"], line.verdict);
    EXPECT_EQ(rows[i]["clause"], line.clause);
  }
}

TEST(ResultsCsv, QuotesAndLeavesEmptyWhatIsNotThere) {
  ProofView view;
  ProofLineView line;
  line.check = "eccentric";
  line.where = "over \"2L\", left";
  line.verdict = "not_judged";
  view.lines = {line};
  const nlohmann::json rows = read(print_results_csv(view));
  ASSERT_EQ(rows.size(), 1U);
  EXPECT_EQ(rows[0]["at"], line.where);
  EXPECT_EQ(rows[0]["limit_kg"], "");
  EXPECT_EQ(rows[0]["expanded_uncertainty_kg"], "");
  EXPECT_EQ(rows[0]["verdict"], "not_judged");
}

}  // namespace
}  // namespace weighwright::report
