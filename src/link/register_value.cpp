#include "link/register_value.h"

#include <fmt/format.h>

#include <algorithm>
#include <bit>
#include <cmath>
#include <limits>

#include "units/quantity.h"

namespace weighwright::link {

namespace {

using deck::Order;
using deck::RegisterType;

constexpr int kMostDecimals = 9;
constexpr double kLeastNormal = 0x1p-126;  // IEEE 754 binary32: below it numbers are denormal

std::uint16_t swapped(std::uint16_t word) {
  return static_cast<std::uint16_t>((word << 8U) | (word >> 8U));
}

std::uint32_t joined(std::uint16_t high, std::uint16_t low) {
  return (static_cast<std::uint32_t>(high) << 16U) | low;
}

/// Whole numbers of a type.
struct Span {
  double least = 0.0;
  double most = 0.0;
};

Span span_of(RegisterType type) {
  switch (type) {
    case RegisterType::int16:
      return {-32768.0, 32767.0};
    case RegisterType::uint16:
      return {0.0, 65535.0};
    case RegisterType::int32:
      return {-2147483648.0, 2147483647.0};
    case RegisterType::uint32:
      return {0.0, 4294967295.0};
    case RegisterType::float32:
      break;
  }
  return {-std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()};
}

/// The bits of a value, lowest in the lowest place.
std::uint32_t bits_of(const deck::Register& place, std::span<const std::uint16_t> words) {
  const auto word = [&](std::size_t i) {
    return place.byte_order == Order::high_first ? words[i] : swapped(words[i]);
  };
  if (deck::words_of(place.type) == 1) return word(0);
  return place.word_order == Order::high_first ? joined(word(0), word(1))
                                               : joined(word(1), word(0));
}

double raw_of(RegisterType type, std::uint32_t bits) {
  switch (type) {
    case RegisterType::int16:
      return static_cast<std::int16_t>(static_cast<std::uint16_t>(bits));
    case RegisterType::int32:
      return static_cast<std::int32_t>(bits);
    case RegisterType::float32:
      return static_cast<double>(std::bit_cast<float>(bits));
    case RegisterType::uint16:
    case RegisterType::uint32:
      break;
  }
  return bits;
}

std::uint32_t bits_from(RegisterType type, double raw) {
  if (type == RegisterType::float32) {
    const double most = static_cast<double>(std::numeric_limits<float>::max());
    return std::bit_cast<std::uint32_t>(static_cast<float>(std::clamp(raw, -most, most)));
  }
  const Span span = span_of(type);
  const double whole = std::clamp(std::round(raw), span.least, span.most);
  return static_cast<std::uint32_t>(static_cast<std::int64_t>(whole));
}

bool at_end(RegisterType type, double raw) {
  const Span span = span_of(type);
  return raw >= span.most || (span.least < 0.0 && raw <= span.least);
}

int decimals_of(double step) {
  for (int decimals = 0; decimals < kMostDecimals; ++decimals) {
    const double scaled = step * std::pow(10.0, decimals);
    if (scaled >= 0.5 && std::abs(scaled - std::round(scaled)) <= 1e-6 * scaled) return decimals;
  }
  return kMostDecimals;
}

}  // namespace

double resolution_of(const deck::Register& place) {
  if (place.step > 0.0) return place.step;
  return place.type == RegisterType::float32 ? 0.0 : std::abs(place.scale);
}

std::string print_typed(double value, double resolution) {
  if (resolution > 0.0) return units::print_fixed(value, decimals_of(resolution));
  return fmt::format("{:.7g}", value == 0.0 ? 0.0 : value);
}

RegisterValue read_registers(const deck::Register& place, std::span<const std::uint16_t> words) {
  RegisterValue out;
  if (words.size() != static_cast<std::size_t>(deck::words_of(place.type))) {
    out.says = "too few registers came";
    return out;
  }
  const std::uint32_t bits = bits_of(place, words);
  const double raw = raw_of(place.type, bits);
  if (deck::words_of(place.type) == 2) {
    const double other = raw_of(place.type, std::rotl(bits, 16)) * place.scale;
    if (std::isfinite(other)) out.exchanged = other;
  }
  if (std::isnan(raw)) {
    out.says = "the register holds no number (NaN): no value there, or type or word order is wrong";
    return out;
  }
  const double value = raw * place.scale;
  if (!std::isfinite(value)) {
    out.says = "the register holds an infinite number: over range, or type or word order is wrong";
    return out;
  }
  if (place.type == RegisterType::float32 && std::abs(raw) < kLeastNormal && raw != 0.0) {
    out.says = "the register holds " + fmt::format("{:.3g}", raw) +
               ", smaller than anything that is measured: type or word order is wrong";
    return out;
  }
  if (at_end(place.type, raw)) {
    out.says = "the register stands at the end of its range (" + units::print_fixed(raw, 0) +
               "): over range, or type or word order is wrong";
    return out;
  }
  out.value = value;
  out.typed = print_typed(value, resolution_of(place));
  return out;
}

std::vector<std::uint16_t> print_registers(const deck::Register& place,
                                           std::optional<double> value) {
  const double none = place.type == RegisterType::float32 ? std::numeric_limits<double>::quiet_NaN()
                                                          : span_of(place.type).most;
  const double raw = value && std::isfinite(*value) ? *value / place.scale : none;
  std::uint32_t bits = 0;
  if (std::isnan(raw)) {
    bits = std::bit_cast<std::uint32_t>(std::numeric_limits<float>::quiet_NaN());
  } else {
    bits = bits_from(place.type, raw);
  }
  const auto high = static_cast<std::uint16_t>(bits >> 16U);
  const auto low = static_cast<std::uint16_t>(bits & 0xFFFFU);
  std::vector<std::uint16_t> words = {low};
  if (deck::words_of(place.type) == 2) {
    words = place.word_order == Order::high_first ? std::vector{high, low} : std::vector{low, high};
  }
  if (place.byte_order == Order::low_first) {
    std::transform(words.begin(), words.end(), words.begin(), swapped);
  }
  return words;
}

}  // namespace weighwright::link
