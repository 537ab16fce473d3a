#include "deck/thread.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <string>
#include <system_error>

#include "units/quantity.h"

namespace weighwright::deck {

namespace {

struct CoarsePitch {
  double diameter_mm;
  double pitch_mm;
};

constexpr std::array kCoarse = {
    CoarsePitch{6, 1},    CoarsePitch{8, 1.25}, CoarsePitch{10, 1.5}, CoarsePitch{12, 1.75},
    CoarsePitch{14, 2},   CoarsePitch{16, 2},   CoarsePitch{18, 2.5}, CoarsePitch{20, 2.5},
    CoarsePitch{22, 2.5}, CoarsePitch{24, 3},   CoarsePitch{27, 3},   CoarsePitch{30, 3.5},
    CoarsePitch{33, 3.5}, CoarsePitch{36, 4},   CoarsePitch{39, 4},   CoarsePitch{42, 4.5},
    CoarsePitch{45, 4.5}, CoarsePitch{48, 5},   CoarsePitch{52, 5},   CoarsePitch{56, 5.5},
    CoarsePitch{60, 5.5}, CoarsePitch{64, 6}};

std::optional<double> whole_number(std::string_view text) {
  double value = 0.0;
  const auto result =
      std::from_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed);
  const bool all = result.ptr == text.data() + text.size();
  if (result.ec != std::errc{} || !all || !(value > 0.0) || value > 1000.0) return std::nullopt;
  return value;
}

std::optional<Thread> parse_metric(std::string_view text) {
  const std::size_t cross = text.find_first_of("xX");
  const std::optional<double> diameter_mm = whole_number(text.substr(0, cross));
  if (!diameter_mm) return std::nullopt;
  if (cross != std::string_view::npos) {
    const std::optional<double> pitch_mm = whole_number(text.substr(cross + 1));
    if (!pitch_mm || *pitch_mm >= *diameter_mm) return std::nullopt;
    return Thread{*diameter_mm / 1e3, *pitch_mm / 1e3};
  }
  const auto* const coarse =
      std::find_if(kCoarse.begin(), kCoarse.end(),
                   [&](const CoarsePitch& c) { return c.diameter_mm == *diameter_mm; });
  if (coarse == kCoarse.end()) return std::nullopt;
  return Thread{coarse->diameter_mm / 1e3, coarse->pitch_mm / 1e3};
}

/// "5/8-11": the last hyphen parts diameter and threads an inch ("1-1/4-7" has two).
std::optional<Thread> parse_inch(std::string_view text) {
  for (const std::string_view series : {" UNC", " UNF", " UN", "UNC", "UNF"}) {
    if (!text.ends_with(series)) continue;
    text.remove_suffix(series.size());
    break;
  }
  const std::size_t hyphen = text.rfind('-');
  if (hyphen == std::string_view::npos || hyphen == 0) return std::nullopt;
  const units::Parsed diameter =
      units::parse(std::string(text.substr(0, hyphen)) + " in", units::Kind::length);
  const std::optional<double> threads = whole_number(text.substr(hyphen + 1));
  if (!diameter.ok() || !threads || !(diameter.value > 0.0)) return std::nullopt;
  const double pitch_m = units::kInch_m / *threads;
  if (pitch_m >= diameter.value) return std::nullopt;
  return Thread{diameter.value, pitch_m};
}

}  // namespace

std::optional<Thread> parse_thread(std::string_view text) {
  if (text.empty() || text.size() > 32) return std::nullopt;
  return text.front() == 'M' ? parse_metric(text.substr(1)) : parse_inch(text);
}

}  // namespace weighwright::deck
