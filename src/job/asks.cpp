#include "job/asks.h"

#include <algorithm>
#include <cmath>
#include <variant>

#include "job/as_found.h"
#include "job/ask_forms.h"
#include "job/fix_forms.h"
#include "job/test_forms.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

using diagnose::Next;
using report::FormView;

std::string typed_mass(const deck::Deck& deck, double mass_kg) {
  if (in_pounds(deck)) return units::print_fixed(mass_kg / units::kPound_kg, 0) + " lb";
  return units::print_exact(mass_kg / 1000.0) + " t";
}

/// The figure alone, in the column's unit.
std::string mass_figure(const deck::Deck& deck, double mass_kg) {
  return units::print_fixed(in_pounds(deck) ? mass_kg / units::kPound_kg : mass_kg, 0);
}

/// The place between two sections nearest to the middle; a deck with one section has none.
std::string between_sections(const deck::Deck& deck) {
  const int sections = static_cast<int>(deck.sections.size());
  if (sections < 2) return "1";
  const int left = std::max(1, sections / 2);
  return std::to_string(left) + "-" + std::to_string(left + 1);
}

/// "2L", "bearing1R".
std::string name_of(const record::GapPlace& place) {
  if (!place.is_bearing) return units::print(place.stand);
  return "bearing" + std::to_string(place.joint + 1) +
         (place.side == units::Side::left ? "L" : "R");
}

class Asking {
 public:
  Asking(const SiteState& state, const SiteAdvice& advice, const Action& action)
      : state_(state), deck_(*state.deck->deck), advice_(advice), action_(action) {
    load_kg_ = handy_load_kg(deck_);
    load_ = typed_mass(deck_, load_kg_);
  }

  std::vector<FormView> forms() {
    const std::string& code = action_.code;
    if (code == "tick" || code == "conditions") return ticks();
    if (code == "no_load") {
      // A digital cell's value with nothing on it is had with its reading, once the deck stands.
      return no_load();
    }
    if (code == "map" || code == "exchanged") return {of_stands(map_form(deck_))};
    if (code == "describe_cell") return cells_to_describe();
    if (code == "read_cells" || code == "restraints_again") return {readings_form(deck_)};
    if (code == "read_corners" || code == "no_trim") return {corners()};
    if (code == "more_places") return {more_places()};
    if (code == "pour") return {pour_form(action_.names)};
    if (code == "supply") return {look_form("sense_loose", "")};
    if (code == "loads") return {loads()};
    if (code == "as_found") return as_found();
    if (code == "move_stands" || code == "measure_first" || code == "no_move") return share();
    if (code == "trims" || code == "learn_trim") return trims_forms(*advice_.trim.view);
    if (code == "span") return {span_form(advice_.span.view->correction)};
    if (code == "find_cause" || code == "mended") return cause();
    if (code == "clearance") return {clearance_form(state_)};
    if (code == "release") return {release_form(state_)};
    if (code == "nothing" || code == "left_open") return {visit_form()};
    return test();
  }

 private:
  /// The test by the rulebook, and its report.
  std::vector<FormView> test() const {
    const std::string& code = action_.code;
    const SiteProof& proof = advice_.proof;
    if (code == "occasion") return {occasion_form(action_.names)};
    if (code == "weights" || code == "test_plan") return {weights_form(deck_)};
    if (code == "test") {
      return {placement_form(deck_, proof.plan->placements[static_cast<std::size_t>(proof.next)])};
    }
    if (code == "test_failed" || code == "test_guarded") return {corners(), loads()};
    if (code == "test_incomplete") return {results_form(deck_), weights_form(deck_)};
    if (code == "report") return report_forms(state_, proof.standing);
    return {};
  }

  /// The cells too, where they are at hand and not written down.
  std::vector<FormView> no_load() const {
    std::vector<FormView> list;
    if (!deck_.is_digital()) list.push_back(of_stands(no_load_form(deck_)));
    list.push_back(tick_form("received"));
    if (action_.step != "receive") return list;
    const std::vector<std::string> nameless = stands_without_serial(state_.cells);
    if (!nameless.empty()) list.push_back(cell_form(nameless.front()));
    return list;
  }

  std::vector<FormView> cells_to_describe() const {
    std::vector<FormView> list;
    for (const std::string& stand : action_.names) list.push_back(cell_form(stand));
    return list;
  }

