#include <cmath>

#include "fuzz/entry.h"
#include "link/weight_line.h"
#include "units/diagnostic.h"

namespace weighwright::fuzz {

namespace {

using link::LineEvent;

void check(const LineEvent& event) {
  hold((event.kind == LineEvent::Kind::malformed) != event.says.empty());
  hold(units::is_utf8(event.says));
  if (event.kind != LineEvent::Kind::weight || !event.weight.value) return;
  hold(std::isfinite(*event.weight.value));
  hold(event.weight.last_digit > 0.0 && event.weight.last_digit <= 1.0);
  // what was read can be written, and reads the same
  const auto line = link::print_line(event.weight);
  hold(line.has_value() && line->size() == 20);
  const LineEvent again = link::read_line(std::string_view(*line).substr(1, 18));
  hold(again.kind == LineEvent::Kind::weight && again.weight.value == event.weight.value);
  hold(again.weight.typed == event.weight.typed && again.weight.unit == event.weight.unit);
}

}  // namespace

/// The same replies come out whether the bytes come at once or one by one.
void read_weight_line(std::string_view bytes) {
  link::WeightStream whole;
  link::WeightStream single;
  const std::vector<LineEvent> events = whole.feed(bytes);
  std::size_t count = 0;
  for (const char byte : bytes) {
    for (const LineEvent& event : single.feed({&byte, 1})) {
      hold(count < events.size() && event.kind == events[count].kind);
      ++count;
    }
  }
  hold(count == events.size());
  hold(whole.inside() == single.inside() && whole.stray_bytes() == single.stray_bytes());
  for (const LineEvent& event : events) check(event);
}

}  // namespace weighwright::fuzz

WEIGHWRIGHT_FUZZ_TARGET(weighwright::fuzz::read_weight_line)
