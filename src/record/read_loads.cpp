#include <algorithm>
#include <optional>
#include <utility>
#include <vector>

#include "record/load_rows.h"
#include "record/readers.h"

namespace weighwright::record {

namespace {

class LoadReader : private LoadRowReader {
 public:
  using LoadRowReader::LoadRowReader;

  Measurement read() {
    const bool shift = header().kind == FileKind::shift;
    std::vector<LoadReading> readings;
    for (const Row& row : rows()) {
      auto reading = read_reading(row, shift ? Place::wanted : Place::none);
      if (reading) readings.push_back(std::move(*reading));
    }
    check_not_only_zeros(readings);
    if (shift) return ShiftSet{std::move(readings), us(), file()};
    return LoadSet{std::move(readings), us(), file()};
  }

 private:
  void check_not_only_zeros(const std::vector<LoadReading>& readings) {
    const bool only_zeros = std::all_of(readings.begin(), readings.end(), [](const auto& reading) {
      return reading.load_kg == 0.0 && reading.material.empty();
    });
    if (readings.empty() || !only_zeros) return;
    fault("nothing but zero readings", "at least one reading with a load on the deck");
  }
};

}  // namespace

Measurement read_load_file(Body body, FaultList& faults) {
  return LoadReader(std::move(body), faults).read();
}

}  // namespace weighwright::record