  /// Where an action is about some stands, rows for these alone.
  [[nodiscard]] FormView of_stands(FormView form) const {
    if (action_.names.empty()) return form;
    std::erase_if(form.rows, [this](const report::FormRow& row) {
      return std::find(action_.names.begin(), action_.names.end(), row.key) == action_.names.end();
    });
    return form;
  }

  std::vector<FormView> ticks() const {
    std::vector<FormView> list;
    for (const std::string& name : action_.names) {
      FormView form = tick_form(name);
      form.remark |= action_.remark_needed;
      if (name == "grouted") form.practice = {"grout"};
      if (name == "exercised") {
        const std::string truck = typed_mass(deck_, 2.0 * load_kg_);
        form.practice = {"pass 1-2 " + truck, "pass 2-1 " + truck};
      }
      list.push_back(std::move(form));
    }
    return list;
  }

  FormView corners() const {
    if (!action_.place.empty()) {
      FormView one = shift_form(deck_, {{.at = action_.place, .given = {}}});
      one.practice = {"place " + action_.place + " " + load_ + " fine"};
      return one;
    }
    FormView form = corners_form(deck_);
    form.practice = {"corners " + load_ + " fine"};
    return form;
  }

  FormView more_places() const {
    const std::string worst = action_.place.empty() ? "1L" : action_.place;
    const std::string between = between_sections(deck_);
    const std::string column = in_pounds(deck_) ? "load_lb" : "load_kg";
    const std::string half = mass_figure(deck_, load_kg_ / 2.0);
    FormView form = shift_form(deck_, {{.at = worst, .given = {{column, half}, {"going", "up"}}},
                                       {.at = worst, .given = {{"going", "up"}}},
                                       {.at = worst, .given = {{column, half}, {"going", "down"}}},
                                       {.at = between, .given = {}}});
    form.practice = {steps_at(worst), "place " + between + " " + load_ + " fine"};
    return form;
  }

  /// Half the load and the load, up and down.
  [[nodiscard]] std::string steps_at(const std::string& place) const {
    return "steps " + place + " " + typed_mass(deck_, load_kg_ / 2.0) + " " + load_ + " fine";
  }

  FormView loads() const {
    FormView form = loads_form(deck_);
    const double most_kg = std::min(0.6 * deck_.capacity_kg, 4.0 * load_kg_);
    std::string line = "loads";
    for (const double part : {0.25, 0.5, 0.75, 1.0}) {
      const double step_kg = in_pounds(deck_) ? 1000.0 * units::kPound_kg : 1000.0;
      line +=
          " " + typed_mass(deck_, std::max(1.0, std::round(part * most_kg / step_kg)) * step_kg);
    }
    form.practice = {line + " fine"};
    return form;
  }

  std::vector<FormView> as_found() const {
    const AsFoundRead read = as_found_read(state_);
    std::vector<FormView> list;
    if (!read.corners) {
      FormView corner = corners_form(deck_);
      corner.practice = {steps_at("1L"), "corners " + load_ + " fine"};
      list.push_back(std::move(corner));
    } else if (!read.zero) {
      FormView zero = zeros_form(deck_, {"nothing"});
      zero.practice = {"zero fine"};
      list.push_back(std::move(zero));
    }
    // On a box each cell alone costs a seal: that is offered in words, not asked.
    if (deck_.is_digital() && !read.cells) list.push_back(readings_form(deck_));
    return list;
  }

  /// Whether a gauge was put there since something was moved last.
  [[nodiscard]] bool felt(const std::string& support) const {
    const std::vector<record::Measurement>& events = advice_.share_evidence.events;
    for (auto event = events.rbegin(); event != events.rend(); ++event) {
      if (std::holds_alternative<record::TurnSet>(*event)) return false;
      const auto* const set = std::get_if<record::GapSet>(&*event);
      if (set == nullptr) continue;
      for (const record::Gap& gap : set->gaps) {
        if (name_of(gap.place) == support) return true;
      }
    }
    return false;
  }

  std::vector<FormView> share() const {
    const report::ShareView& view = *advice_.share.view;
    std::vector<FormView> list;
    std::vector<std::string> gaps;
    std::vector<report::AskView> touches;
    for (const report::AskView& ask : view.asks) {
      if (ask.what == "gap" && !felt(ask.support)) gaps.push_back(ask.support);
      if (ask.what == "touch") touches.push_back(ask);
      if (ask.what == "no_load") list.push_back(no_load_form(deck_));
      if (ask.what == "map") list.push_back(map_form(deck_));
      if (ask.what == "repeat") list.push_back(readings_form(deck_));
    }
    if (!gaps.empty()) list.push_back(gaps_form(gaps));
    if (!touches.empty()) list.push_back(touch_form(touches));
    // Gaps are felt before anything is turned.
    for (FormView& form : moves_forms(view.moves)) list.push_back(std::move(form));
    if (view.moves.empty() && view.asks.empty()) {
      list.push_back(readings_form(deck_));
      list.push_back(tick_form("balance_accepted"));
    }
    return list;
  }

