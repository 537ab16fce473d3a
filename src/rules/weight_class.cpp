#include "rules/weight_class.h"

#include <algorithm>
#include <cctype>
#include <cmath>

#include "units/quantity.h"

namespace weighwright::rules {

namespace {

constexpr double kGram_kg = 1e-3;

double nominal_kg_of(const WeightRow& row) {
  return row.pounds ? row.nominal * units::kPound_kg : row.nominal;
}

/// Pounds in kg are typed with few digits; the next nominal value is a tenth or more away.
bool is_nominal(const WeightRow& row, double nominal_kg) {
  constexpr double kSame = 5e-5;
  return std::abs(nominal_kg - nominal_kg_of(row)) <= kSame * nominal_kg_of(row);
}

Source source_of(const WeightRow& row) {
  const bool quoted = row.basis == Basis::quoted;
  if (row.weight_class == "F") {
    return {.clause = "Table of class F",
            .basis = row.basis,
            .carrier = "",
            .document = "NIST Handbook 105-1 (1990)"};
  }
  if (row.weight_class.starts_with("n=")) {
    return {.clause = "marks of weights",
            .basis = row.basis,
            .carrier = quoted ? "OIML Bulletin 2001/04 and 2003/04" : "",
            .document = "OIML R 47 (1979)"};
  }
  return {.clause = "Table 1",
          .basis = row.basis,
          .carrier = quoted ? "reprints of the table on the web" : "",
          .document = "OIML R 111-1:2004"};
}

/// Capital letters, without what people write around the name.
std::string bare_name(std::string_view text) {
  std::string bare;
  for (const char c : text) {
    if (c == ' ' || c == '\t' || c == '=') continue;
    bare += static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
  }
  const std::string dash = "\xE2\x80\x93";  // as tables print "M1-2"
  if (const auto at = bare.find(dash); at != std::string::npos) bare.replace(at, dash.size(), "-");
  for (const std::string_view prefix : {"OIML", "NIST", "CLASS"}) {
    if (bare.starts_with(prefix)) bare.erase(0, prefix.size());
  }
  return bare;
}

std::vector<std::string> names_of(const std::vector<WeightRow>& rows) {
  std::vector<std::string> names;
  for (const WeightRow& row : rows) {
    if (names.empty() || names.back() != row.weight_class) names.emplace_back(row.weight_class);
  }
  return names;
}

}  // namespace

const std::vector<WeightRow>& weight_rows() {
  static const std::vector<WeightRow> kRows = {
      {"F2", 10.0, false, 0.16, Basis::memory},
      {"F2", 20.0, false, 0.3, Basis::quoted},
      {"F2", 50.0, false, 0.8, Basis::quoted},
      {"F2", 100.0, false, 1.6, Basis::memory},
      {"F2", 200.0, false, 3.0, Basis::memory},
      {"F2", 500.0, false, 8.0, Basis::memory},
      {"F2", 1000.0, false, 16.0, Basis::quoted},
      {"F2", 2000.0, false, 30.0, Basis::quoted},
      {"F2", 5000.0, false, 80.0, Basis::quoted},
      {"M1", 10.0, false, 0.5, Basis::quoted},
      {"M1", 20.0, false, 1.0, Basis::quoted},
      {"M1", 50.0, false, 2.5, Basis::quoted},
      {"M1", 100.0, false, 5.0, Basis::quoted},
      {"M1", 200.0, false, 10.0, Basis::quoted},
      {"M1", 500.0, false, 25.0, Basis::quoted},
      {"M1", 1000.0, false, 50.0, Basis::quoted},
      {"M1", 2000.0, false, 100.0, Basis::quoted},
      {"M1", 5000.0, false, 250.0, Basis::quoted},
      {"M1-2", 50.0, false, 5.0, Basis::quoted},
      {"M1-2", 100.0, false, 10.0, Basis::quoted},
      {"M1-2", 200.0, false, 20.0, Basis::quoted},
      {"M1-2", 500.0, false, 50.0, Basis::quoted},
      {"M1-2", 1000.0, false, 100.0, Basis::quoted},
      {"M1-2", 2000.0, false, 200.0, Basis::quoted},
      {"M1-2", 5000.0, false, 500.0, Basis::quoted},
      {"M2", 10.0, false, 1.6, Basis::quoted},
      {"M2", 20.0, false, 3.0, Basis::quoted},
      {"M2", 50.0, false, 8.0, Basis::quoted},
      {"M2", 100.0, false, 16.0, Basis::quoted},
      {"M2", 200.0, false, 30.0, Basis::quoted},
      {"M2", 500.0, false, 80.0, Basis::quoted},
      {"M2", 1000.0, false, 160.0, Basis::quoted},
      {"M2", 2000.0, false, 300.0, Basis::quoted},
      {"M2", 5000.0, false, 800.0, Basis::quoted},
      {"M2-3", 50.0, false, 16.0, Basis::quoted},
      {"M2-3", 100.0, false, 30.0, Basis::quoted},
      {"M2-3", 200.0, false, 60.0, Basis::quoted},
      {"M2-3", 500.0, false, 160.0, Basis::quoted},
      {"M2-3", 1000.0, false, 300.0, Basis::quoted},
      {"M2-3", 2000.0, false, 600.0, Basis::quoted},
      {"M2-3", 5000.0, false, 1600.0, Basis::quoted},
      {"M3", 10.0, false, 5.0, Basis::quoted},
      {"M3", 20.0, false, 10.0, Basis::quoted},
      {"M3", 50.0, false, 25.0, Basis::quoted},
      {"M3", 100.0, false, 50.0, Basis::quoted},
      {"M3", 200.0, false, 100.0, Basis::quoted},
      {"M3", 500.0, false, 250.0, Basis::quoted},
      {"M3", 1000.0, false, 500.0, Basis::quoted},
      {"M3", 2000.0, false, 1000.0, Basis::quoted},
      {"M3", 5000.0, false, 2500.0, Basis::quoted},
      {"n=1000", 50.0, false, 16.5, Basis::memory},
      {"n=1000", 100.0, false, 33.0, Basis::memory},
      {"n=1000", 200.0, false, 66.0, Basis::memory},
      {"n=1000", 500.0, false, 165.0, Basis::memory},
      {"n=1000", 1000.0, false, 330.0, Basis::memory},
      {"n=1000", 2000.0, false, 660.0, Basis::memory},
      {"n=1000", 5000.0, false, 1650.0, Basis::memory},
      {"n=3000", 50.0, false, 8.5, Basis::memory},
      {"n=3000", 100.0, false, 17.0, Basis::memory},
      {"n=3000", 200.0, false, 34.0, Basis::memory},
      {"n=3000", 500.0, false, 85.0, Basis::quoted},
      {"n=3000", 1000.0, false, 170.0, Basis::quoted},
      {"n=3000", 2000.0, false, 340.0, Basis::quoted},
      {"n=3000", 5000.0, false, 850.0, Basis::memory},
      {"n=5000", 50.0, false, 5.0, Basis::memory},
      {"n=5000", 100.0, false, 10.0, Basis::memory},
      {"n=5000", 200.0, false, 20.0, Basis::memory},
      {"n=5000", 500.0, false, 50.0, Basis::memory},
      {"n=5000", 1000.0, false, 100.0, Basis::memory},
      {"n=5000", 2000.0, false, 200.0, Basis::memory},
      {"n=5000", 5000.0, false, 500.0, Basis::memory},
      {"n=10000", 50.0, false, 2.5, Basis::memory},
      {"n=10000", 100.0, false, 5.0, Basis::memory},
      {"n=10000", 200.0, false, 10.0, Basis::memory},
      {"n=10000", 500.0, false, 25.0, Basis::memory},
      {"n=10000", 1000.0, false, 50.0, Basis::memory},
      {"n=10000", 2000.0, false, 100.0, Basis::memory},
      {"n=10000", 5000.0, false, 250.0, Basis::memory},
      {"F", 20.0, false, 2.0, Basis::memory},
      {"F", 25.0, false, 2.5, Basis::memory},
      {"F", 50.0, false, 5.0, Basis::memory},
      {"F", 100.0, false, 10.0, Basis::memory},
      {"F", 200.0, false, 20.0, Basis::memory},
      {"F", 500.0, false, 50.0, Basis::memory},
      {"F", 1000.0, false, 100.0, Basis::memory},
      {"F", 2000.0, false, 200.0, Basis::memory},
      {"F", 5000.0, false, 500.0, Basis::memory},
      {"F", 10.0, true, 0.45, Basis::memory},
      {"F", 20.0, true, 0.91, Basis::memory},
      {"F", 25.0, true, 1.1, Basis::memory},
      {"F", 50.0, true, 2.3, Basis::memory},
      {"F", 100.0, true, 4.5, Basis::memory},
      {"F", 200.0, true, 9.1, Basis::memory},
      {"F", 500.0, true, 23.0, Basis::memory},
      {"F", 1000.0, true, 45.0, Basis::memory},
      {"F", 2000.0, true, 91.0, Basis::memory},
      {"F", 2500.0, true, 110.0, Basis::memory},
      {"F", 5000.0, true, 230.0, Basis::memory},
      {"F", 10000.0, true, 450.0, Basis::memory},
  };
  return kRows;
}

std::optional<WeightLimit> weight_limit(std::string_view weight_class, double nominal_kg) {
  for (const WeightRow& row : weight_rows()) {
    if (row.weight_class == weight_class && is_nominal(row, nominal_kg))
      return WeightLimit{.kg = row.limit_g * kGram_kg, .source = source_of(row)};
  }
  return std::nullopt;
}

const std::vector<std::string>& weight_classes() {
  static const std::vector<std::string> kNames = names_of(weight_rows());
  return kNames;
}

std::optional<std::string> parse_weight_class(std::string_view text) {
  const std::string wanted = bare_name(text);
  for (const std::string& name : weight_classes()) {
    if (bare_name(name) == wanted) return name;
  }
  return std::nullopt;
}

}  // namespace weighwright::rules
