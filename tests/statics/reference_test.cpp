/// Reactions and dF/dh against CalculiX ccx 2.20 (tests/reference/README.md tells the models).

#include <fstream>
#include <sstream>
#include <string>

#include "statics/fixture.h"
#include "statics/surface.h"

// outside check: reactions and influence of whole decks, with heights and point loads | CalculiX
//  ccx 2.20 (Debian 12): beam elements 1e-5, shells 2 %; models and recipe in `tests/reference/`

namespace weighwright::statics::tests {
namespace {

// ccx prints seven digits; its U1 beams keep 2e-7 of shear flexibility.
constexpr double kGrillage = 1e-5;

/// One row a case, one column a stand, N.
Eigen::MatrixXd stored(const std::string& name) {
  std::ifstream file(std::string(WEIGHWRIGHT_SOURCE_DIR) + "/tests/reference/" + name + ".csv");
  std::vector<std::vector<double>> rows;
  std::string line;
  while (std::getline(file, line)) {
    if (line.empty() || line[0] == '#' || line[0] == 'c') continue;
    std::istringstream cells(line);
    std::string cell;
    std::vector<double> row;
    while (std::getline(cells, cell, ',')) row.push_back(std::stod(cell));
    rows.push_back(row);
  }
  if (rows.empty()) throw std::runtime_error("no stored results of " + name);
  Eigen::MatrixXd forces(static_cast<Eigen::Index>(rows.size()),
                         static_cast<Eigen::Index>(rows[0].size()) - 1);
  for (Eigen::Index i = 0; i < forces.rows(); ++i) {
    for (Eigen::Index j = 0; j < forces.cols(); ++j) {
      forces(i, j) = rows[static_cast<std::size_t>(i)][static_cast<std::size_t>(j) + 1];
    }
  }
  return forces;
}

Eigen::MatrixXd stored_influence(const Eigen::MatrixXd& cases) {
  return 1000.0 * cases.topRows(8).transpose();  // N per mm to N per m
}

void expect_grillage(const deck::Deck& deck,
                     const std::string& name,
                     const Eigen::VectorXd& heights_m,
                     const PointLoad& point) {
  const Eigen::MatrixXd cases = stored(name);
  ASSERT_EQ(cases.rows(), 11);
  const Model model = built(deck);
  const ContactState rest = at_heights(model, level(model));
  ASSERT_TRUE(rest.open.empty());
  expect_near(influence(model, rest, nominal(model)), stored_influence(cases), kGrillage);
  expect_near(rest.stand_N, cases.row(8).transpose(), kGrillage);
  const ContactState moved = at_heights(model, heights_m);
  ASSERT_TRUE(moved.open.empty());
  expect_near(moved.stand_N, cases.row(9).transpose(), kGrillage);
  const Eigen::MatrixXd share = influence_surface(model, rest, nominal(model), {point});
  expect_near(point.force_N * share, cases.row(10), kGrillage);
}

TEST(CalculiX, AgreesOnAGrillageOfThreeHingedModules) {
  Eigen::VectorXd heights(8);
  heights << 2e-3, 0, 0, 0, -1e-3, 0, 0, 3e-3;
  expect_grillage(deck_r3(), "deck_r3", heights, {3.5, 1.2, 100e3});
}

deck::Module three_girders(const std::string& mark, double length_m, int crossbeams) {
  deck::Module module;
  module.mark = mark;
  module.length_m = length_m;
  module.width_m = 3.0;
  module.centre_m = length_m / 2.0;
  module.bending_Nm2 = 300e6;
  module.crossbeams = crossbeams;
  module.girders_m = {1.3, 0.0, -1.3};
  return module;
}

// As deck_mixed() of tests/reference/generate.py.
deck::Deck deck_mixed() {
  deck::Deck deck;
  deck::Module a = three_girders("A", 6.0, 4);
  a.mass_kg = 6000.0;
  a.twisting_Nm2 = 45e6;
  a.crossbeam_bending_Nm2 = 20e6;
  a.crossbeam_twisting_Nm2 = 1.5e6;
  deck::Module b = three_girders("B", 5.0, 3);
  b.mass_kg = 5000.0;
  b.twisting_Nm2 = 30e6;
  b.crossbeam_bending_Nm2 = 30e6;
  b.crossbeam_twisting_Nm2 = 1.0e6;
  deck::Module c = ladder_module("C", 5);
  c.length_m = 8.0;
  c.centre_m = 4.0;
  c.mass_kg = 7000.0;
  c.bending_Nm2 = 200e6;
  c.twisting_Nm2 = 60e6;
  c.crossbeam_bending_Nm2 = 25e6;
  c.crossbeam_twisting_Nm2 = 2.0e6;
  c.girders_m = {1.3, -1.3};
  deck.modules = {a, b, c};
  deck::Joint rigid;
  rigid.kind = deck::JointKind::rigid;
  deck.joints = {rigid, hinge(2, 1.6)};
  add_section(deck, 0.0, 0, 2.0, 200e6);
  add_section(deck, 5.0, 0, 2.6, 200e6);
  add_section(deck, 10.5, 1, 2.6, 200e6);
  add_section(deck, 19.0, 2, 1.6, 200e6);
  return deck;
}

TEST(CalculiX, AgreesOnARigidJointAndOnStandsOffTheGirderLines) {
  Eigen::VectorXd heights(8);
  heights << 1e-3, -5e-4, 0, 0, 0, 0, 1e-3, 0;
  expect_grillage(deck_mixed(), "deck_mixed", heights, {8.5, 1.3, 100e3});
}

TEST(CalculiX, AgreesOnAChainOfShellPlates) {
  const double shear = 210e9 / 2.6;
  const double thickness = 0.1;
  deck::Deck deck = deck_r2(5e6);
  for (deck::Module& module : deck.modules) {
    module.twisting_Nm2 = shear * 2.4 * thickness * thickness * thickness / 3.0;
    module.crossbeam_bending_Nm2 = deck::kRigid;
    module.crossbeam_twisting_Nm2 = 0.0;
    module.width_m = 2.4;
    module.mass_kg = 7850.0 * 7.0 * 2.4 * thickness;
  }
  const Eigen::MatrixXd cases = stored("plate_chain");
  ASSERT_EQ(cases.rows(), 9);
  const Model model = built(deck);
  // 2 %: Kirchhoff's plate has no soft edges, the shell has (README.md of the reference).
  expect_near(influence_at_rest(model), stored_influence(cases), 0.02);
  // Dead load is statics alone; the rest is ccx's seven digits and its shells' expansion.
  expect_near(at_heights(model, level(model)).stand_N, cases.row(8).transpose(), 1e-6);
}

}  // namespace
}  // namespace weighwright::statics::tests
