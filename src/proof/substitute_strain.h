#pragma once
/// Which load an error is that of: all that is known to stand there, or in a strain test the
/// weights that came on last, on top of a load that nobody knows.
///
/// Rule    more substitutes than the rulebook allows are judged as a strain test: by the weights on
///         top of them alone (HB 44, Table 4 and 2.20, strain-load test; from memory, unverified).

#include "proof/evidence.h"

namespace weighwright::proof {

/// More substitutes lie there than the rulebook allows. @pre row.load
[[nodiscard]] bool has_too_many_substitutes(const Evidence& evidence, const Row& row);

/// The reading of the same substitutes alone, from which the weights on top count; the last one
/// before the row. Null: there is none, or none is needed. @pre row.load
[[nodiscard]] const Row* strain_start(const Evidence& evidence, const Row& row);

/// A strain test, or judged as one. @pre row.load
[[nodiscard]] bool is_by_strain(const Evidence& evidence, const Row& row);

/// The load whose indication is judged. @pre row.load
[[nodiscard]] const Known& load_of_error(const Evidence& evidence, const Row& row);

/// What the display showed of it, about, kg: on this acts where a load stands. @pre row.load
[[nodiscard]] double weighed_kg(const Evidence& evidence, const Row& row);

}  // namespace weighwright::proof
