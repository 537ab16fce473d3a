#include "job/cause_action.h"

#include <fmt/format.h>

#include <algorithm>

#include "job/action_words.h"
#include "record/looks.h"

namespace weighwright::job {
namespace {

using diagnose::Next;

constexpr int kCausesNamed = 3;
constexpr double kWorthNaming = 0.05;

std::string plain(std::string code) {
  std::replace(code.begin(), code.end(), '_', ' ');
  return code;
}

std::string named(const std::string& code, const std::string& where) {
  return where.empty() ? plain(code) : plain(code) + " at " + where;
}

std::string measured(const Next& next) {
  const std::string at = next.where.empty() ? "" : " at " + next.where;
  switch (next.kind) {
    case Next::Kind::look:
      break;
    case Next::Kind::cells:
      return "Read every cell alone";
    case Next::Kind::no_load:
      return "Read the cell with nothing on it" + at;
    case Next::Kind::load_at:
      return "Put the load" + at + " and read";
    case Next::Kind::up_down:
      return "Read loads going up and coming down" + at;
    case Next::Kind::two_loads:
      return "Read two loads of different size" + at;
    case Next::Kind::passes:
      return "Pass a loaded vehicle each way with braking, and read zero after each";
    case Next::Kind::zero_later:
      return "Watch zero over some hours, with temperature and rain";
    case Next::Kind::meter:
      return "Measure resistances and insulation" + at;
    case Next::Kind::map:
      return "Load each stand in turn and note which reading moves";
  }
  return "Measure" + at;
}

std::string table_of(const Next& next) {
  switch (next.kind) {
    case Next::Kind::look:
      return fmt::format("a table look,where,found with {},{},yes (or no)", next.code, next.where);
    case Next::Kind::cells:
      return "a table stand,mV";
    case Next::Kind::no_load:
      return "a table stand,mV,no_load, or stand,zero_mV";
    case Next::Kind::load_at:
    case Next::Kind::two_loads:
    case Next::Kind::up_down:
      return "a table at,load_kg,indication_kg,going,zero_before,zero_after";
    case Next::Kind::passes:
      return "a table zero_kg,after with pass 1-2 and pass 2-1";
    case Next::Kind::zero_later:
      return "a table zero_kg,time,temp_degC,rain";
    case Next::Kind::meter:
      return "a table stand,input_ohm,output_ohm,insulation_Mohm,test_V,zero_mV";
    case Next::Kind::map:
      return "a table loaded,moved";
  }
  return "a table";
}

}  // namespace

std::string cause_sentence(const diagnose::Diagnosis& diagnosis) {
  std::string list;
  int count = 0;
  for (const diagnose::Cause& cause : diagnosis.causes) {
    if (count == kCausesNamed || (count > 0 && cause.probability < kWorthNaming)) break;
    list += fmt::format("{}{} ({:.0f} %)", count == 0 ? "" : ", ", named(cause.code, cause.where),
                        100.0 * cause.probability);
    ++count;
  }
  return "Likely: " + list + ". No screw, shim, trim or span mends that.";
}

std::string next_headline(const Next& next) {
  if (next.kind != Next::Kind::look) return measured(next);
  const record::LookRule* const rule = record::find_look(next.code);
  const std::string question = rule == nullptr ? plain(next.code) : std::string(rule->says);
  return next.where.empty() ? "Look: " + question
                            : fmt::format("Look at {}: {}", next.where, question);
}

std::string next_sentence(const Next& next) {
  const bool tells = !next.second.empty();
  std::string text = tells
                         ? fmt::format("It tells {} from {}. ", named(next.first, next.first_where),
                                       named(next.second, next.second_where))
                         : "";
  return text + "Record it as " + table_of(next) + ".";
}

std::vector<std::string> next_cautions(const Next& next) {
  switch (next.kind) {
    case Next::Kind::look:
      return {
          "Traffic locked out before anybody looks below; a pit is a confined space: gas test, "
          "second person."};
    case Next::Kind::meter:
    case Next::Kind::cells:
      return {
          "Supply off before a core is moved. Insulation: cell off box and indicator, all leads "
          "together against screen and body, 50 V DC at most unless the cell's sheet allows more."};
    case Next::Kind::no_load:
      return {jacking_caution()};
    default:
      return {load_caution()};
  }
}

}  // namespace weighwright::job
