#pragma once
/// Views for the tests of paper and of exchange formats: an invented deck on an invented site, with
/// invented people, weights and results. Limits: OIML R 76-1:2006, Table 6, class III, e = 20 kg
/// (initial: 10 kg to 10 t, 20 kg to 40 t, 30 kg above; in service the double).

#include <array>
#include <cmath>
#include <string>

#include "report/document_view.h"
#include "report/paper/paper.h"

namespace weighwright::report {

inline DrawnDeck sample_deck() {
  DrawnDeck deck{
      .length_m = 21.0, .width_m = 3.0, .modules = {}, .joints = {}, .stands = {}, .pairs = {}};
  deck.modules = {{"A", 0.0, 7.0, 3.0, "cells"},
                  {"B", 7.0, 14.0, 3.0, "cells"},
                  {"C", 14.0, 21.0, 3.0, "cells"}};
  deck.joints = {{7.0, "hinge", 2.4, "rests", "rests", "A on B"},
                 {14.0, "hinge", 2.4, "rests", "rests", "C on B"}};
  const std::array<double, 4> at = {0.3, 7.3, 13.7, 20.7};
  for (int section = 1; section <= 4; ++section) {
    for (const char* side : {"L", "R"}) {
      DrawnStand stand;
      stand.stand = std::to_string(section) + side;
      stand.section = section;
      stand.x_m = at[static_cast<std::size_t>(section - 1)];
      stand.y_m = side[0] == 'L' ? 1.2 : -1.2;
      deck.stands.push_back(stand);
    }
  }
  return deck;
}

/// R 76-1:2006, Table 6, with the in-service factor of 3.5.2 (from memory, unverified).
inline double sample_limit_kg(double load_kg, bool in_service) {
  const double initial = load_kg <= 10000.0 ? 10.0 : load_kg <= 40000.0 ? 20.0 : 30.0;
  return in_service ? 2.0 * initial : initial;
}

inline ProofLineView sample_line(const std::string& check,
                                 const std::string& name,
                                 const std::string& where,
                                 double load_kg,
                                 double error_kg,
                                 const std::string& clause,
                                 bool in_service) {
  ProofLineView line;
  line.check = check;
  line.name = name;
  line.where = where;
  line.load_kg = load_kg;
  line.error_kg = error_kg;
  line.indication_kg = load_kg + 20.0 * std::round(error_kg / 20.0);
  line.before_rounding = true;
  line.limit_kg = sample_limit_kg(load_kg, in_service);
  line.clause = clause;
  line.verdict = std::abs(error_kg) <= *line.limit_kg ? "pass" : "fail";
  line.sure = line.verdict;
  line.U_kg = 2.2 + load_kg * 1e-4;
  line.k = 2.05;
  line.dof = 50.0;
  line.p_conforming = line.verdict == "pass" ? 0.9775 : 0.011;
  return line;
}

inline std::vector<ProofTermView> sample_terms() {
  return {{"resolution", "Resolution at load", 0.58, 0.03, "JCGM 100:2008, F.2.2.1"},
          {"zero", "Resolution at zero", 0.58, 0.03, "JCGM 100:2008, F.2.2.1"},
          {"repeatability", "Repeatability", 1.8, 0.30, "JCGM 100:2008, 4.2"},
          {"eccentricity", "Eccentric loading", 1.2, 0.14, "from memory, unverified"},
          {"standards", "Standards, summed linearly", 2.3, 0.49, "JCGM 100:2008, 5.2.2 Note 1"},
          {"buoyancy", "Air buoyancy", 0.3, 0.01, "JCGM 101:2008, 9.3.1.2"}};
}

inline void add_series(ProofView& view, bool in_service, double slope, double bend) {
  const std::string clause = in_service ? "R 76-1:2006, 3.5.2" : "R 76-1:2006, 3.5.1";
  const auto error = [slope, bend](double load, double more) {
    return std::round((load * slope + bend * std::sin(load / 9000.0) + more) * 10.0) / 10.0;
  };
  for (const char* stand : {"1L", "1R", "2L", "2R", "3L", "3R", "4L", "4R"}) {
    const double shift = stand[1] == 'L' ? 2.4 : -1.6;
    view.lines.push_back(sample_line("eccentric", "Eccentric load", std::string("over ") + stand,
                                     8580.0, error(8580.0, shift + stand[0] - '2'),
                                     "R 76-1:2006, 3.6.2.2", in_service));
  }
  for (const double load : {2000.0, 5000.0, 10000.0, 20000.0, 30000.0, 40000.0, 50000.0, 60000.0}) {
    ProofLineView line = sample_line("increasing", "Increasing load", "", load, error(load, 0.0),
                                     clause, in_service);
    if (load > 20000.0)
      line.material = "substitute S" + std::to_string(static_cast<int>(load / 10000.0) - 2);
    line.terms = sample_terms();
    view.lines.push_back(line);
  }
  for (const double load : {40000.0, 20000.0, 10000.0})
    view.lines.push_back(sample_line("decreasing", "Decreasing load", "", load, error(load, 3.0),
                                     clause, in_service));
  for (int i = 0; i < 3; ++i)
    view.lines.push_back(sample_line("repeatability", "Repeatability", "", 30000.0,
                                     error(30000.0, i * 1.5), "R 76-1:2006, 3.6.1", in_service));
  for (const char* way : {"to end 2", "to end 1"})
    view.lines.push_back(sample_line("rolling", "Rolling load", std::string("section 3, ") + way,
                                     26400.0, error(26400.0, 4.0), "R 76-1:2006, 3.6.2.4",
                                     in_service));
}

inline std::vector<StandardView> sample_standards() {
  return {{.id = "W1",
           .count = 7,
           .nominal_kg = 1000.0,
           .weight_class = "M1",
           .conventional_kg = 1000.012,
           .U_kg = 0.016,
           .certificate = "MT-2026-0311",
           .expires = "2027-03-31",
           .traced_to = "national standard of mass by the weights' laboratory",
           .refused = ""},
          {.id = "W2",
           .count = 12,
           .nominal_kg = 500.0,
           .weight_class = "M1",
           .conventional_kg = {},
           .U_kg = {},
           .certificate = "MT-2026-0312",
           .expires = "2027-03-31",
           .traced_to = "",
           .refused = ""},
          {.id = "W3",
           .count = 1,
           .nominal_kg = 2500.0,
           .weight_class = "",
           .conventional_kg = {},
           .U_kg = {},
           .certificate = "",
           .expires = "",
           .traced_to = "",
           .refused = "it has no certificate, and 2500 kg has no class value"}};
}

/// @param left  as left: within the initial limits; else as found, outside the limits in service
inline ProofView sample_proof(bool left) {
  ProofView view;
  view.deck_name = "Tarn Quarry, outgoing lane";
  view.rulebook = "OIML R 76-1:2006";
  view.accuracy_class = "III";
  view.division = "e";
  view.occasion = left ? "adjusted" : "as_found";
  view.occasion_says =
      left ? "Adjusted in service: initial limits apply (as chosen; the law of the place decides)."
           : "As found: limits in service, twice those of initial tests (R 76-1:2006, 3.5.2).";
  view.phase = left ? "as_left" : "as_found";
  view.capacity_kg = 60000.0;
  view.interval_kg = 20.0;
  add_series(view, !left, left ? 0.00012 : -0.0013, left ? 3.0 : 9.0);
  view.outcome = left ? "pass" : "fail";
  view.headline = left ? "Every required result lies within its limit; nothing is missing."
                       : "Increasing load: 4 of 8 results lie outside their limits, the worst by "
                         "20.7 kg at 40 t.";
  view.decision_rule =
      "Simple acceptance (R 76-1:2006, 3.5; ILAC-G8:09/2019, 4.2.1): a result passes when its "
      "error does not exceed the limit; U is at most a third of the limit (JCGM 106:2012, 8.2.3). "
      "A result at its limit may be falsely accepted with a chance of up to 50 %.";
  view.ranges = {{.check = "repeatability",
                  .name = "Repeatability",
                  .where = "",
                  .load_kg = 30000.0,
                  .value_kg = 3.0,
                  .limit_kg = 20.0,
                  .at_least = false,
                  .count = 3,
                  .verdict = "pass",
                  .clause = "R 76-1:2006, 3.6.1"},
                 {.check = "zero",
                  .name = "Zero after load",
                  .where = "",
                  .load_kg = 60000.0,
                  .value_kg = 2.0,
                  .limit_kg = 10.0,
                  .at_least = false,
                  .count = 0,
                  .verdict = "pass",
                  .clause = "R 76-1:2006, 3.9.4.2"},
                 {.check = "discrimination",
                  .name = "Discrimination",
                  .where = "",
                  .load_kg = 400.0,
                  .value_kg = 20.0,
                  .limit_kg = 20.0,
                  .at_least = true,
                  .count = 0,
                  .verdict = "pass",
                  .clause = "R 76-1:2006, 3.8.2.2"}};
  view.standards = sample_standards();
  view.uncertainty =
      "Expanded uncertainties U are the standard uncertainty times the coverage factor k, for a "
      "coverage probability of about 95 %, from the effective degrees of freedom (JCGM 100:2008, "
      "G.4). They hold for the conditions of the test and do not include later drift or wear.";
  view.sampled =
      "Checked by Monte Carlo (JCGM 101:2008, 7.9): 1 000 000 trials, endpoints within the "
      "numerical tolerance of 0.05 kg.";
  view.p_all = left ? 0.941 : 0.0;
  view.staircase_kg =
      left ? std::vector<std::pair<double, double>>{{0, 10},     {10000, 10}, {10000, 20},
                                                    {40000, 20}, {40000, 30}, {60000, 30}}
           : std::vector<std::pair<double, double>>{{0, 20},     {10000, 20}, {10000, 40},
                                                    {40000, 40}, {40000, 60}, {60000, 60}};
  view.findings = {
      {.code = "lean",
       .blocks = false,
       .file = "",
       .line = 0,
       .sentence =
           left ? "All errors of the increasing series lean to plus; allowed, and worth knowing."
                : "All errors of the increasing series lean to minus.",
       .clause = ""}};
  view.unverified = {"R 76-1:2006, 3.5.2: limits in service are twice the initial ones"};
  view.assumed = {{"site.gravity", "9.81432 m/s2"}};
  return view;
}

inline HeadView sample_head() {
  return {.device = "3f9a04c1e2b7d605",
          .sequence = 84,
          .hash = "0f4c2a9be1d3857766a0b1c2d3e4f5061728394a5b6c7d8e9fa0b1c2d3e4f506"};
}

inline std::vector<EntryView> sample_record() {
  std::vector<EntryView> record;
  for (int i = 1; i <= 84; ++i) {
    EntryView entry;
    entry.number = i;
    entry.time = "2026-11-24 " + std::string(i % 24 < 10 ? "0" : "") + std::to_string(i % 24) +
                 ":30:05 +01:00";
    entry.author = "Zofia Łącka";
    entry.says = i % 7 == 0 ? "2L turned 1/4 turn up; the reading was taken again after five "
                              "minutes, and the deck was exercised with the loader before that"
                            : "8 cells read";
    entry.fate = i % 20 == 0 ? "corrected by " + std::to_string(i + 1) : "";
    record.push_back(entry);
  }
  return record;
}

/// Everything that a report can hold.
inline DocumentView sample_document() {
  DocumentView view;
  view.title = "Test report";
  view.number = "TQ-2026-0417";
  view.replaces = "TQ-2026-0416 (wrong serial number of cell 3R)";
  view.laboratory = PartyView{.name = "Fell Weighing Service (invented)",
                              .address = {"4 Beck Row", "Askham"},
                              .contact = "desk@fell.example",
                              .country = "GB"};
  view.customer = PartyView{.name = "Каменоломня «Тарн» / Tarn Quarry Ångström (invented)",
                            .address = {"Quarry Road 1", "Upper Tarn"},
                            .contact = "office@tarn.example",
                            .country = "GB"};
  view.place = "Tarn Quarry, outgoing lane, at the gate";
  view.item = {{"Year", "2019"}, {"Cells", "8 of 25 t, 2 mV/V"}, {"Indicator", "serial I-5519"}};
  view.model = "three modules, surface mounted";
  view.serial = "TQ-0417";
  view.maker = "invented";
  view.approval = "XX-99-001 (invented)";
  for (const DrawnStand& stand : sample_deck().stands)
    view.cells.emplace_back(stand.stand, "C-10" + std::to_string(view.cells.size()));
  view.began = "2026-11-24";
  view.ended = "2026-11-25";
  view.issued = "2026-11-26";
  view.method = "OIML R 76-1:2006, A.4.4 to A.4.10, with EURAMET cg-18 v4.0 for the uncertainties";
  view.environment = {.temperature = "12 °C to 14 °C",
                      .humidity = "71 %",
                      .pressure = "1002 hPa",
                      .air_density = "1.217 kg/m³ (CIPM formula, simplified)",
                      .gravity = "9.81432 m/s² (normal gravity, 54.4°, 240 m)",
                      .weather = "light wind, deck dry",
                      .temperature_low_degC = 12.0,
                      .temperature_high_degC = 14.0,
                      .humidity_low_percent = 71.0,
                      .humidity_high_percent = 71.0,
                      .pressure_low_hPa = 1002.0,
                      .pressure_high_hPa = 1002.0};
  view.as_found = sample_proof(false);
  view.as_left = sample_proof(true);
  view.adjusted = true;
  view.traceability = {
      "The weights are traceable to the international prototype of units (SI) by the certificates "
      "named above."};
  view.deviations = {"Load above 20 t by substitution, three steps (R 76-1:2006, 3.7.3)."};
  view.seals = {{"found", "seal", "S-1180", "indicator, span switch", "local authority"},
                {"found", "calibration counter", "0041", "indicator", ""},
                {"left", "calibration counter", "0043", "indicator", ""},
                {"left", "seal", "none: to be set by the authority", "indicator, span switch", ""}};
  view.settings = {{"Span", "1.00000 → 1.00131"}, {"Averaging", "8 → 8"}};
  view.adjustments = {"2L raised by 1 1/4 turns, 3R lowered by 1/2 turn.",
                      "Trims of box 1: 1L +3.1 Ω, 4R −1.2 Ω.", "Span set at 40 t."};
  view.remarks = {"Drain at end 1 was cleared.",
                  "The approach at end 2 has settled by 8 mm; to be watched."};
  view.statements = {"The results relate only to the item tested.",
                     "This report must not be copied except in full.",
                     "This report is not a legal verification; that is the authority's."};
  view.authorised = "Zofia Łącka";
  view.role = "Lead technician";
  view.heads = {sample_head(),
                {.device = "77aa01bc22de90f1",
                 .sequence = 12,
                 .hash = "aa4c2a9be1d3857766a0b1c2d3e4f5061728394a5b6c7d8e9fa0b1c2d3e4f5ff"}};
  view.entry_count = 96;
  view.verify_command = "weighwright job verify tarn.job --head 3f9a04c1e2b7d605-84:0f4c2a9b";
  view.qr =
      "weighwright job verify --head "
      "3f9a04c1e2b7d605-84:0f4c2a9be1d3857766a0b1c2d3e4f5061728394a5b6c7d8e9fa0b1c2d3e4f506";
  view.drawing = sample_deck();
  view.record = sample_record();
  view.made_by = "Weighwright 0.6";
  return view;
}

/// A line with all that its error is computed from: small weights, E0 (R 76-1:2006, A.4.4.3):
/// I 40 020, d 20, added 16, E0 2: P 40 014, E = 40 014 - 2 - 40 000 = +12.
inline ProofLineView sample_fine_line() {
  ProofLineView line =
      sample_line("increasing", "Increasing load", "", 40000.0, 12.0, "R 76-1:2006, 3.5.1", false);
  line.indication_kg = 40020.0;
  line.added_kg = 16.0;
  line.division_kg = 20.0;
  line.zero_kg = 2.0;
  return line;
}

/// Three weighings of a lorry of unknown mass: 30 002, 30 004, 30 000 kg; mean 30 002, s = 2 kg
/// (JCGM 100:2008, 4.2.2: sqrt((0 + 4 + 4)/2)).
inline ProofRangeView sample_repeats() {
  return {.check = "repeatability",
          .name = "Repeatability, greatest less least",
          .where = "",
          .load_kg = 30002.0,
          .value_kg = 4.0,
          .limit_kg = 20.0,
          .at_least = false,
          .count = 3,
          .verdict = "pass",
          .clause = "R 76-1:2006, 3.6.1",
          .repeats = {{30000.0, 8.0, 0.0, 30002.0},
                      {30000.0, 6.0, 0.0, 30004.0},
                      {30000.0, 10.0, 0.0, 30000.0}},
          .s_kg = 2.0};
}

inline RulesView sample_rules(bool confirmed) {
  RulesView view;
  view.title = "OIML R 76-1:2006";
  view.hash = "0f4c2a9be1d3857766a0b1c2d3e4f5061728394a5b6c7d8e9fa0b1c2d3e4f506";
  view.confirmed = confirmed;
  view.says = confirmed ? "The rulebook's numbers were compared with print by Zofia Łącka, "
                          "2026-11-20: R 76-1, edition 2006, English (entry 9)."
                        : "Nobody is on record as having compared the rulebook's numbers with its "
                          "print.";
  view.known =
      "Of 2 numbers 0 were read in the document itself, 1 are quoted by other documents, 1 "
      "were not seen in any print.";
  view.numbers = {{"class.III.steps[1].limit", "class III, step 1 of the limits: divisions", "0.5",
                   "R 76-1:2006, 3.5.1, Table 6", "quoted", "not read there; quoted by a decree"},
                  {"repeatability.count", "repeatability: weighings, at least", "3",
                   "R 76-1:2006, A.4.10", "memory", "not seen in any print"}};
  view.how = {"Tick every line that stands there so."};
  return view;
}

/// The least that can be reported: as left, a few lines, no laboratory, nothing optional.
inline DocumentView short_document() {
  DocumentView view;
  view.title = "Test report";
  view.number = "1";
  view.began = view.ended = view.issued = "2026-11-25";
  ProofView proof = sample_proof(true);
  proof.lines.resize(3);
  proof.ranges.clear();
  proof.standards.clear();
  proof.findings.clear();
  proof.unverified.clear();
  proof.assumed.clear();
  proof.sampled.clear();
  proof.outcome = "incomplete";
  proof.headline = "Increasing load was not tested.";
  proof.missing = {
      {"increasing", "test", "Increasing load was not tested.", "R 76-1:2006, A.4.4.1"}};
  view.as_left = proof;
  view.drawing = sample_deck();
  return view;
}

inline JobSheetView sample_job_sheet() {
  JobSheetView view;
  view.title = "Turn screws";
  view.deck_name = "Tarn Quarry, outgoing lane";
  view.made = "2026-11-25 14:05";
  view.headline = "Three moves, then read all cells.";
  view.moves = {{"2R", "3", "1 1/4 turns, up",
                 "clockwise seen from above; jack first (42 kN, at most 2.1 mm); in two rounds"},
                {"3L", "5", "1/2 turn, down", "anticlockwise seen from above"},
                {"4R", "8", "3/4 turn, up", "clockwise seen from above"}};
  view.how = {"Turn all four screws of a stand alike, an eighth at a time.",
              "Leave the jack in place until the stand was read."};
  view.then = {"Read all eight cells, deck empty, after five minutes."};
  view.cautions = {"Nobody reaches under the deck while a jack carries it.",
                   "Chock the jack before turning."};
  view.heads = {sample_head()};
  view.qr = "weighwright job verify --head 3f9a04c1e2b7d605-84:0f4c2a9b";
  view.plan = sample_deck();
  return view;
}

}  // namespace weighwright::report
