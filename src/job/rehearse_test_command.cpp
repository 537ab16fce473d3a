// Commands of a practice site for the test by a rulebook: the crew's weights, and single lines.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "chance/counter_random.h"
#include "job/rehearse_commands.h"
#include "job/test_words.h"
#include "units/diagnostic.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

using rehearsal::Look;
using rehearsal::PracticeSite;
using report::RehearseView;

bool in_pounds(const PracticeSite& site) {
  return site.described().units == deck::UnitSystem::us;
}

/// Material weighs about what is said of it, never more, and the same whenever it comes: up to 3 %
/// less, by its name.
double true_mass_kg(const std::string& name, double about_kg) {
  constexpr double kLess = 0.03;
  chance::SeedHash seed;
  seed.add(name);
  chance::CounterRandom random(seed.value());
  return about_kg * (1.0 - kLess * random.uniform());
}

std::vector<std::string> parts_of(std::string text) {
  std::vector<std::string> parts;
  std::size_t from = 0;
  while (from <= text.size()) {
    const std::size_t plus = std::min(text.find('+', from), text.size());
    parts.push_back(text.substr(from, plus - from));
    from = plus + 1;
  }
  return parts;
}

/// One line of a test as it was asked for.
struct TestLine {
  record::ProofReading reading;
  double load_kg = 0.0;   // known
  double about_kg = 0.0;  // material, all together
  double added_kg = 0.0;
  bool laden = false;  // the deck was not empty before: no zero is read
  bool stays = false;  // the load stays on
  Look look = Look::display;
};

record::Heading heading_of(Reader& reader) {
  if (reader.take("to_end_2")) return record::Heading::to_end_2;
  return reader.take("to_end_1") ? record::Heading::to_end_1 : record::Heading::none;
}

TestLine read_line(Reader& reader) {
  TestLine line;
  std::string checks;
  for (const std::string_view one : record::proof_checks()) {
    checks += (checks.empty() ? "" : ", ") + std::string(one);
  }
  line.reading.check = reader.word("one of " + checks);
  const auto& known = record::proof_checks();
  if (std::find(known.begin(), known.end(), line.reading.check) == known.end()) {
    reader.refuse(units::quote(line.reading.check) + " is no test", "one of " + checks);
  }
  const auto check = rules::find_check(line.reading.check);
  if (check && rules::is_of_indicator(*check)) {
    reader.refuse("a practice site has no set-up to look into",
                  "a test in which a load is weighed");
  }
  line.load_kg = reader.mass_kg();
  if (reader.take("at")) line.reading.reading.place = reader.place();
  line.reading.heading = heading_of(reader);
  if (reader.take("run")) {
    line.reading.run = static_cast<int>(reader.number("which run, as 2"));
    if (line.reading.run < 1) reader.refuse("a run is counted from 1", "as 2");
  }
  if (reader.take("weights")) line.reading.weights = parts_of(reader.word("names, as W1*3+W2"));
  if (reader.take("with")) {
    line.reading.reading.material = reader.word("names of material, as S1+S2");
    line.about_kg = reader.mass_kg();
  }
  if (reader.take("add")) line.added_kg = reader.mass_kg();
  line.laden = reader.take("laden");
  line.stays = reader.take("stays");
  if (reader.take("fine")) line.look = Look::fine;
  return line;
}

double truly_there_kg(const TestLine& line) {
  if (line.reading.reading.material.empty()) return line.load_kg;
  const std::vector<std::string> names = parts_of(line.reading.reading.material);
  double sum_kg = line.load_kg;
  for (const std::string& name : names) {
    sum_kg += true_mass_kg(name, line.about_kg / static_cast<double>(names.size()));
  }
  return sum_kg;
}

record::LoadReading zero_line(PracticeSite& site, Look look) {
  const record::ZeroReading zero = site.zero(look);
  record::LoadReading reading;
  reading.load_kg = 0.0;
  reading.indication_kg = zero.zero_kg;
  reading.last_digit_kg = zero.last_digit_kg;
  reading.resolution_kg = zero.last_digit_kg;
  return reading;
}

/// Small weights bring the display just under a step; then the small load of the test goes on.
void discriminate(PracticeSite& site, const TestLine& line, record::ProofReading& reading) {
  const double d_kg = site.described().display_at_kg(line.load_kg);
  constexpr double kUnder = 0.45;  // of a step: just below where it changes over
  const record::LoadReading& at = reading.reading;
  const double step = std::round(at.indication_kg / d_kg);
  reading.reading.indication_kg = step * d_kg;
  reading.reading.last_digit_kg = d_kg;
  reading.reading.resolution_kg.reset();
  reading.reading.added_kg = line.added_kg;
  const auto slope = site.true_gains();
  reading.then_kg = std::round(step + kUnder + slope.mean() * line.added_kg / d_kg) * d_kg;
}

