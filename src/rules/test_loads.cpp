// Loads of the eccentric, rolling and section test, and the greatest indication.
#include <algorithm>

#include "rules/limits.h"
#include "rules/words.h"

namespace weighwright::rules {

std::optional<TestLoad> eccentric_load(const Rulebook& rulebook, const Scale& scale) {
  const Cited& share = rulebook.eccentric_share;
  const Cited& few = rulebook.eccentric_few_supports;
  if (!(share.value > 0.0) || scale.supports < 1) return std::nullopt;
  const double most_kg = scale.capacity_kg + scale.tare_kg;
  if (scale.supports <= static_cast<int>(few.value)) {
    return TestLoad{.kg = share.value * most_kg,
                    .at_most = false,
                    .source = share.source,
                    .because = share_words(share.value) + " of Max + T+"};
  }
  // One support fewer than there are, whatever sections and modules (R 76-1, 3.6.2.2).
  return TestLoad{.kg = most_kg / (scale.supports - 1),
                  .at_most = false,
                  .source = few.source,
                  .because = "(Max + T+)/(" + std::to_string(scale.supports) + " - 1)"};
}

std::optional<TestLoad> rolling_load(const Rulebook& rulebook, const Scale& scale) {
  const Cited& share = rulebook.rolling_share;
  if (!(share.value > 0.0)) return std::nullopt;
  return TestLoad{.kg = share.value * (scale.capacity_kg + scale.tare_kg),
                  .at_most = true,
                  .source = share.source,
                  .because = "at most " + share_words(share.value) + " of Max + T+"};
}

std::optional<TestLoad> section_load(const Rulebook& rulebook, const Scale& scale) {
  const Cited& share = rulebook.section_share;
  if (!(share.value > 0.0)) return std::nullopt;
  TestLoad load{.kg = share.value * scale.capacity_kg,
                .at_most = false,
                .source = share.source,
                .because = share_words(share.value) + " of Max"};
  const std::optional<TestLoad> most = most_on_pattern(rulebook, scale, false);
  if (most && counts_of(most->kg) < counts_of(load.kg)) {
    load.kg = most->kg;
    load.because += ", but no more than the CLC";
  }
  return load;
}

std::optional<TestLoad> most_on_pattern(const Rulebook& rulebook,
                                        const Scale& scale,
                                        bool one_side) {
  const Cited& share = rulebook.section_clc_share;
  if (!(share.value > 0.0) || !scale.clc_kg) return std::nullopt;
  const double kg = share.value * *scale.clc_kg;
  return TestLoad{.kg = one_side ? kg / 2.0 : kg,
                  .at_most = true,
                  .source = share.source,
                  .because = one_side ? "half of the CLC on one side" : "the CLC on one pattern"};
}

std::optional<TestLoad> greatest_indication(const Rulebook& rulebook, const Scale& scale) {
  const double interval_kg = interval_at_kg(scale, scale.capacity_kg);
  const Cited& divisions = rulebook.overload_e;
  if (divisions.value > 0.0) {
    return TestLoad{.kg = scale.capacity_kg + divisions.value * interval_kg,
                    .at_most = true,
                    .source = divisions.source,
                    .because = "Max + " + number_words(divisions.value) + " " + rulebook.division};
  }
  const Cited& share = rulebook.overload_share;
  if (!(share.value > 0.0)) return std::nullopt;
  return TestLoad{.kg = share.value * scale.capacity_kg,
                  .at_most = true,
                  .source = share.source,
                  .because = share_words(share.value) + " of Max"};
}

}  // namespace weighwright::rules
