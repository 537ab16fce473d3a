#include "proof/missing.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <set>

#include "proof/judged_lines.h"
#include "proof/missing_places.h"
#include "proof/ranges.h"

namespace weighwright::proof {
namespace {

using rules::Check;

constexpr double kNear = 0.1;       // of a wanted load
constexpr double kSameDown = 0.02;  // of a load that is to be weighed going down as well
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
    return !lines(check).empty();
  }

  [[nodiscard]] bool zero_was_read() const {
    return std::any_of(evidence_.rows.begin(), evidence_.rows.end(),
                       [](const Row& row) { return row.fresh && row.usable && row.empty_deck; });
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
        return places(missing_passes(evidence_, lines(check)), check, source);
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
  [[nodiscard]] double greatest() const {
    double most = 0.0;
    for (const Row& row : evidence_.rows) {
      if (!row.fresh || !row.usable || !row.load || row.empty_deck) continue;
      if (row.check == Check::increasing) most = std::max(most, row.load->kg);
      if (row.check == Check::strain) {
        most = std::max(most, row.load->kg + row.reading->start_kg.value_or(0.0));
      }
    }
    return most;
  }

  [[nodiscard]] rules::Amount amount() const {
    return rules::least_standards(evidence_.rulebook, evidence_.scale, evidence_.repeats.range_kg);
  }

  void increasing(const rules::Source& source) {
    const std::vector<const JudgedLine*> list = lines(Check::increasing);
    const rules::Amount asked = amount();
    const double top = asked.load_kg > 0.0 ? asked.load_kg : evidence_.scale.capacity_kg;
    std::vector<double> wanted = {rules::least_load_kg(evidence_.rulebook, evidence_.scale)};
    for (const double load : rules::break_loads_kg(evidence_.rulebook, evidence_.scale)) {
      if (load < top) wanted.push_back(load);
    }
    for (const double load : wanted) {
      const bool there =
          load <= 0.0 || std::any_of(list.begin(), list.end(), [&](const auto* line) {
            return is_near(line->load_kg, load);
          });
      if (!there) miss(Check::increasing, "load", load, source);
    }
    if (greatest() < (1.0 - kNear) * top) {
      miss(Check::increasing, "load", top, asked.load_kg > 0.0 ? asked.source : source);
    }
    std::set<double> loads;
    for (const JudgedLine* line : list) loads.insert(std::round(line->load_kg));
    if (static_cast<double>(loads.size()) < evidence_.rulebook.increasing_loads.value) {
      miss(Check::increasing, "repeats", 0.0, evidence_.rulebook.increasing_loads.source);
    }
  }

  void decreasing(const rules::Source& source) {
    double most = 0.0;
    std::set<double> wanted;
    for (const JudgedLine* line : lines(Check::increasing)) {
      most = std::max(most, line->load_kg);
      wanted.insert(line->load_kg);
    }
    if (wanted.empty()) return;
    const std::vector<double> stated =
        rules::decreasing_loads_kg(evidence_.rulebook, evidence_.scale, most);
    const double within = stated.empty() ? kSameDown : kNear;
    if (stated.empty()) {
      wanted.erase(std::prev(wanted.end()));
    } else {
      wanted = {stated.begin(), stated.end()};
    }
    const std::vector<const JudgedLine*> list = lines(Check::decreasing);
    for (const double load : wanted) {
      const bool there = std::any_of(list.begin(), list.end(), [&](const auto* line) {
        return std::abs(line->load_kg - load) <= within * load * (1.0 + kSlack);
      });
      if (!there) miss(Check::decreasing, "decreasing_loads", load, source);
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
    bool unnamed = false;
    for (const Row& row : evidence_.rows) {
      if (!row.fresh || !row.usable || !row.load || row.empty_deck) continue;
      unnamed |= !row.load->named;
      if (row.load->named) most = std::max(most, row.load->direct_kg);
    }
    const rules::Amount asked = amount();
    if (unnamed) {
      miss(Check::increasing, "weights", 0.0, evidence_.rulebook.standards_share.source);
    } else if (!lines(Check::increasing).empty() && most < asked.weights_kg * (1.0 - kSlack) &&
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
