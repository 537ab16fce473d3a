#pragma once
/// The deck as elastic bodies on contacts that only press, condensed exactly to those contacts.
///
/// Model   Every module is a grillage: longitudinal girders (bending EI, torsion GJ) and
/// crossbeams,
///         3 freedoms a node (w, dw/dx, dw/dy), exact beam elements. Modules joined rigidly are one
///         body. Nodes stand at crossbeams, stands and bearings only (merged within 1 mm); loads
///         never make nodes (exact fixed-end forces and Hermite shapes). Stands are springs under a
///         settable height; bearings of hinged joints are rigid; both only press.
/// Unknown The contact forces F >= 0 (N), in the order of `contacts`. With E F = P (equilibrium of
///         every body) and the flexibility Phi (m/N), F is the unique minimum of
///             1/2 F' Phi F - g' F,     g = T' h - w_load,
///         where h are stand heights, T maps contacts to stands and w_load is the free elastic
///         displacement under the loads. The multiplier of F_c >= 0 is the open gap at contact c.
///         On the redundants F = F0 + N q this is a strictly convex quadratic program in q.
/// Source  Force method with unilateral contacts (Signorini): Fichera 1964; quadratic program:
///         Goldfarb & Idnani, Mathematical Programming 27 (1983) 1-33. Grillage element: Logan, A
///         First Course in the Finite Element Method, eq. (5.4.17). docs/theory/statics.md.
/// Signs   x from end 1, y left positive, up positive; stand and bearing forces compressive
/// positive;
///         gaps open positive; moments of equilibrium: about y as x * force, about x as y * force.

#include <Eigen/Core>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "deck/deck.h"
#include "units/diagnostic.h"
#include "units/place.h"

namespace weighwright::statics {

/// One place where a body presses on a stand or on its neighbour.
struct Contact {
  bool is_bearing = false;
  units::StandIndex stand;  // when !is_bearing
  int joint = -1;           // when is_bearing; also the joint of a shared stand
  units::Side side = units::Side::left;
  double x_m = 0.0;
  double y_m = 0.0;
  int above = 0;   // body that presses down
  int below = -1;  // body that carries it, -1: the ground
};

/// A free rigid-body motion group: modules joined rigidly.
struct Body {
  int first_module = 0;
  int last_module = 0;
};

/// Scale factors of what a drawing does not tell, per body: 1 = as described in the deck.
/// The left-right antisymmetric flexibility is divided by `twist`, the symmetric one by `bend`
/// (by the congruence D' Phi D, D = P_sym / sqrt(bend) + P_anti / sqrt(twist), which keeps it
/// positive semidefinite on any deck).
struct Scales {
  Eigen::VectorXd twist;  // size bodies
  Eigen::VectorXd bend;   // size bodies
};

/// Loads on the deck, condensed.
struct LoadCase {
  Eigen::VectorXd resultant;       // 3 per body: sum of forces down (N), x-moment, y-moment (N m)
  Eigen::VectorXd free_m;          // per contact: relative displacement (above - below) of the
                                   // elastic bodies under the load with no contact force, up
                                   // positive, at scales of 1: the row sums of free_of_body_m
  Eigen::MatrixXd free_of_body_m;  // m x b: the part of each body, so that scales can act on it
};

/// A vertical point load on the deck.
struct PointLoad {
  double x_m = 0.0;      // from end 1; on a joint line it counts on the module nearer end 1
  double y_m = 0.0;      // left positive
  double force_N = 0.0;  // down positive
};

/// A deck condensed to its contacts. m contacts, b bodies, s stands, r redundants.
struct Model {
  // Stands first in stand order (a shared stand: one contact of each module, neighbours), then
  // bearings by joint, left, right.
  std::vector<Contact> contacts;
  std::vector<Body> bodies;
  // Per joint: the module that rests on the other (hinges).
  std::vector<units::ModuleIndex> resting;
  // E: 3b x m, E F = resultant.
  Eigen::MatrixXd equilibrium;
  // T: s x m, stand force = T F.
  Eigen::MatrixXd stand_of_contact;
  // m x m, T' diag(1/k) T.
  Eigen::MatrixXd stand_flexibility;
  // Per body, m x m each: P_anti' Phi_b P_anti, P_sym' Phi_b P_sym, and the mixed part (0 on a
  // symmetric body); their sum is Phi_b.
  std::vector<Eigen::MatrixXd> twist_flexibility;
  std::vector<Eigen::MatrixXd> bend_flexibility;
  std::vector<Eigen::MatrixXd> cross_flexibility;
  // N: m x r, E N = 0, columns orthonormal over the stand forces ((TN)'(TN) = I), so that q is read
  // from stands. A redundant that no stand feels comes last, with unit length in F.
  Eigen::MatrixXd redundants;
  // E^+: m x 3b, F0 = E^+ resultant carries any load.
  Eigen::MatrixXd particular;
  // Weight of the deck as described.
  LoadCase dead;
  // Per module: 1 N spread over the module's area, centre at mid-length.
  std::vector<LoadCase> unit_weight;
  // Per module: 1 N m about y (x * force), linear along, no resultant. A weight W with its centre e
  // off mid-length is W unit_weight + W e unit_pitch.
  std::vector<LoadCase> unit_pitch;
  // Per module: 1 N m about x (y * force), even along: centre e to the left is W e unit_roll.
  std::vector<LoadCase> unit_roll;
  // s, infinite for a stand that does not yield.
  Eigen::VectorXd stand_stiffness_N_per_m;
  // What the grillages need to answer for loads and surfaces later; opaque here.
  struct Grillages;
  std::shared_ptr<const Grillages> grillages;

  [[nodiscard]] int contact_count() const { return static_cast<int>(contacts.size()); }
  [[nodiscard]] int redundant_count() const { return static_cast<int>(redundants.cols()); }
};

struct BuiltModel {
  std::optional<Model> model;          // empty when the deck can not stand
  units::Diagnostics faults;           // mechanism, bearing or stand that would have to pull, ...
  std::vector<deck::Assumed> assumed;  // "joint A-B.rests" found by statics, ...
};

/// Condenses a deck. A mechanism, or a deck that stands only if something pulls under its dead
/// load, is refused with the reason ("module A tips: its right bearing would have to pull 3.1 kN").
/// @pre deck comes from parse_deck without faults, or satisfies the same conditions
[[nodiscard]] BuiltModel build_model(const deck::Deck& deck);

/// Point loads to a load case; empty and a reason when one is off the deck.
struct BuiltLoad {
  std::optional<LoadCase> load;
  std::string what;
};
[[nodiscard]] BuiltLoad point_loads(const Model& model, const std::vector<PointLoad>& loads);

/// Scales of 1.
[[nodiscard]] Scales nominal(const Model& model);

/// Phi of all bodies and stands at the given scales, m x m (m/N).
/// @throws std::invalid_argument when a scale is missing, not finite or not positive
[[nodiscard]] Eigen::MatrixXd flexibility(const Model& model, const Scales& scales);

/// Free displacement of a load case at the given scales, m (m): per body the left-right symmetric
/// part over `bend` and the antisymmetric part over `twist`; free_m at scales of 1.
/// @throws std::invalid_argument when sizes do not fit
[[nodiscard]] Eigen::VectorXd free_displacement(const Model& model,
                                                const LoadCase& load,
                                                const Scales& scales);

/// "2L" of a stand (with " of module B" where two modules share it), "bearing A-B right" of a
/// bearing.
[[nodiscard]] std::string print_contact(const Model& model, int contact);

}  // namespace weighwright::statics
