#pragma once
/// Random decks for the property tests: every kind of joint, 1 to 12 modules.

#include <random>

#include "statics/decks.h"

namespace weighwright::statics::tests {

enum class Kind { hinged, one_piece, shared, mixed };

class RandomDeck {
 public:
  explicit RandomDeck(std::uint64_t seed) : random_(seed) {}

  double between(double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random_);
  }
  int whole(int low, int high) { return std::uniform_int_distribution<int>(low, high)(random_); }
  bool coin() { return whole(0, 1) == 1; }

  /// Heights of the stands, m.
  std::vector<double> heights(int stands, double spread_m) {
    std::vector<double> list;
    for (int i = 0; i < stands; ++i) list.push_back(between(-spread_m, spread_m));
    return list;
  }

  deck::Deck make(Kind kind, int modules) {
    deck::Deck deck;
    across_ = between(1.8, 2.6);
    for (int i = 0; i < modules; ++i) deck.modules.push_back(module(i));
    if (kind == Kind::one_piece) {
      single(deck);
    } else if (kind == Kind::shared) {
      shared(deck);
    } else {
      hinged(deck, kind == Kind::mixed);
    }
    return deck;
  }

 private:
  deck::Module module(int index) {
    deck::Module m;
    m.mark = std::string(1, static_cast<char>('A' + index));
    m.length_m = between(4.0, 9.0);
    m.width_m = 3.0;
    m.mass_kg = between(3000.0, 9000.0);
    m.centre_m = 0.5 * m.length_m;
    m.bending_Nm2 = between(100e6, 400e6);
    m.twisting_Nm2 = std::pow(10.0, between(6.0, 8.5));
    m.crossbeams = whole(2, 7);
    if (coin()) {
      m.crossbeam_bending_Nm2 = between(10e6, 80e6);
      m.crossbeam_twisting_Nm2 = between(0.1e6, 2e6);
    }
    m.girders_m = {0.5 * across_, -0.5 * across_};
    if (coin()) m.girders_m.push_back(0.0);
    return m;
  }

  void section(deck::Deck& deck, double at_m, int module) {
    const double across = whole(0, 2) == 0 ? between(1.6, 2.8) : across_;
    add_section(deck, at_m, module, across, 200e6);
    for (std::size_t i = deck.stands.size() - 2; i < deck.stands.size(); ++i) {
      deck.stands[i].foundation_N_per_m = between(100e6, 600e6);
    }
  }

  // A starter module on two sections, every other one on one section and its neighbour nearer the
  // starter.
  void hinged(deck::Deck& deck, bool some_rigid) {
    const int n = static_cast<int>(deck.modules.size());
    const int starter = whole(0, n - 1);
    for (int i = 0; i + 1 < n; ++i) {
      deck.joints.push_back(hinge(i < starter ? i : i + 1, coin() ? across_ : between(1.2, 2.4)));
      if (some_rigid && coin()) deck.joints.back().kind = deck::JointKind::rigid;
    }
    for (int i = 0; i < n; ++i) {
      const double start = deck.start_m(units::ModuleIndex{i});
      const double end = start + deck.modules[static_cast<std::size_t>(i)].length_m;
      if (i <= starter) section(deck, start + between(0.0, 0.8), i);
      if (i >= starter) section(deck, end - between(0.0, 0.8), i);
    }
  }

  void single(deck::Deck& deck) {
    for (std::size_t i = 1; i < deck.modules.size(); ++i) {
      deck.joints.emplace_back();
      deck.joints.back().kind = deck::JointKind::rigid;
    }
    for (int i = 0; i < static_cast<int>(deck.modules.size()); ++i) {
      section(deck, deck.start_m(units::ModuleIndex{i}) + between(0.1, 0.8), i);
    }
    const int last = static_cast<int>(deck.modules.size()) - 1;
    section(deck, deck.length_m() - between(0.1, 0.8), last);
  }

  void shared(deck::Deck& deck) {
    section(deck, 0.2, 0);
    for (int i = 0; i + 1 < static_cast<int>(deck.modules.size()); ++i) {
      deck.joints.emplace_back();
      deck.joints.back().kind = deck::JointKind::shared_stand;
      section(deck, deck.joint_m(i), i);
    }
    section(deck, deck.length_m(), static_cast<int>(deck.modules.size()) - 1);
  }

  std::mt19937_64 random_;
  double across_ = 2.4;
};

}  // namespace weighwright::statics::tests