void do_test(PracticeSite& site, Reader& reader, RehearseView& view) {
  TestLine line = read_line(reader);
  if (!readable(reader)) return;
  const record::LoadPlace place = line.reading.reading.place;
  const double there_kg = truly_there_kg(line);
  const std::string material = line.reading.reading.material;
  if (there_kg > 0.0) {
    const std::string no = site.refuses_load(place, there_kg);
    if (!no.empty()) {
      reader.refuse(no, site.grouted() ? "a place and a load that the deck can bear"
                                       : "grout first, and let it cure");
      return;
    }
    view.cautions.emplace_back(kLoadCaution);
  }
  record::ProofReading& reading = line.reading;
  // The unknown load is read by itself before the known one comes on.
  double start_kg = 0.0;
  if (reading.check == "strain" && there_kg > line.load_kg) {
    start_kg =
        site.place(place, there_kg - line.load_kg, record::Going::unknown, line.look).indication_kg;
  }
  const bool rolling = reading.heading != record::Heading::none;
  if (there_kg <= 0.0) {
    reading.reading = zero_line(site, line.look);
  } else if (rolling) {
    reading.reading =
        site.drive_on(place, there_kg, reading.heading == record::Heading::to_end_2, line.look);
  } else {
    reading.reading = site.place(
        place, there_kg,
        reading.check == "decreasing" ? record::Going::down : record::Going::unknown, line.look);
  }
  reading.reading.load_kg = line.load_kg;
  reading.reading.material = material;
  reading.reading.place = place;
  reading.reading.going = record::Going::unknown;
  if (reading.check == "strain") {
    reading.start_kg = start_kg;
    reading.reading.zero_before_kg.reset();
  }
  if (reading.check == "discrimination") discriminate(site, line, reading);
  if (line.laden) reading.reading.zero_before_kg.reset();
  if (line.stays) reading.reading.zero_after_kg.reset();
  show(record::ProofSet{.readings = {reading}, .us = in_pounds(site), .source = ""}, view);
}

/// What the crew of a practice site brings: standards of half of Max, and vehicles.
void do_weights(PracticeSite& site, Reader& reader, RehearseView& view) {
  if (!readable(reader)) return;
  const deck::Deck& deck = site.described();
  const bool us = in_pounds(site);
  const char* const weight_class = deck.rulebook == "H44" ? "F" : "M1";
  const double unit_kg = us ? units::kPound_kg : 1.0;
  const double one_kg = us ? 1000.0 * unit_kg : 1000.0;
  const double half = std::ceil(deck.capacity_kg / 2.0 / one_kg - 1e-9);
  const double truck = std::floor(0.3 * deck.capacity_kg / one_kg) * one_kg;
  view.kind = "weights";
  const std::string mass = us ? "_lb" : "_kg";
  view.columns = {"id",      "nominal" + mass, "count",    "class",   "certificate",
                  "expires", "handling",       "length_m", "width_m", "axles"};
  const auto text = [](std::string value) {
    return report::RehearseField{.text = std::move(value), .number = false};
  };
  const auto row = [&](const char* id, double kg, double count, const char* marked,
                       const char* paper, const char* handling, const char* length,
                       const char* width, const char* axles) {
    view.rows.push_back({text(id), text(units::print_exact(std::round(kg / unit_kg))),
                         text(units::print_exact(count)), text(marked), text(paper),
                         text(*paper == '\0' ? "" : "2031-12-31"), text(handling), text(length),
                         text(width), text(axles)});
  };
  row("W", one_kg, half, weight_class, "practice-1", "crane", "1.0", "1.0", "");
  row("K", us ? 50.0 * unit_kg : 20.0, 20.0, weight_class, "practice-2", "hand", "0.3", "0.3", "");
  row("V1", truck, 1.0, "", "", "vehicle", "6.0", "2.5", "2");
  row("V2", truck, 1.0, "", "", "vehicle", "6.0", "2.5", "2");
}

}  // namespace

std::vector<RehearseCommand> rehearse_test_commands() {
  return {
      {"weights", "weights", "test weights and vehicles that the crew brought", true, do_weights},
      {"test",
       "test section 10 t at 2 [to_end_2] [run 2] [weights W*10] [with V1 20 t] [add 28 kg] "
       "[fine]",
       "one line of a test by the rulebook", true, do_test}};
}

}  // namespace weighwright::job
