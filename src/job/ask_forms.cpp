#include "job/ask_forms.h"

#include <fmt/format.h>

#include <optional>

#include "job/plan_of_deck.h"
#include "job/test_forms.h"
#include "job/ticks.h"
#include "record/entry.h"
#include "units/place.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

using report::FormColumn;
using report::FormRow;
using report::FormView;

constexpr bool kNeeded = true;
constexpr bool kIfKnown = false;
constexpr int kOpenLoads = 4;  // rows offered beside the zero

FormColumn figure(const std::string& name,
                  const std::string& unit,
                  bool required,
                  const std::string& live = "") {
  return {
      .name = name, .unit = unit, .number = true, .required = required, .live = live, .one_of = {}};
}

FormColumn choice(const std::string& name, const std::string& one_of, bool required) {
  return {.name = name,
          .unit = {},
          .number = false,
          .required = required,
          .live = {},
          .one_of = one_of};
}

FormView table(const std::string& file, const std::string& form, const std::string& key) {
  FormView view;
  view.kind = "table";
  view.name = file;
  view.form = form;
  view.key = key;
  return view;
}

FormRow row_at(const std::string& place) {
  return {.key = place, .where = {place}, .given = {}};
}

/// The stands that a place of a load lies on or between.
std::vector<std::string> stands_of(const deck::Deck& deck, const std::string& at) {
  if (units::parse_stand(at)) return {at};
  std::vector<std::string> list;
  for (int section = 1; section <= static_cast<int>(deck.sections.size()); ++section) {
    const std::string number = std::to_string(section);
    const bool ends = at == number || at.starts_with(number + "-") || at.ends_with("-" + number);
    if (!ends) continue;
    list.push_back(number + "L");
    list.push_back(number + "R");
  }
  return list;
}

std::string mass_column(const deck::Deck& deck, const char* what) {
  return std::string(what) + (in_pounds(deck) ? "_lb" : "_kg");
}

const char* mass_unit(const deck::Deck& deck) {
  return in_pounds(deck) ? "lb" : "kg";
}

}  // namespace

bool in_pounds(const deck::Deck& deck) {
  return deck.units == deck::UnitSystem::us;
}

const char* reading_unit(const deck::Deck& deck) {
  if (!deck.is_digital()) return "mV";
  if (deck.stands.front().cell.counts) return "counts";
  return in_pounds(deck) ? "lb" : "kg";
}

FormView readings_form(const deck::Deck& deck) {
  FormView view = table("cells.csv", "readings", "stand");
  const std::string unit = reading_unit(deck);
  view.columns = {figure(unit, unit, kNeeded, "stand")};
  if (!deck.is_digital()) view.columns.push_back(figure("excitation_V", "V", kIfKnown));
  for (const std::string& stand : walking_order(deck)) view.rows.push_back(row_at(stand));
  view.practice = {"cells"};
  return view;
}

FormView no_load_form(const deck::Deck& deck) {
  FormView view = table("no-load.csv", "no_load", "stand");
  if (deck.is_digital()) {
    const std::string unit = reading_unit(deck);
    view.columns = {figure(unit, unit, kNeeded, "stand"), figure("no_load", unit, kNeeded)};
    view.practice = {"cells no-load"};
  } else {
    // Not from an instrument: it shows the cell as it stands, with the deck on it.
    view.columns = {figure("zero_mV", "mV", kNeeded), figure("excitation_V", "V", kIfKnown)};
    view.practice = {"meter all"};
  }
  for (const std::string& stand : walking_order(deck)) view.rows.push_back(row_at(stand));
  return view;
}

FormView map_form(const deck::Deck& deck) {
  FormView view = table("map.csv", "map", "loaded");
  std::string stands;
  for (const std::string& stand : walking_order(deck)) {
    view.rows.push_back(row_at(stand));
    stands += (stands.empty() ? "" : "|") + stand;
  }
  view.columns = {choice("moved", stands, kNeeded)};
  view.practice = {"map"};
  return view;
}

