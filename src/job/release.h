#pragma once
/// Whether a deck was released for load: what a release rests on, and what it lacks.
///
/// Release  a named person says that the deck carries, on which foundation and on what grounds: the
///          maker's time at the logged temperature, a cube's strength and its age, an engineer, an
///          inspection. Fresh grout drops a deck that is loaded too early; so a release is a claim
///          that is refused where it contradicts the journal. Grounds: common practice, no source;
///          how long and how strong is the maker's and the engineer's to say.
/// Time     grout was placed when the release says so (`grouted_at`), else when the tick was typed,
///          else when it was recorded. On a practice site time is played, and not compared.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "job/site_state.h"
#include "record/entry.h"

namespace weighwright::job {

/// One thing that a claim lacks, and what would be right.
struct Lack {
  std::string what;
  std::string right;
};

/// What stands against a release that is said now. Empty: it fits.
/// @param state  as it is when it is said: grout, visits
/// @param said   when it was said, by whose clock
[[nodiscard]] std::vector<Lack> release_lacks(const SiteState& state,
                                              const record::Fields& release,
                                              const record::Stamp& said);

/// "T. Brook: the maker's time, 24 h at 12 degC". @pre the fields fit
[[nodiscard]] std::string release_words(const record::Fields& release);

/// When the grout of the last tick was placed, as far as the tick says it: UTC, ms since 1970.
/// @pre state.grouted_line >= 0
[[nodiscard]] std::int64_t grout_ticked_ms(const SiteState& state);

/// "24 h", "7 d", "90 min": hours. Empty: it is no time with a unit.
[[nodiscard]] std::optional<double> hours_of(std::string_view typed);

/// "35 MPa", "35 N/mm2", "5000 psi": MPa. Empty: it is no strength with a unit.
[[nodiscard]] std::optional<double> strength_MPa_of(std::string_view typed);

}  // namespace weighwright::job
