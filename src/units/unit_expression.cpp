#include "units/unit_expression.h"

#include <algorithm>
#include <optional>
#include <vector>

#include "units/diagnostic.h"
#include "units/quantity.h"
#include "units/suggestion.h"

namespace weighwright::units {

namespace {

struct Symbol {
  std::string_view name;
  Base base;
  double multiply;
  double divide;
  bool us_customary;
};

// Pound-force exact: 0.453 592 37 kg * 9.806 65 m/s2 (NIST SP 811, appendix B.8).
constexpr double kPoundForce_N = 4.4482216152605;
constexpr double kDegree_rad = 3.14159265358979323846 / 180.0;

constexpr std::array kSymbols = {
    Symbol{"m", Base::length, 1.0, 1.0, false},
    Symbol{"mm", Base::length, 1.0, 1e3, false},
    Symbol{"cm", Base::length, 1.0, 1e2, false},
    Symbol{"km", Base::length, 1e3, 1.0, false},
    Symbol{"um", Base::length, 1.0, 1e6, false},
    Symbol{"ft", Base::length, kFoot_m, 1.0, true},
    Symbol{"foot", Base::length, kFoot_m, 1.0, true},
    Symbol{"feet", Base::length, kFoot_m, 1.0, true},
    Symbol{"'", Base::length, kFoot_m, 1.0, true},
    Symbol{"in", Base::length, kInch_m, 1.0, true},
    Symbol{"inch", Base::length, kInch_m, 1.0, true},
    Symbol{"inches", Base::length, kInch_m, 1.0, true},
    Symbol{"\"", Base::length, kInch_m, 1.0, true},
    Symbol{"yd", Base::length, 3.0 * kFoot_m, 1.0, true},
    Symbol{"kg", Base::mass, 1.0, 1.0, false},
    Symbol{"g", Base::mass, 1.0, 1e3, false},
    Symbol{"t", Base::mass, 1e3, 1.0, false},
    Symbol{"tonne", Base::mass, 1e3, 1.0, false},
    Symbol{"tonnes", Base::mass, 1e3, 1.0, false},
    Symbol{"N", Base::force, 1.0, 1.0, false},
    Symbol{"kN", Base::force, 1e3, 1.0, false},
    Symbol{"MN", Base::force, 1e6, 1.0, false},
    Symbol{"GN", Base::force, 1e9, 1.0, false},
    Symbol{"kgf", Base::force, kStandardGravity_m_per_s2, 1.0, false},
    Symbol{"lbf", Base::force, kPoundForce_N, 1.0, true},
    Symbol{"V", Base::voltage, 1.0, 1.0, false},
    Symbol{"mV", Base::voltage, 1.0, 1e3, false},
    Symbol{"uV", Base::voltage, 1.0, 1e6, false},
    Symbol{"ohm", Base::resistance, 1.0, 1.0, false},
    Symbol{"ohms", Base::resistance, 1.0, 1.0, false},
    Symbol{"kohm", Base::resistance, 1e3, 1.0, false},
    Symbol{"Mohm", Base::resistance, 1e6, 1.0, false},
    Symbol{"deg", Base::angle, kDegree_rad, 1.0, false},
    Symbol{"rad", Base::angle, 1.0, 1.0, false},
    Symbol{"mrad", Base::angle, 1.0, 1e3, false},
    Symbol{"s", Base::time, 1.0, 1.0, false},
    Symbol{"min", Base::time, 60.0, 1.0, false},
    Symbol{"h", Base::time, 3600.0, 1.0, false},
    Symbol{"hours", Base::time, 3600.0, 1.0, false},
    Symbol{"d", Base::time, 86400.0, 1.0, false},
    Symbol{"days", Base::time, 86400.0, 1.0, false},
    Symbol{"Pa", Base::pressure, 1.0, 1.0, false},
    Symbol{"hPa", Base::pressure, 100.0, 1.0, false},
    Symbol{"kPa", Base::pressure, 1e3, 1.0, false},
    Symbol{"MPa", Base::pressure, 1e6, 1.0, false},
    Symbol{"psi", Base::pressure, kPoundForce_N, kInch_m* kInch_m, true},
    Symbol{"%", Base::percent, 1.0, 1e2, false},
};

/// Pounds and kips are masses or forces, as the quantity wanted says.
std::optional<Symbol> find_pounds(std::string_view name, Pounds pounds) {
  const bool force = pounds == Pounds::force;
  const Base base = force ? Base::force : Base::mass;
  const double pound = force ? kPoundForce_N : kPound_kg;
  if (name == "lb" || name == "lbs") return Symbol{"lb", base, pound, 1.0, true};
  if (name == "kip" || name == "kips") return Symbol{"kip", base, pound * 1e3, 1.0, true};
  return std::nullopt;
}

std::optional<Symbol> find_symbol(std::string_view name, Pounds pounds) {
  const auto* const found = std::find_if(kSymbols.begin(), kSymbols.end(),
                                         [&](const Symbol& s) { return s.name == name; });
  if (found != kSymbols.end()) return *found;
  return find_pounds(name, pounds);
}

/// Other ways of writing the same sign, replaced before reading.
std::string plain(std::string_view text) {
  struct Spelling {
    std::string_view from;
    std::string_view to;
  };
  static constexpr std::array kSpellings = {
      Spelling{"\xC2\xB7", " "},       Spelling{"*", " "},          Spelling{"^", ""},
      Spelling{"\xC2\xB2", "2"},       Spelling{"\xC2\xB3", "3"},   Spelling{"\xE2\x81\xB4", "4"},
      Spelling{"\xC2\xB5", "u"},       Spelling{"\xCE\xBC", "u"},   Spelling{"\xCE\xA9", "ohm"},
      Spelling{"\xE2\x84\xA6", "ohm"}, Spelling{"\xC2\xB0", "deg"}, Spelling{"\t", " "},
  };
  std::string out;
  while (!text.empty()) {
    const auto* const hit =
        std::find_if(kSpellings.begin(), kSpellings.end(),
                     [&](const Spelling& s) { return text.starts_with(s.from); });
    if (hit == kSpellings.end()) {
      out += text.front();
      text.remove_prefix(1);
    } else {
      out += hit->to;
      text.remove_prefix(hit->from.size());
    }
  }
  return out;
}

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

struct Factor {
  std::string_view name;
  int exponent = 1;
};

/// Whether the character at i stands between two factors: a space, or a hyphen between letters
/// ("ft-lb"), as in US tables.
bool separates(std::string_view text, std::size_t i) {
  if (text[i] == ' ') return true;
  if (text[i] != '-' || i == 0 || i + 1 == text.size()) return false;
  return text[i - 1] != ' ' && text[i - 1] != '-' && text[i + 1] != ' ' && text[i + 1] != '-';
}

/// "m2" -> m, 2.
std::vector<Factor> split_product(std::string_view text) {
  std::vector<Factor> factors;
  std::size_t i = 0;
  while (i < text.size()) {
    if (separates(text, i)) {
      ++i;
      continue;
    }
    const std::size_t start = i;
    while (i < text.size() && !separates(text, i) && !is_digit(text[i])) ++i;
    Factor factor{text.substr(start, i - start), 1};
    if (i < text.size() && is_digit(text[i])) factor.exponent = text[i++] - '0';
    const bool run_together = factor.name.ends_with("Nm");  // "kNm" is written as often as "kN m"
    if (run_together) {
      factors.push_back({factor.name.substr(0, factor.name.size() - 1), 1});
      factor.name = "m";
    }
    factors.push_back(factor);
  }
  return factors;
}

std::string unknown_unit_hint(std::string_view name) {
  std::vector<std::string_view> names = {"lb", "kip", "degC", "degF"};
  for (const Symbol& symbol : kSymbols) names.push_back(symbol.name);
  for (const std::string_view candidate : names) {
    const auto same_letter = [](char a, char b) { return (a | 0x20) == (b | 0x20); };
    if (std::equal(name.begin(), name.end(), candidate.begin(), candidate.end(), same_letter)) {
      return "did you mean " + std::string(candidate) + "?";
    }
  }
  return "";
}

void fail(UnitExpression& unit, std::string what, std::string expected) {
  if (!unit.what.empty()) return;
  unit.what = std::move(what);
  unit.expected = std::move(expected);
}

void multiply_in(UnitExpression& unit, const Factor& factor, bool below, Pounds pounds) {
  if (factor.name == "ton" || factor.name == "tons") {
    fail(unit, "which ton is meant?",
         "write t (1000 kg), or lb: a short ton is 2000 lb, a long ton 2240 lb");
    return;
  }
  const std::optional<Symbol> symbol = find_symbol(factor.name, pounds);
  if (!symbol) {
    fail(unit, "unknown unit " + quote(factor.name), unknown_unit_hint(factor.name));
    return;
  }
  if (factor.exponent < 1 || factor.exponent > 4) {
    fail(unit, "an exponent of " + std::to_string(factor.exponent) + " makes no sense here",
         "write the exponent as one digit after its unit, as in m2");
    return;
  }
  for (int i = 0; i < factor.exponent; ++i) {
    (below ? unit.divide : unit.multiply) *= symbol->multiply;
    (below ? unit.multiply : unit.divide) *= symbol->divide;
  }
  Exponents& side = below ? unit.below : unit.above;
  side.at(static_cast<std::size_t>(symbol->base)) += factor.exponent;
  unit.us_customary = unit.us_customary || symbol->us_customary;
}

}  // namespace

UnitExpression parse_unit(std::string_view text, Pounds pounds) {
  UnitExpression unit;
  if (text.size() > 60) {
    fail(unit, "unknown unit " + quote(text), "");
    return unit;
  }
  const std::string written = plain(text);
  const std::string_view all = written;
  const std::size_t stroke = all.find('/');
  const std::string_view above = all.substr(0, stroke);
  const std::string_view below =
      stroke == std::string_view::npos ? std::string_view{} : all.substr(stroke + 1);
  if (below.find('/') != std::string_view::npos) {
    fail(unit, "two strokes in the unit " + quote(text), "write one stroke, as in N m/mm");
    return unit;
  }
  const std::vector<Factor> factors_above = split_product(above);
  const std::vector<Factor> factors_below = split_product(below);
  if (stroke != std::string_view::npos && (factors_above.empty() || factors_below.empty())) {
    fail(unit, "one side of the stroke is missing in the unit " + quote(text), "");
    return unit;
  }
  for (const Factor& factor : factors_above) multiply_in(unit, factor, false, pounds);
  for (const Factor& factor : factors_below) multiply_in(unit, factor, true, pounds);
  return unit;
}

}  // namespace weighwright::units
