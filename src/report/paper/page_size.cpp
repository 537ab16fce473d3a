#include "report/paper/page_size.h"

#include <cctype>

#include "report/paper/pen.h"

namespace weighwright::report {

PaperExtent extent_of(PaperSize size) {
  constexpr double kInch = 72.0;
  if (size == PaperSize::letter) return {.width = 8.5 * kInch, .height = 11.0 * kInch};
  return {.width = 210.0 * kPerMm, .height = 297.0 * kPerMm};
}

std::string metadata_date(const std::string& issued) {
  constexpr const char* kPattern = "dddd-dd-dd";
  for (std::size_t i = 0; kPattern[i] != '\0'; ++i) {
    if (i >= issued.size()) return "";
    const bool digit = std::isdigit(static_cast<unsigned char>(issued[i])) != 0;
    if (kPattern[i] == 'd' ? !digit : issued[i] != '-') return "";
  }
  return issued.substr(0, 10) + "T00:00:00Z";
}

}  // namespace weighwright::report
