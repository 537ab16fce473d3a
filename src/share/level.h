#pragma once
/// A plate on four screws made level: bubble readings to turns, all four in one plane.

#include <array>
#include <string>

#include "deck/deck.h"

namespace weighwright::share {

/// Which screw of a plate: seen from above, looking from end 1 to end 2.
enum class Corner { near_left = 0, near_right = 1, far_left = 2, far_right = 3 };

[[nodiscard]] const char* print(Corner corner);

struct LevelMove {
  std::array<double, 4> raise_m{};      // by Corner; coplanar
  std::array<double, 4> turns{};        // rounded to the division that can be set, positive raises
  std::array<double, 4> exact_turns{};  // before rounding; coplanar
  double left_along = 0.0;              // slope that remains after the rounded turns, m/m
  double left_across = 0.0;
  double rock_m = 0.0;  // how far the rounded turns are from one plane (corner air)
};

/// @param along    slope of the plate along the deck, positive: end-2 side is high
/// @param across   slope across, positive: left side is high
/// @param raise_m  wanted rise of the plate's middle, up positive
/// The rounded turns are the coplanar set of settable turns nearest to the exact ones (least
/// squares, ties to the smaller turns): near_left + far_right = near_right + far_left, so no screw
/// is left loose.
/// @pre the stand has four screws; spacing and pitch positive
[[nodiscard]] LevelMove level_plate(const deck::Stand& stand,
                                    double along,
                                    double across,
                                    double raise_m);

}  // namespace weighwright::share
