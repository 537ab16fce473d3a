#pragma once
/// A table of results as lists of equal length (dcc:list of dcc:quantity with si:realListXMLList).

#include <pugixml.hpp>
#include <string>
#include <vector>

namespace weighwright::report {

/// One column, in kilograms.
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
};

/// What is wrong with the columns; empty: nothing. The schema takes lists of unequal length, so
/// this is the only guard: lengths, finite figures, U not negative, k at least 1.
[[nodiscard]] std::vector<std::string> faults_of(const std::vector<DccColumn>& columns);

/// @throws std::invalid_argument  with the first fault
void add_list(pugi::xml_node data,
              const std::string& name,
              const std::vector<DccColumn>& columns,
              const std::string& language);

}  // namespace weighwright::report
