// Weights, certificates and dates are our own invention. What is expected of them is not: class
// limits OIML R 111-1:2004, Table 1; JCGM 100:2008, 4.3.7 and 5.2.2; clauses stand at the checks.
#include "proof/standards.h"

#include <gtest/gtest.h>

#include <cmath>

#include "proof/scale_of.h"

// outside check: limits of loads of class weights, edge case 22: blocks without a class value |
//  OIML R 111-1:2004, table 1, as reprinted on the web
// outside check: uncertainty of a load: limit over root three, certificates, one common standard
//  | JCGM 100:2008, 4.3.3, 4.3.7 and 5.2.2 Note 1
// outside check: marked weights n = 3000: 3230 g of nine of 2 t and one of 1 t | OIML Bulletin
//  2001/04 (EURAMET cg-18, 7.1.2.1, as told there)
// outside check: which classes do for 60 t at a third of the limit | R 76-1:2006, 3.7.1, as
//  quoted by OIML Bulletin 1994/02
// outside check: edge case 9: supports are stands, not sections | Northern Ireland SR 2006/5,
//  Schedule 2, 18

namespace weighwright::proof {
namespace {

record::Weight block(const std::string& id, double kg, const std::string& weight_class) {
  record::Weight weight;
  weight.id = id;
  weight.nominal_kg = kg;
  weight.weight_class = weight_class;
  weight.certificate = "C-" + id;
  return weight;
}

record::Weight certified(
    const std::string& id, double kg, double value_kg, double U_kg, const std::string& traced) {
  record::Weight weight = block(id, kg, "");
  weight.conventional_kg = value_kg;
  weight.uncertainty_kg = U_kg;
  weight.traced_to = traced;
  return weight;
}

bool has(const std::vector<StandardFinding>& found, const std::string& code) {
  for (const StandardFinding& one : found) {
    if (one.code == code) return true;
  }
  return false;
}

TEST(TakenWeights, AreReadAsTheyAreWritten) {
  EXPECT_EQ(parse_taken("W1")->id, "W1");
  EXPECT_EQ(parse_taken("W1")->count, 1);
  EXPECT_EQ(parse_taken("W1*3")->id, "W1");
  EXPECT_EQ(parse_taken("W1*3")->count, 3);
}

TEST(TakenWeights, WrittenOtherwiseAreNone) {
  for (const char* text :
       {"", "*3", "W1*", "W1*0", "W1*-2", "W1*2.5", "W1*x", "W1*3 ", "W1 *3", "W1*99999999999"}) {
    EXPECT_FALSE(parse_taken(text)) << text;
  }
}

// OIML R 111-1:2004, Table 1: M1 of 1000 kg 50 g, of 20 kg 1 g. JCGM 100:2008, 4.3.7 (limit over
// sqrt 3) and 5.2.2 Note 1 (what is compared with one standard adds linearly).
TEST(LoadOfWeights, OfOneClassAddsLinearly) {
  const Load load = load_of({{"T", 10}}, {block("T", 1000.0, "M1")});
  EXPECT_DOUBLE_EQ(load.kg, 10000.0);
  EXPECT_NEAR(load.class_error_kg, 10 * 0.050, 1e-12);
  EXPECT_NEAR(load.u_kg, 10 * 0.050 / std::sqrt(3.0), 1e-12);
  EXPECT_NEAR(load.class_share, 5e-5, 1e-15);
  EXPECT_DOUBLE_EQ(load.drift_kg, 0.0);
  EXPECT_TRUE(load.sure);
}

// Same table: a tonne of fifty pieces may be wrong by 50 times 1 g.
TEST(LoadOfWeights, CountsThePiecesOfOneLine) {
  record::Weight small = block("P", 20.0, "M1");
  small.count = 50;
  const Load load = load_of({{"P", 50}}, {small});
  EXPECT_DOUBLE_EQ(load.kg, 1000.0);
  EXPECT_NEAR(load.class_error_kg, 0.050, 1e-12);
}

// Metrology notes 11, row 22 (OIML R 111-1:2004, Table 1; R 76-1, 3.7.1): 60 weights of 1 t against
// a third of 30 kg: M1, M1-2 and M2 do, M2-3 and M3 do not.
TEST(LoadOfWeights, SixtyTonnesAgainstAThirdOfTheLimit) {
  const std::vector<std::pair<std::string, bool>> table{
      {"M1", true}, {"M1-2", true}, {"M2", true}, {"M2-3", false}, {"M3", false}};
  for (const auto& [name, accepted] : table) {
    const Load load = load_of({{"T", 60}}, {block("T", 1000.0, name)});
    EXPECT_TRUE(load.sure) << name;
    EXPECT_EQ(load.class_error_kg <= 10.0, accepted) << name << " " << load.class_error_kg;
  }
}

// EURAMET cg-18 v4.0, 7.1.2.1 as told by OIML Bulletin 2001/04: R 47 weights n = 3000: nine of 2 t
// (340 g), one of 1 t (170 g): 3230 g in all.
TEST(LoadOfWeights, OfMarkedWeightsAddAsPublished) {
  const Load load =
      load_of({{"A", 9}, {"B", 1}}, {block("A", 2000.0, "n=3000"), block("B", 1000.0, "n=3000")});
  EXPECT_NEAR(load.class_error_kg, 3.230, 1e-9);
}

// JCGM 100:2008, 5.2.2 Note 1: ten resistors compared with one standard of 0.1: 1, not 0.32.
TEST(LoadOfWeights, TracedToOneStandardAddsLinearly) {
  std::vector<record::Weight> weights;
  std::vector<Taken> taken;
  for (int i = 0; i < 10; ++i) {
    weights.push_back(certified("W" + std::to_string(i), 1000.0, 1000.0, 0.2, "REF-1"));
    taken.push_back({"W" + std::to_string(i), 1});
  }
  EXPECT_NEAR(load_of(taken, weights).u_kg, 10 * 0.1, 1e-12);
  for (record::Weight& weight : weights) weight.traced_to.clear();
  // Nobody says what they were compared with: no less.
  EXPECT_NEAR(load_of(taken, weights).u_kg, 10 * 0.1, 1e-12);
  // Compared with ten standards: in squares (5.1.2).
  for (record::Weight& weight : weights) weight.traced_to = "REF-" + weight.id;
  EXPECT_NEAR(load_of(taken, weights).u_kg, std::sqrt(10.0) * 0.1, 1e-12);
}

// JCGM 100:2008, 4.3.3: the standard uncertainty is the certificate's over its factor.
TEST(LoadOfWeights, UsesValueAndFactorOfTheCertificate) {
  record::Weight cart = certified("C", 10000.0, 10003.2, 1.5, "");
  cart.coverage = 3.0;
  const Load load = load_of({{"C", 1}}, {cart});
  EXPECT_DOUBLE_EQ(load.kg, 10003.2);
  EXPECT_NEAR(load.u_kg, 0.5, 1e-12);
  EXPECT_NEAR(load.drift_kg, 1.5, 1e-12);  // EURAMET cg-18 v4.0, 7.1.2.3: of the order of U
}

TEST(LoadOfWeights, NamesWhatNobodyListed) {
  const Load load = load_of({{"W1", 1}, {"W9", 2}}, {block("W1", 500.0, "M1")});
  ASSERT_EQ(load.unknown, std::vector<std::string>{"W9"});
  EXPECT_DOUBLE_EQ(load.kg, 500.0);
}

// |1/density - 1/8000|, 8000 kg/m3 that of conventional mass (JCGM 101:2008, 9.3.1.2); by hand.
TEST(LoadOfWeights, TakesTheMaterialFarthestFromTheConventionalOne) {
  record::Weight steel = block("S", 1000.0, "M1");
  steel.density_kg_per_m3 = 7850.0;
  record::Weight water = block("H", 1000.0, "M1");
  water.density_kg_per_m3 = 1000.0;
  EXPECT_NEAR(load_of({{"S", 1}}, {steel}).volume_off_m3_per_kg, 2.3885e-6, 5e-11);
  const Load both = load_of({{"S", 1}, {"H", 1}}, {steel, water});
  EXPECT_NEAR(both.volume_off_m3_per_kg, 8.75e-4, 1e-12);
  EXPECT_TRUE(both.densities_stated);
  EXPECT_FALSE(load_of({{"S", 1}, {"I", 1}}, {steel, block("I", 1000.0, "M1")}).densities_stated);
}

// OIML R 111-1:2004, Table 1 has 20 and 50 kg, no 25 kg, and no 2500 kg (metrology notes, 12.22).
TEST(Standards, EdgeCase22WithoutClassValueNeedACertifiedValue) {
  for (const double kg : {25.0, 1500.0, 2500.0}) {
    const record::Weight marked = block("B", kg, "M1");
    EXPECT_TRUE(has(judge_standards({marked}, 0), "no_class_value")) << kg;
    EXPECT_FALSE(usable(marked, 0)) << kg;
    EXPECT_FALSE(load_of({{"B", 1}}, {marked}).sure) << kg;
    record::Weight valued = marked;
    valued.conventional_kg = kg + 0.0002;
    valued.uncertainty_kg = 0.0004;
    EXPECT_TRUE(usable(valued, 0)) << kg;
    EXPECT_TRUE(load_of({{"B", 1}}, {valued}).sure) << kg;
  }
  EXPECT_TRUE(usable(block("B", 20.0, "M1"), 0));
}

TEST(Standards, WithoutCertificateAreRefused) {
  record::Weight weight = block("W", 1000.0, "M1");
  weight.certificate.clear();
  weight.line = 7;
  const auto found = judge_standards({weight}, 0);
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].code, "no_certificate");
  EXPECT_EQ(found[0].line, 7);
  EXPECT_TRUE(found[0].refuses);
}

