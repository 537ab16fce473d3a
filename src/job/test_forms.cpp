#include "job/test_forms.h"

#include <fmt/format.h>

#include <cmath>

#include "job/ask_forms.h"
#include "record/entry.h"
#include "record/measurement.h"
#include "units/place.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

using report::FormColumn;
using report::FormRow;
using report::FormView;
using report::PlacementView;

constexpr bool kNeeded = true;
constexpr bool kIfKnown = false;

FormColumn figure(std::string name, std::string unit, bool required, std::string live = {}) {
  return {.name = std::move(name),
          .unit = std::move(unit),
          .number = true,
          .required = required,
          .live = std::move(live),
          .one_of = {}};
}

FormColumn words(std::string name, bool required, std::string one_of = {}) {
  return {.name = std::move(name),
          .unit = {},
          .number = false,
          .required = required,
          .live = {},
          .one_of = std::move(one_of)};
}

class Masses {
 public:
  explicit Masses(const deck::Deck& deck) : us_(in_pounds(deck)) {}
  [[nodiscard]] std::string unit() const { return us_ ? "lb" : "kg"; }
  [[nodiscard]] std::string column(const std::string& what) const { return what + "_" + unit(); }
  /// The figure alone.
  [[nodiscard]] std::string figure(double kg) const {
    const double value = us_ ? kg / units::kPound_kg : kg;
    return units::print_exact(std::round(value * 1e6) / 1e6);
  }
  /// As a practice site takes it, without a blank in it.
  [[nodiscard]] std::string typed(double kg) const { return figure(kg) + " " + unit(); }

 private:
  bool us_;
};

std::string all_checks() {
  std::string list;
  for (const std::string_view one : record::proof_checks()) {
    list += (list.empty() ? "" : "|") + std::string(one);
  }
  return list;
}

/// Stands that a place lies on or between.
std::vector<std::string> stands_at(const deck::Deck& deck, const std::string& at) {
  if (at.empty()) return {};
  if (units::parse_stand(at)) return {at};
  std::vector<std::string> list;
  for (std::size_t section = 1; section <= deck.sections.size(); ++section) {
    const std::string number = std::to_string(section);
    if (at != number && !at.starts_with(number + "-") && !at.ends_with("-" + number)) continue;
    list.push_back(number + "L");
    list.push_back(number + "R");
  }
  return list;
}

FormView results_table() {
  FormView view;
  view.kind = "table";
  view.name = "results.csv";
  view.form = "proof";
  view.key = "check";
  return view;
}

/// `test increasing 10000 kg at 2 to_end_2 run 2 weights W1*3 with S1 20000 kg add 28 kg`
std::string practice_of(const deck::Deck& deck, const PlacementView& placement) {
  const Masses mass(deck);
  const bool laden = !placement.weights.empty() || !placement.materials.empty();
  std::string line =
      "test " + placement.check + " " +
      mass.typed(laden && !placement.materials.empty() ? placement.weights_kg : placement.load_kg);
  if (!placement.at.empty()) line += " at " + placement.at;
  if (!placement.heading.empty()) line += " " + placement.heading;
  if (placement.run > 1) line += " run " + std::to_string(placement.run);
  if (!placement.weights.empty()) line += " weights " + placement.weights;
  if (!placement.materials.empty()) {
    line +=
        " with " + placement.materials + " " + mass.typed(placement.load_kg - placement.weights_kg);
  }
  if (placement.added_kg) line += " add " + mass.typed(*placement.added_kg);
  if (!placement.read_zero_before) line += " laden";
  if (!placement.read_zero_after) line += " stays";
  return line + (deck.rulebook == "H44" ? "" : " fine");
}

/// Which looks at zero belong to a line.
struct Zeros {
  bool before = true;
  bool after = true;
};

void add_columns(const deck::Deck& deck, const std::string& check, Zeros zeros, FormView& view) {
  const Masses mass(deck);
  const std::string unit = mass.unit();
  view.columns = {figure(mass.column("load"), unit, kNeeded)};
  if (check == "strain") {
    view.columns.push_back(figure("start", unit, kNeeded, "indication"));
  } else if (zeros.before && check != "zero") {
    view.columns.push_back(figure("zero_before", unit, kIfKnown, "indication"));
  }
  view.columns.push_back(figure(mass.column("indication"), unit, kNeeded, "indication"));
  const bool step = check == "discrimination";
  view.columns.push_back(figure(mass.column("added"), unit, step));
  if (step) view.columns.push_back(figure("then", unit, kNeeded, "indication"));
  if (zeros.after) view.columns.push_back(figure("zero_after", unit, kIfKnown, "indication"));
}

/// Columns that the plan fills in and nobody looks at twice.
void add_planned(const PlacementView& placement, FormView& view, FormRow& row) {
  const auto add = [&](const std::string& name, const std::string& value) {
    if (value.empty()) return;
    view.columns.push_back(words(name, kIfKnown));
    row.given.emplace_back(name, value);
  };
  add("at", placement.at);
  add("heading", placement.heading);
  add("weights", placement.weights);
  add("material", placement.materials);
  if (placement.run > 1) add("run", std::to_string(placement.run));
}

