#include "span/results.h"

#include <gtest/gtest.h>

#include "loads.h"

// outside check: changeover readings, substitution, fit through zero | worked cases of OIML
//  Bulletins 2002/02 and 2009/02

namespace weighwright::span {
namespace {

using tests::changeover;
using tests::loads;
using tests::row;
using tests::scale;

// OIML Bulletin 2002/02 and others, the same worked case: Max 30 t, e 10 kg, L = I = 20 000 kg,
// small weights of 9 kg until the display changed over: error before rounding -4 kg.
TEST(Changeover, GivesTheErrorBeforeRounding) {
  const ReadResults read =
      read_results(scale(30000.0, 10.0), {loads({changeover(20000.0, 20000.0, 9.0)})});
  ASSERT_TRUE(read.results);
  EXPECT_DOUBLE_EQ(read.results->results[0].indicated_kg, 19996.0);
}

// OIML Bulletin 2009/02, a 60 t weighbridge, e 20 kg: five loads by changeover and a substitute
// that indicated 7640 kg; it is worth I + e/2 - E5 = 7656 kg (the table there prints 7660, but its
// next row uses 7656 + 8000).
ReadResults published() {
  record::LoadReading substitute = changeover(0.0, 7640.0, 0.0);
  substitute.material = "m1";
  record::LoadReading both = changeover(8000.0, 15660.0, 18.0);
  both.material = "m1";
  return read_results(scale(60000.0, 20.0),
                      {loads({changeover(2000.0, 2000.0, 16.0), changeover(4000.0, 4000.0, 18.0),
                              changeover(5000.0, 5000.0, 12.0), changeover(6000.0, 6000.0, 14.0),
                              changeover(8000.0, 8000.0, 16.0), substitute, both})});
}

TEST(Substitution, GivesTheMaterialTheWorthOfThePublishedCase) {
  const ReadResults read = published();
  ASSERT_TRUE(read.results);
  const double before_rounding[5] = {1994.0, 3992.0, 4998.0, 5996.0, 7994.0};
  for (std::size_t i = 0; i < 5; ++i) {
    EXPECT_NEAR(read.results->results[i].indicated_kg, before_rounding[i], 1e-9);
  }
  ASSERT_EQ(read.results->materials.size(), 1U);
  // to the kilogram that the table shows: the error is taken in proportion, 0.3 kg less
  EXPECT_NEAR(read.results->materials[0].kg, 7656.0, 0.5);
}

TEST(Substitution, CarriesTheMaterialIntoTheNextLoad) {
  const ReadResults read = published();
  ASSERT_TRUE(read.results);
  const Result& last = read.results->results.back();
  EXPECT_NEAR(last.total_kg, 15656.0, 0.5);
  // The published last row: I 15 660 and an added load of 18 (printed 2) give P = 15 652.
  EXPECT_NEAR(last.indicated_kg, 15652.0, 1e-9);
  EXPECT_GT(last.u_total_kg, 0.0);
}

// Every further substitute stands on the one before: its doubt is no smaller (GUM 5.2, correlated).
TEST(Substitution, AddsToTheDoubtWithEveryStep) {
  record::LoadReading first = row(0.0, 10000.0);
  first.material = "m1";
  record::LoadReading more = row(10000.0, 20000.0);
  more.material = "m1";
  record::LoadReading second = row(0.0, 20000.0);
  second.material = "m1+m2";
  const ReadResults read =
      read_results(scale(60000.0, 20.0), {loads({row(10000.0, 10000.0), first, more, second})});
  ASSERT_TRUE(read.results);
  ASSERT_EQ(read.results->materials.size(), 2U);
  EXPECT_NEAR(read.results->materials[1].kg, 10000.0, 1e-9);
  EXPECT_GT(read.results->materials[1].u_kg, read.results->materials[0].u_kg);
}

TEST(Substitution, IsRefusedWhereNothingKnownWasIndicatedNearby) {
  record::LoadReading far = row(0.0, 30000.0);
  far.material = "m1";
  const ReadResults read =
      read_results(scale(60000.0, 20.0), {loads({row(10000.0, 10000.0), far})});
  EXPECT_FALSE(read.results);
  ASSERT_EQ(read.faults.size(), 1U);
  EXPECT_NE(read.faults[0].what.find("m1"), std::string::npos);
}

TEST(Results, NeedALoadThatIsKnown) {
  record::LoadReading unknown = row(0.0, 10000.0);
  unknown.load_kg.reset();
  unknown.load_id = "truck";
  const ReadResults read = read_results(scale(60000.0, 20.0), {loads({unknown})});
  EXPECT_FALSE(read.results);
}

TEST(Results, OfAnEmptyDeckAloneAreRefused) {
  const ReadResults read = read_results(scale(60000.0, 20.0), {loads({row(0.0, 0.0)})});
  EXPECT_FALSE(read.results);
}

}  // namespace
}  // namespace weighwright::span
