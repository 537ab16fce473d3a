#include "proof/substitute_strain.h"

namespace weighwright::proof {

bool has_too_many_substitutes(const Evidence& evidence, const Row& row) {
  if (row.check == rules::Check::strain) return false;
  const double most = evidence.rulebook.most_substitutions.value;
  return most > 0.0 && static_cast<double>(row.load->sorts.size()) > most;
}

const Row* strain_start(const Evidence& evidence, const Row& row) {
  if (!has_too_many_substitutes(evidence, row)) return nullptr;
  const Row* start = nullptr;
  for (const Row& other : evidence.rows) {
    if (&other == &row) break;
    const bool same = other.fixes && other.load && other.fresh == row.fresh &&
                      other.load->direct_kg == 0.0 && other.load->sorts == row.load->sorts;
    if (same) start = &other;
  }
  return start;
}

bool is_by_strain(const Evidence& evidence, const Row& row) {
  return row.check == rules::Check::strain || strain_start(evidence, row) != nullptr;
}

const Known& load_of_error(const Evidence& evidence, const Row& row) {
  return strain_start(evidence, row) != nullptr && row.own ? *row.own : *row.load;
}

double weighed_kg(const Evidence& evidence, const Row& row) {
  return is_by_strain(evidence, row) ? load_of_error(evidence, row).kg : row.net_kg();
}

}  // namespace weighwright::proof
