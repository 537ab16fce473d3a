#include "record/columns.h"

#include <algorithm>
#include <array>

namespace weighwright::record {

namespace {

bool contains(const std::vector<std::string>& names, std::string_view name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

template <class List>
bool contains_any(const std::vector<std::string>& names, const List& wanted) {
  return std::any_of(wanted.begin(), wanted.end(),
                     [&](const auto& known) { return contains(names, known.name); });
}

constexpr std::array kPlaces = {KnownColumn{"x_m", Column::x, ColumnUnit::m},
                                KnownColumn{"y_m", Column::y, ColumnUnit::m},
                                KnownColumn{"x_ft", Column::x, ColumnUnit::ft},
                                KnownColumn{"y_ft", Column::y, ColumnUnit::ft},
                                KnownColumn{"x", Column::x, ColumnUnit::typed},
                                KnownColumn{"y", Column::y, ColumnUnit::typed},
                                KnownColumn{"at", Column::at}};

/// What a load and its indication are, wherever it stands.
constexpr std::array kLoads = {KnownColumn{"load_kg", Column::load, ColumnUnit::kg},
                               KnownColumn{"load_lb", Column::load, ColumnUnit::lb},
                               KnownColumn{"load", Column::load, ColumnUnit::typed},
                               KnownColumn{"load_id", Column::load_id},
                               KnownColumn{"indication_kg", Column::indication, ColumnUnit::kg},
                               KnownColumn{"indication_lb", Column::indication, ColumnUnit::lb},
                               KnownColumn{"indication", Column::indication, ColumnUnit::typed}};

constexpr std::array kBesideLoads = {KnownColumn{"added_kg", Column::added, ColumnUnit::kg},
                                     KnownColumn{"added_lb", Column::added, ColumnUnit::lb},
                                     KnownColumn{"added", Column::added, ColumnUnit::typed},
                                     KnownColumn{"zero_before", Column::zero_before},
                                     KnownColumn{"zero_after", Column::zero_after},
                                     KnownColumn{"resolution", Column::resolution},
                                     KnownColumn{"going", Column::going},
                                     KnownColumn{"test", Column::test},
                                     KnownColumn{"note", Column::ignored}};

/// What only a file of resistances has.
constexpr std::array kElectrics = {KnownColumn{"input_ohm", Column::input_ohm},
                                   KnownColumn{"output_ohm", Column::output_ohm},
                                   KnownColumn{"e_plus_s_plus_ohm", Column::e_plus_s_plus_ohm},
                                   KnownColumn{"e_plus_s_minus_ohm", Column::e_plus_s_minus_ohm},
                                   KnownColumn{"e_minus_s_plus_ohm", Column::e_minus_s_plus_ohm},
                                   KnownColumn{"e_minus_s_minus_ohm", Column::e_minus_s_minus_ohm},
                                   KnownColumn{"insulation_Mohm", Column::insulation_Mohm},
                                   KnownColumn{"zero_mV", Column::zero_mV},
                                   KnownColumn{"sense_V", Column::sense_V}};

constexpr std::array kTrims = {KnownColumn{"turns", Column::turns}, KnownColumn{"ohm", Column::ohm},
                               KnownColumn{"factor", Column::factor}};

constexpr std::array kZeros = {KnownColumn{"zero_kg", Column::zero, ColumnUnit::kg},
                               KnownColumn{"zero_lb", Column::zero, ColumnUnit::lb},
                               KnownColumn{"zero", Column::zero, ColumnUnit::typed}};

/// Lines of tests by a rulebook, beside what every load has.
constexpr std::array kProof = {KnownColumn{"check", Column::check},
                               KnownColumn{"weights", Column::weights},
                               KnownColumn{"material", Column::material},
                               KnownColumn{"start_kg", Column::start, ColumnUnit::kg},
                               KnownColumn{"start_lb", Column::start, ColumnUnit::lb},
                               KnownColumn{"start", Column::start},
                               KnownColumn{"then_kg", Column::then, ColumnUnit::kg},
                               KnownColumn{"then_lb", Column::then, ColumnUnit::lb},
                               KnownColumn{"then", Column::then},
                               KnownColumn{"other_kg", Column::other, ColumnUnit::kg},
                               KnownColumn{"other_lb", Column::other, ColumnUnit::lb},
                               KnownColumn{"other", Column::other},
                               KnownColumn{"by", Column::by},
                               KnownColumn{"range", Column::range},
                               KnownColumn{"heading", Column::heading},
                               KnownColumn{"run", Column::run},
                               KnownColumn{"time", Column::time},
                               KnownColumn{"footprint", Column::footprint}};

constexpr std::array kNominals = {KnownColumn{"nominal_kg", Column::nominal, ColumnUnit::kg},
                                  KnownColumn{"nominal_lb", Column::nominal, ColumnUnit::lb},
                                  KnownColumn{"nominal", Column::nominal, ColumnUnit::typed}};

/// What else is known of a test weight or a vehicle.
constexpr std::array kWeights = {
    KnownColumn{"id", Column::id},
    KnownColumn{"count", Column::count},
    KnownColumn{"class", Column::weight_class},
    KnownColumn{"conventional_kg", Column::conventional, ColumnUnit::kg},
    KnownColumn{"conventional_lb", Column::conventional, ColumnUnit::lb},
    KnownColumn{"conventional", Column::conventional, ColumnUnit::typed},
    KnownColumn{"uncertainty_g", Column::uncertainty, ColumnUnit::g},
    KnownColumn{"uncertainty_kg", Column::uncertainty, ColumnUnit::kg},
    KnownColumn{"uncertainty_lb", Column::uncertainty, ColumnUnit::lb},
    KnownColumn{"uncertainty", Column::uncertainty, ColumnUnit::typed},
    KnownColumn{"k", Column::coverage},
    KnownColumn{"density_kg_m3", Column::density},
    KnownColumn{"certificate", Column::certificate},
    KnownColumn{"traced_to", Column::traced_to},
    KnownColumn{"expires", Column::expires},
    KnownColumn{"length_m", Column::length, ColumnUnit::m},
    KnownColumn{"length_ft", Column::length, ColumnUnit::ft},
    KnownColumn{"length", Column::length, ColumnUnit::typed},
    KnownColumn{"width_m", Column::width, ColumnUnit::m},
    KnownColumn{"width_ft", Column::width, ColumnUnit::ft},
    KnownColumn{"width", Column::width, ColumnUnit::typed},
    KnownColumn{"axles", Column::axles},
    KnownColumn{"axle_load_kg", Column::axle_load, ColumnUnit::kg},
    KnownColumn{"axle_load_lb", Column::axle_load, ColumnUnit::lb},
    KnownColumn{"axle_load", Column::axle_load, ColumnUnit::typed},
    KnownColumn{"handling", Column::handling},
    KnownColumn{"note", Column::ignored}};

template <class List>
void append(std::vector<KnownColumn>& known, const List& more) {
  known.insert(known.end(), more.begin(), more.end());
}

std::optional<FileKind> kind_of_stands(const std::vector<std::string>& names) {
  if (contains(names, "force_N")) return FileKind::forces;
  if (contains_any(names, kElectrics)) return FileKind::electrics;
  if (contains(names, "turns") || contains(names, "shim_mm")) return FileKind::turns;
  if (contains(names, "height_mm")) return FileKind::heights;
  if (contains_any(names, kReadingUnits)) return FileKind::readings;
  return std::nullopt;
}

}  // namespace

std::optional<FileKind> kind_of(const std::vector<std::string>& names) {
  if (contains(names, "support")) return FileKind::gaps;
  if (contains(names, "loaded") || contains(names, "moved")) return FileKind::map;
  if (contains(names, "trim")) return FileKind::trims;
  if (contains(names, "look")) return FileKind::looks;
  if (contains(names, "check")) return FileKind::proof;
  if (contains_any(names, kNominals)) return FileKind::weights;
  if (contains(names, "stand")) return kind_of_stands(names);
  const bool loads = contains_any(names, kLoads);
  if (loads && contains_any(names, kPlaces)) return FileKind::shift;
  if (loads) return FileKind::loads;
  if (contains_any(names, kZeros)) return FileKind::zeros;
  return std::nullopt;
}

std::vector<KnownColumn> known_columns(FileKind kind) {
  std::vector<KnownColumn> known;
  switch (kind) {
    case FileKind::readings:
      known = {{"stand", Column::stand},           {"no_load", Column::no_load},
               {"gap_mm", Column::gap_mm},         {"excitation_V", Column::excitation_V},
               {"resolution", Column::resolution}, {"noise", Column::noise}};
      for (const UnitName& unit : kReadingUnits) known.push_back({unit.name, Column::reading});
      break;
    case FileKind::turns:
      known = {{"stand", Column::stand},
               {"turns", Column::turns},
               {"shim_mm", Column::shim_mm},
               {"until", Column::until}};
      break;
    case FileKind::heights:
      known = {{"stand", Column::stand}, {"height_mm", Column::height_mm}};
      break;
    case FileKind::gaps:
      known = {{"support", Column::support}, {"gap_mm", Column::gap_mm}};
      break;
    case FileKind::map:
      known = {{"loaded", Column::loaded}, {"moved", Column::moved}};
      break;
    case FileKind::shift:
      append(known, kPlaces);
      append(known, kLoads);
      known.push_back({"footprint", Column::footprint});
      append(known, kBesideLoads);
      break;
    case FileKind::loads:
      append(known, kLoads);
      known.push_back({"material", Column::material});
      append(known, kBesideLoads);
      break;
    case FileKind::trims:
      known = {{"trim", Column::trim}, {"note", Column::ignored}};
      append(known, kTrims);
      break;
    case FileKind::electrics:
      known = {{"stand", Column::stand}};
      append(known, kElectrics);
      append(known, std::array{KnownColumn{"test_V", Column::test_V}, KnownColumn{"mV", Column::mV},
                               KnownColumn{"excitation_V", Column::excitation_V},
                               KnownColumn{"note", Column::ignored}});
      break;
    case FileKind::forces:
      known = {{"stand", Column::stand}, {"force_N", Column::force_N}, {"note", Column::ignored}};
      break;
    case FileKind::zeros:
      known = {
          {"time", Column::time},   {"temp_degC", Column::temp_degC},   {"rain", Column::rain},
          {"after", Column::after}, {"resolution", Column::resolution}, {"note", Column::ignored}};
      append(known, kZeros);
      return known;  // time and temperature are data here
    case FileKind::looks:
      known = {{"look", Column::look},
               {"where", Column::where},
               {"found", Column::found},
               {"note", Column::ignored}};
      break;
    case FileKind::weights:
      append(known, kNominals);
      append(known, kWeights);
      return known;
    case FileKind::proof:
      append(known, kPlaces);
      append(known, kLoads);
      append(known, kBesideLoads);
      append(known, kProof);
      return known;  // time is data here
  }
  append(known,
         std::array{KnownColumn{"time", Column::ignored}, KnownColumn{"temp", Column::ignored}});
  return known;
}

std::vector<std::string_view> required_columns(FileKind kind) {
  switch (kind) {
    case FileKind::readings:
    case FileKind::turns:
    case FileKind::electrics:
      return {"stand"};
    case FileKind::heights:
      return {"stand", "height_mm"};
    case FileKind::gaps:
      return {"support", "gap_mm"};
    case FileKind::map:
      return {"loaded", "moved"};
    case FileKind::trims:
      return {"trim"};
    case FileKind::forces:
      return {"stand", "force_N"};
    case FileKind::looks:
      return {"look", "where", "found"};
    case FileKind::weights:
      return {"id"};
    case FileKind::proof:
      return {"check"};
    case FileKind::shift:
    case FileKind::loads:
    case FileKind::zeros:
      break;
  }
  return {};
}

}  // namespace weighwright::record
