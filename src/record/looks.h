#pragma once
/// Things to go and look for when a deck reads wrong: what `look,where,found` may name.

#include <string_view>
#include <vector>

namespace weighwright::record {

enum class LookAt { stand, joint_side, end, module, whole, stand_or_box };

struct LookRule {
  std::string_view code;
  LookAt at = LookAt::whole;
  std::string_view says;  // the question whose answer is yes or no
};

/// Places: stand "2L"; joint_side "bearing1R"; end "end1"; module by its mark "B";
/// stand_or_box "2L" or "box"; whole: empty.
[[nodiscard]] const std::vector<LookRule>& looks();
[[nodiscard]] const LookRule* find_look(std::string_view code);

}  // namespace weighwright::record
