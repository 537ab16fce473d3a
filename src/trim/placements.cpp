#include "trim/placements.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include "statics/contact.h"
#include "trim/elements.h"
#include "trim/indications.h"
#include "units/quantity.h"

namespace weighwright::trim {
namespace {

constexpr double kZeroRange_of_Max = 0.04;  // zero setting range (R 76-1:2006, 4.5.1; from memory)
constexpr double kLeast_of_e = 20.0;        // Min of class III (R 76-1:2006, table 3)

using record::LoadPlace;
using record::LoadReading;
using units::quote;

struct Spot {
  double x_m = 0.0;
  double y_m = 0.0;
};

Spot spot_of(const deck::Deck& deck, const LoadPlace& place) {
  const auto at_m = [&](int section) {
    return deck.sections[static_cast<std::size_t>(section)].at_m;
  };
  switch (place.kind) {
    case LoadPlace::Kind::stand:
      return {at_m(place.stand.section().value), deck.stand_y_m(place.stand)};
    case LoadPlace::Kind::section:
      return {at_m(place.section.value), 0.0};
    case LoadPlace::Kind::span:
      return {(at_m(place.section.value) + at_m(place.section.value + 1)) / 2.0, 0.0};
    case LoadPlace::Kind::point:
      return {place.x_m, place.y_m};
    case LoadPlace::Kind::deck:
      break;
  }
  return {deck.length_m() / 2.0, 0.0};
}

std::string name_of(const LoadPlace& place, const std::string& footprint) {
  std::string name = place.typed;
  if (place.kind == LoadPlace::Kind::point) {
    name = units::print_fixed(place.x_m, 2) + " m";
    if (place.y_m == 0.0) {
      name += ", middle";
    } else {
      name += ", " + units::print_fixed(std::abs(place.y_m), 2) + " m " +
              (place.y_m > 0.0 ? "left" : "right");
    }
  }
  return footprint.empty() ? name : name + " (" + footprint + ")";
}

class Placer {
 public:
  Placer(const deck::Deck& deck, const statics::Model& model)
      : deck_(deck),
        model_(model),
        elements_(elements_of(deck)),
        level_(Eigen::VectorXd::Zero(deck.stand_count())) {
    dead_ = statics::solve_contact(model, model.dead, level_, statics::nominal(model));
  }

  PlacedShifts place(const std::vector<record::Measurement>& events) {
    for (const record::Measurement& event : events) {
      if (const auto* shift = std::get_if<record::ShiftSet>(&event)) {
        take(*shift);
      } else if (const auto* moves = std::get_if<record::TrimSet>(&event)) {
        for (const record::TrimMove& move : moves->moves) check(*moves, move);
        shifts_.moves.push_back(*moves);
      } else {
        refuse(event);
      }
    }
    if (!events.empty() && std::holds_alternative<record::TrimSet>(events.back())) {
      fault(shifts_.moves.back().source, 1, "trims were set after the last readings",
            "shift readings taken after that: at least the places whose trims were moved");
    }
    if (faults_.empty() && shifts_.placed.empty()) {
      fault("", 0, "no load stood on the deck in any of these files",
            "shift readings with a load over each stand in turn");
    }
    PlacedShifts result{.shifts = {}, .faults = faults_};
    if (faults_.empty()) result.shifts = std::move(shifts_);
    return result;
  }

 private:
  void fault(const std::string& file, int line, std::string what, std::string expected) {
    faults_.push_back({.file = file,
                       .line = line,
                       .column = 0,
                       .what = std::move(what),
                       .expected = std::move(expected)});
  }

