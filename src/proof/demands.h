#pragma once
/// What the rulebook asks for on this scale, place by place, before it is known what makes the
/// loads.

#include <string>
#include <vector>

#include "proof/choose.h"
#include "proof/test_plan.h"

namespace weighwright::proof {

/// One placement to make, with the loads that do.
struct Demand {
  rules::Check check = rules::Check::zero;
  int run = 1;
  record::LoadPlace place;
  record::Heading heading = record::Heading::none;
  LoadRange range;
  Allowed allowed;         // kinds are left open
  bool any_lorry = false;  // a lorry of unknown mass does, which any site has
  bool required = true;
  rules::Source source;
  std::string because;
};

/// Placements of one test. Each is made from the empty deck, unless `walks`: then the load goes
/// from one to the next in any order.
struct DemandGroup {
  std::vector<Demand> demands;
  bool walks = false;
};

struct Demands {
  std::vector<DemandGroup> places;         // sections, supports, rolling
  std::vector<DemandGroup> repeatability;  // before the build-up where substitutes are used
  std::vector<DemandGroup> extras;
  std::vector<PlanFinding> findings;
};

[[nodiscard]] Demands demands_of(const deck::Deck& deck,
                                 const rules::Rulebook& rulebook,
                                 const rules::Scale& scale,
                                 const PlanRequest& request,
                                 const Stock& stock);

}  // namespace weighwright::proof
