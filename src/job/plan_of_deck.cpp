#include "job/plan_of_deck.h"

#include "job/speak.h"

namespace weighwright::job {
namespace {

report::PlanRow row_of(const std::string& label,
                       units::Side side,
                       int sections,
                       const std::function<std::string(units::StandIndex)>& cell) {
  report::PlanRow row{.label = label, .cells = {}};
  for (int section = 0; section < sections; ++section) {
    row.cells.push_back(cell(units::StandIndex::of({section}, side)));
  }
  return row;
}

bool any_tag(const deck::Deck& deck) {
  for (const deck::Stand& stand : deck.stands) {
    if (!stand.cell.terminal.empty() || !stand.cell.address.empty()) return true;
  }
  return false;
}

std::string short_tag(const deck::Stand& stand) {
  const std::string& number =
      stand.cell.terminal.empty() ? stand.cell.address : stand.cell.terminal;
  return number.empty() ? "" : "#" + number;
}

}  // namespace

report::PlanView plan_of(const deck::Deck& deck) {
  report::PlanView plan;
  for (int i = 0; i < static_cast<int>(deck.modules.size()); ++i) {
    const deck::Module& module = deck.modules[static_cast<std::size_t>(i)];
    const double start_m = deck.start_m({i});
    plan.modules.push_back(
        {.mark = module.mark, .start_m = start_m, .end_m = start_m + module.length_m});
  }
  for (const deck::Joint& joint : deck.joints) {
    const auto mark =
        joint.kind == deck::JointKind::rigid ? report::JointMark::rigid : report::JointMark::rests;
    plan.joints.push_back({.left = mark, .right = mark});
  }
  for (const deck::Section& section : deck.sections) plan.sections_m.push_back(section.at_m);
  const int sections = static_cast<int>(deck.sections.size());
  const bool tags = any_tag(deck);
  const auto name = [&](units::StandIndex stand) {
    const auto at = static_cast<std::size_t>(stand.value);
    const std::string tag = tags ? short_tag(deck.stands[at]) : "";
    return units::print(stand) + (tag.empty() ? "" : " " + tag);
  };
  plan.left.push_back(row_of("left", units::Side::left, sections, name));
  plan.right.push_back(row_of("right", units::Side::right, sections, name));
  return plan;
}

void add_row(report::PlanView& plan,
             const std::string& label,
             const std::function<std::string(units::StandIndex)>& cell) {
  const int sections = static_cast<int>(plan.sections_m.size());
  plan.left.push_back(row_of(label, units::Side::left, sections, cell));
  plan.right.push_back(row_of(label, units::Side::right, sections, cell));
}

std::vector<std::string> walking_order(const deck::Deck& deck) {
  const int sections = static_cast<int>(deck.sections.size());
  std::vector<std::string> order;
  for (int i = 0; i < sections; ++i) order.push_back(units::print(units::StandIndex{2 * i}));
  for (int i = sections - 1; i >= 0; --i) {
    order.push_back(units::print(units::StandIndex{2 * i + 1}));
  }
  return order;
}

void mark_hanging(report::PlanView& plan, int joint, units::Side side) {
  report::PlanView::JointDrawing& drawing = plan.joints[static_cast<std::size_t>(joint)];
  (side == units::Side::left ? drawing.left : drawing.right) = report::JointMark::hangs;
}

}  // namespace weighwright::job
