#pragma once
/// The weights that stood on the deck in one row: their value and doubt by their papers, and
/// whether they may serve as standards on the day of the test.

#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "proof/evidence.h"

namespace weighwright::proof {

/// What the papers say of `counts`, into the other figures.
void settle(Known& known, const std::vector<record::Weight>& weights);

class KnownWeights {
 public:
  KnownWeights(const Evidence& evidence, std::vector<ProofFinding>& findings);

  /// Empty: neither a load nor a substitute is stated (told, where a test needs a known load).
  /// Marks the row unusable where its load can't be true.
  [[nodiscard]] std::optional<Known> of_row(Row& row);

 private:
  void tell_unknown(Row& row);
  void take(const std::vector<Taken>& taken, Known& known) const;
  void tell_too_many(Row& row, const std::vector<Taken>& taken);
  void tell_unfit(const Row& row, const std::vector<Taken>& taken);
  void tell_untraced(const Row& row, const Taken& one);
  [[nodiscard]] const std::vector<StandardFinding>& unfit_on(std::int64_t day);
  [[nodiscard]] std::vector<Taken> taken_in(Row& row);
  void compare(Row& row, const Known& known, double stated_kg);

  const Evidence& evidence_;
  std::vector<ProofFinding>& findings_;
  std::map<std::int64_t, std::vector<StandardFinding>> unfit_;  // by day
  std::set<std::string> told_;
};

}  // namespace weighwright::proof
