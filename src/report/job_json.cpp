#include <nlohmann/json.hpp>

#include "report/answer_json.h"
#include "report/job_view.h"
#include "report/json_parts.h"

namespace weighwright::report {
namespace {

Json heads_json(const std::vector<HeadView>& heads) {
  Json list = Json::array();
  for (const HeadView& head : heads) {
    list.push_back({{"device", head.device}, {"sequence", head.sequence}, {"hash", head.hash}});
  }
  return list;
}

Json entry_json(const EntryView& entry) {
  return {{"entry", entry.number},  {"name", entry.name},
          {"time", entry.time},     {"time_utc", entry.time_utc},
          {"author", entry.author}, {"kind", entry.kind},
          {"says", entry.says},     {"fate", text_or_null(entry.fate)},
          {"hash", entry.hash}};
}

const char* code_of(Acquaintance acquaintance) {
  switch (acquaintance) {
    case Acquaintance::own:
      return "own";
    case Acquaintance::known:
      return "known";
    case Acquaintance::unknown:
      return "unknown";
    case Acquaintance::other_key:
      return "other_key";
    case Acquaintance::unsigned_chain:
      return "unsigned";
  }
  return "";
}

/// @param with_acquaintance  where this machine was asked how well it knows them
Json chains_json(const std::vector<ChainView>& chains, bool with_acquaintance) {
  Json list = Json::array();
  for (const ChainView& chain : chains) {
    Json one = {{"device", chain.device},
                {"authors", chain.authors},
                {"entries", chain.entries},
                {"signed_entries", chain.signed_entries},
                {"key", text_or_null(chain.key)}};
    if (with_acquaintance) one["known"] = code_of(chain.acquaintance);
    list.push_back(std::move(one));
  }
  return list;
}

Json record_entry_json(const EntryView& entry) {
  Json fields = Json::object();
  for (const auto& [name, value] : entry.fields) fields[name] = value;
  return {{"name", entry.name}, {"time", entry.time}, {"time_utc", entry.time_utc},
          {"kind", entry.kind}, {"says", entry.says}, {"fields", fields},
          {"hash", entry.hash}};
}

Json entries_json(const std::vector<EntryView>& entries) {
  Json list = Json::array();
  for (const EntryView& entry : entries) list.push_back(entry_json(entry));
  return list;
}

Json conflicts_json(const std::vector<ConflictView>& conflicts) {
  Json list = Json::array();
  for (const ConflictView& conflict : conflicts) {
    list.push_back({{"kind", conflict.kind},
                    {"sentence", conflict.sentence},
                    {"entries", {conflict.first, conflict.second}},
                    {"settled", conflict.settled}});
  }
  return list;
}

Json cell_json(const StandCellView::Cell& cell) {
  return {{"serial", text_or_null(cell.serial)},
          {"certificate", text_or_null(cell.certificate)},
          {"entry", int_or_null(cell.entry > 0 ? std::optional(cell.entry) : std::nullopt)}};
}

Json cells_json(const std::vector<StandCellView>& cells) {
  Json list = Json::array();
  for (const StandCellView& cell : cells) {
    Json before = Json::array();
    for (const StandCellView::Cell& one : cell.before) before.push_back(cell_json(one));
    Json object = cell_json(cell.now);
    object["stand"] = cell.stand;
    object["terminal"] = text_or_null(cell.terminal);
    object["not_known"] = cell.not_known;
    object["before"] = std::move(before);
    list.push_back(std::move(object));
  }
  return list;
}

Json faults_json(const units::Diagnostics& faults) {
  return Json::parse(print_json(faults))["faults"];
}

Json action_json(const ActionView& action) {
  return {{"step", action.step},
          {"code", action.code},
          {"headline", action.headline},
          {"how", action.how},
          {"cautions", action.cautions},
          {"then", text_or_null(action.then_type)},
          {"table", text_or_null(action.table)},
          {"entries", action.entries}};
}

template <class View>
Json view_json(const std::optional<View>& view) {
  return view ? Json::parse(print_json(*view)) : Json(nullptr);
}

Json head_of(const JobView& view) {
  Json object;
  object["journal"] = text_or_null(view.journal);
  object["deck"] = text_or_null(view.deck_name);
  object["began"] = view.began;
  object["entry_count"] = view.entry_count;
  object["whole"] = view.whole;
  object["heads"] = heads_json(view.heads);
  object["next"] = action_json(view.next);
  object["warnings"] = view.warnings;
  object["damage"] = view.damage;
  object["unreadable"] = faults_json(view.unreadable);
  return object;
}

}  // namespace

std::string print_show_json(const JobView& view) {
  Json object = head_of(view);
  Json steps = Json::array();
  for (const StepView& step : view.steps) {
    steps.push_back({{"step", step.code},
                     {"name", step.name},
                     {"state", step.state},
                     {"why", step.why},
                     {"entries", step.entries}});
  }
  object["steps"] = steps;
  object["as_found"] = {
      {"frozen", view.as_found.frozen},
      {"frozen_by",
       int_or_null(view.as_found.frozen ? std::optional(view.as_found.frozen_by) : std::nullopt)},
      {"entries", view.as_found.entries},
      {"corrected_later", view.as_found.corrected_later}};
  object["cells"] = cells_json(view.cells);
  object["conflicts"] = conflicts_json(view.conflicts);
  object["entries"] = entries_json(view.entries);
  object["of_record"] = Json::array();
  for (const EntryView& one : view.of_record) object["of_record"].push_back(record_entry_json(one));
  object["chains"] = chains_json(view.chains, false);
  return print(object);
}

std::string print_next_json(const JobView& view) {
  Json object = head_of(view);
  object["share"] = view_json(view.behind.share);
  object["trim"] = view_json(view.behind.trim);
  object["span"] = view_json(view.behind.span);
  object["diagnosis"] = view_json(view.behind.diagnosis);
  return print(object);
}

std::string print_json(const RecordedView& view) {
  Json object;
  object["recorded"] = entries_json(view.entries);
  object["photos"] = view.photos;
  object["sentences"] = view.sentences;
  object["warnings"] = view.warnings;
  object["conflicts"] = conflicts_json(view.conflicts);
  object["heads"] = heads_json(view.heads);
  object["chains"] = chains_json(view.chains, true);
  return print(object);
}

std::string print_json(const VerifyView& view) {
  Json object;
  object["whole"] = view.whole;
  object["count"] = view.count;
  object["heads"] = heads_json(view.heads);
  Json problems = Json::array();
  for (const ProblemView& problem : view.problems) {
    problems.push_back({{"code", problem.code},
                        {"entry", text_or_null(problem.entry)},
                        {"time", text_or_null(problem.time)},
                        {"what", problem.what},
                        {"breaks", problem.breaks}});
  }
  object["problems"] = problems;
  object["remarks"] = view.remarks;
  object["chains"] = chains_json(view.chains, false);
  if (view.paper) {
    object["paper"] = {{"file", view.paper->file},
                       {"blake2b", view.paper->blake2b},
                       {"issued", view.paper->issued},
                       {"number", text_or_null(view.paper->number)},
                       {"device", text_or_null(view.paper->device)},
                       {"key", text_or_null(view.paper->key)},
                       {"time_utc", text_or_null(view.paper->time_utc)},
                       {"replaced_by", text_or_null(view.paper->replaced_by)},
                       {"says", view.paper->sentence}};
  }
  return print(object);
}

}  // namespace weighwright::report
