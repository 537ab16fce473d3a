#include "proof/stock.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace weighwright::proof {
namespace {

PlanFinding about(const char* code, const record::Weight& weight, std::string what) {
  PlanFinding finding;
  finding.code = code;
  finding.place = weight.id;
  finding.what = weight.id + ": " + std::move(what);
  return finding;
}

double narrowest_m(const deck::Deck& deck) {
  double least = 0.0;
  for (const deck::Module& module : deck.modules) {
    least = least == 0.0 ? module.width_m : std::min(least, module.width_m);
  }
  return least;
}

/// Why a weight can't stand on this deck at all; empty when it can.
std::optional<PlanFinding> unfit(const deck::Deck& deck,
                                 const PlanRequest& request,
                                 const record::Weight& weight) {
  if (!(weight.nominal_kg > 0.0) || weight.count < 1) {
    return about("no_value", weight, "has no nominal value or no pieces");
  }
  const double length = weight.length_m.value_or(0.0);
  const double width = weight.width_m.value_or(0.0);
  PlanFinding finding;
  if (length > deck.length_m()) {
    finding = about("vehicle_too_long", weight, "is longer than the deck: it can't stand on it");
    finding.value = length;
    finding.limit = deck.length_m();
  } else if (width > narrowest_m(deck)) {
    finding = about("overhang", weight, "is wider than the deck: it would stand over its edge");
    finding.value = width;
    finding.limit = narrowest_m(deck);
  } else if (request.axle_kg && weight.axle_load_kg.value_or(0.0) > *request.axle_kg) {
    finding = about("axle_over_road", weight, "has an axle heavier than the road allows");
    finding.value = *weight.axle_load_kg;
    finding.limit = *request.axle_kg;
  } else {
    return std::nullopt;
  }
  return finding;
}

PieceType type_of(const record::Weight& weight, bool known) {
  PieceType type;
  type.handling = weight.handling;
  type.kg = type.rolls() ? weight.conventional_kg.value_or(weight.nominal_kg) : weight.nominal_kg;
  type.count = weight.count;
  type.known = known;
  type.along_m = weight.length_m.value_or(0.0);
  type.across_m = weight.width_m.value_or(0.0);
  type.axle_kg = weight.axle_load_kg.value_or(0.0);
  type.ids = {{weight.id, weight.count}};
  return type;
}

bool alike(const PieceType& a, const PieceType& b) {
  return a.kg == b.kg && a.handling == b.handling && a.known == b.known && a.along_m == b.along_m &&
         a.across_m == b.across_m && a.axle_kg == b.axle_kg;
}

void put(Stock& stock, PieceType type) {
  for (PieceType& have : stock) {
    if (!alike(have, type)) continue;
    have.count += type.count;
    have.ids.push_back(type.ids.front());
    return;
  }
  stock.push_back(std::move(type));
}

std::string words(const std::string& code) {
  if (code == "no_certificate") return "has no certificate: no standard, only a load";
  if (code == "expired") return "certificate has expired: no standard, only a load";
  if (code == "no_class_value") {
    return "has neither a certified value with its uncertainty nor a class with such a nominal "
           "value: no standard, only a load";
  }
  if (code == "uncertainty_zero") {
    return "has a certified value with an uncertainty of 0, which no certificate states: no "
           "standard, only a load";
  }
  if (code == "doubled") return "is listed twice: the second is left out";
  return "certified value is far from nominal: one of the two is mistyped; no standard until then";
}

/// A vehicle that nobody certified is no refused standard, only a load.
bool is_plain_vehicle(const record::Weight& weight) {
  return weight.handling == record::Handling::vehicle && weight.certificate.empty();
}

void tell_refused(const PlanRequest& request, std::vector<PlanFinding>& findings) {
  for (const StandardFinding& one : judge_standards(request.weights, request.day)) {
    const auto weight = std::find_if(request.weights.begin(), request.weights.end(),
                                     [&](const record::Weight& w) { return w.id == one.id; });
    if (!one.refuses || is_plain_vehicle(*weight)) continue;
    findings.push_back(about("standard_refused", *weight, words(one.code)));
  }
}

}  // namespace

