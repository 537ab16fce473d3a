#include "proof/missing.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <set>

#include "proof/increasing_loads.h"
#include "proof/judged_lines.h"
#include "proof/missing_places.h"
#include "proof/ranges.h"
#include "units/quantity.h"

namespace weighwright::proof {
namespace {

using rules::Check;

constexpr double kNear = 0.1;           // of a wanted load
constexpr double kSameDown = 0.02;      // of a load that is to be weighed going down as well
constexpr double kNearGreatest = 0.02;  // below the greatest load that is wanted
constexpr double kSmall_of_Max = 0.05;
constexpr double kAbout = 0.25;  // of a load that is only weighed several times: a lorry will do
constexpr double kSlack = 1e-9;

bool is_near(double load_kg, double wanted_kg) {
  return std::abs(load_kg - wanted_kg) <= kNear * wanted_kg * (1.0 + kSlack);
}

class Wants {
 public:
  Wants(const Evidence& evidence, const Verdict& judged) : evidence_(evidence), judged_(judged) {}

  std::vector<Missing> find(const std::vector<int>& no_zero_after) {
    for (const rules::TestRule& test : evidence_.rulebook.tests) {
      if (test.required) want(test);
    }
    want_zero_after(no_zero_after);
    want_standards();
    return std::move(missing_);
  }

 private:
  void miss(Check check,
            const char* code,
            double load_kg,
            const rules::Source& source,
            std::string where = "") {
    missing_.push_back({.check = check,
                        .code = code,
                        .where = std::move(where),
                        .load_kg = load_kg,
                        .source = source});
  }

  [[nodiscard]] std::vector<const JudgedLine*> lines(Check check) const {
    std::vector<const JudgedLine*> list;
    for (const JudgedLine& line : judged_.lines) {
      if (line.check == check && counts_as_made(line)) list.push_back(&line);
    }
    return list;
  }

  [[nodiscard]] bool made(Check check) const {
    if (check == Check::discrimination) return !judged_.steps.empty();
    if (check == Check::repeatability) return !same_loads(evidence_, check).empty();
    if (check == Check::zero) return zero_was_read();
    // A vehicle of unknown mass is compared with itself; it stands in for no other test.
    if (check == Check::rolling && is_required(check) && !same_loads(evidence_, check).empty())
      return true;
    return !lines(check).empty();
  }

  [[nodiscard]] bool zero_was_read() const {
    return std::any_of(evidence_.rows.begin(), evidence_.rows.end(),
                       [](const Row& row) { return row.fresh && row.usable && row.empty_deck; });
  }

  [[nodiscard]] bool is_required(Check check) const {
    const rules::TestRule* const test = evidence_.rulebook.find_test(check);
    return test != nullptr && test->required;
  }

  void want(const rules::TestRule& test) {
    if (made(test.check)) return details(test.check, test.source);
    for (const rules::TestRule& other : evidence_.rulebook.tests) {
      if (other.instead_of == rules::code_of(test.check) && made(other.check)) {
        return details(other.check, other.source);
      }
    }
    miss(test.check, test.check == Check::zero ? "zero" : "test", 0.0, test.source);
  }

  void details(Check check, const rules::Source& source) {
    switch (check) {
      case Check::eccentric:
        return places(missing_supports(evidence_, lines(check)), check, source);
      case Check::section:
        return places(missing_sections(evidence_, lines(check)), check, source);
      case Check::rolling:
        return places(missing_passes(evidence_, lines(check), is_required(check)), check, source);
      case Check::increasing:
        return increasing(source);
      case Check::decreasing:
        return decreasing(source);
      case Check::repeatability:
        return repeats(source);
      case Check::discrimination:
        return discrimination(source);
      default:
        return;
    }
  }

  void places(const std::vector<WantedPlace>& wanted, Check check, const rules::Source& source) {
    for (const WantedPlace& place : wanted) {
      miss(check, place.read ? "load" : "place", place.load_kg, source, place.where);
    }
  }

  /// Greatest load that was weighed, with what lay beneath the known load of a strain test.
  /// A rulebook that knows no strain test has no use for what was weighed by one.
  [[nodiscard]] double greatest() const {
    double most = 0.0;
    const bool strain = evidence_.rulebook.find_test(Check::strain) != nullptr;
    for (const Row& row : evidence_.rows) {
      if (!row.fresh || !row.usable || !row.load || row.empty_deck) continue;
      if (row.check == Check::increasing) most = std::max(most, row.load->kg);
      if (row.check == Check::strain && strain) {
        most = std::max(most, row.load->kg + row.reading->start_kg.value_or(0.0));
      }
    }
    return most;
  }