  /// What can be no deck: an empty one that shows a load, a load that is none, one above Max.
  void check(const record::ShiftSet& set, const LoadReading& reading) {
    const bool empty = reading.load_kg && *reading.load_kg == 0.0;
    const double most_zero_kg = kZeroRange_of_Max * deck_.capacity_kg;
    if (empty && std::abs(reading.indication_kg) > most_zero_kg) {
      fault(set.source, reading.line,
            "the load is 0, and the display shows " + kilograms(reading.indication_kg),
            "0 for the empty deck only; a load of unknown mass has a load_id");
    }
    for (const std::optional<double>& zero : {reading.zero_before_kg, reading.zero_after_kg}) {
      if (!zero || std::abs(*zero) <= most_zero_kg) continue;
      fault(set.source, reading.line, "a zero of " + kilograms(*zero) + " is no zero",
            "what the empty deck showed");
    }
    if (!reading.load_kg || empty) return;
    const double least_kg = kLeast_of_e * deck_.interval_at_kg(0.0);
    if (*reading.load_kg < least_kg) {
      fault(set.source, reading.line,
            "a load of " + kilograms(*reading.load_kg) +
                " is below the least that is weighed (20 e, " + kilograms(least_kg) + ")",
            "the load in the unit of the header; 10 t is 10000 under load_kg");
    }
    if (*reading.load_kg > deck_.capacity_kg) {
      fault(set.source, reading.line,
            "a load of " + kilograms(*reading.load_kg) + " is above Max, " +
                kilograms(deck_.capacity_kg),
            "a load that the weighbridge is made for");
    }
  }

  static std::string kilograms(double kg) { return units::print_fixed(kg, 0) + " kg"; }

  /// A move must name a trim that the boxes have, in a way that this trim is set.
  void check(const record::TrimSet& set, const record::TrimMove& move) {
    const auto found = std::find_if(
        elements_.begin(), elements_.end(),
        [&](const Element& element) { return print(element.place) == print(move.place); });
    const std::string name = print(move.place);
    if (found == elements_.end()) {
      fault(set.source, move.line, "the boxes have no trim " + quote(name), trims_known());
      return;
    }
    const bool digital = found->kind == TrimKind::digital;
    if (digital && !move.factor) {
      fault(set.source, move.line, "the trim of " + name + " is a digital factor",
            "a file trim,factor with the factor as it is set");
    } else if (!digital && move.factor) {
      fault(set.source, move.line, "the trim of " + name + " has no digital factor",
            "trim,turns (clockwise positive) or trim,ohm");
    } else if (move.ohm && found->cell_ohm <= 0.0) {
      fault(set.source, move.line, "the trim of " + name + " is not set in ohm", "trim,turns");
    }
  }

  [[nodiscard]] std::string trims_known() const {
    if (elements_.empty()) return "none: [[box]] trims = \"none\" in the deck file";
    std::string names;
    for (const Element& element : elements_) {
      names += (names.empty() ? "one of " : ", ") + print(element.place);
    }
    return names;
  }

  void refuse(const record::Measurement& event) {
    const std::string file = std::visit([](const auto& set) { return set.source; }, event);
    fault(file, 1, "this kind of file says nothing of the corners",
          "shift readings (at or x and y, load, indication) and trims made (trim,turns)");
  }

  void take(const record::ShiftSet& set) {
    for (const LoadReading& reading : set.readings) check(set, reading);
    for (const Indication& indication : indications(deck_, set.readings)) {
      add(set, set.readings[indication.reading], indication);
    }
  }

  void add(const record::ShiftSet& set, const LoadReading& reading, const Indication& indication) {
    Placed placed;
    placed.place = reading.place;
    placed.footprint = reading.footprint;
    placed.name = name_of(reading.place, reading.footprint);
    placed.file = set.source;
    placed.line = reading.line;
    placed.going = reading.going;
    placed.from_empty = indication.from_empty;
    placed.epoch = shifts_.epoch();
    placed.load_kg = reading.load_kg;
    if (!reading.load_kg) placed.unknown = index_of(reading.load_id);
    placed.indication_kg = indication.kg;
    placed.resolution_kg = indication.resolution_kg;
    placed.u_kg = indication.u_kg;
    placed.zero_read = indication.zero_read;
    placed.zero_change_kg = indication.zero_change_kg;
    const double mass_kg = reading.load_kg.value_or(std::max(placed.indication_kg, 1.0));
    if (share(placed, mass_kg)) shifts_.placed.push_back(std::move(placed));
  }

  int index_of(const std::string& id) {
    const auto found = std::find(shifts_.unknown.begin(), shifts_.unknown.end(), id);
    if (found == shifts_.unknown.end()) {
      shifts_.unknown.push_back(id);
      return static_cast<int>(shifts_.unknown.size()) - 1;
    }
    return static_cast<int>(found - shifts_.unknown.begin());
  }

