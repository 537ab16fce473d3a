#include "job/cause_action.h"

#include <fmt/format.h>

#include "job/diagnose_words.h"

namespace weighwright::job {
namespace {

using diagnose::Next;

constexpr int kCausesNamed = 3;
constexpr double kWorthNaming = 0.05;

/// Which table records the measurement, with the line to type where it is a look.
std::string table_of(const Next& next) {
  switch (next.kind) {
    case Next::Kind::look:
      return fmt::format("look,where,found with the line {},{},yes (or no)", next.code, next.where);
    case Next::Kind::cells:
      return "stand,mV";
    case Next::Kind::no_load:
      return "stand,mV,no_load";
    case Next::Kind::load_at:
    case Next::Kind::two_loads:
    case Next::Kind::up_down:
      return "at,load_kg,indication_kg,going,zero_before,zero_after";
    case Next::Kind::passes:
      return "zero_kg,after (pass 1-2, pass 2-1)";
    case Next::Kind::zero_later:
      return "zero_kg,time,temp_degC,rain";
    case Next::Kind::meter:
      return "stand,input_ohm,output_ohm,insulation_Mohm,test_V,zero_mV (the stand box for the "
             "box)";
    case Next::Kind::map:
      return "loaded,moved";
  }
  return "";
}

}  // namespace

std::string cause_sentence(const deck::Deck& deck, const diagnose::Diagnosis& diagnosis) {
  std::string list;
  int count = 0;
  for (const diagnose::Cause& cause : diagnosis.causes) {
    if (cause.innocent) continue;
    if (count == kCausesNamed || (count > 0 && cause.probability < kWorthNaming)) break;
    list += fmt::format("{}{} ({:.0f} %)", count == 0 ? "" : "; ",
                        cause_name(deck, cause.code, cause.where), 100.0 * cause.probability);
    ++count;
  }
  if (diagnosis.causes.empty() || diagnosis.causes.front().innocent) {
    return "Perhaps nothing is wrong, but not ruled out: " + list +
           ". An adjustment would hide it.";
  }
  return "Likely: " + list + ". No adjustment mends that.";
}

Action find_cause_action(const deck::Deck& deck, const diagnose::Diagnosis& diagnosis) {
  Action action;
  action.step = "find_cause";
  action.code = diagnosis.next.empty() ? "mended" : "find_cause";
  action.headline = "Find the cause first";
  action.detail = Detail::diagnosis;
  action.then_type = "job add JOB found.csv";
  if (!diagnosis.next.empty()) {
    const Next& next = diagnosis.next.front();
    action.how = {next_instruction(deck, next), next_shows(deck, next),
                  "Record it as a table " + table_of(next) + "."};
    action.cautions = next_dangers(next);
  } else {
    if (!diagnosis.causes.empty()) {
      action.how = {cause_remedy(diagnosis.causes.front().code),
                    "Nothing left to measure would tell more: mend it, then say so."};
    }
    action.then_type = "job add JOB --tick mended --remark \"what was wrong, what was done\"";
  }
  action.how.emplace_back(
      "When it is mended: weighwright job add JOB --tick mended --remark \"what was wrong, what "
      "was "
      "done\"; then read again.");
  action.how.emplace_back(
      "Looked for by somebody who knows and not found: weighwright job add JOB --tick "
      "nothing_found --remark \"where, by whom\"; then adjustments are advised again, and the "
      "record says so.");
  std::erase(action.how, "");
  return action;
}

}  // namespace weighwright::job
