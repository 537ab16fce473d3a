#pragma once
/// A table of results as lists of equal length (dcc:list of dcc:quantity with si:realListXMLList).

#include <pugixml.hpp>
#include <string>
#include <vector>

namespace weighwright::report {

/// One column, in kilograms. Expanded uncertainties are written with two significant digits (JCGM
/// 100:2008, 7.2.6).
struct DccColumn {
  std::string name;                      // "error of indication"
  std::string ref_type;                  // "nawi_error"
  std::vector<std::string> labels = {};  // places; empty: none
  std::vector<double> values_kg = {};
  std::vector<double> expanded_kg = {};  // empty: no uncertainty is stated
  std::vector<double> factors = {};      // of coverage, as many
  double probability = 0.9545;           // of coverage
  std::vector<std::string> conformity =
      {};                        // pass, fail, conditionalPass, conditionalFail; empty: none
  std::string norm = {};         // clause that conformity is stated by
  std::string declaration = {};  // in words, in the place of conformity
  bool uncertainty = false;      // the values are uncertainties: two significant digits
};

/// What is wrong with the columns; empty: nothing. The schema takes lists of unequal length, so
/// this is the only guard: lengths, finite figures, U not negative, k at least 1.
[[nodiscard]] std::vector<std::string> faults_of(const std::vector<DccColumn>& columns);

/// @param pounds  every column in pounds too: the scale's own unit beside the SI unit (si:hybrid)
/// @throws std::invalid_argument  with the first fault
void add_list(pugi::xml_node data,
              const std::string& name,
              const std::vector<DccColumn>& columns,
              const std::string& language,
              bool pounds = false);

/// One mass, likewise: si:real, or si:hybrid of two.
void add_mass(pugi::xml_node quantity, double value_kg, bool pounds);

}  // namespace weighwright::report