HandlingCost handling_cost(record::Handling handling) {
  // A common day's work, no source: what matters is how the kinds compare.
  switch (handling) {
    case record::Handling::hand:
      return {.set_up = 5.0, .placement = 1.0, .piece = 0.5};
    case record::Handling::cart:
      return {.set_up = 30.0, .placement = 2.0, .piece = 1.5};
    case record::Handling::crane:
      return {.set_up = 40.0, .placement = 3.0, .piece = 2.5};
    case record::Handling::fork:
      return {.set_up = 15.0, .placement = 2.0, .piece = 1.5};
    case record::Handling::vehicle:
      break;
  }
  return {.set_up = 10.0, .placement = 2.0, .piece = 1.0};
}

Stocked stock_of(const deck::Deck& deck, const PlanRequest& request) {
  Stocked result;
  tell_refused(request, result.findings);
  std::vector<std::string> seen;
  for (const record::Weight& weight : request.weights) {
    if (std::find(seen.begin(), seen.end(), weight.id) != seen.end()) continue;
    seen.push_back(weight.id);
    if (auto why = unfit(deck, request, weight)) {
      result.findings.push_back(std::move(*why));
      continue;
    }
    const bool known = usable(weight, request.day);
    PieceType type = type_of(weight, known);
    if (known) result.standards_kg += type.kg * type.count;
    put(result.stock, std::move(type));
  }
  return result;
}

double kg_of(const Stock& stock, const Pieces& pieces) {
  double sum = 0.0;
  for (std::size_t i = 0; i < stock.size(); ++i) sum += stock[i].kg * pieces[i];
  return sum;
}

Kinds kinds_of(const Stock& stock, const Pieces& pieces) {
  Kinds kinds = 0;
  for (std::size_t i = 0; i < stock.size(); ++i) {
    if (pieces[i] > 0) kinds |= bit(stock[i].handling);
  }
  return kinds;
}

std::vector<Taken> taken_of(const Stock& stock, const Pieces& pieces) {
  std::vector<Taken> taken;
  for (std::size_t i = 0; i < stock.size(); ++i) {
    int left = pieces[i];
    for (const auto& [id, count] : stock[i].ids) {
      if (left <= 0) break;
      taken.push_back({id, std::min(left, count)});
      left -= count;
    }
  }
  return taken;
}

double set_up_minutes(Kinds kinds) {
  double sum = 0.0;
  for (int k = 0; k < kHandlings; ++k) {
    const auto handling = static_cast<record::Handling>(k);
    if ((kinds & bit(handling)) != 0) sum += handling_cost(handling).set_up;
  }
  return sum;
}

double placement_minutes(Kinds kinds) {
  double sum = 0.0;
  for (int k = 0; k < kHandlings; ++k) {
    const auto handling = static_cast<record::Handling>(k);
    if ((kinds & bit(handling)) != 0) sum += handling_cost(handling).placement;
  }
  return sum;
}

double lift_minutes(const Stock& stock, const Pieces& pieces) {
  double sum = 0.0;
  for (std::size_t i = 0; i < stock.size(); ++i) {
    sum += handling_cost(stock[i].handling).piece * pieces[i];
  }
  return sum;
}

Change change_of(const Stock& stock, const Pieces& from, const Pieces& to, bool moved) {
  Change change;
  for (std::size_t i = 0; i < stock.size(); ++i) {
    const bool carried = moved && !stock[i].rolls();
    const int lifted = carried ? std::max(from[i], to[i]) : std::abs(from[i] - to[i]);
    const bool rolled = moved && stock[i].rolls() && std::min(from[i], to[i]) > 0;
    if (lifted > 0 || rolled) change.kinds |= bit(stock[i].handling);
    change.minutes += handling_cost(stock[i].handling).piece * lifted;
  }
  change.minutes += placement_minutes(change.kinds);
  return change;
}

}  // namespace weighwright::proof
