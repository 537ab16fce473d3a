#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <functional>
#include <regex>
#include <sstream>

#include "report/every_code_point.h"
#include "report/exchange/exchange.h"
#include "report/outside_program.h"
#include "report/sample_document.h"

// outside check: certificate as XML, sound and spoilt | published schemas of the Digital
//  Calibration Certificate 3.1.2 and D-SI 2.1.0 and 2.2.0, by `xmllint` (libxml2)

namespace weighwright::report {
namespace {

bool has(const std::string& text, const std::string& what) {
  return text.find(what) != std::string::npos;
}

const std::string& schemas() {
  static const std::string path = std::string(WEIGHWRIGHT_SOURCE_DIR) + "/tests/reference/dcc/";
  return path;
}

/// The catalogue of the tree, with another version of the D-SI schema in the place of 2.1.0.
std::string catalogue_with(const std::string& si_file) {
  std::ifstream file(schemas() + "catalog.xml");
  std::stringstream text;
  text << file.rdbuf();
  std::string catalogue = std::regex_replace(text.str(), std::regex("uri=\"SI_Format-2.1.0.xsd\""),
                                             "uri=\"" + si_file + "\"");
  return std::regex_replace(catalogue, std::regex(" uri=\""), " uri=\"" + schemas());
}

/// Validates by libxml2 against DCC 3.1.2 (tests/reference/dcc), without a network.
Bench::Ran validate(const std::string& xml, const std::string& si_file = "SI_Format-2.1.0.xsd") {
  const Bench bench;
  bench.put("a.xml", xml);
  bench.put("catalog.xml", catalogue_with(si_file));
  return bench.run("XML_CATALOG_FILES=$PWD/catalog.xml xmllint --nonet --noout --schema '" +
                   schemas() + "dcc-3.1.2.xsd' a.xml");
}

DocumentView certificate_view() {
  DocumentView view = sample_document();
  view.title = "Calibration certificate";
  view.accreditation = AccreditationView{.body = "National body (invented)", .number = "K-0001"};
  return view;
}

std::string sound_xml() {
  const Certificate certificate = print_dcc(certificate_view());
  EXPECT_TRUE(certificate.missing.empty()) << certificate.missing.front();
  return certificate.xml;
}

std::string changed(std::string xml, const std::string& from, const std::string& to) {
  const std::size_t at = xml.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  if (at != std::string::npos) xml.replace(at, from.size(), to);
  return xml;
}

TEST(Dcc, IsValidByThePublishedSchema) {
  for (const char* version : {"SI_Format-2.1.0.xsd", "SI_Format-2.2.0.xsd"}) {
    const Bench::Ran ran = validate(sound_xml(), version);
    EXPECT_EQ(ran.status, 0) << ran.output.substr(0, 2000);
    EXPECT_TRUE(has(ran.output, "validates")) << ran.output.substr(0, 2000);
  }
}

TEST(Dcc, IsValidWithAsLeftAloneAndNothingOptional) {
  DocumentView view = certificate_view();
  view.as_found.reset();
  view.environment = EnvironmentView{};
  view.heads.clear();
  view.cells.clear();
  view.item.clear();
  view.traceability.clear();
  view.accreditation.reset();
  view.as_left->standards.clear();
  view.as_left->ranges.clear();
  view.as_left->lines.resize(4);
  view.as_left->lines[1].U_kg.reset();
  view.as_left->lines[1].k.reset();
  view.as_left->lines[2].limit_kg.reset();
  view.as_left->lines[2].verdict = "not_judged";
  const Certificate certificate = print_dcc(view);
  ASSERT_TRUE(certificate.missing.empty()) << certificate.missing.front();
  const Bench::Ran ran = validate(certificate.xml);
  EXPECT_EQ(ran.status, 0) << ran.output.substr(0, 2000);
}

/// The check has teeth: what the schema forbids is refused (facts 7.3).
TEST(Dcc, IsRefusedByTheSchemaWhenItIsSpoilt) {
  const std::string xml = sound_xml();
  const std::string factors = "<si:coverageFactorXMLList>2.05";
  const std::string uncertainties = "<si:uncertaintyXMLList>";
  for (const std::string& spoilt :
       {changed(xml, factors, "<si:coverageFactorXMLList>0.98"),
        changed(xml, factors, "<si:coverageFactorXMLList>2e0"),
        changed(xml, uncertainties, uncertainties + "-"),
        changed(xml, "<dcc:conformity>pass", "<dcc:conformity>Pass"),
        changed(xml, "schemaVersion=\"3.1.2\"", "schemaVersion=\"3.3.0\""),
        changed(xml, "<dcc:beginPerformanceDate>2026-11-24",
                "<dcc:beginPerformanceDate>24.11.2026")})
    EXPECT_NE(validate(spoilt).status, 0);
}

TEST(Dcc, StatesBothStatesWithTheirResults) {
  const std::string xml = sound_xml();
  for (const char* part :
       {"refType=\"nawi_asFound\"", "refType=\"nawi_asLeft\"",
        "<dcc:status>beforeAdjustment</dcc:status>", "<dcc:status>afterAdjustment</dcc:status>",
        "<dcc:conformity>fail</dcc:conformity>", "<dcc:conformity>pass</dcc:conformity>",
        // As found, increasing series: the sample's loads, limits doubled in service.
        "<si:valueXMLList>20 20 20 40 40 40 60 60</si:valueXMLList>",
        "<si:labelXMLList>over_1L over_1R over_2L over_2R over_3L over_3R over_4L over_4R"
        "</si:labelXMLList>",
        "<dcc:norm>R 76-1:2006, 3.6.2.2</dcc:norm>", "<dcc:value>C-100</dcc:value>", "load cell 1L",
        "<dcc:uniqueIdentifier>TQ-2026-0417</dcc:uniqueIdentifier>",
        "<si:unit>\\degreecelsius</si:unit>", "<si:value>100200</si:value>", "Каменоломня «Тарн»",
        "<dcc:countryCodeISO3166_1>GB</dcc:countryCodeISO3166_1>"})
    EXPECT_TRUE(has(xml, part)) << part;
  EXPECT_FALSE(has(xml, "W3"));  // was refused, so it is no equipment that was used
  EXPECT_FALSE(has(xml, "dataBase64"));
}

/// D-SI 2.1.0, hybridType: one of the quantities in an SI unit, the others in any. 1 lb is
/// 0.453 592 37 kg (NIST SP 811, B.8): 10 000 lb are 4535.9237 kg.
TEST(Dcc, GivesPoundsBesideKilogramsForAPoundScale) {
  DocumentView view = certificate_view();
  view.us = view.as_left->us = view.as_found->us = true;
  view.as_left->lines.resize(1);
  view.as_left->lines[0].load_kg = 4535.9237;
  view.as_left->lines[0].U_kg = 3.3;  // 7.275 lb
  const std::string xml = print_dcc(view).xml;
  for (const char* part :
       {"<si:valueXMLList>4535.9237</si:valueXMLList>",
        "<si:unitXMLList>\\kilogram</si:unitXMLList>", "<si:valueXMLList>10000</si:valueXMLList>",
        "<si:unitXMLList>lb</si:unitXMLList>",
        "<si:uncertaintyXMLList>7.3</si:uncertaintyXMLList>"})
    EXPECT_TRUE(has(xml, part)) << part;
  EXPECT_FALSE(has(sound_xml(), ">lb<"));
  for (const char* version : {"SI_Format-2.1.0.xsd", "SI_Format-2.2.0.xsd"}) {
    const Bench::Ran ran = validate(xml, version);
    EXPECT_EQ(ran.status, 0) << ran.output.substr(0, 2000);
  }
}

TEST(Dcc, HoldsAllThatAnErrorIsComputedFrom) {
  DocumentView view = certificate_view();
  view.as_found.reset();
  view.as_left->lines = {sample_fine_line()};
  view.as_left->ranges = {sample_repeats()};
  view.as_left->substitutes = {{.name = "S1", .mass_kg = 19872.0, .u_kg = 3.21}};
  const std::string xml = print_dcc(view).xml;
  for (const char* part :
       {"small weights added", "<si:valueXMLList>16</si:valueXMLList>",
        "indication of the empty deck, E0", "<si:valueXMLList>2</si:valueXMLList>",
        "<si:valueXMLList>40020</si:valueXMLList>", "<si:valueXMLList>12</si:valueXMLList>",
        "weighings compared", "<si:valueXMLList>30000 30000 30000</si:valueXMLList>",
        "<si:valueXMLList>8 6 10</si:valueXMLList>", "experimental standard deviation s",
        "<si:labelXMLList>S1</si:labelXMLList>", "<si:valueXMLList>19872</si:valueXMLList>",
        "<si:valueXMLList>3.2</si:valueXMLList>"})
    EXPECT_TRUE(has(xml, part)) << part;
  EXPECT_EQ(validate(xml).status, 0) << validate(xml).output.substr(0, 2000);
}

/// DCC 3.1.2, influenceConditionType: status is optional; its words all speak of an adjustment or a
/// repair.
TEST(Dcc, SpeaksOfNoAdjustmentWhereNothingWasAdjusted) {
  DocumentView view = certificate_view();
  view.as_found.reset();
  view.adjusted = false;
  const std::string xml = print_dcc(view).xml;
  EXPECT_FALSE(has(xml, "afterAdjustment"));
  EXPECT_FALSE(has(xml, "dcc:status"));
  EXPECT_TRUE(has(xml, "nothing was adjusted"));
  EXPECT_EQ(validate(xml).status, 0);
}

/// JCGM 100:2008, 7.2.6.
TEST(Dcc, StatesUWithTwoSignificantDigits) {
  DocumentView view = certificate_view();
  view.as_found.reset();
  view.as_left->lines.resize(1);
  for (const auto& [given, stated] :
       {std::pair{12.345, "12"}, {9.96, "10"}, {0.05812, "0.058"}, {123.4, "120"}}) {
    view.as_left->lines[0].U_kg = given;
    EXPECT_TRUE(has(print_dcc(view).xml,
                    std::string("<si:uncertaintyXMLList>") + stated + "</si:uncertaintyXMLList>"))
        << given;
  }
}

/// ISO/IEC 17025:2017, 7.8.2.1 c, g, p, 7.8.2.2 and 7.8.7 (read in transcripts; 7.8.7 from memory,
/// unverified).
TEST(Dcc, SaysWhoseWordEachIs) {
  DocumentView view = certificate_view();
  view.place_address = {"1 Quarry Lane", "Upper Tarn"};
  view.condition = "deck clean";
  view.by_customer = {"Serial numbers of the cells."};
  view.by_others = {"Gravity by a survey."};
  view.opinions = {"Wear at 2L. Basis: what was seen. Given by Z."};
  view.rules = sample_rules(true);
  const std::string xml = print_dcc(view).xml;
  for (const char* part :
       {"Supplied by the customer: Serial numbers", "Result of an external provider: Gravity",
        "Opinion: Wear at 2L", "1 Quarry Lane, Upper Tarn", "Condition: deck clean",
        "compared with print by Zofia"})
    EXPECT_TRUE(has(xml, part)) << part;
  EXPECT_EQ(validate(xml).status, 0);
}

TEST(Dcc, SaysThatAnUnfinishedVerdictIsNoPass) {
  DocumentView view = certificate_view();
  view.as_left->outcome = "incomplete";
  const std::string xml = print_dcc(view).xml;
  EXPECT_TRUE(has(xml, "<dcc:conformity>noPass</dcc:conformity>"));
  EXPECT_EQ(validate(xml).status, 0);
}

// ILAC-G8:09/2019, 4.2.2 and 4.2.3: within the limit, inside the guard band is no failure.
TEST(Dcc, NeverSaysFailWhereNoLineIsBeyondItsLimit) {
  DocumentView view = certificate_view();
  view.as_found.reset();
  for (ProofRangeView& range : view.as_left->ranges) range.verdict = "pass";
  for (const auto& [outcome, verdict, word] :
       {std::tuple{"not_accepted", "not_accepted", "noPass"},
        std::tuple{"conditional_pass", "conditional_pass", "conditionalPass"}}) {
    view.as_left->outcome = outcome;
    for (ProofLineView& line : view.as_left->lines) line.verdict = line.sure = verdict;
    const std::string xml = print_dcc(view).xml;
    EXPECT_TRUE(has(xml, std::string("<dcc:conformity>") + word + "<")) << xml.substr(0, 500);
    EXPECT_TRUE(has(xml, std::string("<dcc:conformityXMLList>") + word + " " + word));
    EXPECT_FALSE(has(xml, ">fail"));
    EXPECT_FALSE(has(xml, " fail"));
    EXPECT_EQ(validate(xml).status, 0);
  }
}

struct Lack {
  const char* says;
  std::function<void(DocumentView&)> take;
};

TEST(Dcc, NamesWhatIsMissing) {
  const Lack lacks[] = {
      {"the report's number", [](DocumentView& view) { view.number = "  "; }},
      {"the laboratory's name", [](DocumentView& view) { view.laboratory.reset(); }},
      {"the laboratory's e-mail address",
       [](DocumentView& view) { view.laboratory->contact = ""; }},
      {"the laboratory's country (two capital letters, ISO 3166-1)",
       [](DocumentView& view) { view.laboratory->country = "gb"; }},
      {"the customer's name", [](DocumentView& view) { view.customer.reset(); }},
      {"the customer's address", [](DocumentView& view) { view.customer->address.clear(); }},
      {"the day on which work began (YYYY-MM-DD)",
       [](DocumentView& view) { view.began = "today"; }},
      {"the day on which work ended (YYYY-MM-DD)", [](DocumentView& view) { view.ended.clear(); }},
      {"the maker of the weighbridge", [](DocumentView& view) { view.maker.clear(); }},
      {"the serial number of the weighbridge", [](DocumentView& view) { view.serial.clear(); }},
      {"who authorises the report", [](DocumentView& view) { view.authorised.clear(); }}};
  for (const Lack& lack : lacks) {
    DocumentView view = certificate_view();
    lack.take(view);
    const Certificate certificate = print_dcc(view);
    EXPECT_TRUE(certificate.xml.empty());
    EXPECT_EQ(std::count(certificate.missing.begin(), certificate.missing.end(), lack.says), 1)
        << lack.says;
  }
  EXPECT_FALSE(print_dcc(DocumentView{}).missing.empty());
}

TEST(Dcc, RefusesFiguresThatCanNotBeTrue) {
  for (const double factor : {0.98, -2.0}) {
    DocumentView view = certificate_view();
    view.as_left->lines[3].k = factor;
    EXPECT_TRUE(print_dcc(view).xml.empty());
  }
  DocumentView view = certificate_view();
  view.as_found->lines[0].U_kg = -1.0;
  const Certificate certificate = print_dcc(view);
  ASSERT_EQ(certificate.missing.size(), 1U);
  EXPECT_TRUE(has(certificate.missing[0], "expanded uncertainty -1 kg; it must be 0 or more"));
}

TEST(Dcc, EscapesWhatXmlReserves) {
  DocumentView view = certificate_view();
  view.customer->name = "A & B <Ltd> \"x\" \x02";
  const std::string xml = print_dcc(view).xml;
  EXPECT_TRUE(has(xml, "A &amp; B &lt;Ltd&gt;"));
  EXPECT_EQ(validate(xml).status, 0);
}

/// The schema explains none of its words for conformity; the statement may be absent.
TEST(Dcc, StatesNothingOfWhatWasNotJudged) {
  DocumentView view = certificate_view();
  view.as_found.reset();
  view.as_left->ranges.resize(1);
  view.as_left->ranges[0].verdict = "not_judged";
  const std::string xml = print_dcc(view).xml;
  const std::size_t at = xml.find("refType=\"nawi_agreement\"");
  ASSERT_NE(at, std::string::npos);
  const std::string quantity = xml.substr(at, xml.find("</dcc:quantity>", at) - at);
  EXPECT_FALSE(has(quantity, "conformity"));
  EXPECT_TRUE(has(quantity, "Not judged"));
  EXPECT_EQ(validate(xml).status, 0);
}

TEST(Dcc, IsValidWhateverIsWritten) {
  DocumentView view = certificate_view();
  view.remarks = {every_code_point() + "\xff\xc3\xed\xa0\x80"};
  const Bench::Ran ran = validate(print_dcc(view).xml);
  EXPECT_EQ(ran.status, 0) << ran.output.substr(0, 2000);
}

}  // namespace
}  // namespace weighwright::report
