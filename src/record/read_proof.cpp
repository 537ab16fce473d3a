#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "record/load_rows.h"
#include "record/local_time.h"
#include "record/readers.h"
#include "units/diagnostic.h"
#include "units/suggestion.h"

namespace weighwright::record {

namespace {

using units::quote;

constexpr NumberLimits kRuns{1.0, 100.0, "a whole number from 1 to 100"};
constexpr NumberLimits kRanges{1.0, 9.0, "the number of the range, from 1"};

/// Checks of the indicator, which may have no load.
bool needs_load(std::string_view check) {
  static constexpr std::array<std::string_view, 4> kOfIndicator = {"tare", "indications",
                                                                   "zero_range", "overload"};
  return std::find(kOfIndicator.begin(), kOfIndicator.end(), check) == kOfIndicator.end();
}

/// Checks that mean nothing without a place on the deck.
bool needs_place(std::string_view check) {
  static constexpr std::array<std::string_view, 4> kPlaced = {"section", "eccentric", "rolling",
                                                              "midspan"};
  return std::find(kPlaced.begin(), kPlaced.end(), check) != kPlaced.end();
}

/// "W1*3+W2" to its parts, blanks dropped.
std::vector<std::string> parts_of(std::string_view text) {
  std::vector<std::string> parts;
  while (!text.empty()) {
    const std::size_t plus = text.find('+');
    std::string part(text.substr(0, plus));
    std::erase(part, ' ');
    if (!part.empty()) parts.push_back(std::move(part));
    if (plus == std::string_view::npos) break;
    text.remove_prefix(plus + 1);
  }
  return parts;
}

class ProofReader : private LoadRowReader {
 public:
  using LoadRowReader::LoadRowReader;

  Measurement read() {
    ProofSet set;
    for (const Row& row : rows()) {
      if (blank(row, Column::indication)) continue;  // not done yet
      anything_ = true;
      std::optional<ProofReading> line = read_line(row);
      if (line) set.readings.push_back(std::move(*line));
    }
    if (!anything_) {
      fault("no line has an indication yet",
            "what the indicator showed, in the lines that are done");
    }
    set.us = us();
    set.source = file();
    return set;
  }

 private:
  std::optional<ProofReading> read_line(const Row& row) {
    ProofReading line;
    const bool known = read_check(row, line);
    const bool placed = known && needs_place(line.check);
    auto reading =
        read_reading(row, placed ? Place::wanted : Place::optional, needs_load(line.check));
    read_series(row, line);
    const ColumnUnit indicated = header().unit_of(Column::indication);
    line.start_kg = indication(row, Column::start, indicated);
    line.then_kg = indication(row, Column::then, indicated);
    line.other_kg = indication(row, Column::other, indicated);
    line.by = text(row, Column::by);
    line.weights = parts_of(text(row, Column::weights));
    if (!known || !reading) return std::nullopt;
    line.reading = std::move(*reading);
    if (!complete(row, line)) return std::nullopt;
    return line;
  }

  bool read_check(const Row& row, ProofReading& line) {
    line.check = text(row, Column::check);
    const auto& known = proof_checks();
    if (std::find(known.begin(), known.end(), line.check) != known.end()) return true;
    std::string list;
    for (const std::string_view one : known) list += (list.empty() ? "" : ", ") + std::string(one);
    const auto near = units::nearest(line.check, {known.begin(), known.end()});
    fault(*find(row, Column::check), "there is no check " + quote(line.check),
          near ? "did you mean " + *near + "?" : "one of " + list);
    return false;
  }

  void read_series(const Row& row, ProofReading& line) {
    const std::string heading = text(row, Column::heading);
    if (heading == "to_end_2") {
      line.heading = Heading::to_end_2;
    } else if (heading == "to_end_1") {
      line.heading = Heading::to_end_1;
    } else if (!heading.empty()) {
      fault(*find(row, Column::heading), quote(heading) + " is no heading",
            "to_end_2, to_end_1, or nothing");
    }
    if (const auto run = number(row, Column::run, kRuns)) {
      line.run = static_cast<int>(*run);
      if (static_cast<double>(line.run) != *run) {
        fault(*find(row, Column::run), "a run is counted", std::string(kRuns.words));
      }
    }
    if (const auto range = number(row, Column::range, kRanges)) {
      line.range = static_cast<int>(*range);
      if (static_cast<double>(*line.range) != *range) {
        fault(*find(row, Column::range), "a range is counted", std::string(kRanges.words));
      }
    }
    if (blank(row, Column::time)) return;
    const auto stamp = read_stamp(text(row, Column::time));
    if (!stamp) {
      const Field& field = *find(row, Column::time);
      fault(field, quote(field.text) + " is no time",
            "a time as 2026-11-25T18:30 (seconds may follow, and the offset from UTC: +01:00)");
      return;
    }
    line.time_s = stamp->time_s;
    line.offset_min = stamp->offset_min;
  }

  std::optional<double> indication(const Row& row, Column column, ColumnUnit beside) {
    const ColumnUnit own = header().unit_of(column);
    return optional_mass(row, column, own == ColumnUnit::none ? beside : own, -kLargestMass_kg);
  }

  /// What a check can't be judged without.
  bool complete(const Row& row, const ProofReading& line) {
    const Field& field = *find(row, Column::check);
    if (line.check == "strain" && !line.start_kg) {
      fault(field, "a strain load without its start",
            "start: what was indicated before the known load came on");
      return false;
    }
    if (line.check == "discrimination" && (!line.then_kg || !line.reading.added_kg)) {
      fault(field, "discrimination without what was added and what was then indicated",
            "added: the small load; then: the indication afterwards");
      return false;
    }
    if (line.check == "indications" && !line.other_kg) {
      fault(field, "one indication alone agrees with nothing",
            "other: what the other display or the printer showed");
      return false;
    }
    if (line.check == "overload" && line.by != "setting" && line.by != "simulator") {
      fault(
          field, "the greatest indication without how it was found",
          "by: setting (read from the set-up) or simulator (a signal simulator); nobody loads the "
          "deck above Max for it");
      return false;
    }
    if (line.check == "rolling" && line.heading == Heading::none) {
      fault(field, "a rolling load without its heading",
            "heading: to_end_2 or to_end_1, which way it was going");
      return false;
    }
    return true;
  }

  bool anything_ = false;
};

}  // namespace

const std::vector<std::string_view>& proof_checks() {
  static const std::vector<std::string_view> checks = {
      "zero",       "eccentric",     "section",        "rolling", "increasing",
      "decreasing", "repeatability", "discrimination", "strain",  "midspan",
      "tare",       "indications",   "zero_range",     "overload"};
  return checks;
}

Measurement read_proof_file(Body body, FaultList& faults) {
  return ProofReader(std::move(body), faults).read();
}

}  // namespace weighwright::record
