#include <algorithm>
#include <set>

#include "record/entry.h"
#include "units/diagnostic.h"

namespace weighwright::record {
namespace {

constexpr std::size_t kMostBytes = 1'000'000;
constexpr bool kNeeded = true;
constexpr bool kIfKnown = false;
constexpr bool kOfRecord = true;

FieldKind kind_of(std::string_view one_of) {
  return one_of.empty() ? FieldKind::text : FieldKind::choice;
}

FieldRule needed(std::string_view name, std::string_view says, std::string_view one_of = {}) {
  return {
      .name = name, .required = kNeeded, .says = says, .one_of = one_of, .kind = kind_of(one_of)};
}

FieldRule maybe(std::string_view name, std::string_view says, std::string_view one_of = {}) {
  return {
      .name = name, .required = kIfKnown, .says = says, .one_of = one_of, .kind = kind_of(one_of)};
}

FieldRule as(FieldKind kind, FieldRule rule) {
  rule.kind = kind;
  return rule;
}

/// A number alone, from `least` to `most` in the unit.
FieldRule number(
    FieldRule rule, std::string_view unit, double least, double most, std::string_view range) {
  rule.kind = FieldKind::number;
  rule.unit = unit;
  rule.least = least;
  rule.most = most;
  rule.range = range;
  return rule;
}

/// A value with its unit, from `least` to `most` in SI.
FieldRule quantity(
    FieldRule rule, units::Kind of, double least, double most, std::string_view range) {
  rule.kind = FieldKind::quantity;
  rule.of = of;
  rule.least = least;
  rule.most = most;
  rule.range = range;
  return rule;
}

// Ranges: wide enough for any weighbridge and any weather on earth, narrow enough to tell a wrong
// unit (hand estimates, no source).
FieldRule air_temperature(FieldRule rule) {
  return number(rule, "degC", -60.0, 60.0, "from -60 to 60");
}
FieldRule duration(FieldRule rule) {
  return quantity(rule, units::Kind::time, 60.0, 365.0 * 86400.0, "from 1 min to 365 d");
}
FieldRule strength(FieldRule rule) {
  return quantity(rule, units::Kind::pressure, 1e5, 5e8, "from 0.1 MPa to 500 MPa");
}

std::vector<FieldRule> seal_fields() {
  return {needed("number", "what is stamped on it"),
          needed("place", "where it sits: box, indicator, cell 2L"),
          maybe("authority", "by whose authority"), maybe("photo", "name of a photo entry"),
          maybe("remark", "anything else")};
}

/// A figure that nobody typed is as good as left out; what must be there is told apart.
bool may_be_empty(const FieldRule& rule) {
  return rule.kind != FieldKind::choice && rule.kind != FieldKind::token;
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
    if (may_be_empty(*found) && value.empty()) continue;
    if (const auto fault = fault_of_value(*found, value)) {
      faults.push_back(fault->what + "; " + fault->expected);
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
      {"clearance",
       "the balance was cleared for grout",
       {needed("by", "who clears it"),
        needed("plates_level", "plates are level both ways", "yes|no"), maybe("remark", "")}},
      {"release",
       "the deck was released for load",
       {needed("by", "who releases it"),
        needed("foundation", "what the deck stands on", "grouted|steel_pad|bolted|temporary"),
        needed("grounds", "why it carries", "maker_time|cube|engineer|inspection"),
        duration(maybe("time", "maker_time: the maker's time, as 24 h")),
        quantity(maybe("temperature", "maker_time: what was logged, as 12 degC"),
                 units::Kind::temperature, -60.0, 80.0, "from -60 degC to 80 degC"),
        strength(maybe("strength", "cube: what it broke at, as 38 MPa")),
        strength(maybe("needed", "cube: what is asked for, as 35 MPa")),
        duration(maybe("age", "cube: its age, as 7 d")),
        maybe("grouted_at", "local time the last grout was placed, where it was not when ticked"),
        maybe("document", "the paper that it rests on"), maybe("remark", "what was found")}},
      {"weather",
       "what the weather was",
       {air_temperature(maybe("temp_degC", "air in the shade")),
        number(maybe("pressure_hPa", "of the air, on site"), "hPa", 500.0, 1100.0,
               "on site, from 500 to 1100"),
        number(maybe("humidity_percent", "relative, of the air"), "%", 0.0, 100.0, "from 0 to 100"),
        maybe("rain", "", "yes|no"), maybe("wind", ""), maybe("sun", "", "yes|no"),
        maybe("remark", "")}},
      {"seal_broken", "a seal was broken", seal_fields()},
      {"seal_applied", "a seal was applied", seal_fields()},
      {"counter",
       "an event counter of the indicator was read",
       {needed("name", "which", "calibration|configuration"),
        as(FieldKind::whole, needed("value", "what it shows")),
        needed("when", "before or after the work", "found|left")}},
      {"setting",
       "a setting of the indicator",
       {needed("name", "which"), needed("value", "what it is"),
        needed("when", "before or after the work", "found|left")}},
      {"cell_placed",
       "a load cell stands under a stand; what nobody knows of it is typed unknown",
       {as(FieldKind::stand, needed("stand", "under which stand: 2L")),
        maybe("serial", "its serial number"), maybe("certificate", "number of its certificate"),
        maybe("capacity", "of the cell: 25 t"), maybe("output", "at capacity: 2 mV/V"),
        maybe("input_resistance", "1100 ohm"), maybe("output_resistance", "1000 ohm"),
        maybe("terminal", "its number at the box"), maybe("remark", "anything else")}},
      {"cell_replaced",
       "a load cell was replaced; what nobody knows of the new one is typed unknown",
       {as(FieldKind::stand, needed("stand", "under which stand: 2L")),
        maybe("old_serial", "of the cell taken out"), needed("new_serial", "of the cell put in"),
        maybe("certificate", "of the new one: number"), maybe("capacity", "of the new one: 25 t"),
        maybe("output", "of the new one: 2 mV/V"),
        maybe("input_resistance", "of the new one: 1100 ohm"),
        maybe("output_resistance", "of the new one: 1000 ohm"), maybe("remark", "why")}},
      {"pour",
       "concrete of the deck was poured: readings before it are of another deck",
       {needed("module", "which: its mark, or all"), maybe("by", "who poured it"),
        maybe("remark", "anything else")}},
      {"notice_sent",
       "somebody was told",
       {needed("authority", "whom"), as(FieldKind::date, maybe("date", "when")),
        maybe("remark", "")}},
      {"tagged",
       "the scale was tagged out of use or rejected",
       {needed("by", "by whom"), maybe("reason", "why")}},
      {"occasion",
       "what the test is for, on which the limits depend",
       {needed("occasion", "why it is tested",
               "new|after_rejection|overhaul|adjusted|routine|as_found|type"),
        maybe("decision", "how errors are held against limits", "simple|guarded|guarded_binary"),
        maybe("load_over", "where both will do: which eccentric test", "rolling|supports"),
        maybe("remark", "who said so")}},
      {"rulebook",
       "a national variant of the rulebook is in force",
       {needed("file", "name of its file"), needed("text", "the file"), maybe("remark", "")}},
      {"party",
       "somebody that a report names",
       {needed("role", "as what", "laboratory|customer|signatory"), needed("name", "the name"),
        maybe("address", "lines, a semicolon between"),
        as(FieldKind::country, maybe("country", "two letters: GB")),
        maybe("contact", "telephone or mail"), maybe("position", "of a signatory"),
        maybe("accreditation_body", "of a laboratory that is accredited for this"),
        maybe("accreditation_number", "of that accreditation")}},
      {"item",
       "what is tested, as its plates say",
       {maybe("maker", ""), maybe("model", ""), maybe("serial", "of the weighbridge"),
        maybe("indicator", "maker and model of the indicator"), maybe("indicator_serial", ""),
        maybe("software", "identification that the indicator shows"),
        maybe("approval", "number of the type approval"), maybe("place", "where it stands"),
        maybe("address", "of that place: lines, a semicolon between"),
        maybe("condition", "in which it was found, where that matters"),
        maybe("received", "day on which it came, where that matters: 2026-11-20")}},
      {"supplied",
       "something in the report is another's: data of the customer, a result of somebody else",
       {needed("from", "whose it is", "customer|provider"),
        needed("what", "the data or the result"), maybe("by", "name of who supplied it"),
        maybe("document", "the paper it stands in"), maybe("remark", "")}},
      {"opinion",
       "an opinion or interpretation that the report gives",
       {needed("text", "the opinion"), needed("basis", "what it rests on"),
        needed("by", "whose it is: who may give opinions")}},
      {"rules_confirmed",
       "a firm compared the rulebook with its own print",
       {needed("by", "who compared it"), needed("print", "which edition and printing"),
        needed("rulebook_hash", "of the rulebook, as its check list shows it"),
        maybe("date", "when: 2026-11-20"), maybe("clauses", "clauses and pages, as ticked"),
        maybe("remark", "")}},
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
        as(FieldKind::hash, needed("blake2b", "BLAKE2b-256 of its bytes")),
        as(FieldKind::whole, needed("size", "bytes")), maybe("caption", "what it shows")}},
      {"settled",
       "entries that were made apart were looked at and put right",
       {needed("of", "hash of one"), needed("with", "hash of the other"),
        maybe("remark", "what holds")}},
      {"undo",
       "an earlier entry does not hold",
       {needed("of", "hash of that entry"), maybe("remark", "why")}},
      {"program",
       "the program that writes this chain from here on",
       {needed("version", "as --version prints it"), needed("build", "what names this very build")},
       kOfRecord},
      {"report_written",
       "a report with a number was written to a file",
       {needed("number", "its number"), needed("paper", "what it is", "report|dcc"),
        needed("blake2b", "BLAKE2b-256 of the file"), needed("size", "bytes")},
       kOfRecord},
      {"chain_closed",
       "a device goes on under another number",
       {needed("device", "the number whose chain is not gone on with"),
        needed("why", "what happened", "copy")},
       kOfRecord},
  };
  return kinds;
}

