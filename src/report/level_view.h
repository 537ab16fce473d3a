#pragma once
/// The answer of `level`: turns of each screw of one plate.

#include <string>
#include <vector>

namespace weighwright::report {

struct LevelScrew {
  std::string corner;  // "near left"
  double turns = 0.0;  // that can be set, positive raises
  double exact_turns = 0.0;
  double raise_mm = 0.0;
  std::string instruction;
};

struct LevelView {
  std::string stand;
  std::vector<LevelScrew> screws;    // near left, near right, far left, far right
  double left_along_mm_per_m = 0.0;  // slope that remains
  double left_across_mm_per_m = 0.0;
  double rock_mm = 0.0;
  std::string remains;  // a sentence
  std::vector<std::string> cautions;
};

[[nodiscard]] std::string draw_text(const LevelView& view);

}  // namespace weighwright::report
