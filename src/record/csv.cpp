#include "record/csv.h"

#include <string>
#include <utility>
#include <vector>

#include "record/csv_table.h"
#include "record/fault_list.h"
#include "record/header.h"
#include "record/readers.h"

namespace weighwright::record {

namespace {

Measurement read_body(Body body, FaultList& faults) {
  switch (body.header.kind) {
    case FileKind::shift:
    case FileKind::loads:
      return read_load_file(std::move(body), faults);
    case FileKind::trims:
      return read_trim_file(std::move(body), faults);
    case FileKind::electrics:
    case FileKind::forces:
      return read_cell_file(std::move(body), faults);
    case FileKind::zeros:
    case FileKind::looks:
      return read_visit_file(std::move(body), faults);
    case FileKind::weights:
      return read_weight_file(std::move(body), faults);
    case FileKind::proof:
      return read_proof_file(std::move(body), faults);
    case FileKind::readings:
    case FileKind::turns:
    case FileKind::heights:
    case FileKind::gaps:
    case FileKind::map:
      break;
  }
  return read_sharing_file(std::move(body), faults);
}

}  // namespace

ParsedMeasurement parse_measurement(std::string_view text,
                                    const std::string& file,
                                    int sections,
                                    int joints) {
  FaultList faults(file);
  std::vector<Row> rows = split_csv(text, faults);
  if (!faults.empty()) return {std::nullopt, faults.list()};
  std::optional<Header> header = parse_header(rows.front(), faults);
  if (!header) return {std::nullopt, faults.list()};
  if (rows.size() == 1) {
    faults.add(0, 0, "there is a header and nothing below it", "a line for each measurement");
    return {std::nullopt, faults.list()};
  }
  rows.erase(rows.begin());
  Measurement measurement =
      read_body({std::move(rows), std::move(*header), file, sections, joints}, faults);
  if (!faults.empty()) return {std::nullopt, faults.list()};
  return {std::move(measurement), {}};
}

}  // namespace weighwright::record
