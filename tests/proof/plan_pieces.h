#pragma once
/// Pieces and complete enumeration for the tests of the plan's parts. All of it is invented.

#include <functional>
#include <random>
#include <string>
#include <vector>

#include "proof/choose.h"

namespace weighwright::proof::tests {

using record::Handling;

inline PieceType type(double kg, int count, Handling handling) {
  PieceType one;
  one.kg = kg;
  one.count = count;
  one.handling = handling;
  one.ids = {{"W" + std::to_string(static_cast<int>(kg)), count}};
  return one;
}

/// Every count of every type, one after the other.
inline void for_all(const Stock& stock, const std::function<void(const Pieces&)>& look) {
  Pieces now(stock.size(), 0);
  for (;;) {
    look(now);
    std::size_t i = 0;
    while (i < now.size() && ++now[i] > stock[i].count) now[i++] = 0;
    if (i == now.size()) return;
  }
}

inline Stock random_stock(std::mt19937& random) {
  const std::vector<double> nominal{20, 50, 100, 200, 500, 1000, 2000, 5000};
  Stock stock;
  const std::size_t types = 1 + random() % 3;
  for (std::size_t i = 0; i < types; ++i) {
    stock.push_back(type(nominal[random() % nominal.size()], 1 + static_cast<int>(random() % 4),
                         static_cast<Handling>(random() % 5)));
  }
  return stock;
}

inline Pieces all_of(const Stock& stock) {
  return limits_of(stock, {});
}

}  // namespace weighwright::proof::tests
