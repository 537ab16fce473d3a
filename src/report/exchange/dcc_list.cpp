#include "report/exchange/dcc_list.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <stdexcept>

#include "report/exchange/dcc_text.h"
#include "report/proof_view.h"
#include "units/quantity.h"

namespace weighwright::report {
namespace {

/// Blanks separate the items of an XML list; inside an item they become underscores.
std::string token(const std::string& label) {
  std::string text = clean(label);
  std::replace(text.begin(), text.end(), ' ', '_');
  return text.empty() ? "-" : text;
}

template <typename Item, typename Print>
std::string list_of(const std::vector<Item>& items, Print print) {
  std::string text;
  for (const Item& item : items) text += (text.empty() ? "" : " ") + print(item);
  return text;
}

void check_length(std::vector<std::string>& faults,
                  const DccColumn& column,
                  const char* what,
                  std::size_t length,
                  std::size_t wanted) {
  if (length != wanted)
    faults.push_back(fmt::format("{}: {} {} for {} results", column.name, length, what, wanted));
}

void check_figures(std::vector<std::string>& faults, const DccColumn& column) {
  for (const double value : column.values_kg) {
    if (!std::isfinite(value))
      faults.push_back(fmt::format("{}: a value is not a finite number", column.name));
  }
  for (const double expanded : column.expanded_kg) {
    if (!(expanded >= 0.0) || !std::isfinite(expanded))
      faults.push_back(fmt::format("{}: expanded uncertainty {} kg; it must be 0 or more",
                                   column.name, expanded));
  }
  for (const double factor : column.factors) {
    if (!(factor >= 1.0) || !std::isfinite(factor))
      faults.push_back(
          fmt::format("{}: coverage factor {}; it must be 1 or more", column.name, factor));
  }
}

/// A unit of mass as the format writes it. D-SI has no name for the pound; in si:hybrid any sign
/// may stand beside the SI unit.
struct DccUnit {
  const char* sign;
  double kg;
};
constexpr DccUnit kKilogram{"\\kilogram", 1.0};
constexpr DccUnit kPound{"lb", units::kPound_kg};

std::string masses(const DccColumn& column, const DccUnit& unit) {
  return list_of(column.values_kg, [&](double kg) {
    return plain(column.uncertainty ? two_digits(kg / unit.kg) : kg / unit.kg);
  });
}

void add_uncertainty(pugi::xml_node list, const DccColumn& column, const DccUnit& unit) {
  if (column.expanded_kg.empty()) return;
  const std::vector<double> chances(column.values_kg.size(), column.probability);
  pugi::xml_node expanded = list.append_child("si:expandedUncXMLList");
  add_plain(expanded, "si:uncertaintyXMLList", list_of(column.expanded_kg, [&unit](double kg) {
              return plain(two_digits(kg / unit.kg));
            }));
  add_plain(expanded, "si:coverageFactorXMLList", list_of(column.factors, plain));
  add_plain(expanded, "si:coverageProbabilityXMLList", list_of(chances, plain));
}

void add_values(pugi::xml_node parent, const DccColumn& column, const DccUnit& unit) {
  const std::vector<std::string> units(column.values_kg.size(), unit.sign);
  pugi::xml_node real = parent.append_child("si:realListXMLList");
  const bool labelled = std::any_of(column.labels.begin(), column.labels.end(),
                                    [](const std::string& label) { return !label.empty(); });
  if (labelled) add_plain(real, "si:labelXMLList", list_of(column.labels, token));
  add_plain(real, "si:valueXMLList", masses(column, unit));
  add_plain(real, "si:unitXMLList", list_of(units, [](const std::string& sign) { return sign; }));
  add_uncertainty(real, column, unit);
}

void add_real(pugi::xml_node parent, double value_kg, const DccUnit& unit) {
  pugi::xml_node real = parent.append_child("si:real");
  add_plain(real, "si:value", plain(value_kg / unit.kg));
  add_plain(real, "si:unit", unit.sign);
}

void add_conformity(pugi::xml_node quantity, const DccColumn& column, const std::string& language) {
  if (column.conformity.empty() && column.declaration.empty()) return;
  pugi::xml_node data =
      quantity.append_child("dcc:measurementMetaData").append_child("dcc:metaData");
  if (!column.norm.empty()) add_plain(data, "dcc:norm", column.norm);
  if (!column.declaration.empty()) add_text(data, "dcc:declaration", column.declaration, language);
  if (column.conformity.empty()) return;
  add_plain(data, "dcc:conformityXMLList",
            list_of(column.conformity, [](const std::string& word) { return word; }));
}

void add_column(pugi::xml_node list,
                const DccColumn& column,
                const std::string& language,
                bool pounds) {
  pugi::xml_node quantity = list.append_child("dcc:quantity");
  quantity.append_attribute("refType").set_value(column.ref_type.c_str());
  add_text(quantity, "dcc:name", column.name, language);
  if (pounds) {
    pugi::xml_node both = quantity.append_child("si:hybrid");
    add_values(both, column, kKilogram);
    add_values(both, column, kPound);
  } else {
    add_values(quantity, column, kKilogram);
  }
  add_conformity(quantity, column, language);
}

}  // namespace

std::vector<std::string> faults_of(const std::vector<DccColumn>& columns) {
  std::vector<std::string> faults;
  if (columns.empty() || columns.front().values_kg.empty()) return {"a table without results"};
  const std::size_t wanted = columns.front().values_kg.size();
  for (const DccColumn& column : columns) {
    check_length(faults, column, "values", column.values_kg.size(), wanted);
    const bool uncertain = !column.expanded_kg.empty() || !column.factors.empty();
    if (uncertain) check_length(faults, column, "uncertainties", column.expanded_kg.size(), wanted);
    if (uncertain) check_length(faults, column, "coverage factors", column.factors.size(), wanted);
    if (!column.labels.empty())
      check_length(faults, column, "labels", column.labels.size(), wanted);
    if (!column.conformity.empty())
      check_length(faults, column, "verdicts", column.conformity.size(), wanted);
    check_figures(faults, column);
  }
  return faults;
}

void add_list(pugi::xml_node data,
              const std::string& name,
              const std::vector<DccColumn>& columns,
              const std::string& language,
              bool pounds) {
  const std::vector<std::string> faults = faults_of(columns);
  if (!faults.empty()) throw std::invalid_argument(faults.front());
  pugi::xml_node list = data.append_child("dcc:list");
  add_text(list, "dcc:name", name, language);
  for (const DccColumn& column : columns) add_column(list, column, language, pounds);
}

void add_mass(pugi::xml_node quantity, double value_kg, bool pounds) {
  if (!pounds) {
    add_real(quantity, value_kg, kKilogram);
    return;
  }
  pugi::xml_node both = quantity.append_child("si:hybrid");
  add_real(both, value_kg, kKilogram);
  add_real(both, value_kg, kPound);
}

}  // namespace weighwright::report
