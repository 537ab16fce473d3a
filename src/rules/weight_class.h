#pragma once
/// Maximum permissible errors of test weights by class, as data with their sources.
///
/// Sources  OIML R 111-1:2004, Table 1 (F2 to M3), most of it as quoted elsewhere; OIML R 47
/// (1979),
///          weights marked with a number of intervals n; NIST Handbook 105-1 (1990), class F, from
///          memory, unverified, but for its rule "about 0.01 % of nominal" (quoted).
/// Limits   20 kg (F2, M: from 10 kg) to 5000 kg, R 47 from 50 kg, class F from 10 lb; what nominal
///          value a class does not have (25 kg, 1500 kg, 2500 kg in R 111) has no limit here.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "rules/rulebook.h"

namespace weighwright::rules {

struct WeightLimit {
  double kg = 0.0;  // plus or minus, of conventional mass
  Source source;
};

/// @param nominal_kg  of a weight in pounds: in kg (within 50 ppm), the class's pound row is found
/// @return empty: the class has no such nominal value (25 kg is none of R 111): a certificate value
///         is needed
[[nodiscard]] std::optional<WeightLimit> weight_limit(std::string_view weight_class,
                                                      double nominal_kg);

/// "M1", "M1-2", ..., "F", "n=3000" (R 47): names that weight_limit knows.
[[nodiscard]] const std::vector<std::string>& weight_classes();
/// As people write them: "m1", "OIML M1", "class F", "n 3000". Empty: none.
[[nodiscard]] std::optional<std::string> parse_weight_class(std::string_view text);

/// One value of the tables, for lists of what rests on memory.
struct WeightRow {
  std::string_view weight_class;
  double nominal = 0.0;
  bool pounds = false;  // the nominal value is in lb
  double limit_g = 0.0;
  Basis basis = Basis::quoted;
};
[[nodiscard]] const std::vector<WeightRow>& weight_rows();

}  // namespace weighwright::rules
