#include "proof/choose.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace weighwright::proof {
namespace {

constexpr int kMostNodes = 20000;
constexpr double kSlack_kg = 1e-6;       // sums of decimal weights
constexpr double kSlack_minutes = 1e-9;  // sums of minutes

/// Types in the order of branching, heaviest first, and what is left behind each.
struct Branching {
  std::vector<std::size_t> order;
  std::vector<double> left_kg;  // of order[i] and all after it
  std::vector<double> per_kg;   // least minutes of a lift over kg of these
  const Stock* stock = nullptr;
  const Pieces* limit = nullptr;

  Branching(const Stock& of, const Pieces& most) : stock(&of), limit(&most) {
    for (std::size_t i = 0; i < of.size(); ++i) {
      if (most[i] > 0) order.push_back(i);
    }
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return of[a].kg > of[b].kg; });
    left_kg.assign(order.size() + 1, 0.0);
    per_kg.assign(order.size() + 1, std::numeric_limits<double>::infinity());
    for (std::size_t i = order.size(); i-- > 0;) {
      const PieceType& type = of[order[i]];
      left_kg[i] = left_kg[i + 1] + type.kg * most[order[i]];
      per_kg[i] = std::min(per_kg[i + 1], handling_cost(type.handling).piece / type.kg);
    }
  }

  [[nodiscard]] int most_at(std::size_t depth, double kg, double most_kg) const {
    const std::size_t type = order[depth];
    const double room = std::floor((most_kg - kg + kSlack_kg) / (*stock)[type].kg);
    return std::min((*limit)[type], static_cast<int>(std::clamp(room, 0.0, 1e6)));
  }
};

class Cheapest {
 public:
  Cheapest(const Branching& branching, const LoadRange& range, double lifts)
      : branching_(branching), range_(range), lifts_(lifts), now_(branching.stock->size(), 0) {}

  std::optional<Choice> run() {
    descend(0, 0.0, 0.0, 0);
    if (!found_) return std::nullopt;
    best_.exact = nodes_ < kMostNodes;
    best_.bound = best_.exact ? best_.minutes : root_bound();
    return best_;
  }

 private:
  [[nodiscard]] double root_bound() const {
    if (range_.least_kg <= 0.0) return 0.0;
    return lifts_ * least_lift_minutes(*branching_.stock, *branching_.limit, range_.least_kg) +
           least_placement_minutes(*branching_.stock, *branching_.limit);
  }

  [[nodiscard]] bool hopeless(std::size_t depth, double kg, double minutes) const {
    if (kg + branching_.left_kg[depth] < range_.least_kg - kSlack_kg) return true;
    if (!found_) return false;
    const double lacking = std::max(0.0, range_.least_kg - kg);
    const double bound =
        minutes + (lacking > kSlack_kg ? lifts_ * lacking * branching_.per_kg[depth] : 0.0);
    if (bound > best_.minutes + kSlack_minutes) return true;
    return bound > best_.minutes - kSlack_minutes && off_ <= kSlack_kg;
  }

  void keep(double kg, double minutes) {
    const double off = std::abs(kg - range_.want_kg);
    const bool cheaper = minutes < best_.minutes - kSlack_minutes;
    if (found_ && !cheaper && (minutes > best_.minutes + kSlack_minutes || off >= off_)) return;
    found_ = true;
    off_ = off;
    best_.pieces = now_;
    best_.kg = kg;
    best_.minutes = minutes;
  }

  void descend(std::size_t depth, double kg, double minutes, Kinds kinds) {
    if (++nodes_ >= kMostNodes || hopeless(depth, kg, minutes)) return;
    if (depth == branching_.order.size()) {
      if (kg >= range_.least_kg - kSlack_kg) keep(kg, minutes);
      return;
    }
    const std::size_t type = branching_.order[depth];
    const PieceType& piece = (*branching_.stock)[type];
    const HandlingCost cost = handling_cost(piece.handling);
    const bool fresh = (kinds & bit(piece.handling)) == 0;
    for (int n = branching_.most_at(depth, kg, range_.most_kg); n >= 0; --n) {
      now_[type] = n;
      const double extra = n == 0 ? 0.0 : lifts_ * cost.piece * n + (fresh ? cost.placement : 0.0);
      descend(depth + 1, kg + piece.kg * n, minutes + extra,
              n == 0 ? kinds : kinds | bit(piece.handling));
    }
    now_[type] = 0;
  }

