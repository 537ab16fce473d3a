#include "report/exchange/dcc_administration.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string_view>
#include <utility>

#include "report/exchange/dcc_text.h"

namespace weighwright::report {
namespace {

bool is_country(const std::string& code) {
  return code.size() == 2 &&
         std::all_of(code.begin(), code.end(), [](char c) { return c >= 'A' && c <= 'Z'; });
}

bool is_location(const std::string& kind) {
  constexpr std::array<std::string_view, 5> kKinds = {"laboratory", "customer", "laboratoryBranch",
                                                      "customerBranch", "other"};
  return std::find(kKinds.begin(), kKinds.end(), kind) != kKinds.end();
}

/// The schema's contactType: name, e-mail address, place.
void miss_party(std::vector<std::string>& missing,
                const std::optional<PartyView>& party,
                const char* who) {
  if (!party || clean(party->name).empty()) {
    missing.push_back(fmt::format("the {}'s name", who));
    return;
  }
  if (party->contact.find('@') == std::string::npos)
    missing.push_back(fmt::format("the {}'s e-mail address", who));
  if (party->address.empty()) missing.push_back(fmt::format("the {}'s address", who));
}

void add_contact(pugi::xml_node contact, const PartyView& party, const std::string& language) {
  add_text(contact, "dcc:name", party.name, language);
  add_plain(contact, "dcc:eMail", party.contact);
  pugi::xml_node location = contact.append_child("dcc:location");
  if (is_country(party.country)) add_plain(location, "dcc:countryCode", party.country);
  for (const std::string& line : party.address) add_text(location, "dcc:further", line, language);
}

void add_software(pugi::xml_node data, const DocumentView& view) {
  const std::size_t split = view.made_by.rfind(' ');
  pugi::xml_node software = data.append_child("dcc:dccSoftware").append_child("dcc:software");
  add_text(software, "dcc:name", view.made_by.substr(0, split), view.language);
  add_plain(software, "dcc:release", view.made_by.substr(split + 1));
  add_plain(software, "dcc:type", "application");
}

void add_identification(pugi::xml_node list,
                        const char* issuer,
                        const std::string& value,
                        const std::string& name,
                        const std::string& language) {
  pugi::xml_node one = list.append_child("dcc:identification");
  add_plain(one, "dcc:issuer", issuer);
  add_plain(one, "dcc:value", value);
  add_text(one, "dcc:name", name, language);
}

void add_core(pugi::xml_node data, const DocumentView& view) {
  pugi::xml_node core = data.append_child("dcc:coreData");
  add_plain(core, "dcc:countryCodeISO3166_1", view.laboratory->country);
  add_plain(core, "dcc:usedLangCodeISO639_1", view.language);
  add_plain(core, "dcc:mandatoryLangCodeISO639_1", view.language);
  add_plain(core, "dcc:uniqueIdentifier", view.number);
  if (!view.heads.empty()) {
    pugi::xml_node list = core.append_child("dcc:identifications");
    for (const HeadView& head : view.heads)
      add_identification(list, "other", head.hash,
                         fmt::format("journal, device {}, entry {}", head.device, head.sequence),
                         view.language);
  }
  if (is_date(view.received)) add_plain(core, "dcc:receiptDate", view.received);
  add_plain(core, "dcc:beginPerformanceDate", view.began);
  add_plain(core, "dcc:endPerformanceDate", view.ended);
  add_plain(core, "dcc:performanceLocation", view.location_kind);
}

std::string item_name(const DocumentView& view) {
  if (view.as_left) return view.as_left->deck_name;
  return view.as_found ? view.as_found->deck_name : "";
}

/// The deck is the item. Schema 3.1.2 knows no items inside an item, and the cells are not
/// calibrated for themselves: they are identifications of the item, by stand.
void add_item(pugi::xml_node data, const DocumentView& view) {
  pugi::xml_node item = data.append_child("dcc:items").append_child("dcc:item");
  add_text(item, "dcc:name", item_name(view), view.language);
  std::string description;
  for (const auto& [name, value] : view.item)
    description += (description.empty() ? "" : "; ") + name + ": " + value;
  if (!view.condition.empty())
    description += (description.empty() ? "" : "; ") + ("Condition: " + view.condition);
  if (!description.empty()) add_text(item, "dcc:description", description, view.language);
  add_text(item.append_child("dcc:manufacturer"), "dcc:name", view.maker, view.language);
  if (!view.model.empty()) add_plain(item, "dcc:model", view.model);
  pugi::xml_node list = item.append_child("dcc:identifications");
  add_identification(list, "manufacturer", view.serial, "serial number", view.language);
  if (!view.approval.empty())
    add_identification(list, "other", view.approval, "type approval", view.language);
  for (const auto& [stand, serial] : view.cells) {
    if (!clean(serial).empty())
      add_identification(list, "manufacturer", serial, "load cell " + stand, view.language);
  }
}

void add_laboratory(pugi::xml_node data, const DocumentView& view) {
  pugi::xml_node laboratory = data.append_child("dcc:calibrationLaboratory");
  if (view.accreditation)
    add_plain(laboratory, "dcc:calibrationLaboratoryCode",
              view.accreditation->body + " " + view.accreditation->number);
  add_contact(laboratory.append_child("dcc:contact"), *view.laboratory, view.language);
}

void add_person(pugi::xml_node data, const DocumentView& view) {
  pugi::xml_node one = data.append_child("dcc:respPersons").append_child("dcc:respPerson");
  add_text(one.append_child("dcc:person"), "dcc:name", view.authorised, view.language);
  if (!view.role.empty()) add_plain(one, "dcc:role", view.role);
  add_plain(one, "dcc:mainSigner", "true");
}

void declare(pugi::xml_node list, const std::string& text, const std::string& language) {
  if (clean(text).empty()) return;
  add_text(list.append_child("dcc:statement"), "dcc:declaration", text, language);
}

/// Incomplete and refused results: conformity can't be stated. Not accepted: no line is beyond its
/// limit, so it is no "fail".
const char* conformity_of(const ProofView& proof) {
  if (proof.outcome == "pass") return "pass";
  if (proof.outcome == "conditional_pass") return "conditionalPass";
  if (proof.outcome == "conditional_fail") return "conditionalFail";
  return proof.outcome == "fail" ? "fail" : "noPass";
}

void add_outcome(pugi::xml_node list,
                 const std::optional<ProofView>& proof,
                 const char* phase,
                 const std::string& language) {
  if (!proof) return;
  pugi::xml_node one = list.append_child("dcc:statement");
  add_plain(one, "dcc:norm", proof->rulebook);
  add_text(one, "dcc:declaration",
           fmt::format("{}: {} {} {}", phase, proof->headline, proof->occasion_says,
                       proof->decision_rule),
           language);
  add_plain(one, "dcc:conformity", conformity_of(*proof));
}

/// Where the work was done.
std::string place_of(const DocumentView& view) {
  std::string text = view.place;
  for (const std::string& line : view.place_address) text += (text.empty() ? "" : ", ") + line;
  return text.empty() ? "" : "Place of the work: " + text;
}

void add_statements(pugi::xml_node data, const DocumentView& view) {
  pugi::xml_node list = data.append_child("dcc:statements");
  const std::string& language = view.language;
  add_outcome(list, view.as_found, "As found", language);
  add_outcome(list, view.as_left, "As left", language);
  for (const std::string& sentence : view.traceability) {
    pugi::xml_node one = list.append_child("dcc:statement");
    add_plain(one, "dcc:traceable", "true");
    add_text(one, "dcc:declaration", sentence, language);
  }
  declare(list, view.practice, language);
  if (view.rules) declare(list, view.rules->says, language);
  if (!view.replaces.empty()) declare(list, "Replaces " + view.replaces, language);
  declare(list, place_of(view), language);
  for (const auto* sentences :
       {&view.statements, &view.deviations, &view.adjustments, &view.remarks}) {
    for (const std::string& sentence : *sentences) declare(list, sentence, language);
  }
  // Whose word each of these is must be told beside it (ISO/IEC 17025:2017, 7.8.2.1 p, 7.8.2.2,
  // 7.8.7).
  const std::pair<const char*, const std::vector<std::string>*> kMarked[] = {
      {"Supplied by the customer", &view.by_customer},
      {"Result of an external provider", &view.by_others},
      {"Opinion", &view.opinions}};
  for (const auto& [mark, sentences] : kMarked) {
    for (const std::string& sentence : *sentences)
      declare(list, fmt::format("{}: {}", mark, sentence), language);
  }
  for (const SealView& seal : view.seals)
    declare(list, fmt::format("{} {}: {} {}", seal.what, seal.when, seal.number, seal.place),
            language);
  if (list.first_child().empty()) data.remove_child(list);
}

}  // namespace

std::vector<std::string> missing_administration(const DocumentView& view) {
  std::vector<std::string> missing;
  const auto want = [&missing](bool there, const char* what) {
    if (!there) missing.emplace_back(what);
  };
  want(!clean(view.number).empty(), "the report's number");
  miss_party(missing, view.laboratory, "laboratory");
  want(view.laboratory && is_country(view.laboratory->country),
       "the laboratory's country (two capital letters, ISO 3166-1)");
  miss_party(missing, view.customer, "customer");
  want(is_date(view.began), "the day on which work began (YYYY-MM-DD)");
  want(is_date(view.ended), "the day on which work ended (YYYY-MM-DD)");
  want(!clean(item_name(view)).empty(), "the deck's name");
  want(!clean(view.maker).empty(), "the maker of the weighbridge");
  want(!clean(view.serial).empty(), "the serial number of the weighbridge");
  want(!clean(view.authorised).empty(), "who authorises the report");
  want(view.made_by.find(' ') != std::string::npos, "program and version");
  want(view.language == "en", "English texts: there are none in another language");
  want(is_location(view.location_kind), "where the work was done (laboratory, customer, other)");
  return missing;
}

void add_administration(pugi::xml_node certificate, const DocumentView& view) {
  pugi::xml_node data = certificate.append_child("dcc:administrativeData");
  add_software(data, view);
  add_core(data, view);
  add_item(data, view);
  add_laboratory(data, view);
  add_person(data, view);
  add_contact(data.append_child("dcc:customer"), *view.customer, view.language);
  add_statements(data, view);
}

}  // namespace weighwright::report
