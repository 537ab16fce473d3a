#include "job/cell_entry.h"

#include <utility>

#include "deck/limits.h"
#include "units/diagnostic.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

using record::field;

constexpr deck::Limits kCapacity{500.0, 500e3, "of a weighbridge's cell, from 500 kg to 500 t"};

struct Asked {
  const char* name;
  SaidFigure CellEntry::* where;
  units::Kind kind;
  const deck::Limits* limits;
  const char* example;
};

void read_figure(const record::Draft& draft, const Asked& asked, CellEntry& entry) {
  const std::string typed(field(draft.fields, asked.name));
  if (typed.empty()) return;
  SaidFigure& figure = entry.*asked.where;
  figure.how = SaidFigure::How::unknown;
  if (typed == kUnknown) return;
  const units::Parsed parsed = units::parse(typed, asked.kind);
  const std::string expected = std::string(asked.example) + ", or unknown";
  if (!parsed.ok()) {
    entry.faults.push_back({std::string(asked.name) + ": " + parsed.what, expected});
  } else if (parsed.value < asked.limits->lowest || parsed.value > asked.limits->highest) {
    entry.faults.push_back({std::string(asked.name) + ": " + units::quote(typed) + " is impossible",
                            std::string(asked.limits->words) + "; or unknown"});
  } else {
    figure = {.how = SaidFigure::How::known, .value = parsed.value};
  }
}

}  // namespace

bool is_cell_entry(const record::Draft& draft) {
  return draft.kind == "cell_placed" || draft.kind == "cell_replaced";
}

CellEntry read_cell_entry(const record::Draft& draft, int stands) {
  CellEntry entry;
  entry.replaced = draft.kind == "cell_replaced";
  const auto text = [&draft](std::string_view name) {
    return std::string(field(draft.fields, name));
  };
  const std::string typed = text("stand");
  const auto stand = units::parse_stand(typed);
  if (stand && stand->value < stands) {
    entry.stand = stand;
  } else {
    const units::StandIndex last{stands - 1};
    entry.faults.push_back({"there is no stand " + units::quote(typed) + " on this deck",
                            "a stand from 1L to " + units::print(last)});
  }
  entry.serial = text(entry.replaced ? "new_serial" : "serial");
  entry.old_serial = text("old_serial");
  entry.certificate = text("certificate");
  entry.terminal = text("terminal");
  for (const Asked& asked :
       {Asked{"capacity", &CellEntry::capacity, units::Kind::mass, &kCapacity, "\"25 t\""},
        Asked{"output", &CellEntry::output, units::Kind::voltage_ratio, &deck::kOutput,
              "\"2 mV/V\""},
        Asked{"input_resistance", &CellEntry::input_ohm, units::Kind::resistance,
              &deck::kResistance, "\"1100 ohm\""},
        Asked{"output_resistance", &CellEntry::output_ohm, units::Kind::resistance,
              &deck::kResistance, "\"1000 ohm\""}}) {
    read_figure(draft, asked, entry);
  }
  return entry;
}

}  // namespace weighwright::job
