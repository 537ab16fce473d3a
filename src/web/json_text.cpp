#include "web/json_text.h"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>
#include <string>
#include <vector>

namespace weighwright::web {
namespace {

constexpr std::size_t kDeepest = 8;
constexpr int kMostValues = 20'000;

units::Diagnostic fault_at(std::string_view text,
                           std::size_t byte,
                           std::string what,
                           std::string expected) {
  const std::string_view before = text.substr(0, std::min(byte, text.size()));
  const std::size_t line_start = before.rfind('\n');
  return {.file = "body",
          .line = 1 + static_cast<int>(std::count(before.begin(), before.end(), '\n')),
          .column = static_cast<int>(line_start == std::string_view::npos
                                         ? before.size()
                                         : before.size() - line_start - 1),
          .what = std::move(what),
          .expected = std::move(expected)};
}

/// Looks before anything is built: what would take too much is never built.
class Check : public nlohmann::json_sax<Json> {
 public:
  explicit Check(std::string_view text) : text_(text) {}

  bool null() override { return count(); }
  bool boolean(bool) override { return count(); }
  bool number_integer(number_integer_t) override { return count(); }
  bool number_unsigned(number_unsigned_t) override { return count(); }
  bool number_float(number_float_t, const string_t&) override { return count(); }
  bool string(string_t& value) override { return count() && without_nul(value); }
  bool binary(binary_t&) override { return count(); }
  bool start_object(std::size_t) override {
    keys_.emplace_back();
    return count() && shallow(++depth_);
  }
  bool end_object() override {
    keys_.pop_back();
    --depth_;
    return true;
  }
  bool start_array(std::size_t) override { return count() && shallow(++depth_); }
  bool end_array() override {
    --depth_;
    return true;
  }
  bool key(string_t& name) override {
    if (!without_nul(name)) return false;
    return keys_.back().insert(name).second ||
           refuse("the key " + units::quote(name) + " stands twice in one object", "each key once");
  }
  bool parse_error(std::size_t position,
                   const std::string& last_token,
                   const nlohmann::json::exception&) override {
    if (!units::is_utf8(text_)) {
      fault = fault_at(text_, position, "the text is no UTF-8", "JSON in UTF-8");
      return false;
    }
    const std::string seen = last_token.empty() ? "its end" : units::quote(last_token);
    fault = fault_at(text_, position, "this is no JSON: " + seen + " does not fit here",
                     "one JSON object");
    return false;
  }

  units::Diagnostic fault;

 private:
  bool refuse(std::string what, std::string expected) {
    fault = {.file = "body",
             .line = 0,
             .column = 0,
             .what = std::move(what),
             .expected = std::move(expected)};
    return false;
  }
  bool count() {
    return ++values_ <= kMostValues ||
           refuse("there are too many values", std::to_string(kMostValues) + " at most");
  }
  bool shallow(std::size_t depth) {
    return depth <= kDeepest || refuse("objects and lists lie in one another too deep",
                                       std::to_string(kDeepest) + " levels at most");
  }
  bool without_nul(const std::string& text) {
    return text.find('\0') == std::string::npos ||
           refuse("a text holds the character NUL (\\u0000)", "text that can be read");
  }

  std::string_view text_;
  std::size_t depth_ = 0;
  int values_ = 0;
  std::vector<std::set<std::string>> keys_;
};

}  // namespace

units::Diagnostics read_json(std::string_view text, Json& json) {
  json = nullptr;
  if (text.empty()) {
    return {{.file = "body",
             .line = 0,
             .column = 0,
             .what = "the body is empty",
             .expected = "one JSON object"}};
  }
  Check check(text);
  if (!Json::sax_parse(text.begin(), text.end(), &check)) return {check.fault};
  json = Json::parse(text.begin(), text.end(), nullptr, false);
  if (json.is_object()) return {};
  json = nullptr;
  return {{.file = "body",
           .line = 1,
           .column = 1,
           .what = "the body is no object",
           .expected = "one JSON object, {...}"}};
}

}  // namespace weighwright::web
