#include "trim/elements.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace weighwright::trim {
namespace {

constexpr double kEqualCells_ohm = 350.0;  // where no resistance is given: only ratios matter
constexpr double kDigitalReach = 0.1;      // a factor between about 0.9 and 1.1

double ohm_or_equal(double ohm) {
  return ohm > 0.0 ? ohm : kEqualCells_ohm;
}

std::optional<TrimKind> kind_of(const std::string& trims) {
  if (trims == "signal") return TrimKind::signal;
  if (trims == "excitation") return TrimKind::excitation;
  if (trims == "digital") return TrimKind::digital;
  if (trims == "section") return TrimKind::section;
  return std::nullopt;
}

/// The boxes of the file; where it has none, one box that trims every cell in its signal lead, or
/// by a factor where the cells are digital (named in the answer as assumed).
std::vector<deck::Box> boxes_of(const deck::Deck& deck) {
  if (deck.boxes.empty())
    return {{.stands = {}, .trims = deck.is_digital() ? "digital" : "signal"}};
  std::vector<deck::Box> boxes = deck.boxes;
  // A box that names no stands has all; a stand that no box names is wired to the first.
  for (int i = 0; i < deck.stand_count() && !boxes.front().stands.empty(); ++i) {
    const bool named = std::any_of(boxes.begin(), boxes.end(), [i](const deck::Box& box) {
      return box.stands.empty() || std::find(box.stands.begin(), box.stands.end(),
                                             units::StandIndex{i}) != box.stands.end();
    });
    if (!named) boxes.front().stands.push_back(units::StandIndex{i});
  }
  return boxes;
}

class ElementMaker {
 public:
  explicit ElementMaker(const deck::Deck& deck) : deck_(&deck) {
    for (const deck::Stand& stand : deck.stands) {
      conductance_ += 1.0 / ohm_or_equal(stand.cell.output_ohm);
    }
  }

  [[nodiscard]] Element make(TrimKind kind, std::vector<int> stands, int box) const {
    Element element;
    element.kind = kind;
    element.box = box;
    element.stands = std::move(stands);
    const units::StandIndex first{element.stands.front()};
    element.place = {
        .is_section = kind == TrimKind::section, .stand = first, .section = first.section()};
    set_ohm(element);
    set_reach(element);
    set_start(element);
    set_turn(element);
    return element;
  }

 private:
  void set_ohm(Element& element) const {
    const deck::Cell& cell = deck_->stands[static_cast<std::size_t>(element.stands.front())].cell;
    if (element.kind == TrimKind::signal) {
      element.cell_ohm = ohm_or_equal(cell.output_ohm);
      element.weight = 1.0 / element.cell_ohm / conductance_;
    }
    if (element.kind == TrimKind::excitation) element.cell_ohm = ohm_or_equal(cell.input_ohm);
  }

  void set_reach(Element& element) const {
    const deck::Trimming& trimming = deck_->trimming;
    if (element.kind == TrimKind::digital) {
      element.lowest = -kDigitalReach;
      element.highest = kDigitalReach;
      return;
    }
    element.lowest = -std::numeric_limits<double>::infinity();
    if (trimming.range_ohm && element.cell_ohm > 0.0) {
      element.lowest = effect_of_ohm(element, *trimming.range_ohm);
    } else if (trimming.range_share) {
      element.lowest = -*trimming.range_share;
    }
    // Effects of resistances count from 0 ohm, whatever is believed of the box; of others from the
    // least attenuation, or from the middle where a trim goes both ways.
    element.highest = 0.0;
    if (!deck_->trimming.attenuates && !in_ohm(element)) {
      element.highest = -element.lowest / 2.0;
      element.lowest /= 2.0;
    }
  }

  [[nodiscard]] bool in_ohm(const Element& element) const {
    return element.cell_ohm > 0.0 &&
           (deck_->trimming.range_ohm.has_value() || deck_->trimming.start_ohm.has_value());
  }

  void set_start(Element& element) const {
    const deck::Trimming& trimming = deck_->trimming;
    if (element.kind == TrimKind::digital) return;
    if (trimming.start_ohm && element.cell_ohm > 0.0) {
      element.start = effect_of_ohm(element, *trimming.start_ohm);
      return;
    }
    element.start_assumed = trimming.start == deck::Trimming::Start::unknown;
    const bool least = trimming.start == deck::Trimming::Start::least ||
                       (element.start_assumed && trimming.attenuates);
    if (least) {
      if (std::isfinite(element.highest)) element.start = element.highest;
    } else if (trimming.range_ohm && element.cell_ohm > 0.0) {
      element.start = effect_of_ohm(element, *trimming.range_ohm / 2.0);
    } else if (std::isfinite(element.lowest)) {
      element.start = (element.lowest + element.highest) / 2.0;
    }
  }

  void set_turn(Element& element) const {
    const deck::Trimming& trimming = deck_->trimming;
    if (!trimming.turns || !std::isfinite(element.lowest) || element.kind == TrimKind::digital) {
      return;
    }
    element.size_per_turn = (element.highest - element.lowest) / *trimming.turns;
    if (trimming.clockwise_raises) {
      element.per_turn =
          *trimming.clockwise_raises ? *element.size_per_turn : -*element.size_per_turn;
    }
  }

  const deck::Deck* deck_;
  double conductance_ = 0.0;
};

}  // namespace

std::vector<Element> elements_of(const deck::Deck& deck) {
  const ElementMaker maker(deck);
  std::vector<Element> elements;
  int number = -1;
  for (const deck::Box& box : boxes_of(deck)) {
    ++number;
    const std::optional<TrimKind> kind = kind_of(box.trims);
    if (!kind) continue;
    std::vector<int> stands;
    for (const units::StandIndex stand : box.stands) stands.push_back(stand.value);
    for (int i = 0; box.stands.empty() && i < deck.stand_count(); ++i) stands.push_back(i);
    std::sort(stands.begin(), stands.end());
    for (std::size_t i = 0; i < stands.size(); ++i) {
      if (*kind != TrimKind::section) {
        elements.push_back(maker.make(*kind, {stands[i]}, number));
        continue;
      }
      // A section trim acts on both cells of its section, once.
      const bool pair = i + 1 < stands.size() && stands[i + 1] / 2 == stands[i] / 2;
      elements.push_back(pair ? maker.make(*kind, {stands[i], stands[i + 1]}, number)
                              : maker.make(*kind, {stands[i]}, number));
      if (pair) ++i;
    }
  }
  std::sort(elements.begin(), elements.end(),
            [](const Element& a, const Element& b) { return a.stands.front() < b.stands.front(); });
  return elements;
}

std::string print(const record::TrimPlace& place) {
  return place.is_section ? std::to_string(place.section.value + 1) : units::print(place.stand);
}

double effect_of_ohm(const Element& element, double ohm) {
  return -std::log1p(ohm / element.cell_ohm);
}

double ohm_of_effect(const Element& element, double effect) {
  return element.cell_ohm * std::expm1(-effect);
}

Eigen::VectorXd log_factors(const std::vector<Element>& elements,
                            const Eigen::VectorXd& effects,
                            int stands) {
  Eigen::VectorXd factors = Eigen::VectorXd::Zero(stands);
  double parallel = 0.0;  // sum of w (exp(e) - 1) over signal trims
  for (std::size_t k = 0; k < elements.size(); ++k) {
    const double effect = effects(static_cast<Eigen::Index>(k));
    for (const int stand : elements[k].stands) factors(stand) += effect;
    parallel += elements[k].weight * std::expm1(effect);
  }
  factors.array() -= std::log1p(parallel);
  return factors;
}

}  // namespace weighwright::trim
