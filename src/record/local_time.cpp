#include "record/local_time.h"

#include <array>
#include <charconv>
#include <cstddef>
#include <system_error>

namespace weighwright::record {

namespace {

constexpr int kFirstYear = 1000;
constexpr std::int64_t kYear1900_s = -2'208'988'800;  // of its first day

/// Digits of a fixed place in the text; empty when there is anything else.
std::optional<int> digits(std::string_view text, std::size_t from, std::size_t count) {
  if (text.size() < from + count) return std::nullopt;
  int value = 0;
  const char* const end = text.data() + from + count;
  const auto result = std::from_chars(text.data() + from, end, value);
  if (result.ec != std::errc{} || result.ptr != end || text[from] == '-') return std::nullopt;
  return value;
}

/// Days since 1970-01-01 of a date of the Gregorian calendar (H. Hinnant, chrono-compatible
/// low-level date algorithms, "days_from_civil"; from memory, checked in the tests against known
/// dates).
std::int64_t days_from_civil(std::int64_t year, int month, int day) {
  if (month <= 2) --year;
  const std::int64_t era = (year >= 0 ? year : year - 399) / 400;
  const std::int64_t of_era = year - era * 400;
  const std::int64_t of_year = (153 * (month + (month > 2 ? -3 : 9)) + 2) / 5 + day - 1;
  return era * 146097 + of_era * 365 + of_era / 4 - of_era / 100 + of_year - 719468;
}

int days_in(int year, int month) {
  constexpr std::array kDays = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  const bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
  return kDays.at(static_cast<std::size_t>(month - 1)) + (month == 2 && leap ? 1 : 0);
}

/// "+01:00" or "-0530": minutes.
std::optional<int> read_offset(std::string_view text) {
  constexpr int kMost_min = 14 * 60;
  const bool colon = text.size() == 6 && text[3] == ':';
  if (!colon && text.size() != 5) return std::nullopt;
  const auto hours = digits(text, 1, 2);
  const auto minutes = digits(text, colon ? 4 : 3, 2);
  if (!hours || !minutes || *minutes > 59) return std::nullopt;
  const int offset = *hours * 60 + *minutes;
  if (offset > kMost_min) return std::nullopt;
  return text[0] == '-' ? -offset : offset;
}

}  // namespace

std::optional<std::int64_t> read_local_time(std::string_view text) {
  if (text.size() != 16 && text.size() != 19) return std::nullopt;
  const bool form = text[4] == '-' && text[7] == '-' && (text[10] == 'T' || text[10] == ' ') &&
                    text[13] == ':' && (text.size() == 16 || text[16] == ':');
  const auto year = digits(text, 0, 4);
  const auto month = digits(text, 5, 2);
  const auto day = digits(text, 8, 2);
  const auto hour = digits(text, 11, 2);
  const auto minute = digits(text, 14, 2);
  const auto second = text.size() == 19 ? digits(text, 17, 2) : std::optional<int>(0);
  if (!form || !year || !month || !day || !hour || !minute || !second) return std::nullopt;
  if (*year < kFirstYear || *month < 1 || *month > 12 || *day < 1 ||
      *day > days_in(*year, *month) || *hour > 23 || *minute > 59 || *second > 59) {
    return std::nullopt;
  }
  return ((days_from_civil(*year, *month, *day) * 24 + *hour) * 60 + *minute) * 60 + *second;
}

std::optional<LocalStamp> read_stamp(std::string_view text) {
  constexpr std::size_t kDate = 10;  // the offset's sign stands behind the date's own
  LocalStamp stamp;
  std::size_t end = text.size();
  if (text.ends_with('Z')) {
    stamp.offset_min = 0;
    end -= 1;
  } else if (const std::size_t sign = text.find_first_of("+-", kDate);
             text.size() > kDate && sign != std::string_view::npos) {
    stamp.offset_min = read_offset(text.substr(sign));
    if (!stamp.offset_min) return std::nullopt;
    end = sign;
  }
  const auto time = read_local_time(text.substr(0, end));
  if (!time || *time < kYear1900_s) return std::nullopt;
  stamp.time_s = *time;
  return stamp;
}

std::optional<std::int64_t> read_date(std::string_view text) {
  if (text.size() != 10) return std::nullopt;
  const auto midnight = read_local_time(std::string(text) + "T00:00");
  if (!midnight) return std::nullopt;
  return *midnight / 86400;
}

std::string print_date(std::int64_t day) {
  // The inverse of days_from_civil (same source).
  const std::int64_t shifted = day + 719468;
  const std::int64_t era = (shifted >= 0 ? shifted : shifted - 146096) / 146097;
  const std::int64_t of_era = shifted - era * 146097;
  const std::int64_t year_of_era =
      (of_era - of_era / 1460 + of_era / 36524 - of_era / 146096) / 365;
  const std::int64_t of_year = of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
  const std::int64_t shifted_month = (5 * of_year + 2) / 153;
  const std::int64_t day_of_month = of_year - (153 * shifted_month + 2) / 5 + 1;
  const std::int64_t month = shifted_month < 10 ? shifted_month + 3 : shifted_month - 9;
  const std::int64_t year = year_of_era + era * 400 + (month <= 2 ? 1 : 0);
  const auto padded = [](std::int64_t value, std::size_t width) {
    std::string text = std::to_string(value);
    return text.size() < width ? std::string(width - text.size(), '0') + text : text;
  };
  return padded(year, 4) + "-" + padded(month, 2) + "-" + padded(day_of_month, 2);
}

}  // namespace weighwright::record
