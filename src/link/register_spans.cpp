#include "link/register_spans.h"

#include <algorithm>
#include <numeric>
#include <tuple>

namespace weighwright::link {

namespace {

RegisterSpan span_of(const deck::Register& one, std::size_t place) {
  return {one.table, one.address, deck::words_of(one.type), {place}};
}

bool joins(const RegisterSpan& span, const deck::Register& one, int most) {
  return span.table == one.table && span.address + span.count == one.address &&
         span.count + deck::words_of(one.type) <= most;
}

}  // namespace

std::vector<RegisterSpan> plan_spans(const std::vector<deck::Register>& registers, int most) {
  std::vector<std::size_t> order(registers.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return std::tie(registers[a].table, registers[a].address, a) <
           std::tie(registers[b].table, registers[b].address, b);
  });
  std::vector<RegisterSpan> spans;
  for (const std::size_t place : order) {
    const deck::Register& one = registers[place];
    if (spans.empty() || !joins(spans.back(), one, most)) {
      spans.push_back(span_of(one, place));
      continue;
    }
    spans.back().count += deck::words_of(one.type);
    spans.back().places.push_back(place);
  }
  return spans;
}

std::vector<RegisterSpan> split_span(const RegisterSpan& span,
                                     const std::vector<deck::Register>& registers) {
  std::vector<RegisterSpan> single;
  for (const std::size_t place : span.places) single.push_back(span_of(registers[place], place));
  return single;
}

}  // namespace weighwright::link
