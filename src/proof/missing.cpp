#include "proof/missing.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <set>

#include "proof/increasing_loads.h"
#include "proof/indicator_checks.h"
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
constexpr double kAbout = 0.25;  // of a load that is only weighed several times: a lorry will do
constexpr double kSlack = 1e-9;

bool is_near(double load_kg, double wanted_kg) {
  return std::abs(load_kg - wanted_kg) <= kNear * wanted_kg * (1.0 + kSlack);
}

class Wants {
 public:
  Wants(const Evidence& evidence, const Verdict& judged)
      : evidence_(evidence), judged_(judged), ranges_(rules::range_count(evidence.scale)) {
    find_walks();
  }

  std::vector<Missing> find(const std::vector<int>& no_zero_after) {
    for (const rules::TestRule& test : evidence_.rulebook.tests) {
      if (is_required(test.check)) want(test);
    }
    want_clc();
    want_substitution_repeats();
    want_zero_after(no_zero_after);
    want_standards();
    return std::move(missing_);
  }

 private:
  void miss(Check check,
            const char* code,
            double load_kg,
            const rules::Source& source,
            std::string where = "",
            int range = 0) {
    missing_.push_back({.check = check,
                        .code = code,
                        .where = std::move(where),
                        .load_kg = load_kg,
                        .source = source,
                        .range = range});
  }

  /// Of a scale with several ranges the one that is looked at, from 1; else 0: none in particular.
  [[nodiscard]] int said(int range) const { return ranges_ > 1 ? range + 1 : 0; }

  [[nodiscard]] std::vector<const JudgedLine*> lines(Check check, int range) const {
    std::vector<const JudgedLine*> list = lines(check);
    std::erase_if(list, [range](const JudgedLine* line) { return line->range != range; });
    return list;
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
    if (rules::is_of_indicator(check)) return is_answered(judged_, check);
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
    return test != nullptr &&
           rules::is_asked(evidence_.rulebook, evidence_.scale, evidence_.what.occasion, *test);
  }

