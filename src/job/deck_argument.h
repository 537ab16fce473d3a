#pragma once
/// Arguments that speak of places on a deck: "--load 3.5 m,0.6 m,10 t", "--jack 2L,3 mm".

#include <optional>
#include <string>

#include "deck/deck.h"
#include "statics/model.h"
#include "units/diagnostic.h"
#include "units/place.h"

namespace weighwright::job {

struct ParsedLoad {
  std::optional<statics::PointLoad> load;
  units::Diagnostics faults;
};

/// @param gravity_m_per_s2  of the site: the load is given as a mass
[[nodiscard]] ParsedLoad parse_load(const std::string& text, double gravity_m_per_s2);

struct Lift {
  units::StandIndex stand;
  double lift_m = 0.0;
};

struct ParsedLift {
  std::optional<Lift> lift;
  units::Diagnostics faults;
};

[[nodiscard]] ParsedLift parse_lift(const std::string& text, const deck::Deck& deck);

struct ParsedStand {
  std::optional<units::StandIndex> stand;
  units::Diagnostics faults;
};

/// @param option  its name, for the message
[[nodiscard]] ParsedStand parse_stand_of(const std::string& text,
                                         const deck::Deck& deck,
                                         const std::string& option);

/// "1L to 4R".
[[nodiscard]] std::string stand_range(const deck::Deck& deck);

}  // namespace weighwright::job