FormView shift_form(const deck::Deck& deck, const std::vector<LoadRow>& rows) {
  FormView view = table("corners.csv", "shift", "at");
  const std::string unit = mass_unit(deck);
  view.columns = {figure(mass_column(deck, "load"), unit, kIfKnown),
                  figure("zero_before", unit, kIfKnown, "indication"),
                  figure(mass_column(deck, "indication"), unit, kNeeded, "indication"),
                  figure("zero_after", unit, kIfKnown, "indication"),
                  choice("going", "up|down", kIfKnown)};
  for (const LoadRow& row : rows) {
    view.rows.push_back({.key = row.at, .where = stands_of(deck, row.at), .given = row.given});
  }
  view.open_rows = true;
  return view;
}

FormView corners_form(const deck::Deck& deck) {
  std::vector<LoadRow> rows;
  for (const std::string& stand : walking_order(deck)) rows.push_back({.at = stand, .given = {}});
  return shift_form(deck, rows);
}

FormView loads_form(const deck::Deck& deck) {
  FormView view = table("loads.csv", "loads", mass_column(deck, "load"));
  view.columns = {figure(mass_column(deck, "indication"), mass_unit(deck), kNeeded, "indication"),
                  choice("going", "up|down", kIfKnown)};
  view.rows.push_back({.key = "0", .where = {}, .given = {}});
  for (int i = 0; i < kOpenLoads; ++i) view.rows.push_back({.key = {}, .where = {}, .given = {}});
  view.open_rows = true;
  return view;
}

namespace {

/// As few digits as a screw, a shim or a trim can be set to.
std::string amount(double value) {
  return fmt::format("{:.7g}", value);
}

}  // namespace

std::vector<FormView> moves_forms(const std::vector<report::MoveView>& moves) {
  std::vector<FormView> forms;
  for (const bool shims : {false, true}) {
    FormView view = table(shims ? "shims.csv" : "turns.csv", "turns", "stand");
    const std::string column = shims ? "shim_mm" : "turns";
    view.columns = {figure(column, shims ? "mm" : "turns", kNeeded)};
    std::string practice = shims ? "shim" : "turn";
    for (const report::MoveView& move : moves) {
      if (move.shim != shims) continue;
      const std::string value = amount(shims ? move.raise_mm : move.turns);
      view.rows.push_back({.key = move.stand,
                           .where = {move.stand},
                           .given = {{column, value}},
                           .says = move.instruction});
      practice += " " + move.stand + " " + value + (shims ? " mm" : "");
    }
    view.practice = {practice};
    if (!view.rows.empty()) forms.push_back(std::move(view));
  }
  return forms;
}

namespace {

struct TrimTo {
  std::string trim;
  std::optional<double> turns;
  std::optional<double> ohm;
  std::optional<double> factor;
  std::string says;
};

FormView trims_form(const std::string& column,
                    const std::vector<TrimTo>& trims,
                    std::optional<double> TrimTo::* by) {
  FormView form = table("trims.csv", "trims", "trim");
  form.columns = {figure(column, column == "factor" ? "" : column, kNeeded)};
  std::string practice = "trim";
  for (const TrimTo& one : trims) {
    if (!(one.*by)) continue;
    const std::string text = amount(*(one.*by));
    const bool section = !units::parse_stand(one.trim).has_value();
    std::vector<std::string> where = {one.trim};
    if (section) where = {one.trim + "L", one.trim + "R"};
    form.rows.push_back(
        {.key = one.trim, .where = std::move(where), .given = {{column, text}}, .says = one.says});
    practice += (section ? " section " : " ") + one.trim;
    practice +=
        column == "factor" ? " factor " + text : " " + text + (column == "ohm" ? " ohm" : "");
  }
  form.practice = {practice};
  return form;
}

}  // namespace

std::vector<FormView> trims_forms(const report::TrimView& view) {
  std::vector<TrimTo> trims;
  if (view.learn) {
    trims.push_back({.trim = view.learn_trim,
                     .turns = view.learn_turns,
                     .ohm = {},
                     .factor = {},
                     .says = *view.learn});
  } else {
    for (const report::TrimSettingView& one : view.trims) {
      const bool turns = one.turns.has_value();
      const bool factor = !turns && one.factor.has_value();
      trims.push_back({.trim = one.trim,
                       .turns = one.turns,
                       .ohm = turns || factor ? std::nullopt : one.ohm,
                       .factor = factor ? one.factor : std::nullopt,
                       .says = one.instruction});
    }
  }
  std::vector<FormView> forms;
  for (FormView form :
       {trims_form("turns", trims, &TrimTo::turns), trims_form("ohm", trims, &TrimTo::ohm),
        trims_form("factor", trims, &TrimTo::factor)}) {
    if (!form.rows.empty()) forms.push_back(std::move(form));
  }
  return forms;
}

