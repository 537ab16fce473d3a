#include <algorithm>
#include <set>

#include "record/entry.h"
#include "units/diagnostic.h"

namespace weighwright::record {
namespace {

constexpr std::size_t kMostBytes = 1'000'000;
constexpr bool kNeeded = true;
constexpr bool kIfKnown = false;

FieldRule needed(std::string_view name, std::string_view says, std::string_view one_of = {}) {
  return {.name = name, .required = kNeeded, .says = says, .one_of = one_of};
}

FieldRule maybe(std::string_view name, std::string_view says, std::string_view one_of = {}) {
  return {.name = name, .required = kIfKnown, .says = says, .one_of = one_of};
}

std::vector<FieldRule> seal_fields() {
  return {needed("number", "what is stamped on it"),
          needed("place", "where it sits: box, indicator, cell 2L"),
          maybe("authority", "by whose authority"), maybe("photo", "name of a photo entry"),
          maybe("remark", "anything else")};
}

bool is_one_of(std::string_view value, std::string_view list) {
  while (!list.empty()) {
    const std::size_t bar = list.find('|');
    if (value == list.substr(0, bar)) return true;
    if (bar == std::string_view::npos) return false;
    list.remove_prefix(bar + 1);
  }
  return false;
}

bool is_token(std::string_view value) {
  constexpr std::size_t kLeast = 8;
  constexpr std::size_t kMost = 64;
  return value.size() >= kLeast && value.size() <= kMost &&
         std::all_of(value.begin(), value.end(), [](char c) {
           return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                  c == '-';
         });
}

const FieldRule* find_field(const KindRule& rule, std::string_view name) {
  for (const std::vector<FieldRule>* rules : {&rule.fields, &common_fields()}) {
    for (const FieldRule& one : *rules) {
      if (one.name == name) return &one;
    }
  }
  return nullptr;
}

void check_fields(const KindRule& rule, const Draft& draft, std::vector<std::string>& faults) {
  std::set<std::string_view> seen;
  for (const auto& [name, value] : draft.fields) {
    const FieldRule* const found = find_field(rule, name);
    if (found == nullptr) {
      faults.push_back("there is no field " + units::quote(name) + " in " + draft.kind);
      continue;
    }
    if (!seen.insert(found->name).second) faults.push_back(name + " is given twice");
    if (name == "token" && !is_token(value)) {
      faults.push_back("token is " + units::quote(value) +
                       "; 8 to 64 of the letters A to Z, digits and hyphens");
    }
    if (!found->one_of.empty() && !is_one_of(value, found->one_of)) {
      faults.push_back(name + " is " + units::quote(value) + "; one of " +
                       std::string(found->one_of));
    }
  }
  for (const FieldRule& one : rule.fields) {
    if (one.required && field(draft.fields, one.name).empty()) {
      faults.push_back(draft.kind + " needs " + std::string(one.name) + " (" +
                       std::string(one.says) + ")");
    }
  }
}

}  // namespace

const std::vector<KindRule>& entry_kinds() {
  static const std::vector<KindRule> kinds = {
      {"deck",
       "the deck was described, or described anew",
       {needed("file", "name of the deck file"), needed("text", "the deck file"),
        maybe("remark", "why")}},
      {"visit",
       "a visit began",
       {needed("reason", "why somebody came", "install|service"),
        maybe("remark", "what was told")}},
      {"measurement",
       "something was measured, turned or set",
       {needed("file", "name of the table"), needed("text", "the table as typed, with its header"),
        maybe("confirmed", "yes: looked at again, for it can hardly be on this deck", "yes"),
        maybe("remark", "anything else")}},
      {"tick",
       "a step was done or a condition holds",
       {needed("name", "which step or condition"), maybe("on", "no: it holds no longer", "yes|no"),
        maybe("remark", "anything else")}},
      {"weather",
       "what the weather was",
       {maybe("temp_degC", "air in the shade"), maybe("pressure_hPa", "of the air, on site"),
        maybe("humidity_percent", "relative, of the air"), maybe("rain", "", "yes|no"),
        maybe("wind", ""), maybe("sun", "", "yes|no"), maybe("remark", "")}},
      {"seal_broken", "a seal was broken", seal_fields()},
      {"seal_applied", "a seal was applied", seal_fields()},
      {"counter",
       "an event counter of the indicator was read",
       {needed("name", "which", "calibration|configuration"), needed("value", "what it shows"),
        needed("when", "before or after the work", "found|left")}},
      {"setting",
       "a setting of the indicator",
       {needed("name", "which"), needed("value", "what it is"),
        needed("when", "before or after the work", "found|left")}},
      {"cell_replaced",
       "a load cell was replaced",
       {needed("stand", "under which stand: 2L"), maybe("old_serial", "of the cell taken out"),
        needed("new_serial", "of the cell put in"), maybe("capacity", "of the new one"),
        maybe("output", "of the new one"), maybe("remark", "why")}},
      {"notice_sent",
       "somebody was told",
       {needed("authority", "whom"), maybe("date", "when"), maybe("remark", "")}},
      {"tagged",
       "the scale was tagged out of use or rejected",
       {needed("by", "by whom"), maybe("reason", "why")}},
      {"occasion",
       "what the test is for, on which the limits depend",
       {needed("occasion", "why it is tested",
               "new|after_rejection|overhaul|adjusted|routine|as_found"),
        maybe("decision", "how errors are held against limits", "simple|guarded"),
        maybe("load_over", "where both will do: which eccentric test", "rolling|supports"),
        maybe("remark", "who said so")}},
      {"rulebook",
       "a national variant of the rulebook is in force",
       {needed("file", "name of its file"), needed("text", "the file"), maybe("remark", "")}},
      {"party",
       "somebody that a report names",
       {needed("role", "as what", "laboratory|customer|signatory"), needed("name", "the name"),
        maybe("address", "lines, a semicolon between"), maybe("country", "two letters: GB"),
        maybe("contact", "telephone or mail"), maybe("position", "of a signatory"),
        maybe("accreditation_body", "of a laboratory that is accredited for this"),
        maybe("accreditation_number", "of that accreditation")}},
      {"item",
       "what is tested, as its plates say",
       {maybe("maker", ""), maybe("model", ""), maybe("serial", "of the weighbridge"),
        maybe("indicator", "maker and model of the indicator"), maybe("indicator_serial", ""),
        maybe("software", "identification that the indicator shows"),
        maybe("approval", "number of the type approval"), maybe("place", "where it stands")}},
      {"report_issued",
       "a report was issued",
       {needed("number", "its number"), maybe("replaces", "number of the report that it replaces"),
        maybe("reason", "why it was replaced"),
        maybe("deviations", "additions to, deviations and exclusions from the method"),
        maybe("remark", "")}},
      {"note", "a note", {needed("text", "the note")}},
      {"photo",
       "a photo",
       {needed("file", "its name"), needed("media", "its kind: image/jpeg"),
        needed("blake2b", "BLAKE2b-256 of its bytes"), needed("size", "bytes"),
        maybe("caption", "what it shows")}},
      {"settled",
       "entries that were made apart were looked at and put right",
       {needed("of", "hash of one"), needed("with", "hash of the other"),
        maybe("remark", "what holds")}},
      {"undo",
       "an earlier entry does not hold",
       {needed("of", "hash of that entry"), maybe("remark", "why")}},
  };
  return kinds;
}

const std::vector<FieldRule>& common_fields() {
  static const std::vector<FieldRule> fields = {
      maybe("token", "the sender's own mark, so that what is sent twice is recorded once"),
      maybe("typed_at", "when it was typed, by the phone's clock")};
  return fields;
}

const KindRule* find_kind(std::string_view kind) {
  for (const KindRule& rule : entry_kinds()) {
    if (rule.kind == kind) return &rule;
  }
  return nullptr;
}

std::vector<std::string> faults_of(const Draft& draft) {
  const KindRule* rule = find_kind(draft.kind);
  if (rule == nullptr) {
    std::string known;
    for (const KindRule& one : entry_kinds())
      known += (known.empty() ? "" : ", ") + std::string(one.kind);
    return {"there is no entry of the kind " + units::quote(draft.kind) + "; one of " + known};
  }
  std::vector<std::string> faults;
  check_fields(*rule, draft, faults);
  std::size_t bytes = 0;
  for (const auto& [name, value] : draft.fields) {
    bytes += name.size() + value.size();
    if (!units::is_utf8(value)) faults.push_back(name + " holds bytes that are no UTF-8 text");
  }
  if (bytes > kMostBytes) faults.emplace_back("the entry is larger than 1 MB");
  return faults;
}

}  // namespace weighwright::record
