/// Laws that hold on any deck: equilibrium, symmetry, invariants, mirror, superposition, contact.
///
/// Sources: statics of rigid bodies; Maxwell-Betti reciprocity; conditions of Karush, Kuhn and
/// Tucker for the contact problem; redundancy and invariants of hinged chains as derived in
/// docs/theory/statics.md. Random decks by seed; a failure prints the seed.

#include <rapidcheck.h>

#include <Eigen/SVD>
#include <cmath>
#include <cstdlib>
#include <functional>

#include "statics/fixture.h"
#include "statics/random_decks.h"
#include "statics/surface.h"

namespace weighwright::statics::tests {
namespace {

Eigen::VectorXd to_vector(const std::vector<double>& v) {
  return Eigen::Map<const Eigen::VectorXd>(v.data(), static_cast<Eigen::Index>(v.size()));
}

struct Case {
  deck::Deck deck;
  Model model;
  Eigen::VectorXd heights;
};

Case make_case(std::uint64_t seed, Kind kind, int most_modules, double spread_m) {
  RandomDeck random(seed);
  const int modules = random.whole(1, most_modules);
  Case c{random.make(kind, modules), {}, {}};
  const BuiltModel result = build_model(c.deck);
  for (const units::Diagnostic& fault : result.faults) RC_FAIL(fault.what);
  c.model = *result.model;
  c.heights = to_vector(random.heights(c.deck.stand_count(), spread_m));
  return c;
}

double weight_of(const deck::Deck& deck) {
  double mass = 0.0;
  for (const deck::Module& module : deck.modules) mass += module.mass_kg;
  return mass * deck.site.gravity_m_per_s2;
}

Kind kind_of(std::uint64_t seed) {
  return static_cast<Kind>(seed % 4);
}

// The same cases at every run; RC_PARAMS from outside decides otherwise.
const int fixed_seed = setenv("RC_PARAMS", "seed=20240611", 0);

void check(const std::function<void(std::uint64_t)>& law) {
  static_cast<void>(fixed_seed);
  const auto result = rc::check([&] { law(*rc::gen::arbitrary<std::uint64_t>()); });
  EXPECT_TRUE(result);
}

// Equilibrium, F >= 0, gap >= 0, F gap = 0, and compatibility up to rigid motion.
void expect_contact_conditions(const Case& c, const ContactState& state) {
  const double weight = weight_of(c.deck);
  RC_ASSERT(state.status == ContactStatus::solved);
  RC_ASSERT(state.contact_N.minCoeff() >= 0.0);
  RC_ASSERT(state.gap_m.minCoeff() >= 0.0);
  RC_ASSERT(state.contact_N.cwiseProduct(state.gap_m).cwiseAbs().maxCoeff() == 0.0);
  const Eigen::VectorXd misfit = c.model.equilibrium * state.contact_N - c.model.dead.resultant;
  RC_ASSERT(misfit.cwiseAbs().maxCoeff() <= 1e-9 * weight * c.deck.length_m());
  const Eigen::MatrixXd phi = flexibility(c.model, nominal(c.model));
  const Eigen::VectorXd drive =
      c.model.stand_of_contact.transpose() * c.heights - c.model.dead.free_m;
  const Eigen::VectorXd gap =
      c.model.redundants.transpose() * (phi * state.contact_N - drive - state.gap_m);
  const double scale =
      (phi * state.contact_N).cwiseAbs().maxCoeff() + drive.norm() + state.gap_m.norm();
  RC_ASSERT(gap.cwiseAbs().maxCoeff() <= 1e-9 * scale);
}

TEST(ContactConditions, HoldOnTenThousandRandomDecks) {
  int opened = 0;
  for (std::uint64_t seed = 1; seed <= 10000; ++seed) {
    const int most = seed % 20 == 0 ? 12 : 4;
    const Case c = make_case(seed, kind_of(seed), most, seed % 3 == 0 ? 20e-3 : 5e-3);
    const ContactState state = at_heights(c.model, c.heights);
    try {
      expect_contact_conditions(c, state);
    } catch (const std::exception& failed) {
      FAIL() << "seed " << seed << ": " << failed.what();
    }
    opened += state.open.empty() ? 0 : 1;
  }
  EXPECT_GT(opened, 3000);  // the hard cases are among them
}

TEST(Reactions, SumToTheLoadAndBalanceItsMoments) {
  check([](std::uint64_t seed) {
    const Case c = make_case(seed, kind_of(seed), 12, 5e-3);
    const ContactState state = at_heights(c.model, c.heights);
    double force = 0.0;
    double along = 0.0;
    double across = 0.0;
    for (int i = 0; i < c.deck.stand_count(); ++i) {
      const double f = state.stand_N(i);
      force += f;
      along += f * c.deck.sections[static_cast<std::size_t>(i / 2)].at_m;
      across += f * c.deck.stand_y_m(units::StandIndex{i});
    }
    double moment = 0.0;
    for (int m = 0; m < static_cast<int>(c.deck.modules.size()); ++m) {
      const deck::Module& module = c.deck.modules[static_cast<std::size_t>(m)];
      moment +=
          module.mass_kg * kGravity * (c.deck.start_m(units::ModuleIndex{m}) + module.centre_m);
    }
    const double weight = weight_of(c.deck);
    RC_ASSERT(std::abs(force - weight) <= 1e-10 * weight);
    RC_ASSERT(std::abs(along - moment) <= 1e-10 * weight * c.deck.length_m());
    RC_ASSERT(std::abs(across) <= 1e-10 * weight);
  });
}

TEST(Influence, IsSymmetricWithRowsAndColumnsThatSumToZero) {
  check([](std::uint64_t seed) {
    const Case c = make_case(seed, kind_of(seed), 12, 5e-3);
    const ContactState state = at_heights(c.model, c.heights);
    const Eigen::MatrixXd k = influence(c.model, state, nominal(c.model));
    const double largest = std::max(1.0, k.cwiseAbs().maxCoeff());
    RC_ASSERT((k - k.transpose()).cwiseAbs().maxCoeff() <= 1e-12 * largest);
    RC_ASSERT(k.rowwise().sum().cwiseAbs().maxCoeff() <= 1e-9 * largest);
    // A rise along a straight line moves nothing either, nor does a common roll.
    Eigen::VectorXd x(k.rows());
    Eigen::VectorXd y(k.rows());
    for (int i = 0; i < c.deck.stand_count(); ++i) {
      x(i) = c.deck.sections[static_cast<std::size_t>(i / 2)].at_m / c.deck.length_m();
      y(i) = c.deck.stand_y_m(units::StandIndex{i});
    }
    RC_ASSERT((k * x).cwiseAbs().maxCoeff() <= 1e-9 * largest);
    RC_ASSERT((k * y).cwiseAbs().maxCoeff() <= 1e-9 * largest);
  });
}

TEST(Influence, IsTheChangeOfForcesWithHeights) {
  check([](std::uint64_t seed) {
    const Case c = make_case(seed, kind_of(seed), 6, 5e-3);
    const ContactState state = at_heights(c.model, c.heights);
    const Eigen::MatrixXd k = influence(c.model, state, nominal(c.model));
    RandomDeck random(seed + 1);
    const Eigen::VectorXd step = to_vector(random.heights(c.deck.stand_count(), 1e-6));
    const ContactState moved = at_heights(c.model, c.heights + step);
    RC_PRE(moved.open == state.open);
    RC_ASSERT((moved.stand_N - state.stand_N - k * step).cwiseAbs().maxCoeff() <=
              1e-9 * weight_of(c.deck));
  });
}

TEST(HingedChain, HasOneRedundantAndOneRankAModule) {
  check([](std::uint64_t seed) {
    const Case c = make_case(seed, Kind::hinged, 12, 0.0);
    const auto modules = static_cast<Eigen::Index>(c.deck.modules.size());
    RC_ASSERT(c.model.redundants.cols() == modules);
    const ContactState state = at_heights(c.model, c.heights);
    RC_PRE(state.open.empty());
    const Eigen::JacobiSVD<Eigen::MatrixXd> svd(influence(c.model, state, nominal(c.model)));
    const double largest = svd.singularValues()(0);
    RC_ASSERT(svd.singularValues()(modules - 1) > 1e-7 * largest);
    RC_ASSERT(svd.singularValues()(modules) <= 1e-10 * largest);
  });
}

TEST(HingedChain, KeepsItsSectionSumsUnderAnyTurnsWhileEverythingPresses) {
  check([](std::uint64_t seed) {
    const Case c = make_case(seed, Kind::hinged, 12, 0.0);
    const ContactState rest = at_heights(c.model, c.heights);
    RandomDeck random(seed + 1);
    const ContactState moved =
        at_heights(c.model, to_vector(random.heights(c.deck.stand_count(), 1e-3)));
    RC_PRE(rest.open.empty() && moved.open.empty());
    const Eigen::VectorXd sums = section_sums(rest.stand_N);
    RC_ASSERT((section_sums(moved.stand_N) - sums).cwiseAbs().maxCoeff() <=
              1e-12 * sums.maxCoeff());
  });
}

TEST(HingedChain, KeepsItsSectionSumsEvenWhenBearingsHang) {
  // With one bearing of a joint open the other carries what both did: sums stay determinate.
  check([](std::uint64_t seed) {
    const Case c = make_case(seed, Kind::hinged, 12, 20e-3);
    const ContactState moved = at_heights(c.model, c.heights);
    const ContactState rest = at_heights(c.model, Eigen::VectorXd::Zero(c.deck.stand_count()));
    const Eigen::VectorXd sums = section_sums(rest.stand_N);
    RC_ASSERT((section_sums(moved.stand_N) - sums).cwiseAbs().maxCoeff() <= 1e-9 * sums.sum());
  });
}

TEST(HingedChain, HasZigZagParityWhateverItsMasses) {
  // Every module pitches about its own middle, alternately: weights at mid-length do no work, so
  // sum of (-1)^k (1 - 2 a_k / L_k) S_k = 0.
  check([](std::uint64_t seed) {
    const Case c = make_case(seed, Kind::hinged, 12, 5e-3);
    const Eigen::VectorXd sums = section_sums(at_heights(c.model, c.heights).stand_N);
    double parity = 0.0;
    double sign = 1.0;
    for (std::size_t k = 0; k < c.deck.sections.size(); ++k) {
      const deck::Section& section = c.deck.sections[k];
      const double length = c.deck.modules[static_cast<std::size_t>(section.module.value)].length_m;
      const double from_start = section.at_m - c.deck.start_m(section.module);
      const double set_in = std::min(from_start, length - from_start);
      parity += sign * (1.0 - 2.0 * set_in / length) * sums(static_cast<Eigen::Index>(k));
      sign = -sign;
    }
    RC_ASSERT(std::abs(parity) <= 1e-10 * weight_of(c.deck));
  });
}

TEST(HingedChain, MovesNoLoadWhenBothStandsOfASectionRiseOrAllRollAlike) {
  check([](std::uint64_t seed) {
    const Case c = make_case(seed, Kind::hinged, 12, 2e-3);
    RandomDeck random(seed + 1);
    Eigen::VectorXd heights = c.heights;
    const double roll = random.between(-2e-3, 2e-3);
    for (Eigen::Index k = 0; k < heights.size() / 2; ++k) {
      const double rise = random.between(-10e-3, 10e-3);
      const double half = 0.5 * roll * c.deck.sections[static_cast<std::size_t>(k)].across_m;
      heights(2 * k) += rise + half;
      heights(2 * k + 1) += rise - half;
    }
    const ContactState before = at_heights(c.model, c.heights);
    const ContactState after = at_heights(c.model, heights);
    RC_ASSERT((after.stand_N - before.stand_N).cwiseAbs().maxCoeff() <= 1e-8 * weight_of(c.deck));
  });
}

deck::Deck mirrored(deck::Deck deck) {
  for (std::size_t i = 0; i < deck.stands.size(); i += 2) {
    std::swap(deck.stands[i], deck.stands[i + 1]);
  }
  for (deck::Module& module : deck.modules) {
    for (double& y : module.girders_m) y = -y;
  }
  return deck;
}

TEST(MirroredDeck, GivesTheMirroredAnswer) {
  check([](std::uint64_t seed) {
    Case c = make_case(seed, kind_of(seed), 6, 5e-3);
    RandomDeck random(seed + 1);
    for (deck::Module& module : c.deck.modules) module.girders_m.back() += random.between(0.0, 0.1);
    const BuiltModel here = build_model(c.deck);
    const BuiltModel there = build_model(mirrored(c.deck));
    RC_ASSERT(here.model.has_value() && there.model.has_value());
    Eigen::VectorXd swapped = c.heights;
    for (Eigen::Index i = 0; i < swapped.size(); i += 2) std::swap(swapped(i), swapped(i + 1));
    const Eigen::VectorXd a = at_heights(*here.model, c.heights).stand_N;
    Eigen::VectorXd b = at_heights(*there.model, swapped).stand_N;
    for (Eigen::Index i = 0; i < b.size(); i += 2) std::swap(b(i), b(i + 1));
    RC_ASSERT((a - b).cwiseAbs().maxCoeff() <= 1e-8 * weight_of(c.deck));
  });
}

TEST(PointLoad, IsSharedAsTheInfluenceSurfaceSaysWhileNothingLifts) {
  // Reciprocity against the direct solve, on any deck and at any scales.
  check([](std::uint64_t seed) {
    const Case c = make_case(seed, kind_of(seed), 6, 2e-3);
    RandomDeck random(seed + 1);
    Scales scales = nominal(c.model);
    for (Eigen::Index b = 0; b < scales.twist.size(); ++b) {
      scales.twist(b) = random.between(0.3, 3.0);
      scales.bend(b) = random.between(0.5, 2.0);
    }
    const PointLoad load{random.between(0.0, c.deck.length_m()), random.between(-1.5, 1.5), 2000.0};
    const BuiltLoad built_load = point_loads(c.model, {load});
    RC_ASSERT(built_load.load.has_value());
    const ContactState before = solve_contact(c.model, c.model.dead, c.heights, scales);
    const ContactState after =
        solve_contact(c.model, add(c.model.dead, *built_load.load), c.heights, scales);
    RC_PRE(after.status == ContactStatus::solved && before.open == after.open);
    const Eigen::MatrixXd share = influence_surface(c.model, before, scales, {load});
    RC_ASSERT(std::abs(share.sum() - 1.0) <= 1e-9);
    RC_ASSERT((after.stand_N - before.stand_N - load.force_N * share.row(0).transpose())
                  .cwiseAbs()
                  .maxCoeff() <= 1e-9 * weight_of(c.deck));
  });
}

TEST(Loads, SuperposeWhileNothingLifts) {
  check([](std::uint64_t seed) {
    const Case c = make_case(seed, kind_of(seed), 6, 1e-3);
    RandomDeck random(seed + 1);
    const auto truck = [&] {
      return *point_loads(c.model, axle_group(random.between(0.0, c.deck.length_m()), 0.0, {0.0},
                                              {3000.0}, 1.8))
                  .load;
    };
    const LoadCase one = truck();
    const LoadCase two = truck();
    const auto forces = [&](const LoadCase& load) {
      return solve_contact(c.model, add(c.model.dead, load), c.heights, nominal(c.model));
    };
    const ContactState none = forces(scale(one, 0.0));
    const ContactState a = forces(one);
    const ContactState b = forces(two);
    const ContactState both = forces(add(one, two));
    RC_PRE(none.open == a.open && a.open == b.open && b.open == both.open);
    RC_ASSERT((both.stand_N - a.stand_N - b.stand_N + none.stand_N).cwiseAbs().maxCoeff() <=
              1e-9 * weight_of(c.deck));
  });
}

TEST(Redundants, AreSelfStressesReadFromTheStands) {
  check([](std::uint64_t seed) {
    const Case c = make_case(seed, kind_of(seed), 12, 0.0);
    const Eigen::MatrixXd& n = c.model.redundants;
    RC_ASSERT((c.model.equilibrium * n).cwiseAbs().maxCoeff() <= 1e-12 * 200.0);
    if (kind_of(seed) == Kind::shared) return;  // two modules on a stand push through it unseen
    const Eigen::MatrixXd at_stands = c.model.stand_of_contact * n;
    RC_ASSERT((at_stands.transpose() * at_stands - Eigen::MatrixXd::Identity(n.cols(), n.cols()))
                  .cwiseAbs()
                  .maxCoeff() <= 1e-12);
  });
}

TEST(Flexibility, IsPositiveSemidefiniteAtAnyScales) {
  check([](std::uint64_t seed) {
    const Case c = make_case(seed, kind_of(seed), 6, 0.0);
    RandomDeck random(seed + 1);
    Scales scales = nominal(c.model);
    for (Eigen::Index b = 0; b < scales.twist.size(); ++b) {
      scales.twist(b) = std::pow(10.0, random.between(-2.0, 2.0));
    }
    const Eigen::MatrixXd phi = flexibility(c.model, scales);
    const Eigen::JacobiSVD<Eigen::MatrixXd> svd(phi, Eigen::ComputeFullU | Eigen::ComputeFullV);
    // Symmetric: singular vectors agree in sign where the eigenvalue is positive.
    for (Eigen::Index i = 0; i < phi.rows(); ++i) {
      if (svd.singularValues()(i) <= 1e-10 * svd.singularValues()(0)) continue;
      RC_ASSERT(svd.matrixU().col(i).dot(phi * svd.matrixU().col(i)) > 0.0);
    }
  });
}

}  // namespace
}  // namespace weighwright::statics::tests
