#pragma once
/// Where things are on a deck: thin index types and the labels of stands.
///
/// x runs along the deck from end 1, y is left positive when looking from end 1 to end 2.
/// Stands are stored in the order 1L, 1R, 2L, 2R, ...; sections, modules and joints from end 1.

#include <compare>
#include <optional>
#include <string>
#include <string_view>

namespace weighwright::units {

enum class Side { left = 0, right = 1 };

/// Position of a section in the deck, 0 for section 1.
struct SectionIndex {
  int value = 0;
  auto operator<=>(const SectionIndex&) const = default;
};

/// Position of a module in the deck, 0 for the module at end 1.
struct ModuleIndex {
  int value = 0;
  auto operator<=>(const ModuleIndex&) const = default;
};

/// Position of a stand in the order 1L, 1R, 2L, 2R, ...
struct StandIndex {
  int value = 0;
  auto operator<=>(const StandIndex&) const = default;

  [[nodiscard]] static constexpr StandIndex of(SectionIndex section, Side side) {
    return {2 * section.value + static_cast<int>(side)};
  }
  [[nodiscard]] constexpr SectionIndex section() const { return {value / 2}; }
  [[nodiscard]] constexpr Side side() const { return value % 2 == 0 ? Side::left : Side::right; }
};

/// "2L" for the left stand of section 2.
[[nodiscard]] std::string print(StandIndex stand);

/// "left" or "right".
[[nodiscard]] std::string_view print(Side side);

/// Reads "2L", "2R" (upper case, section from 1, no spaces); empty when it is no stand label.
[[nodiscard]] std::optional<StandIndex> parse_stand(std::string_view text);

}  // namespace weighwright::units