  [[nodiscard]] rules::Amount amount() const {
    return rules::least_standards(evidence_.rulebook, evidence_.scale,
                                  evidence_.repeats.sure_range_kg);
  }

  /// The greatest increasing load whose value is known.
  [[nodiscard]] double greatest_known(const std::vector<const JudgedLine*>& list) const {
    double most = 0.0;
    for (const JudgedLine* line : list) {
      if (!line->by_strain) most = std::max(most, line->load_kg);
    }
    return most;
  }

  void increasing(const rules::Source& source) {
    const std::vector<const JudgedLine*> list = lines(Check::increasing);
    const rules::Amount asked = amount();
    const double top = asked.load_kg > 0.0 ? asked.load_kg : evidence_.scale.capacity_kg;
    // A strain test takes over above the weights: no step is asked for that they can't make.
    const bool strained = asked.load_kg > 0.0 && !lines(Check::strain).empty();
    const double known = greatest_known(list);
    const double known_to = strained ? known : std::max(known, top);
    for (const IncreasingLoad& load :
         increasing_loads(evidence_.rulebook, evidence_.scale, evidence_.what.occasion, known_to)) {
      if (load.kind == IncreasingLoad::Kind::greatest) continue;
      const bool there = std::any_of(list.begin(), list.end(), [&](const auto* line) {
        return load.is_met_by(line->load_kg);
      });
      if (!there) miss(Check::increasing, "load", load.kg, source);
    }
    if (greatest() < (1.0 - kNearGreatest) * top * (1.0 - kSlack)) {
      miss(Check::increasing, "load", top, asked.load_kg > 0.0 ? asked.source : source);
    }
    std::set<double> loads;
    for (const JudgedLine* line : list) loads.insert(std::round(line->load_kg));
    if (static_cast<double>(loads.size()) < evidence_.rulebook.increasing_loads.value) {
      miss(Check::increasing, "repeats", 0.0, evidence_.rulebook.increasing_loads.source);
    }
  }

  /// What a load of the way up may weigh going down: as it did, or what the material weighs that
  /// took its place.
  struct WayDown {
    double kg = 0.0;
    double material_kg = 0.0;  // 0: none took its place
    std::string material;
    [[nodiscard]] bool is_met_by(double load_kg, double within) const {
      const auto near = [&](double wanted) {
        return std::abs(load_kg - wanted) <= within * wanted * (1.0 + kSlack);
      };
      return near(kg) || (material_kg > 0.0 && near(material_kg));
    }
  };

  /// Every load of the way up but the greatest, rising. A reading that gave a material its worth
  /// follows upon the one of the weights whose place it took.
  [[nodiscard]] std::vector<WayDown> loads_of_way_up(double most) const {
    std::vector<WayDown> loads;
    for (const Row& row : evidence_.rows) {
      if (row.check != Check::increasing || !row.fresh || !row.usable || !row.load ||
          row.empty_deck) {
        continue;
      }
      if (!row.fixes) {
        loads.push_back({.kg = row.load->kg, .material_kg = 0.0, .material = ""});
      } else if (!loads.empty()) {
        loads.back().material_kg = row.load->kg;
        loads.back().material = row.reading->reading.material;
      }
    }
    std::sort(loads.begin(), loads.end(),
              [](const WayDown& a, const WayDown& b) { return a.kg < b.kg; });
    const auto same = [](const WayDown& a, const WayDown& b) {
      return a.kg == b.kg && a.material == b.material;
    };
    loads.erase(std::unique(loads.begin(), loads.end(), same), loads.end());
    std::erase_if(loads, [&](const WayDown& one) { return one.kg >= most * (1.0 - kSlack); });
    return loads;
  }

  [[nodiscard]] std::string named(const WayDown& load) const {
    const double kg = load.material_kg > 0.0 ? load.material_kg : load.kg;
    const double unit_kg = evidence_.scale.us ? units::kPound_kg : 1.0;
    std::string text = std::to_string(std::lround(kg / unit_kg));
    text += evidence_.scale.us ? " lb" : " kg";
    return load.material.empty() ? text : load.material + ", " + text;
  }