bool has_party(const SiteState& state, const std::string& role) {
  return state.parties.contains(role);
}

}  // namespace

FormView entry_form(const std::string& kind,
                    const std::vector<std::pair<std::string, std::string>>& given) {
  FormView view;
  view.kind = "entry";
  view.name = kind;
  const record::KindRule* const rule = record::find_kind(kind);
  if (rule == nullptr) return view;
  for (const record::FieldRule& field : rule->fields) {
    report::FormField shown{.name = std::string(field.name),
                            .says = std::string(field.says),
                            .one_of = std::string(field.one_of),
                            .given = {},
                            .required = field.required,
                            .kind = std::string(record::code_of(field.kind)),
                            .example = std::string(record::example_of(field)),
                            .range = std::string(field.range)};
    for (const auto& [name, value] : given) {
      if (name == field.name) shown.given = value;
    }
    view.fields.push_back(std::move(shown));
  }
  return view;
}

FormView occasion_form(const std::vector<std::string>& occasions) {
  FormView view = entry_form("occasion", {{"decision", "simple"}, {"load_over", "rolling"}});
  view.sentence = "What the test is for: the limits depend on it.";
  std::string list;
  for (const std::string& one : occasions) list += (list.empty() ? "" : "|") + one;
  for (report::FormField& field : view.fields) {
    if (field.name == "occasion" && !list.empty()) field.one_of = list;
  }
  return view;
}

FormView weights_form(const deck::Deck& deck) {
  const Masses mass(deck);
  FormView view;
  view.kind = "table";
  view.name = "weights.csv";
  view.form = "weights";
  view.key = "id";
  view.columns = {figure(mass.column("nominal"), mass.unit(), kNeeded),
                  figure("count", "", kIfKnown),
                  words("class", kIfKnown),
                  words("certificate", kIfKnown),
                  figure(mass.column("conventional"), mass.unit(), kIfKnown),
                  figure("uncertainty_g", "g", kIfKnown),
                  figure("k", "", kIfKnown),
                  words("expires", kIfKnown),
                  words("handling", kIfKnown, "hand|cart|crane|fork|vehicle"),
                  figure("length_m", "m", kIfKnown),
                  figure("width_m", "m", kIfKnown),
                  figure("axles", "", kIfKnown)};
  constexpr int kLines = 3;
  for (int i = 0; i < kLines; ++i) view.rows.push_back({.key = {}, .where = {}, .given = {}});
  view.open_rows = true;
  view.practice = {"weights"};
  return view;
}

FormView placement_form(const deck::Deck& deck, const PlacementView& placement) {
  const Masses mass(deck);
  FormView view = results_table();
  add_columns(deck, placement.check,
              {.before = placement.read_zero_before, .after = placement.read_zero_after}, view);
  FormRow row{.key = placement.check, .where = stands_at(deck, placement.at), .given = {}};
  const double load_kg = placement.materials.empty() ? placement.load_kg : placement.weights_kg;
  row.given.emplace_back(mass.column("load"), mass.figure(load_kg));
  if (placement.added_kg)
    row.given.emplace_back(mass.column("added"), mass.figure(*placement.added_kg));
  add_planned(placement, view, row);
  view.rows.push_back(std::move(row));
  view.sentence = placement.sentence;
  if (placement.check == "zero") view.practice = {"set-zero"};
  view.practice.push_back(practice_of(deck, placement));
  return view;
}

FormView results_form(const deck::Deck& deck) {
  FormView view = results_table();
  add_columns(deck, "", {}, view);
  view.columns.push_back(words("at", kIfKnown));
  view.columns.push_back(words("heading", kIfKnown, "to_end_2|to_end_1"));
  view.columns.push_back(words("weights", kIfKnown));
  view.columns.push_back(words("material", kIfKnown));
  view.sentence = all_checks();
  view.rows.push_back({.key = {}, .where = {}, .given = {}});
  view.open_rows = true;
  return view;
}

std::vector<FormView> report_forms(const SiteState& state) {
  std::vector<FormView> list;
  const std::int64_t count = static_cast<std::int64_t>(state.history.lines.size());
  std::string device;
  if (count > 0) device = state.history.lines.back().entry.stamp.device.substr(0, 4);
  list.push_back(
      entry_form("report_issued", {{"number", fmt::format("{}-{}", device, count + 1)}}));
  if (!has_party(state, "customer")) list.push_back(entry_form("party", {{"role", "customer"}}));
  if (!has_party(state, "laboratory")) {
    list.push_back(entry_form("party", {{"role", "laboratory"}}));
  }
  if (!has_party(state, "signatory")) list.push_back(entry_form("party", {{"role", "signatory"}}));
  if (state.item_line < 0) list.push_back(entry_form("item", {}));
  return list;
}

}  // namespace weighwright::job