  FormView mended() const {
    FormView form = tick_form("mended");
    if (!advice_.diagnosis) return form;
    for (const diagnose::Cause& cause : advice_.diagnosis->causes) {
      if (cause.innocent) continue;
      form.practice = {"mend " + cause.code};
      break;
    }
    return form;
  }

  FormView load_at(const Next& next, bool steps) const {
    const double load_kg = next.load_kg > 0.0 ? next.load_kg : load_kg_;
    const std::string place = next.where.empty() ? "1" : next.where;
    const std::string column = in_pounds(deck_) ? "load_lb" : "load_kg";
    const std::string figure = mass_figure(deck_, load_kg);
    const std::string half = mass_figure(deck_, load_kg / 2.0);
    std::vector<LoadRow> rows = {{.at = place, .given = {{column, figure}}}};
    if (steps) {
      rows = {{.at = place, .given = {{column, half}, {"going", "up"}}},
              {.at = place, .given = {{column, figure}, {"going", "up"}}},
              {.at = place, .given = {{column, half}, {"going", "down"}}}};
    }
    FormView form = shift_form(deck_, rows);
    const std::string typed = typed_mass(deck_, load_kg);
    form.practice = {steps ? "steps " + place + " " + typed_mass(deck_, load_kg / 2.0) + " " +
                                 typed + " fine"
                           : "place " + place + " " + typed + " fine"};
    return form;
  }

  FormView measurement(const Next& next) const {
    switch (next.kind) {
      case Next::Kind::look:
        return look_form(next.code, next.where);
      case Next::Kind::cells:
        return readings_form(deck_);
      case Next::Kind::no_load:
        return no_load_form(deck_);
      case Next::Kind::load_at:
        return load_at(next, false);
      case Next::Kind::up_down:
      case Next::Kind::two_loads:
        return load_at(next, true);
      case Next::Kind::passes: {
        FormView form = zeros_form(deck_, {"pass 1-2", "pass 2-1"});
        const std::string truck = typed_mass(deck_, 2.0 * load_kg_);
        form.practice = {"pass 1-2 " + truck + " fine", "pass 2-1 " + truck + " fine"};
        return form;
      }
      case Next::Kind::zero_later: {
        FormView form = zeros_form(deck_, {"nothing"});
        form.practice = {"wait 3 h", "zero fine"};
        return form;
      }
      case Next::Kind::meter:
        return electrics_form(
            deck_, next.where.empty() ? std::vector<std::string>{} : std::vector{next.where});
      case Next::Kind::map:
        return map_form(deck_);
    }
    return readings_form(deck_);
  }

  std::vector<FormView> cause() const {
    std::vector<FormView> list;
    if (advice_.diagnosis && !advice_.diagnosis->next.empty()) {
      list.push_back(measurement(advice_.diagnosis->next.front()));
    }
    list.push_back(mended());
    list.push_back(tick_form("nothing_found"));
    return list;
  }

  const SiteState& state_;
  const deck::Deck& deck_;
  const SiteAdvice& advice_;
  const Action& action_;
  double load_kg_ = 0.0;
  std::string load_;
};

}  // namespace

double handy_load_kg(const deck::Deck& deck) {
  double cell_kg = deck.stands.front().cell.capacity_kg;
  for (const deck::Stand& stand : deck.stands) cell_kg = std::min(cell_kg, stand.cell.capacity_kg);
  const double most_kg =
      deck.capacity_kg > 0.0 ? std::min(0.4 * cell_kg, 0.3 * deck.capacity_kg) : 0.4 * cell_kg;
  const double step_kg = in_pounds(deck) ? 1000.0 * units::kPound_kg : 1000.0;
  return std::max(1.0, std::floor(most_kg / step_kg + 1e-9)) * step_kg;
}

std::vector<FormView> asks_of(const SiteState& state,
                              const SiteAdvice& advice,
                              const Action& action) {
  if (!state.deck) return {};
  return Asking(state, advice, action).forms();
}

}  // namespace weighwright::job
