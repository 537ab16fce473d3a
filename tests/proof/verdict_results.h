#pragma once
/// Decks, weights and tables of results for the tests of the verdict. All of it is invented.

#include <algorithm>
#include <cmath>
#include <string>
#include <string_view>
#include <vector>

#include "proof/verdict.h"
#include "rules/reading/read_rulebook.h"

namespace weighwright::proof::tests {

using record::Heading;
using record::LoadPlace;
using record::ProofReading;
using rules::Check;

constexpr std::int64_t kDay = 20'400;  // of the tests, since 1970-01-01

inline const rules::Rulebook& r76() {
  return rules::built_in("R76");
}
inline const rules::Rulebook& h44() {
  return rules::built_in("H44");
}

/// Two modules on three pairs of stands, 18 m.
inline deck::Deck weighbridge(double capacity_kg, double interval_kg, std::string_view rulebook) {
  deck::Deck deck;
  deck.name = "Practice";
  deck.rulebook = rulebook;
  deck.accuracy_class = rulebook == "H44" ? "III L" : "III";
  deck.capacity_kg = capacity_kg;
  deck.interval_kg = interval_kg;
  if (rulebook == "H44") deck.clc_kg = 35'000.0;
  for (int i = 0; i < 2; ++i) {
    deck::Module module;
    module.mark = std::string(1, static_cast<char>('A' + i));
    module.length_m = 9.0;
    module.width_m = 3.0;
    module.mass_kg = 5000.0;
    deck.modules.push_back(module);
  }
  deck.joints.resize(1);
  for (const double at : {0.5, 9.0, 17.5}) {
    deck::Section section;
    section.at_m = at;
    section.module = units::ModuleIndex{at > 9.0 ? 1 : 0};
    section.across_m = 2.4;
    deck.sections.push_back(section);
  }
  deck.stands.resize(6);
  for (deck::Stand& stand : deck.stands) stand.cell.capacity_kg = 40'000.0;
  return deck;
}

/// Blocks of one nominal value, class M1, with a certificate.
inline record::Weight blocks(std::string id, double nominal_kg, int count) {
  record::Weight weight;
  weight.id = std::move(id);
  weight.count = count;
  weight.nominal_kg = nominal_kg;
  weight.weight_class = "M1";
  weight.certificate = "C-" + weight.id;
  weight.expires_day = kDay + 100;
  return weight;
}

inline std::vector<record::Weight> enough_weights() {
  return {blocks("T", 1000.0, 60), blocks("H", 500.0, 2), blocks("K", 20.0, 50)};
}

/// 10 500 kg is "T*10" and "H*1", 400 kg is "K*20".
inline std::vector<std::string> names_of(double load_kg) {
  std::vector<std::string> names;
  const auto tonnes = static_cast<int>(load_kg / 1000.0);
  double rest = load_kg - 1000.0 * tonnes;
  if (tonnes > 0) names.push_back("T*" + std::to_string(tonnes));
  if (rest >= 500.0) {
    names.emplace_back("H*1");
    rest -= 500.0;
  }
  const auto small = static_cast<int>(std::round(rest / 20.0));
  if (small > 0) names.push_back("K*" + std::to_string(small));
  return names;
}

inline ProofReading row(std::string check, double load_kg, double shows_kg) {
  ProofReading one;
  one.check = std::move(check);
  one.reading.load_kg = load_kg;
  one.reading.indication_kg = shows_kg;
  one.reading.last_digit_kg = 1.0;
  if (load_kg > 0.0) one.weights = names_of(load_kg);
  return one;
}

/// With small weights, so that P = I + d/2 - added is the load and this error.
inline ProofReading changeover(std::string check, double load_kg, double error_kg, double d) {
  const double before = load_kg + error_kg;
  const double shows = d * std::round(before / d);
  ProofReading one = row(std::move(check), load_kg, shows);
  one.reading.added_kg = shows + d / 2.0 - before;
  return one;
}

inline ProofReading added(ProofReading one, double added_kg) {
  one.reading.added_kg = added_kg;
  return one;
}

inline ProofReading zeroed(ProofReading one, double before_kg, double after_kg) {
  one.reading.zero_before_kg = before_kg;
  one.reading.zero_after_kg = after_kg;
  return one;
}

inline ProofReading at_section(ProofReading one, int section) {
  one.reading.place.kind = LoadPlace::Kind::section;
  one.reading.place.section = units::SectionIndex{section};
  one.reading.place.typed = std::to_string(section + 1);
  return one;
}

inline ProofReading at_stand(ProofReading one, int stand) {
  one.reading.place.kind = LoadPlace::Kind::stand;
  one.reading.place.stand = units::StandIndex{stand};
  return one;
}

inline ProofReading going(ProofReading one, Heading heading) {
  one.heading = heading;
  return one;
}

inline ProofReading with_material(ProofReading one, std::string material) {
  one.reading.material = std::move(material);
  return one;
}

inline ProofReading small_load(double load_kg, double shows_kg, double added_kg, double then_kg) {
  ProofReading one = row("discrimination", load_kg, shows_kg);
  one.reading.added_kg = added_kg;
  one.then_kg = then_kg;
  return one;
}

inline record::ProofSet table(std::vector<ProofReading> readings) {
  int line = 2;
  for (ProofReading& reading : readings) reading.reading.line = line++;
  return {.readings = std::move(readings), .us = false, .source = "proof.csv"};
}

inline ProofCase case_of(std::vector<ProofReading> readings) {
  ProofCase what;
  what.results = {table(std::move(readings))};
  what.weights = enough_weights();
  what.day = kDay;
  what.sample = false;
  return what;
}

/// Only what was measured is judged: nothing need be complete.
inline ProofCase part_of(std::vector<ProofReading> readings) {
  ProofCase what = case_of(std::move(readings));
  what.as_left = false;
  what.complete = false;
  return what;
}

/// Everything that R 76-1 asks of a 60 t deck with e 20 kg, nothing more.
inline std::vector<ProofReading> sound_r76() {
  const auto p = [](std::string check, double load, double error) {
    return changeover(std::move(check), load, error, 20.0);
  };
  std::vector<ProofReading> all;
  all.push_back(changeover("zero", 0.0, 1.0, 20.0));
  for (const double error : {-4.0, -2.0, -5.0}) {
    all.push_back(zeroed(p("repeatability", 48'000.0, error), 1.0, 3.0));
  }
  for (const Heading heading : {Heading::to_end_2, Heading::to_end_1}) {
    for (int section = 0; section < 3; ++section) {
      all.push_back(going(at_section(p("rolling", 40'000.0, 3.0 - section), section), heading));
    }
  }
  all.back().reading.zero_after_kg = 2.0;
  for (const double load : {400.0, 10'000.0, 20'000.0, 40'000.0, 60'000.0}) {
    all.push_back(p("increasing", load, 4.0 - load / 10'000.0));
  }
  for (const double load : {40'000.0, 20'000.0, 10'000.0, 400.0}) {
    all.push_back(p("decreasing", load, 5.0 - load / 10'000.0));
  }
  all.back().reading.zero_after_kg = 3.0;
  all.push_back(small_load(400.0, 400.0, 28.0, 420.0));
  all.push_back(small_load(30'000.0, 30'000.0, 28.0, 30'020.0));
  all.push_back(small_load(60'000.0, 60'000.0, 28.0, 60'020.0));
  all.back().reading.zero_after_kg = 1.0;
  return all;
}

/// Everything that HB 44 asks of a 60 t deck of class III L with d 20 kg, nothing more.
inline std::vector<ProofReading> sound_h44() {
  std::vector<ProofReading> all;
  all.push_back(row("zero", 0.0, 0.0));
  for (int section = 0; section < 3; ++section) {
    all.push_back(at_section(row("section", 7500.0, section == 1 ? 7520.0 : 7500.0), section));
  }
  all.back().reading.zero_after_kg = 0.0;
  all.push_back(row("increasing", 10'000.0, 10'000.0));
  all.push_back(row("increasing", 15'000.0, 14'980.0));
  all.push_back(row("decreasing", 7500.0, 7500.0));
  all.back().reading.zero_after_kg = 0.0;
  all.push_back(small_load(400.0, 400.0, 28.0, 440.0));
  all.push_back(small_load(15'000.0, 14'980.0, 28.0, 15'020.0));
  all.back().reading.zero_after_kg = 0.0;
  return all;
}

inline const ProofFinding* find(const Verdict& verdict, std::string_view code) {
  for (const ProofFinding& finding : verdict.findings) {
    if (finding.code == code) return &finding;
  }
  return nullptr;
}

inline bool is_missing(const Verdict& verdict, Check check, std::string_view code) {
  return std::any_of(verdict.missing.begin(), verdict.missing.end(),
                     [&](const Missing& one) { return one.check == check && one.code == code; });
}

/// Standard uncertainty of all terms of one code.
inline double u_of(const Budget& budget, std::string_view code) {
  double variance = 0.0;
  for (const Term& term : budget.terms) {
    if (term.code == code) variance += term.u_kg * term.u_kg;
  }
  return std::sqrt(variance);
}

/// All that is said, for the message of a failed test.
inline std::string told(const Verdict& verdict) {
  std::string text = "outcome " + std::to_string(static_cast<int>(verdict.outcome));
  for (const ProofFinding& one : verdict.findings) text += "\n" + one.code + ": " + one.what;
  for (const Missing& one : verdict.missing) {
    text += "\nmissing " + std::string(rules::code_of(one.check)) + " " + one.code + " " +
            one.where + " " + std::to_string(one.load_kg);
  }
  for (const JudgedLine& one : verdict.lines) {
    if (!one.passed) text += "\nline " + std::to_string(one.line) + " not passed";
  }
  for (const JudgedRange& one : verdict.ranges) {
    if (!one.passed) text += "\nrange at " + std::to_string(one.load_kg) + " not passed";
  }
  for (const JudgedZero& one : verdict.zeros) {
    if (!one.passed) text += "\nzero, line " + std::to_string(one.line) + " not passed";
  }
  return text;
}

}  // namespace weighwright::proof::tests
