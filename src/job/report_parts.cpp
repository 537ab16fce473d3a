#include "job/report_parts.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "job/entry_words.h"
#include "job/indication_words.h"
#include "job/practice_remark.h"
#include "record/typed_number.h"

namespace weighwright::job {
namespace {

using record::field;

std::string said(const SiteState& state, int line, std::string_view name) {
  return std::string(field(state.history.words(line).fields, name));
}

report::SealView seal(const SiteState& state, int line, const char* when) {
  return {.when = when,
          .what = "seal",
          .number = said(state, line, "number"),
          .place = said(state, line, "place"),
          .authority = said(state, line, "authority")};
}

}  // namespace

bool is_practice(const SiteState& state) {
  const auto& lines = state.history.lines;
  const auto visit = std::find_if(lines.begin(), lines.end(),
                                  [](const Line& line) { return line.entry.what.kind == "visit"; });
  return visit != lines.end() && field(visit->entry.what.fields, "remark") == kPracticeRemark;
}

std::vector<report::SealView> seals_of(const SiteState& state) {
  std::vector<report::SealView> list;
  for (const int line : state.seals_broken) list.push_back(seal(state, line, "found"));
  for (const int line : state.counters) {
    list.push_back({.when = said(state, line, "when"),
                    .what = said(state, line, "name") + " counter",
                    .number = said(state, line, "value"),
                    .place = "indicator",
                    .authority = ""});
  }
  for (const int line : state.seals_applied) list.push_back(seal(state, line, "left"));
  std::stable_sort(list.begin(), list.end(), [](const auto& a, const auto& b) {
    return a.when == "found" && b.when != "found";
  });
  return list;
}

std::vector<std::pair<std::string, std::string>> settings_of(const SiteState& state) {
  std::map<std::string, std::pair<std::string, std::string>> found_left;
  std::vector<std::string> order;
  for (const int line : state.settings) {
    const std::string name = said(state, line, "name");
    if (!found_left.contains(name)) order.push_back(name);
    auto& [found, left] = found_left[name];
    (said(state, line, "when") == "found" ? found : left) = said(state, line, "value");
  }
  std::vector<std::pair<std::string, std::string>> list;
  for (const std::string& name : order) {
    const auto& [found, left] = found_left[name];
    std::string text;
    if (!found.empty()) text = "found " + found;
    if (!left.empty()) text += (text.empty() ? "left " : ", left ") + left;
    list.emplace_back(name, text);
  }
  return list;
}

std::vector<std::string> adjustments_of(const SiteState& state) {
  std::vector<std::string> list;
  const int count = static_cast<int>(state.history.lines.size());
  for (int i = std::max(0, state.visit_line); i < count; ++i) {
    if (!state.history.counts(i)) continue;
    const record::Draft& words = state.history.words(i);
    bool adjusts = words.kind == "cell_replaced" || words.kind == "pour" ||
                   (words.kind == "setting" && field(words.fields, "when") == "left") ||
                   (words.kind == "tick" && field(words.fields, "name") == "mended" &&
                    field(words.fields, "on") != "no");
    const auto event = state.event_of_line.find(i);
    if (event != state.event_of_line.end()) {
      const record::Measurement& what = state.events[static_cast<std::size_t>(event->second)].what;
      adjusts = std::holds_alternative<record::TurnSet>(what) ||
                std::holds_alternative<record::TrimSet>(what);
    }
    if (adjusts) list.push_back(fmt::format("Entry {}: {}", i + 1, entry_view(state, i).says));
  }
  return list;
}

std::string cells_words(const LoadedDeck& loaded) {
  const IndicationWords say(*loaded.deck);
  std::vector<std::pair<std::string, int>> counts;
  for (int i = 0; i < loaded.deck->stand_count(); ++i) {
    const bool unknown =
        std::any_of(loaded.not_known.begin(), loaded.not_known.end(),
                    [i](const NotKnown& one) { return one.stand.value == i && one.capacity; });
    const std::string capacity =
        unknown ? "unknown capacity"
                : say.load(loaded.deck->stands[static_cast<std::size_t>(i)].cell.capacity_kg);
    const auto same = std::find_if(counts.begin(), counts.end(),
                                   [&](const auto& one) { return one.first == capacity; });
    if (same == counts.end()) {
      counts.emplace_back(capacity, 1);
    } else {
      ++same->second;
    }
  }
  std::string text;
  for (const auto& [capacity, count] : counts) {
    text += text.empty() ? fmt::format("{} cells of {}", count, capacity)
                         : fmt::format(", {} of {}", count, capacity);
  }
  return text;
}

std::vector<std::pair<std::string, std::string>> cells_of(const SiteState& state) {
  std::vector<std::pair<std::string, std::string>> list;
  for (std::size_t i = 0; i < state.cells.size(); ++i) {
    const CellThere& cell = state.cells[i].now();
    std::string text = cell.serial;
    if (!cell.certificate.empty()) {
      text += (text.empty() ? "certificate " : ", certificate ") + cell.certificate;
    }
    list.emplace_back(units::print(units::StandIndex{static_cast<int>(i)}), text);
  }
  return list;
}

std::string verify_command(const std::vector<report::HeadView>& heads) {
  std::string text = "weighwright job verify JOB";
  for (const report::HeadView& head : heads) {
    text += fmt::format(" --head {}:{}:{}", head.device, head.sequence, head.hash);
  }
  return text;
}

std::optional<double> plain_figure(const std::string& text) {
  const record::TypedNumber number = record::read_number(text);
  if (number.fault != record::TypedNumber::Fault::none) return {};
  return number.value;
}

}  // namespace weighwright::job
