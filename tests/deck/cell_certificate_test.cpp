/// Edge cases 12 and 13 of certificates: Y and Z by edition, creep with p_LC 0.7.

#include "deck/cell_certificate.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "file_text.h"

// outside check: edge case 12: v_min out of Y, C3 and C6 cells from 50 kg to 50 t | OIML R
//  60:2021, Annex D, printed table of the selection example (v_min = E_max / Y)
// outside check: edge case 12: what Y and Z divide | OIML R 60:2000, 2.3.13 and 2.3.14; OIML R
//  60-1:2021, 3.5.14 and 3.5.15
// outside check: edge case 13: creep of a C3 cell, 0.735 v and 0.1575 v; limits of error 0.35,
//  0.7 and 1.05 v | OIML R 60-1:2021, 5.5.1 (printed examples) and table 4

namespace weighwright::deck {
namespace {

using testing::changed;
using testing::deck_of;
using testing::faults_of;
using testing::notes_of;

std::string assumed(const Deck& deck, const std::string& key) {
  const auto at = std::ranges::find(deck.assumed, key, &Assumed::key);
  return at == deck.assumed.end() ? "" : at->value;
}

/// The sound deck with a cell of this capacity and these lines.
std::string with_cell(const std::string& capacity, const std::string& lines) {
  return changed("capacity = \"25 t\"", "capacity = \"" + capacity + "\"\n" + lines);
}

// OIML R 60:2021, Annex D, as printed; tolerance half the last digit, and the whole of it where the
// table cuts off instead of rounding (0.0055 for 0.00556).
TEST(CellCertificate, EdgeCase12TakesVMinOutOfY) {
  const struct {
    double capacity_kg, y, printed_kg, tolerance_kg;
  } rows[] = {{100, 12000, 0.0083, 5e-5}, {300, 12000, 0.025, 5e-4},  {500, 12000, 0.042, 5e-4},
              {5000, 12000, 0.42, 5e-3},  {10000, 12000, 0.83, 5e-3}, {30000, 12000, 2.5, 0.05},
              {50000, 12000, 4.17, 5e-3}, {50, 18000, 0.0028, 5e-5},  {100, 18000, 0.0055, 1e-4},
              {300, 18000, 0.0167, 5e-5}, {500, 18000, 0.028, 5e-4}};
  for (const auto& row : rows) {
    const auto reach = reach_kg(CellRules::r60_2000, row.capacity_kg, std::nullopt);
    ASSERT_TRUE(reach.has_value());
    EXPECT_NEAR(interval_of_y_kg(*reach, row.y), row.printed_kg, row.tolerance_kg)
        << row.capacity_kg;
  }
}

// By hand from both definitions: E_max 30 t, E_min 2 t, Y 12000, Z 4000. 2000: 30000/12000 = 2.5 kg
// and 30000/8000 = 3.75 kg. 2021: 28000/12000 = 2.333 kg and 28000/8000 = 3.5 kg.
TEST(CellCertificate, EdgeCase12DividesWhatTheEditionDivides) {
  const std::string lines = "least_load = \"2 t\"\ny = 12000\nz = \"4000\"\ncertificate = ";
  const Deck old = deck_of(with_cell("30 t", lines + "\"R 60:2000\""));
  const Deck now = deck_of(with_cell("30 t", lines + "\"R 60:2021\""));
  for (std::size_t i = 0; i < old.stands.size(); ++i) {
    EXPECT_NEAR(old.stands[i].cell.min_interval_kg.value_or(0.0), 2.5, 1e-12);
    EXPECT_NEAR(old.stands[i].cell.dead_load_return_kg.value_or(0.0), 3.75, 1e-12);
    EXPECT_NEAR(now.stands[i].cell.min_interval_kg.value_or(0.0), 7.0 / 3.0, 1e-12);
    EXPECT_NEAR(now.stands[i].cell.dead_load_return_kg.value_or(0.0), 3.5, 1e-12);
  }
  EXPECT_EQ(assumed(old, "cell.min_interval"), "2.5 kg, from Y 12000: E_max / Y, R 60:2000");
  EXPECT_EQ(assumed(now, "cell.min_interval"),
            "2.333 kg, from Y 12000: (E_max - E_min) / Y, R 60:2021");
  EXPECT_EQ(assumed(now, "cell.dead_load_return"),
            "3.5 kg, from Z 4000: (E_max - E_min) / (2 Z), R 60:2021");
}

TEST(CellCertificate, EdgeCase12PrefersWhatIsGivenInKilograms) {
  const std::string both =
      "min_interval = \"2 kg\"\ndead_load_return = \"3 kg\"\ny = 12000\nz = 4000\n"
      "certificate = \"R 60:2000\"";
  const Deck deck = deck_of(with_cell("30 t", both));
  EXPECT_EQ(deck.stands[0].cell.min_interval_kg, 2.0);
  EXPECT_EQ(deck.stands[0].cell.dead_load_return_kg, 3.0);
  EXPECT_EQ(assumed(deck, "cell.min_interval"), "");
  const std::string notes = notes_of(with_cell("30 t", both));
  EXPECT_NE(notes.find("y says v_min 2.5 kg and min_interval 2 kg; min_interval counts"),
            std::string::npos)
      << notes;
  EXPECT_EQ(std::ranges::count(notes, '\n'), 2) << notes;  // once each, not once a stand
  // rounded as certificates do, it is the same
  EXPECT_EQ(notes_of(with_cell(
                "50 t", "min_interval = \"4.2 kg\"\ny = 12000\ncertificate = \"R 60:2000\"")),
            "");
}

TEST(CellCertificate, OfOneStandIsJudgedByWhatThatStandSays) {
  const std::string base = with_cell("30 t", "y = 12000\ncertificate = \"R 60:2000\"");
  const Deck greater = deck_of(base + "[stand.2L.cell]\ncapacity = \"50 t\"\n");
  EXPECT_NEAR(greater.stands[2].cell.min_interval_kg.value_or(0.0), 4.17, 5e-3);
  EXPECT_NEAR(greater.stands[3].cell.min_interval_kg.value_or(0.0), 2.5, 1e-12);
  EXPECT_EQ(assumed(greater, "stand.2L.cell.min_interval"),
            "4.167 kg, from Y 12000: E_max / Y, R 60:2000");
  const Deck direct = deck_of(base + "[stand.2L.cell]\nmin_interval = \"3 kg\"\n");
  EXPECT_EQ(direct.stands[2].cell.min_interval_kg, 3.0);
  EXPECT_EQ(notes_of(base + "[stand.2L.cell]\nmin_interval = \"3 kg\"\n"), "");
  const Deck other = deck_of(with_cell("30 t", "min_interval = \"5 kg\"") +
                             "[stand.2L.cell]\ny = 10000\ncertificate = \"R 60:2000\"\n");
  EXPECT_EQ(other.stands[1].cell.min_interval_kg, 5.0);
  EXPECT_NEAR(other.stands[2].cell.min_interval_kg.value_or(0.0), 3.0, 1e-12);
}

TEST(CellCertificate, TellsWhatIsMissing) {
  const auto expect = [](const std::string& lines, const std::string& part) {
    const std::string all = faults_of(with_cell("30 t", lines));
    EXPECT_NE(all.find(part), std::string::npos) << "got: " << all << "wanted: " << part;
    EXPECT_EQ(std::ranges::count(all, '\n'), 1) << all;
  };
  expect("y = 12000", "y without the edition that it is stated by");
  expect("z = 4000", "z without the edition that it is stated by");
  expect("y = 12000\ncertificate = \"R 60:2017\"", "what Y and Z mean by \"R 60:2017\"");
  expect("certificate = \"C3\"", "R 60:2000");
  expect("y = 12000\ncertificate = \"R 60:2021\"", "y of R 60:2021 without E_min");
  expect("z = 4000\nleast_load = \"30 t\"\ncertificate = \"R 60:2021\"", "not below its capacity");
  expect("y = 0\ncertificate = \"R 60:2000\"", "from 100 to 1000000");
  expect("y = \"12000 kg\"\ncertificate = \"R 60:2000\"", "y");
  expect("y = [12000]\ncertificate = \"R 60:2000\"", "y");
}

// OIML R 60-1:2021, 5.5.1: the two figures of a C3 cell are printed there. 0.8 of a certificate
// must not raise them: 0.7 * 0.8 * 1.5 would be 0.84 v.
TEST(CellCertificate, EdgeCase13JudgesCreepWithSevenTenths) {
  const auto creep = creep_limits_v('C', 3000);
  ASSERT_TRUE(creep.has_value());
  EXPECT_NEAR(creep->in_30_min_v, 0.735, 5e-13);
  EXPECT_NEAR(creep->from_20_to_30_min_v, 0.1575, 5e-13);
  EXPECT_NEAR(*cell_error_limit_v('C', 3000, 0.8), 1.2, 1e-12);  // the limit of error does move
}

// OIML R 60-1:2021, table 4, with p_LC 0.7 where the certificate is silent: 0.35, 0.70 and 1.05 v
// up to 500, 2000 and 10 000 v (class C), breaks belong to the step below.
TEST(CellCertificate, EdgeCase13TakesSevenTenthsWhereNoneIsStated) {
  const struct {
    char cell_class;
    double load_v, limit_v;
  } rows[] = {{'C', 0, 0.35},      {'C', 500, 0.35},   {'C', 501, 0.70},    {'C', 2000, 0.70},
              {'C', 2001, 1.05},   {'C', 10000, 1.05}, {'B', 5000, 0.35},   {'B', 20000, 0.70},
              {'B', 100000, 1.05}, {'A', 50000, 0.35}, {'A', 200000, 0.70}, {'A', 1e6, 1.05},
              {'D', 50, 0.35},     {'D', 200, 0.70},   {'D', 1000, 1.05}};
  for (const auto& row : rows) {
    const auto limit_v = cell_error_limit_v(row.cell_class, row.load_v, std::nullopt);
    ASSERT_TRUE(limit_v.has_value()) << row.cell_class << row.load_v;
    EXPECT_NEAR(*limit_v, row.limit_v, 1e-12) << row.cell_class << row.load_v;
  }
  EXPECT_FALSE(cell_error_limit_v('C', 10001, std::nullopt).has_value());
  EXPECT_FALSE(cell_error_limit_v('C', -1, std::nullopt).has_value());
  EXPECT_FALSE(creep_limits_v('E', 100).has_value());
}

}  // namespace
}  // namespace weighwright::deck
