#include "job/elsewhere.h"

#include <fmt/format.h>

#include <cmath>
#include <numbers>
#include <optional>

#include "deck/gravity.h"
#include "job/indication_words.h"
#include "proof/air.h"
#include "proof/scale_of.h"
#include "rules/limits.h"
#include "rules/reading/read_rulebook.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

struct Place {
  double latitude_rad = 0.0;
  double height_m = 0.0;
};

units::Diagnostic fault(std::string what, std::string expected) {
  return {.file = "command line",
          .line = 0,
          .column = 0,
          .what = std::move(what),
          .expected = std::move(expected)};
}

std::optional<Place> read_place(const std::string& typed, units::Diagnostics& faults) {
  const std::size_t comma = typed.find(',');
  Place place;
  const units::Parsed latitude = units::parse(typed.substr(0, comma), units::Kind::angle);
  if (!latitude.ok() || std::abs(latitude.value) > std::numbers::pi / 2.0) {
    faults.push_back(
        fault("--adjusted-at: " + (latitude.ok() ? units::quote(typed) : latitude.what),
              "a latitude from -90 to 90 deg and a height, as \"48 deg, 500 m\""));
    return {};
  }
  place.latitude_rad = latitude.value;
  if (comma == std::string::npos) return place;
  const std::size_t from = typed.find_first_not_of(' ', comma + 1);
  const units::Parsed height =
      units::parse(from == std::string::npos ? "" : typed.substr(from), units::Kind::length);
  constexpr double kLowest_m = -500.0;
  constexpr double kHighest_m = 6000.0;
  if (!height.ok() || height.value < kLowest_m || height.value > kHighest_m) {
    faults.push_back(fault(
        "--adjusted-at: " + (height.ok() ? units::quote(typed) + " is out of range" : height.what),
        "a height above the sea from -500 to 6000 m, as \"48 deg, 500 m\""));
    return {};
  }
  place.height_m = height.value;
  return place;
}

/// Whether both places may share one gravity zone, by the limit of the rulebook's table at Max.
std::string zone_words(const deck::Deck& deck, const Place& there) {
  const rules::Scale scale = proof::scale_of(deck);
  const auto limit = rules::table_limit_at(rules::built_in(deck.rulebook), scale, deck.capacity_kg);
  if (!limit) return "";
  const double here =
      proof::welmec_gravity(*deck.site.latitude_rad, deck.site.altitude_m.value_or(0.0));
  const double spread = std::abs(
      proof::gravity_effect(proof::welmec_gravity(there.latitude_rad, there.height_m), here));
  const bool fits = proof::zone_fits(spread, limit->kg / deck.capacity_kg);
  return fits ? "That is within a third of the limit at Max: one gravity zone (WELMEC, quoted)."
              : "That is more than a third of the limit at Max: not one gravity zone (WELMEC, "
                "quoted). Adjust here with test weights.";
}

}  // namespace

Elsewhere adjusted_elsewhere(const deck::Deck& deck, const std::string& typed) {
  Elsewhere answer;
  const auto there = read_place(typed, answer.faults);
  if (!there) return answer;
  if (!deck.site.latitude_rad) {
    answer.faults.push_back(fault("--adjusted-at: the deck file does not say where the deck stands",
                                  "[site] latitude = \"54.4 deg\" and altitude = \"240 m\""));
    return answer;
  }
  const IndicationWords say(deck);
  const double g_there = deck::normal_gravity_m_per_s2(there->latitude_rad, there->height_m);
  const double g_here =
      deck::normal_gravity_m_per_s2(*deck.site.latitude_rad, deck.site.altitude_m.value_or(0.0));
  const double effect = proof::gravity_effect(g_there, g_here);
  answer.sentences = {
      fmt::format(
          "Adjusted at {:.5f} m/s2, used here at {:.5f} m/s2 (normal gravity, WGS 84; good to "
          "about 0.01 %): every load reads {:+.4f} %, {} at Max. Span times {:.6f} takes it "
          "away.",
          g_there, g_here, effect * 100.0, say.error(effect * deck.capacity_kg) + " " + say.unit(),
          1.0 / (1.0 + effect)),
      zone_words(deck, *there)};
  if (answer.sentences.back().empty()) answer.sentences.pop_back();
  answer.sentences.emplace_back(
      "A scale that was adjusted here with test weights needs no correction for gravity.");
  return answer;
}

}  // namespace weighwright::job