const std::vector<FieldRule>& common_fields() {
  static const std::vector<FieldRule> fields = {
      as(FieldKind::token,
         maybe("token", "the sender's own mark, so that what is sent twice is recorded once")),
      maybe("typed_at", "when it was typed, by the phone's clock"),
      maybe("phone", "the phone that it came over, as named when it was let in")};
  return fields;
}

const FieldRule* find_field(const KindRule& rule, std::string_view name) {
  for (const std::vector<FieldRule>* rules : {&rule.fields, &common_fields()}) {
    for (const FieldRule& one : *rules) {
      if (one.name == name) return &one;
    }
  }
  return nullptr;
}

std::optional<double> figure_of(const Draft& entry, std::string_view name) {
  const KindRule* const rule = find_kind(entry.kind);
  const FieldRule* const found = rule == nullptr ? nullptr : find_field(*rule, name);
  if (found == nullptr) return {};
  return figure_of(*found, field(entry.fields, name));
}

std::vector<ValueFault> odd_values(const Draft& entry) {
  std::vector<ValueFault> odd;
  const KindRule* const rule = find_kind(entry.kind);
  if (rule == nullptr) return odd;
  for (const auto& [name, value] : entry.fields) {
    const FieldRule* const found = find_field(*rule, name);
    if (found == nullptr || value.empty()) continue;
    if (auto fault = fault_of_value(*found, value)) odd.push_back(std::move(*fault));
  }
  return odd;
}

const KindRule* find_kind(std::string_view kind) {
  for (const KindRule& rule : entry_kinds()) {
    if (rule.kind == kind) return &rule;
  }
  return nullptr;
}

bool is_of_record(std::string_view kind) {
  const KindRule* const rule = find_kind(kind);
  return rule != nullptr && rule->of_record;
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
