#pragma once
/// Whether a deck can stand: shape of the description, motions that nothing stops, pulling
/// contacts.

#include <string>

#include "deck/deck.h"
#include "statics/model.h"
#include "units/diagnostic.h"

namespace weighwright::statics {

/// Faults that would make the grillages meaningless; a deck file without faults has none.
[[nodiscard]] units::Diagnostics check_shape(const deck::Deck& deck);

/// The motion that no contact hinders, in words; none when every body is held.
[[nodiscard]] units::Diagnostics check_held(const Model& model,
                                            const Eigen::MatrixXd& equilibrium,
                                            const Eigen::MatrixXd& scaling);

/// "module A tips: its right bearing on module B would have to pull 3.1 kN", with the least pull
/// that would hold it; empty when the load can be carried by pressing alone.
[[nodiscard]] std::string explain_pull(const Model& model, const Eigen::VectorXd& resultant);

}  // namespace weighwright::statics
