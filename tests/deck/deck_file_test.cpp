#include "deck/reading/deck_file.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "file_text.h"

namespace weighwright::deck {
namespace {

using testing::changed;
using testing::deck_of;
using testing::kSound;
using testing::read_file;

std::string assumed(const Deck& deck, const std::string& key) {
  for (const Assumed& item : deck.assumed) {
    if (item.key == key) return item.value;
  }
  return "";
}

TEST(DeckFile, ReadsTheThreeModuleExampleToSi) {
  const Deck deck = deck_of(read_file("examples/three-modules.toml"));
  ASSERT_EQ(deck.modules.size(), 3U);
  ASSERT_EQ(deck.joints.size(), 2U);
  ASSERT_EQ(deck.sections.size(), 4U);
  ASSERT_EQ(deck.stands.size(), 8U);
  EXPECT_EQ(deck.capacity_kg, 60000.0);
  EXPECT_EQ(deck.interval_kg, 20.0);
  EXPECT_EQ(deck.sections[2].at_m, 13.7);
  EXPECT_EQ(deck.sections[2].module, (units::ModuleIndex{1}));
  EXPECT_EQ(deck.joints[0].resting, (units::ModuleIndex{0}));
  EXPECT_EQ(deck.joints[1].resting, (units::ModuleIndex{2}));
  EXPECT_EQ(deck.modules[1].twisting_Nm2, 20e6);
  EXPECT_EQ(deck.modules[1].crossbeams, 7);
  EXPECT_EQ(deck.modules[1].mass_spread, 0.03);
  EXPECT_EQ(deck.stands[7].cell.output_V_per_V, 0.002);
  EXPECT_EQ(deck.stands[7].pitch_m, 2.5e-3);
  EXPECT_EQ(deck.stands[7].travel_down_m, -0.01);
  EXPECT_EQ(deck.stands[7].screw_kind, ScrewKind::jack);
  // springs in series, by hand: 1/k = deflection / rated force + 1/foundation = 1/(200 kN/mm)
  const Stand& stand = deck.stands[0];
  const double flexibility =
      stand.cell.deflection_m / (stand.cell.capacity_kg * 9.80665) + 1.0 / stand.foundation_N_per_m;
  EXPECT_NEAR(1.0 / flexibility, 200e6, 1e-3);
}

TEST(DeckFile, AGroutWindowWithoutAGapIsHeldFromItsMiddleAndSaysSo) {
  const std::string window = "[stand]\ngrout_min = \"20 mm\"\ngrout_max = \"50 mm\"\n";
  const Deck middle = deck_of(kSound + window);
  EXPECT_NEAR(middle.stands[3].grout_m.value_or(0.0), 35e-3, 1e-12);
  EXPECT_NE(assumed(middle, "stand.grout").find("35 mm"), std::string::npos);
  const ScrewWay way = screw_way(middle.stands[3]);
  EXPECT_NEAR(way.down_m, -15e-3, 1e-12);
  EXPECT_NEAR(way.up_m, 15e-3, 1e-12);
  EXPECT_TRUE(way.down_by_grout && way.up_by_grout);

  const Deck given = deck_of(kSound + window + "grout = \"22 mm\"\n");
  EXPECT_EQ(assumed(given, "stand.grout"), "");
  EXPECT_NEAR(screw_way(given.stands[0]).down_m, -2e-3, 1e-12);
  EXPECT_NEAR(screw_way(given.stands[0]).up_m, 20e-3, 1e-12);  // travel ends first
  EXPECT_FALSE(screw_way(given.stands[0]).up_by_grout);

  const Deck half = deck_of(kSound + "[stand]\ngrout_min = \"20 mm\"\n");
  EXPECT_FALSE(half.stands[0].grout_m);
  EXPECT_NE(assumed(half, "stand.grout").find("grout_min is not held"), std::string::npos);
}

// By hand: 13 m of steel grow 13 m * 12e-6 per K = 0.156 mm per K, half of it at each end
// (coefficient: EN 1991-1-5:2003, table C.1; from memory, unverified).
TEST(DeckFile, AGapIsReckonedForTheSteelsTemperature) {
  const Deck deck =
      deck_of(kSound + "[restraint]\nkind = \"gap\"\ngap = \"5 mm\"\ntemperature = \"20 degC\"\n");
  EXPECT_EQ(deck.restraint.kind, Restraint::Kind::gap);
  EXPECT_NEAR(end_gap_m(deck, 20.0).value_or(0.0), 5e-3, 1e-12);
  EXPECT_NEAR(end_gap_m(deck, 0.0).value_or(0.0), 5e-3 + 20.0 * 0.078e-3, 1e-9);
  EXPECT_NEAR(end_gap_m(deck, 50.0).value_or(0.0), 5e-3 - 30.0 * 0.078e-3, 1e-9);
  EXPECT_FALSE(end_gap_m(deck_of(kSound + "[restraint]\ngap = \"5 mm\"\n"), 20.0));
  EXPECT_FALSE(end_gap_m(deck_of(kSound + "[restraint]\nkind = \"rods\"\n"), 20.0));
}

TEST(DeckFile, KeepsToleranceThatIsGivenAndNoOther) {
  EXPECT_EQ(deck_of(kSound).sharing.tolerance_V, 1e-3);
  EXPECT_EQ(deck_of(kSound).sharing.tolerance_share, 0.2);
  const Deck volts =
      deck_of(changed("interval = \"20 kg\"", "interval = \"20 kg\"\npair_tolerance = \"0.5 mV\""));
  EXPECT_EQ(volts.sharing.tolerance_V, 0.5e-3);
  EXPECT_FALSE(volts.sharing.tolerance_share.has_value());
  const Deck share = deck_of(kSound + "[share]\ntolerance = \"10 %\"\n");
  EXPECT_FALSE(share.sharing.tolerance_V.has_value());
  EXPECT_EQ(share.sharing.tolerance_share, 0.1);
}

TEST(DeckFile, NamesEveryDefaultThatItUsed) {
  const Deck deck = deck_of(kSound);
  for (const char* const key : {"module.*.construction",
                                "module.*.width",
                                "module.A.mass",
                                "module.B.mass",
                                "module.A.centre",
                                "module.*.engineering.twisting",
                                "module.*.engineering.bending",
                                "module.*.engineering.crossbeams",
                                "module.*.engineering.crossbeam_bending",
                                "module.*.engineering.crossbeam_twisting",
                                "module.*.engineering.girders",
                                "joint.kind",
                                "joint.1.across",
                                "cell.deflection",
                                "stand.foundation",
                                "stand.adjust",
                                "stand.screws",
                                "stand.screw_kind",
                                "stand.thread",
                                "stand.division",
                                "stand.travel",
                                "stand.plate",
                                "indicator.excitation",
                                "site.gravity",
                                "deck.pair_tolerance",
                                "share.turn_error",
                                "share.noise",
                                "share.heights",
                                "share.survey",
                                "share.module_twist",
                                "share.roll",
                                "share.turn_torque",
                                "share.top_line"}) {
    EXPECT_NE(assumed(deck, key), "") << key;
  }
  EXPECT_EQ(
      assumed(deck_of(kSound + "[indicator]\nexcitation = \"5 V\"\n"), "indicator.excitation"), "");
}

TEST(DeckFile, FillsWhatNobodyGave) {
  const Deck deck = deck_of(kSound);
  const Module& a = deck.modules[0];
  EXPECT_DOUBLE_EQ(a.width_m, 3.0);                // greatest across + 0.6 m
  EXPECT_DOUBLE_EQ(a.mass_kg, 7.0 * 3.0 * 250.0);  // kind and area
  EXPECT_EQ(a.mass_spread, 0.15);
  EXPECT_EQ(a.centre_m, 3.5);
  EXPECT_EQ(a.centre_spread_m, 0.30);  // an end module
  EXPECT_EQ(a.twisting_Nm2, 94e6);
  EXPECT_EQ(a.twisting_spread, 1.6);
  EXPECT_EQ(a.girders_m, (std::vector<double>{1.2, -1.2}));
  EXPECT_EQ(deck.joints[0].kind, JointKind::hinge);
  EXPECT_FALSE(deck.joints[0].resting.has_value());
  EXPECT_EQ(deck.joints[0].across_m, 2.4);
  EXPECT_EQ(deck.sections[1].module, (units::ModuleIndex{1}));
  EXPECT_EQ(deck.site.gravity_m_per_s2, 9.80665);
  EXPECT_EQ(deck.units, UnitSystem::metric);
}

TEST(DeckFile, EstimatesConcreteFromItsSlab) {
  // 7 m * 3 m * 0.3 m * 2500 kg/m3 = 15 750 kg and the pan; GJ = 12.5 GPa * 3 m * (0.3 m)^3 / 3, by
  // hand
  const Deck poured = deck_of(changed(
      "length = \"7 m\"", "length = \"7 m\"\nconstruction = \"concrete\"\nslab = \"0.3 m\""));
  EXPECT_NEAR(poured.modules[0].mass_kg, 15750.0 + 150.0 * 21.0, 1e-6);
  EXPECT_NEAR(poured.modules[0].twisting_Nm2, 337.5e6, 1.0);
  EXPECT_TRUE(poured.modules[0].poured);
  const Deck empty = deck_of(
      changed("length = \"7 m\"",
              "length = \"7 m\"\nconstruction = \"concrete\"\nslab = \"0.3 m\"\npoured = false"));
  EXPECT_NEAR(empty.modules[0].mass_kg, 150.0 * 21.0, 1e-6);
  EXPECT_EQ(empty.modules[0].twisting_Nm2, 0.25e6);
}

TEST(DeckFile, SpreadsWidelyWhereTheKindIsUnknown) {
  const Deck deck =
      deck_of(changed("length = \"7 m\"", "length = \"7 m\"\nconstruction = \"unknown\""));
  EXPECT_EQ(deck.modules[0].twisting_Nm2, 60e6);
  EXPECT_EQ(deck.modules[0].twisting_spread, 4.0);
}

TEST(DeckFile, MergesOverridesKeyByKey) {
  const Deck deck = deck_of(changed("[cell]", R"([stand]
screws = 3
thread = "M24"
[stand.2L]
thread = "5/8-11 UNC"
terminal = 5
[stand.2L.cell]
output = "2.0012 mV/V"
serial = "P-17"
[cell])"));
  const Stand& changed_stand = deck.stands[2];
  EXPECT_EQ(changed_stand.screws, 3);
  EXPECT_DOUBLE_EQ(changed_stand.pitch_m, 25.4e-3 / 11.0);
  EXPECT_EQ(changed_stand.cell.output_V_per_V, 2.0012e-3);
  EXPECT_EQ(changed_stand.cell.capacity_kg, 25000.0);
  EXPECT_EQ(changed_stand.cell.serial, "P-17");
  EXPECT_EQ(changed_stand.cell.terminal, "5");
  EXPECT_EQ(deck.stands[3].thread, "M24");
  EXPECT_EQ(deck.stands[3].cell.output_V_per_V, 2e-3);
}

TEST(DeckFile, NeedsNoCommonCellWhereEveryStandHasItsOwn) {
  std::string text = kSound.substr(0, kSound.find("[cell]"));
  for (const char* const stand : {"1L", "1R", "2L", "2R", "3L", "3R"}) {
    text += std::string("[stand.") + stand + ".cell]\ncapacity = \"25 t\"\noutput = \"2 mV/V\"\n";
  }
  EXPECT_EQ(deck_of(text).stands.size(), 6U);
}

TEST(DeckFile, SpeaksTheUnitOfTheDataPlateWhateverTheRulebook) {
  const std::string h44 =
      changed("rulebook = \"R76\"\nclass = \"III\"", "rulebook = \"HB 44\"\nclass = \"III L\"");
  EXPECT_EQ(deck_of(h44).units, UnitSystem::metric);
  EXPECT_NE(assumed(deck_of(h44), "module.*.width").find(" m"), std::string::npos);
  const std::string pounds = changed("capacity = \"60 t\"\ninterval = \"20 kg\"",
                                     "capacity = \"120,000 lb\"\ninterval = \"20 lb\"");
  EXPECT_EQ(deck_of(pounds).units, UnitSystem::us);
  // The display counts in the interval.
  EXPECT_EQ(deck_of(changed("\"60 t\"", "\"120,000 lb\"", h44)).units, UnitSystem::metric);
  EXPECT_EQ(deck_of(changed("capacity = \"60 t\"\ninterval = \"20 kg\"",
                            "ranges = [[\"60 kip\", \"20 lb\"], [\"120 kip\", \"50 lb\"]]", h44))
                .units,
            UnitSystem::us);
}

TEST(DeckFile, ReadsUsUnitsAndPrintsDefaultsInThem) {
  const Deck deck = deck_of(changed(
      "capacity = \"60 t\"\ninterval = \"20 kg\"",
      "capacity = \"120,000 lb\"\ninterval = \"20 lb\"",
      changed("rulebook = \"R76\"\nclass = \"III\"", "rulebook = \"HB 44\"\nclass = \"IIIL\"")));
  EXPECT_EQ(deck.rulebook, "H44");
  EXPECT_EQ(deck.accuracy_class, "III L");
  EXPECT_EQ(deck.units, UnitSystem::us);
  EXPECT_NE(assumed(deck, "module.*.width").find("ft"), std::string::npos);
  EXPECT_NE(assumed(deck, "module.A.mass").find("lb"), std::string::npos);
  EXPECT_EQ(deck_of(changed("\"R76\"", "\"R 76\"")).rulebook, "R76");
  EXPECT_EQ(deck_of(changed("\"R76\"\nclass = \"III\"", "\"H44\"\nclass = \"III L\"")).rulebook,
            "H44");
}

TEST(DeckFile, TakesGravityFromTheFileOrTheLatitude) {
  EXPECT_EQ(deck_of(kSound + "[site]\ngravity = \"9.8145 m/s2\"\n").site.gravity_m_per_s2, 9.8145);
  // NIMA TR8350.2, table 3.4: 9.7803253359 m/s2 at the equator
  EXPECT_NEAR(deck_of(kSound + "[site]\nlatitude = \"0 deg\"\n").site.gravity_m_per_s2,
              9.7803253359, 1e-10);
}

TEST(DeckFile, PutsTheSectionOfASharedStandOnTheModuleNearerEndOne) {
  const std::string shared =
      changed("at = \"7.3 m\"", "at = \"7 m\"") + "[[joint]]\nkind = \"shared stand\"\n";
  const Deck deck = deck_of(shared);
  EXPECT_EQ(deck.joints[0].kind, JointKind::shared_stand);
  EXPECT_EQ(deck.sections[1].module, (units::ModuleIndex{0}));
  EXPECT_EQ(
      deck_of(changed("at = \"7 m\"", "at = \"7 m\"\nmodule = \"B\"", shared)).sections[1].module,
      (units::ModuleIndex{0}));
}

TEST(DeckFile, GivesBothModulesOfASharedStandItsDistance) {
  std::string text =
      changed("at = \"7.3 m\"\nacross = \"2.4 m\"", "at = \"7 m\"\nacross = \"2.8 m\"");
  const Deck deck = deck_of(text + "[[joint]]\nkind = \"shared stand\"\n");
  EXPECT_EQ(deck.modules[0].girders_m.front(), 1.4);
  EXPECT_EQ(deck.modules[1].girders_m.front(), 1.4);
}

TEST(DeckFile, ReadsRigidJointsAndSectionsUnderAJoint) {
  const Deck deck = deck_of(changed("at = \"7.3 m\"", "at = \"7 m\"\nmodule = \"B\"") +
                            "[[joint]]\nkind = \"rigid\"\n");
  EXPECT_EQ(deck.joints[0].kind, JointKind::rigid);
  EXPECT_EQ(deck.sections[1].module, (units::ModuleIndex{1}));
}

TEST(DeckFile, ReadsEveryOtherTableAndKey) {
  const Deck deck = deck_of(changed("[cell]", R"([site]
latitude = "54.4 deg"
altitude = "240 m"
temperature = ["-15 degC", "35 degC"]
[share]
division = "1/6"
turn_error = 0.1
noise = "0.02 mV"
heights = "1 mm"
survey = "0.5 mm"
module_twist = "2 mm"
roll = "3 mm/m"
turn_torque = "40 N m"
top_line = "2 mm"
[cable.home]
length = "30 m"
gauge = "18 AWG"
cores = 6
[cable.cell]
length = "6 m"
area = "0.34 mm2"
cores = 4
[[box]]
stands = ["1L", "1R"]
trims = "signal"
[restraint]
kind = "rods"
gap = "3 mm"
temperature = "20 degC"
[[footprint]]
name = "axle"
points = [["0 m", "0.9 m"], ["0 m", "-0.9 m"]]
[indicator]
excitation = "5 V"
min_signal = "0.5 uV"
[stand]
adjust = "shims"
shims = ["3 mm", "0.5 mm", "1 mm"]
plate = ["300 mm", "200 mm"]
grout_min = "20 mm"
grout_max = "50 mm"
screw_kind = "nut"
pitch = "2 mm"
[cell]
counts = 100000
least_load = "0.1 t"
min_interval = "2.5 kg"
max_intervals = 4000
input_resistance = "775 ohm"
output_resistance = "700 ohm"
serial = "P-1"
address = 12)"));
  EXPECT_EQ(deck.site.temperature_low_degC, -15.0);
  EXPECT_EQ(deck.sharing.turn_error, 0.1);
  EXPECT_EQ(deck.sharing.roll, 0.003);
  EXPECT_EQ(deck.sharing.heights_m, 0.001);
  EXPECT_EQ(deck.sharing.turn_torque_Nm, 40.0);
  EXPECT_EQ(deck.stands[0].division, 6);
  EXPECT_EQ(deck.home_cable->cores, 6);
  EXPECT_NEAR(deck.home_cable->area_m2, 0.823e-6, 0.0005e-6);  // ASTM B258, 18 AWG
  EXPECT_DOUBLE_EQ(deck.cell_cable->area_m2, 0.34e-6);
  EXPECT_EQ(deck.boxes.at(0).trims, "signal");
  EXPECT_EQ(deck.boxes.at(0).stands.size(), 2U);
  EXPECT_EQ(deck.excitation_V, 5.0);
  EXPECT_EQ(deck.stands[0].shims_m, (std::vector<double>{0.0005, 0.001, 0.003}));
  EXPECT_EQ(deck.stands[0].plate_across_m, 0.2);
  EXPECT_EQ(deck.stands[0].grout_max_m, 0.05);
  EXPECT_EQ(deck.stands[0].screw_kind, ScrewKind::nut);
  EXPECT_EQ(deck.stands[0].pitch_m, 0.002);
  EXPECT_EQ(deck.stands[0].cell.counts, 100000.0);
  EXPECT_EQ(deck.stands[0].cell.least_load_kg, 100.0);
  EXPECT_EQ(deck.stands[0].cell.address, "12");
}

// schema_test.py reads the same file against the shipped schema.
TEST(DeckFile, ReadsTheFileThatHasEveryKey) {
  const Deck deck = deck_of(read_file("tests/deck/every_key.toml"));
  EXPECT_EQ(deck.approval, "TA-1");
  EXPECT_EQ(deck.serial, "7");
  EXPECT_EQ(deck.clc_kg, 35000.0);
  EXPECT_EQ(deck.display_interval_kg, 5.0);
  EXPECT_EQ(deck.modules.at(0).twisting_spread, 1.8);
  EXPECT_EQ(deck.stands.at(2).adjust, Adjust::shims);
  EXPECT_EQ(deck.stands.at(2).cell.capacity_kg, 30000.0);
  EXPECT_EQ(deck.stands.at(2).cell.serial, "P-3");
  EXPECT_EQ(deck.stands.at(3).cell.serial, "P-0");
}

TEST(DeckFile, ReadsWhatTheCircuitNeeds) {
  const Deck deck = deck_of(read_file("tests/deck/every_key.toml"));
  const Cell& common = deck.stands.at(0).cell;
  const Cell& own = deck.stands.at(2).cell;
  EXPECT_DOUBLE_EQ(common.zero_V_per_V.value_or(0.0), -0.01e-3);
  EXPECT_EQ(common.dead_load_return_kg, 2.5);
  EXPECT_EQ(common.error_fraction, 0.7);
  EXPECT_EQ(common.accuracy_class, "C");
  EXPECT_EQ(common.temperature_low_degC, -10.0);
  EXPECT_EQ(common.temperature_high_degC, 40.0);
  EXPECT_EQ(own.error_fraction, 0.8);
  EXPECT_EQ(own.accuracy_class, "B");
  EXPECT_NEAR(own.temperature_low_degC.value_or(0.0), -10.0, 1e-9);  // 14 degF
  EXPECT_EQ(deck.cable_temperature_degC, 25.0);
  EXPECT_EQ(deck.link_cable->length_m, 12.0);
  EXPECT_EQ(deck.link_cable->cores, 6);
  ASSERT_EQ(deck.boxes.size(), 2U);
  EXPECT_EQ(deck.boxes[1].trims, "section");
  EXPECT_EQ(deck.indicator.sense_cores, 6);
  EXPECT_EQ(deck.indicator.input_ohm, 20e6);
  EXPECT_EQ(deck.indicator.load_low_ohm, 35.0);
  EXPECT_EQ(deck.indicator.load_high_ohm, 1100.0);
  EXPECT_EQ(deck.indicator.dead_load_low_V, -0.001);
  EXPECT_EQ(deck.indicator.dead_load_high_V, 0.015);
  EXPECT_EQ(deck.indicator.max_intervals, 6000.0);
  EXPECT_EQ(deck.indicator.accuracy_class, "III");
  EXPECT_EQ(deck.indicator.error_fraction, 0.5);
  EXPECT_NEAR(deck.indicator.longest_cable_per_m.value_or(0.0), 150e6, 1e-6);  // 150 m over 1e-6 m2
  EXPECT_EQ(deck.indicator.temperature_high_degC, 40.0);
  EXPECT_EQ(deck.receptor.dead_load_kg, 12000.0);
  EXPECT_EQ(deck.receptor.zero_range_kg, 10000.0);
  EXPECT_EQ(deck.receptor.uneven_kg, 30000.0);
  EXPECT_EQ(deck.receptor.tare_kg, 0.0);
  EXPECT_EQ(deck.receptor.error_fraction, 0.5);
}

TEST(DeckFile, ReadsWhatTheTrimsCanDo) {
  const Trimming trimming = deck_of(read_file("tests/deck/every_key.toml")).trimming;
  EXPECT_EQ(trimming.range_ohm, 10.0);
  EXPECT_FALSE(trimming.range_share);
  EXPECT_EQ(trimming.turns, 15.0);
  EXPECT_EQ(trimming.clockwise_raises, false);
  EXPECT_EQ(trimming.start, Trimming::Start::unknown);
  EXPECT_EQ(trimming.start_ohm, 5.0);
  EXPECT_TRUE(trimming.attenuates);
  EXPECT_EQ(trimming.step_turns, 0.25);
  EXPECT_EQ(trimming.most, 0.01);
  EXPECT_EQ(trimming.repeatability_kg, 6.0);
  EXPECT_EQ(trimming.spread_kg, 20.0);
  const Trimming other = deck_of(kSound + R"([[box]]
trims = "excitation"
[trim]
range = "1 %"
turns = "3/4"
clockwise = "raises"
start = "middle"
attenuates = false
step = 0.125
)")
                             .trimming;
  EXPECT_EQ(other.range_share, 0.01);
  EXPECT_FALSE(other.range_ohm);
  EXPECT_EQ(other.turns, 0.75);
  EXPECT_EQ(other.clockwise_raises, true);
  EXPECT_EQ(other.start, Trimming::Start::middle);
  EXPECT_FALSE(other.attenuates);
  EXPECT_EQ(other.step_turns, 0.125);
}

TEST(DeckFile, ReadsFootprintsWithAndWithoutShares) {
  const Deck deck = deck_of(read_file("tests/deck/every_key.toml"));
  ASSERT_EQ(deck.footprints.size(), 2U);
  EXPECT_EQ(deck.footprints[0].name, "axle");
  EXPECT_EQ(deck.footprints[0].points.at(1).left_m, -0.9);
  EXPECT_EQ(deck.footprints[0].points.at(1).share, 0.5);
  EXPECT_EQ(deck.footprints[1].name, "fork truck");
  EXPECT_EQ(deck.footprints[1].points.at(2).along_m, -1.6);
  EXPECT_DOUBLE_EQ(deck.footprints[1].points.at(2).share, 0.2);
  const Deck thirds = deck_of(kSound + R"([[footprint]]
name = "x"
points = [["0 m", "0 m", "33.3 %"], ["1 m", "0 m", "33.3 %"], ["2 m", "0 m", "33.3 %"]]
)");
  double sum = 0.0;
  for (const Footprint::Point& point : thirds.footprints.at(0).points) sum += point.share;
  EXPECT_DOUBLE_EQ(sum, 1.0);
}

TEST(DeckFile, NamesDefaultsOfTrimsOnlyWhereTrimsAreSpokenOf) {
  const auto names = [](const std::string& text) {
    std::string all;
    for (const Assumed& item : deck_of(text).assumed) {
      if (item.key.starts_with("trim.")) all += item.key + "=" + item.value + ";";
    }
    return all;
  };
  EXPECT_EQ(names(kSound), "");
  EXPECT_EQ(names(kSound + "[[box]]\ntrims = \"signal\"\n"), "");
  EXPECT_EQ(names(kSound + "[[box]]\ntrims = \"signal\"\n[trim]\nmost = \"1 %\"\n"),
            "trim.start=unknown;trim.attenuates=true;trim.step=1/4 turn;"
            "trim.repeatability=0.3 d: 6 kg;trim.spread=e: 20 kg;");
  EXPECT_EQ(names(kSound + "[[box]]\ntrims = \"digital\"\n[trim]\nspread = \"10 kg\"\n"),
            "trim.most=1 %;trim.repeatability=0.3 d: 6 kg;");
}

TEST(DeckFile, TakesCapacityAndIntervalFromRanges) {
  const Deck deck = deck_of(changed("capacity = \"60 t\"\ninterval = \"20 kg\"",
                                    R"(ranges = [["30 t", "10 kg"], ["60 t", "20 kg"]])"));
  EXPECT_EQ(deck.capacity_kg, 60000.0);
  EXPECT_EQ(deck.interval_kg, 10.0);
  EXPECT_EQ(deck.ranges.size(), 2U);
}

// R 76-1, T.3.2.6 and T.3.2.7. What `ranges` alone always meant is kept, and said.
TEST(DeckFile, TellsSeveralRangesFromSeveralIntervals) {
  const std::string ranges = R"(ranges = [["30 t", "10 kg"], ["60 t", "20 kg"]])";
  const auto with = [&](const std::string& kind) {
    return deck_of(changed("capacity = \"60 t\"\ninterval = \"20 kg\"", ranges + kind));
  };
  EXPECT_EQ(with("\nranges_kind = \"ranges\"").ranges_kind, RangesKind::ranges);
  EXPECT_EQ(with("\nranges_kind = \"intervals\"").ranges_kind, RangesKind::intervals);
  const Deck plain = with("");
  EXPECT_EQ(plain.ranges_kind, RangesKind::intervals);
  const auto said = [](const Deck& deck) {
    return std::count_if(deck.assumed.begin(), deck.assumed.end(),
                         [](const Assumed& one) { return one.key == "deck.ranges_kind"; });
  };
  EXPECT_EQ(said(plain), 1);
  EXPECT_EQ(said(with("\nranges_kind = \"ranges\"")), 0);
}

TEST(DeckFile, WorksWithCrLfAndByteOrderMark) {
  std::string text = "\xEF\xBB\xBF";
  for (const char c : kSound) text += c == '\n' ? std::string("\r\n") : std::string(1, c);
  EXPECT_EQ(deck_of(text).modules.size(), 2U);
}

}  // namespace
}  // namespace weighwright::deck