  void decreasing(const rules::Source& source) {
    const double most = greatest_known(lines(Check::increasing));
    if (most <= 0.0) return;
    std::vector<WayDown> wanted;
    const std::vector<double> stated =
        rules::decreasing_loads_kg(evidence_.rulebook, evidence_.scale, most);
    for (const double kg : stated) {
      wanted.push_back({.kg = kg, .material_kg = 0.0, .material = ""});
    }
    if (stated.empty()) wanted = loads_of_way_up(most);
    const double within = stated.empty() ? kSameDown : kNearShare;
    const std::vector<const JudgedLine*> list = lines(Check::decreasing);
    for (const WayDown& load : wanted) {
      const bool there = std::any_of(list.begin(), list.end(), [&](const auto* line) {
        return load.is_met_by(line->load_kg, within);
      });
      if (!there) miss(Check::decreasing, "decreasing_loads", load.kg, source, named(load));
    }
  }

  void repeats(const rules::Source& source) {
    const double count = evidence_.rulebook.repeatability_count.value;
    const std::vector<SameLoad> groups = same_loads(evidence_, Check::repeatability);
    std::vector<double> shares = evidence_.rulebook.repeatability_shares;
    if (shares.empty()) shares.push_back(0.0);
    const double greatest_share = *std::max_element(shares.begin(), shares.end());
    for (const double share : shares) {
      const double wanted = share * evidence_.scale.capacity_kg;
      double most = 0.0;
      for (const SameLoad& group : groups) {
        // Where no greater one is asked, a greater load is as good.
        const bool above = share < greatest_share && group.load_kg > (1.0 + kAbout) * wanted;
        const bool fits = group.load_kg >= (1.0 - kAbout) * wanted && !above;
        if (fits) most = std::max(most, static_cast<double>(group.rows.size()));
      }
      if (most < count) {
        miss(Check::repeatability, most > 0.0 ? "repeats" : "load", wanted,
             most > 0.0 ? evidence_.rulebook.repeatability_count.source
                        : (wanted > 0.0 ? evidence_.rulebook.repeatability_source : source));
      }
    }
  }

  void discrimination(const rules::Source& source) {
    const double top = std::min(evidence_.scale.capacity_kg, std::max(greatest(), 1.0));
    for (const double share : evidence_.rulebook.discrimination_shares) {
      const double wanted = share * top;
      const bool there =
          std::any_of(judged_.steps.begin(), judged_.steps.end(), [&](const JudgedStep& step) {
            if (share <= 0.0) return step.load_kg <= kSmall_of_Max * evidence_.scale.capacity_kg;
            return is_near(step.load_kg, wanted);
          });
      if (!there) miss(Check::discrimination, "load", wanted, source);
    }
  }

  void want_zero_after(const std::vector<int>& no_zero_after) {
    if (!rules::zero_return_limit(evidence_.rulebook, evidence_.scale, evidence_.what.occasion))
      return;
    for (const int index : no_zero_after) {
      const Row& row = evidence_.rows[static_cast<std::size_t>(index)];
      if (!row.fresh) continue;
      miss(row.check, "zero_after", row.load ? row.load->kg : row.net_kg(),
           evidence_.rulebook.zero_return_e.source);
    }
  }

  /// Weights by name, and enough of them.
  void want_standards() {
    double most = 0.0;
    std::set<Check> unnamed;
    for (const Row& row : evidence_.rows) {
      if (!row.fresh || !row.usable || !row.load || row.empty_deck) continue;
      if (!row.load->named) unnamed.insert(row.check);
      if (row.load->named) most = std::max(most, row.load->direct_kg);
    }
    const rules::Amount asked = amount();
    for (const Check check : unnamed) {
      miss(check, "weights", 0.0, evidence_.rulebook.standards_share.source);
    }
    if (unnamed.empty() && !lines(Check::increasing).empty() &&
        most < asked.weights_kg * (1.0 - kSlack) &&
        most < asked.weights_kg - 0.001 * evidence_.scale.capacity_kg) {
      miss(Check::increasing, "standards", asked.weights_kg, asked.source);
    }
  }

  const Evidence& evidence_;
  const Verdict& judged_;
  std::vector<Missing> missing_;
};

}  // namespace

std::vector<Missing> missing_of(const Evidence& evidence,
                                const Verdict& judged,
                                const std::vector<int>& no_zero_after) {
  return Wants(evidence, judged).find(no_zero_after);
}

}  // namespace weighwright::proof
