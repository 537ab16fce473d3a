#include "job/writer_clock.h"

#include <fmt/format.h>

#include <cstdlib>

#include "job/entry_words.h"

namespace weighwright::job {
namespace {

constexpr std::int64_t kDay_ms = 86'400'000;
constexpr std::int64_t kYear_ms = 366 * kDay_ms;
constexpr std::int64_t kLatest_ms = 7'258'118'400'000;  // 2200-01-01T00:00:00Z

/// Years from 1970 on; far ones have no calendar here.
std::int64_t year_of(std::int64_t time_ms) {
  constexpr double kMeanYear_ms = 365.2425 * static_cast<double>(kDay_ms);
  return 1970 + static_cast<std::int64_t>(static_cast<double>(time_ms) / kMeanYear_ms);
}

}  // namespace

std::optional<units::Diagnostic> clock_fault(const Writer& writer) {
  if (writer.time_ms < kLatest_ms) return {};
  return units::Diagnostic{
      .file = "this machine",
      .line = 0,
      .column = 0,
      .what = fmt::format("its clock says the year {}", year_of(writer.time_ms)),
      .expected = "a clock that is set: the time stands on every entry. Nothing was recorded"};
}

std::optional<std::string> clock_jump(const History& history, const Writer& writer) {
  std::optional<std::int64_t> own;
  std::optional<std::int64_t> any;
  for (const Line& line : history.lines) {
    const record::Stamp& stamp = line.entry.stamp;
    any = stamp.time_ms;
    if (stamp.device == writer.device) own = stamp.time_ms;
  }
  const std::optional<std::int64_t> before = own ? own : any;
  if (!before || std::llabs(writer.time_ms - *before) <= kYear_ms) return {};
  return fmt::format(
      "This machine's clock says {}; the entry before this one was written at {}. If the clock is "
      "wrong: set it, and record this again (job undo takes it back).",
      print_local(writer.time_ms, writer.offset_min), print_local(*before, writer.offset_min));
}

}  // namespace weighwright::job