  /// Without the CLC nobody can say what belongs on one section.
  void want_clc() {
    if (!(evidence_.rulebook.section_clc_share.value > 0.0) || evidence_.scale.clc_kg) return;
    if (!is_required(Check::section)) return;
    miss(Check::section, "clc", 0.0, evidence_.rulebook.section_clc_share.source);
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
  [[nodiscard]] double greatest(int range) const {
    double most = 0.0;
    const bool strain = evidence_.rulebook.find_test(Check::strain) != nullptr;
    for (const Row& row : evidence_.rows) {
      if (!row.fresh || !row.usable || !row.load || row.empty_deck) continue;
      if (row.range != range) continue;
      if (row.check == Check::increasing) most = std::max(most, row.load->kg);
      if (row.check == Check::strain && strain) {
        most = std::max(most, row.load->kg + row.reading->start_kg.value_or(0.0));
      }
    }
    return most;
  }

  [[nodiscard]] rules::Amount amount() const {
    return rules::least_standards(evidence_.rulebook, evidence_.scale, leaned_on_kg());
  }

  /// The most weights that stood anywhere, and whether material took their place.
  struct Substituted {
    double weights_kg = 0.0;
    bool material = false;
  };
  [[nodiscard]] Substituted substituted() const {
    Substituted found;
    for (const Row& row : evidence_.rows) {
      if (!row.fresh || !row.usable || !row.load || row.empty_deck) continue;
      found.material |= row.fixes;
      if (row.load->named) found.weights_kg = std::max(found.weights_kg, row.load->direct_kg);
    }
    return found;
  }

  /// The repeatability that fewer weights rest on: of a load near the one at which material took
  /// their place, else of a greater one; weighed as often as the rule asks. Repeats that all show
  /// the same count as one step of the display. Empty: it is not known.
  [[nodiscard]] std::optional<double> leaned_on_kg() const {
    const rules::Cited& weighings = evidence_.rulebook.substitution_weighings;
    const Substituted found = substituted();
    if (weighings.source.clause.empty() || !found.material) return evidence_.repeats.sure_range_kg;
    std::optional<double> near;
    std::optional<double> above;
    for (const SameLoad& group : same_loads(evidence_, Check::repeatability)) {
      if (static_cast<double>(group.rows.size()) < weighings.value) continue;
      if (group.load_kg < (1.0 - kAbout) * found.weights_kg) continue;
      std::optional<double>& kind =
          group.load_kg <= (1.0 + kAbout) * found.weights_kg ? near : above;
      kind = std::max(kind.value_or(0.0), sure_range_kg(group));
    }
    return near ? near : above;
  }

  /// A demand of its own, whatever repeatability the test asks for.
  void want_substitution_repeats() {
    const rules::Cited& weighings = evidence_.rulebook.substitution_weighings;
    const Substituted found = substituted();
    if (weighings.source.clause.empty() || !found.material || leaned_on_kg()) return;
    const double without =
        rules::least_standards(evidence_.rulebook, evidence_.scale, std::nullopt).weights_kg;
    if (found.weights_kg >= without * (1.0 - kSlack)) return;
    miss(Check::repeatability, "repeats", found.weights_kg, weighings.source);
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
    for (int range = 0; range < ranges_; ++range) increasing_in(range, source);
  }

  /// Loads that a range of several is tested with: those going up, and those coming down where
  /// going up a smaller range holds them.
  [[nodiscard]] std::vector<const JudgedLine*> lines_of_way_up(int range) const {
    std::vector<const JudgedLine*> list = lines(Check::increasing, range);
    if (range == 0) return list;
    const double below_kg = rules::in_range(evidence_.scale, range - 1).capacity_kg;
    for (const JudgedLine* line : lines(Check::decreasing, range)) {
      if (line->load_kg <= below_kg * (1.0 + kSlack)) list.push_back(line);
    }
    return list;
  }

  void increasing_in(int range, const rules::Source& source) {
    const rules::Scale scale = rules::in_range(evidence_.scale, range);
    const std::vector<const JudgedLine*> list = lines_of_way_up(range);
    const rules::Amount asked = amount();
    const bool by_amount = asked.load_kg > 0.0 && asked.load_kg < scale.capacity_kg;
    const double top = by_amount ? asked.load_kg : scale.capacity_kg;
    // A strain test takes over above the weights: no step is asked for that they can't make.
    const bool strained = asked.load_kg > 0.0 && !lines(Check::strain).empty();
    const double known = greatest_known(list);
    const double known_to = strained ? known : std::max(known, top);
    for (const IncreasingLoad& load :
         increasing_loads(evidence_.rulebook, scale, evidence_.what.occasion, known_to)) {
      if (load.kind == IncreasingLoad::Kind::greatest) continue;
      const bool there = std::any_of(list.begin(), list.end(), [&](const auto* line) {
        return load.is_met_by(line->load_kg);
      });
      if (!there) miss(Check::increasing, "load", load.kg, source, "", said(range));
    }
    if (!reaches(greatest(range), top, by_amount)) {
      miss(Check::increasing, "load", top, by_amount ? asked.source : source, "", said(range));
    }
    std::set<double> loads;
    for (const JudgedLine* line : list) loads.insert(std::round(line->load_kg));
    if (static_cast<double>(loads.size()) < evidence_.rulebook.increasing_loads.value) {
      miss(Check::increasing, "repeats", 0.0, evidence_.rulebook.increasing_loads.source, "",
           said(range));
    }
  }

  /// A test load that the rulebook prescribes is the least; near Max a little less does.
  [[nodiscard]] bool reaches(double load_kg, double top_kg, bool prescribed) const {
    if (!prescribed) return load_kg >= (1.0 - kNearGreatest) * top_kg * (1.0 - kSlack);
    return rules::counts_as_made(evidence_.rulebook, evidence_.scale, evidence_.what.occasion,
                                 load_kg, top_kg);
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

  /// The greatest range that is reached on the walk that a row belongs to: a walk ends where zero
  /// is read.
  void find_walks() {
    const std::vector<Row>& rows = evidence_.rows;
    reached_.assign(rows.size(), 0);
    for (std::size_t begin = 0; begin < rows.size();) {
      std::size_t end = begin;
      int most = 0;
      do {
        most = std::max(most, rows[end].range);
        ++end;
      } while (end < rows.size() && !ends_before(rows[end - 1], rows[end]));
      for (; begin < end; ++begin) reached_[begin] = most;
    }
  }

  static bool ends_before(const Row& last, const Row& next) {
    return last.set != next.set || next.empty_deck || next.reading->reading.zero_before_kg ||
           last.reading->reading.zero_after_kg;
  }

  /// Every load of the way up but the greatest, rising. Of several ranges those of a walk that goes
  /// no further: on the way to a greater range a smaller one is only passed. A reading that gave a
  /// material its worth follows upon the one of the weights whose place it took.
  [[nodiscard]] std::vector<WayDown> loads_of_way_up(double most, int range) const {
    std::vector<WayDown> loads;
    for (std::size_t i = 0; i < evidence_.rows.size(); ++i) {
      const Row& row = evidence_.rows[i];
      if (reached_[i] > range) continue;
      if (row.check != Check::increasing || !row.fresh || !row.usable || !row.load ||
          row.empty_deck || row.range != range) {
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

  /// A rulebook may ask for no decreasing loads where material took the place of weights.
  [[nodiscard]] bool goes_down() const {
    const rules::Cited& rule = evidence_.rulebook.decreasing_with_substitution;
    const bool dropped = !rule.source.clause.empty() && rule.value == 0.0;
    return !dropped || !substituted().material;
  }

  void decreasing(const rules::Source& source) {
    for (int range = 0; goes_down() && range < ranges_; ++range) decreasing_in(range, source);
  }

  void decreasing_in(int range, const rules::Source& source) {
    const double most = greatest_known(lines(Check::increasing, range));
    if (most <= 0.0) return;
    std::vector<WayDown> wanted;
    const std::vector<double> stated = rules::decreasing_loads_kg(
        evidence_.rulebook, rules::in_range(evidence_.scale, range), most);
    for (const double kg : stated) {
      wanted.push_back({.kg = kg, .material_kg = 0.0, .material = ""});
    }
    if (stated.empty()) wanted = loads_of_way_up(most, range);
    const double within = stated.empty() ? kSameDown : kNearShare;
    const std::vector<const JudgedLine*> list = lines(Check::decreasing, range);
    for (const WayDown& load : wanted) {
      const bool there = std::any_of(list.begin(), list.end(), [&](const auto* line) {
        return load.is_met_by(line->load_kg, within);
      });
      if (!there) {
        miss(Check::decreasing, "decreasing_loads", load.kg, source, named(load), said(range));
      }
    }
  }

  void repeats(const rules::Source& source) {
    const rules::RepeatsAsked asked =
        rules::repeats_asked(evidence_.rulebook, evidence_.what.occasion);
    const std::vector<SameLoad> groups = same_loads(evidence_, Check::repeatability);
    std::vector<double> shares = asked.shares;
    if (shares.empty()) shares.push_back(0.0);
    const double greatest_share = *std::max_element(shares.begin(), shares.end());
    for (const double share : shares) {
      const double wanted = share * evidence_.scale.capacity_kg;
      std::size_t most = 0;
      for (const SameLoad& group : groups) {
        // Where no greater one is asked, a greater load is as good.
        const bool above = share < greatest_share && group.load_kg > (1.0 + kAbout) * wanted;
        const bool fits = group.load_kg >= (1.0 - kAbout) * wanted && !above;
        if (fits) most = std::max(most, group.rows.size());
      }
      if (static_cast<int>(most) < asked.count) {
        miss(Check::repeatability, most > 0 ? "repeats" : "load", wanted,
             most > 0 ? asked.count_source : (wanted > 0.0 ? asked.source : source));
      }
    }
  }

  void discrimination(const rules::Source& source) {
    const double weighed = greatest(ranges_ - 1);
    const double top = weighed > 0.0 ? std::min(evidence_.scale.capacity_kg, weighed)
                                     : evidence_.scale.capacity_kg;
    const double small = rules::near_zero_kg(evidence_.rulebook, evidence_.scale);
    for (const double share : evidence_.rulebook.discrimination_shares) {
      const double wanted = share * top;
      const bool there =
          std::any_of(judged_.steps.begin(), judged_.steps.end(), [&](const JudgedStep& step) {
            if (share <= 0.0) return step.load_kg <= small * (1.0 + kSlack);
            return is_near(step.load_kg, wanted);
          });
      // Where nothing is near zero, the greatest load that would be is named.
      if (!there) miss(Check::discrimination, "load", share > 0.0 ? wanted : small, source);
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
  int ranges_;                // tested apart
  std::vector<int> reached_;  // by row
  std::vector<Missing> missing_;
};

}  // namespace

std::vector<Missing> missing_of(const Evidence& evidence,
                                const Verdict& judged,
                                const std::vector<int>& no_zero_after) {
  return Wants(evidence, judged).find(no_zero_after);
}

}  // namespace weighwright::proof