  const Branching& branching_;
  const LoadRange& range_;
  double lifts_;
  Pieces now_;
  Choice best_;
  double off_ = 0.0;
  bool found_ = false;
  int nodes_ = 0;
};

class Listing {
 public:
  Listing(const Branching& branching, const LoadRange& range, int most)
      : branching_(branching), range_(range), most_(most), now_(branching.stock->size(), 0) {}

  Choices run() {
    descend(0, 0.0);
    return choices_;
  }

 private:
  void descend(std::size_t depth, double kg) {
    if (kg + branching_.left_kg[depth] < range_.least_kg - kSlack_kg) return;
    if (++nodes_ >= kMostNodes || static_cast<int>(choices_.pieces.size()) >= most_) {
      choices_.complete = false;
      return;
    }
    if (depth == branching_.order.size()) {
      choices_.pieces.push_back(now_);
      return;
    }
    const std::size_t type = branching_.order[depth];
    for (int n = branching_.most_at(depth, kg, range_.most_kg); n >= 0; --n) {
      now_[type] = n;
      descend(depth + 1, kg + (*branching_.stock)[type].kg * n);
    }
    now_[type] = 0;
  }

  const Branching& branching_;
  const LoadRange& range_;
  int most_;
  Pieces now_;
  Choices choices_;
  int nodes_ = 0;
};

}  // namespace

Pieces limits_of(const Stock& stock, const Allowed& allowed) {
  Pieces limit(stock.size(), 0);
  for (std::size_t i = 0; i < stock.size(); ++i) {
    const PieceType& type = stock[i];
    const bool may = (allowed.kinds & bit(type.handling)) != 0 &&
                     (type.known || !allowed.known_only) && (type.rolls() || !allowed.rolls_only) &&
                     type.along_m <= allowed.most_along_m && type.across_m <= allowed.most_across_m;
    if (may) limit[i] = type.count;
  }
  return limit;
}

std::optional<Choice> cheapest(const Stock& stock,
                               const Pieces& limit,
                               const LoadRange& range,
                               double lifts) {
  return Cheapest(Branching(stock, limit), range, lifts).run();
}

Choices all_choices(const Stock& stock, const Pieces& limit, const LoadRange& range, int most) {
  return Listing(Branching(stock, limit), range, most).run();
}

double least_lift_minutes(const Stock& stock, const Pieces& limit, double kg) {
  std::vector<std::size_t> order;
  for (std::size_t i = 0; i < stock.size(); ++i) {
    if (limit[i] > 0) order.push_back(i);
  }
  const auto per_kg = [&](std::size_t i) {
    return handling_cost(stock[i].handling).piece / stock[i].kg;
  };
  std::sort(order.begin(), order.end(),
            [&](std::size_t a, std::size_t b) { return per_kg(a) < per_kg(b); });
  double minutes = 0.0;
  for (const std::size_t i : order) {
    if (kg <= 0.0) break;
    const double taken = std::min(kg, stock[i].kg * limit[i]);
    minutes += taken * per_kg(i);
    kg -= taken;
  }
  return minutes;
}

double least_placement_minutes(const Stock& stock, const Pieces& limit) {
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < stock.size(); ++i) {
    if (limit[i] > 0) least = std::min(least, handling_cost(stock[i].handling).placement);
  }
  return std::isinf(least) ? 0.0 : least;
}

double greatest_kg(const Stock& stock, const Pieces& limit) {
  return kg_of(stock, limit);
}

}  // namespace weighwright::proof
