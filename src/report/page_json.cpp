#include <nlohmann/json.hpp>

#include "report/answer_json.h"
#include "report/json_parts.h"
#include "report/page_view.h"

namespace weighwright::report {
namespace {

Json number_or_null(const std::optional<double>& value) {
  return value ? Json(*value) : Json(nullptr);
}

/// On one line; bytes that are no UTF-8 are replaced.
std::string line_of(const Json& object) {
  return object.dump(-1, ' ', false, Json::error_handler_t::replace);
}

Json pairs_of(const std::vector<std::pair<std::string, std::string>>& given) {
  Json object = Json::object();
  for (const auto& [name, value] : given) object[name] = value;
  return object;
}

Json table_form(const FormView& form) {
  Json columns = Json::array();
  for (const FormColumn& column : form.columns) {
    columns.push_back({{"name", column.name},
                       {"unit", column.unit},
                       {"number", column.number},
                       {"required", column.required},
                       {"live", column.live},
                       {"one_of", column.one_of}});
  }
  Json rows = Json::array();
  for (const FormRow& row : form.rows) {
    rows.push_back({{"key", row.key},
                    {"where", row.where},
                    {"given", pairs_of(row.given)},
                    {"says", row.says}});
  }
  return {{"kind", "table"},
          {"name", form.name},
          {"form", form.form},
          {"key", form.key},
          {"columns", columns},
          {"rows", rows},
          {"open_rows", form.open_rows},
          {"sentence", form.sentence},
          {"practice", form.practice}};
}

Json form_json(const FormView& form) {
  if (form.kind == "table") return table_form(form);
  Json object = {{"kind", form.kind}, {"name", form.name}};
  if (form.kind == "tick") {
    object["sentence"] = form.sentence;
    object["remark"] = form.remark;
  } else {
    object["fields"] = Json::array();
    for (const FormField& field : form.fields) {
      object["fields"].push_back({{"name", field.name},
                                  {"says", field.says},
                                  {"one_of", field.one_of},
                                  {"given", field.given},
                                  {"required", field.required},
                                  {"kind", field.kind},
                                  {"example", field.example},
                                  {"range", field.range}});
    }
  }
  object["practice"] = form.practice;
  return object;
}

Json stands_of(const DrawnDeck& deck) {
  Json list = Json::array();
  for (const DrawnStand& stand : deck.stands) {
    list.push_back({{"stand", stand.stand},
                    {"section", stand.section},
                    {"x_m", stand.x_m},
                    {"y_m", stand.y_m},
                    {"tag", stand.tag},
                    {"adjust", stand.adjust},
                    {"load_N", number_or_null(stand.load_N)},
                    {"u_load_N", number_or_null(stand.u_load_N)},
                    {"expected_N", number_or_null(stand.expected_N)},
                    {"shown", stand.shown},
                    {"chance_free", stand.chance_free},
                    {"no_load", stand.no_load},
                    {"then_shown", stand.then_shown},
                    {"then_load_N", number_or_null(stand.then_load_N)}});
  }
  return list;
}

Json plan_json(const DrawnDeck& deck) {
  Json object = {{"gravity_m_per_s2", deck.gravity_m_per_s2},
                 {"length_m", deck.length_m},
                 {"width_m", deck.width_m}};
  object["modules"] = Json::array();
  for (const DrawnModule& module : deck.modules) {
    object["modules"].push_back({{"mark", module.mark},
                                 {"start_m", module.start_m},
                                 {"end_m", module.end_m},
                                 {"width_m", module.width_m},
                                 {"construction", module.construction}});
  }
  object["joints"] = Json::array();
  for (const DrawnJoint& joint : deck.joints) {
    object["joints"].push_back({{"at_m", joint.at_m},
                                {"kind", joint.kind},
                                {"across_m", joint.across_m},
                                {"left", joint.left},
                                {"right", joint.right},
                                {"rests", joint.rests}});
  }
  object["stands"] = stands_of(deck);
  object["pairs"] = Json::array();
  for (const DrawnPair& pair : deck.pairs) {
    object["pairs"].push_back({{"section", pair.section},
                               {"at_m", pair.at_m},
                               {"difference_mV", pair.difference_mV},
                               {"tolerance_mV", pair.tolerance_mV},
                               {"difference_N", pair.difference_N},
                               {"within", pair.within}});
  }
  return object;
}

Json belief_json(const BeliefView& belief) {
  constexpr double kMN = 1e-6;
  Json object = {{"sentence", belief.sentence}};
  object["bodies"] = Json::array();
  for (const BodyView& body : belief.bodies) {
    object["bodies"].push_back({{"name", body.name},
                                {"twisting_MNm2",
                                 {{"low", body.low_Nm2 * kMN},
                                  {"middle", body.middle_Nm2 * kMN},
                                  {"high", body.high_Nm2 * kMN},
                                  {"before_low", body.before_low_Nm2 * kMN},
                                  {"before_high", body.before_high_Nm2 * kMN}}}});
  }
  object["open"] = Json::array();
  for (const OpenView& open : belief.open) {
    object["open"].push_back(
        {{"place", open.place}, {"chance", open.chance}, {"air_mm", open.air_mm}});
  }
  object["judgements"] = Json::array();
  for (const JudgementView& judgement : belief.judgements) {
    object["judgements"].push_back({{"code", judgement.code},
                                    {"verdict", judgement.verdict},
                                    {"sentence", judgement.sentence}});
  }
  object["assumed"] = assumed_json(belief.assumed);
  return object;
}

Json test_line_json(const PageTestLineView& line) {
  Json patches = Json::array();
  for (const DrawnPatch& patch : line.patches) {
    patches.push_back({{"x_m", patch.x_m},
                       {"y_m", patch.y_m},
                       {"along_m", patch.along_m},
                       {"across_m", patch.across_m}});
  }
  return {{"number", line.number},
          {"check", line.check},
          {"name", line.name},
          {"where", line.where},
          {"at", line.at},
          {"heading", line.heading},
          {"sentence", line.sentence},
          {"clause", line.clause},
          {"required", line.required},
          {"load_kg", number_or_null(line.load_kg)},
          {"limit_kg", number_or_null(line.limit_kg)},
          {"state", line.state},
          {"verdict", text_or_null(line.verdict)},
          {"error_kg", number_or_null(line.error_kg)},
          {"U_kg", number_or_null(line.U_kg)},
          {"patches", patches}};
}

Json test_json(const PageTestView& test) {
  Json lines = Json::array();
  for (const PageTestLineView& line : test.lines) lines.push_back(test_line_json(line));
  return {{"rulebook", test.rulebook},
          {"occasion_says", test.occasion_says},
          {"headline", text_or_null(test.headline)},
          {"outcome", text_or_null(test.outcome)},
          {"minutes", test.minutes},
          {"lines", lines},
          {"missing", test.missing},
          {"findings", test.findings}};
}

}  // namespace

std::string print_page_json(const PageView& view) {
  Json object = {{"revision", view.revision},
                 {"job", view.job.path},
                 {"practice", view.practice},
                 {"us", view.us},
                 {"reading_unit", text_or_null(view.reading_unit)},
                 {"step_kg", view.step_kg},
                 {"max_kg", view.max_kg}};
  object.update(Json::parse(print_show_json(view.job)));
  object.erase("entries");
  const Json next = Json::parse(print_next_json(view.job));
  for (const char* const key : {"share", "trim", "span", "diagnosis"}) object[key] = next[key];
  object["next"]["asks"] = Json::array();
  for (const FormView& form : view.job.next.asks) object["next"]["asks"].push_back(form_json(form));
  object["plan"] = view.plan ? plan_json(*view.plan) : Json(nullptr);
  object["belief"] = belief_json(view.belief);
  object["test"] = view.test ? test_json(*view.test) : Json(nullptr);
  object["papers"] = view.papers;
  object["order"] = view.order;
  object["ticks"] = Json::array();
  for (const TickView& tick : view.ticks) {
    object["ticks"].push_back({{"name", tick.name},
                               {"says", tick.says},
                               {"todo", tick.todo},
                               {"condition", tick.condition},
                               {"on", tick.on}});
  }
  return line_of(object);
}

std::string print_questions_json(const std::vector<QuestionView>& questions) {
  Json list = Json::array();
  for (const QuestionView& question : questions) {
    list.push_back({{"number", question.number},
                    {"of", question.of},
                    {"name", question.name},
                    {"text", question.text},
                    {"help", question.help},
                    {"default", question.default_answer},
                    {"example", question.example}});
  }
  return line_of({{"questions", list}});
}

std::string print_question_fault_json(const units::Diagnostic& fault, int number) {
  Json object = Json::parse(print_json(units::Diagnostics{fault}));
  object["question"] = number;
  return line_of(object);
}

std::string print_draft_json(const std::string& file, const std::string& text) {
  return line_of({{"file", file}, {"text", text}});
}

std::string print_practice_json(const std::vector<RehearseView>& answers) {
  Json list = Json::array();
  for (const RehearseView& answer : answers) {
    Json rows = Json::array();
    std::string table;
    for (const std::string& column : answer.columns) table += (table.empty() ? "" : ",") + column;
    if (!table.empty()) table += '\n';
    for (const std::vector<RehearseField>& row : answer.rows) {
      Json object = Json::object();
      for (std::size_t i = 0; i < row.size() && i < answer.columns.size(); ++i) {
        object[answer.columns[i]] = row[i].text;
        table += (i == 0 ? "" : ",") + row[i].text;
      }
      rows.push_back(object);
      table += '\n';
    }
    list.push_back({{"command", answer.command},
                    {"kind", answer.kind},
                    {"table", table},
                    {"rows", rows},
                    {"sentences", answer.sentences},
                    {"cautions", answer.cautions}});
  }
  return line_of({{"answers", list}});
}

std::string print_entries_json(const std::vector<EntryView>& entries) {
  JobView only;
  only.entries = entries;
  Json list = Json::parse(print_show_json(only))["entries"];
  for (std::size_t i = 0; i < entries.size(); ++i) {
    list[i]["fields"] = Json::array();
    for (const auto& [name, value] : entries[i].fields) {
      list[i]["fields"].push_back(Json::array({name, value}));
    }
  }
  return line_of({{"entries", list}});
}

std::string print_recorded_json(const RecordedView& recorded, const std::string& site) {
  // The site's text is one object already: parsing it again would cost more than all the rest.
  return R"({"recorded":)" + line_of(Json::parse(print_json(recorded))) + R"(,"site":)" + site +
         "}";
}

}  // namespace weighwright::report
