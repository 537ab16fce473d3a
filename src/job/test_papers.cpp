#include "job/test_papers.h"

#include <fmt/format.h>

#include "job/entry_words.h"
#include "record/local_time.h"
#include "report/exchange/exchange.h"
#include "report/paper/paper.h"

namespace weighwright::job {

std::vector<Drawing> drawings_of(const report::TestPlanView& view) {
  std::vector<Drawing> list;
  for (const report::PlacementView& placement : view.placements) {
    if (placement.patches.empty()) continue;
    list.push_back({.name = fmt::format("placement-{:02}.svg", placement.number),
                    .svg = report::draw_plan_svg(
                        view.plan, placement.patches,
                        fmt::format("{}. {}", placement.number, placement.sentence))});
  }
  return list;
}

std::string results_csv(const report::ProofView& view) {
  return report::print_results_csv(view);
}

std::string errors_svg(const report::ProofView& view) {
  return report::draw_errors_svg(view, "Errors of " + view.deck_name);
}

std::optional<std::int64_t> read_day(const std::string& text) {
  return record::read_date(text);
}

Today today_of(std::int64_t time_ms, int offset_min) {
  constexpr std::int64_t kDay_ms = 86'400'000;
  return {.day = (time_ms + offset_min * 60'000LL) / kDay_ms,
          .words = print_local(time_ms, offset_min)};
}

}  // namespace weighwright::job
