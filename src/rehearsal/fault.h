#pragma once
/// What can be wrong with a practice site: the catalogue, and whether a fault fits a deck.
///
/// Places  as people write them: stand "2L"; bearing "bearing1R" (joint 1, right); end "end1";
///         module by its mark "B", a girder of it "B left"; "box".
/// Sizes   in the unit of the rule. Ranges are hand estimates, no source, around the figures that
///         stand beside each rule.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "deck/deck.h"

namespace weighwright::rehearsal {

struct Fault {
  std::string code;
  std::vector<std::string> places;  // empty: drawn
  std::optional<double> size;       // in the rule's unit; empty: drawn
};

enum class FaultAt {
  whole,
  stand,
  two_stands,
  bearing,
  end,
  module,
  girder,  // of a module, near its middle: "B left"
  stand_or_box,
  turned_stand,  // the stand that the crew turns next
};

enum class FaultOn { any, analog, digital };

struct FaultRule {
  std::string_view code;
  FaultAt at = FaultAt::whole;
  FaultOn on = FaultOn::any;
  std::string_view unit;  // of its size; empty: it has none
  double least = 0.0;     // what is drawn where no size is given
  double most = 0.0;
  double lowest = 0.0;  // what may be given
  double highest = 0.0;
  std::string_view says;
};

[[nodiscard]] const std::vector<FaultRule>& fault_rules();
[[nodiscard]] const FaultRule* find_fault_rule(std::string_view code);

/// A bearing as "bearing1R" names it.
struct BearingPlace {
  int joint = 0;
  units::Side side = units::Side::left;
};
/// A girder as "B left" names it; without a side both girders alike.
struct GirderPlace {
  int module = 0;
  std::optional<units::Side> side;
};
/// Stand of this deck.
[[nodiscard]] std::optional<units::StandIndex> stand_of(const deck::Deck& deck,
                                                        std::string_view place);
/// Bearing of a hinge of this deck.
[[nodiscard]] std::optional<BearingPlace> bearing_of(const deck::Deck& deck,
                                                     std::string_view place);
/// 0: end 1, 1: end 2.
[[nodiscard]] std::optional<int> end_of(std::string_view place);
[[nodiscard]] std::optional<GirderPlace> girder_of(const deck::Deck& deck, std::string_view place);
[[nodiscard]] std::string print(const BearingPlace& bearing);

/// What is wrong with a fault as asked for, and what would be right. Both empty: nothing.
struct FaultProblem {
  std::string what;
  std::string expected;
  [[nodiscard]] bool none() const { return what.empty(); }
};
[[nodiscard]] FaultProblem check_fault(const deck::Deck& deck, const Fault& fault);

/// Places and size filled in where they were left open; depends on the deck, the seed and the code.
/// @pre check_fault found nothing
[[nodiscard]] Fault filled_in(const deck::Deck& deck, const Fault& fault, std::uint64_t seed);

}  // namespace weighwright::rehearsal
