#include <limits>
#include <nlohmann/json.hpp>

#include "report/json_parts.h"
#include "report/proof_view.h"

namespace weighwright::report {
namespace {

constexpr const char* kNoBudget = "no uncertainty was computed for this line";
constexpr const char* kNoLimit = "the rulebook has no limit for this line";
constexpr const char* kNotJudged = "not judged: the findings say why";
constexpr const char* kNotANumber = "not a finite number";

Json line_number(int line) {
  return line > 0 ? Json(line) : Json(nullptr);
}

/// In kilograms; on a pound scale in pounds beside them.
void put_mass(Json& object,
              const ProofView& view,
              const std::string& name,
              const std::optional<double>& value_kg,
              const char* reason) {
  put(object, name + "_kg", value_kg, reason);
  if (!view.us) return;
  const auto value_lb =
      value_kg ? std::optional<double>(in_unit(view, *value_kg)) : std::optional<double>();
  put(object, name + "_lb", value_lb, reason);
}

/// Two significant digits in each unit (JCGM 100:2008, 7.2.6).
void put_uncertainty(Json& object,
                     const ProofView& view,
                     const std::string& name,
                     const std::optional<double>& value_kg,
                     const char* reason) {
  const auto rounded = [&value_kg](double factor) {
    return value_kg ? std::optional<double>(two_digits(*value_kg * factor))
                    : std::optional<double>();
  };
  put(object, name + "_kg", rounded(1.0), reason);
  if (view.us) put(object, name + "_lb", rounded(in_unit(view, 1.0)), reason);
}

Json terms_json(const std::vector<ProofTermView>& terms) {
  Json list = Json::array();
  for (const ProofTermView& term : terms) {
    Json object = {{"code", term.code}, {"name", term.name}};
    put(object, "u_kg", term.u_kg, kNotANumber);
    put(object, "share", term.share, kNotANumber);
    object["source"] = text_or_null(term.source);
    list.push_back(object);
  }
  return list;
}

Json line_json(const ProofView& view, const ProofLineView& line) {
  Json object = {{"check", line.check}, {"name", line.name}, {"run", line.run}};
  object["where"] = text_or_null(line.where);
  object["at"] = text_or_null(line.at);
  object["heading"] = text_or_null(line.heading);
  object["material"] = text_or_null(line.material);
  object["range"] = line.range > 0 ? Json(line.range) : Json(nullptr);
  put_mass(object, view, "load", line.load_kg, kNotANumber);
  put_mass(object, view, "indication", line.indication_kg, kNotANumber);
  put_mass(object, view, "added", line.added_kg, "no small weights were added");
  put_mass(object, view, "division", line.division_kg, kNotANumber);
  put_mass(object, view, "zero", line.zero_kg, "zero was not read; nothing is taken off");
  put_mass(object, view, "start", line.start_kg, "the deck was empty before the load");
  put_mass(object, view, "error", line.error_kg, kNotANumber);
  object["before_rounding"] = line.before_rounding;
  put_mass(object, view, "limit", line.limit_kg, line.no_limit ? kNoLimit : kNotJudged);
  object["clause"] = text_or_null(line.clause);
  object["verdict"] = line.verdict;
  object["sure"] = text_or_null(line.sure);
  put_uncertainty(object, view, "U", line.U_kg, kNoBudget);
  put(object, "k", line.k, kNoBudget);
  put(object, "dof", line.dof, "infinite, or no uncertainty was computed");
  put(object, "p_conforming", line.p_conforming, "not judged");
  put(object, "p_false", line.p_false, "not judged");
  object["terms"] = terms_json(line.terms);
  object["attack"] = text_or_null(line.attack);
  object["file"] = text_or_null(line.file);
  object["line"] = line_number(line.line);
  return object;
}

Json repeats_json(const ProofView& view, const std::vector<ProofRepeatView>& repeats) {
  Json list = Json::array();
  for (const ProofRepeatView& one : repeats) {
    Json object = Json::object();
    put_mass(object, view, "indication", one.indication_kg, kNotANumber);
    put_mass(object, view, "added", one.added_kg, "no small weights were added");
    put_mass(object, view, "zero", one.zero_kg, kNotANumber);
    put_mass(object, view, "result", one.result_kg, kNotANumber);
    list.push_back(object);
  }
  return list;
}

Json range_json(const ProofView& view, const ProofRangeView& range) {
  Json object = {{"check", range.check}, {"name", range.name}};
  object["where"] = text_or_null(range.where);
  put_mass(object, view, "load", range.load_kg, kNotANumber);
  put_mass(object, view, "value", range.value_kg, kNotANumber);
  put_mass(object, view, "limit", range.limit_kg, kNotANumber);
  object["at_least"] = range.at_least;
  object["count"] = range.count > 0 ? Json(range.count) : Json(nullptr);
  object["verdict"] = range.verdict;
  object["why"] = text_or_null(range.why);
  object["clause"] = text_or_null(range.clause);
  object["repeats"] = repeats_json(view, range.repeats);
  put_mass(object, view, "s", range.s_kg, "nothing was repeated");
  return object;
}

Json substitutes_json(const ProofView& view) {
  Json list = Json::array();
  for (const ProofSubstituteView& one : view.substitutes) {
    Json object = {{"name", one.name}};
    put_mass(object, view, "mass", one.mass_kg, kNotANumber);
    put_uncertainty(object, view, "u", one.u_kg, kNotANumber);
    list.push_back(object);
  }
  return list;
}

Json standard_json(const StandardView& standard) {
  Json object = {{"id", standard.id}, {"count", standard.count}};
  put(object, "nominal_kg", standard.nominal_kg, kNotANumber);
  object["weight_class"] = text_or_null(standard.weight_class);
  put(object, "conventional_kg", standard.conventional_kg, "no certificate value; nominal is used");
  put(object, "U_kg", standard.U_kg, "no certificate value; the class limit is used");
  object["certificate"] = text_or_null(standard.certificate);
  object["expires"] = text_or_null(standard.expires);
  object["traced_to"] = text_or_null(standard.traced_to);
  object["refused"] = text_or_null(standard.refused);
  return object;
}

Json missing_json(const std::vector<ProofMissingView>& missing) {
  Json list = Json::array();
  for (const ProofMissingView& one : missing) {
    list.push_back({{"check", text_or_null(one.check)},
                    {"code", one.code},
                    {"sentence", one.sentence},
                    {"clause", text_or_null(one.clause)},
                    {"range", one.range > 0 ? Json(one.range) : Json(nullptr)}});
  }
  return list;
}

Json not_part_json(const std::vector<NotPartView>& not_part) {
  Json list = Json::array();
  for (const NotPartView& one : not_part) {
    list.push_back({{"check", one.check},
                    {"name", one.name},
                    {"why", one.why},
                    {"sentence", one.sentence},
                    {"clause", text_or_null(one.clause)}});
  }
  return list;
}

Json findings_json(const std::vector<ProofFindingView>& findings) {
  Json list = Json::array();
  for (const ProofFindingView& finding : findings) {
    list.push_back({{"code", finding.code},
                    {"blocks", finding.blocks},
                    {"file", text_or_null(finding.file)},
                    {"line", line_number(finding.line)},
                    {"sentence", finding.sentence},
                    {"clause", text_or_null(finding.clause)}});
  }
  return list;
}

Json chance_json(const ChanceView& chance) {
  Json object = {{"check", chance.check}};
  put(object, "load_kg", chance.load_kg, kNotANumber);
  put(object, "limit_kg", chance.limit_kg, kNotANumber);
  put(object, "expected_error_kg", chance.expected_error_kg, "nothing is known of the error yet");
  put(object, "u_kg", chance.u_kg, "nothing is known of the error yet");
  put(object, "p_pass", chance.p_pass, "nothing is known of the error yet");
  return object;
}

template <typename One, typename Print>
Json list_of(const std::vector<One>& all, Print print_one) {
  Json list = Json::array();
  for (const One& one : all) list.push_back(print_one(one));
  return list;
}

Json staircase_json(const ProofView& view) {
  Json list = Json::array();
  for (const auto& [load, limit] : view.staircase_kg) {
    Json corner = Json::object();
    put(corner, "load_kg", load, kNotANumber);
    put(corner, "limit_kg", limit, kNotANumber);
    list.push_back(corner);
  }
  return list;
}

/// Position in `lines` of the line whose budget is shown first.
Json leading_json(const ProofView& view) {
  const ProofLineView* const leading = leading_line(view);
  return leading == nullptr ? Json(nullptr) : Json(leading - view.lines.data());
}

Json decision_json(const ProofView& view) {
  Json object = {{"rule", view.decision}};
  put(object, "guard_U", view.guard_U, "no guard band");
  return object;
}

Json counts_json(const LineCountsView& counts) {
  return {{"pass", counts.pass},
          {"conditional_pass", counts.conditional_pass},
          {"conditional_fail", counts.conditional_fail},
          {"fail", counts.fail},
          {"not_accepted", counts.not_accepted},
          {"not_judged", counts.not_judged},
          {"U_above_third", counts.U_above_third}};
}

Json head_json(const ProofView& view) {
  Json object;
  object["deck"] = view.deck_name;
  object["outcome"] = view.outcome;
  object["headline"] = view.headline;
  object["phase"] = view.phase;
  object["began"] = text_or_null(view.began);
  object["ended"] = text_or_null(view.ended);
  object["rulebook"] = view.rulebook;
  object["rulebook_remark"] = text_or_null(view.rulebook_remark);
  object["accuracy_class"] = view.accuracy_class;
  object["division"] = view.division;
  object["occasion"] = view.occasion;
  object["occasion_says"] = view.occasion_says;
  object["capacity_kg"] = view.capacity_kg;
  object["interval_kg"] = view.interval_kg;
  object["ranges_say"] = text_or_null(view.ranges_say);
  object["decision_rule"] = view.decision_rule;
  object["decision"] = decision_json(view);
  object["counts"] = counts_json(view.counts);
  object["us"] = view.us;
  object["unit"] = mass_unit(view);
  return object;
}

}  // namespace

std::string print_json(const ProofView& view) {
  Json object = head_json(view);
  object["lines"] =
      list_of(view.lines, [&view](const ProofLineView& line) { return line_json(view, line); });
  object["leading"] = leading_json(view);
  object["ranges"] = list_of(
      view.ranges, [&view](const ProofRangeView& range) { return range_json(view, range); });
  object["substitutes"] = substitutes_json(view);
  put_mass(object, view, "s", view.s_kg, "nothing was repeated");
  object["missing"] = missing_json(view.missing);
  object["not_part"] = not_part_json(view.not_part);
  object["findings"] = findings_json(view.findings);
  object["standards"] = list_of(view.standards, standard_json);
  object["chances"] = list_of(view.chances, chance_json);
  const bool judged = !view.lines.empty() || !view.chances.empty();
  put(object, "p_all", judged ? view.p_all : std::numeric_limits<double>::quiet_NaN(),
      "no line was judged");
  object["coverage"] = view.coverage;
  object["uncertainty"] = text_or_null(view.uncertainty);
  object["sampled"] = text_or_null(view.sampled);
  object["staircase"] = staircase_json(view);
  object["unverified"] = view.unverified;
  object["rules"] = {{"hash", text_or_null(view.rules_hash)},
                     {"confirmed", view.rules_confirmed},
                     {"says", text_or_null(view.rules_says)}};
  object["assumed"] = assumed_json(view.assumed);
  return print(object);
}

}  // namespace weighwright::report
