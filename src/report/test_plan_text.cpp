#include <fmt/format.h>

#include <cmath>

#include "report/paragraph.h"
#include "report/test_plan_view.h"

namespace weighwright::report {
namespace {

constexpr int kWidth = 80;

std::string list(const std::vector<std::string>& sentences, const char* first) {
  std::string text;
  for (const std::string& sentence : sentences) text += wrap(sentence, kWidth, first, "    ");
  return text;
}

std::string findings_text(const TestPlanView& view) {
  std::string text;
  for (const PlanFindingView& finding : view.findings) {
    std::string sentence = finding.sentence;
    if (finding.placement > 0)
      sentence = fmt::format("Placement {}: {}", finding.placement, sentence);
    if (!finding.clause.empty()) sentence += " (" + finding.clause + ")";
    text += wrap(sentence, kWidth, finding.blocks ? "  WRONG: " : "  ? ", "    ");
  }
  return text.empty() ? "" : "\nBefore anyone drives\n" + text;
}

std::string zero_words(const PlacementView& placement) {
  if (placement.read_zero_before && placement.read_zero_after) return "Read zero before and after.";
  if (placement.read_zero_before) return "Read zero before.";
  return placement.read_zero_after ? "Read zero after." : "";
}

std::string placement_text(const PlacementView& placement) {
  std::string text =
      wrap(placement.sentence, kWidth, fmt::format("{:3}. ", placement.number), "     ");
  std::string detail;
  const auto add = [&detail](const std::string& more) {
    if (!more.empty()) detail += (detail.empty() ? "" : " ") + more;
  };
  if (!placement.required) add("Not required.");
  add(zero_words(placement));
  add(placement.because);
  if (!placement.clause.empty()) add("[" + placement.clause + "]");
  return detail.empty() ? text : text + wrap(detail, kWidth, "     ", "     ");
}

/// Placements under the name of their test; a test that comes back later gets its name again.
std::string placements_text(const TestPlanView& view) {
  std::string text;
  std::string test;
  for (const PlacementView& placement : view.placements) {
    const std::string now = placement.run > 1
                                ? fmt::format("{}, run {}", placement.name, placement.run)
                                : placement.name;
    if (now != test) text += '\n' + wrap(now, kWidth, "", "  ");
    test = now;
    text += placement_text(placement);
  }
  return text;
}

/// "50 min", "15 h 10 min".
std::string hours(double minutes) {
  constexpr double kShort = 120.0;
  if (minutes < kShort) return fmt::format("{:.0f} min", minutes);
  const double hours = std::floor(minutes / 60.0);
  return fmt::format("{:.0f} h {:.0f} min", hours, minutes - 60.0 * hours);
}

std::string minutes_text(const TestPlanView& view) {
  if (view.placements.empty() || !std::isfinite(view.minutes)) return "";
  std::string sentence = "About " + hours(view.minutes);
  if (std::isfinite(view.least_minutes) && view.least_minutes > 0.0)
    sentence += "; no order can take less than " + hours(view.least_minutes);
  return wrap(sentence + ".", kWidth, "", "  ");
}

}  // namespace

std::string draw_text(const TestPlanView& view) {
  std::string text = wrap("Test plan: " + view.deck_name, kWidth, "", "  ");
  text += wrap(view.headline, kWidth, "", "  ");
  const std::string rules = view.accuracy_class.empty()
                                ? view.rulebook
                                : view.rulebook + ", class " + view.accuracy_class;
  text += wrap(rules + ". " + view.occasion_says, kWidth, "", "  ");
  text += minutes_text(view);
  if (!view.standards.empty()) text += wrap(view.standards, kWidth, "", "  ");
  text += findings_text(view);
  if (!view.set_up.empty()) text += "\nSet up\n" + list(view.set_up, "  - ");
  if (!view.cautions.empty()) text += '\n' + list(view.cautions, "  ! ");
  text += placements_text(view);
  if (!view.notes.empty()) text += '\n' + list(view.notes, "  - ");
  if (!view.assumed.empty())
    text += '\n' + assumed_text(view.assumed, static_cast<int>(view.assumed.size()));
  return text;
}

}  // namespace weighwright::report
