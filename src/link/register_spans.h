#pragma once
/// Which registers are asked for together. Pure.
///
/// Only registers that touch one another share a request: an instrument may refuse a span with a
/// gap in it (exception 2). At most 125 registers a request (Modbus Application Protocol V1.1b3,
/// 6.3 and 6.4). The two registers of a value are never split: between two requests the value may
/// change.

#include <cstddef>
#include <vector>

#include "deck/instrument.h"

namespace weighwright::link {

inline constexpr int kMostRegistersARequest = 125;

struct RegisterSpan {
  deck::RegisterTable table = deck::RegisterTable::holding;
  int address = 0;
  int count = 0;
  std::vector<std::size_t> places;  // positions in the list of registers
};

/// In the order of table and address, at most `most` registers in each (not fewer than 2).
[[nodiscard]] std::vector<RegisterSpan> plan_spans(const std::vector<deck::Register>& registers,
                                                   int most = kMostRegistersARequest);

/// One request for each value of a span, for an instrument that refuses them together.
[[nodiscard]] std::vector<RegisterSpan> split_span(const RegisterSpan& span,
                                                   const std::vector<deck::Register>& registers);

}  // namespace weighwright::link
