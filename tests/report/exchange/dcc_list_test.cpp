#include "report/exchange/dcc_list.h"

#include <gtest/gtest.h>

#include <limits>
#include <sstream>

#include "report/exchange/dcc_text.h"

// outside check: figures that the format has no place for | D-SI schema 2.1.0, kValueType and
//  uncertaintyValueType
// outside check: surrogates in text are no UTF-8 | RFC 3629, 3

namespace weighwright::report {
namespace {

std::vector<DccColumn> sound() {
  DccColumn load{.name = "load", .ref_type = "nawi_load", .values_kg = {10000.0, 20000.0}};
  load.labels = {"over 2L", ""};
  DccColumn error{.name = "error", .ref_type = "nawi_error", .values_kg = {-6.0, 1e-5}};
  error.expanded_kg = {4.1, 6.2};
  error.factors = {2.0, 2.05};
  error.conformity = {"pass", "conditionalPass"};
  return {load, error};
}

std::string printed(const std::vector<DccColumn>& columns) {
  pugi::xml_document document;
  add_list(document.append_child("data"), "Increasing load", columns, "en");
  std::ostringstream text;
  document.save(text);
  return text.str();
}

TEST(DccList, WritesColumnsOfEqualLength) {
  const std::string text = printed(sound());
  for (const char* part :
       {"<si:labelXMLList>over_2L -</si:labelXMLList>",
        "<si:valueXMLList>10000 20000</si:valueXMLList>",
        "<si:unitXMLList>\\kilogram \\kilogram</si:unitXMLList>",
        "<si:valueXMLList>-6 0.00001</si:valueXMLList>",
        "<si:uncertaintyXMLList>4.1 6.2</si:uncertaintyXMLList>",
        "<si:coverageFactorXMLList>2 2.05</si:coverageFactorXMLList>",
        "<si:coverageProbabilityXMLList>0.9545 0.9545</si:coverageProbabilityXMLList>",
        "<dcc:conformityXMLList>pass conditionalPass</dcc:conformityXMLList>"})
    EXPECT_NE(text.find(part), std::string::npos) << part << '\n' << text;
}

/// The schema takes a list of uncertainties that is shorter than its values (facts 7.3, found with
/// libxml2): this is the only guard.
TEST(DccList, RefusesAListThatIsShort) {
  for (int which = 0; which < 5; ++which) {
    std::vector<DccColumn> columns = sound();
    if (which == 0) columns[1].values_kg.pop_back();
    if (which == 1) columns[1].expanded_kg.pop_back();
    if (which == 2) columns[1].factors.pop_back();
    if (which == 3) columns[0].labels.pop_back();
    if (which == 4) columns[1].conformity.pop_back();
    EXPECT_FALSE(faults_of(columns).empty()) << which;
    EXPECT_THROW((void)printed(columns), std::invalid_argument) << which;
  }
  EXPECT_TRUE(faults_of(sound()).empty());
}

TEST(DccList, RefusesFiguresThatTheFormatHasNoPlaceFor) {
  std::vector<DccColumn> columns = sound();
  columns[1].factors[0] = 0.98;  // D-SI 2.1.0, kValueType: 1 or more
  EXPECT_EQ(faults_of(columns).size(), 1U);
  columns = sound();
  columns[1].expanded_kg[1] = -1.0;  // uncertaintyValueType: not negative
  EXPECT_EQ(faults_of(columns).size(), 1U);
  columns = sound();
  columns[0].values_kg[0] = std::numeric_limits<double>::quiet_NaN();
  EXPECT_EQ(faults_of(columns).size(), 1U);
  EXPECT_FALSE(faults_of({}).empty());
}

TEST(DccText, CleansWhatXmlCanNotHold) {
  EXPECT_EQ(clean("  a\tb\x01 "), "a b\xEF\xBF\xBD");
  EXPECT_EQ(clean("Łącka «Тарн»"), "Łącka «Тарн»");
  EXPECT_EQ(clean("\xff"), "\xEF\xBF\xBD");
  EXPECT_EQ(clean("\xed\xa0\x80").find('\xed'), std::string::npos);  // a surrogate, RFC 3629, 3
}

TEST(DccText, KnowsDays) {
  EXPECT_TRUE(is_date("2024-02-29"));
  for (const char* no : {"2026-02-29", "2026-13-01", "26-01-01", "2026-1-1", "", "2026-11-25 "})
    EXPECT_FALSE(is_date(no)) << no;
}

}  // namespace
}  // namespace weighwright::report
