#pragma once
/// What the commands of the test write beside their answer: drawings, tables, dates.

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "report/proof_view.h"
#include "report/test_plan_view.h"

namespace weighwright::job {

struct Drawing {
  std::string name;  // "placement-03.svg"
  std::string svg;
};
/// One for each placement with something on the deck.
[[nodiscard]] std::vector<Drawing> drawings_of(const report::TestPlanView& view);

[[nodiscard]] std::string results_csv(const report::ProofView& view);
[[nodiscard]] std::string errors_svg(const report::ProofView& view);

/// "2026-11-26" to days since 1970-01-01. Empty: it is none.
[[nodiscard]] std::optional<std::int64_t> read_day(const std::string& text);

struct Today {
  std::int64_t day = 0;  // local, since 1970-01-01
  std::string words;     // "2026-11-26 19:30:05 +01:00"
};
[[nodiscard]] Today today_of(std::int64_t time_ms, int offset_min);

}  // namespace weighwright::job