  bool share(Placed& placed, double mass_kg) {
    const auto points = unit_load(deck_, placed.place, placed.footprint);
    if (!points) {
      fault(placed.file, placed.line, "there is no footprint " + quote(placed.footprint),
            footprints_known());
      return false;
    }
    // One place is used many times: its shares are worked out once a load (within 1 %).
    const Spot spot = spot_of(deck_, placed.place);
    const auto key =
        std::tuple(spot.x_m, spot.y_m, placed.footprint, std::lround(std::log(mass_kg) * 100.0));
    const auto known = known_.find(key);
    if (known != known_.end()) {
      placed.share = known->second.share;
      placed.opens_contact = known->second.opens_contact;
      placed.overload_kg = known->second.overload.kg;
      placed.overloaded = known->second.overload.stand;
      return true;
    }
    if (!solve(placed, *points, mass_kg * deck_.site.gravity_m_per_s2)) return false;
    known_.emplace(key, Known{.share = placed.share,
                              .opens_contact = placed.opens_contact,
                              .overload = {placed.overload_kg, placed.overloaded}});
    return true;
  }

  bool solve(Placed& placed, std::vector<statics::PointLoad> points, double force_N) {
    for (statics::PointLoad& point : points) point.force_N *= force_N;
    const statics::BuiltLoad live = statics::point_loads(model_, points);
    if (!live.load) {
      fault(placed.file, placed.line, placed.name + ": " + live.what,
            "a place on the deck: 0 to " + units::print_fixed(deck_.length_m(), 2) +
                " m from end 1, with its whole footprint");
      return false;
    }
    const statics::ContactState state = statics::solve_contact(
        model_, statics::add(model_.dead, *live.load), level_, statics::nominal(model_));
    if (state.status != statics::ContactStatus::solved) {
      fault(placed.file, placed.line,
            placed.name + ": the deck does not stand under this load: " + state.what,
            "a load that the deck can carry there");
      return false;
    }
    placed.share = (state.stand_N - dead_.stand_N) / force_N;
    placed.opens_contact = state.open.size() > dead_.open.size();
    const Overload overload = overload_of(deck_, state.stand_N);
    placed.overload_kg = overload.kg;
    placed.overloaded = overload.stand;
    return true;
  }

  [[nodiscard]] std::string footprints_known() const {
    std::string names;
    for (const deck::Footprint& footprint : deck_.footprints) {
      names += (names.empty() ? "one of: " : ", ") + footprint.name;
    }
    return names.empty()
               ? "a [[footprint]] of that name in the deck file, or a blank for a load on "
                 "one point"
               : names + "; or a blank for a load on one point";
  }

  const deck::Deck& deck_;
  const statics::Model& model_;
  std::vector<Element> elements_;
  Eigen::VectorXd level_;
  statics::ContactState dead_;
  Shifts shifts_;
  units::Diagnostics faults_;
  struct Known {
    Eigen::VectorXd share;
    bool opens_contact = false;
    Overload overload;
  };
  std::map<std::tuple<double, double, std::string, long>, Known> known_;
};

}  // namespace

PlacedShifts place_loads(const deck::Deck& deck,
                         const statics::Model& model,
                         const std::vector<record::Measurement>& events) {
  return Placer(deck, model).place(events);
}

Overload overload_of(const deck::Deck& deck, const Eigen::VectorXd& stand_N) {
  Overload most;
  for (Eigen::Index i = 0; i < stand_N.size(); ++i) {
    const double carried_kg = stand_N(i) / units::kStandardGravity_m_per_s2;
    const double over = carried_kg - deck.stands[static_cast<std::size_t>(i)].cell.capacity_kg;
    if (over > most.kg) most = {.kg = over, .stand = static_cast<int>(i)};
  }
  return most;
}

std::optional<std::vector<statics::PointLoad>> unit_load(const deck::Deck& deck,
                                                         const record::LoadPlace& place,
                                                         const std::string& footprint) {
  const Spot spot = spot_of(deck, place);
  if (footprint.empty()) return std::vector<statics::PointLoad>{{spot.x_m, spot.y_m, 1.0}};
  for (const deck::Footprint& known : deck.footprints) {
    if (known.name != footprint) continue;
    std::vector<statics::PointLoad> points;
    for (const deck::Footprint::Point& point : known.points) {
      points.push_back({spot.x_m + point.along_m, spot.y_m + point.left_m, point.share});
    }
    return points;
  }
  return std::nullopt;
}

}  // namespace weighwright::trim
