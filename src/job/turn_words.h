#pragma once
/// A turn in the words of the trade: which screws, which way seen from above, how far, in rounds.

#include <string>

#include "deck/deck.h"

namespace weighwright::job {

/// "all four screws", "both screws", "the screw".
[[nodiscard]] std::string screws_of(const deck::Stand& stand);

/// "clockwise" or "counterclockwise" seen from above, by the kind of screw; empty when it is
/// unknown. A jack screw through the plate raises clockwise, a nut under the plate lowers clockwise
/// (right-hand threads).
[[nodiscard]] std::string direction_of(const deck::Stand& stand, bool raises);

/// "1/4 turn each in rotation, three rounds"; what does not divide comes last: ", then 1/8 turn
/// each". A plate stands on several screws: small steps in rotation keep it level and share its
/// load.
[[nodiscard]] std::string rounds_of(double turns, int division, int screws);

/// "up 3/4", "down 1 1/2": for a plan.
[[nodiscard]] std::string short_turn(double turns, int division);

/// "three" up to twelve, then figures.
[[nodiscard]] std::string number_word(int number);

/// "1 turn", "3/4 turn", "1 1/2 turns".
[[nodiscard]] std::string turns_word(double turns, int division);

}  // namespace weighwright::job
