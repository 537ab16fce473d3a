#include "link/weight_line.h"

#include <algorithm>
#include <cmath>

#include "record/typed_number.h"
#include "units/diagnostic.h"

namespace weighwright::link {

namespace {

constexpr std::size_t kFlags = 5;
constexpr std::size_t kFigure = 10;
constexpr std::size_t kUnit = 3;
constexpr std::size_t kWhole = kFlags + kFigure + kUnit;
constexpr std::string_view kStatuses = " ZOUEIT";  // in the order of WeightStatus
constexpr std::string_view kKinds = "GNT";         // in the order of WeightKind

LineEvent malformed(std::string says) {
  return {LineEvent::Kind::malformed, {}, std::move(says)};
}

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

/// The figure without the spaces on its left, or what is wrong with it.
struct Figure {
  std::string typed;
  bool sound = false;
};

Figure read_figure(std::string_view field) {
  const std::size_t first = field.find_first_not_of(' ');
  if (first == std::string_view::npos) return {};
  const std::string_view text = field.substr(first);
  const std::string_view digits = text.starts_with('-') ? text.substr(1) : text;
  const bool any = std::any_of(digits.begin(), digits.end(), is_digit);
  const bool only =
      std::all_of(digits.begin(), digits.end(), [](char c) { return is_digit(c) || c == '.'; });
  const bool one_point = std::count(digits.begin(), digits.end(), '.') <= 1;
  return {std::string(text), any && only && one_point};
}

bool shows_no_figure(std::string_view field) {
  return field.find_first_not_of("- ") == std::string_view::npos;
}

/// Statuses in which no figure is shown, or none that counts.
bool without_figure(WeightStatus status) {
  return status != WeightStatus::normal && status != WeightStatus::centre_of_zero;
}

std::string read_flags(std::string_view flags, WeightReply& out) {
  const std::size_t status = kStatuses.find(flags[0]);
  if (status == std::string_view::npos) {
    return "its first sign (the status) is " + units::quote(flags.substr(0, 1)) +
           "; Z, O, U, E, I, T or a space";
  }
  out.status = static_cast<WeightStatus>(status);
  if (flags[1] < '1' || flags[1] > '9') {
    return "its second sign (the range) is " + units::quote(flags.substr(1, 1)) + "; 1 to 9";
  }
  out.range = flags[1] - '0';
  out.high_resolution = flags[2] == 'g' || flags[2] == 'n';
  const char kind = out.high_resolution ? static_cast<char>(flags[2] - 'a' + 'A') : flags[2];
  const std::size_t found = kKinds.find(kind);
  if (found == std::string_view::npos) {
    return "its third sign (gross or net) is " + units::quote(flags.substr(2, 1)) +
           "; G, N, T, g or n";
  }
  out.kind = static_cast<WeightKind>(found);
  if (flags[3] != 'M' && flags[3] != ' ') {
    return "its fourth sign (motion) is " + units::quote(flags.substr(3, 1)) + "; M or a space";
  }
  out.moving = flags[3] == 'M';
  return {};
}

std::string read_unit(std::string_view field, WeightReply& out) {
  const std::size_t end = field.find_last_not_of(' ');
  const bool letters = std::all_of(field.begin(), field.end(), [](char c) {
    return c == ' ' || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
  });
  if (end == std::string_view::npos || !letters || field[0] == ' ') {
    return "its unit is " + units::quote(field) + "; three signs, as \"kg \"";
  }
  out.unit = std::string(field.substr(0, end + 1));
  return {};
}

LineEvent read_weight(std::string_view content) {
  LineEvent event{LineEvent::Kind::weight, {}, {}};
  WeightReply& out = event.weight;
  std::string wrong = read_flags(content.substr(0, kFlags), out);
  if (wrong.empty()) wrong = read_unit(content.substr(kFlags + kFigure), out);
  if (!wrong.empty()) return malformed("a reply can't be read: " + wrong);
  const std::string_view field = content.substr(kFlags, kFigure);
  if (without_figure(out.status) && shows_no_figure(field)) return event;
  const Figure figure = read_figure(field);
  if (!figure.sound) {
    return malformed("a reply can't be read: its weight is " + units::quote(field) +
                     "; ten signs, digits to the right, as \"     12340\"");
  }
  out.typed = figure.typed;
  out.value = record::read_number(figure.typed).value;
  const std::size_t point = figure.typed.find('.');
  const std::size_t decimals = point == std::string::npos ? 0 : figure.typed.size() - point - 1;
  out.last_digit = std::pow(10.0, -static_cast<double>(decimals));
  return event;
}

}  // namespace

LineEvent read_line(std::string_view content) {
  if (content == "?") return {LineEvent::Kind::unknown_command, {}, {}};
  if (content == "!") return {LineEvent::Kind::communication_error, {}, {}};
  if (content.size() != kWhole) {
    return malformed("a reply is " + std::to_string(content.size() + 2) + " bytes long, not " +
                     std::to_string(kWhole + 2) + ": " + units::quote(content));
  }
  return read_weight(content);
}

std::vector<LineEvent> WeightStream::feed(std::string_view bytes) {
  std::vector<LineEvent> events;
  for (const char byte : bytes) {
    if (byte == '\n') {  // whatever was begun before is no reply
      stray_ += inside_ ? content_.size() + 1 : 0;
      content_.clear();
      inside_ = true;
    } else if (!inside_) {
      ++stray_;
    } else if (byte == '\r') {
      events.push_back(read_line(content_));
      const bool sound = events.back().kind != LineEvent::Kind::malformed;
      stray_ = sound ? 0 : stray_ + content_.size() + 2;
      clear();
    } else if (content_.size() == kLongest) {
      stray_ += content_.size() + 2;
      clear();
    } else {
      content_.push_back(byte);
    }
  }
  return events;
}

void WeightStream::clear() {
  content_.clear();
  inside_ = false;
}

std::optional<std::string> print_line(const WeightReply& reply) {
  if (reply.unit.empty() || reply.unit.size() > kUnit) return std::nullopt;
  const std::string figure = reply.value ? reply.typed : std::string(kFigure, '-');
  if (figure.empty() || figure.size() > kFigure) return std::nullopt;
  char kind = kKinds[static_cast<std::size_t>(reply.kind)];
  if (reply.high_resolution) kind = static_cast<char>(kind - 'A' + 'a');
  std::string line = "\n";
  line += kStatuses[static_cast<std::size_t>(reply.status)];
  line += static_cast<char>('0' + reply.range);
  line += kind;
  line += reply.moving ? 'M' : ' ';
  line += ' ';
  line += std::string(kFigure - figure.size(), ' ') + figure;
  line += reply.unit + std::string(kUnit - reply.unit.size(), ' ');
  return line + "\r";
}

}  // namespace weighwright::link
