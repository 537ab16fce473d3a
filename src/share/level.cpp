#include "share/level.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace weighwright::share {
namespace {

std::size_t at(Corner corner) {
  return static_cast<std::size_t>(corner);
}

}  // namespace

const char* print(Corner corner) {
  switch (corner) {
    case Corner::near_left:
      return "near left";
    case Corner::near_right:
      return "near right";
    case Corner::far_left:
      return "far left";
    case Corner::far_right:
      return "far right";
  }
  return "";
}

LevelMove level_plate(const deck::Stand& stand, double along, double across, double raise_m) {
  const double half_along = stand.plate_along_m / 2.0;
  const double half_across = stand.plate_across_m / 2.0;
  LevelMove move;
  for (const Corner corner :
       {Corner::near_left, Corner::near_right, Corner::far_left, Corner::far_right}) {
    const bool far = corner == Corner::far_left || corner == Corner::far_right;
    const bool left = corner == Corner::near_left || corner == Corner::far_left;
    const double above =
        along * (far ? half_along : -half_along) + across * (left ? half_across : -half_across);
    move.raise_m[at(corner)] = raise_m - above;
    move.exact_turns[at(corner)] = move.raise_m[at(corner)] / stand.pitch_m;
  }
  // Settable turns in one plane: near_left = a, far_left = a + p, near_right = a + s,
  // far_right = a + p + s with whole a, p, s (in divisions). All within two of the exact ones: 125
  // sets.
  const double division = stand.division;
  const auto exact = [&](Corner corner) { return move.exact_turns[at(corner)] * division; };
  const double a0 = std::round(exact(Corner::near_left));
  const double p0 = std::round(exact(Corner::far_left) - exact(Corner::near_left));
  const double s0 = std::round(exact(Corner::near_right) - exact(Corner::near_left));
  double best = std::numeric_limits<double>::infinity();
  double best_size = 0.0;
  for (int da = -2; da <= 2; ++da) {
    for (int dp = -2; dp <= 2; ++dp) {
      for (int ds = -2; ds <= 2; ++ds) {
        const std::array<double, 4> steps = {a0 + da, a0 + da + s0 + ds, a0 + da + p0 + dp,
                                             a0 + da + p0 + dp + s0 + ds};
        double error = 0.0;
        double size = 0.0;
        for (std::size_t i = 0; i < 4; ++i) {
          error += std::pow(steps[i] - move.exact_turns[i] * division, 2);
          size += std::abs(steps[i]);
        }
        if (error > best + 1e-9 || (error > best - 1e-9 && size >= best_size)) continue;
        best = error;
        best_size = size;
        for (std::size_t i = 0; i < 4; ++i) move.turns[i] = steps[i] / division;
      }
    }
  }
  const auto risen = [&](Corner corner) { return move.turns[at(corner)] * stand.pitch_m; };
  move.left_along = along + (risen(Corner::far_left) + risen(Corner::far_right) -
                             risen(Corner::near_left) - risen(Corner::near_right)) /
                                (2.0 * stand.plate_along_m);
  move.left_across = across + (risen(Corner::near_left) + risen(Corner::far_left) -
                               risen(Corner::near_right) - risen(Corner::far_right)) /
                                  (2.0 * stand.plate_across_m);
  move.rock_m = std::abs(risen(Corner::near_left) + risen(Corner::far_right) -
                         risen(Corner::near_right) - risen(Corner::far_left));
  return move;
}

}  // namespace weighwright::share