FormView gaps_form(const std::vector<std::string>& supports) {
  FormView view = table("gaps.csv", "gaps", "support");
  view.columns = {figure("gap_mm", "mm", kNeeded)};
  for (const std::string& support : supports) {
    const bool stand = units::parse_stand(support).has_value();
    view.rows.push_back({.key = support,
                         .where = stand ? std::vector{support} : std::vector<std::string>{},
                         .given = {}});
  }
  view.practice = {"gaps"};
  return view;
}

FormView touch_form(const std::vector<report::AskView>& asks) {
  FormView view = table("touch.csv", "turns", "stand");
  view.columns = {figure("turns", "turns", kNeeded), choice("until", "touch", kNeeded)};
  for (const report::AskView& ask : asks) {
    view.rows.push_back({.key = ask.support,
                         .where = {ask.support},
                         .given = {{"until", "touch"}},
                         .says = ask.sentence});
  }
  return view;
}

FormView look_form(const std::string& code, const std::string& where) {
  FormView view = table("found.csv", "looks", "look");
  view.columns = {choice("where", "", kIfKnown), choice("found", "yes|no", kNeeded)};
  const bool stand = units::parse_stand(where).has_value();
  view.rows.push_back({.key = code,
                       .where = stand ? std::vector{where} : std::vector<std::string>{},
                       .given = {{"where", where}}});
  view.practice = {"look " + code + (where.empty() ? "" : " " + where)};
  return view;
}

FormView zeros_form(const deck::Deck& deck, const std::vector<std::string>& after) {
  FormView view = table("zero.csv", "zeros", "after");
  view.columns = {figure(mass_column(deck, "zero"), mass_unit(deck), kNeeded, "indication"),
                  {.name = "time",
                   .unit = {},
                   .number = false,
                   .required = kIfKnown,
                   .live = "time",
                   .one_of = {}},
                  figure("temp_degC", "degC", kIfKnown),
                  choice("rain", "yes|no", kIfKnown)};
  for (const std::string& what : after) {
    view.rows.push_back({.key = what, .where = {}, .given = {}});
  }
  view.open_rows = true;
  return view;
}

FormView electrics_form(const deck::Deck& deck, const std::vector<std::string>& places) {
  FormView view = table("meter.csv", "electrics", "stand");
  view.columns = {figure("input_ohm", "ohm", kIfKnown), figure("output_ohm", "ohm", kIfKnown),
                  figure("insulation_Mohm", "Mohm", kIfKnown), figure("test_V", "V", kIfKnown),
                  figure("zero_mV", "mV", kIfKnown)};
  std::string practice = "meter";
  for (const std::string& place : places.empty() ? walking_order(deck) : places) {
    view.rows.push_back(row_at(place));
    practice += " " + place;
  }
  view.practice = {places.empty() ? "meter all" : practice};
  return view;
}

FormView tick_form(const std::string& tick) {
  FormView view;
  view.kind = "tick";
  view.name = tick;
  const TickRule* const rule = find_tick(tick);
  view.sentence = rule == nullptr ? tick : std::string(rule->says);
  view.remark = tick == "mended" || tick == "balance_accepted" || tick == "nothing_found";
  return view;
}

FormView span_form(double correction) {
  const std::string value = units::print_fixed(correction, 6);
  FormView view =
      entry_form("setting", {{"name", "span"}, {"value", "times " + value}, {"when", "left"}});
  view.practice = {"span " + value};
  return view;
}

FormView visit_form() {
  return entry_form("visit", {{"reason", "service"}});
}

FormView cell_form(const std::string& stand) {
  return entry_form("cell_placed", {{"stand", stand}});
}

FormView pour_form(const std::vector<std::string>& marks) {
  FormView form = entry_form("pour", {{"module", marks.size() == 1 ? marks.front() : "all"}});
  form.practice = {"pour"};
  return form;
}

}  // namespace weighwright::job
