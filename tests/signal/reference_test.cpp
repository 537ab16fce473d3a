/// Whole circuits against ngspice 39 (tests/reference/ngspice tells how they were made).

#include <gtest/gtest.h>

#include <fstream>
#include <map>
#include <sstream>
#include <string>

#include "signal/circuit.h"

// outside check: circuits: cells, leads, trims, boxes in a chain, four and six wires, finite
//  indicator | ngspice (Debian; netlists and version in `tests/reference/ngspice`), Millman by hand

namespace weighwright::signal::tests {
namespace {

// ngspice prints fifteen digits of an output that is the difference of two node voltages: what both
// programs' rounding leaves is 1e-12 of the supply, that is 1e-11 V on some millivolts.
constexpr double kOfSupply = 1e-12;
constexpr double kRelative = 1e-10;  // of what is no small difference

struct Case {
  std::string name;
  Wiring wiring;
  std::vector<double> force_N;
};

std::ifstream stored(const std::string& name) {
  std::ifstream file(std::string(WEIGHWRIGHT_SOURCE_DIR) + "/tests/reference/ngspice/" + name);
  if (!file) throw std::runtime_error("no " + name);
  return file;
}

double number(const std::string& text) {
  return text == "inf" ? std::numeric_limits<double>::infinity() : std::stod(text);
}

Case read_case(std::istringstream& words) {
  Case found;
  std::string supply, home, wires, input;
  words >> found.name >> supply >> home >> wires >> input;
  found.wiring.supply_V = number(supply);
  found.wiring.home_ohm = number(home);
  found.wiring.sensed = wires == "6";
  found.wiring.indicator_ohm = number(input);
  return found;
}

void read_cell(std::istringstream& words, Case& into) {
  WiredCell cell;
  double force_N = 0.0;
  words >> cell.rated_N >> cell.output_V_per_V >> cell.zero_V_per_V >> cell.input_ohm >>
      cell.output_ohm >> cell.lead_ohm >> cell.signal_trim_ohm >> cell.supply_trim_ohm >>
      cell.box >> force_N;
  into.wiring.cells.push_back(cell);
  into.force_N.push_back(force_N);
}

std::vector<Case> cases() {
  std::vector<Case> all;
  std::ifstream file = stored("cases.txt");
  for (std::string line; std::getline(file, line);) {
    std::istringstream words(line);
    std::string kind;
    words >> kind;
    if (kind == "case") all.push_back(read_case(words));
    if (kind == "cell") read_cell(words, all.back());
    if (kind == "box") {
      all.back().wiring.boxes.emplace_back();
      words >> all.back().wiring.boxes.back().link_ohm;
    }
  }
  return all;
}

std::map<std::string, std::vector<double>> results() {
  std::map<std::string, std::vector<double>> all;
  std::ifstream file = stored("results.csv");
  for (std::string line; std::getline(file, line);) {
    if (line.starts_with('#')) continue;
    std::istringstream cells(line);
    std::string name, value;
    std::getline(cells, name, ',');
    while (std::getline(cells, value, ',')) all[name].push_back(std::stod(value));
  }
  return all;
}

TEST(Circuit, AgreesWithNgspice) {
  const auto expected = results();
  std::size_t seen = 0;
  for (const Case& one : cases()) {
    SCOPED_TRACE(one.name);
    const std::vector<double>& row = expected.at(one.name);
    ASSERT_EQ(row.size(), 3 + one.wiring.cells.size());
    const Eigen::VectorXd force_N = Eigen::Map<const Eigen::VectorXd>(
        one.force_N.data(), static_cast<Eigen::Index>(one.force_N.size()));
    const Solved solved = solve(one.wiring, force_N);
    EXPECT_NEAR(solved.output_V, row[0], kOfSupply * one.wiring.supply_V);
    EXPECT_NEAR(solved.supply_A, row[1], kRelative * row[1]);
    EXPECT_NEAR(solved.box_V, row[2], kRelative * row[2]);
    for (std::size_t c = 0; c < one.wiring.cells.size(); ++c) {
      EXPECT_NEAR(solved.cell_V[c], row[3 + c], kRelative * row[3 + c]);
    }
    const double known_V = one.wiring.sensed ? row[2] : one.wiring.supply_V;
    EXPECT_NEAR(solved.reading_V_per_V, row[0] / known_V, 2 * kOfSupply);
    ++seen;
  }
  EXPECT_EQ(seen, expected.size());
  EXPECT_EQ(seen, 8U);
}

}  // namespace
}  // namespace weighwright::signal::tests
