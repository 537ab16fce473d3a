#include "record/encoding/instant.h"

#include <algorithm>
#include <array>
#include <cstddef>

namespace weighwright::record {
namespace {

constexpr std::int64_t kDay_ms = 86'400'000;
constexpr std::string_view kShape = "0000-00-00T00:00:00.000Z";

struct Date {
  std::int64_t year = 0;
  std::int64_t month = 0;
  std::int64_t day = 0;
};

// Days since 1970-01-01 and back, in the proleptic Gregorian calendar: years begin in March, so
// that the leap day is the last; eras of 400 years have 146 097 days.
std::int64_t days_of(const Date& date) {
  const std::int64_t year = date.month <= 2 ? date.year - 1 : date.year;
  const std::int64_t era = year / 400;
  const std::int64_t year_of_era = year - era * 400;
  const std::int64_t day_of_year = (153 * ((date.month + 9) % 12) + 2) / 5 + date.day - 1;
  const std::int64_t day_of_era =
      year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year;
  return era * 146'097 + day_of_era - 719'468;
}

Date date_of(std::int64_t days) {
  const std::int64_t shifted = days + 719'468;
  const std::int64_t era = shifted / 146'097;
  const std::int64_t day_of_era = shifted - era * 146'097;
  const std::int64_t year_of_era =
      (day_of_era - day_of_era / 1'460 + day_of_era / 36'524 - day_of_era / 146'096) / 365;
  const std::int64_t day_of_year =
      day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
  const std::int64_t shifted_month = (5 * day_of_year + 2) / 153;
  const std::int64_t month = shifted_month < 10 ? shifted_month + 3 : shifted_month - 9;
  return {.year = year_of_era + era * 400 + (month <= 2 ? 1 : 0),
          .month = month,
          .day = day_of_year - (153 * shifted_month + 2) / 5 + 1};
}

void put(std::string& text, std::size_t at, std::size_t digits, std::int64_t value) {
  for (std::size_t i = digits; i-- > 0;) {
    text[at + i] = static_cast<char>('0' + value % 10);
    value /= 10;
  }
}

std::int64_t take(std::string_view text, std::size_t at, std::size_t digits) {
  std::int64_t value = 0;
  for (const char digit : text.substr(at, digits)) value = value * 10 + (digit - '0');
  return value;
}

bool has_shape(std::string_view text) {
  if (text.size() != kShape.size()) return false;
  for (std::size_t i = 0; i < kShape.size(); ++i) {
    const bool digit = text[i] >= '0' && text[i] <= '9';
    if (kShape[i] == '0' ? !digit : text[i] != kShape[i]) return false;
  }
  return true;
}

}  // namespace

std::string print_instant(std::int64_t time_ms) {
  const std::int64_t held_ms = std::clamp(time_ms, kFirstInstant_ms, kLastInstant_ms);
  const Date date = date_of(held_ms / kDay_ms);
  const std::int64_t of_day_ms = held_ms % kDay_ms;
  std::string text{kShape};
  put(text, 0, 4, date.year);
  put(text, 5, 2, date.month);
  put(text, 8, 2, date.day);
  put(text, 11, 2, of_day_ms / 3'600'000);
  put(text, 14, 2, of_day_ms / 60'000 % 60);
  put(text, 17, 2, of_day_ms / 1'000 % 60);
  put(text, 20, 3, of_day_ms % 1'000);
  return text;
}

std::optional<std::int64_t> parse_instant(std::string_view text) {
  if (!has_shape(text)) return std::nullopt;
  const Date date{.year = take(text, 0, 4), .month = take(text, 5, 2), .day = take(text, 8, 2)};
  const std::int64_t hour = take(text, 11, 2);
  const std::int64_t minute = take(text, 14, 2);
  const std::int64_t second = take(text, 17, 2);
  if (date.year < 1970 || date.month < 1 || date.month > 12 || date.day < 1) return std::nullopt;
  if (hour > 23 || minute > 59 || second > 59) return std::nullopt;
  const std::int64_t days = days_of(date);
  const Date back = date_of(days);
  if (back.month != date.month || back.day != date.day) return std::nullopt;  // 31 April
  return days * kDay_ms + ((hour * 60 + minute) * 60 + second) * 1'000 + take(text, 20, 3);
}

}  // namespace weighwright::record
