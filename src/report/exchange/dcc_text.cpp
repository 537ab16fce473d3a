#include "report/exchange/dcc_text.h"

#include <cctype>
#include <chrono>
#include <cstddef>
#include <string_view>

#include "report/drawable.h"
#include "units/quantity.h"

namespace weighwright::report {
std::string clean(const std::string& text) {
  std::string safe = drawable(text);
  for (char& c : safe) {
    if (c == '\n' || c == '\t') c = ' ';
  }
  const std::size_t begin = safe.find_first_not_of(' ');
  if (begin == std::string::npos) return "";
  return safe.substr(begin, safe.find_last_not_of(' ') - begin + 1);
}

std::string plain(double value) {
  constexpr int kDecimals = 6;
  std::string text = units::print_fixed(value, kDecimals);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

pugi::xml_node add_plain(pugi::xml_node parent, const char* name, const std::string& text) {
  pugi::xml_node node = parent.append_child(name);
  node.text().set(clean(text).c_str());
  return node;
}

pugi::xml_node add_text(pugi::xml_node parent,
                        const char* name,
                        const std::string& text,
                        const std::string& language) {
  pugi::xml_node node = parent.append_child(name);
  add_plain(node, "dcc:content", text).append_attribute("lang").set_value(language.c_str());
  return node;
}

bool is_date(const std::string& text) {
  constexpr std::string_view kPattern = "dddd-dd-dd";
  if (text.size() != kPattern.size()) return false;
  for (std::size_t i = 0; i < kPattern.size(); ++i) {
    const bool digit = std::isdigit(static_cast<unsigned char>(text[i])) != 0;
    if (kPattern[i] == 'd' ? !digit : text[i] != '-') return false;
  }
  const auto number = [&text](std::size_t at, std::size_t digits) {
    return std::stoi(text.substr(at, digits));
  };
  return std::chrono::year_month_day(std::chrono::year(number(0, 4)),
                                     std::chrono::month(static_cast<unsigned>(number(5, 2))),
                                     std::chrono::day(static_cast<unsigned>(number(8, 2))))
      .ok();
}

}  // namespace weighwright::report
