#include <limits>
#include <nlohmann/json.hpp>

#include "report/json_parts.h"
#include "report/proof_view.h"

namespace weighwright::report {
namespace {

constexpr const char* kNoBudget = "no uncertainty was computed for this line";
constexpr const char* kNotANumber = "not a finite number";

Json line_number(int line) {
  return line > 0 ? Json(line) : Json(nullptr);
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

Json line_json(const ProofLineView& line) {
  Json object = {{"check", line.check}, {"name", line.name}, {"run", line.run}};
  object["where"] = text_or_null(line.where);
  object["material"] = text_or_null(line.material);
  object["range"] = line.range > 0 ? Json(line.range) : Json(nullptr);
  put(object, "load_kg", line.load_kg, kNotANumber);
  put(object, "indication_kg", line.indication_kg, kNotANumber);
  put(object, "error_kg", line.error_kg, kNotANumber);
  object["before_rounding"] = line.before_rounding;
  put(object, "limit_kg", line.limit_kg, "the rulebook has no limit for this line");
  object["clause"] = text_or_null(line.clause);
  object["verdict"] = line.verdict;
  object["sure"] = text_or_null(line.sure);
  put(object, "U_kg", line.U_kg, kNoBudget);
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

Json range_json(const ProofRangeView& range) {
  Json object = {{"check", range.check}, {"name", range.name}};
  object["where"] = text_or_null(range.where);
  put(object, "load_kg", range.load_kg, kNotANumber);
  put(object, "value_kg", range.value_kg, kNotANumber);
  put(object, "limit_kg", range.limit_kg, kNotANumber);
  object["at_least"] = range.at_least;
  object["count"] = range.count > 0 ? Json(range.count) : Json(nullptr);
  object["verdict"] = range.verdict;
  object["why"] = text_or_null(range.why);
  object["clause"] = text_or_null(range.clause);
  return object;
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

Json head_json(const ProofView& view) {
  Json object;
  object["deck"] = view.deck_name;
  object["outcome"] = view.outcome;
  object["headline"] = view.headline;
  object["phase"] = view.phase;
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
  object["us"] = view.us;
  return object;
}

}  // namespace

std::string print_json(const ProofView& view) {
  Json object = head_json(view);
  object["lines"] = list_of(view.lines, line_json);
  object["leading"] = leading_json(view);
  object["ranges"] = list_of(view.ranges, range_json);
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
  object["assumed"] = assumed_json(view.assumed);
  return print(object);
}

}  // namespace weighwright::report