TEST(Standards, ExpireAfterTheirLastDay) {
  record::Weight weight = block("W", 1000.0, "M1");
  weight.expires_day = 20000;
  EXPECT_TRUE(usable(weight, 20000));
  EXPECT_FALSE(usable(weight, 20001));
  EXPECT_TRUE(has(judge_standards({weight}, 20001), "expired"));
}

TEST(Standards, WithAMistypedValueAreRefused) {
  EXPECT_TRUE(
      has(judge_standards({certified("W", 1000.0, 100.0, 0.05, "")}, 0), "value_unlike_nominal"));
  record::Weight truck = certified("T", 14000.0, 15220.0, 4.0, "");
  truck.handling = record::Handling::vehicle;
  EXPECT_TRUE(judge_standards({truck}, 0).empty());
}

TEST(Standards, OfOneNameAreDoubled) {
  EXPECT_TRUE(
      has(judge_standards({block("W", 1000.0, "M1"), block("W", 500.0, "M1")}, 0), "doubled"));
}

// NI SR 2006/5, Sch. 2 para 18: supports are what carries the receptor; R 76-1:2006, T+ counts
// (metrology notes, 12.9 and 12.20): sections are no supports.
TEST(ScaleOfDeck, EdgeCase09CountsStandsNotSections) {
  deck::Deck deck;
  deck.accuracy_class = "III";
  deck.capacity_kg = 60000.0;
  deck.interval_kg = 20.0;
  deck.sections.resize(3);
  deck.stands.resize(6);
  deck.receptor.tare_kg = 500.0;
  const rules::Scale scale = scale_of(deck);
  EXPECT_EQ(scale.supports, 6);
  EXPECT_EQ(scale.sections, 3);
  EXPECT_DOUBLE_EQ(scale.tare_kg, 500.0);
  EXPECT_FALSE(scale.us);
}

}  // namespace
}  // namespace weighwright::proof
