// Every number that is shipped, typed anew beside its clause, and nothing else. Where the texts
// were read second-hand the carrier stands in the rulebook; "memory" is from memory, unverified.
#include "rules/numbers.h"

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "scales.h"

// outside check: every number of the built-in rulebook R76, by clause | R 76-1:2006, tables 3 and
//  6 and the clauses at each number, through the carriers that the rulebook names; what rests on
//  memory is listed in docs/rulebooks.md
// outside check: every number of the built-in rulebook H44, by clause | HB 44, 2.20, tables 3, 4
//  and 6 (reprint of 2014) and the clauses at each number; what rests on memory is listed in
//  docs/rulebooks.md

namespace weighwright::rules {
namespace {

using testing::h44;
using testing::r76;

struct Row {
  std::string name;
  double value = 0.0;
  std::string clause;  // begins so
  Basis basis = Basis::quoted;
};

constexpr Basis kQuoted = Basis::quoted;
constexpr Basis kMemory = Basis::memory;

void expect_same(const Rulebook& rulebook, const std::vector<Row>& rows) {
  const std::vector<Number> shipped = numbers_of(rulebook);
  for (std::size_t i = 0; i < std::max(shipped.size(), rows.size()); ++i) {
    ASSERT_LT(i, shipped.size()) << "is not shipped: " << rows[i].name;
    ASSERT_LT(i, rows.size()) << "is in no row: " << shipped[i].name;
    const Number& number = shipped[i];
    const Row& row = rows[i];
    ASSERT_EQ(number.name, row.name);
    // the tables' decimals and fractions, in binary
    EXPECT_NEAR(number.value, row.value, 1e-12 * (1.0 + row.value)) << row.name;
    EXPECT_TRUE(number.source.clause.starts_with(row.clause))
        << row.name << ": " << number.source.clause;
    EXPECT_EQ(number.source.basis, row.basis) << row.name;
    EXPECT_EQ(number.source.document, rulebook.cited_as) << row.name;
    EXPECT_EQ(row.basis == Basis::quoted, !number.source.carrier.empty() && row.basis != kMemory)
        << row.name;
  }
}

// OIML R 76-1:2006.
TEST(Numbers, OfR76AreThoseOfItsClauses) {
  expect_same(
      r76(), {
                 {"rounding.before", 1, "A.4.4.3", kQuoted},
                 {"interval_series", 1, "3.4", kQuoted},
                 // Table 6: II 5000/20 000/100 000, III 500/2000/10 000, IIII 50/200/1000
                 {"class.II.steps[1].up_to", 5'000, "3.5.1, Table 6", kQuoted},
                 {"class.II.steps[1].limit", 0.5, "3.5.1, Table 6", kQuoted},
                 {"class.II.steps[2].up_to", 20'000, "3.5.1, Table 6", kQuoted},
                 {"class.II.steps[2].limit", 1.0, "3.5.1, Table 6", kQuoted},
                 {"class.II.steps[3].up_to", 100'000, "3.5.1, Table 6", kQuoted},
                 {"class.II.steps[3].limit", 1.5, "3.5.1, Table 6", kQuoted},
                 // Table 3: II 0.001 g to 0.05 g n 100, 0.1 g n 5000; n max 100 000; Min 20 e, 50 e
                 {"class.II.band[1].least_kg", 1e-6, "3.2, Table 3", kQuoted},
                 {"class.II.band[1].most_kg", 5e-5, "3.2, Table 3", kQuoted},
                 {"class.II.band[1].n_min", 100, "3.2, Table 3", kQuoted},
                 {"class.II.band[1].n_max", 100'000, "3.2, Table 3", kQuoted},
                 {"class.II.band[1].least_load", 20, "3.2, Table 3", kQuoted},
                 {"class.II.band[2].least_kg", 1e-4, "3.2, Table 3", kQuoted},
                 {"class.II.band[2].n_min", 5'000, "3.2, Table 3", kQuoted},
                 {"class.II.band[2].n_max", 100'000, "3.2, Table 3", kQuoted},
                 {"class.II.band[2].least_load", 50, "3.2, Table 3", kQuoted},
                 {"class.III.steps[1].up_to", 500, "3.5.1, Table 6", kQuoted},
                 {"class.III.steps[1].limit", 0.5, "3.5.1, Table 6", kQuoted},
                 {"class.III.steps[2].up_to", 2'000, "3.5.1, Table 6", kQuoted},
                 {"class.III.steps[2].limit", 1.0, "3.5.1, Table 6", kQuoted},
                 {"class.III.steps[3].up_to", 10'000, "3.5.1, Table 6", kQuoted},
                 {"class.III.steps[3].limit", 1.5, "3.5.1, Table 6", kQuoted},
                 // Table 3: III 0.1 g to 2 g n 100, from 5 g n 500; n max 10 000; Min 20 e
                 {"class.III.band[1].least_kg", 1e-4, "3.2, Table 3", kQuoted},
                 {"class.III.band[1].most_kg", 2e-3, "3.2, Table 3", kQuoted},
                 {"class.III.band[1].n_min", 100, "3.2, Table 3", kQuoted},
                 {"class.III.band[1].n_max", 10'000, "3.2, Table 3", kQuoted},
                 {"class.III.band[1].least_load", 20, "3.2, Table 3", kQuoted},
                 {"class.III.band[2].least_kg", 5e-3, "3.2, Table 3", kQuoted},
                 {"class.III.band[2].n_min", 500, "3.2, Table 3", kQuoted},
                 {"class.III.band[2].n_max", 10'000, "3.2, Table 3", kQuoted},
                 {"class.III.band[2].least_load", 20, "3.2, Table 3", kQuoted},
                 {"class.III.ranges.least_n", 500, "3.3, Table 2", kQuoted},
                 {"class.IIII.steps[1].up_to", 50, "3.5.1, Table 6", kQuoted},
                 {"class.IIII.steps[1].limit", 0.5, "3.5.1, Table 6", kQuoted},
                 {"class.IIII.steps[2].up_to", 200, "3.5.1, Table 6", kQuoted},
                 {"class.IIII.steps[2].limit", 1.0, "3.5.1, Table 6", kQuoted},
                 {"class.IIII.steps[3].up_to", 1'000, "3.5.1, Table 6", kQuoted},
                 {"class.IIII.steps[3].limit", 1.5, "3.5.1, Table 6", kQuoted},
                 // Table 3: IIII from 5 g n 100 to 1000; Min 10 e
                 {"class.IIII.band[1].least_kg", 5e-3, "3.2, Table 3", kQuoted},
                 {"class.IIII.band[1].n_min", 100, "3.2, Table 3", kQuoted},
                 {"class.IIII.band[1].n_max", 1'000, "3.2, Table 3", kQuoted},
                 {"class.IIII.band[1].least_load", 10, "3.2, Table 3", kQuoted},
                 {"class.IIII.ranges.least_n", 50, "3.3, Table 2", kQuoted},
                 {"occasion.new.factor", 1, "3.5.1", kQuoted},
                 {"occasion.after_rejection.factor", 1, "3.5.1", kMemory},
                 {"occasion.overhaul.factor", 1, "3.5.1", kMemory},
                 {"occasion.adjusted.factor", 1, "3.5.1", kMemory},
                 {"occasion.routine.factor", 2, "3.5.2", kQuoted},
                 {"occasion.as_found.factor", 2, "3.5.2", kQuoted},
                 {"occasion.type.factor", 1, "3.5.1", kMemory},
                 {"test.zero.required", 1, "4.5.2", kQuoted},
                 {"test.repeatability.required", 1, "A.4.10", kQuoted},
                 {"test.repeatability.range", 1, "3.6.1", kQuoted},
                 {"test.eccentric.required", 1, "3.6.2, A.4.7", kQuoted},
                 {"test.rolling.required", 0, "3.6.2.4", kQuoted},
                 {"test.increasing.required", 1, "A.4.4.1", kQuoted},
                 {"test.decreasing.required", 1, "A.4.4.1", kQuoted},
                 {"test.discrimination.required", 1, "3.8.2.2", kMemory},
                 {"test.discrimination.digital_exempt.subsequent", 1, "8.3.3", kMemory},
                 {"test.discrimination.digital_exempt.in_service", 1, "8.3.3", kMemory},
                 {"test.tare.required", 0, "4.6.3, A.4.6.2", kMemory},
                 {"test.indications.required", 0, "3.6.3", kMemory},
                 {"test.zero_range.required", 0, "4.5.1", kQuoted},
                 {"test.overload.required", 0, "4.2.3", kQuoted},
                 {"zero.setting", 0.25, "4.5.2", kQuoted},
                 {"zero.return", 0.5, "3.9.4.2", kQuoted},
                 {"zero.return_minutes", 30, "3.9.4.2", kQuoted},
                 {"zero.range_share", 0.04, "4.5.1", kQuoted},
                 {"zero.tracking", 0.5, "4.5.7", kMemory},
                 {"eccentric.share", 1.0 / 3.0, "3.6.2.1", kQuoted},
                 {"eccentric.few_supports", 4, "3.6.2.2", kQuoted},
                 {"rolling.share", 0.8, "3.6.2.4", kQuoted},
                 {"increasing.loads", 5, "A.4.4.1", kQuoted},
                 {"decreasing.share", 0, "A.4.4.1", kQuoted},
                 {"repeatability.count", 3, "A.4.10", kMemory},
                 {"repeatability.at[1]", 0.8, "A.4.10", kMemory},
                 {"repeatability.type.at[1]", 0.5, "A.4.10", kMemory},
                 {"repeatability.type.at[2]", 1.0, "A.4.10", kMemory},
                 {"discrimination.added", 1.4, "3.8.2.2", kQuoted},
                 {"discrimination.change", 1, "3.8.2.2", kMemory},
                 {"discrimination.at[1]", 0, "A.4.8", kMemory},
                 {"discrimination.at[2]", 0.5, "A.4.8", kMemory},
                 {"discrimination.at[3]", 1, "A.4.8", kMemory},
                 {"tare.setting", 0.25, "4.6.3", kMemory},
                 {"indications.apart", 0, "3.6.3", kMemory},
                 {"standards.share", 1.0 / 3.0, "3.7.1", kQuoted},
                 {"standards.least_kg", 1'000, "3.7.3", kMemory},
                 {"standards.substitution[1].repeatability", 0.2, "3.7.3", kMemory},
                 {"standards.substitution[1].weights_share", 0.2, "3.7.3", kMemory},
                 {"standards.substitution[2].repeatability", 0.3, "3.7.3", kMemory},
                 {"standards.substitution[2].weights_share", 1.0 / 3.0, "3.7.3", kMemory},
                 {"standards.substitution[3].weights_share", 0.5, "3.7.3", kMemory},
                 {"standards.substitution.weighings", 3, "3.7.3", kMemory},
                 {"capacity.overload_e", 9, "4.2.3", kQuoted},
                 {"errors.lean_share", 0.5, "common practice, no source", kMemory},
             });
}

// NIST Handbook 44, section 2.20.
TEST(Numbers, OfTheHandbookAreThoseOfItsClauses) {
  expect_same(
      h44(),
      {
          {"rounding.before", 0, "common practice, no source", kMemory},
          {"interval_series", 1, "S.1.2", kMemory},
          // Table 6, maintenance: III 1 d to 500, 2 d to 2000, 3 d to 4000, 5 d above
          {"class.III.steps[1].up_to", 500, "Table 6", kQuoted},
          {"class.III.steps[1].limit", 1, "Table 6", kQuoted},
          {"class.III.steps[2].up_to", 2'000, "Table 6", kQuoted},
          {"class.III.steps[2].limit", 2, "Table 6", kQuoted},
          {"class.III.steps[3].up_to", 4'000, "Table 6", kQuoted},
          {"class.III.steps[3].limit", 3, "Table 6", kQuoted},
          {"class.III.steps[4].limit", 5, "Table 6", kQuoted},
          // Table 3: III 0.1 g to 2 g (0.0002 lb to 0.005 lb) n 100, from 5 g (0.01 lb) n 500
          {"class.III.band[1].least_kg", 1e-4, "Table 3", kQuoted},
          {"class.III.band[1].most_kg", 2e-3, "Table 3", kQuoted},
          {"class.III.band[1].least_lb", 0.0002, "Table 3", kQuoted},
          {"class.III.band[1].most_lb", 0.005, "Table 3", kQuoted},
          {"class.III.band[1].n_min", 100, "Table 3", kQuoted},
          {"class.III.band[1].n_max", 10'000, "Table 3", kQuoted},
          {"class.III.band[2].least_kg", 5e-3, "Table 3", kQuoted},
          {"class.III.band[2].least_lb", 0.01, "Table 3", kQuoted},
          {"class.III.band[2].n_min", 500, "Table 3", kQuoted},
          {"class.III.band[2].n_max", 10'000, "Table 3", kQuoted},
          {"class.III.breaks_down.from_n", 1'000, "N.1.2.2", kMemory},
          {"class.III L.steps[1].up_to", 500, "Table 6", kMemory},
          {"class.III L.steps[1].limit", 1, "Table 6", kMemory},
          {"class.III L.steps[2].up_to", 1'000, "Table 6", kMemory},
          {"class.III L.steps[2].limit", 2, "Table 6", kMemory},
          {"class.III L.further.each", 500, "Table 6", kMemory},
          {"class.III L.further.limit", 1, "Table 6", kMemory},
          // Table 3: III L from 2 kg (5 lb), n 2000 to 10 000
          {"class.III L.band[1].least_kg", 2, "Table 3", kQuoted},
          {"class.III L.band[1].least_lb", 5, "Table 3", kQuoted},
          {"class.III L.band[1].n_min", 2'000, "Table 3", kQuoted},
          {"class.III L.band[1].n_max", 10'000, "Table 3", kQuoted},
          {"occasion.new.factor", 0.5, "T.N.3.2, G-T.1", kMemory},
          {"occasion.after_rejection.factor", 0.5, "T.N.3.2, G-T.1", kMemory},
          {"occasion.overhaul.factor", 0.5, "T.N.3.2, G-T.1", kMemory},
          {"occasion.adjusted.factor", 1, "G-T.2", kMemory},
          {"occasion.routine.factor", 1, "G-T.2", kMemory},
          {"occasion.as_found.factor", 1, "G-T.2", kMemory},
          {"occasion.type.factor", 0.5, "T.N.3.2, G-T.1", kMemory},
          {"test.zero.required", 1, "T.N.2.1, N.1.9", kMemory},
          {"test.section.required", 1, "N.1.3.3.1", kQuoted},
          {"test.section.range", 2, "T.N.4.4", kMemory},
          {"test.increasing.required", 1, "N.1.1, N.1.2.1", kMemory},
          {"test.decreasing.required", 1, "N.1.2.2", kMemory},
          {"test.repeatability.required", 0, "T.N.5", kQuoted},
          {"test.repeatability.range", 2, "T.N.5", kQuoted},
          {"test.discrimination.required", 1, "N.1.5, T.N.7.2", kMemory},
          {"test.indications.required", 0, "T.N.4.1", kMemory},
          {"test.overload.required", 0, "S.1.7", kQuoted},
          {"test.strain.required", 0, "N.1.12", kQuoted},
          {"zero.setting", 0, "T.N.2.1", kMemory},
          {"zero.return", 0, "N.1.9", kMemory},
          {"zero.tracking", 3, "S.2.1.3.2", kMemory},
          {"section.share", 0.125, "N.1.3.3.1", kMemory},
          {"section.clc_share", 1, "N.1.3.3.1", kMemory},
          {"section.pattern_length_m", 1.2, "N.1.3.3.1", kMemory},
          {"section.pattern_width_m", 3.0, "N.1.3.3.1", kMemory},
          {"decreasing.share", 0.5, "N.1.2.2", kMemory},
          {"repeatability.count", 3, "T.N.5", kMemory},
          {"repeatability.at[1]", 0.125, "common practice, no source", kMemory},
          {"discrimination.added", 1.4, "T.N.7.2", kQuoted},
          {"discrimination.change", 2, "T.N.7.2", kQuoted},
          {"discrimination.at[1]", 0, "N.1.5", kMemory},
          {"discrimination.at[2]", 1, "N.1.5", kMemory},
          {"indications.apart", 0, "T.N.4.1", kMemory},
          {"standards.share", 1.0 / 3.0, "App. A, 3.2", kQuoted},
          {"standards.most_substitutions", 3, "Table 4, note 2", kMemory},
          // Table 4: to 150 kg (300 lb) all; to 1500 kg (3000 lb) 25 % or 150 kg (300 lb), load 75
          // %; to 20 000 kg (40 000 lb) 12.5 % or 500 kg (1000 lb), 50 %; above 12.5 % or 5000 kg
          // (10 000 lb), 25 %
          {"standards.amounts[1].up_to_kg", 150, "Table 4", kQuoted},
          {"standards.amounts[1].up_to_lb", 300, "Table 4", kQuoted},
          {"standards.amounts[1].weights_share", 1, "Table 4", kQuoted},
          {"standards.amounts[2].up_to_kg", 1'500, "Table 4", kQuoted},
          {"standards.amounts[2].up_to_lb", 3'000, "Table 4", kQuoted},
          {"standards.amounts[2].weights_share", 0.25, "Table 4", kQuoted},
          {"standards.amounts[2].weights_kg", 150, "Table 4", kQuoted},
          {"standards.amounts[2].weights_lb", 300, "Table 4", kQuoted},
          {"standards.amounts[2].load_share", 0.75, "Table 4", kQuoted},
          {"standards.amounts[3].up_to_kg", 20'000, "Table 4", kQuoted},
          {"standards.amounts[3].up_to_lb", 40'000, "Table 4", kQuoted},
          {"standards.amounts[3].weights_share", 0.125, "Table 4", kQuoted},
          {"standards.amounts[3].weights_kg", 500, "Table 4", kQuoted},
          {"standards.amounts[3].weights_lb", 1'000, "Table 4", kQuoted},
          {"standards.amounts[3].load_share", 0.5, "Table 4", kQuoted},
          {"standards.amounts[4].weights_share", 0.125, "Table 4", kQuoted},
          {"standards.amounts[4].weights_kg", 5'000, "Table 4", kQuoted},
          {"standards.amounts[4].weights_lb", 10'000, "Table 4", kQuoted},
          {"standards.amounts[4].load_share", 0.25, "Table 4", kQuoted},
          {"capacity.overload_share", 1.05, "S.1.7", kQuoted},
          {"capacity.clc_sections_less", 0.5, "S.6.1", kQuoted},
          {"errors.lean_share", 0.5, "G-UR.4.1, G-UR.4.3", kMemory},
      });
}

TEST(Numbers, CarryTitleEditionAndWords) {
  EXPECT_EQ(r76().title, "OIML R 76-1");
  EXPECT_EQ(r76().edition, "2006");
  EXPECT_EQ(r76().division, "e");
  EXPECT_TRUE(r76().before_rounding);
  EXPECT_EQ(h44().title, "NIST Handbook 44, section 2.20");
  EXPECT_EQ(h44().edition, "2023; tables as reprinted 2014");
  EXPECT_EQ(h44().division, "d");
  EXPECT_FALSE(h44().before_rounding);
  EXPECT_EQ(r76().find_test(Check::rolling)->instead_of, "eccentric");
  EXPECT_EQ(h44().find_test(Check::eccentric), nullptr);
  EXPECT_EQ(h44().cite(h44().find_test(Check::section)->range_source),
            "HB 44, 2.20 (2023), T.N.4.4");
  EXPECT_EQ(h44().cite(h44().rounding),
            "common practice, no source: field tests are judged by the indication");
  EXPECT_EQ(pedigree(h44().rounding), "from memory, unverified");
  EXPECT_EQ(pedigree(r76().find_class("III")->limits),
            "as quoted by French decree 91-330 (1991), Annex I; OIML Bulletin 2013/03");
}

TEST(Codes, AreReadBackToWhatTheyStandFor) {
  for (const Check check : all_checks()) EXPECT_EQ(find_check(code_of(check)), check);
  for (const Occasion occasion : all_occasions())
    EXPECT_EQ(find_occasion(code_of(occasion)), occasion);
  EXPECT_EQ(all_checks().size(), 14U);
  EXPECT_EQ(all_occasions().size(), 7U);
  EXPECT_EQ(find_occasion("as_new"), Occasion::as_new);
  EXPECT_EQ(code_of(Occasion::as_new), "new");
  EXPECT_FALSE(find_check("Section"));
  EXPECT_FALSE(find_occasion(""));
}

}  // namespace
}  // namespace weighwright::rules
