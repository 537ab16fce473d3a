#include "proof/substitution.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "proof/known_weights.h"
#include "units/diagnostic.h"

namespace weighwright::proof {
namespace {

constexpr double kRepeats = 0.1;  // a substitute repeats an indication within this part of it

/// a + factor * b. Only what the same weights did twice cancels.
Known sum(const Known& a, const Known& b, int factor, const std::vector<record::Weight>& weights) {
  Known total = a;
  total.kg += factor * b.kg;
  total.unnamed_kg += factor * b.unnamed_kg;
  total.named &= b.named;
  for (const auto& [id, count] : b.counts) total.counts[id] += factor * count;
  for (const auto& [row, coefficient] : b.readings) total.readings[row] += factor * coefficient;
  settle(total, weights);
  return total;
}

struct Material {
  std::string name;
  Known worth;
  bool fresh = true;
};

class Weigher {
 public:
  Weigher(Evidence& evidence, std::vector<ProofFinding>& findings)
      : evidence_(evidence), findings_(findings), weights_(evidence, findings) {}

  void weigh() {
    for (std::size_t i = 0; i < evidence_.rows.size(); ++i) {
      Row& row = evidence_.rows[i];
      if (!row.empty_deck) weigh_row(row, static_cast<int>(i));
    }
  }

 private:
  void weigh_row(Row& row, int index) {
    std::optional<Known> known = weights_.of_row(row);
    if (!known) return;
    row.own = known;
    // Under a strain test what lies there already is nobody's known load.
    const std::vector<std::string> names = row.check == rules::Check::strain
                                               ? std::vector<std::string>{}
                                               : names_of_materials(row.reading->reading.material);
    if (has_twins(names)) return refuse(row, "a material stands twice in one reading; each once");
    const std::vector<std::string> unknown = add_materials(names, row.fresh, *known);
    if (unknown.empty()) {
      row.load = std::move(known);
    } else if (row.check == rules::Check::increasing) {
      fix(row, index, *known, unknown);
    }
  }

  /// Adds what is known of the materials; gives the names of those that are not.
  std::vector<std::string> add_materials(const std::vector<std::string>& names,
                                         bool fresh,
                                         Known& known) const {
    std::vector<std::string> unknown;
    for (const std::string& name : names) {
      known.sorts.push_back(name);
      const Material* const material = find(name, fresh);
      if (material == nullptr) {
        unknown.push_back(name);
      } else {
        known = sum(known, material->worth, 1, evidence_.what.weights);
      }
    }
    return unknown;
  }

  static bool has_twins(std::vector<std::string> names) {
    std::sort(names.begin(), names.end());
    return std::adjacent_find(names.begin(), names.end()) != names.end();
  }

  void refuse(Row& row, std::string what) {
    row.usable = false;
    findings_.push_back(finding_at(row, "substitute_unknown", true, std::move(what)));
  }

  [[nodiscard]] const Material* find(const std::string& name, bool fresh) const {
    for (const Material& material : materials_) {
      if (material.name == name && material.fresh == fresh) return &material;
    }
    return nullptr;
  }

  /// May it be what a substitute repeats? Loads on the deck as a whole that were weighed before it.
  [[nodiscard]] static bool is_reference(const Row& other, const Row& row, rules::Check check) {
    return other.check == check && other.load && !other.fixes && other.usable &&
           other.fresh == row.fresh && other.load->kg > 0.0;
  }

  /// The known load whose indication is nearest; of equals the last.
  [[nodiscard]] int nearest(const Row& row, int index, rules::Check check) const {
    int best = -1;
    double off = kRepeats * std::abs(row.net_kg());
    for (int i = 0; i < index; ++i) {
      const Row& other = evidence_.rows[static_cast<std::size_t>(i)];
      if (!is_reference(other, row, check)) continue;
      if (std::abs(other.net_kg() - row.net_kg()) > off) continue;
      off = std::abs(other.net_kg() - row.net_kg());
      best = i;
    }
    return best;
  }

  [[nodiscard]] int reference_of(const Row& row, int index) const {
    if (!row.usable) return -1;
    const int increasing = nearest(row, index, rules::Check::increasing);
    return increasing >= 0 ? increasing : nearest(row, index, rules::Check::repeatability);
  }

  void fix(Row& row, int index, const Known& rest, const std::vector<std::string>& fresh) {
    if (fresh.size() > 1) {
      return refuse(row, "the materials " + units::quote(fresh[0]) + " and " +
                             units::quote(fresh[1]) +
                             " are both new in one reading; one after the other");
    }
    const int reference = reference_of(row, index);
    if (reference < 0) {
      return refuse(row, "nothing known was indicated near " + in_kg(row.net_kg()) + ", so " +
                             units::quote(fresh.front()) +
                             " has no worth; weights first, then the substitute until the display "
                             "shows about the same");
    }
    const Row& known = evidence_.rows[static_cast<std::size_t>(reference)];
    Known total = *known.load;
    total.kg += row.net_kg() - known.net_kg();  // P_sub - E
    total.readings[index] += 1.0;
    total.readings[reference] -= 1.0;
    materials_.push_back({.name = fresh.front(),
                          .worth = sum(total, rest, -1, evidence_.what.weights),
                          .fresh = row.fresh});
    total.sorts = rest.sorts;
    total.direct_kg = rest.direct_kg;
    row.load = std::move(total);
    row.fixes = true;
    evidence_.substitutes.push_back({.name = fresh.front(),
                                     .kg = materials_.back().worth.kg,
                                     .u_kg = 0.0,
                                     .file = row.file,
                                     .line = row.reading->reading.line});
  }

  Evidence& evidence_;
  std::vector<ProofFinding>& findings_;
  KnownWeights weights_;
  std::vector<Material> materials_;
};

}  // namespace

std::vector<std::string> names_of_materials(const std::string& material) {
  std::vector<std::string> names;
  std::size_t begin = 0;
  while (!material.empty() && begin <= material.size()) {
    const std::size_t end = std::min(material.find('+', begin), material.size());
    const std::string name = material.substr(begin, end - begin);
    const std::size_t first = name.find_first_not_of(' ');
    const std::size_t last = name.find_last_not_of(' ');
    if (first != std::string::npos) names.push_back(name.substr(first, last - first + 1));
    begin = end + 1;
  }
  return names;
}

void weigh_loads(Evidence& evidence, std::vector<ProofFinding>& findings) {
  Weigher(evidence, findings).weigh();
}

}  // namespace weighwright::proof
